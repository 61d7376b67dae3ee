/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fills the structs of src/chart. All strings of one chart live in a chunk until the chart has made its copy. */

#include "config.h"

#include "present-chart-private.h"

#include "chart-characteristic.h"
#include "chart-score.h"
#include "chart-strip.h"
#include "chart-table.h"
#include "present-leadtime.h"
#include "present-number.h"
#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *
keep (GStringChunk *strings, char *text)
{
  const char *kept = *text == '\0' ? NULL : g_string_chunk_insert_const (strings, text);

  g_free (text);
  return kept;
}

static void
append_part (GString *words, const char *part)
{
  if (part != NULL && *part != '\0')
    g_string_append_printf (words, ", %s", part);
}

static char *
value_words (const InsightSeries *series, const InsightMark *mark)
{
  g_autofree char *value = NULL;

  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    return g_strdup (mark->verdict == INSIGHT_INSIDE ? _("passed") : _("failed"));
  value = present_value (mark->value, series->decimals, series->unit);
  if (mark->mark == BOOK_MARK_ABOVE)
    return g_strdup_printf (_("above %s"), value);
  if (mark->mark == BOOK_MARK_BELOW)
    return g_strdup_printf (_("below %s"), value);
  return g_steal_pointer (&value);
}

/**
 * present_mark_words:
 * @series: a characteristic through the rounds
 * @mark: index of a mark
 *
 * Returns: (transfer full): one line: 'P3-04: 12.031 mm, outside, 2026-05-03'
 */
char *
present_mark_words (const InsightSeries *series, guint mark)
{
  const InsightMark *m = &series->marks[mark];
  g_autofree char *value = value_words (series, m);
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, "%s: %s", m->serial, value);
  if (series->kind != BOOK_CHARACTERISTIC_CHECKED && m->verdict != INSIGHT_INSIDE)
    append_part (words, present_verdict_words (m->verdict));
  if (m->repeats > 1)
    {
      g_autofree char *repeats = g_strdup_printf (ngettext ("%u repeat", "%u repeats", m->repeats), m->repeats);

      append_part (words, repeats);
    }
  if (m->attempt > 1)
    {
      g_autofree char *attempt = g_strdup_printf (_("attempt %u"), m->attempt);

      append_part (words, attempt);
    }
  if (m->counting != INSIGHT_COUNTS)
    append_part (words, present_counting_words (m->counting));
  if (m->lot != NULL && *m->lot != '\0')
    {
      g_autofree char *lot = g_strdup_printf (_("lot %s"), m->lot);

      append_part (words, lot);
    }
  append_part (words, m->date);
  return g_string_free (words, FALSE);
}

/* What the shape of a mark tells. */
ChartReadingFlags
present_reading_flags (const InsightMark *mark)
{
  ChartReadingFlags flags = CHART_READING_PLAIN;

  if (mark->verdict == INSIGHT_OUTSIDE || mark->verdict == INSIGHT_UNDECIDABLE)
    flags |= CHART_READING_FAILED;
  if (mark->counting == INSIGHT_NOT_VOIDED)
    flags |= CHART_READING_VOID;
  else if (mark->counting != INSIGHT_COUNTS)
    flags |= CHART_READING_UNCOUNTED;
  if (mark->mark == BOOK_MARK_ABOVE)
    flags |= CHART_READING_ABOVE;
  if (mark->mark == BOOK_MARK_BELOW)
    flags |= CHART_READING_BELOW;
  return flags;
}

static ChartReading *
make_readings (const InsightSeries *series, GStringChunk *strings)
{
  ChartReading *readings = g_new0 (ChartReading, series->n_marks + 1);

  for (guint i = 0; i < series->n_marks; i++)
    {
      const InsightMark *mark = &series->marks[i];

      readings[i].round = mark->round;
      readings[i].value = mark->value;
      readings[i].flags = present_reading_flags (mark);
      readings[i].key = mark->reading;
      readings[i].words = keep (strings, present_mark_words (series, i));
    }
  return readings;
}

static char *
count_words (const InsightSeries *series, const InsightSeriesRound *round)
{
  if (round->n == 0)
    return g_strdup ("");
  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    /* Translators: stands below a round of a chart: how many units of how many failed */
    return g_strdup_printf (_("%u of %u failed"), round->failed, round->n);
  return g_strdup_printf (_("n %u"), round->n);
}

static ChartRound *
make_rounds (const InsightSeries *series, GStringChunk *strings)
{
  ChartRound *rounds = g_new0 (ChartRound, series->n_rounds + 1);

  for (guint i = 0; i < series->n_rounds; i++)
    {
      const InsightSeriesRound *round = &series->rounds[i];

      rounds[i].name = round->label;
      rounds[i].count = keep (strings, count_words (series, round));
      rounds[i].mean = round->mean;
      rounds[i].low = round->low;
      rounds[i].high = round->high;
      rounds[i].uncounted = round->no_longer;
      rounds[i].current = round->current;
    }
  return rounds;
}

