/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lives on Weibull paper, a shape of mark for each way of failing; and failures over all cycles. */

#include "config.h"

#include "present-life.h"

#include "chart-plot.h"
#include "present-chart.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef struct
{
  GArray    *points; /* ChartPlotPoint */
  GArray    *lines;  /* ChartPlotLine */
  GArray    *shapes; /* struct ChartPlotShape */
  GPtrArray *texts;
  GPtrArray *arrays; /* of double */
} Making;

static Making
making_new (void)
{
  return (Making){ g_array_new (FALSE, FALSE, sizeof (ChartPlotPoint)), g_array_new (FALSE, FALSE, sizeof (ChartPlotLine)),
                   g_array_new (FALSE, FALSE, sizeof (struct ChartPlotShape)), g_ptr_array_new_with_free_func (g_free),
                   g_ptr_array_new_with_free_func (g_free) };
}

static Chart *
making_end (Making *making, ChartPlot *data)
{
  Chart *chart;

  data->points = (const ChartPlotPoint *) (gpointer) making->points->data;
  data->n_points = making->points->len;
  data->lines = (const ChartPlotLine *) (gpointer) making->lines->data;
  data->n_lines = making->lines->len;
  data->shapes = (const struct ChartPlotShape *) (gpointer) making->shapes->data;
  data->n_shapes = making->shapes->len;
  chart = chart_plot_new (data);
  g_array_unref (making->points);
  g_array_unref (making->lines);
  g_array_unref (making->shapes);
  g_ptr_array_unref (making->texts);
  g_ptr_array_unref (making->arrays);
  return chart;
}

static const char *
keep (Making *making, char *text)
{
  g_ptr_array_add (making->texts, text);
  return text;
}

static double *
numbers (Making *making, guint n)
{
  double *array = g_new0 (double, n + 1);

  g_ptr_array_add (making->arrays, array);
  return array;
}

static ChartShape
shape_of (guint mode)
{
  static const ChartShape shapes[] = { CHART_SHAPE_DISC, CHART_SHAPE_DIAMOND_OPEN, CHART_SHAPE_CIRCLE, CHART_SHAPE_DIAMOND,
                                       CHART_SHAPE_ABOVE, CHART_SHAPE_BELOW };

  return shapes[mode % G_N_ELEMENTS (shapes)];
}

static const char *
name_of (const InsightLifeMode *mode)
{
  return mode->issue != 0 ? mode->title : _("no issue named");
}

static void
add_line (Making *making, const InsightLifeMode *mode, guint which, const double *xs, gboolean dashed)
{
  double *ys = numbers (making, mode->n_line);
  ChartPlotLine line = { .xs = xs, .ys = ys, .n = mode->n_line, .dashed = dashed, .faint = dashed };

  for (guint i = 0; i < mode->n_line; i++)
    ys[i] = which == 0 ? mode->line[i].share : which == 1 ? mode->line[i].low : mode->line[i].high;
  g_array_append_val (making->lines, line);
}

static void
add_mode (Making *making, const InsightLifeMode *mode, guint number, gboolean banded)
{
  struct ChartPlotShape shape = { shape_of (number), keep (making, g_strdup (name_of (mode))) };

  g_array_append_val (making->shapes, shape);
  for (guint i = 0; i < mode->n_points; i++)
    {
      g_autofree char *cycles = present_number (mode->points[i].cycles, 0);
      g_autofree char *share = present_number (100.0 * mode->points[i].share, 0);
      ChartPlotPoint point = { .x = mode->points[i].cycles,
                               .y = mode->points[i].share,
                               .shape = shape.shape,
                               .key = mode->points[i].unit };

      point.words = keep (making, g_strdup_printf (_("unit %s failed at %s cycles (%s): about %s in 100 by then"),
                                                   mode->points[i].serial, cycles, name_of (mode), share));
      g_array_append_val (making->points, point);
    }
  if (mode->n_line > 0)
    {
      double *xs = numbers (making, mode->n_line);

      for (guint i = 0; i < mode->n_line; i++)
        xs[i] = mode->line[i].cycles;
      add_line (making, mode, 0, xs, FALSE);
      for (guint which = 1; banded && which < 3; which++)
        add_line (making, mode, which, xs, TRUE);
    }
}

static void
add_stopped (Making *making, const InsightLife *life)
{
  for (guint i = 0; i < life->n_tests; i++)
    {
      const InsightLifeTest *test = &life->tests[i];
      g_autofree char *cycles = present_number (test->cycles, 0);
      ChartPlotPoint point = { .x = test->cycles, .y = NAN, .tick = TRUE, .key = test->unit };

      if (test->failed || test->counting != INSIGHT_COUNTS || test->again || test->short_load)
        continue;
      point.words = keep (making, g_strdup_printf (_("unit %s stopped at %s cycles without failing"), test->serial, cycles));
      g_array_append_val (making->points, point);
    }
}

