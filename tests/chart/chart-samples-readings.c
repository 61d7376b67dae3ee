/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made-up readings as single values, as distributions and as a wall of small charts. */
#include "chart-samples.h"

#include "chart-distribution.h"
#include "chart-wall.h"

#include <math.h>

typedef struct
{
  GPtrArray  *texts;
  GRand      *rand;
  GArray     *readings;
  ChartRound *rounds;
} Making;

static void
making_init (Making *making, const Sample *sample)
{
  static const guint usual[] = { 1, 2, 6, 8, 10, 40, 60 };

  *making = (Making){ g_ptr_array_new_with_free_func (g_free), g_rand_new_with_seed (sample->seed),
                      g_array_new (FALSE, TRUE, sizeof (ChartReading)), g_new0 (ChartRound, sample->rounds + 1) };
  for (guint r = 0; r < sample->rounds; r++)
    {
      guint n = sample->units > 0 ? sample->units : usual[r % G_N_ELEMENTS (usual)];
      char *name = sample->long_names ? g_strnfill (200, 'r') : g_strdup_printf ("P%u", r + 1);
      char *count = g_strdup_printf ("%u of %u outside", n / 9, n);

      g_ptr_array_add (making->texts, name);
      g_ptr_array_add (making->texts, count);
      making->rounds[r] = (ChartRound){ .name = name, .count = count, .mean = NAN, .low = NAN, .high = NAN,
                                        .uncounted = 2 * r + 1 < sample->rounds, .current = r + 1 == sample->rounds };
      for (guint i = 0; i < n; i++)
        {
          double value = 12.0;
          ChartReading reading = { .round = r, .key = r * 1000000 + i };

          for (guint k = 0; k < 12; k++)
            value += 0.02 * (g_rand_double (making->rand) - 0.5);
          reading.value = value;
          if (value < 11.95 || value > 12.05)
            reading.flags |= CHART_READING_FAILED;
          if (i % 7 == 5)
            reading.flags |= CHART_READING_SIGNAL;
          if (2 * r + 1 < sample->rounds)
            reading.flags |= CHART_READING_UNCOUNTED;
          g_array_append_val (making->readings, reading);
        }
    }
}

static void
making_clear (Making *making)
{
  g_ptr_array_unref (making->texts);
  g_rand_free (making->rand);
  g_array_unref (making->readings);
  g_free (making->rounds);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Making, making_clear)

Chart *
sample_individuals (const Sample *sample)
{
  g_auto(Making) making = { 0 };
  const ChartLimit limit = { 0.0, 11.94, 12.06 };
  const ChartControl control = { 12.0, 11.95, 12.05, sample->units < 5, "centre 12.000", "lower control limit 11.950",
                                 "upper control limit 12.050" };
  ChartCharacteristic data = { .unit = "mm", .title = sample->titled ? "Single values" : NULL, .empty = "No reading yet.",
                               .lower_words = "lower limit 11.94", .upper_words = "upper limit 12.06", .decimals = 2,
                               .limits = &limit, .n_limits = 1, .heads = { "Round", "mm", "Reading" }, .control = &control };

  making_init (&making, sample);
  data.rounds = making.rounds;
  data.n_rounds = sample->rounds;
  data.readings = (const ChartReading *) (gpointer) making.readings->data;
  data.n_readings = making.readings->len;
  return chart_characteristic_new (&data);
}

Chart *
sample_distribution (const Sample *sample)
{
  g_auto(Making) making = { 0 };
  g_autofree ChartBox *boxes = g_new0 (ChartBox, sample->rounds + 1);
  ChartDistribution data = { .unit = "mm", .title = sample->titled ? "How values lie" : NULL, .empty = "No reading yet.",
                             .lower = 11.94, .upper = 12.06, .lower_words = "lower limit 11.94",
                             .upper_words = "upper limit 12.06", .decimals = 2, .heads = { "Round", "mm", "Reading" } };

  making_init (&making, sample);
  for (guint r = 0; r < sample->rounds; r++)
    boxes[r] = (ChartBox){ 11.93, 11.985, 12.0, 12.015, 12.07 };
  data.rounds = making.rounds;
  data.boxes = boxes;
  data.n_rounds = sample->rounds;
  data.readings = (const ChartReading *) (gpointer) making.readings->data;
  data.n_readings = making.readings->len;
  return chart_distribution_new (&data);
}

/* As many small charts as there are rounds in @sample, with as many values as these have readings. */
Chart *
sample_wall (const Sample *sample)
{
  g_auto(Making) making = { 0 };
  g_autofree ChartWallCell *cells = g_new0 (ChartWallCell, sample->rounds + 1);
  g_autofree ChartWallValue *values = NULL;
  guint next = 0;
  ChartWall data = { .title = sample->titled ? "All characteristics" : NULL, .empty = "No characteristic yet.", .cells = cells,
                     .n_cells = sample->rounds };

  making_init (&making, sample);
  values = g_new0 (ChartWallValue, making.readings->len + 1);
  for (guint i = 0; i < making.readings->len; i++)
    {
      const ChartReading *reading = &g_array_index (making.readings, ChartReading, i);

      values[i] = (ChartWallValue){ reading->value, reading->flags };
    }
  for (guint r = 0; r < sample->rounds; r++)
    {
      cells[r] = (ChartWallCell){ .name = making.rounds[r].name, .figure = making.rounds[r].count, .open = r < 2,
                                  .checked = r % 5 == 4, .lower = 11.94, .upper = r % 3 == 0 ? (double) INFINITY : 12.06,
                                  .control_lower = 11.95, .control_upper = 12.05, .values = values + next, .key = r + 1 };
      while (next < making.readings->len && g_array_index (making.readings, ChartReading, next).round == r)
        {
          cells[r].n_values++;
          next++;
        }
    }
  return chart_wall_new (&data);
}