/* "{limit}" in @format becomes the limit; "" for none. */
char *
present_limit_words (double limit, const char *format)
{
  g_autofree char *value = NULL;
  g_autoptr(GString) words = NULL;

  if (!isfinite (limit))
    return g_strdup ("");
  value = present_number (limit, -1);
  words = g_string_new (format);
  g_string_replace (words, "{limit}", value, 1);
  return g_strdup (words->str);
}

/* The newest round with a unit that was measured; NULL: there is none. */
static const InsightSeriesRound *
last_measured (const InsightSeries *series)
{
  const InsightSeriesRound *last = NULL;

  for (guint i = 0; i < series->n_rounds; i++)
    if (series->rounds[i].n > 0)
      last = &series->rounds[i];
  return last;
}

static Chart *
new_measured (const InsightSeries *series, gboolean with_title, GStringChunk *strings)
{
  g_autofree ChartReading *readings = make_readings (series, strings);
  g_autofree ChartRound *rounds = make_rounds (series, strings);
  g_autofree ChartLimit *limits = g_new0 (ChartLimit, series->n_limits + 1);
  const InsightSeriesRound *last = last_measured (series);
  ChartCharacteristic data = { 0 };

  for (guint i = 0; i < series->n_limits; i++)
    {
      limits[i].from = series->limits[i].from;
      limits[i].lower = series->limits[i].lower;
      limits[i].upper = series->limits[i].upper;
    }

  data.heads = (ChartReadingHeads) { _("Round"), *series->unit == '\0' ? _("Value") : series->unit, _("Reading") };
  data.title = with_title ? series->name : NULL;
  data.unit = *series->unit == '\0' ? NULL : series->unit;
  data.empty = _("No unit was measured yet.");
  data.decimals = series->decimals;
  data.rounds = rounds;
  data.n_rounds = series->n_rounds;
  data.readings = readings;
  data.n_readings = series->n_marks;
  data.limits = limits;
  data.n_limits = series->n_limits;
  if (series->n_limits > 0)
    {
      const InsightSeriesLimit *newest = &series->limits[series->n_limits - 1];

      data.lower_words = keep (strings, present_limit_words (newest->lower, _("lower limit {limit}")));
      data.upper_words = keep (strings, present_limit_words (newest->upper, _("upper limit {limit}")));
    }
  if (last != NULL)
    {
      g_autofree char *mean = present_number (last->mean, series->decimals < 0 ? -1 : series->decimals + 1);

      /* Translators: label at a round's mean: name of the round, its mean */
      data.mean_words = keep (strings, g_strdup_printf (_("mean of %s %s"), last->label, mean));
    }
  return chart_characteristic_new (&data);
}

static Chart *
new_checked (const InsightSeries *series, gboolean with_title, GStringChunk *strings)
{
  g_autofree ChartReading *readings = make_readings (series, strings);
  g_autofree ChartRound *rounds = make_rounds (series, strings);
  ChartChecked data = { 0 };

  data.heads = (ChartReadingHeads) { _("Round"), NULL, _("Check") };
  data.title = with_title ? series->name : NULL;
  /* Translators: heading of a scale of percentages */
  data.scale_words = _("failed, %");
  data.empty = _("No unit was checked yet.");
  data.tolerated = series->tolerated;
  if (!isnan (series->tolerated))
    {
      g_autofree char *share = present_failing_share (series->tolerated);

      data.tolerated_words = keep (strings, g_strdup_printf (_("at most %s"), share));
    }
  data.rounds = rounds;
  data.n_rounds = series->n_rounds;
  data.readings = readings;
  data.n_readings = series->n_marks;
  return chart_checked_new (&data);
}

/**
 * present_chart_characteristic:
 * @series: a characteristic through the rounds
 * @with_title: draw its name above
 *
 * Returns: (transfer full): the drawing; its marks are the series' marks, keyed by reading
 */
Chart *
present_chart_characteristic (const InsightSeries *series, gboolean with_title)
{
  GStringChunk *strings = g_string_chunk_new (4096);
  Chart *chart = series->kind == BOOK_CHARACTERISTIC_CHECKED ? new_checked (series, with_title, strings)
                                                             : new_measured (series, with_title, strings);
  g_autofree char *sentence = present_series_words (series);

  chart_set_summary (chart, sentence);
  g_string_chunk_free (strings);
  return chart;
}

