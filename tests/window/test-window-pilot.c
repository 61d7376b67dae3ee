/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Pilot page as a person uses it: what it says of a run, a figure set otherwise, a tally entered. */

#include "config.h"

#include "ledger.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef WindowTestFixture Fixture;

#define TALLY_HEAD "model,step,date,person,no,round,units_in,good_first,reworked_good,waiting,scrapped\n"

/* Two steps at one bench: 52 minutes of 40 hours a week at the first, and as many at the other. @tally: what was counted. */
static void
set_up (Fixture *fixture, gconstpointer tally)
{
  window_test_set_up_of (fixture, (const WindowTestFile[]){
    { "model.csv", "code,name\nM1,First\n" },
    { "person.csv", "initials,role\nAB,lead\n" },
    { "round.csv", "model,label,kind,opened,design_fixed,built\nM1,A,pilot,2026-01-05,2026-01-12,2026-02-02\n" },
    { "bench.csv", "name,machines,people,hours_week,uptime,share_free\nBench,1,1,40,1,1\n" },
    { "step.csv", "model,position,name,kind,bench,cycle_min\nM1,10,Mill,own,Bench,26\nM1,20,Fit,own,Bench,26\n" },
    { "issue.csv", "model,no,title,class\nM1,1,Sticks,function\n" },
    { "tally.csv", tally },
    { NULL, NULL } }, "pilot");
}

static void
test_says (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window);

  window_test_wait_label (window, "pilot-lead", "75 %");
  window_test_wait_label (window, "rate-lead", "200");
  window_test_wait_label (window, "rate-constraint", "'Bench' sets the pace");
  g_assert_nonnull (window_test_find (page, "pilot-steps"));
  g_assert_nonnull (window_test_find (page, "pilot-losses"));
  g_assert_nonnull (window_test_find (page, "pilot-days"));
  g_assert_cmpuint (window_test_count_named (page), >, 5);
}

static gboolean
is_history (gpointer window)
{
  return g_str_equal (G_OBJECT_TYPE_NAME (fettle_window_get_page (window)), "FettleHistoryPage");
}

static gboolean
is_pilot (gpointer window)
{
  return g_str_equal (G_OBJECT_TYPE_NAME (fettle_window_get_page (window)), "FettlePilotPage");
}

/* A day's figures are those of its tally, and so are those of what was lost to no issue that anybody named. */
static void
test_figures_lead (Fixture *fixture, gconstpointer data)
{
  static const char *const ledgers[] = { "pilot-days", "pilot-losses" };
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window);

  window_test_wait_label (window, "pilot-lead", "75 %");
  window_test_settle ();
  for (guint i = 0; i < G_N_ELEMENTS (ledgers); i++)
    {
      FettleLedger *ledger = FETTLE_LEDGER (window_test_get (page, ledgers[i]));

      fettle_ledger_select (ledger, 0, TRUE);
      window_test_settle ();
      g_signal_emit_by_name (ledger, "activated", 0);
      window_test_wait (is_history, window, "the tally's history");
      window_test_act (window, "win.back", NULL);
      window_test_wait (is_pilot, window, "back");
      window_test_settle ();
      g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, 0);
    }
}

/* The rate follows at once; what was set is told; the book does not know of it. */
static void
test_what_if (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window), *entry;

  window_test_wait_label (window, "rate-lead", "200");
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "rate-reset")));
  entry = window_test_get (page, "share_free");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (entry), 50.0);
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "rate-lead"))), "100 good units"));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "rate-instead"))), "200 now"));
  g_assert_true (gtk_widget_get_sensitive (window_test_get (page, "rate-reset")));
  g_assert_false (fettle_sitting_can_undo (fettle_window_get_sitting (window)));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (page, "rate-subject")), 2); /* step 20 */
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "cycle_min")), 0.0);
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "rate-lead"))), "200 good units"));
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (window_test_get (page, "yield"))), ==, 100.0);

  g_signal_emit_by_name (window_test_get (page, "rate-reset"), "clicked");
  window_test_settle ();
  g_assert_false (gtk_widget_get_visible (window_test_get (page, "rate-instead")));
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (window_test_get (page, "cycle_min"))), ==, 26.0);
}

