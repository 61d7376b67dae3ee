/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-readings.h"

#include "present-gauge.h"
#include "present-number.h"
#include "present-reason.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SIGNALS_SAID 3 /* in a paragraph; all stand in the table */

static int
decimals_of (const InsightSeries *series)
{
  return series->decimals < 0 ? -1 : series->decimals + 1;
}

/* 'In the units that count 2 of 60 fail (95 % interval 0.4 to 11.5 %).' */
static char *
tell_outside (const InsightCapability *capability)
{
  g_autofree char *low = NULL, *high = NULL;

  if (capability->counted == 0)
    return g_strdup (_("No unit counts yet: there is no share outside."));
  low = present_number (100.0 * capability->share_low, 1);
  high = present_number (100.0 * capability->share_high, 1);
  return g_strdup_printf (ngettext ("Of the units that count %u of %u fails (95 %% interval of the share: %s to %s %%).",
                                    "Of the units that count %u of %u fail (95 %% interval of the share: %s to %s %%).",
                                    capability->failed),
                          capability->failed, capability->counted, low, high);
}

static char *
tell_control (const InsightSeries *series, const InsightIndividuals *individuals)
{
  g_autofree char *limits = NULL;
  GString *words = g_string_new (NULL);
  const guint n = individuals->n;

  switch (individuals->state)
    {
    case INSIGHT_INDIVIDUALS_CHECKED:
      g_string_append (words, _("A check has no values, so there is no chart of single values."));
      return g_string_free (words, FALSE);
    case INSIGHT_INDIVIDUALS_TOO_FEW:
      g_string_append_printf (words, ngettext ("%u value counts: too few for control limits.",
                                               "%u values count: too few for control limits.", n), n);
      return g_string_free (words, FALSE);
    case INSIGHT_INDIVIDUALS_SAME:
      g_string_append_printf (words, ngettext ("The %u value that counts is one and the same: there are no control limits.",
                                               "The %u values that count are all the same: there are no control limits.", n), n);
      return g_string_free (words, FALSE);
    case INSIGHT_INDIVIDUALS_DRAWN:
      break;
    }
  limits = present_interval (individuals->lower, individuals->upper, decimals_of (series), series->unit);
  if (individuals->n_signals == 0)
    g_string_append_printf (words, ngettext ("The %u value that counts gives no signal.",
                                             "None of the %u values that count, in order of build, gives a signal.", n), n);
  else
    g_string_append_printf (words, ngettext ("%u signal in the values that count, in order of build (%u of them).",
                                             "%u signals in the values that count, in order of build (%u of them).",
                                             individuals->n_signals), individuals->n_signals, n);
  g_string_append_printf (words, _(" Control limits are %s: what the making does by itself, not what is wanted."), limits);
  if (individuals->so_far)
    g_string_append_printf (words, _(" So far: below %d values they will still move."), INSIGHT_INDIVIDUALS_LEAST);
  if (individuals->left_out > 0)
    g_string_append_printf (words, ngettext (" %u unit without a value of its own is left out.",
                                             " %u units without values of their own are left out.", individuals->left_out),
                            individuals->left_out);
  return g_string_free (words, FALSE);
}

static char *
tell_signal (const InsightSeries *series, const InsightIndividuals *individuals, const InsightSignal *signal)
{
  const InsightMark *mark = &series->marks[signal->mark];
  g_autofree char *value = present_value (mark->value, series->decimals, series->unit);

  switch (signal->rule)
    {
    case 1:
      return g_strdup_printf (mark->value > individuals->upper ? _("Unit %s, %s, lies above the upper control limit.")
                                                               : _("Unit %s, %s, lies below the lower control limit."),
                              mark->serial, value);
    case 2:
      return g_strdup_printf (_("Unit %s, %s, is at least the ninth in a row on one side of the centre line."), mark->serial, value);
    case 3:
      return g_strdup_printf (_("Unit %s, %s, is at least the sixth in a row that rises or falls."), mark->serial, value);
    case 5:
      return g_strdup_printf (_("Unit %s, %s: two of three in a row lie beyond two thirds of the way to one control limit."),
                              mark->serial, value);
    default:
      return g_strdup_printf (_("Unit %s, %s: four of five in a row lie beyond one third of the way to one control limit."),
                              mark->serial, value);
    }
}

