/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Lead time page as a person uses it: what it says of rounds, waits and issues, where its rows lead, and no round. */

#include "config.h"

#include "ledger.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

static char *folder;
static guint n_books;

/* A decided round of 20 working days from a Monday, one that waits since its beginning, and an open issue. */
static char *
make_book (gboolean rounds)
{
  g_autofree char *name = g_strdup_printf ("leadtime-%u", ++n_books);
  g_autofree char *place = g_build_filename (folder, name, NULL);

  return window_test_make_book_of (place, (const WindowTestFile[]){
    { "model.csv", "code,name\nM1,First\n" },
    { "supplier.csv", "name\nHeater\n" },
    { "round.csv", rounds ? "model,label,kind,opened,design_fixed,built,tested,decided\n"
                            "M1,P1,prototype,2026-01-05,2026-01-12,2026-01-19,2026-01-26,2026-02-02\n"
                            "M1,P2,prototype,2026-02-02,2026-02-09,,,\n"
                          : "model,label,kind,opened\n" },
    { "wait.csv", rounds ? "model,round,no,reason,what,supplier,from_date,to_date\nM1,P2,1,delivery,blades,Heater,2026-02-10,\n"
                         : "model,round,no,reason,from_date\n" },
    { "issue.csv", rounds ? "model,no,title,class,found_on\nM1,1,Sticks,function,2026-02-11\n" : "model,no,title,class\n" },
    { NULL, NULL } });
}

static GtkWidget *
open_page (const char *path, FettleWindow **window, const char *words)
{
  *window = window_test_open (path, "leadtime");
  window_test_wait_label (*window, "leadtime-lead", words);
  window_test_settle ();
  return window_test_page (*window);
}

/* Whether a cell of that ledger has these words. */
static gboolean
shows (GtkWidget *page, const char *ledger, const char *words)
{
  GtkWidget *root = window_test_find (page, ledger);

  return root != NULL && window_test_has_words (root, words, WINDOW_TEST_SEEN | WINDOW_TEST_WHOLE);
}

static void
test_says (void)
{
  g_autofree char *path = make_book (TRUE);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "2 rounds took");

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
  window_test_close (window);
}

static gboolean
is_page (gpointer data)
{
  const gpointer *wanted = data; /* window, the page before */

  return window_test_page (wanted[0]) != wanted[1];
}

/* The oldest of what is open is the round, of whose wait the next row tells; the issue comes last. */
static void
test_leads (void)
{
  static const char *const pages[] = { "FettleRoundsPage", "FettleRoundsPage", "FettleIssuesPage" };

  for (guint row = 0; row < G_N_ELEMENTS (pages); row++)
    {
      g_autofree char *path = make_book (TRUE);
      FettleWindow *window;
      GtkWidget *page = open_page (path, &window, "2 rounds took");
      gpointer wanted[] = { window, page };

      g_signal_emit_by_name (window_test_get (page, "leadtime-open"), "activated", row);
      window_test_wait (is_page, wanted, "the page of the row");
      g_assert_cmpstr (G_OBJECT_TYPE_NAME (fettle_window_get_page (window)), ==, pages[row]);
      window_test_close (window);
    }
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
test_ends_a_wait (void)
{
  static const char *const names[] = { "code", "name", NULL };
  static const char *const texts[] = { "M9", "Another", NULL };
  g_autofree char *path = make_book (TRUE);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "The supplier waited for most is 'Heater'"), *date;
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
  window_test_edit (window, book_edit_record (BOOK_RECORD_MODEL, 0, names, texts, NULL));
  fettle_page_refresh (fettle_window_get_page (window));
  window_test_settle ();
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, 1); /* the wait, not the round that it leads to */
  date = window_test_get (window_test_get (page, "wait-form"), "to_date");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (date)), ==, "2026-02-05");
  gtk_editable_set_text (GTK_EDITABLE (date), "2026-02-17");
  g_signal_emit_by_name (window_test_get (window_test_get (page, "wait-form"), "do"), "clicked");
  window_test_wait (has_no_wait, page, "the wait is over");
  g_assert_null (window_test_find (page, "wait-form"));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "leadtime-lead"))), "'Heater': 5 working days in 1 wait."));
  fettle_sitting_undo (fettle_window_get_sitting (window));
  window_test_wait (has_wait, page, "the wait lasts again");

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "leadtime-open")), 1, TRUE);
  gtk_widget_activate_action (page, "win.wait", "s", "today");
  window_test_wait (has_no_wait, page, "the wait ended today");
  window_test_close (window);
}

static void
test_empty (void)
{
  g_autofree char *path = make_book (FALSE);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "enter when it was opened");

  g_assert_false (gtk_widget_get_mapped (window_test_get (page, "leadtime-chart")));
  window_test_close (window);
}

int
main (int argc, char **argv)
{
  g_autofree char *made = g_dir_make_tmp ("fettle-leadtime-XXXXXX", NULL);
  int status;

  folder = made;
  g_setenv ("XDG_STATE_HOME", folder, TRUE);
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/leadtime/says-where-the-days-went", test_says);
  g_test_add_func ("/window/leadtime/what-is-open-leads-to-where-it-ends", test_leads);
  g_test_add_func ("/window/leadtime/a-wait-ends-where-it-is-seen", test_ends_a_wait);
  g_test_add_func ("/window/leadtime/no-round-says-what-goes-there", test_empty);
  status = g_test_run ();
  window_test_remove (folder);
  return status;
}
