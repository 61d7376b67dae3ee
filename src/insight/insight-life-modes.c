/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-life-parts-private.h"

#include "num-dist.h"
#include "num-survival.h"

#include <math.h>

/*
 * Ways of failing apart: for each the units that failed otherwise are stopped there. Points on Weibull paper by the
 * product-limit curve, so that stopped units move the later points; a line from INSIGHT_LIFE_FIT failures on.
 */

typedef struct
{
  const InsightLifeUnit **units; /* counted, ascending in cycles, failures of the mode first among equals */
  double                 *times;
  bool                   *ended;
  guint                   n;
  guint                   failures;
} Sample;

static int
compare_units (gconstpointer a, gconstpointer b, gpointer data)
{
  const InsightLifeUnit *one = *(const InsightLifeUnit *const *) a, *other = *(const InsightLifeUnit *const *) b;
  int mode = *(int *) data;
  gboolean first = one->failed && one->mode == mode, second = other->failed && other->mode == mode;

  if (one->cycles != other->cycles)
    return one->cycles < other->cycles ? -1 : 1;
  return second - first;
}

static void
take_sample (Sample *sample, GArray *units, int mode)
{
  sample->units = g_new0 (const InsightLifeUnit *, units->len + 1);
  sample->times = g_new0 (double, units->len + 1);
  sample->ended = g_new0 (bool, units->len + 1);
  for (guint i = 0; i < units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (units, InsightLifeUnit, i);

      if (insight_life_counts (unit))
        sample->units[sample->n++] = unit;
    }
  g_qsort_with_data (sample->units, (int) sample->n, sizeof *sample->units, compare_units, &mode);
  for (guint i = 0; i < sample->n; i++)
    {
      sample->times[i] = sample->units[i]->cycles;
      sample->ended[i] = sample->units[i]->failed && sample->units[i]->mode == mode;
      sample->failures += sample->ended[i];
    }
}

static void
clear_sample (Sample *sample)
{
  g_free (sample->units);
  g_free (sample->times);
  g_free (sample->ended);
}

/* The middle of the step of the product-limit curve at each failure. */
static void
add_points (InsightLifeMode *mode, const BookEvidence *e, const Sample *sample)
{
  g_autofree NumSurvivalStep *steps = g_new0 (NumSurvivalStep, sample->n + 1);
  NumSurvival curve;
  guint step = 0;

  if (sample->failures == 0
      || num_survival (sample->times, sample->ended, NULL, sample->n, INSIGHT_LIFE_CONFIDENCE, steps, &curve) != NUM_OK)
    return;
  mode->points = g_new0 (InsightLifePoint, sample->failures);
  for (guint i = 0; i < sample->n; i++)
    {
      const InsightLifeUnit *unit = sample->units[i];
      double before;

      if (!sample->ended[i])
        continue;
      while (step + 1 < curve.steps && steps[step].time < unit->cycles)
        step++;
      before = step > 0 ? steps[step - 1].survival : 1.0;
      mode->points[mode->n_points++]
          = (InsightLifePoint){ .unit = e->units[unit->unit].id,
                                .serial = g_strdup (e->units[unit->unit].serial),
                                .cycles = unit->cycles,
                                .share = 1.0 - 0.5 * (before + steps[step].survival) };
    }
}

/* From below the first failure to beyond what was seen and what is wanted. */
static void
add_line (InsightLifeMode *mode, double least, double most)
{
  double z = -num_normal_quantile (0.5 * (1.0 - INSIGHT_LIFE_CONFIDENCE));
  double from = log (least), to = log (most);

  mode->line = g_new0 (InsightLifeLine, INSIGHT_LIFE_LINE);
  mode->n_line = INSIGHT_LIFE_LINE;
  for (guint i = 0; i < INSIGHT_LIFE_LINE; i++)
    {
      double place = from + (to - from) * i / (INSIGHT_LIFE_LINE - 1.0);
      double se, u = num_weibull_u (&mode->fit.fit, place, &se);

      mode->line[i] = (InsightLifeLine){ .cycles = exp (place),
                                         .share = -expm1 (-exp (u)),
                                         .low = -expm1 (-exp (u - z * se)),
                                         .high = -expm1 (-exp (u + z * se)) };
    }
}

static void
fit_mode (InsightLife *life, InsightLifeMode *mode, const Sample *sample)
{
  g_autofree double *failed = g_new0 (double, sample->n + 1);
  g_autofree double *stopped = g_new0 (double, sample->n + 1);
  guint n_failed = 0, n_stopped = 0;
  double most = sample->n > 0 ? sample->times[sample->n - 1] : 0.0;

  mode->survival = mode->survival_low = (double) NAN;
  if (sample->failures < INSIGHT_LIFE_FIT)
    return;
  for (guint i = 0; i < sample->n; i++)
    if (sample->ended[i])
      failed[n_failed++] = sample->times[i];
    else
      stopped[n_stopped++] = sample->times[i];
  if (num_weibull (failed, n_failed, stopped, n_stopped, INSIGHT_LIFE_CONFIDENCE, &mode->fit) != NUM_OK)
    return;
  mode->fitted = TRUE;
  if (!isnan (life->wanted_cycles)
      && num_weibull_survival (&mode->fit, life->wanted_cycles, INSIGHT_LIFE_CONFIDENCE, &mode->survival, &mode->survival_low)
             != NUM_OK)
    mode->survival = mode->survival_low = (double) NAN;
  add_line (mode, 0.5 * failed[0], 1.3 * fmax (most, isnan (life->wanted_cycles) ? 0.0 : life->wanted_cycles));
}

static GArray *
list_modes (GArray *units)
{
  GArray *modes = g_array_new (FALSE, FALSE, sizeof (int));

  for (guint i = 0; i < units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (units, InsightLifeUnit, i);

      if (insight_life_counts (unit) && unit->failed)
        insight_add_once (modes, unit->mode);
    }
  return modes;
}

static int
compare_modes (gconstpointer a, gconstpointer b)
{
  const InsightLifeMode *one = a, *other = b;

  if (one->failures != other->failures)
    return one->failures > other->failures ? -1 : 1;
  return (one->issue_no > other->issue_no) - (one->issue_no < other->issue_no);
}

void
insight_life_add_modes (InsightLife *life, const BookEvidence *evidence, GArray *units)
{
  g_autoptr(GArray) modes = list_modes (units);

  life->modes = g_new0 (InsightLifeMode, modes->len + 1);
  life->n_modes = modes->len;
  life->survival = modes->len > 0 ? 1.0 : (double) NAN;
  for (guint i = 0; i < modes->len; i++)
    {
      int issue = g_array_index (modes, int, i);
      InsightLifeMode *mode = &life->modes[i];
      Sample sample = { 0 };

      take_sample (&sample, units, issue);
      mode->issue = issue >= 0 ? evidence->issues[issue].id : 0;
      mode->issue_no = issue >= 0 ? evidence->issues[issue].no : 0;
      mode->title = g_strdup (issue >= 0 ? evidence->issues[issue].title : "");
      mode->failures = sample.failures;
      add_points (mode, evidence, &sample);
      fit_mode (life, mode, &sample);
      life->survival *= mode->survival;
      clear_sample (&sample);
    }
  qsort (life->modes, life->n_modes, sizeof *life->modes, compare_modes);
}
