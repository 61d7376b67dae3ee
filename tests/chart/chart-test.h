/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The end of every test program that draws: gives back what pango, cairo and fontconfig keep for the whole
 * process, so that the leak checker speaks of our own memory only.
 */

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>

/* Pango looks for fonts in threads, which hold fontconfig's cache until they end; these programs start no others. */
static inline gboolean
chart_test_has_threads (void)
{
  g_autoptr(GDir) tasks = g_dir_open ("/proc/self/task", 0, NULL);
  guint n = 0;

  while (tasks != NULL && g_dir_read_name (tasks) != NULL)
    n++;
  return n > 1;
}

static inline int
chart_test_run (void)
{
  int status = g_test_run ();

  pango_cairo_font_map_set_default (NULL);
  while (chart_test_has_threads ())
    g_usleep (1000);
  cairo_debug_reset_static_data ();
  FcFini ();
  return status;
}
