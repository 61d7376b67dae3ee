/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Gauge studies page: one person's part of a study typed by keys, undone, refused in words, and nobody named. */
#include "config.h"

#include <string.h>

#include "facts.h"
#include "table-private.h"
#include "window-private.h"
#include "window-test.h"

/* @day: of the trials that somebody else has made. */
static char *
make_book (const char *folder, const char *day)
{
  g_autofree char *trials = g_strdup_printf ("gauge,model,characteristic,person,piece,trial,date,value\n"
                                             "Comparator,M1,PL,QZ,K1,1,%s,0.17\nComparator,M1,PL,QZ,1,1,%s,0.18\n", day, day);
  const char *const files[][2] = {
    { "person.csv", "initials,role\nQX,inspector\nQZ,inspector\n" },
    { "gauge.csv", "name,resolution\nComparator,0.01\n" },
    { "gauge_calibration.csv", "gauge,date,due,in_order\nComparator,2025-01-10,2026-01-10,yes\n" },
    { "model.csv", "code,name\nM1,Test piece\n" },
    { "round.csv", "model,label,kind,opened\nM1,P1,prototype,2026-10-01\n" },
    { "characteristic.csv", "model,code,name,kind,unit,decimals,class,shape,gauge\nM1,PL,Play,measured,mm,2,function,normal,Comparator\n" },
    { "limit.csv", "model,characteristic,from_date,lower,upper\nM1,PL,2026-10-01,0.05,0.25\n" },
    { "gauge_trial.csv", trials },
  };
  g_autofree char *few = g_build_filename (folder, "few", NULL);
  g_autofree char *path = g_build_filename (folder, "few" BOOK_SUFFIX, NULL);

  g_mkdir_with_parents (few, 0700);
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *file = g_build_filename (few, files[i][0], NULL);

      g_assert_true (g_file_set_contents (file, files[i][1], -1, NULL));
    }
  window_test_import (path, few);
  return g_steal_pointer (&path);
}

typedef struct
{
  GtkWidget  *page;
  const char *label;
  const char *words;
} Said;

static gboolean
is_said (gpointer data)
{
  const Said *said = data;
  GtkWidget *label = window_test_find (said->page, said->label);

  return label != NULL && gtk_widget_get_mapped (label) && strstr (gtk_label_get_label (GTK_LABEL (label)), said->words) != NULL;
}

static void
wait_for (GtkWidget *page, const char *label, const char *words)
{
  Said said = { page, label, words };

  window_test_wait (is_said, &said, words);
}

static void
type (GtkWidget *page, const char *text)
{
  GtkWidget *table = window_test_get (page, "study-table");

  window_test_press (table, GDK_KEY_F2, 0);
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (page, "cell")), text);
  window_test_press (table, GDK_KEY_Return, 0);
}

static void
find_initials (GtkWidget *widget, gpointer data)
{
  if (GTK_IS_LABEL (widget) && (strstr (gtk_label_get_text (GTK_LABEL (widget)), "QX") != NULL
                                || strstr (gtk_label_get_text (GTK_LABEL (widget)), "QZ") != NULL))
    *(gboolean *) data = TRUE;
}

static void
test_typed_by_keys (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-gauges-XXXXXX", NULL);
  g_autofree char *path = make_book (folder, "2026-11-20");
  FettleWindow *window = window_test_open (path, "gauges");
  FettleSitting *sitting = fettle_window_get_sitting (window);
  GtkWidget *page = GTK_WIDGET (fettle_window_get_page (window));
  gboolean named = FALSE;

  wait_for (page, "gauge-lead", "overdue");
  wait_for (page, "study-state", "Choose who measures");
  fettle_sitting_set_person (sitting, window->facts->persons[0].key);
  wait_for (page, "study-state", "30 values"); /* ten pieces by three: what the other found is not shown */
  window_test_settle ();
  type (page, "0.16");
  wait_for (page, "study-state", "29 values");
  window_test_press (window_test_get (page, "study-table"), GDK_KEY_Escape, 0);
  type (page, "0.1x");
  wait_for (page, "study-said", "0.1x");
  window_test_press (window_test_get (page, "study-table"), GDK_KEY_Escape, 0);
  fettle_sitting_undo (sitting);
  wait_for (page, "study-state", "30 values");
  window_test_each (page, find_initials, &named);
  g_assert_false (named);
  window_test_close (window);
  window_test_remove (folder);
}

