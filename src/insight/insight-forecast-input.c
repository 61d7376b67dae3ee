/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-forecast.h"

#include "book-evidence.h"
#include "insight-days-private.h"
#include "insight-span-private.h"

#include <math.h>
#include <stdlib.h>

/*
 * What a forecast is made of. A criterion is played as the standing judged it: by values where it was judged by values, else
 * by counts. In each further round it gets as many units as in the newest round in which any counted.
 */

#define SHORTEST       20.0 /* working days of a round that nobody has seen yet: somebody sets them; common practice, no source */
#define LONGEST        60.0
#define RESIDUAL_SHARE 0.1  /* of the least tolerated share, that still fails after a fix that works */
#define CALENDAR_MOST  7500 /* working days: about thirty years, beyond which no date is told */

static gboolean
is_by_values (const InsightCriterion *criterion)
{
  return criterion->method == INSIGHT_METHOD_NORMAL || criterion->method == INSIGHT_METHOD_LEAST
         || criterion->method == INSIGHT_METHOD_LOG_NORMAL || criterion->method == INSIGHT_METHOD_LOTS;
}

/* Round of each unit (index + 1), by key. */
static GHashTable *
rounds_of_units (const BookEvidence *e)
{
  GHashTable *rounds = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < e->n_units; i++)
    g_hash_table_insert (rounds, &e->units[i].id, GINT_TO_POINTER (e->units[i].round + 1));
  return rounds;
}

/* Counted units of the newest round that has any, else those planned or built in the newest round: what a further round is
 * taken to add. */
static guint
units_a_round (const BookEvidence *e, GHashTable *rounds, const InsightCriterion *criterion, int through)
{
  guint n = 0;
  int newest = -1;

  for (guint i = 0; i < criterion->counted.n; i++)
    {
      int round = GPOINTER_TO_INT (g_hash_table_lookup (rounds, &criterion->counted.ids[i])) - 1;

      if (round > newest)
        n = 0;
      newest = MAX (newest, round);
      n += round == newest;
    }
  if (n > 0)
    return n;
  if (through < 0)
    return 1;
  for (guint i = 0; i < e->n_units; i++)
    n += e->units[i].round == through && e->units[i].part < 0;
  return MAX (MAX (n, (guint) MAX (e->rounds[through].planned_units, 0)), 1);
}

static gboolean
leave_out (InsightForecastCriterion *out, InsightForecastLeft why)
{
  out->is_in = FALSE;
  out->left = why;
  return FALSE;
}

static gboolean
take_criterion (InsightForecastCriterion *out, const BookEvidence *e, GHashTable *rounds, const InsightCriterion *criterion, int through)
{
  NumForecastCriterion *play = &out->play;
  gboolean is_measured = criterion->kind == BOOK_CRITERION_MEASURED;

  if (criterion->kind != BOOK_CRITERION_CHECKED && !is_measured && criterion->kind != BOOK_CRITERION_FIX)
    return leave_out (out, INSIGHT_FORECAST_LEFT_RUN);
  *play = (NumForecastCriterion){
    .measured = is_measured && (is_by_values (criterion) || criterion->method == INSIGHT_METHOD_NONE),
    .strict = criterion->strict,
    .wanted = criterion->wanted_base,
    .tolerated = 1.0 - criterion->share,
    .n = criterion->n,
    .failed = criterion->failed,
    .mean = criterion->mean,
    .sd = criterion->sd,
    .limits = { criterion->lower, criterion->upper },
    .looks = criterion->looks,
    .attempt = MAX (criterion->attempts, 1),
    .units_round = units_a_round (e, rounds, criterion, through),
  };
  if (!(play->tolerated > 0.0 && play->tolerated < 1.0 && play->wanted > 0.0 && play->wanted < 1.0))
    return leave_out (out, INSIGHT_FORECAST_LEFT_NO_LIMITS);
  if (!play->measured)
    return TRUE;
  if (play->n < 2 || !(play->sd > 0.0))
    return leave_out (out, INSIGHT_FORECAST_LEFT_NO_VALUES);
  return ((isfinite (play->limits.lower) || isfinite (play->limits.upper)) && play->limits.lower < play->limits.upper
          && play->tolerated <= 0.5)
         || leave_out (out, INSIGHT_FORECAST_LEFT_NO_LIMITS);
}

