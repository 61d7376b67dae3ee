/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-first-series.h"

#include "book-evidence.h"
#include "insight-days.h"

#include <math.h>
#include <string.h>

/* Pieces are good for delivery at the last step that counted any; before that they are on their way. */
static void
count_pieces (InsightFirstSeries *series, const InsightPilot *pilot)
{
  for (guint i = 0; i < pilot->n_steps; i++)
    {
      const InsightPilotStep *step = &pilot->steps[i];

      series->scrapped += step->scrapped;
      series->waiting += step->waiting;
      if (step->n == 0)
        continue;
      series->good = step->first + step->reworked;
      series->n = step->n;
      g_free (series->step);
      series->step = g_strdup (step->name);
    }
}

static void
find_pace (InsightFirstSeries *series, const BookEvidence *e, const InsightPilot *pilot, const InsightRateInput *input)
{
  const char *first = NULL, *last = NULL;

  for (guint i = 0; i < pilot->n_days; i++)
    {
      const char *date = pilot->days[i].date;

      if (first == NULL || strcmp (date, first) < 0)
        first = date;
      if (last == NULL || strcmp (date, last) > 0)
        last = date;
    }
  if (first == NULL)
    return;
  series->first_day = g_strdup (first);
  series->last_day = g_strdup (last);
  series->days = 1 + insight_days_working (e, first, last); /* the first day was worked on, whatever the week says */
  if (series->days >= INSIGHT_RATE_RUN_DAYS)
    series->month = series->good * INSIGHT_RATE_WEEKS_MONTH * input->days_week / series->days;
}

static int
compare_issues (gconstpointer a, gconstpointer b)
{
  const InsightIssue *one = *(InsightIssue *const *) a, *other = *(InsightIssue *const *) b;

  return one->klass != other->klass ? (int) one->klass - (int) other->klass : one->no - other->no;
}

static void
find_issues (InsightFirstSeries *series, const InsightIssues *issues, const char *released)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      InsightIssue *issue = issues->issues->pdata[i];

      if (!issue->in_field && strcmp (issue->found, released) <= 0) /* "": not known */
        continue;
      g_ptr_array_add (series->issues, issue);
      series->n_safety += issue->klass == BOOK_CLASS_SAFETY;
      series->n_in_field += issue->in_field;
    }
  g_ptr_array_sort (series->issues, compare_issues);
}

/**
 * insight_first_series:
 * @evidence: all records of a model
 * @pilot: of the newest round with something to count
 * @input: of the rate by it
 * @issues: of the model; outlives the answer
 * @released: ISO 8601 date of the decision that released it
 *
 * Returns: (transfer full): what came since
 */
InsightFirstSeries *
insight_first_series (const BookEvidence *evidence, const InsightPilot *pilot, const InsightRateInput *input, const InsightIssues *issues,
                      const char *released)
{
  InsightFirstSeries *series = g_new0 (InsightFirstSeries, 1);

  series->issues = g_ptr_array_new ();
  series->month = NAN;
  if (pilot->kind == BOOK_ROUND_FIRST_SERIES)
    {
      series->round = pilot->round;
      count_pieces (series, pilot);
      find_pace (series, evidence, pilot, input);
    }
  series->label = g_strdup (series->round != 0 ? pilot->label : "");
  if (series->step == NULL)
    series->step = g_strdup ("");
  if (series->first_day == NULL)
    {
      series->first_day = g_strdup ("");
      series->last_day = g_strdup ("");
    }
  find_issues (series, issues, released);
  return series;
}

void
insight_first_series_free (InsightFirstSeries *series)
{
  if (series == NULL)
    return;

  g_free (series->label);
  g_free (series->step);
  g_free (series->first_day);
  g_free (series->last_day);
  g_ptr_array_unref (series->issues);
  g_free (series);
}
