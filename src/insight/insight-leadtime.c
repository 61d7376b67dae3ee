/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-leadtime-private.h"

#include "insight-days-private.h"
#include "insight-span-private.h"
#include "num-dist.h"

#include <math.h>
#include <stdlib.h>

#define SAME_DAY    0.5 /* an issue closed on the day on which it was found */
#define OTHER_TELLS 0.1 /* share of other ends from which they compete */

static void
fill_rounds (InsightRoundDays *out, const BookEvidence *e, int through, BookDay today)
{
  for (int r = 0; r <= through; r++)
    {
      out[r].id = e->rounds[r].id;
      out[r].label = g_strdup (e->rounds[r].label);
      out[r].question = g_strdup (e->rounds[r].question);
      out[r].kind = e->rounds[r].kind;
      out[r].verdict = e->rounds[r].decided != 0 && e->rounds[r].decided <= today ? e->rounds[r].verdict : 0;
      out[r].planned = (guint) MAX (e->rounds[r].planned_units, 0);
      insight_round_days_count (e, r, today, &out[r]);
    }
}

static void
free_rounds (InsightRoundDays *rounds, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_free (rounds[i].label);
      g_free (rounds[i].question);
    }
  g_free (rounds);
}

/* A phase ended when the round went on to a later one. */
static gboolean
phase_ended (const InsightRoundDays *round, InsightPhase phase)
{
  return !round->open || (phase != INSIGHT_PHASE_WAIT && phase != round->phase);
}

static void
add_spreads (InsightLeadtime *leadtime)
{
  GArray *whole = insight_times_new ();
  double sums[INSIGHT_N_PHASES] = { 0 };

  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    {
      GArray *times = insight_times_new ();

      for (guint r = 0; r < leadtime->n_rounds; r++)
        {
          const InsightRoundDays *round = &leadtime->rounds[r];

          sums[p] += round->days[p];
          if (round->days[p] > 0.0 || (round->total > 0.0 && phase_ended (round, p) && p != INSIGHT_PHASE_WAIT))
            insight_times_add (times, (InsightTime){ round->id, 0, 0, round->label, round->days[p], phase_ended (round, p) });
        }
      leadtime->phases[p] = insight_times_spread (times);
      if (sums[p] > sums[leadtime->largest])
        leadtime->largest = p;
    }
  for (guint r = 0; r < leadtime->n_rounds; r++)
    {
      const InsightRoundDays *round = &leadtime->rounds[r];

      leadtime->total += round->total;
      leadtime->decided += !round->open && round->total > 0.0;
      if (round->total > 0.0)
        insight_times_add (whole, (InsightTime){ round->id, 0, 0, round->label, round->total, !round->open });
    }
  leadtime->rounds_spread = insight_times_spread (whole);
  leadtime->largest_share = leadtime->total > 0.0 ? sums[leadtime->largest] / leadtime->total : (double) NAN;
}

/* Lengths of decided rounds are taken as log-normal: exp (m + t s sqrt (1 + 1/n)), Student's t with n - 1. */
static void
estimate_next (InsightLeadtime *leadtime)
{
  double sum = 0.0, squares = 0.0, mean, sd, half;
  guint n = 0;

  leadtime->next = NAN;
  leadtime->next_range = (NumInterval){ NAN, NAN };
  for (guint r = 0; r < leadtime->n_rounds; r++)
    if (!leadtime->rounds[r].open && leadtime->rounds[r].total > 0.0)
      {
        sum += log (leadtime->rounds[r].total);
        n++;
      }
  if (n < INSIGHT_LEADTIME_NEXT)
    return;
  mean = sum / n;
  for (guint r = 0; r < leadtime->n_rounds; r++)
    if (!leadtime->rounds[r].open && leadtime->rounds[r].total > 0.0)
      squares += (log (leadtime->rounds[r].total) - mean) * (log (leadtime->rounds[r].total) - mean);
  sd = sqrt (squares / (n - 1));
  half = num_t_quantile (0.5 * (1.0 + INSIGHT_LEADTIME_SHARE), n - 1.0) * sd * sqrt (1.0 + 1.0 / n);
  leadtime->next = exp (mean);
  leadtime->next_range = (NumInterval){ exp (mean - half), exp (mean + half) };
}

