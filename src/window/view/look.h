/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Light, dark, or as the desktop says: the style sheets of ui/ on the display, and the same choice for drawings.
 */

#include <gtk/gtk.h>

#include "chart.h"

G_BEGIN_DECLS

typedef enum
{
  FETTLE_LOOK_FOLLOW,
  FETTLE_LOOK_LIGHT,
  FETTLE_LOOK_DARK
} FettleLook;

void      fettle_look_load    (GdkDisplay *display);
void      fettle_look_choose  (FettleLook  look);
gboolean  fettle_look_is_dark (void);
ChartLook fettle_look_chart   (void);
void      fettle_look_draw    (GtkWidget   *widget,
                               GtkSnapshot *snapshot,
                               Chart       *chart);
void      fettle_look_redraw  (GtkWidget  *widget);

G_END_DECLS
