/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Charts with made-up data of every kind, for the layout tests and for the gallery. Names are neutral,
 * numbers come from a generator with a given seed and mean nothing.
 */

#include "chart-characteristic.h"
#include "chart-effect.h"
#include "chart-issues.h"
#include "chart-plot.h"
#include "chart-rows.h"
#include "chart-score.h"
#include "chart-strip.h"

G_BEGIN_DECLS

/**
 * Sample:
 * @rounds: how many rounds
 * @units: readings a round; 0: the rising numbers of a usual development
 * @seed: of the generator
 * @long_names: rounds have names of 200 letters
 * @titled: with heading
 */
typedef struct
{
  guint    rounds;
  guint    units;
  guint32  seed;
  gboolean long_names;
  gboolean titled;
} Sample;

/* For all samples made afterwards: words as the pseudo-language writes them, with accents, in brackets, a third longer;
 * values multiplied by @factor, which is negative only where a kind can draw that (rows and plots take its size). */
void   samples_set_pseudo    (gboolean      pseudo);
void   samples_set_factor    (double        factor);

Chart *sample_characteristic (const Sample *sample);
Chart *sample_checked        (const Sample *sample);
Chart *sample_issues         (const Sample *sample);
Chart *sample_score          (const Sample *sample);
Chart *sample_effect         (const Sample *sample);
Chart *sample_plot           (const Sample *sample);
Chart *sample_rows           (const Sample *sample);
Chart *sample_yields         (const Sample *sample);
Chart *sample_strip          (const Sample *sample);
Chart *sample_individuals    (const Sample *sample);
Chart *sample_distribution   (const Sample *sample);
Chart *sample_wall           (const Sample *sample);

G_END_DECLS
