/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Gauge studies page: one person's part of a study typed by keys, undone, refused in words, and nobody named. */
#include "config.h"

#include <string.h>

#include "facts.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef struct
{
  WindowTestFixture base;
  FettleSitting    *sitting;
  GtkWidget        *page;
  FettleTable      *table;
} Study;

/* @day: of the trials that somebody else has made. */
static void
begin (Study *study, const char *day)
{
  g_autofree char *trials = g_strdup_printf ("gauge,model,characteristic,person,piece,trial,date,value\n"
                                             "Comparator,M1,PL,QZ,K1,1,%s,0.17\nComparator,M1,PL,QZ,1,1,%s,0.18\n", day, day);

  window_test_set_up_of (&study->base, (const WindowTestFile[]){
    { "person.csv", "initials,role\nQX,inspector\nQZ,inspector\n" },
    { "gauge.csv", "name,resolution\nComparator,0.01\n" },
    { "gauge_calibration.csv", "gauge,date,due,in_order\nComparator,2025-01-10,2026-01-10,yes\n" },
    { "model.csv", "code,name\nM1,Test piece\n" },
    { "round.csv", "model,label,kind,opened\nM1,P1,prototype,2026-10-01\n" },
    { "characteristic.csv", "model,code,name,kind,unit,decimals,class,shape,gauge\nM1,PL,Play,measured,mm,2,function,normal,Comparator\n"
                            "M1,LK,Lock,checked,,,function,unknown,Comparator\n" },
    { "limit.csv", "model,characteristic,from_date,lower,upper\nM1,PL,2026-10-01,0.05,0.25\n" },
    { "gauge_trial.csv", trials },
    { NULL, NULL } }, "gauges");
  study->sitting = fettle_window_get_sitting (study->base.window);
  study->page = window_test_page (study->base.window);
  study->table = FETTLE_TABLE (window_test_get (study->page, "study-table"));
}

static void
end (Study *study)
{
  window_test_tear_down (&study->base, NULL);
}

static void
wait_for (Study *study, const char *label, const char *words)
{
  window_test_wait_label (study->base.window, label, words);
}

static void
type (Study *study, const char *text)
{
  window_test_press (GTK_WIDGET (study->table), GDK_KEY_F2, 0);
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (study->page, "cell")), text);
  window_test_press (GTK_WIDGET (study->table), GDK_KEY_Return, 0);
}

/* Beside the choice of who is planned. */
static void
find_initials (GtkWidget *widget, gpointer data)
{
  if (gtk_widget_get_ancestor (widget, GTK_TYPE_POPOVER) == NULL && GTK_IS_LABEL (widget) && (strstr (gtk_label_get_text (GTK_LABEL (widget)), "QX") != NULL
                                || strstr (gtk_label_get_text (GTK_LABEL (widget)), "QZ") != NULL))
    *(gboolean *) data = TRUE;
}

static void
test_typed_by_keys (void)
{
  Study study;
  gboolean named = FALSE;

  begin (&study, "2026-11-20");
  wait_for (&study, "gauge-lead", "overdue");
  wait_for (&study, "study-state", "Choose who measures");
  fettle_sitting_set_person (study.sitting, study.base.window->facts->persons[0].key);
  wait_for (&study, "study-state", "30 values"); /* ten pieces by three: what the other found is not shown */
  window_test_settle ();
  type (&study, "0.16");
  wait_for (&study, "study-state", "29 values");
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Escape, 0);
  type (&study, "0.1x");
  wait_for (&study, "study-said", "0.1x");
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Escape, 0);
  fettle_sitting_undo (study.sitting);
  wait_for (&study, "study-state", "30 values");
  window_test_each (study.page, find_initials, &named);
  g_assert_false (named);
  end (&study);
}

static char *
join_labels (Study *study)
{
  GString *labels = g_string_new (NULL);

  for (guint i = 0; i < fettle_table_source_n_rows (study->table->source); i++)
    {
      g_autofree char *label = window_test_cell (study->table, i, 0);

      g_string_append_printf (labels, "%s ", label);
    }
  return g_string_free (labels, FALSE);
}

/* Rows stay where they are whichever piece is measured first: a value never goes to the piece beside. */
static void
test_rows_stay (void)
{
  Study study;
  g_autofree char *before = NULL, *after = NULL, *text = NULL;

  begin (&study, "2026-11-20");
  fettle_sitting_set_person (study.sitting, study.base.window->facts->persons[0].key);
  wait_for (&study, "study-state", "30 values of your part");
  window_test_settle ();
  before = join_labels (&study);
  g_assert_cmpstr (before, ==, "1 2 3 4 5 6 7 8 9 K1 "); /* K1 and 1 are in the study, the others are planned */

  fettle_table_go_to_cell (study.table, 6, 2);
  type (&study, "0.21");
  wait_for (&study, "study-state", "29 values of your part");
  window_test_settle ();
  after = join_labels (&study);
  g_assert_cmpstr (after, ==, before);
  text = window_test_cell (study.table, 6, 2);
  g_assert_cmpstr (text, ==, "0.21");
  end (&study);
}

