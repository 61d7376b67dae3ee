/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-figure.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Gettext makes a header of an empty text. */
static const char *
unit_of (const PresentFigure *figure)
{
  return *figure->unit == '\0' ? "" : _(figure->unit);
}

/**
 * present_figure_value:
 * @figure: what may be set
 * @value: of it; NAN: not known
 *
 * Returns: (transfer full): as it is shown, with its unit
 */
char *
present_figure_value (const PresentFigure *figure, double value)
{
  return isnan (value) ? g_strdup (_("not known")) : present_value (value * figure->factor, (int) figure->digits, unit_of (figure));
}

/**
 * present_figure_read:
 * @figure: what may be set
 * @shown: as a person set it, in the unit shown
 *
 * Returns: its value, no finer than it is shown, so that what is computed and stored is what was read
 */
double
present_figure_read (const PresentFigure *figure, double shown)
{
  double scale = pow (10.0, figure->digits);

  return round (shown * scale) / scale / figure->factor;
}
