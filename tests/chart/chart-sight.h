/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How others see a colour: the usual forms of colour blindness, and grey as on a copy.
 */

#include <glib.h>

#include "chart-theme.h"

G_BEGIN_DECLS

/**
 * Sight:
 * @SIGHT_USUAL: unchanged
 * @SIGHT_PROTAN: without the cones for long waves (red)
 * @SIGHT_DEUTAN: without those for middle waves (green)
 * @SIGHT_TRITAN: without those for short waves (blue)
 * @SIGHT_GREY: lightness alone
 */
typedef enum
{
  SIGHT_USUAL,
  SIGHT_PROTAN,
  SIGHT_DEUTAN,
  SIGHT_TRITAN,
  SIGHT_GREY
} Sight;
#define N_SIGHTS 5

const char *sight_name      (Sight              sight);
ChartColour sight_see       (Sight              sight,
                             const ChartColour *colour);
double      sight_luminance (const ChartColour *colour);
double      sight_lightness (const ChartColour *colour);
double      sight_contrast  (const ChartColour *one,
                             const ChartColour *other);

G_END_DECLS