/* After a pause of more than thirty days a new study begins, on other pieces; it has the day on which it is typed. */
static void
test_begins_anew (void)
{
  Study study;
  g_autofree char *labels = NULL, *again = NULL;

  begin (&study, "2026-10-02");
  fettle_sitting_set_person (study.sitting, study.base.window->facts->persons[1].key); /* who measured in the study that is over */
  wait_for (&study, "study-state", "begins a new one of 30 values");
  window_test_settle ();
  labels = join_labels (&study);
  g_assert_cmpstr (labels, ==, "2 3 4 5 6 7 8 9 10 11 ");
  fettle_table_go_to_cell (study.table, 0, 1);
  type (&study, "0.19");
  wait_for (&study, "study-state", "29 values of your part"); /* the new one goes on: its first value is dated today */
  window_test_settle ();
  again = join_labels (&study);
  g_assert_cmpstr (again, ==, labels);
  end (&study);
}

/* ---- blocks and visits ---- */

static void
open_study (Study *study, const char *state)
{
  begin (study, "2026-11-20");
  fettle_sitting_set_person (study->sitting, study->base.window->facts->persons[0].key);
  wait_for (study, "study-state", state);
  window_test_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (study->table));
}

/* As a spreadsheet writes it: lines end in CR LF, one figure has a comma, one is no number; the block comes out as it went in. */
static void
test_block (void)
{
  Study study;
  g_autofree char *typed = NULL, *copied = NULL;

  open_study (&study, "30 values of your part");
  gdk_clipboard_set_text (gtk_widget_get_clipboard (study.page), "0.11\t0,12\t0.13\r\n0.14\t0.15x\t0.16\r\n");
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_v, GDK_CONTROL_MASK);
  wait_for (&study, "study-state", "25 values of your part");
  wait_for (&study, "study-said", "1 cell was not taken");
  wait_for (&study, "study-said", "0.15x");
  window_test_settle ();
  typed = fettle_table_source_dup_typed (study.table->source, fettle_table_source_get_key (study.table->source, 1), 2);
  g_assert_cmpstr (typed, ==, "0.15x"); /* stays where it was pasted, underlined */

  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Home, GDK_CONTROL_MASK);
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Right, GDK_SHIFT_MASK);
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Right, GDK_SHIFT_MASK);
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_Down, GDK_SHIFT_MASK);
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_c, GDK_CONTROL_MASK);
  copied = window_test_dup_clipboard (study.page);
  g_assert_cmpstr (copied, ==, "0.11\t0.12\t0.13\n0.14\t\t0.16\n");

  /* What lies outside is left out, and said: piece 10 is the last. */
  fettle_table_go_to_cell (study.table, 9, 3);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (study.page), "0.17\t0.18\n0.19\t0.2\n");
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_v, GDK_CONTROL_MASK);
  wait_for (&study, "study-state", "24 values of your part");
  wait_for (&study, "study-said", "3 cells of the block lie outside");
  end (&study);
}

/* One by one while the visit goes on; all of it at once when the keyboard has left the table, and done again as one. */
static void
test_visit (void)
{
  Study study;
  g_autofree char *while_open = NULL, *after = NULL, *again = NULL;

  open_study (&study, "30 values of your part");
  for (guint i = 0; i < 3; i++)
    type (&study, "0.21");
  wait_for (&study, "study-state", "27 values of your part");
  fettle_sitting_undo (study.sitting);
  wait_for (&study, "study-state", "28 values of your part");
  while_open = fettle_sitting_dup_undo_words (study.sitting, FALSE);
  g_assert_cmpstr (while_open, !=, "3 trials of PL"); /* while it goes on: the last value */
  gdk_clipboard_set_text (gtk_widget_get_clipboard (study.page), "0.11\t0.12\n0.13\t0.14\n");
  window_test_press (GTK_WIDGET (study.table), GDK_KEY_v, GDK_CONTROL_MASK);
  wait_for (&study, "study-state", "24 values of your part");
  window_test_settle ();

  gtk_widget_grab_focus (window_test_get (study.page, "calibrate"));
  after = fettle_sitting_dup_undo_words (study.sitting, FALSE);
  g_assert_cmpstr (after, ==, "6 trials of PL");
  fettle_sitting_undo (study.sitting);
  wait_for (&study, "study-state", "30 values of your part");
  window_test_settle ();
  again = fettle_sitting_dup_undo_words (study.sitting, TRUE);
  g_assert_cmpstr (again, ==, "6 trials of PL");
  fettle_sitting_redo (study.sitting);
  wait_for (&study, "study-state", "24 values of your part");
  window_test_settle ();
  fettle_sitting_undo (study.sitting);
  wait_for (&study, "study-state", "30 values of your part");
  end (&study);
}

