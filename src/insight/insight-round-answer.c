/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-round.h"

#include "book-evidence.h"
#include "insight-pilot.h"

#include <math.h>
#include <string.h>

/*
 * What a round answered: the standing at its end against that at the end of the round before, the issues that its changes
 * were to solve, and the yields of its steps. Each figure is the one that the other pages show for the same span.
 */

static void
fix_free (gpointer data)
{
  InsightRoundFix *fix = data;

  g_free (fix->title);
  g_free (fix);
}

static char *
name_of (const InsightCriterion *criterion)
{
  return criterion->about_name[0] != '\0' ? g_strdup_printf ("%s %s", criterion->code, criterion->about_name) : g_strdup (criterion->code);
}

static char **
take_names (GPtrArray *names)
{
  g_ptr_array_add (names, NULL);
  return (char **) g_ptr_array_free (names, FALSE);
}

static void
set_standings (InsightRoundAnswer *answer, const InsightStanding *before, const InsightStanding *after)
{
  GPtrArray *newly = g_ptr_array_new (), *no_longer = g_ptr_array_new (), *against = g_ptr_array_new ();

  answer->met_before = before != NULL ? before->n_met : 0;
  answer->met = after->n_met;
  answer->total = after->n_total;
  answer->block = after->n_block;
  for (guint i = 0; i < after->criteria->len; i++)
    {
      const InsightCriterion *now = after->criteria->pdata[i];
      const InsightCriterion *then = insight_standing_find_criterion (before, now->id);
      gboolean was_met = then != NULL && then->state == INSIGHT_MET;

      if (now->state == INSIGHT_MET && !was_met)
        g_ptr_array_add (newly, name_of (now));
      if (now->state != INSIGHT_MET && was_met)
        g_ptr_array_add (no_longer, name_of (now));
      if (now->state == INSIGHT_AGAINST)
        g_ptr_array_add (against, name_of (now));
    }
  answer->newly_met = take_names (newly);
  answer->no_longer_met = take_names (no_longer);
  answer->against = take_names (against);
}

/* Whether a change that begins with the round answers the issue. */
static gboolean
is_answered (const BookEvidence *e, int round, gint64 issue)
{
  for (guint i = 0; i < e->n_change_issues; i++)
    {
      const BookEvidenceChange *change = &e->changes[e->change_issues[i].change];

      if (change->from_round == round && change->agreed != 0 && e->issues[e->change_issues[i].issue].id == issue)
        return TRUE;
    }
  return FALSE;
}

static void
set_issues (InsightRoundAnswer *answer, const BookEvidence *e, int round, const InsightIssues *issues)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];
      InsightRoundFix *fix;

      answer->found += issue->found_round_id == e->rounds[round].id && issue->outcome != BOOK_OUTCOME_DUPLICATE;
      if (!is_answered (e, round, issue->id))
        continue;
      fix = g_new0 (InsightRoundFix, 1);
      fix->no = issue->no;
      fix->title = g_strdup (issue->title);
      fix->state = issue->state;
      fix->n = issue->after_n;
      fix->failed = issue->after_failed;
      fix->confidence = issue->confidence;
      g_ptr_array_add (answer->fixes, fix);
    }
}

static gboolean
set_yields (InsightRoundAnswer *answer, const BookEvidence *e, const InsightSpan *span, GError **error)
{
  g_autoptr(InsightPilot) pilot = insight_pilot (e, span, error);

  answer->rolled = answer->rolled_low = answer->rolled_high = NAN;
  if (pilot == NULL)
    return FALSE;
  if (pilot->round != span->through)
    return TRUE; /* nothing was counted in it */
  answer->rolled = pilot->rolled;
  answer->rolled_low = pilot->rolled_interval.low;
  answer->rolled_high = pilot->rolled_interval.high;
  answer->steps = pilot->counted_steps;
  return TRUE;
}

/**
 * insight_round_answer:
 * @evidence: the records of a model, with its readings
 * @round: key of a round
 * @today: day of the question, ISO 8601
 * @cancellable: (nullable): asked now and then
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what the round answered; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE,
 *   %G_IO_ERROR_CANCELLED
 */
InsightRoundAnswer *
insight_round_answer (const BookEvidence *evidence, gint64 round, const char *today, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { round, today };
  g_autoptr(InsightStanding) after = insight_standing (evidence, &span, cancellable, error);
  g_autoptr(InsightStanding) before = NULL;
  g_autoptr(InsightIssues) issues = after != NULL ? insight_issues (evidence, &span, cancellable, error) : NULL;
  g_autoptr(InsightRoundAnswer) answer = NULL;
  int index;

  if (issues == NULL)
    return NULL;
  index = book_evidence_find (evidence, rounds, round);
  if (index > 0)
    {
      const InsightSpan earlier = { evidence->rounds[index - 1].id, today };

      before = insight_standing (evidence, &earlier, cancellable, error);
      if (before == NULL)
        return NULL;
    }
  answer = g_new0 (InsightRoundAnswer, 1);
  answer->fixes = g_ptr_array_new_with_free_func (fix_free);
  set_standings (answer, before, after);
  set_issues (answer, evidence, index, issues);
  return set_yields (answer, evidence, &span, error) ? g_steal_pointer (&answer) : NULL;
}

void
insight_round_answer_free (InsightRoundAnswer *answer)
{
  if (answer == NULL)
    return;
  g_strfreev (answer->newly_met);
  g_strfreev (answer->no_longer_met);
  g_strfreev (answer->against);
  g_ptr_array_unref (answer->fixes);
  g_free (answer);
}
