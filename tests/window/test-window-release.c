/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Release page as the owner uses it: what blocks, a waiver, an opinion, the decision with conditions, then and now. */

#include "config.h"

#include "choice-editor.h"
#include "ledger.h"
#include "paper-leaf.h"
#include "tip.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef WindowTestFixture Fixture;

#define TWO 9 /* units that pass: then there is a second criterion */

/* A pilot round of @passed units that pass a check about safety, for which the owner set a share of 0.9 at 0.9: 22 do. */
static void
set_up (Fixture *fixture, gconstpointer passed)
{
  g_autoptr(GString) units = g_string_new ("model,round,serial\n"), readings = g_string_new ("model,round,unit,characteristic,mark,taken\n");
  WindowTestFile files[] = {
    { "model.csv", "code,name\nM1,First\n" },
    { "person.csv", "initials,role\nOW,owner\nLE,lead\n" },
    { "round.csv", "model,label,kind,opened,design_fixed,built,tested\nM1,A,pilot,2026-01-05,2026-01-12,2026-02-02,2026-02-20\n" },
    { "characteristic.csv", "model,code,name,kind,class\nM1,LH,Lock holds,checked,safety\n" },
    { "gate.csv", "model,position,name\nM1,1,Release\n" },
    { "criterion.csv", "model,code,gate,kind,characteristic,strict\nM1,C1,1,checked,LH,no\n" },
    { "criterion_term.csv", "model,criterion,from_date,share,confidence,person\nM1,C1,2025-12-01,0.9,0.9,OW\n" },
    { "unit.csv", NULL },
    { "reading.csv", NULL },
    { NULL, NULL }
  };

  for (guint i = 1; i <= GPOINTER_TO_UINT (passed); i++)
    {
      g_string_append_printf (units, "M1,A,A-%02u\n", i);
      g_string_append_printf (readings, "M1,A,A-%02u,LH,passed,2026-02-10\n", i);
    }
  if (GPOINTER_TO_UINT (passed) == TWO)
    {
      files[5].text = "model,code,gate,kind,characteristic,strict\nM1,C1,1,checked,LH,no\nM1,C2,1,checked,LH,no\n";
      files[6].text = "model,criterion,from_date,share,confidence,person\nM1,C1,2025-12-01,0.9,0.9,OW\nM1,C2,2025-12-01,0.8,0.9,OW\n";
    }
  files[G_N_ELEMENTS (files) - 3].text = units->str;
  files[G_N_ELEMENTS (files) - 2].text = readings->str;
  window_test_set_up_of (fixture, files, "release");
}

/* The page, once its headline says that. */
static GtkWidget *
wait_page (Fixture *fixture, const char *words)
{
  window_test_wait_label (fixture->window, "release-headline", words);
  window_test_wait_answers (fixture->window);
  return window_test_page (fixture->window);
}

static void
test_blocks (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: not ready. 0 of 1 criteria are met.");

  g_assert_true (window_test_is_seen (fixture->window, "release-stops", "1 criterion blocks: C1."));
  g_assert_true (window_test_is_seen (fixture->window, "release-criteria", "C1 Lock holds"));
  g_assert_true (window_test_is_seen (fixture->window, "release-criteria", "1 unit"));
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "release-waive"))); /* nothing is chosen */
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "release-withdraw")));
  g_assert_true (window_test_is_seen (fixture->window, "caution", "not a safety certificate"));
  g_assert_true (window_test_is_seen (fixture->window, "release-forecast", "fewer than three"));
  g_assert_cmpuint (window_test_count_named (page), >, 4);
}

/* What is assumed otherwise stands beside what the records say, is kept while the book goes on, and is taken back by one button. */
static void
test_assumes (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: not ready.");
  GtkWidget *longest = window_test_get (page, "longest");
  g_autofree char *before = g_strdup (gtk_label_get_label (GTK_LABEL (window_test_get (page, "release-forecast"))));

  g_assert_null (window_test_find (page, "wait_most")); /* nobody was waited for */
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "forecast-reset")));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (longest), 200.0);
  window_test_wait_label (fixture->window, "forecast-instead", "so set it is");
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "release-forecast"))), !=, before);
  window_test_wait_seen (fixture->window, "release-assumptions", "20 to 200");

  fettle_page_refresh (fettle_window_get_page (fixture->window));
  window_test_wait_answers (fixture->window);
  window_test_wait_label (fixture->window, "forecast-instead", "so set it is");
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (window_test_get (page, "longest"))), ==, 200.0);

  g_signal_emit_by_name (window_test_get (page, "forecast-reset"), "clicked");
  window_test_wait_label (fixture->window, "forecast-instead", NULL);
  window_test_wait_label (fixture->window, "release-forecast", before);
}

