/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-samples.h"

#include <math.h>
#include <string.h>

typedef struct
{
  GPtrArray *texts;
  GRand *rand;
} Making;

static gboolean is_pseudo;
static double factor = 1.0;

void
samples_set_pseudo (gboolean pseudo)
{
  is_pseudo = pseudo;
}

void
samples_set_factor (double by)
{
  factor = by;
}

static Making *
making_new (const Sample *sample)
{
  Making *making = g_new0 (Making, 1);

  making->texts = g_ptr_array_new_with_free_func (g_free);
  making->rand = g_rand_new_with_seed (sample->seed);
  return making;
}

static void
making_free (Making *making)
{
  g_ptr_array_unref (making->texts);
  g_rand_free (making->rand);
  g_free (making);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Making, making_free)

G_GNUC_PRINTF (2, 3)
static const char *
text (Making *making, const char *format, ...)
{
  va_list arguments;
  char *made;

  va_start (arguments, format);
  made = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_ptr_array_add (making->texts, made);
  return made;
}

/* As the pseudo-language writes it; figures and signs stay. */
static const char *
words (Making *making, const char *english)
{
  GString *text;
  gsize longer;

  if (!is_pseudo || english == NULL)
    return english;
  text = g_string_new ("[");
  for (const char *c = english; *c != '\0'; c++)
    switch (*c)
      {
      case 'a':
        g_string_append (text, "\303\245");
        break;
      case 'e':
        g_string_append (text, "\303\253");
        break;
      case 'o':
        g_string_append (text, "\303\266");
        break;
      case 'u':
        g_string_append (text, "\303\274");
        break;
      default:
        g_string_append_c (text, *c);
      }
  longer = strlen (english) / 3 + 1;
  for (gsize i = 0; i < longer; i++)
    g_string_append_c (text, '~');
  g_string_append_c (text, ']');
  g_ptr_array_add (making->texts, g_string_free (text, FALSE));
  return making->texts->pdata[making->texts->len - 1];
}

static const char *
round_name (Making *making, const Sample *sample, guint i)
{
  static const char *const usual[] = { "M1", "M2", "P1", "P2", "P3", "A", "B" };

  if (sample->long_names)
    {
      GString *name = g_string_new (NULL);

      while (name->len < 200)
        g_string_append_printf (name, "%s%u ", "round ", i);
      g_string_truncate (name, 200);
      g_ptr_array_add (making->texts, g_string_free (name, FALSE));
      return making->texts->pdata[making->texts->len - 1];
    }
  return sample->rounds == G_N_ELEMENTS (usual) ? usual[i] : text (making, "P%u", i + 1);
}

static guint
units_of (const Sample *sample, guint round)
{
  static const guint usual[] = { 1, 2, 6, 8, 10, 40, 60 };

  return sample->units > 0 ? sample->units : usual[round % G_N_ELEMENTS (usual)];
}

/* Roughly normal: the sum of twelve uniform numbers. */
static double
normal (GRand *rand)
{
  double sum = -6.0;

  for (guint i = 0; i < 12; i++)
    sum += g_rand_double (rand);
  return sum;
}

