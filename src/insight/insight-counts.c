/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-fix-private.h"

#include <math.h>
#include <string.h>

/*
 * Criteria that ask whether things are done: issues proven, documents approved, revisions released, opinions given, lots accepted. They
 * have no confidence; they are met when all are done, or as many as the target asks for.
 */

typedef struct
{
  GPtrArray *left; /* char *: what is not done */
  guint      asked;
  guint      done;
} Tally;

static void
tally_one (Tally *tally, gboolean done, char *name)
{
  tally->asked++;
  tally->done += done;
  if (done)
    g_free (name);
  else
    g_ptr_array_add (tally->left, name);
}

static void
tally_documents (const InsightQuestion *question, Tally *tally)
{
  const BookEvidence *e = question->basis->e;

  for (guint i = 0; i < e->n_documents; i++)
    tally_one (tally, e->documents[i].state == BOOK_DOCUMENT_APPROVED && e->documents[i].day <= question->look->said,
               g_strdup (e->documents[i].title));
}

/* Those of the newest round's plan, and what it takes over from the plans before. */
static void
tally_revisions (const InsightQuestion *question, Tally *tally)
{
  const BookEvidence *e = question->basis->e;
  int newest = question->look->newest >= 0 ? question->look->newest : question->look->through;

  for (guint r = 0; newest >= 0 && r < e->n_revisions; r++)
    {
      const BookEvidenceRevision *revision = &e->revisions[r];
      gboolean planned = FALSE, named = FALSE;
      gboolean split;

      for (guint i = 0; i < e->n_plans; i++)
        if (e->plans[i].round == newest && e->plans[i].part == revision->part)
          {
            named = TRUE;
            planned |= e->plans[i].revision == (int) r;
          }
      if (!named)
        planned = insight_plan_revision (e, newest, revision->part, &split) == (int) r;
      if (planned)
        tally_one (tally, revision->state == BOOK_REVISION_RELEASED && revision->date <= question->look->said,
                   g_strdup_printf ("%s %s", e->parts[revision->part].number, revision->label));
    }
}

/* The newest opinion of each person at the criterion's gate. */
static void
tally_signoffs (const InsightQuestion *question, Tally *tally)
{
  const BookEvidence *e = question->basis->e;

  for (guint i = 0; i < e->n_signoffs; i++)
    {
      const BookEvidenceSignoff *one = &e->signoffs[i];
      gboolean newest = TRUE;

      if (one->gate != question->criterion->gate || one->day > question->look->said)
        continue;
      for (guint k = i + 1; k < e->n_signoffs; k++)
        if (e->signoffs[k].gate == one->gate && e->signoffs[k].person == one->person
            && e->signoffs[k].day <= question->look->said)
          newest = FALSE;
      if (newest)
        tally_one (tally, one->opinion == BOOK_OPINION_AGREE || one->opinion == BOOK_OPINION_AGREE_WITH_CONDITIONS,
                   g_strdup (one->person >= 0 ? e->persons[one->person].initials : ""));
    }
}

/* Those that the units of the newest round hold. */
static void
tally_lots (const InsightQuestion *question, Tally *tally)
{
  const InsightBasis *basis = question->basis;
  const BookEvidence *e = basis->e;
  guint width = e->n_parts + e->n_steps;
  g_autofree guint8 *used = g_new0 (guint8, e->n_lots + 1);

  for (guint u = 0; u < e->n_units; u++)
    for (guint i = 0; e->units[u].round == question->look->newest && i < width; i++)
      if (basis->lot_of[(gsize) u * width + i] >= 0)
        used[basis->lot_of[(gsize) u * width + i]] = 1;
  for (guint i = 0; i < e->n_lots; i++)
    if (used[i])
      tally_one (tally, e->lots[i].verdict == BOOK_LOT_ACCEPTED || e->lots[i].verdict == BOOK_LOT_SORTED,
                 g_strdup (e->lots[i].number));
}

/* Closed by name as accepted or not reproduced; never one about safety, nor one that was found again later. */
static gboolean
is_excepted (const BookEvidence *e, guint number, BookDay end)
{
  const BookEvidenceIssue *issue = &e->issues[number];

  if (issue->closed == 0 || issue->closed > end || issue->outcome_by < 0 || issue->klass == BOOK_CLASS_SAFETY
      || (issue->outcome != BOOK_OUTCOME_ACCEPTED && issue->outcome != BOOK_OUTCOME_NOT_REPRODUCED))
    return FALSE;
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].issue == (int) number && e->findings[i].day > issue->closed && e->findings[i].day <= end)
      return FALSE;
  return TRUE;
}