/* Types into a field of the form that is shown. */
static void
fill (GtkWidget *page, const char *field, const char *text)
{
  GtkWidget *form = window_test_get (page, "release-form"), *editor = window_test_get (form, field);

  if (FETTLE_IS_CHOICE_EDITOR (editor))
    window_test_choose (editor, (guint) g_ascii_strtoull (text, NULL, 10));
  else if (g_str_equal (field, "person"))
    window_test_choose_reference (form, field, text);
  else
    window_test_type (form, field, text);
}

static gboolean
is_gone (gpointer data)
{
  return window_test_find (data, "release-form") == NULL;
}

static void
print_label (GtkWidget *widget, gpointer data)
{
  if (GTK_IS_LABEL (widget) && *gtk_label_get_label (GTK_LABEL (widget)) != '\0')
    g_test_message ("%s", gtk_label_get_label (GTK_LABEL (widget)));
}

/* A form that stays says why: so does a test that fails by it. */
static gboolean
print_form (gpointer page)
{
  GtkWidget *form = window_test_find (page, "release-form");

  if (form != NULL)
    window_test_each (form, print_label, NULL);
  return G_SOURCE_REMOVE;
}

static void
do_it (Fixture *fixture)
{
  GtkWidget *page = window_test_page (fixture->window);
  guint late = g_timeout_add_seconds (20, print_form, page);

  g_signal_emit_by_name (window_test_get (window_test_get (page, "release-form"), "do"), "clicked");
  window_test_wait (is_gone, page, "the form to be done");
  if (g_main_context_find_source_by_id (NULL, late) != NULL)
    g_source_remove (late);
  window_test_wait_answers (fixture->window);
}

static void
test_waives (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: not ready.");

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "release-criteria")), 0, TRUE);
  window_test_settle ();
  g_assert_true (gtk_widget_get_sensitive (window_test_get (page, "release-waive")));
  window_test_act (fixture->window, "win.release", "waive");
  fill (page, "reason", "small batch");
  fill (page, "until", "2099-12-31");
  fill (page, "person", "OW");
  do_it (fixture);
  window_test_wait_label (fixture->window, "release-headline", "Release: nothing blocks. 0 of 1 criteria are met");
  g_assert_true (window_test_is_seen (fixture->window, "release-criteria", "waived until 2099-12-31"));
  g_assert_true (window_test_is_seen (fixture->window, "release-waivers", "small batch"));
  g_assert_true (window_test_is_seen (fixture->window, "release-remarks", "small batch"));
}

static void
test_waives_what_is_met (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: its 1 criterion is met.");

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "release-criteria")), 0, TRUE);
  window_test_settle ();
  window_test_act (fixture->window, "win.release", "waive");
  g_assert_cmpstr (window_test_said (fixture->window), ==, "C1 is met, so there is nothing to waive.");
  g_assert_null (window_test_find (page, "release-form"));
}

/* A form is about what it names, whatever is chosen in the lists while it is filled in. */
static void
test_waives_what_it_names (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: not ready.");
  FettleLedger *criteria = FETTLE_LEDGER (window_test_get (page, "release-criteria"));

  fettle_ledger_select (criteria, 0, TRUE);
  window_test_settle ();
  window_test_act (fixture->window, "win.release", "waive");
  fill (page, "reason", "small batch");
  fill (page, "until", "2099-12-31");
  fill (page, "person", "OW");
  fettle_ledger_select (criteria, 1, TRUE);
  window_test_settle ();
  do_it (fixture);
  g_assert_cmpint (window_test_find_record (fixture->window, BOOK_RECORD_WAIVER, "M1/C1/1"), !=, 0);
  g_assert_cmpint (window_test_find_record (fixture->window, BOOK_RECORD_WAIVER, "M1/C2/1"), ==, 0);
}

