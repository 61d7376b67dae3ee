/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Gauge studies page: one person's part of a study typed by keys, undone, refused in words, and nobody named. */
#include "config.h"

#include <string.h>

#include "facts.h"
#include "window-private.h"
#include "window-test.h"

static char *
make_book (const char *folder)
{
  static const char *const files[][2] = {
    { "person.csv", "initials,role\nQX,inspector\nQZ,inspector\n" },
    { "gauge.csv", "name,resolution\nComparator,0.01\n" },
    { "gauge_calibration.csv", "gauge,date,due,in_order\nComparator,2025-01-10,2026-01-10,yes\n" },
    { "model.csv", "code,name\nM1,Test piece\n" },
    { "round.csv", "model,label,kind,opened\nM1,P1,prototype,2026-10-01\n" },
    { "characteristic.csv", "model,code,name,kind,unit,decimals,class,shape,gauge\nM1,PL,Play,measured,mm,2,function,normal,Comparator\n" },
    { "limit.csv", "model,characteristic,from_date,lower,upper\nM1,PL,2026-10-01,0.05,0.25\n" },
    { "gauge_trial.csv", "gauge,model,characteristic,person,piece,trial,date,value\nComparator,M1,PL,QZ,K1,1,2026-10-02,0.17\n"
                         "Comparator,M1,PL,QZ,K1,2,2026-10-02,0.18\n" },
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
  g_autofree char *path = make_book (folder);
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

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/gauges/a-study-typed-by-keys", test_typed_by_keys);
  return g_test_run ();
}
