/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-issue-private.h"
#include "insight-span-private.h"

#include "num-survival.h"

#include <math.h>
#include <stdlib.h>

/*
 * How often an issue was found, and how long it took to contain, to know and to prove it.
 */

#define AGES_CONFIDENCE 0.90
#define SAME_DAY        0.5

/* The round in which a finding was made: of its unit, else by the day. */
static int
round_of_finding (const BookEvidence *e, const BookEvidenceFinding *finding)
{
  if (finding->unit >= 0)
    return e->units[finding->unit].round;
  for (guint r = e->n_rounds; finding->day != 0 && r-- > 0;)
    if (e->rounds[r].opened != 0 && e->rounds[r].opened <= finding->day)
      return (int) r;
  return -1;
}

static void
add_finding (const BookEvidence *e, const BookEvidenceFinding *one, int round, InsightIssue *out)
{
  InsightIssueFinding *finding = g_new0 (InsightIssueFinding, 1);

  finding->id = one->id;
  finding->no = one->no;
  finding->unit = g_strdup (one->unit >= 0 ? e->units[one->unit].serial : "");
  finding->unit_id = one->unit >= 0 ? e->units[one->unit].id : 0;
  finding->round = g_strdup (round >= 0 ? e->rounds[round].label : "");
  finding->lot = g_strdup (one->lot >= 0 ? e->lots[one->lot].number : "");
  finding->affected = (guint) MAX (one->affected, 0);
  finding->inspected = (guint) MAX (one->inspected, 0);
  finding->found_at = g_strdup (one->found_at >= 0 ? e->steps[one->found_at].name : "");
  finding->caused_at = g_strdup (one->caused_at >= 0 ? e->steps[one->caused_at].name : "");
  finding->in_field = one->in_field;
  finding->disposition = one->disposition;
  finding->by = g_strdup (one->person >= 0 ? e->persons[one->person].initials : "");
  finding->date = book_day_format (one->day);
  finding->reason = g_strdup (one->reason);
  finding->excused = one->excused;
  g_ptr_array_add (out->findings, finding);
}

/**
 * insight_issue_count_findings:
 * @look: the last look
 * @number: an issue
 * @out: filled in
 * @after_closing: (out): whether one of them is younger than the issue's closing
 */
void
insight_issue_count_findings (const InsightLook *look, int number, InsightIssue *out, gboolean *after_closing)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceIssue *issue = &e->issues[number];
  g_autoptr(GArray) rounds = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr(GArray) units = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr(GArray) lots = g_array_new (FALSE, FALSE, sizeof (int));

  *after_closing = FALSE;
  if (issue->found_round >= 0)
    insight_add_once (rounds, issue->found_round);
  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];
      int round;

      if (finding->issue != number || finding->day > look->said
          || (finding->unit >= 0 && e->units[finding->unit].round > look->through))
        continue;
      out->n_findings++;
      out->affected += (guint) MAX (finding->affected, 0);
      out->inspected += (guint) MAX (finding->inspected, 0);
      out->in_field |= finding->in_field;
      *after_closing |= issue->closed != 0 && finding->day > issue->closed;
      round = round_of_finding (e, finding);
      add_finding (e, finding, round, out);
      if (round >= 0)
        insight_add_once (rounds, round);
      if (finding->unit >= 0)
        insight_add_once (units, finding->unit);
      if (finding->lot >= 0)
        insight_add_once (lots, finding->lot);
    }
  out->n_rounds = rounds->len;
  out->n_units = units->len;
  out->n_lots = lots->len;
}

/* Working days; half a day where it was the same one, or no working day lies between. */
static double
days_between (const BookEvidence *e, BookDay from, BookDay to)
{
  guint days = insight_span_working_days (e, from, to);

  return days > 0 ? days : SAME_DAY;
}

/**
 * insight_issue_find_days:
 * @look: the last look
 * @number: an issue
 * @proven: day on which it was proven, 0: it is not
 * @out: its dates, days and age are filled in
 */
void
insight_issue_find_days (const InsightLook *look, int number, BookDay proven, InsightIssue *out)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceIssue *issue = &e->issues[number];
  const BookDay days[] = { issue->contained, issue->cause_known, proven };
  BookDay closed = book_day_parse (out->closed, NULL);

  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    {
      BookDay day = days[i] <= look->said ? days[i] : 0;

      out->dates[i] = book_day_format (day);
      out->days[i] = NAN;
      if (issue->found != 0)
        out->days[i] = days_between (e, issue->found, day != 0 ? day : look->said);
    }
  out->age = NAN;
  if (issue->found != 0)
    out->age = days_between (e, issue->found, closed != 0 ? closed : look->said);
}

static void
find_age (const InsightIssues *issues, guint kind, InsightIssueAges *ages)
{
  guint n = issues->issues->len;
  g_autofree double *times = g_new (double, n + 1);
  g_autofree bool *ended = g_new (bool, n + 1);
  g_autofree NumSurvivalStep *steps = g_new (NumSurvivalStep, n + 1);
  NumSurvival curve;

  *ages = (InsightIssueAges){ 0, 0, 0, NAN, NAN, NAN, NAN, NAN };
  for (guint i = 0; i < n; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];

      /*
       * One closed otherwise stays among those that could still end: its end by a fix never comes, which is not the same
       * as not having been watched any longer (cumulative incidence).
       */
      if (isnan (issue->days[kind]) || issue->outcome == BOOK_OUTCOME_DUPLICATE)
        continue;
      times[ages->n] = issue->days[kind];
      ended[ages->n] = issue->dates[kind][0] != '\0';
      if (ended[ages->n])
        {
          ages->n_ended++;
          ages->least = fmin (ages->least, times[ages->n]);
          ages->most = fmax (ages->most, times[ages->n]);
        }
      ages->n++;
    }
  ages->n_open = ages->n - ages->n_ended;
  if (ages->n == 0 || num_survival (times, ended, NULL, ages->n, AGES_CONFIDENCE, steps, &curve) != NUM_OK)
    return;
  ages->median = curve.median;
  ages->low = curve.interval.low;
  ages->high = curve.interval.high;
}

void
insight_issues_find_ages (InsightIssues *issues)
{
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    find_age (issues, i, &issues->ages[i]);
}

static int
compare_events (gconstpointer a, gconstpointer b)
{
  const InsightIssueEvent *first = a, *second = b;

  return (first->day > second->day) - (first->day < second->day);
}

/**
 * insight_issues_find_points:
 * @issues: its points are filled in
 * @events: (element-type InsightIssueEvent): in any order; gets sorted
 * @end: last day that is seen
 */
void
insight_issues_find_points (InsightIssues *issues, GArray *events, BookDay end)
{
  InsightIssuePoint point = { 0, 0, 0 };

  g_array_sort (events, compare_events);
  for (guint i = 0; i < events->len; i++)
    {
      const InsightIssueEvent *event = &g_array_index (events, InsightIssueEvent, i);

      point.day = event->day;
      point.found = (guint) MAX ((int) point.found + event->found, 0);
      point.proven = (guint) MAX ((int) point.proven + event->proven, 0);
      if (i + 1 == events->len || g_array_index (events, InsightIssueEvent, i + 1).day != event->day)
        g_array_append_val (issues->points, point);
    }
  if (events->len > 0 && point.day < end)
    {
      point.day = end;
      g_array_append_val (issues->points, point);
    }
}