/* The owner decides with two conditions: things to do, and what was known stays. */
static void
test_decides (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: its 1 criterion is met.");

  window_test_act (fixture->window, "win.release", "opinion");
  fill (page, "opinion", "1");
  fill (page, "person", "LE");
  do_it (fixture);
  window_test_wait_seen (fixture->window, "release-opinions", "LE");
  window_test_wait_answers (fixture->window);

  window_test_act (fixture->window, "win.release", "decide");
  fill (page, "verdict", "3");
  fill (page, "conditions", "Third lot measured; LE; 2099-04-01\nInstructions approved; OW; 2099-05-01");
  fill (page, "person", "OW");
  do_it (fixture);
  window_test_wait_label (fixture->window, "release-decided", "Release with conditions");
  window_test_wait_label (fixture->window, "release-decided", "of a first series nothing was counted yet");
  g_assert_true (window_test_is_seen (fixture->window, "release-decisions", "Third lot measured; LE; 2099-04-01"));
  g_assert_true (window_test_is_seen (fixture->window, "release-beside", "C1: Lock holds"));
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_TODO), ==, 2);
}

static void
check_role (Fixture *fixture, const char *role)
{
  g_autofree char *text = window_test_read_field (fixture->window, BOOK_RECORD_PERSON,
                                                  window_test_find_record (fixture->window, BOOK_RECORD_PERSON, "LE"), "role");

  g_assert_cmpstr (text, ==, role);
}

static gboolean
is_live (gpointer button)
{
  return gtk_widget_get_sensitive (button);
}

typedef struct
{
  GtkWidget  *button;
  const char *words;
} Told;

static gboolean
is_told (gpointer data)
{
  const Told *told = data;

  return strstr (fettle_tip_get (told->button), told->words) != NULL;
}

/* What was signed or decided stays: undo says so, by its tip and when it is asked, and takes nothing that was done before. */
static void
test_stays (Fixture *fixture, gconstpointer data)
{
  FettleSitting *sitting = fettle_window_get_sitting (fixture->window);
  GtkWidget *page = wait_page (fixture, "Release: its 1 criterion is met."), *undo = window_test_get (GTK_WIDGET (fixture->window), "undo");
  g_autofree char *bar = NULL;

  fettle_sitting_edit (sitting, book_edit_field (BOOK_RECORD_PERSON, window_test_find_record (fixture->window, BOOK_RECORD_PERSON, "LE"), "role", "designer"),
                       NULL, NULL);
  window_test_wait (is_live, undo, "something to undo");
  g_assert_null (fettle_sitting_dup_undo_bar (sitting));

  window_test_act (fixture->window, "win.release", "opinion");
  fill (page, "opinion", "1");
  fill (page, "person", "LE");
  do_it (fixture);
  window_test_wait_seen (fixture->window, "release-opinions", "LE");
  window_test_wait (is_told, &(Told){ undo, "Noted an opinion" }, "undo to say why not");
  bar = fettle_sitting_dup_undo_bar (sitting);
  g_assert_nonnull (strstr (bar, "Noted an opinion"));
  g_assert_cmpstr (fettle_tip_get (undo), ==, bar);
  window_test_act (fixture->window, "win.undo", NULL);
  window_test_settle ();
  g_assert_cmpstr (window_test_said (fixture->window), ==, bar);
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_SIGNOFF), ==, 1);
  check_role (fixture, "designer"); /* nor what was done before */

  /* and the same where one is about to note the next one */
  window_test_act (fixture->window, "win.release", "opinion");
  fill (page, "conditions", "");
  gtk_widget_grab_focus (window_test_get (page, "conditions"));
  fettle_window_say (fixture->window, "Something else.", NULL, NULL);
  window_test_act (fixture->window, "win.undo", NULL);
  g_assert_cmpstr (window_test_said (fixture->window), ==, bar);

  /* something new is undone as ever, and then the opinion is the last again */
  fettle_sitting_edit (sitting, book_edit_field (BOOK_RECORD_PERSON, window_test_find_record (fixture->window, BOOK_RECORD_PERSON, "LE"), "role", "maker"),
                       NULL, NULL);
  window_test_wait (is_told, &(Told){ undo, "Undo: " }, "something to undo");
  window_test_act (fixture->window, "win.undo", NULL);
  window_test_wait (is_told, &(Told){ undo, "Noted an opinion" }, "undo to say why not again");
  check_role (fixture, "designer");
}

