/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Colour blindness by Machado, Oliveira and Fernandes, A Physiologically-based Model for Simulation of Color Vision
 * Deficiency, IEEE Transactions on Visualization and Computer Graphics 15 (2009), 1291-1298: the matrices for severity 1.0,
 * on linear sRGB (from memory; each row of a matrix adds up to 1, since white stays white). sRGB's curve by IEC 61966-2-1,
 * luminance and contrast by WCAG 2.1, lightness L* by CIE 1976.
 */
#include "chart-sight.h"

#include <math.h>

static const double matrices[N_SIGHTS][3][3] = {
  [SIGHT_USUAL] = { { 1.0, 0.0, 0.0 }, { 0.0, 1.0, 0.0 }, { 0.0, 0.0, 1.0 } },
  [SIGHT_PROTAN] = { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
  [SIGHT_DEUTAN] = { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
  [SIGHT_TRITAN] = { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
  [SIGHT_GREY] = { { 0.2126, 0.7152, 0.0722 }, { 0.2126, 0.7152, 0.0722 }, { 0.2126, 0.7152, 0.0722 } },
};

static double
to_linear (double value)
{
  return value <= 0.04045 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

static double
from_linear (double value)
{
  value = CLAMP (value, 0.0, 1.0);
  return value <= 0.0031308 ? 12.92 * value : 1.055 * pow (value, 1.0 / 2.4) - 0.055;
}

const char *
sight_name (Sight sight)
{
  static const char *const names[N_SIGHTS] = { "usual", "protan", "deutan", "tritan", "grey" };

  return names[sight];
}

/* The colour as somebody sees it. */
ChartColour
sight_see (Sight sight, const ChartColour *colour)
{
  const double from[3] = { to_linear (colour->red), to_linear (colour->green), to_linear (colour->blue) };
  double to[3];

  for (guint i = 0; i < 3; i++)
    to[i] = from_linear (matrices[sight][i][0] * from[0] + matrices[sight][i][1] * from[1] + matrices[sight][i][2] * from[2]);
  return (ChartColour){ to[0], to[1], to[2] };
}

/* Relative luminance, 0 to 1. */
double
sight_luminance (const ChartColour *colour)
{
  return 0.2126 * to_linear (colour->red) + 0.7152 * to_linear (colour->green) + 0.0722 * to_linear (colour->blue);
}

/* L*, 0 to 100. */
double
sight_lightness (const ChartColour *colour)
{
  double y = sight_luminance (colour);

  return y <= 216.0 / 24389.0 ? y * 24389.0 / 27.0 : 116.0 * cbrt (y) - 16.0;
}

/* 1 (the same) to 21 (black and white). */
double
sight_contrast (const ChartColour *one, const ChartColour *other)
{
  double a = sight_luminance (one), b = sight_luminance (other);

  return (MAX (a, b) + 0.05) / (MIN (a, b) + 0.05);
}