static double
days_between (const BookEvidence *e, BookDay from, BookDay to)
{
  guint days = insight_span_working_days (e, from, to);

  return days > 0 ? days : SAME_DAY;
}

/* An issue, from found to an end of which kind. */
typedef struct
{
  double days;
  int    end; /* 0 open, 1 solved, 2 otherwise */
} Course;

static int
compare_courses (gconstpointer a, gconstpointer b)
{
  const Course *x = a, *y = b;

  return (x->days > y->days) - (x->days < y->days);
}

/* Cumulative incidence of being solved (Aalen and Johansen 1978, from memory): sum of S(t-) times solved at t over at risk. */
static double
incidence (GArray *courses)
{
  double survival = 1.0, solved = 0.0;

  g_array_sort (courses, compare_courses);
  for (guint i = 0, next; i < courses->len; i = next)
    {
      double at_risk = courses->len - i;
      guint ends[3] = { 0, 0, 0 };

      for (next = i; next < courses->len && g_array_index (courses, Course, next).days == g_array_index (courses, Course, i).days; next++)
        ends[g_array_index (courses, Course, next).end]++;
      solved += survival * ends[1] / at_risk;
      survival *= 1.0 - (ends[1] + ends[2]) / at_risk;
    }
  return solved;
}

/*
 * An issue that was closed otherwise than solved will never reach a stage that it had not: it stays at risk to the end of
 * the span. Taken as unfinished at its closing it would be counted as one that is still going to be solved.
 */
void
insight_leadtime_add_issues (InsightLeadtime *leadtime, const BookEvidence *e, int through, BookDay today)
{
  GArray *stages[INSIGHT_N_STAGES];
  g_autoptr(GArray) courses = g_array_new (FALSE, FALSE, sizeof (Course));
  guint closed = 0, otherwise = 0;

  for (guint s = 0; s < INSIGHT_N_STAGES; s++)
    stages[s] = insight_times_new ();
  for (guint i = 0; i < e->n_issues; i++)
    {
      const BookEvidenceIssue *issue = &e->issues[i];
      const BookDay dates[] = { issue->contained, issue->cause_known,
                                issue->outcome == BOOK_OUTCOME_PROVEN ? issue->closed : 0 };
      gboolean is_closed = issue->closed != 0 && issue->closed <= today;
      gboolean is_solved = issue->outcome == BOOK_OUTCOME_PROVEN;
      Course course;

      if (issue->found == 0 || issue->found > today || issue->found_round > through)
        continue;
      for (guint s = 0; s < INSIGHT_N_STAGES; s++)
        {
          gboolean reached = dates[s] != 0 && dates[s] <= today;
          BookDay end = reached ? dates[s] : is_closed && is_solved ? issue->closed : today;

          insight_times_add (stages[s], (InsightTime){ issue->id, 0, issue->no, (char *) issue->title, days_between (e, issue->found, end),
                                                       reached });
        }
      course.days = days_between (e, issue->found, is_closed ? issue->closed : today);
      course.end = !is_closed ? 0 : is_solved ? 1 : 2;
      closed += is_closed;
      otherwise += course.end == 2;
      g_array_append_val (courses, course);
    }
  for (guint s = 0; s < INSIGHT_N_STAGES; s++)
    leadtime->stages[s] = insight_times_spread (stages[s]);
  leadtime->other_ends = closed > 0 ? (double) otherwise / closed : 0.0;
  leadtime->solved_share = leadtime->other_ends > OTHER_TELLS ? incidence (courses) : (double) NAN;
}

static BookDay
first_day (const BookEvidence *e)
{
  for (guint r = 0; r < e->n_rounds; r++)
    if (e->rounds[r].opened != 0)
      return e->rounds[r].opened;
  return 0;
}