Chart *
sample_characteristic (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  g_autofree ChartRound *rounds = g_new0 (ChartRound, sample->rounds + 1);
  g_autoptr(GArray) readings = g_array_new (FALSE, TRUE, sizeof (ChartReading));
  ChartLimit limits[] = { { 0.0, 11.93, 12.07 }, { (sample->rounds + 1) / 2, 11.95, 12.05 } };
  ChartCharacteristic data = { .unit = "mm",
                               .title = sample->titled ? words (making, "Lever height through the rounds") : NULL,
                               .empty = words (making, "No reading of this characteristic yet."),
                               .lower_words = words (making, "lower limit 11.95"),
                               .upper_words = words (making, "upper limit 12.05"),
                               .decimals = 2,
                               .heads = { "Round", "mm", "Reading" },
                               .limits = limits,
                               .n_limits = G_N_ELEMENTS (limits),
                               .rounds = rounds,
                               .n_rounds = sample->rounds };

  for (guint r = 0; r < sample->rounds; r++)
    {
      guint n = units_of (sample, r);
      double middle = 11.97 + 0.03 * (1.0 - exp (-(r + 1.0) / 2.5)) + 0.004 * normal (making->rand);

      for (guint i = 0; i < n; i++)
        {
          ChartReading reading
              = { r, middle + 0.016 * normal (making->rand), CHART_READING_PLAIN, r * 1000000 + i, NULL };
          double lower = limits[r >= limits[1].from].lower, upper = limits[r >= limits[1].from].upper;

          if (reading.value < lower || reading.value > upper)
            reading.flags |= CHART_READING_FAILED;
          if (n > 3 && i == 3 && r % 2 == 1)
            reading = (ChartReading){ r, 1.2 * reading.value, CHART_READING_VOID, r * 1000000 + i, NULL };
          if (r * 2 < sample->rounds - 1)
            reading.flags |= CHART_READING_UNCOUNTED;
          if (n > 5 && i == 5 && r % 3 == 2)
            reading.flags |= CHART_READING_ABOVE;
          reading.words = n > 1000 ? NULL : text (making, "P%u-%02u: %.3f mm", r + 1, i + 1, reading.value);
          g_array_append_val (readings, reading);
        }
      rounds[r] = (ChartRound){ round_name (making, sample, r),
                                words (making, text (making, "n %u", n)),
                                middle + 0.016 / sqrt (n) * normal (making->rand) / 2.0,
                                NAN,
                                NAN,
                                r * 2 < sample->rounds - 1,
                                r + 1 == sample->rounds,
                                NULL };
      if (n > 1)
        {
          rounds[r].low = rounds[r].mean - 0.016 * 2.0 / sqrt (n);
          rounds[r].high = rounds[r].mean + 0.016 * 2.0 / sqrt (n);
        }
    }
  if (sample->rounds > 0)
    data.mean_words = text (making,
                            "mean of %s %.3f",
                            sample->long_names ? "the newest round" : rounds[sample->rounds - 1].name,
                            rounds[sample->rounds - 1].mean);
  for (guint i = 0; i < readings->len; i++)
    g_array_index (readings, ChartReading, i).value *= factor;
  for (guint r = 0; r < sample->rounds; r++)
    {
      const double low = rounds[r].low * factor, high = rounds[r].high * factor;

      rounds[r].mean *= factor;
      rounds[r].low = factor < 0.0 ? high : low;
      rounds[r].high = factor < 0.0 ? low : high;
    }
  for (guint i = 0; i < G_N_ELEMENTS (limits); i++)
    limits[i] = (ChartLimit){ limits[i].from, factor * (factor < 0.0 ? limits[i].upper : limits[i].lower),
                              factor * (factor < 0.0 ? limits[i].lower : limits[i].upper) };
  data.readings = (const ChartReading *) (gpointer) readings->data;
  data.n_readings = readings->len;
  return chart_characteristic_new (&data);
}

Chart *
sample_checked (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  g_autofree ChartRound *rounds = g_new0 (ChartRound, sample->rounds + 1);
  g_autoptr(GArray) readings = g_array_new (FALSE, TRUE, sizeof (ChartReading));
  ChartChecked data = { .scale_words = "failed, %",
                        .title = sample->titled ? words (making, "Lever sticks") : NULL,
                        .empty = words (making, "This was not checked yet."),
                        .tolerated = 0.05,
                        .tolerated_words = "at most 5 %",
                        .heads = { "Round", NULL, "Check" },
                        .rounds = rounds,
                        .n_rounds = sample->rounds };

  for (guint r = 0; r < sample->rounds; r++)
    {
      guint n = units_of (sample, r), failed = 0;

      for (guint i = 0; i < n; i++)
        {
          ChartReading reading = { r, NAN, CHART_READING_PLAIN, r * 1000000 + i, NULL };

          if (g_rand_double (making->rand) < 0.4 / (r + 1.0))
            reading.flags |= CHART_READING_FAILED;
          if (n > 7 && i == 7 && r % 2 == 1)
            reading.flags = CHART_READING_VOID;
          if (r * 2 < sample->rounds - 1)
            reading.flags |= CHART_READING_UNCOUNTED;
          failed += (reading.flags & CHART_READING_FAILED) != 0;
          g_array_append_val (readings, reading);
        }
      rounds[r] = (ChartRound){ round_name (making, sample, r),
                                words (making, text (making, "%u of %u failed", failed, n)),
                                (double) failed / n,
                                MAX ((double) failed / n - 0.9 / sqrt (n), 0.0),
                                MIN ((double) failed / n + 0.9 / sqrt (n), 1.0),
                                r * 2 < sample->rounds - 1,
                                r + 1 == sample->rounds,
                                text (making, "%u/%u", failed, n) };
    }
  data.readings = (const ChartReading *) (gpointer) readings->data;
  data.n_readings = readings->len;
  return chart_checked_new (&data);
}

