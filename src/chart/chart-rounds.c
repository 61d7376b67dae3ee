/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-rounds-private.h"

#include <math.h>

#define UNCOUNTED_ALPHA 0.42

/* Copies what the caller gave and makes the readings the marks of @chart. Readings of no round are kept but not
 * drawn. */
void
chart_rounds_copy (ChartRounds *own,
                   Chart *chart,
                   const ChartRound *rounds,
                   guint n_rounds,
                   const ChartReading *readings)
{
  own->n_rounds = n_rounds;
  own->rounds = g_new0 (ChartRound, MAX (n_rounds, 1));
  own->counts = g_new0 (guint, MAX (n_rounds, 1));
  own->values = g_new (double, MAX (chart->n_marks, 1));
  own->flags = g_new (ChartReadingFlags, MAX (chart->n_marks, 1));

  for (guint i = 0; i < n_rounds; i++)
    {
      own->rounds[i] = rounds[i];
      own->rounds[i].name = chart_keep (chart, rounds[i].name);
      own->rounds[i].count = chart_keep (chart, rounds[i].count);
      own->rounds[i].short_count = chart_keep (chart, rounds[i].short_count);
    }
  for (guint i = 0; i < chart->n_marks; i++)
    {
      guint round = MIN (readings[i].round, n_rounds);

      own->values[i] = round < n_rounds ? readings[i].value : NAN;
      own->flags[i] = readings[i].flags;
      chart_set_mark (chart, i, round, readings[i].key, readings[i].words);
      if (round < n_rounds)
        own->counts[round]++;
    }
  chart_order_marks (chart, n_rounds + 1);
}

static void
fill_table (Chart *chart, gpointer user_data)
{
  const ChartRounds *own = user_data;

  for (guint i = 0; i < chart->n_marks; i++)
    {
      guint mark = chart->order[i];
      g_autofree char *value = own->with_values && isfinite (own->values[mark]) ? chart_number (own->values[mark], -1) : NULL;
      const char *round = chart->rounds[mark] < own->n_rounds ? own->rounds[chart->rounds[mark]].name : NULL;

      if (own->with_values)
        chart_table_add (chart, (const char *const[]){ round, value, chart->words[mark] });
      else
        chart_table_add (chart, (const char *const[]){ round, chart->words[mark] });
    }
}

/* Gives the chart the table of its readings, whose rows are made when somebody asks for them. */
void
chart_rounds_table (ChartRounds *own, Chart *chart, const ChartReadingHeads *heads, gboolean with_values)
{
  const ChartTableColumn columns[] = { { heads->round, FALSE }, { heads->value, TRUE }, { heads->words, FALSE } };
  const ChartTableColumn checked[] = { { heads->round, FALSE }, { heads->words, FALSE } };

  if (heads->round == NULL)
    return;
  own->with_values = with_values;
  chart_table_begin (chart, with_values ? columns : checked, with_values ? G_N_ELEMENTS (columns) : G_N_ELEMENTS (checked));
  chart_table_set_fill (chart, fill_table, own);
}

void
chart_rounds_clear (ChartRounds *own)
{
  g_clear_pointer (&own->rounds, g_free);
  g_clear_pointer (&own->counts, g_free);
  g_clear_pointer (&own->values, g_free);
  g_clear_pointer (&own->flags, g_free);
}

gboolean
chart_rounds_have_estimate (const ChartRounds *own)
{
  for (guint i = 0; i < own->n_rounds; i++)
    if (isfinite (own->rounds[i].mean))
      return TRUE;
  return FALSE;
}

/* A column a round. The width grows with the root of the number of units: sixty need more room than six, but
 * not ten times. */
ChartColumn *
chart_rounds_columns (const ChartRounds *own)
{
  ChartColumn *columns = g_new0 (ChartColumn, MAX (own->n_rounds, 1));

  for (guint i = 0; i < own->n_rounds; i++)
    {
      columns[i].name = own->rounds[i].name;
      columns[i].count = own->rounds[i].count;
      columns[i].short_count = own->rounds[i].short_count;
      columns[i].current = own->rounds[i].current;
      columns[i].weight = 3.0 + sqrt (own->counts[i]);
    }
  return columns;
}

ChartShape
chart_reading_shape (ChartReadingFlags flags, gboolean checked)
{
  gboolean failed = (flags & CHART_READING_FAILED) != 0;

  if (flags & CHART_READING_VOID)
    return CHART_SHAPE_VOID;
  if (!checked && (flags & CHART_READING_ABOVE))
    return failed ? CHART_SHAPE_ABOVE_FAILED : CHART_SHAPE_ABOVE;
  if (!checked && (flags & CHART_READING_BELOW))
    return failed ? CHART_SHAPE_BELOW_FAILED : CHART_SHAPE_BELOW;
  return failed ? CHART_SHAPE_DIAMOND : CHART_SHAPE_CIRCLE;
}

double
chart_reading_alpha (ChartReadingFlags flags)
{
  return flags & (CHART_READING_UNCOUNTED | CHART_READING_VOID) ? UNCOUNTED_ALPHA : 0.8;
}

/* Adds a round's estimate from @left to @right: a bar, and whiskers where it has an interval. */
void
chart_rounds_estimate (const ChartRounds *own,
                       guint round,
                       const ChartFrame *frame,
                       ChartScene *scene,
                       double left,
                       double right)
{
  const ChartRound *data = &own->rounds[round];
  double alpha = data->uncounted ? UNCOUNTED_ALPHA : 1.0;
  double x = chart_crisp ((left + right) / 2.0);
  double cap = CLAMP ((right - left) * 0.12, 2.0, 5.0);
  gboolean close = frame->slots[round].slot_right - frame->slots[round].slot_left
                   < 14.0; /* caps would run into each other */

  if (!isfinite (data->mean))
    return;

  if (isfinite (data->low) && isfinite (data->high))
    {
      double low = chart_frame_y (frame, data->low), high = chart_frame_y (frame, data->high);

      if (low - high >= 4.0) /* a shorter one is hidden by the bar anyway */
        {
          chart_scene_line (scene, "interval", CHART_TONE_COPPER, close ? 1.0 : 1.5, x, low, x, high)->alpha
              = alpha;
        }
      if (low - high >= 4.0 && !close)
        {
          chart_scene_line (scene, "interval", CHART_TONE_COPPER, 1.5, x - cap, low, x + cap, low)->alpha
              = alpha;
          chart_scene_line (scene, "interval", CHART_TONE_COPPER, 1.5, x - cap, high, x + cap, high)->alpha
              = alpha;
        }
    }
  {
    double y = chart_frame_y (frame, data->mean);

    chart_scene_line (scene, "estimate", CHART_TONE_COPPER, 3.0, left, y, right, y)->alpha = alpha;
  }
}
