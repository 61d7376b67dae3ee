/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-frames.h"

#include <time.h>

#include "bench-pairs.h"

double
bench_worked (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

double
bench_worked_calibration (void)
{
  double start = bench_worked ();

  bench_calibration (NULL);
  return bench_worked () - start;
}

static void
on_painted (GdkFrameClock *clock, gpointer data)
{
  *(gboolean *) data = TRUE;
}

void
bench_wait_for_frame (GtkWidget *window)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gboolean painted = FALSE;
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_painted), &painted);

  while (!painted)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, handler);
}

void
bench_settle (GtkWidget *window, FettleSitting *sitting)
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
  bench_wait_for_frame (window);
}
