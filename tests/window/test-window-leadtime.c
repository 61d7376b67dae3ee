/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Lead time page as a person uses it: what it says of rounds, waits and issues, where its rows lead, and no round. */

#include "config.h"

#include "ledger.h"
#include "tip.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef WindowTestFixture Fixture;

/* A decided round of 20 working days from a Monday, one that waits since its beginning, and an open issue. */
static const WindowTestFile rounds[] = {
  { "model.csv", "code,name\nM1,First\n" },
  { "supplier.csv", "name\nHeater\n" },
  { "round.csv", "model,label,kind,opened,design_fixed,built,tested,decided\n"
                 "M1,P1,prototype,2026-01-05,2026-01-12,2026-01-19,2026-01-26,2026-02-02\n"
                 "M1,P2,prototype,2026-02-02,2026-02-09,,,\n" },
  { "wait.csv", "model,round,no,reason,what,supplier,from_date,to_date\nM1,P2,1,delivery,blades,Heater,2026-02-10,\n" },
  { "issue.csv", "model,no,title,class,found_on\nM1,1,Sticks,function,2026-02-11\n" },
  { NULL, NULL }
};

static const WindowTestFile no_rounds[] = {
  { "model.csv", "code,name\nM1,First\n" },
  { "supplier.csv", "name\nHeater\n" },
  { NULL, NULL }
};

static void
set_up (Fixture *fixture, gconstpointer files)
{
  window_test_set_up_of (fixture, files, "leadtime");
}

/* The page, once its first words are there. */
static GtkWidget *
wait_page (Fixture *fixture, const char *words)
{
  window_test_wait_label (fixture->window, "leadtime-lead", words);
  window_test_settle ();
  return window_test_page (fixture->window);
}

/* Whether a cell of that ledger has these words. */
static gboolean
shows (GtkWidget *page, const char *ledger, const char *words)
{
  GtkWidget *root = window_test_find (page, ledger);

  return root != NULL && window_test_has_words (root, words, WINDOW_TEST_SEEN | WINDOW_TEST_WHOLE);
}

static void
test_says (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "2 rounds took");

  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "leadtime-next"))), "20 working days"));
  g_assert_true (shows (page, "leadtime-open", "round P2: making"));
  g_assert_true (shows (page, "leadtime-open", "wait: blades"));
  g_assert_true (shows (page, "leadtime-open", "issue 1: Sticks"));
  g_assert_true (shows (page, "leadtime-rounds", "P1"));
  g_assert_true (shows (page, "leadtime-rounds", "open: making"));
  g_assert_true (shows (page, "leadtime-suppliers", "Heater"));
  g_assert_false (shows (page, "leadtime-earlier", "First"));
  g_assert_true (gtk_widget_get_mapped (window_test_get (page, "leadtime-chart")));
  g_assert_cmpuint (window_test_count_named (page), >, 3);
}

static gboolean
is_page (gpointer data)
{
  const gpointer *wanted = data; /* window, the page before */

  return window_test_page (wanted[0]) != wanted[1];
}

/* The oldest of what is open is the round, of whose wait the next row tells; the issue comes last. */
static void
test_leads (Fixture *fixture, gconstpointer data)
{
  static const char *const pages[] = { "FettleRoundsPage", "FettleRoundsPage", "FettleIssuesPage" };

  for (guint row = 0; row < G_N_ELEMENTS (pages); row++)
    {
      GtkWidget *page = wait_page (fixture, "2 rounds took");
      gpointer wanted[] = { fixture->window, page };

      g_signal_emit_by_name (window_test_get (page, "leadtime-open"), "activated", row);
      window_test_wait (is_page, wanted, "the page of the row");
      g_assert_cmpstr (G_OBJECT_TYPE_NAME (fettle_window_get_page (fixture->window)), ==, pages[row]);
      window_test_close (fixture->window);
      fixture->window = window_test_open (fixture->book, "leadtime");
    }
}

static gboolean
has_sources (gpointer page)
{
  return window_test_find (page, "sheet-sources") != NULL;
}

static gboolean
is_leadtime (gpointer window)
{
  return g_str_equal (G_OBJECT_TYPE_NAME (fettle_window_get_page (window)), "FettleLeadtimePage");
}

/* The button of a record below the selected row, by what it is called. */
static GtkWidget *
source_named (GtkWidget *page, const char *words)
{
  GtkWidget *wrap = window_test_get (page, "sheet-sources");

  for (GtkWidget *each = gtk_widget_get_first_child (wrap); each != NULL; each = gtk_widget_get_next_sibling (each))
    if (GTK_IS_BUTTON (each) && g_strcmp0 (fettle_tip_get (each), words) == 0)
      return each;
  g_error ("no source %s", words);
}

