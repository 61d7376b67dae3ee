/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-first-series.h"

#include "present-issue.h"
#include "present-json.h"
#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Where a figure that was reached lies in what was promised. It says nothing about chance: both have their intervals beside them. */
static char *
place_words (double low, double high, double reached)
{
  if (isnan (low) || isnan (high) || isnan (reached))
    return g_strdup ("");
  if (reached < low)
    return g_strdup (C_ ("against a promised interval", "below"));
  return g_strdup (reached > high ? C_ ("against a promised interval", "above") : C_ ("against a promised interval", "inside"));
}

/* A figure with its range in brackets, as far as there is one. */
static char *
with_range (char *figure, char *range)
{
  g_autofree char *one = figure, *both = range;

  /* Translators: a figure, its interval */
  return *both != '\0' && *one != '\0' ? g_strdup_printf (_("%s (%s)"), one, both) : g_strdup (*one != '\0' ? one : both);
}

static char *
told (char *words)
{
  if (*words != '\0')
    return words;
  g_free (words);
  return g_strdup (_("not told"));
}

static char *
share_words (double share, double low, double high)
{
  return told (with_range (present_percent (share, 0), present_percent_range (low, high)));
}

static char *
amount_words (const double of[3], int decimals)
{
  const gboolean has_range = !isnan (of[1]) && !isnan (of[2]);

  return told (with_range (present_number (of[0], decimals), has_range ? present_interval (of[1], of[2], decimals, "") : g_strdup ("")));
}

static char *
series_pace (const InsightFirstSeries *series)
{
  return g_strdup_printf (ngettext ("%u good at '%s' in %u working day, %s to %s", "%u good at '%s' in %u working days, %s to %s", series->days),
                          series->good, series->step, series->days, series->first_day, series->last_day);
}

static void
add_yields (PresentSheet *sheet, const PresentFirstSeriesFacts *facts, const PresentFrozenRun *then)
{
  const InsightPilot *pilot = facts->pilot;
  const gint64 round = facts->series->round;

  present_sheet_add_row (sheet, "round", round, pilot->rolled < then->rolled[1],
                         PRESENT_CELLS (g_strdup (_("good the first time, all steps")),
                                        share_words (then->rolled[0], then->rolled[1], then->rolled[2]),
                                        share_words (pilot->rolled, pilot->rolled_interval.low, pilot->rolled_interval.high),
                                        g_strdup_printf (ngettext ("%u counted step, 90 %% interval", "%u counted steps, 90 %% interval",
                                                                   pilot->counted_steps),
                                                         pilot->counted_steps),
                                        place_words (then->rolled[1], then->rolled[2], pilot->rolled)));
  present_sheet_add_row (sheet, "round", round, pilot->final_range.high < then->final[0],
                         PRESENT_CELLS (g_strdup (_("good in the end")), told (present_percent_range (then->final[0], then->final[1])),
                                        told (present_percent_range (pilot->final_range.low, pilot->final_range.high)),
                                        g_strdup_printf (ngettext ("%u scrapped; %u in hand, which make the range",
                                                                   "%u scrapped; %u in hand, which make the range", facts->series->scrapped),
                                                         facts->series->scrapped, pilot->waiting),
                                        g_strdup ("")));
}

static void
add_pace (PresentSheet *sheet, const PresentFirstSeriesFacts *facts, const PresentFrozenRun *then)
{
  const InsightFirstSeries *series = facts->series;
  const double cost[] = { facts->rate->cost, facts->rate->cost_interval.low, facts->rate->cost_interval.high };

  present_sheet_add_row (sheet, "round", series->round, FALSE,
                         PRESENT_CELLS (g_strdup (_("good units a month at most")), amount_words (then->month, 0), g_strdup (""),
                                        g_strdup (_("by the benches, with 90 % interval")), g_strdup ("")));
  present_sheet_add_row (sheet, "round", series->round, series->month < then->plan,
                         PRESENT_CELLS (g_strdup (_("good units a month, kept up")), told (present_number (then->plan, 0)),
                                        isnan (series->month) ? g_strdup (_("too few days")) : present_number (series->month, 0),
                                        series_pace (series),
                                        isnan (series->month) || isnan (then->plan) ? g_strdup ("")
                                        : g_strdup (series->month < then->plan ? C_ ("against a promised interval", "below") : _("reached"))));
  present_sheet_add_row (sheet, "round", series->round, FALSE,
                         PRESENT_CELLS (g_strdup (_("cost of a good unit")), amount_words (then->cost, 2), amount_words (cost, 2),
                                        g_strdup (_("by the minutes of the run, with 90 % interval")),
                                        place_words (then->cost[1], then->cost[2], cost[0])));
}