/* What stands in a cell, as the table would draw it. */
static char *
cell_text (GtkWidget *page, guint row, guint column)
{
  FettleTable *table = FETTLE_TABLE (window_test_get (page, "study-table"));
  FettleTableTone tone = FETTLE_TONE_INK;
  gboolean pending = FALSE;

  return fettle_table_source_dup_text (table->source, row, column, &tone, &pending);
}

static char *
join_labels (GtkWidget *page)
{
  FettleTable *table = FETTLE_TABLE (window_test_get (page, "study-table"));
  GString *labels = g_string_new (NULL);

  for (guint i = 0; i < fettle_table_source_n_rows (table->source); i++)
    {
      g_autofree char *label = cell_text (page, i, 0);

      g_string_append_printf (labels, "%s ", label);
    }
  return g_string_free (labels, FALSE);
}

/* Rows stay where they are whichever piece is measured first: a value never goes to the piece beside. */
static void
test_rows_stay (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-gauges-XXXXXX", NULL);
  g_autofree char *path = make_book (folder, "2026-11-20");
  FettleWindow *window = window_test_open (path, "gauges");
  FettleSitting *sitting = fettle_window_get_sitting (window);
  GtkWidget *page = GTK_WIDGET (fettle_window_get_page (window));
  FettleTable *table;
  g_autofree char *before = NULL, *after = NULL, *text = NULL;

  fettle_sitting_set_person (sitting, window->facts->persons[0].key);
  wait_for (page, "study-state", "30 values of your part");
  window_test_settle ();
  before = join_labels (page);
  g_assert_cmpstr (before, ==, "1 2 3 4 5 6 7 8 9 K1 "); /* K1 and 1 are in the study, the others are planned */

  table = FETTLE_TABLE (window_test_get (page, "study-table"));
  fettle_table_go_to_cell (table, 6, 2);
  type (page, "0.21");
  wait_for (page, "study-state", "29 values of your part");
  window_test_settle ();
  after = join_labels (page);
  g_assert_cmpstr (after, ==, before);
  text = cell_text (page, 6, 2);
  g_assert_cmpstr (text, ==, "0.21");
  window_test_close (window);
  window_test_remove (folder);
}

/* After a pause of more than thirty days a new study begins, on other pieces; it has the day on which it is typed. */
static void
test_begins_anew (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-gauges-XXXXXX", NULL);
  g_autofree char *path = make_book (folder, "2026-10-02");
  FettleWindow *window = window_test_open (path, "gauges");
  FettleSitting *sitting = fettle_window_get_sitting (window);
  GtkWidget *page = GTK_WIDGET (fettle_window_get_page (window));
  g_autofree char *labels = NULL, *again = NULL;

  fettle_sitting_set_person (sitting, window->facts->persons[1].key); /* who measured in the study that is over */
  wait_for (page, "study-state", "begins a new one of 30 values");
  window_test_settle ();
  labels = join_labels (page);
  g_assert_cmpstr (labels, ==, "2 3 4 5 6 7 8 9 10 11 ");
  fettle_table_go_to_cell (FETTLE_TABLE (window_test_get (page, "study-table")), 0, 1);
  type (page, "0.19");
  wait_for (page, "study-state", "29 values of your part"); /* the new one goes on: its first value is dated today */
  window_test_settle ();
  again = join_labels (page);
  g_assert_cmpstr (again, ==, labels);
  window_test_close (window);
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/gauges/a-study-typed-by-keys", test_typed_by_keys);
  g_test_add_func ("/window/gauges/rows-stay-whichever-piece-is-measured-first", test_rows_stay);
  g_test_add_func ("/window/gauges/after-a-pause-a-new-study-begins", test_begins_anew);
  return g_test_run ();
}