static char *
tell_fit (const InsightCapability *capability)
{
  switch (capability->state)
    {
    case INSIGHT_CAPABILITY_GIVEN:
      if (capability->failed > 0 && capability->ppk_low >= 1.0)
        return g_strdup_printf (ngettext ("The spread as a whole would fit between the limits, and yet %u unit lies outside.",
                                          "The spread as a whole would fit between the limits, and yet %u units lie outside.",
                                          capability->failed), capability->failed);
      if (capability->ppk_low >= 1.0)
        return g_strdup (_("The spread of the units that count fits between the limits."));
      if (capability->ppk_high < 1.0)
        return g_strdup (_("The spread of the units that count does not fit between the limits."));
      return g_strdup (_("Whether the spread of the units that count fits between the limits cannot be told yet."));
    case INSIGHT_CAPABILITY_CHECKED:
      return g_strdup (_("A check has no values, so there are no capability figures: look at the share that fails."));
    case INSIGHT_CAPABILITY_NO_LIMITS:
      return g_strdup (_("No limits are in force: there is nothing to compare the spread with."));
    case INSIGHT_CAPABILITY_SHAPE:
      return g_strdup (_("Capability figures hold only for values stated beforehand to lie evenly around one middle; "
                         "of this characteristic that is not stated: look at the share outside."));
    case INSIGHT_CAPABILITY_LEFT_OUT:
      return g_strdup (_("Some units have no value of their own, such as 'above': look at the share outside instead of "
                         "capability figures."));
    case INSIGHT_CAPABILITY_TOO_FEW:
      return g_strdup_printf (ngettext ("%u value counts; below %d values: too few for capability figures.",
                                        "%u values count; below %d values: too few for capability figures.", capability->n),
                              capability->n, INSIGHT_CAPABILITY_LEAST);
    case INSIGHT_CAPABILITY_SAME:
      return g_strdup (_("The values are all the same, as read: there are no capability figures."));
    case INSIGHT_N_CAPABILITIES:
      break;
    }
  return g_strdup ("");
}

/* 'Ppk 1.61 (95 % interval 1.34 to 1.89), Pp 1.78, …; NULL: none. */
static char *
tell_figures (const InsightCapability *capability)
{
  g_autofree char *ppk = NULL, *low = NULL, *high = NULL, *cpk = NULL, *pp = NULL, *cp = NULL, *pp_low = NULL,
                   *pp_high = NULL;
  GString *words;

  if (capability->state != INSIGHT_CAPABILITY_GIVEN)
    return NULL;
  ppk = present_number (capability->ppk, 2);
  low = present_number (capability->ppk_low, 2);
  high = present_number (capability->ppk_high, 2);
  cpk = present_number (capability->cpk, 2);
  words = g_string_new (NULL);
  g_string_append_printf (words, _("Ppk %s (95 %% interval %s to %s, n %u) from the spread of all; Cpk %s from that of neighbours."),
                          ppk, low, high, capability->n, cpk);
  if (!isnan (capability->pp))
    {
      pp = present_number (capability->pp, 2);
      cp = present_number (capability->cp, 2);
      pp_low = present_number (capability->pp_low, 2);
      pp_high = present_number (capability->pp_high, 2);
      g_string_append_printf (words, _(" If the middle stood between the limits: Pp %s (95 %% interval %s to %s), Cp %s."), pp, pp_low,
                              pp_high, cp);
    }
  g_string_append (words, _(" At 1 three standard deviations reach from the mean to the nearer limit; the shape of the values is that "
                            "stated beforehand."));
  if (capability->signals > 0)
    g_string_append_printf (words, ngettext (" %u value lies beyond the control limits: Cpk and Cp speak of a spread that does not last.",
                                             " %u values lie beyond the control limits: Cpk and Cp speak of a spread that does not last.",
                                             capability->signals), capability->signals);
  return g_string_free (words, FALSE);
}