/* Who decides at once waits for what is frozen with it, and need not ask again. */
static void
test_decides_early (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page;

  window_test_wait_label (fixture->window, "release-headline", "Release: its 1 criterion is met.");
  page = window_test_page (fixture->window);
  window_test_act (fixture->window, "win.release", "decide");
  fill (page, "verdict", "1");
  fill (page, "person", "OW");
  fettle_page_refresh (fettle_window_get_page (fixture->window)); /* what was put together by now is not awaited either */
  do_it (fixture);
  window_test_wait_label (fixture->window, "release-decided", "Release");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_DECISION), ==, 1);
}

static gboolean
has_sheets (gpointer data)
{
  GtkWidget *first = gtk_widget_get_first_child (window_test_get (data, "pack-sheets"));

  return first != NULL && fettle_paper_leaf_is_painted (FETTLE_PAPER_LEAF (first));
}

/* The pack is looked at page by page before it is printed, and leaves by one key to where one was. */
static void
test_shows (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page;

  wait_page (fixture, "Release: not ready.");
  window_test_act (fixture->window, "win.pack", "show");
  window_test_wait_page (fixture->window, "pack");
  page = window_test_page (fixture->window);
  window_test_wait (has_sheets, page, "the pages of the pack");
  window_test_wait_label (fixture->window, "pack-state", "as they will be printed");
  g_assert_true (gtk_widget_get_focusable (gtk_widget_get_first_child (window_test_get (page, "pack-sheets"))));
  g_assert_cmpuint (window_test_count_named (page), >=, 3);
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "release");
}

/* What a decision freezes is stopped by hand: the gates stay, it is said what is missing, and it is put together when somebody decides. */
static void
test_stops (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "Release: its 1 criterion is met."), *making = window_test_get (page, "release-making");

  g_assert_false (gtk_widget_get_visible (making)); /* nothing is on its way */
  fettle_page_refresh (fettle_window_get_page (fixture->window));
  g_signal_emit_by_name (window_test_get (page, "release-stop"), "clicked");
  window_test_wait_answers (fixture->window);
  g_assert_true (gtk_widget_get_visible (making));
  g_assert_true (window_test_is_seen (fixture->window, "release-made", "It was stopped"));
  g_assert_true (window_test_is_seen (fixture->window, "release-criteria", "C1 Lock holds"));

  g_signal_emit_by_name (window_test_get (page, "release-stop"), "clicked");
  window_test_wait_answers (fixture->window);
  g_assert_false (gtk_widget_get_visible (making));
  window_test_act (fixture->window, "win.release", "decide");
  fill (page, "verdict", "1");
  fill (page, "person", "OW");
  do_it (fixture);
  window_test_wait_label (fixture->window, "release-decided", "Release");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_DECISION), ==, 1);
}

/* An answer that is cancelled half way, at many places, leaves nothing behind. */
static void
test_leaves (Fixture *fixture, gconstpointer data)
{
  wait_page (fixture, "Release: its 1 criterion is met.");
  for (guint i = 0; i < 40; i++)
    {
      fettle_page_refresh (fettle_window_get_page (fixture->window));
      for (guint k = 0; k < i; k++)
        {
          g_main_context_iteration (NULL, FALSE);
          g_usleep (500);
        }
    }
  window_test_wait_answers (fixture->window);
}

int
main (int argc, char *argv[])
{
  static const struct
  {
    const char *path;
    guint       passed;
    void (*test) (Fixture *fixture, gconstpointer data);
  } tests[] = {
    { "/window/release/says-what-blocks-and-what-is-missing", 21, test_blocks },
    { "/window/release/what-is-assumed-is-set-and-taken-back", 21, test_assumes },
    { "/window/release/a-waiver-unblocks-and-is-named", 10, test_waives },
    { "/window/release/a-waiver-is-of-the-criterion-it-names", TWO, test_waives_what_it_names },
    { "/window/release/what-is-met-needs-no-waiver", 22, test_waives_what_is_met },
    { "/window/release/the-owner-decides-with-conditions", 22, test_decides },
    { "/window/release/an-opinion-stays-and-undo-says-so", 22, test_stays },
    { "/window/release/a-decision-waits-for-its-evidence", 22, test_decides_early },
    { "/window/release/the-pack-is-looked-at", 21, test_shows },
    { "/window/release/what-takes-long-is-stopped-and-begun-again", 22, test_stops },
    { "/window/release/what-is-cancelled-leaves-nothing", 22, test_leaves },
  };

  window_test_init_apart (&argc, &argv);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, GUINT_TO_POINTER (tests[i].passed), set_up, tests[i].test, window_test_tear_down);
  return window_test_run_apart ();
}
