/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Colours and fonts of a drawing. The palette is the style sheet's (ui/style.css); print is black on white.
 */

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double red, green, blue;
} ChartColour;

typedef enum
{
  CHART_LOOK_LIGHT,
  CHART_LOOK_DARK,
  CHART_LOOK_PRINT
} ChartLook;

typedef struct
{
  ChartColour paper, sheet, band, rule, ink, faint, copper, on_copper;
  const char *sans;  /* Pango family list for figures and labels */
  const char *serif; /* Pango family list for titles and round names */
  double      size;  /* point size of ordinary labels */
} ChartTheme;

const ChartTheme *chart_theme (ChartLook look);

G_END_DECLS