static PresentSheet *
list_rounds (const InsightSeries *series, const InsightSpread5 *spreads)
{
  PresentSheet *sheet = present_sheet_new (_("How the values of each round lie"));
  const gboolean measured = series->kind != BOOK_CHARACTERISTIC_CHECKED;

  present_sheet_add_column (sheet, _("round"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("fail"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("count"), TRUE, FALSE, 3);
  if (measured)
    {
      present_sheet_add_column (sheet, _("least"), TRUE, FALSE, 2);
      present_sheet_add_column (sheet, _("a quarter below"), TRUE, FALSE, 4);
      present_sheet_add_column (sheet, _("half below"), TRUE, FALSE, 1);
      present_sheet_add_column (sheet, _("three quarters below"), TRUE, FALSE, 4);
      present_sheet_add_column (sheet, _("most"), TRUE, FALSE, 2);
    }
  for (guint r = 0; r < series->n_rounds; r++)
    {
      const InsightSeriesRound *round = &series->rounds[r];
      char *units = g_strdup_printf ("%u", round->n), *fail = g_strdup_printf ("%u", round->failed),
           *count = g_strdup_printf ("%u", round->counted);

      if (round->n == 0 || !measured)
        present_sheet_add_row (sheet, "round", round->id, FALSE,
                               measured ? PRESENT_CELLS (g_strdup (round->label), units, fail, count, g_strdup (""), g_strdup (""),
                                                         g_strdup (""), g_strdup (""), g_strdup (""))
                                        : PRESENT_CELLS (g_strdup (round->label), units, fail, count));
      else
        present_sheet_add_row (sheet, "round", round->id, FALSE,
                               PRESENT_CELLS (g_strdup (round->label), units, fail, count,
                                              present_number (spreads[r].least, series->decimals),
                                              present_number (spreads[r].q1, series->decimals),
                                              present_number (spreads[r].median, series->decimals),
                                              present_number (spreads[r].q3, series->decimals),
                                              present_number (spreads[r].most, series->decimals)));
    }
  return sheet;
}

static PresentSheet *
list_signals (const InsightSeries *series, const InsightIndividuals *individuals)
{
  PresentSheet *sheet = present_sheet_new (_("Signals"));

  present_sheet_add_column (sheet, _("rule"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("what"), FALSE, TRUE, 0);
  for (guint i = 0; i < individuals->n_signals; i++)
    present_sheet_add_row (sheet, "reading", series->marks[individuals->signals[i].mark].reading, FALSE,
                           PRESENT_CELLS (g_strdup_printf ("%u", individuals->signals[i].rule),
                                          tell_signal (series, individuals, &individuals->signals[i])));
  return sheet;
}

/**
 * present_readings_new:
 * @series: one characteristic; must outlive the answer
 * @individuals: of it, likewise
 *
 * Returns: (transfer full): in words
 */
PresentReadings *
present_readings_new (const InsightSeries *series, const InsightIndividuals *individuals)
{
  PresentReadings *present = g_new0 (PresentReadings, 1);

  present->series = series;
  present->individuals = individuals;
  present->capability = insight_capability (series);
  present->spreads = insight_spreads (series);
  present->outside = tell_outside (&present->capability);
  present->control = tell_control (series, individuals);
  if (individuals->rules == INSIGHT_RULES_ALL)
    present->caution = g_strdup (_("With five rules, 60 values in which nothing happened give 0.86 false signals on average: "
                                   "look twice before believing one."));
  else if (individuals->rules != INSIGHT_RULE_ONE)
    present->caution = g_strdup (_("The more patterns are looked for, the more often one is found by chance: look twice before "
                                   "believing one."));
  present->fit = tell_fit (&present->capability);
  present->figures = tell_figures (&present->capability);
  present->rounds = list_rounds (series, present->spreads);
  present->signals = list_signals (series, individuals);
  return present;
}

/**
 * present_readings_take_gauges:
 * @present: in words
 * @gauges: of the same model
 *
 * Says how much of the tolerance the gauge of the newest study of the characteristic takes up.
 */
void
present_readings_take_gauges (PresentReadings *present, const InsightGauges *gauges)
{
  const InsightStudyLine *newest = NULL;

  for (guint i = 0; i < gauges->n_lines; i++)
    if (gauges->lines[i].characteristic == present->series->characteristic
        && (newest == NULL || gauges->lines[i].study->day >= newest->study->day))
      newest = &gauges->lines[i];
  g_free (present->gauge);
  present->gauge = newest != NULL ? present_gauge_share_sentence (newest) : NULL;
}

void
present_readings_free (PresentReadings *present)
{
  if (present == NULL)
    return;
  g_free (present->spreads);
  g_free (present->outside);
  g_free (present->control);
  g_free (present->caution);
  g_free (present->fit);
  g_free (present->figures);
  g_free (present->gauge);
  present_sheet_free (present->rounds);
  present_sheet_free (present->signals);
  g_free (present);
}

static void
add_sentence (GString *words, const char *sentence)
{
  if (sentence != NULL)
    g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", sentence);
}

/* What a gauge does to the figures: overdue, or excused by somebody. */
static void
add_gauges (GString *words, const InsightSeries *series)
{
  for (guint i = 0; i < series->reasons->len; i++)
    {
      const InsightReason *reason = g_ptr_array_index (series->reasons, i);
      g_autofree char *sentence = NULL;

      if (reason->code != INSIGHT_REASON_GAUGE_OUT && reason->code != INSIGHT_REASON_GAUGE_EXCUSED)
        continue;
      sentence = present_reason (reason, series->unit, series->decimals);
      add_sentence (words, sentence);
    }
}

/**
 * present_single_words:
 * @present: in words
 *
 * Returns: (transfer full): the single values in a paragraph, with the newest signals
 */
char *
present_single_words (const PresentReadings *present)
{
  GString *words = g_string_new (NULL);
  const InsightIndividuals *individuals = present->individuals;
  const guint n = individuals->n_signals;

  add_sentence (words, present->control);
  for (guint i = n > SIGNALS_SAID ? n - SIGNALS_SAID : 0; i < n; i++)
    {
      g_autofree char *signal = tell_signal (present->series, individuals, &individuals->signals[i]);

      add_sentence (words, signal);
    }
  add_sentence (words, present->caution);
  add_sentence (words, present->gauge);
  add_gauges (words, present->series);
  return g_string_free (words, FALSE);
}

/**
 * present_spread_words:
 * @present: in words
 *
 * Returns: (transfer full): how the values lie between the limits, in a paragraph
 */
char *
present_spread_words (const PresentReadings *present)
{
  GString *words = g_string_new (NULL);

  add_sentence (words, present->outside);
  add_sentence (words, present->fit);
  add_sentence (words, present->figures);
  add_sentence (words, present->gauge);
  add_gauges (words, present->series);
  return g_string_free (words, FALSE);
}

/**
 * present_readings_to_text:
 * @present: in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_readings_to_text (const PresentReadings *present, guint width)
{
  const char *const paragraphs[] = { present->outside, present->fit, present->figures, present->control, present->caution,
                                     present->gauge };
  const PresentSheet *const sheets[] = { present->rounds, present->signals };
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "%s  %s\n", present->series->code, present->series->name);
  for (guint i = 0; i < G_N_ELEMENTS (paragraphs); i++)
    present_text_add (text, paragraphs[i], width, "", "");
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  return g_string_free (text, FALSE);
}
