/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A figure that a person may set otherwise to see what comes of it: how it is called, shown and moved.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * PresentFigure:
 * @label: what it is called; untranslated, for gettext
 * @unit: or ""; likewise
 * @factor: what a value is multiplied by before it is shown: 100 of shares
 * @digits: shown after the point
 * @step: by which a key moves it, as shown
 * @low: least that a slider offers, as shown
 * @high: likewise most, unless it is more already
 */
typedef struct
{
  const char *label;
  const char *unit;
  double      factor;
  guint       digits;
  double      step;
  double      low;
  double      high;
} PresentFigure;

char   *present_figure_value (const PresentFigure *figure,
                              double               value) G_GNUC_WARN_UNUSED_RESULT;
double  present_figure_read  (const PresentFigure *figure,
                              double               shown);

G_END_DECLS