static void
say_excepted (InsightQuestion *question, InsightReason **reason, const BookEvidenceIssue *issue)
{
  const BookEvidence *e = question->basis->e;
  const BookChoice *outcome = book_choice_by_code (book_issue_outcomes, issue->outcome);
  g_autofree char *name = g_strdup_printf ("%d %s", issue->no, issue->title);

  if (*reason == NULL)
    *reason = insight_reason_new (INSIGHT_REASON_ISSUES_EXCEPTED);
  insight_reason_add_name (*reason, name);
  insight_reason_add_name (*reason, e->persons[issue->outcome_by].initials);
  insight_reason_add_name (*reason, outcome != NULL ? outcome->text : "");
  insight_reason_add_id (*reason, issue->id);
}

/* Those known by then, but duplicates: proven by units, whatever was written down. */
static void
tally_issues (InsightQuestion *question, Tally *tally)
{
  const InsightLook *look = question->look;
  const BookEvidence *e = question->basis->e;
  InsightReason *reason = NULL;
  guint excepted = 0;

  for (guint i = 0; i < e->n_issues; i++)
    {
      const BookEvidenceIssue *issue = &e->issues[i];
      InsightFixTerms terms = insight_fix_terms (e, (int) i, -1, look->end);
      g_autoptr(InsightFix) fix = NULL;

      if (!insight_issue_is_seen (e, (int) i, look->through, look->said)
          || (issue->closed != 0 && issue->closed <= look->said && issue->outcome == BOOK_OUTCOME_DUPLICATE))
        continue;
      if (is_excepted (e, i, look->said))
        {
          excepted++;
          say_excepted (question, &reason, issue);
          continue;
        }
      fix = insight_fix_new (look, question->units, (int) i, &terms);
      tally_one (tally, fix->state == INSIGHT_ISSUE_PROVEN, g_strdup_printf ("%d %s", issue->no, issue->title));
    }
  if (reason != NULL)
    {
      insight_reason_add_count (reason, excepted);
      g_ptr_array_add (question->out->reasons, reason);
    }
}

/*
 * How many must be done: all, or as many as the terms ask for. A target up to 1 is a share of what is asked for, like the
 * share of the terms; above 1 it is a number.
 */
static guint
count_wanted (const InsightTerms *terms, guint asked)
{
  double share = 1.0;

  if (terms->target > 1.0)
    return (guint) MIN (ceil (terms->target), G_MAXINT);
  if (terms->target > 0.0)
    share = terms->target;
  else if (terms->term != NULL && terms->term->share > 0.0)
    share = terms->term->share;
  return (guint) ceil (share * asked - INSIGHT_ROUNDING);
}

/**
 * insight_judge_count:
 * @question: about issues, documents, revisions, sign-offs or lots
 *
 * Fills in what is done of what is asked for, and the state: met at all of it or at the target, else too few.
 */
void
insight_judge_count (InsightQuestion *question)
{
  InsightCriterion *out = question->out;
  g_autoptr(GPtrArray) left = g_ptr_array_new_with_free_func (g_free);
  Tally tally = { left, 0, 0 };
  InsightReason *reason;

  switch (question->criterion->kind)
    {
    case BOOK_CRITERION_DOCUMENTS:
      tally_documents (question, &tally);
      break;
    case BOOK_CRITERION_REVISIONS:
      tally_revisions (question, &tally);
      break;
    case BOOK_CRITERION_SIGN_OFFS:
      tally_signoffs (question, &tally);
      break;
    case BOOK_CRITERION_LOTS:
      tally_lots (question, &tally);
      break;
    case BOOK_CRITERION_ISSUES:
      tally_issues (question, &tally);
      break;
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_MEASURED:
    case BOOK_CRITERION_FIX:
    case BOOK_CRITERION_YIELD:
    case BOOK_CRITERION_RATE:
    case BOOK_CRITERION_LIFE:
    case BOOK_CRITERION_METHOD:
    case BOOK_CRITERION_DETECTION:
      g_return_if_reached ();
    }

  out->method = INSIGHT_METHOD_COUNT;
  out->n = count_wanted (&question->terms, tally.asked);
  out->done = MIN (tally.done, out->n);
  out->share = 1.0;
  out->state = out->n == 0 ? INSIGHT_NO_DATA : out->done >= out->n ? INSIGHT_MET : INSIGHT_TOO_FEW;
  out->units_needed = 0;

  reason = insight_say (question, INSIGHT_REASON_COUNT_DONE);
  insight_reason_add_count (reason, out->done);
  insight_reason_add_count (reason, out->n);
  for (guint i = 0; i < left->len; i++)
    insight_reason_add_name (reason, left->pdata[i]);
}