/* Row 0 of the medians is of whole rounds: both of them, with what each took; Enter gives the first the keyboard. */
static void
test_figures_lead (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "2 rounds took");
  FettleLedger *ledger = FETTLE_LEDGER (window_test_get (page, "leadtime-medians"));
  gpointer wanted[] = { fixture->window, page };
  GtkWidget *source;

  fettle_ledger_select (ledger, 0, TRUE);
  window_test_wait (has_sources, page, "the rounds of the median");
  source = source_named (page, "P1, 20");
  g_signal_emit_by_name (ledger, "activated", 0);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == source);
  g_signal_emit_by_name (source, "clicked");
  window_test_wait (is_page, wanted, "the round");
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (fettle_window_get_page (fixture->window)), ==, "FettleRoundsPage");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait (is_leadtime, fixture->window, "back");
  window_test_settle ();
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, 0);

  gtk_widget_grab_focus (source_named (page, "P1, 20"));
  fettle_page_refresh (fettle_window_get_page (fixture->window)); /* the row stays open, though it leads nowhere by itself */
  window_test_settle ();
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, 0);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == source_named (page, "P1, 20"));
}

/* What is made of one record alone goes there at once: the wait for the only supplier, to its round. */
static void
test_single_source (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "2 rounds took");
  gpointer wanted[] = { fixture->window, page };

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "leadtime-suppliers")), 0, TRUE);
  window_test_settle ();
  g_signal_emit_by_name (window_test_get (page, "leadtime-suppliers"), "activated", 0);
  window_test_wait (is_page, wanted, "the round that waits");
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (fettle_window_get_page (fixture->window)), ==, "FettleRoundsPage");
}

static gboolean
has_no_wait (gpointer page)
{
  return !shows (page, "leadtime-open", "wait: blades");
}

static gboolean
has_wait (gpointer page)
{
  return shows (page, "leadtime-open", "wait: blades");
}

/* The row of the wait offers its end; the deed stays through an answer, and one undo opens the wait again. */
static void
test_ends_a_wait (Fixture *fixture, gconstpointer data)
{
  static const char *const names[] = { "code", "name", NULL };
  static const char *const texts[] = { "M9", "Another", NULL };
  GtkWidget *page = wait_page (fixture, "The supplier waited for most is 'Heater'"), *date;
  FettleLedger *ledger = FETTLE_LEDGER (window_test_get (page, "leadtime-open"));

  g_assert_false (gtk_widget_get_mapped (window_test_get (page, "wait-today")));
  gtk_widget_activate_action (page, "win.wait", "s", "on"); /* none is chosen */
  g_assert_null (window_test_find (page, "wait-form"));
  fettle_ledger_select (ledger, 0, TRUE); /* the round */
  window_test_settle ();
  g_assert_false (gtk_widget_get_mapped (window_test_get (page, "wait-today")));
  fettle_ledger_select (ledger, 1, TRUE);
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (window_test_get (page, "wait-today")));

  gtk_widget_activate_action (page, "win.wait", "s", "on");
  window_test_settle ();
  date = window_test_get (window_test_get (page, "wait-form"), "to_date");
  gtk_editable_set_text (GTK_EDITABLE (date), "2026-02-05"); /* before it began */
  g_signal_emit_by_name (window_test_get (window_test_get (page, "wait-form"), "do"), "clicked");
  window_test_settle ();
  window_test_edit (fixture->window, book_edit_record (BOOK_RECORD_MODEL, 0, names, texts, NULL));
  fettle_page_refresh (fettle_window_get_page (fixture->window));
  window_test_settle ();
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, 1); /* the wait, not the round that it leads to */
  date = window_test_get (window_test_get (page, "wait-form"), "to_date");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (date)), ==, "2026-02-05");
  gtk_editable_set_text (GTK_EDITABLE (date), "2026-02-17");
  g_signal_emit_by_name (window_test_get (window_test_get (page, "wait-form"), "do"), "clicked");
  window_test_wait (has_no_wait, page, "the wait is over");
  g_assert_null (window_test_find (page, "wait-form"));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "leadtime-lead"))), "'Heater': 5 working days in 1 wait."));
  fettle_sitting_undo (fettle_window_get_sitting (fixture->window));
  window_test_wait (has_wait, page, "the wait lasts again");

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "leadtime-open")), 1, TRUE);
  gtk_widget_activate_action (page, "win.wait", "s", "today");
  window_test_wait (has_no_wait, page, "the wait ended today");
}

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = wait_page (fixture, "enter when it was opened");

  g_assert_false (gtk_widget_get_mapped (window_test_get (page, "leadtime-chart")));
}

#define ADD(path, test, files) g_test_add ("/window/leadtime/" path, Fixture, files, set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
  ADD ("says-where-the-days-went", test_says, rounds);
  ADD ("what-is-open-leads-to-where-it-ends", test_leads, rounds);
  ADD ("a-median-shows-the-records-it-is-made-of-and-leads-to-them-and-back", test_figures_lead, rounds);
  ADD ("a-figure-of-one-record-leads-there-at-once", test_single_source, rounds);
  ADD ("a-wait-ends-where-it-is-seen", test_ends_a_wait, rounds);
  ADD ("no-round-says-what-goes-there", test_empty, no_rounds);
  return window_test_run_apart ();
}