/* Why there is no line, or not for all; NULL: there is one for each. */
static const char *
note_of (const InsightLife *life)
{
  guint lines = 0;

  for (guint i = 0; i < life->n_modes; i++)
    lines += life->modes[i].fitted;
  if (life->n == 0 || (lines == life->n_modes && lines > 0))
    return NULL;
  if (life->failed == 0)
    return _("No unit that counts has failed: there is no line.");
  return lines == 0 ? _("Fewer than three failures of one way: there is no line.")
                    : _("There is a line only for ways with three failures or more.");
}

/**
 * present_chart_life:
 * @life: the answer
 * @with_title: with a heading
 *
 * Returns: (transfer full): Weibull paper: failures by way, stopped units at its foot, line and band, and what is wanted; keys
 *   of marks are the units'
 */
Chart *
present_chart_life (const InsightLife *life, gboolean with_title)
{
  g_autoptr(PresentLife) words = present_life_new (life, NULL);
  Making making = making_new ();
  guint lines = 0;
  ChartPlot data = { .kind = "life",
                     .title = with_title && life->name != NULL ? life->name : NULL,
                     .empty = _("No unit that counts was cycled yet."),
                     .across = { CHART_PLOT_LOG, _("cycles") },
                     .up = { CHART_PLOT_WEIBULL, _("share failed") },
                     .wanted_x = NAN,
                     .wanted_y = NAN };

  for (guint i = 0; i < life->n_modes; i++)
    lines += life->modes[i].fitted;
  for (guint i = 0; i < life->n_modes; i++)
    add_mode (&making, &life->modes[i], i, lines <= 2);
  add_stopped (&making, life);
  data.note = note_of (life);
  if (life->n > 0 && !isnan (life->wanted_cycles) && life->share > 0.0 && life->share < 1.0)
    {
      data.wanted_x = life->wanted_cycles;
      data.wanted_y = 1.0 - life->share;
      data.wanted = _("wanted: at most so many");
    }
  return present_chart_say (making_end (&making, &data), words->headline, words->modes);
}

/* From one failure to all of them, by the law. */
static void
add_law (Making *making, const InsightLifeGrowth *growth)
{
  double *xs = numbers (making, INSIGHT_LIFE_LINE), *ys = numbers (making, INSIGHT_LIFE_LINE);
  double from = log (0.8 * growth->times[0]), to = log (growth->end);
  ChartPlotLine line = { .xs = xs, .ys = ys, .n = INSIGHT_LIFE_LINE };

  for (guint i = 0; i < INSIGHT_LIFE_LINE; i++)
    {
      double at = from + (to - from) * i / (INSIGHT_LIFE_LINE - 1.0);

      xs[i] = exp (at);
      ys[i] = growth->fit.lambda * exp (growth->fit.beta * at);
    }
  g_array_append_val (making->lines, line);
}

static const char *
round_of (const InsightLifeGrowth *growth, double time)
{
  for (guint i = 0; i < growth->n_rounds; i++)
    if (time <= growth->rounds[i].end)
      return growth->rounds[i].label;
  return "";
}

/**
 * present_chart_growth:
 * @life: the answer
 * @with_title: with a heading
 *
 * Returns: (transfer full): failures so far over all cycles so far, both by powers of ten; with the law where it may be said;
 *   keys of marks are the units'
 */
Chart *
present_chart_growth (const InsightLife *life, gboolean with_title)
{
  g_autoptr(PresentLife) words = present_life_new (life, NULL);
  const InsightLifeGrowth *growth = &life->growth;
  gboolean has_law = growth->state != INSIGHT_GROWTH_TOO_FEW && growth->state != INSIGHT_GROWTH_NOT_LAW;
  Making making = making_new ();
  ChartPlot data = { .kind = "growth",
                     .title = with_title && life->name != NULL ? life->name : NULL,
                     .empty = _("No unit has failed in a life test yet."),
                     .across = { CHART_PLOT_LOG, _("cycles of all units") },
                     .up = { CHART_PLOT_LOG, _("failures") },
                     .wanted_x = NAN,
                     .wanted_y = NAN };

  for (guint i = 0; i < growth->n; i++)
    {
      g_autofree char *cycles = present_number (growth->times[i], 0);
      ChartPlotPoint point = { .x = growth->times[i], .y = i + 1.0, .shape = CHART_SHAPE_DISC, .key = growth->units[i] };

      point.words = keep (&making, g_strdup_printf (_("failure %u: unit %s, after %s cycles of all units (round %s)"), i + 1,
                                                    growth->serials[i], cycles, round_of (growth, growth->times[i])));
      g_array_append_val (making.points, point);
    }
  if (growth->n > 0)
    {
      g_autofree char *all = present_number (growth->end, 0);
      ChartPlotPoint end = { .x = growth->end, .y = NAN, .tick = TRUE };

      end.words = keep (&making, g_strdup_printf (_("%s cycles of all units so far"), all));
      g_array_append_val (making.points, end);
    }
  if (has_law)
    add_law (&making, growth);
  else if (growth->n > 0)
    data.note = growth->state == INSIGHT_GROWTH_TOO_FEW ? _("Too few failures to tell whether they come more seldom.")
                                                        : _("The failures do not follow the law of growth: there is no line.");
  return present_chart_say (making_end (&making, &data), words->growth, words->rounds);
}