static PresentSheet *
figures_sheet (const PresentFirstSeriesFacts *facts)
{
  const PresentFrozenRun nothing = { .rolled = { NAN, NAN, NAN }, .final = { NAN, NAN }, .month = { NAN, NAN, NAN }, .plan = NAN,
                                     .cost = { NAN, NAN, NAN } };
  const PresentFrozenRun *then = facts->then != NULL ? &facts->then->run : &nothing;
  PresentSheet *sheet = present_sheet_new (_("First series: promised and reached"));

  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("promised"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("reached"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("from"), FALSE, TRUE, 2);
  present_sheet_add_column (sheet, _("against it"), FALSE, FALSE, 0); /* the last one shows that a row needs a person */
  if (facts->series->round == 0)
    return sheet;
  add_yields (sheet, facts, then);
  add_pace (sheet, facts, then);
  return sheet;
}

static PresentSheet *
issues_sheet (const InsightFirstSeries *series)
{
  PresentSheet *sheet = present_sheet_new (_("Issues since the release"));

  present_sheet_add_column (sheet, _("issue"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("class"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("found on"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("where"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("units"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("state"), FALSE, FALSE, 0);
  for (guint i = 0; i < series->issues->len; i++)
    {
      const InsightIssue *issue = series->issues->pdata[i];
      const guint units = issue->n_units + issue->affected;

      present_sheet_add_row (sheet, "issue", issue->id, issue->klass == BOOK_CLASS_SAFETY && *issue->closed == '\0',
                             PRESENT_CELLS (g_strdup_printf ("%d %s", issue->no, issue->title),
                                            g_strdup (book_choice_label (book_choice_by_code (book_classes, (int) issue->klass))),
                                            g_strdup (issue->found),
                                            issue->in_field ? g_strdup (_("after delivery"))
                                            : *issue->found_round != '\0' ? g_strdup_printf (_("in round %s"), issue->found_round)
                                                                          : g_strdup (_("not said")),
                                            units > 0 ? g_strdup_printf ("%u", units) : g_strdup (_("not counted")), present_issue_state (issue)));
    }
  return sheet;
}

static char *
issues_words (const InsightFirstSeries *series)
{
  if (series->issues->len == 0)
    return g_strdup (_("No issue was noted since."));
  return g_strdup_printf (ngettext ("%u issue was noted since: %u about safety, %u found after delivery.",
                                    "%u issues were noted since: %u about safety, %u found after delivery.", series->issues->len),
                          series->issues->len, series->n_safety, series->n_in_field);
}

static char *
headline (const PresentFirstSeriesFacts *facts)
{
  const InsightFirstSeries *series = facts->series;
  g_autofree char *issues = issues_words (series), *yield = NULL, *month = present_number (series->month, 0);

  if (series->round == 0)
    return g_strdup_printf (_("Released on %s; of a first series nothing was counted yet. %s"), facts->released, issues);
  yield = share_words (facts->pilot->rolled, facts->pilot->rolled_interval.low, facts->pilot->rolled_interval.high);
  if (isnan (series->month))
    return g_strdup_printf (ngettext ("Released on %s. Series %s made %u good unit so far, in too few days to tell a pace; %s pass all steps the "
                                      "first time. %s",
                                      "Released on %s. Series %s made %u good units so far, in too few days to tell a pace; %s pass all steps "
                                      "the first time. %s",
                                      series->good),
                            facts->released, series->label, series->good, yield, issues);
  return g_strdup_printf (ngettext ("Released on %s. Series %s made %u good unit in %u working days, %s a month; %s pass all steps the first "
                                    "time. %s",
                                    "Released on %s. Series %s made %u good units in %u working days, %s a month; %s pass all steps the first "
                                    "time. %s",
                                    series->good),
                          facts->released, series->label, series->good, series->days, month, yield, issues);
}

/**
 * present_first_series_new:
 * @facts: what came, and what had been promised
 *
 * Returns: (transfer full): the same in words
 */
PresentFirstSeries *
present_first_series_new (const PresentFirstSeriesFacts *facts)
{
  PresentFirstSeries *present = g_new0 (PresentFirstSeries, 1);

  present->headline = headline (facts);
  present->note = g_strdup (facts->then == NULL
                              ? _("What was promised cannot be told: what was known at the decision is not to be read.")
                              : _("What was promised is told from what the decision froze. A month is 52/12 weeks; working days are counted from "
                                  "the first day on which a step ran to the last one."));
  present->figures = figures_sheet (facts);
  present->issues = issues_sheet (facts->series);
  return present;
}

void
present_first_series_free (PresentFirstSeries *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_free (present->note);
  present_sheet_free (present->figures);
  present_sheet_free (present->issues);
  g_free (present);
}

void
present_first_series_add_text (const PresentFirstSeries *present, GString *out, guint width)
{
  present_text_add (out, present->headline, width, "", "");
  present_text_add (out, present->note, width, "", "");
  if (present->figures->rows->len > 0)
    present_sheet_add_text (present->figures, out, width);
  if (present->issues->rows->len > 0)
    present_sheet_add_text (present->issues, out, width);
}

static void
add_interval (JsonBuilder *builder, const char *name, double value, double low, double high)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
  present_json_number (builder, "value", value);
  present_json_number (builder, "low", low);
  present_json_number (builder, "high", high);
  json_builder_end_object (builder);
}

static void
add_promised (JsonBuilder *builder, const PresentFrozenRun *run)
{
  json_builder_set_member_name (builder, "promised");
  json_builder_begin_object (builder);
  present_json_text (builder, "round", run->round);
  add_interval (builder, "rolled", run->rolled[0], run->rolled[1], run->rolled[2]);
  add_interval (builder, "final", NAN, run->final[0], run->final[1]);
  add_interval (builder, "month", run->month[0], run->month[1], run->month[2]);
  present_json_number (builder, "plan", run->plan);
  add_interval (builder, "cost", run->cost[0], run->cost[1], run->cost[2]);
  json_builder_end_object (builder);
}

static void
add_reached (JsonBuilder *builder, const PresentFirstSeriesFacts *facts)
{
  const InsightFirstSeries *series = facts->series;
  const InsightPilot *pilot = facts->pilot;

  json_builder_set_member_name (builder, "reached");
  json_builder_begin_object (builder);
  present_json_text (builder, "round", series->label);
  present_json_count (builder, "good", series->good);
  present_json_count (builder, "n", series->n);
  present_json_count (builder, "scrapped", series->scrapped);
  present_json_count (builder, "waiting", series->waiting);
  present_json_text (builder, "first_day", series->first_day);
  present_json_text (builder, "last_day", series->last_day);
  present_json_count (builder, "days", series->days);
  present_json_number (builder, "month", series->month);
  add_interval (builder, "rolled", pilot->rolled, pilot->rolled_interval.low, pilot->rolled_interval.high);
  add_interval (builder, "final", NAN, pilot->final_range.low, pilot->final_range.high);
  add_interval (builder, "cost", facts->rate->cost, facts->rate->cost_interval.low, facts->rate->cost_interval.high);
  json_builder_end_object (builder);
}

/**
 * present_json_first_series:
 * @present: in words
 * @facts: the figures
 *
 * Returns: (transfer full): the answer
 */
JsonNode *
present_json_first_series (const PresentFirstSeries *present, const PresentFirstSeriesFacts *facts)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const InsightFirstSeries *series = facts->series;

  json_builder_begin_object (builder);
  present_json_text (builder, "sentence", present->headline);
  present_json_text (builder, "released", facts->released);
  if (facts->then != NULL)
    add_promised (builder, &facts->then->run);
  if (series->round != 0)
    add_reached (builder, facts);
  present_json_list (builder, "issues");
  for (guint i = 0; i < series->issues->len; i++)
    {
      const InsightIssue *issue = series->issues->pdata[i];

      json_builder_begin_object (builder);
      present_json_key (builder, "id", issue->id);
      present_json_count (builder, "issue", issue->no);
      present_json_text (builder, "title", issue->title);
      present_json_choice (builder, "class", book_classes, (int) issue->klass);
      present_json_flag (builder, "in_field", issue->in_field);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