static void
add_criteria (InsightForecastInput *input, const BookEvidence *e, const InsightStanding *standing, int through)
{
  g_autoptr(GHashTable) rounds = rounds_of_units (e);

  input->criteria = g_new0 (InsightForecastCriterion, standing->criteria->len + 1);
  input->n_asked = standing->criteria->len;
  input->defaults.residual = 1.0;
  for (guint i = 0; i < standing->criteria->len; i++)
    {
      const InsightCriterion *criterion = insight_standing_get_criterion (standing, i);
      InsightForecastCriterion *out = &input->criteria[input->n_criteria];

      if (!criterion->blocks)
        continue;
      input->n_criteria++;
      out->id = criterion->id;
      out->code = g_strdup (criterion->code);
      out->is_in = take_criterion (out, e, rounds, criterion, through);
      input->n_in += out->is_in;
      if (out->is_in)
        input->defaults.residual = MIN (input->defaults.residual, out->play.tolerated * RESIDUAL_SHARE);
    }
  if (input->n_in == 0)
    input->defaults.residual = 0.0;
}

static gboolean
is_finished (const InsightRoundDays *round)
{
  return !round->open && round->total > 0.0;
}

static int
compare_waits (gconstpointer a, gconstpointer b)
{
  const InsightForecastWaits *x = a, *y = b;

  return (x->days < y->days) - (x->days > y->days);
}

/* Waits of finished rounds, of one supplier (by name) or of one reason without a supplier. */
static void
add_waits (InsightForecastInput *input, const InsightLeadtime *leadtime, const BookEvidence *e)
{
  input->waits = g_new0 (InsightForecastWaits, leadtime->n_waits + 1);
  input->waited = g_new0 (InsightWait, leadtime->n_waits + 1);
  for (guint i = 0; i < leadtime->n_waits; i++)
    {
      const InsightWait *wait = &leadtime->waits[i];
      InsightForecastWaits *group = NULL;

      if (!is_finished (&leadtime->rounds[wait->round]))
        continue;
      for (guint k = 0; k < input->n_waits && group == NULL; k++)
        if (g_str_equal (input->waits[k].name, wait->supplier) && (*wait->supplier != '\0' || input->waits[k].reason == wait->reason))
          group = &input->waits[k];
      if (group == NULL)
        {
          group = &input->waits[input->n_waits++];
          group->name = g_strdup (wait->supplier);
          group->reason = wait->reason;
          for (guint s = 0; s < e->n_suppliers; s++)
            if (*wait->supplier != '\0' && g_str_equal (e->suppliers[s].name, wait->supplier))
              group->supplier = e->suppliers[s].id;
        }
      group->n++;
      group->days += wait->days;
      input->waited[input->n_waited++] = (InsightWait){ wait->id, wait->round, wait->reason, NULL, g_strdup (wait->supplier), NULL, NULL, wait->days };
    }
  qsort (input->waits, input->n_waits, sizeof *input->waits, compare_waits);
}

static gboolean
add_lengths (InsightForecastInput *input, const BookEvidence *e, const InsightSpan *span, GError **error)
{
  g_autoptr(InsightLeadtime) leadtime = insight_leadtime (e, NULL, 0, span, error);

  if (leadtime == NULL)
    return FALSE;
  input->lengths = g_new0 (InsightForecastLength, leadtime->n_rounds + 1);
  input->length_rounds = g_new0 (guint, leadtime->n_rounds + 1);
  for (guint r = 0; r < leadtime->n_rounds; r++)
    {
      const InsightRoundDays *round = &leadtime->rounds[r];

      if (!is_finished (round))
        continue;
      input->length_rounds[input->n_lengths] = r;
      input->lengths[input->n_lengths++] = (InsightForecastLength){ round->id, g_strdup (round->label), round->total };
    }
  input->defaults.shortest = isnan (leadtime->rounds_spread.least) ? SHORTEST : leadtime->rounds_spread.least;
  input->defaults.longest = isnan (leadtime->rounds_spread.most) ? LONGEST : leadtime->rounds_spread.most;
  if (!(input->defaults.longest > input->defaults.shortest))
    input->defaults.longest = 2.0 * input->defaults.shortest;
  add_waits (input, leadtime, e);
  return TRUE;
}