/* 'Mean 13.22 N (95 % interval 13.01 to 13.44 N).' or 'Failing share 0.8 % to 8.9 %'; NULL without data. */
static char *
estimate_sentence (const InsightSeries *series)
{
  const int decimals = series->decimals < 0 ? -1 : series->decimals + 1;
  g_autofree char *mean = NULL;
  g_autofree char *interval = NULL;

  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    {
      g_autofree char *low = present_number (100.0 * series->low, 1);
      g_autofree char *high = present_number (100.0 * series->high, 1);

      if (series->n == 0 || isnan (series->low))
        return NULL;
      return g_strdup_printf (_("The failing share lies between %s and %s %% (95 %% interval)."), low, high);
    }
  if (isnan (series->mean))
    return NULL;
  mean = present_value (series->mean, decimals, series->unit);
  if (isnan (series->low))
    return g_strdup_printf (_("The value is %s."), mean);
  interval = present_interval (series->low, series->high, decimals, series->unit);
  return g_strdup_printf (_("The mean is %s (95 %% interval %s)."), mean, interval);
}

/* The chart draws what was found in a round, the sentence what counts: where these differ in the newest round it is said. */
static void
add_of_round (GString *words, const InsightSeries *series)
{
  const InsightSeriesRound *last = last_measured (series);

  if (series->kind != BOOK_CHARACTERISTIC_CHECKED && last != NULL && last->counted < last->n)
    g_string_append_printf (words, ngettext (" In the chart the mean of round %s is that of the %u unit measured in it, counting or not.",
                                             " In the chart the mean of round %s is that of all %u units measured in it, counting or not.",
                                             last->n),
                            last->label, last->n);
}

/**
 * present_series_words:
 * @series: a characteristic through the rounds
 *
 * Returns: (transfer full): the chart in two or three sentences: units, estimate with its interval, limits, and how many
 *   units no longer count
 */
char *
present_series_words (const InsightSeries *series)
{
  GString *words = g_string_new (NULL);
  g_autofree char *estimate = estimate_sentence (series);
  guint measured = 0;

  g_string_append_printf (words, ngettext ("%u unit counts.", "%u units count.", series->n), series->n);
  if (series->n > 0 && series->failed == 0)
    g_string_append_printf (words, " %s", _("None of them fails."));
  else if (series->failed > 0)
    g_string_append_printf (words, ngettext (" %u of them fails.", " %u of them fail.", series->failed), series->failed);
  if (estimate != NULL)
    g_string_append_printf (words, " %s", estimate);
  if (series->now >= 0)
    {
      const InsightSeriesLimit *limit = &series->limits[series->now];
      g_autofree char *limits = present_limits (limit->lower, limit->upper, series->decimals, series->unit);

      g_string_append_printf (words, _(" Limits: %s."), limits);
    }
  for (guint i = 0; i < series->n_rounds; i++)
    measured += series->rounds[i].n;
  if (measured > series->n)
    g_string_append_printf (words, ngettext (" %u more unit was measured that does not count.",
                                             " %u more units were measured that do not count.", measured - series->n),
                            measured - series->n);
  add_of_round (words, series);
  return g_string_free (words, FALSE);
}

static double
score_of (const InsightScore *score)
{
  return score->percent < 0 ? NAN : score->percent;
}

/* Without a safety criterion nobody may read 'met' as more than it is: then no count stands below the round. */
static void
fill_score_round (ChartScoreRound *round, const InsightCoursePoint *point, gint64 current, GStringChunk *strings)
{
  const gboolean has_safety = point->classes[0].percent >= 0;

  round->name = point->label;
  round->score = score_of (&point->all);
  round->key = point->round;
  round->current = point->round == current;
  if (has_safety)
    round->count = keep (strings, g_strdup_printf (_("%u of %u met"), point->all.met, point->all.total));
  round->words = point->all.percent < 0
                     ? keep (strings, g_strdup_printf (_("%s: nothing was asked for yet"), point->label))
                     : keep (strings, g_strdup_printf (_("%s: evidence gathered %d of 100"), point->label, point->all.percent));
}

/**
 * present_chart_score:
 * @standing: where the model stands
 * @with_title: draw a heading above
 *
 * Returns: (transfer full): the score through the rounds; its marks are the rounds
 */