static void
find_entry (GtkWidget *widget, gpointer data)
{
  if (g_str_equal (G_OBJECT_TYPE_NAME (widget), "GtkModelButton"))
    *(GtkWidget **) data = widget;
}

/* What a menu with an entry of @action shows: whether it can be chosen. */
static gboolean
entry_is_sensitive (FettleWindow *window, const char *action)
{
  g_autoptr(GMenu) menu = g_menu_new ();
  GtkWidget *popover, *entry = NULL;
  gboolean sensitive;

  g_menu_append (menu, "Entry", action);
  popover = gtk_popover_menu_new_from_model (G_MENU_MODEL (menu));
  gtk_widget_set_parent (popover, GTK_WIDGET (window));
  window_test_settle ();
  window_test_each (popover, find_entry, &entry);
  g_assert_nonnull (entry);
  sensitive = gtk_widget_get_sensitive (entry);
  gtk_widget_unparent (popover);
  return sensitive;
}

/* The form names what is written where and what is not; one deed stores it, one undo takes it back. */
static void
test_what_if_is_stored (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window), *form;

  window_test_wait_label (window, "rate-lead", "200");
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "rate-store")));
  g_assert_true (entry_is_sensitive (window, "win.pilot::count"));
  g_assert_false (entry_is_sensitive (window, "win.pilot-store"));
  gtk_widget_activate_action (page, "win.pilot", "s", "store"); /* says why not */
  g_assert_null (window_test_find (page, "rate-form"));

  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "share_free")), 49.7); /* shown as 50 */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (page, "rate-subject")), 2); /* step 20 */
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "cycle_min")), 40.0);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "yield")), 80.0);
  g_assert_true (gtk_widget_get_sensitive (window_test_get (page, "rate-store")));
  g_assert_true (entry_is_sensitive (window, "win.pilot-store"));
  g_assert_true (gtk_widget_get_mapped (window_test_get (page, "rate-changes")));
  gtk_widget_activate_action (page, "win.pilot-store", NULL);
  window_test_settle ();
  g_assert_false (gtk_widget_get_mapped (window_test_get (page, "rate-changes"))); /* the form says the same and more */
  form = window_test_get (page, "rate-form");
  g_assert_true (window_test_has_words (form, "Bench 'Bench': Share free from 100 % to 50 %.", 0));
  g_assert_true (window_test_has_words (form, "Step 20 'Fit': Minutes a piece from 26.0 min to 40.0 min.", 0));
  g_assert_true (window_test_has_words (form, "Step 20 'Fit': 'Not scrapped' is counted in the run, so it is not stored.", 0));
  g_assert_true (window_test_has_words (form, "Benches are shared", 0));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "cycle_min")), 26.0); /* the form follows */
  g_assert_false (window_test_has_words (form, "Minutes a piece", 0));

  g_signal_emit_by_name (window_test_get (form, "leave"), "clicked");
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (window_test_get (page, "rate-changes")));
  gtk_widget_activate_action (page, "win.page", "s", "rounds");
  g_assert_false (entry_is_sensitive (window, "win.pilot-store")); /* that belongs to the page */
  gtk_widget_activate_action (page, "win.page", "s", "pilot");
  g_assert_true (entry_is_sensitive (window, "win.pilot-store"));
  gtk_widget_activate_action (page, "win.pilot-store", NULL);
  window_test_settle ();
  form = window_test_get (page, "rate-form");

  g_signal_emit_by_name (window_test_get (form, "do"), "clicked");
  window_test_wait_label (window, "rate-lead", "100 good units"); /* 40 h a week at half, 52 minutes a piece; the yield is as counted again */
  g_assert_null (window_test_find (page, "rate-form"));
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "rate-store")));
  g_assert_false (gtk_widget_get_visible (window_test_get (page, "rate-instead")));
  g_assert_false (entry_is_sensitive (window, "win.pilot-store"));
  g_assert_true (fettle_sitting_can_undo (fettle_window_get_sitting (window)));
  fettle_sitting_undo (fettle_window_get_sitting (window));
  window_test_wait_label (window, "rate-lead", "200 good units");
}