/* A fix held when units of the new state do not show the issue; each time it came back one did not. The attempts count a failure
 * of the fix that stands too: that one is told by the state, so that no fix counts twice. */
static void
add_fixes (InsightForecastInput *input, const InsightIssues *issues)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];
      guint standing = 1 + (issue->after_failed > 0);

      input->defaults.worked += issue->after_n > 0
                                && (issue->state == INSIGHT_ISSUE_PROVEN || issue->state == INSIGHT_ISSUE_NOT_AGAIN);
      input->defaults.failed += MAX (issue->attempts, standing) - standing + (issue->state == INSIGHT_ISSUE_CAME_BACK);
    }
}

static void
add_calendar (InsightForecastInput *input, const BookEvidence *e, BookDay begin)
{
  const BookDay most = begin + 40 * 366;

  input->calendar = g_new (BookDay, CALENDAR_MOST);
  for (BookDay day = begin; day < most && input->n_calendar < CALENDAR_MOST; day++)
    if (insight_span_working_days (e, day, day + 1) > 0)
      input->calendar[input->n_calendar++] = day + 1;
}

/**
 * insight_forecast_input:
 * @evidence: the records of the model
 * @standing: where it stands; says through which round and as of which day
 * @issues: its issues, through the same round on the same day
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what a forecast is made of; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE
 */
InsightForecastInput *
insight_forecast_input (const BookEvidence *evidence, const InsightStanding *standing, const InsightIssues *issues, GError **error)
{
  const InsightSpan span = { standing->round, standing->today };
  g_autoptr(InsightForecastInput) input = g_new0 (InsightForecastInput, 1);
  const BookEvidenceRound *present = NULL;
  int through;
  BookDay today, begin;

  if (!insight_span_resolve (evidence, &span, &through, &today, error))
    return NULL;

  input->model = evidence->model_id;
  input->today = book_day_format (today);
  input->defaults.waits = -1;
  input->defaults.wait_most = INSIGHT_FORECAST_WAIT;
  if (through >= 0)
    present = &evidence->rounds[through];
  begin = today;
  if (present != NULL && present->opened != 0 && present->opened <= today && (present->tested == 0 || present->tested > today)
      && (present->decided == 0 || present->decided > today))
    {
      begin = present->opened;
      input->begin_round = g_strdup (present->label);
    }
  else
    input->begin_round = g_strdup ("");
  input->begin = book_day_format (begin);
  add_criteria (input, evidence, standing, through);
  if (!add_lengths (input, evidence, &span, error))
    return NULL;
  add_fixes (input, issues);
  add_calendar (input, evidence, begin);
  return g_steal_pointer (&input);
}

void
insight_forecast_input_free (InsightForecastInput *input)
{
  if (input == NULL)
    return;

  for (guint i = 0; i < input->n_criteria; i++)
    g_free (input->criteria[i].code);
  for (guint i = 0; i < input->n_lengths; i++)
    g_free (input->lengths[i].label);
  for (guint i = 0; i < input->n_waits; i++)
    g_free (input->waits[i].name);
  for (guint i = 0; i < input->n_waited; i++)
    g_free (input->waited[i].supplier);
  g_free (input->criteria);
  g_free (input->lengths);
  g_free (input->length_rounds);
  g_free (input->waits);
  g_free (input->waited);
  g_free (input->calendar);
  g_free (input->begin_round);
  g_free (input->begin);
  g_free (input->today);
  g_free (input);
}
