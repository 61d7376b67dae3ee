/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The end of every test program that draws: gives back what pango, cairo and fontconfig keep for the whole
 * process, so that the leak checker speaks of our own memory only.
 */

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>

static inline int
chart_test_run (void)
{
  int status = g_test_run ();

  pango_cairo_font_map_set_default (NULL);
  cairo_debug_reset_static_data ();
  FcFini ();
  return status;
}