/* What somebody set holds while others enter counts. */
static void
test_what_if_outlasts_a_change (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window);
  static const char *const names[] = { "code", "name", NULL };
  static const char *const texts[] = { "M9", "Another", NULL };

  window_test_wait_label (window, "rate-lead", "200");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (page, "share_free")), 50.0);
  window_test_edit (window, book_edit_record (BOOK_RECORD_MODEL, 0, names, texts, NULL));
  fettle_page_refresh (fettle_window_get_page (window));
  window_test_settle ();
  window_test_wait_label (window, "rate-lead", "100 good units");
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (window_test_get (page, "share_free"))), ==, 50.0);
}

/* A model whose run is not counted yet says what to do, and offers the tally. */
static void
test_nothing (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window);

  window_test_wait_label (window, "pilot-lead", "Nothing was counted");
  g_assert_true (gtk_widget_get_visible (window_test_get (page, "pilot-count")));
  g_signal_emit_by_name (window_test_get (page, "pilot-count"), "clicked");
  window_test_settle ();
  g_assert_nonnull (window_test_find (page, "pilot-form"));
  g_assert_nonnull (window_test_find (page, "units_in"));
}

static gboolean
is_there (gpointer data)
{
  const char *const *wanted = data; /* where, name */

  window_test_settle ();
  return window_test_find ((GtkWidget *) (gpointer) wanted[0], wanted[1]) != NULL;
}

static void
wait_there (GtkWidget *page, const char *name)
{
  const char *wanted[] = { (const char *) page, name };

  window_test_wait (is_there, wanted, name);
}

static gboolean
names_issue (gpointer page)
{
  window_test_settle ();
  return window_test_has_words (window_test_get (page, "pilot-losses"), "1 Sticks", WINDOW_TEST_WHOLE);
}

/* A tally with what it lost to which issue: two steps of typing, each undone by itself. */
static void
test_tally (Fixture *fixture, gconstpointer data)
{
  FettleWindow *window = fixture->window;
  GtkWidget *page = window_test_page (window), *form;

  fettle_sitting_set_person (fettle_window_get_sitting (window), window->facts->persons[0].key);
  window_test_wait_label (window, "pilot-lead", "75 %");
  g_signal_emit_by_name (window_test_get (page, "pilot-count"), "clicked");
  wait_there (page, "units_in");
  form = window_test_get (page, "pilot-form");
  window_test_choose_reference (form, "step", "20");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (form, "units_in")), "20");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (form, "good_first")), "10");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (form, "reworked_good")), "5");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (form, "scrapped")), "5");
  g_assert_true (window_test_shortcut (window_test_get (form, "scrapped"), GDK_KEY_Return, GDK_CONTROL_MASK));
  wait_there (page, "units"); /* of the losses */
  window_test_wait_label (window, "pilot-lead", "67 %"); /* 40 of 60 at the step */
  form = window_test_get (page, "pilot-form");
  window_test_choose_reference (form, "issue", "1");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (form, "units")), "5");
  g_assert_true (window_test_shortcut (window_test_get (form, "units"), GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait (names_issue, page, "what was lost to the issue");
  g_assert_true (fettle_sitting_can_undo (fettle_window_get_sitting (window)));
}

#define ADD(path, test, tally) g_test_add ("/window/pilot/" path, Fixture, tally, set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  static const char counted[] = TALLY_HEAD "M1,10,2026-02-03,AB,1,A,40,40,0,0,0\nM1,20,2026-02-04,AB,1,A,40,30,10,0,0\n";

  window_test_init_apart (&argc, &argv);
  ADD ("says-yield-rate-and-what-sets-the-pace", test_says, counted);
  ADD ("a-figure-leads-to-the-tally-it-is-made-of-and-back", test_figures_lead, counted);
  ADD ("what-if-follows-at-once-and-stores-nothing", test_what_if, counted);
  ADD ("what-if-is-stored-when-asked-and-undone-at-once", test_what_if_is_stored, counted);
  ADD ("what-was-set-outlasts-a-change-of-the-book", test_what_if_outlasts_a_change, counted);
  ADD ("nothing-counted-says-what-to-do", test_nothing, TALLY_HEAD);
  ADD ("a-tally-is-entered-with-its-losses", test_tally, counted);
  return window_test_run_apart ();
}
