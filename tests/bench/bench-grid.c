/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-grid.h"

#include <string.h>

#include "bench-frames.h"
#include "bench-pairs.h"

#define PAGES_DOWN 3 /* keys of each kind are taken in turn */

static GtkWidget *
find (GtkWidget *widget, const char *name)
{
  if (g_str_equal (gtk_widget_get_name (widget), name))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, name);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
press (GtkWidget *table, guint key)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (table);
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !taken; i++)
    {
      g_autoptr(GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
        g_signal_emit_by_name (controller, "key-pressed", key, 0, 0, &taken);
    }
  if (!taken)
    g_error ("the grid did not take the key %u", key);
}

static double
key_seconds (GtkWidget *window, GtkWidget *table, guint key)
{
  double start = bench_worked ();

  press (table, key);
  bench_wait_for_frame (window);
  return bench_worked () - start;
}

/**
 * bench_grid:
 * @answers: where to
 * @sitting: of the book
 * @span: the round to fill in
 *
 * Prints lines 'KEY SECONDS CALIBRATION': a figure that begins a value, the Enter that stores it and goes on, and a page down,
 * each until its frame is drawn; then 'end'.
 */
void
bench_grid (FILE *answers, FettleSitting *sitting, const FettleSpan *span)
{
  static const struct
  {
    const char *name;
    guint       key;
  } keys[PAGES_DOWN] = { { "figure", GDK_KEY_7 }, { "enter", GDK_KEY_Return }, { "page", GDK_KEY_Page_Down } };
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);
  GtkWidget *window = gtk_window_new (), *page = kinds[fettle_page_kind_find ("entry")].make (sitting), *table;

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_widget_add_css_class (window, "fettle");
  fettle_page_set_span (FETTLE_PAGE (page), span);
  gtk_window_set_child (GTK_WINDOW (window), page);
  gtk_window_present (GTK_WINDOW (window));
  bench_settle (window, sitting);
  table = find (page, "entry-table");
  gtk_widget_grab_focus (table);
  bench_settle (window, sitting);
  for (guint i = 0; i <= BENCH_PAIRS; i++)
    for (guint k = 0; k < G_N_ELEMENTS (keys); k++)
      {
        double seconds = key_seconds (window, table, keys[k].key);

        fprintf (answers, "%s %.9f %.9f\n", keys[k].name, seconds, bench_worked_calibration ());
        bench_settle (window, sitting);
      }
  gtk_window_destroy (GTK_WINDOW (window));
  fprintf (answers, "end\n");
  fflush (answers);
}
