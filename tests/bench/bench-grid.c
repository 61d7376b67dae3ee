/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-grid.h"

#include <string.h>
#include <time.h>

#include "bench-pairs.h"

#define PAGES_DOWN 3 /* keys of each kind are taken in turn */

/* What GTK's own thread worked: neither the disk, which another thread waits for, nor the pause until the next frame is due. */
static double
worked (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

static void
on_painted (GdkFrameClock *clock, gpointer data)
{
  *(gboolean *) data = TRUE;
}

static void
wait_for_frame (GtkWidget *window)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gboolean painted = FALSE;
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_painted), &painted);

  while (!painted)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, handler);
}

/* Until nothing is asked and the last answer was drawn: keys come one by one, not into the answer of the one before. */
static void
settle (GtkWidget *window, FettleSitting *sitting)
{
  for (guint quiet = 0; quiet < 4;)
    {
      gboolean busy = fettle_sitting_is_asking (sitting);

      while (g_main_context_iteration (NULL, FALSE))
        busy = TRUE;
      quiet = busy ? 0 : quiet + 1;
      g_usleep (5000);
    }
  gtk_widget_queue_draw (window);
  wait_for_frame (window);
}

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
  double start = worked ();

  press (table, key);
  wait_for_frame (window);
  return worked () - start;
}

static double
calibration (void)
{
  double start = worked ();

  bench_calibration (NULL);
  return worked () - start;
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
  settle (window, sitting);
  table = find (page, "entry-table");
  gtk_widget_grab_focus (table);
  settle (window, sitting);
  for (guint i = 0; i <= BENCH_PAIRS; i++)
    for (guint k = 0; k < G_N_ELEMENTS (keys); k++)
      {
        double seconds = key_seconds (window, table, keys[k].key);

        fprintf (answers, "%s %.9f %.9f\n", keys[k].name, seconds, calibration ());
        settle (window, sitting);
      }
  gtk_window_destroy (GTK_WINDOW (window));
  fprintf (answers, "end\n");
  fflush (answers);
}