/* ---- the plan, and checks ---- */

/* By persons, labels and trials: kept for the next time the page is opened, counted for all who are planned. */
static void
test_plan (void)
{
  Study study;
  GtkWidget *check;
  g_autofree char *labels = NULL;

  open_study (&study, "30 values of your part");
  check = gtk_widget_get_first_child (window_test_get (study.page, "study-persons-box"));
  g_assert_cmpstr (gtk_check_button_get_label (GTK_CHECK_BUTTON (check)), ==, "QX");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
  wait_for (&study, "study-planned", "1 × 10 × 3 values");
  window_test_settle ();
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (study.page, "study-labels")), "K1, K7,9, K7");
  g_signal_emit_by_name (window_test_get (study.page, "study-labels"), "activate");
  wait_for (&study, "study-state", "12 values of your part"); /* 1 and K1 are measured by the other, K7 and 9 planned */
  window_test_settle ();
  labels = join_labels (&study);
  g_assert_cmpstr (labels, ==, "1 9 K1 K7 ");
  wait_for (&study, "study-planned", "1 × 4 × 3 values");
  check = gtk_widget_get_next_sibling (gtk_widget_get_first_child (window_test_get (study.page, "study-persons-box")));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
  wait_for (&study, "study-planned", "2 × 4 × 3 values by persons, pieces and trials. 22 of the values");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (study.page, "study-trials")), 2);
  wait_for (&study, "study-state", "8 values of your part");
  window_test_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (study.table));
  fettle_table_go_to_cell (study.table, 0, 1);
  type (&study, "0.19");
  wait_for (&study, "study-planned", "13 of the values");

  window_test_close (study.base.window);
  study.base.window = window_test_open (study.base.book, "gauges");
  study.page = window_test_page (study.base.window);
  wait_for (&study, "study-planned", "2 × 4 × 2 values by persons, pieces and trials. 13 of the values");
  end (&study);
}

static void
type_check (Study *study, guint column, const char *text)
{
  FettleTable *table = FETTLE_TABLE (window_test_get (study->page, "check-table"));

  fettle_table_go_to_cell (table, fettle_table_source_n_rows (table->source) - 1, column);
  window_test_press (GTK_WIDGET (table), GDK_KEY_F2, 0);
  g_assert_true (fettle_table_is_editing (table));
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (table)); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_ENTRY (child))
      gtk_editable_set_text (GTK_EDITABLE (child), text);
  g_assert_true (fettle_table_finish (table));
}

static gboolean
has_two_rows (gpointer data)
{
  return fettle_table_source_n_rows (FETTLE_TABLE (data)->source) == 2;
}

/* A row is stored with its verdict, not before; a bad piece that failed was caught, which the table above counts. */
static void
test_checks (void)
{
  Study study;
  GtkWidget *table;
  g_autofree char *bad = NULL, *verdict = NULL;

  open_study (&study, "30 values of your part");
  wait_for (&study, "check-state", "Good and bad pieces go through the check mixed");
  table = window_test_get (study.page, "check-table");
  type_check (&study, 0, "B7");
  type_check (&study, 1, "y");
  window_test_settle ();
  g_assert_cmpuint (fettle_table_source_n_rows (FETTLE_TABLE (table)->source), ==, 1); /* no verdict yet */
  type_check (&study, 3, "f");
  window_test_wait (has_two_rows, table, "the row is stored");
  bad = window_test_cell (FETTLE_TABLE (table), 0, 1);
  verdict = window_test_cell (FETTLE_TABLE (table), 0, 3);
  g_assert_cmpstr (bad, ==, "yes");
  g_assert_cmpstr (verdict, ==, "Failed");
  g_assert_nonnull (window_test_find (study.page, "gauge-checks"));
  fettle_sitting_undo (study.sitting);
  window_test_settle ();
  end (&study);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/gauges/a-study-typed-by-keys", test_typed_by_keys);
  g_test_add_func ("/window/gauges/rows-stay-whichever-piece-is-measured-first", test_rows_stay);
  g_test_add_func ("/window/gauges/after-a-pause-a-new-study-begins", test_begins_anew);
  g_test_add_func ("/window/gauges/a-block-comes-in-and-goes-out-as-spreadsheets-write-it", test_block);
  g_test_add_func ("/window/gauges/a-visit-is-undone-and-done-again-as-one", test_visit);
  g_test_add_func ("/window/gauges/a-study-is-planned-by-persons-pieces-and-trials", test_plan);
  g_test_add_func ("/window/gauges/a-check-of-a-known-bad-piece-is-stored-with-its-verdict", test_checks);
  return g_test_run ();
}