static void
add_earlier (InsightLeadtime *leadtime, const BookEvidence *e, const BookEvidence *const *others, guint n, BookDay today)
{
  BookDay begin = first_day (e);
  g_autofree BookDay *begins = g_new0 (BookDay, n + 1);

  leadtime->earlier = g_new0 (InsightEarlier, n + 1);
  for (guint i = 0; i < n; i++)
    {
      const BookEvidence *other = others[i];
      BookDay its = first_day (other);
      guint place = leadtime->n_earlier;
      InsightEarlier *out;

      if (other->model_id == e->model_id || its == 0 || begin == 0 || its >= begin)
        continue;
      for (; place > 0 && begins[place - 1] < its; place--)
        {
          begins[place] = begins[place - 1];
          leadtime->earlier[place] = leadtime->earlier[place - 1];
        }
      begins[place] = its;
      leadtime->n_earlier++;
      out = &leadtime->earlier[place];
      *out = (InsightEarlier){ other->model_id, g_strdup (other->code), g_strdup (other->name),
                               g_new0 (InsightRoundDays, other->n_rounds + 1), other->n_rounds, 0.0, FALSE };
      fill_rounds (out->rounds, other, (int) other->n_rounds - 1, today);
      for (guint r = 0; r < out->n_rounds; r++)
        {
          out->total += out->rounds[r].total;
          out->open |= out->rounds[r].open;
        }
    }
}

/**
 * insight_leadtime:
 * @evidence: the records of a model; readings are not needed
 * @others: (array length=n_others): rounds of the shop's other models
 * @n_others: how many
 * @span: through which round, as of which day
 * @error: return location
 *
 * Returns: (transfer full) (nullable): where the days went; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE
 */
InsightLeadtime *
insight_leadtime (const BookEvidence *evidence, const BookEvidence *const *others, guint n_others, const InsightSpan *span,
                  GError **error)
{
  InsightLeadtime *leadtime;
  int through;
  BookDay today;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;

  leadtime = g_new0 (InsightLeadtime, 1);
  leadtime->model = evidence->model_id;
  leadtime->model_code = g_strdup (evidence->code);
  leadtime->today = book_day_format (today);
  leadtime->n_rounds = (guint) (through + 1);
  leadtime->rounds = g_new0 (InsightRoundDays, leadtime->n_rounds + 1);
  fill_rounds (leadtime->rounds, evidence, through, today);
  add_spreads (leadtime);
  estimate_next (leadtime);
  insight_leadtime_add_waits (leadtime, evidence, through, today);
  insight_leadtime_add_issues (leadtime, evidence, through, today);
  insight_leadtime_add_open (leadtime, evidence, through, today);
  add_earlier (leadtime, evidence, others, n_others, today);
  return leadtime;
}

void
insight_leadtime_free (InsightLeadtime *leadtime)
{
  if (leadtime == NULL)
    return;

  for (guint i = 0; i < leadtime->n_waits; i++)
    {
      g_free (leadtime->waits[i].what);
      g_free (leadtime->waits[i].supplier);
      g_free (leadtime->waits[i].from);
      g_free (leadtime->waits[i].to);
    }
  for (guint i = 0; i < leadtime->n_open; i++)
    {
      g_free (leadtime->open[i].name);
      g_free (leadtime->open[i].since);
    }
  for (guint i = 0; i < leadtime->n_earlier; i++)
    {
      free_rounds (leadtime->earlier[i].rounds, leadtime->earlier[i].n_rounds);
      g_free (leadtime->earlier[i].code);
      g_free (leadtime->earlier[i].name);
    }
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    g_array_unref (leadtime->phases[p].times);
  for (guint s = 0; s < INSIGHT_N_STAGES; s++)
    g_array_unref (leadtime->stages[s].times);
  g_array_unref (leadtime->rounds_spread.times);
  free_rounds (leadtime->rounds, leadtime->n_rounds);
  g_free (leadtime->waits);
  g_free (leadtime->open);
  g_free (leadtime->earlier);
  g_array_unref (leadtime->by_supplier);
  g_array_unref (leadtime->by_reason);
  g_free (leadtime->model_code);
  g_free (leadtime->today);
  g_free (leadtime);
}