/* Issues are found through all rounds, and shown to be solved later, until one comes back. */
Chart *
sample_issues (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  guint n = 4 * sample->rounds;
  g_autofree ChartIssuesRound *rounds = g_new0 (ChartIssuesRound, sample->rounds + 1);
  g_autofree ChartIssuesPoint *points = g_new0 (ChartIssuesPoint, n + 1);
  ChartIssues data = { .title = sample->titled ? words (making, "Issues found and solved") : NULL,
                       .empty = words (making, "No issue yet."),
                       .found_name = words (making, "found"),
                       .shown_name = words (making, "solved"),
                       .rounds = rounds,
                       .n_rounds = sample->rounds,
                       .points = points,
                       .n_points = n,
                       .end = sample->rounds };
  guint found = 0, shown = 0;

  for (guint r = 0; r < sample->rounds; r++)
    rounds[r] = (ChartIssuesRound){ round_name (making, sample, r), g_rand_double_range (making->rand, 10.0, 60.0),
                                    r + 1 == sample->rounds };
  for (guint i = 0; i < n; i++)
    {
      if (i % 4 == 3 && i + 1 == n && shown > 0)
        shown--;
      else if (i % 3 == 2 && shown < found)
        shown++;
      else
        found++;
      points[i] = (ChartIssuesPoint){ i / 4 + (i % 4 + 0.5) / 4.0, found, shown, i, text (making, "%u found, %u solved", found, shown) };
    }
  return chart_issues_new (&data);
}

Chart *
sample_score (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  g_autofree ChartScoreRound *rounds = g_new0 (ChartScoreRound, sample->rounds + 1);
  g_autofree double *scores = g_new (double, 3 * (sample->rounds + 1));
  ChartScoreClass classes[] = { { words (making, "safety"), scores },
                                { words (making, "function"), scores + sample->rounds },
                                { words (making, "appearance"), scores + 2 * sample->rounds } };
  ChartScore data = { .title = sample->titled ? words (making, "Readiness through the rounds") : NULL,
                      .empty = words (making, "No criterion yet."),
                      .name = words (making, "score"),
                      .rounds = rounds,
                      .n_rounds = sample->rounds,
                      .classes = classes,
                      .n_classes = G_N_ELEMENTS (classes) };

  for (guint r = 0; r < sample->rounds; r++)
    {
      double least = 100.0;

      for (guint c = 0; c < 3; c++)
        {
          double drawn = 94.0 * (r + 1.0) / sample->rounds - 9.0 * c * normal (making->rand) / 2.0 + 5.0 * c;
          double score = CLAMP (drawn, 0.0, 99.0);

          scores[c * sample->rounds + r] = c == 2 && r == 0 ? NAN : score;
          least = MIN (least, score);
        }
      rounds[r] = (ChartScoreRound){ round_name (making, sample, r),
                                     words (making, text (making, "%u of 34 met", (guint) (least / 3.0))),
                                     floor (least),
                                     r,
                                     NULL,
                                     r + 1 == sample->rounds,
                                     text (making, "%u/34", (guint) (least / 3.0)) };
    }
  return chart_score_new (&data);
}