Chart *
present_chart_score (const InsightStanding *standing, gboolean with_title)
{
  const char *const names[INSIGHT_N_CLASSES] = { _("safety"), _("function"), _("appearance") };
  GStringChunk *strings = g_string_chunk_new (1024);
  const guint n = standing->course->len;
  g_autofree ChartScoreRound *rounds = g_new0 (ChartScoreRound, n + 1);
  g_autofree double *scores = g_new0 (double, INSIGHT_N_CLASSES * (n + 1));
  ChartScoreClass classes[INSIGHT_N_CLASSES];
  guint n_classes = 0;
  ChartScore data = { 0 };
  Chart *chart;

  for (guint i = 0; i < n; i++)
    fill_score_round (&rounds[i], standing->course->pdata[i], standing->round, strings);
  for (guint k = 0; k < INSIGHT_N_CLASSES; k++)
    {
      double *row = scores + k * n;
      gboolean any = FALSE;

      for (guint i = 0; i < n; i++)
        {
          row[i] = score_of (&((const InsightCoursePoint *) standing->course->pdata[i])->classes[k]);
          any = any || !isnan (row[i]);
        }
      if (any)
        classes[n_classes++] = (ChartScoreClass) { names[k], row };
    }

  data.title = with_title ? _("Evidence gathered") : NULL;
  data.empty = _("No round has evidence yet.");
  data.name = _("score");
  data.rounds = rounds;
  data.n_rounds = n;
  data.classes = classes;
  data.n_classes = n_classes;
  chart = present_chart_say_score (chart_score_new (&data), standing);
  g_string_chunk_free (strings);
  return chart;
}

static char *
days_words (const InsightRoundDays *round)
{
  g_autofree char *total = present_number (round->total, -1);

  if (round->total > 0 && round->overlap > 0)
    /* Translators: a round, its working days, and how many of them ran beside the round before */
    return g_strdup_printf (_("%s: working days: %s, of these beside the round before: %u"), round->label, total, round->overlap);
  if (round->total <= 0)
    return g_strdup_printf (_("%s: no working days known"), round->label);
  if (round->open)
    return g_strdup_printf (_("%s: working days so far: %s"), round->label, total);
  return g_strdup_printf (_("%s: working days: %s"), round->label, total);
}

static void
fill_strip_round (ChartStripRound *to, const InsightRoundDays *from, GStringChunk *strings)
{
  static const ChartPhase phases[INSIGHT_N_PHASES] = {
    [INSIGHT_PHASE_DESIGN] = CHART_PHASE_DESIGN, [INSIGHT_PHASE_WAIT] = CHART_PHASE_WAIT,
    [INSIGHT_PHASE_MAKE] = CHART_PHASE_MAKE, [INSIGHT_PHASE_TEST] = CHART_PHASE_TEST,
    [INSIGHT_PHASE_DECIDE] = CHART_PHASE_DECIDE
  };
  const BookChoice *verdict = book_choice_by_code (book_round_verdicts, from->verdict);
  const guint units = from->units > 0 ? from->units : from->planned;

  to->name = from->label;
  if (from->units > 0)
    to->units = keep (strings, g_strdup_printf (ngettext ("%u unit", "%u units", units), units));
  else if (from->planned > 0)
    to->units = keep (strings, g_strdup_printf (ngettext ("%u unit planned", "%u units planned", units), units));
  to->verdict = verdict == NULL ? NULL : book_choice_label (verdict);
  for (guint i = 0; i < INSIGHT_N_PHASES; i++)
    to->days[phases[i]] = from->days[i];
  to->unfinished = from->open;
  to->overlaps = from->overlap > 0;
  to->found = from->found;
  to->not_again = from->not_again;
  to->shown = from->proven;
  to->key = from->id;
  to->words = keep (strings, days_words (from));
}

/**
 * present_chart_strip:
 * @days: where the rounds' days went
 *
 * Returns: (transfer full): the round strip; its marks are the rounds
 */
Chart *
present_chart_strip (const InsightDays *days)
{
  GStringChunk *strings = g_string_chunk_new (1024);
  g_autofree ChartStripRound *rounds = g_new0 (ChartStripRound, days->n_rounds + 1);
  ChartStrip data = { 0 };
  Chart *chart;

  for (guint i = 0; i < days->n_rounds; i++)
    {
      fill_strip_round (&rounds[i], &days->rounds[i], strings);
      data.show_issues = data.show_issues || rounds[i].found + rounds[i].not_again + rounds[i].shown > 0;
    }
  data.empty = _("No round yet: the first one appears here.");
  data.rounds = rounds;
  data.n_rounds = days->n_rounds;
  data.phase_names[CHART_PHASE_DESIGN] = present_phase_words (INSIGHT_PHASE_DESIGN);
  data.phase_names[CHART_PHASE_WAIT] = present_phase_words (INSIGHT_PHASE_WAIT);
  data.phase_names[CHART_PHASE_MAKE] = present_phase_words (INSIGHT_PHASE_MAKE);
  data.phase_names[CHART_PHASE_TEST] = present_phase_words (INSIGHT_PHASE_TEST);
  data.phase_names[CHART_PHASE_DECIDE] = present_phase_words (INSIGHT_PHASE_DECIDE);
  chart = present_chart_say_strip (chart_strip_new (&data), days);
  g_string_chunk_free (strings);
  return chart;
}