Chart *
sample_strip (const Sample *sample)
{
  static const char *const verdicts[] = { "go on", "another round", "go on", "another round" };
  g_autoptr(Making) making = making_new (sample);
  g_autofree ChartStripRound *rounds = g_new0 (ChartStripRound, sample->rounds + 1);
  ChartStrip data = { .empty = words (making, "No round yet: plan the first one."),
                      .rounds = rounds,
                      .n_rounds = sample->rounds,
                      .phase_names = { words (making, "design"), words (making, "wait"), words (making, "make"), words (making, "test"),
                                       words (making, "decide") },
                      .show_issues = TRUE };

  for (guint r = 0; r < sample->rounds; r++)
    {
      gboolean last = r + 1 == sample->rounds;
      double size = 0.3 + 0.7 * (r + 1.0) / sample->rounds;

      rounds[r].name = round_name (making, sample, r);
      rounds[r].units = words (making, text (making, units_of (sample, r) == 1 ? "%u unit" : "%u units", units_of (sample, r)));
      rounds[r].verdict = words (making, last ? "open" : verdicts[r % G_N_ELEMENTS (verdicts)]);
      rounds[r].unfinished = last;
      rounds[r].overlaps = r % 3 == 2;
      for (guint p = 0; p < (last ? CHART_N_PHASES - 1 : CHART_N_PHASES); p++)
        rounds[r].days[p] = size
                            * g_rand_double_range (
                                making->rand, 2.0, p == CHART_PHASE_WAIT || p == CHART_PHASE_MAKE ? 16.0 : 8.0);
      rounds[r].found = last ? 2 : r % 2;
      rounds[r].not_again = last ? 1 : 0;
      rounds[r].shown = MIN (r, 4);
      rounds[r].key = r;
    }
  return chart_strip_new (&data);
}

/* A side of @n units around @mean. */
static ChartEffectSide
effect_side (Making *making, GArray *units, const char *name, guint n, double mean, double sd)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    {
      double value = mean + sd * normal (making->rand);
      ChartEffectUnit unit = { value, i % 7 == 6, i, text (making, "%s-%02u: %.1f N", name, i + 1, value) };

      sum += value;
      g_array_append_val (units, unit);
    }
  return (ChartEffectSide){ name, text (making, "%u: %.1f N", n, sum / n), sum / n, NULL, n };
}

/* Rows stand for characteristics, every fourth of them checked: shares without dots. */
Chart *
sample_effect (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  g_autoptr(GArray) units = g_array_new (FALSE, FALSE, sizeof (ChartEffectUnit));
  g_autofree ChartEffectRow *rows = g_new0 (ChartEffectRow, sample->rounds + 1);
  g_autofree guint *first = g_new0 (guint, 2 * sample->rounds + 1);
  ChartEffect data = { .title = sample->titled ? words (making, "What the changes did") : NULL,
                       .legend = "old units above, new ones below, then the difference with its 95 % interval",
                       .empty = words (making, "Nothing that changed was measured."),
                       .rows = rows,
                       .n_rows = sample->rounds };

  for (guint r = 0; r < sample->rounds; r++)
    {
      gboolean checked = r % 4 == 3;
      double sd = pow (10.0, r % 3) * fabs (factor), shift = sd * 2.0 * normal (making->rand);
      double half = sd * 2.1 / sqrt (units_of (sample, r) + 1.0) + sd / 5.0;

      rows[r].name = sample->long_names ? round_name (making, sample, r) : words (making, text (making, "C%u: Load at slip", r + 1));
      rows[r].note = words (making, r % 2 ? "within P3: Lock spring B, C" : "rounds P2, P3");
      rows[r].low = rows[r].high = NAN;
      rows[r].key = 1000 + r;
      rows[r].words = text (making, "difference %u", r);
      if (checked)
        {
          rows[r].before = (ChartEffectSide){ "P2", words (making, "5 of 8 failed"), 0.625, NULL, 0 };
          rows[r].after = (ChartEffectSide){ "P3", words (making, "0 of 10 failed"), 0.0, NULL, 0 };
          rows[r].low = -0.86;
          rows[r].high = -0.20;
          rows[r].told_apart = TRUE;
          rows[r].figure = words (making, "-62 % points (-86 to -20 % points)");
          continue;
        }
      first[2 * r] = units->len;
      rows[r].before = effect_side (making, units, "P2", units_of (sample, r), 10.0 * sd, sd);
      first[2 * r + 1] = units->len;
      rows[r].after = effect_side (making, units, "P3", units_of (sample, r) + 2, 10.0 * sd + shift, sd);
      if (r % 5 == 2)
        continue; /* too few for an interval */
      rows[r].low = rows[r].after.mean - rows[r].before.mean - half;
      rows[r].high = rows[r].low + 2.0 * half;
      rows[r].told_apart = rows[r].low > 0.0 || rows[r].high < 0.0;
      rows[r].figure = text (making, "%+.1f N (%.1f to %.1f N)", rows[r].low + half, rows[r].low, rows[r].high);
    }
  for (guint r = 0; r < sample->rounds; r++)
    if (rows[r].before.n > 0)
      {
        rows[r].before.units = &g_array_index (units, ChartEffectUnit, first[2 * r]);
        rows[r].after.units = &g_array_index (units, ChartEffectUnit, first[2 * r + 1]);
      }
  return chart_effect_new (&data);
}

/* Rows of parts, as of days: the last one open; every fifth without any part. */
Chart *
sample_rows (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  const ChartRowsPart parts[] = { { words (making, "design"), CHART_HATCH_LINES },
                                  { words (making, "waiting"), CHART_HATCH_BLANK },
                                  { words (making, "making"), CHART_HATCH_DARK },
                                  { words (making, "testing"), CHART_HATCH_DOTS },
                                  { words (making, "deciding"), CHART_HATCH_GREY } };
  g_autofree ChartRow *rows = g_new0 (ChartRow, sample->rounds + 1);
  g_autofree double *days = g_new0 (double, sample->rounds * G_N_ELEMENTS (parts) + 1);
  ChartRows data = { .kind = "leadtime",
                     .title = sample->titled ? words (making, "Where the days went") : NULL,
                     .empty = words (making, "No round has two dates yet."),
                     .scale = words (making, "working days"),
                     .most = NAN,
                     .parts = parts,
                     .n_parts = G_N_ELEMENTS (parts),
                     .rows = rows,
                     .n_rows = sample->rounds };

  for (guint r = 0; r < sample->rounds; r++)
    {
      double sum = 0.0;

      for (guint i = 0; r % 5 != 4 && i < G_N_ELEMENTS (parts); i++)
        sum += days[r * G_N_ELEMENTS (parts) + i] = fabs (factor) * floor (g_rand_double_range (making->rand, 0.0, 16.0 * (1 + r % 3)));
      rows[r] = (ChartRow){ .name = round_name (making, sample, r),
                            .note = r % 2 ? words (making, "prototype") : NULL,
                            .figure = words (making, text (making, "%.0f days", sum)),
                            .parts = &days[r * G_N_ELEMENTS (parts)],
                            .value = NAN, .low = NAN, .high = NAN, .range_low = NAN, .range_high = NAN,
                            .open = r + 1 == sample->rounds,
                            .apart = r == 3,
                            .key = 10 + r,
                            .words = text (making, "round %u", r) };
    }
  return chart_rows_new (&data);
}

/* Rows of estimates with intervals, as of steps; the last one is their product. Extremes: 0 of 1, all of many. */
Chart *
sample_yields (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  g_autofree ChartRow *rows = g_new0 (ChartRow, sample->rounds + 1);
  ChartRows data = { .kind = "yield",
                     .title = sample->titled ? words (making, "Yield by step") : NULL,
                     .empty = words (making, "Nothing was counted yet."),
                     .scale = "%",
                     .most = 100.0,
                     .rows = rows,
                     .n_rows = sample->rounds };

  for (guint r = 0; r < sample->rounds; r++)
    {
      double share = r % 6 == 4 ? 0.0 : r % 6 == 5 ? 100.0 : g_rand_double_range (making->rand, 60.0, 99.0);
      double half = 180.0 / sqrt (units_of (sample, r) + 1.0);

      rows[r] = (ChartRow){ .name = round_name (making, sample, r),
                            .figure = text (making, "%.0f %% of %u", share, units_of (sample, r)),
                            .value = r % 7 == 6 ? (double) NAN : share,
                            .low = MAX (share - half / 4.0, 0.0),
                            .high = MIN (share + half / 4.0, 100.0),
                            .range_low = r % 3 ? (double) NAN : share,
                            .range_high = r % 3 ? (double) NAN : MIN (share + 9.0, 100.0),
                            .strong = r + 1 == sample->rounds,
                            .apart = r + 1 == sample->rounds,
                            .key = 20 + r,
                            .words = text (making, "step %u", r) };
    }
  return chart_rows_new (&data);
}

/* Lives on Weibull paper: rounds stand for ways of failing, the seed says whether all are huge, tiny or usual. */
Chart *
sample_plot (const Sample *sample)
{
  g_autoptr(Making) making = making_new (sample);
  const struct ChartPlotShape shapes[] = { { CHART_SHAPE_DISC, words (making, "spring breaks") },
                                           { CHART_SHAPE_DIAMOND_OPEN, words (making, "lever sticks") } };
  guint n = sample->rounds * units_of (sample, 2);
  g_autofree ChartPlotPoint *points = g_new0 (ChartPlotPoint, n + 1);
  double scale = fabs (factor) * pow (10.0, (double) (sample->seed % 5) * 3.0 - 4.0);
  double xs[40], ys[40], low[40];
  ChartPlotLine lines[] = { { xs, ys, G_N_ELEMENTS (xs), FALSE, FALSE, words (making, "fitted") },
                            { xs, low, G_N_ELEMENTS (xs), TRUE, TRUE, words (making, "90 % band") } };
  g_autofree ChartPlotUpright *uprights = g_new0 (ChartPlotUpright, sample->rounds + 1);
  ChartPlot data = { .kind = "life",
                     .title = sample->titled ? words (making, "Lives of the lever") : NULL,
                     .empty = words (making, "No unit was cycled yet."),
                     .note = sample->titled ? words (making, "With two failures there is no line.") : NULL,
                     .across = { CHART_PLOT_LOG, words (making, "cycles") },
                     .up = { sample->seed % 2 ? CHART_PLOT_WEIBULL : CHART_PLOT_LINEAR, words (making, "share failed") },
                     .points = points,
                     .n_points = n,
                     .lines = lines,
                     .n_lines = n > 3 ? G_N_ELEMENTS (lines) : 0,
                     .wanted_x = 3.0 * scale,
                     .wanted_y = 0.1,
                     .wanted = words (making, "wanted"),
                     .shapes = shapes,
                     .n_shapes = G_N_ELEMENTS (shapes),
                     .tick_name = words (making, "stopped"),
                     .uprights = uprights,
                     .n_uprights = sample->units == 0 ? sample->rounds : 0 };

  for (guint r = 0; r < sample->rounds; r++)
    uprights[r] = (ChartPlotUpright){ scale * pow (1.5, r - 3.0), round_name (making, sample, r) };
  for (guint i = 0; i < n; i++)
    points[i] = (ChartPlotPoint){ .x = scale * pow (-log (g_rand_double_range (making->rand, 0.0001, 0.9999)), 0.5),
                                  .y = (i + 0.7) / (n + 0.4),
                                  .shape = i % 2 ? CHART_SHAPE_DISC : CHART_SHAPE_DIAMOND_OPEN,
                                  .tick = i % 4 == 3,
                                  .key = 30 + i,
                                  .words = text (making, "unit %u", i) };
  for (guint i = 0; i < G_N_ELEMENTS (xs); i++)
    {
      xs[i] = scale * pow (10.0, (double) i / 10.0 - 2.0);
      ys[i] = -expm1 (-pow (xs[i] / scale, 2.0));
      low[i] = -expm1 (-pow (xs[i] / scale / 2.0, 2.0));
    }
  return chart_plot_new (&data);
}
