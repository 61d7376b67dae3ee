/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-issue-private.h"
#include "insight-span-private.h"

#include <math.h>

/*
 * Every issue at all looks: the earlier ones tell whether and when it was proven, the last one is its state.
 */

static const char *const state_names[] = { "open", "not-again", "proven", "came-back" };
G_STATIC_ASSERT (G_N_ELEMENTS (state_names) == INSIGHT_N_ISSUE_STATES);

/* An untranslated word, such as `not-again`. */
const char *
insight_issue_state_name (InsightIssueState state)
{
  g_return_val_if_fail ((guint) state < INSIGHT_N_ISSUE_STATES, "");

  return state_names[state];
}

static void
free_finding (gpointer data)
{
  InsightIssueFinding *finding = data;

  g_free (finding->unit);
  g_free (finding->round);
  g_free (finding->lot);
  g_free (finding->found_at);
  g_free (finding->caused_at);
  g_free (finding->by);
  g_free (finding->date);
  g_free (finding->reason);
  g_free (finding);
}

static void
free_issue (gpointer data)
{
  InsightIssue *issue = data;

  g_free (issue->title);
  g_free (issue->found_round);
  g_free (issue->found);
  g_free (issue->seen_by);
  g_free (issue->cause);
  g_free (issue->closed);
  g_free (issue->change_title);
  g_free (issue->changes.ids);
  g_free (issue->before.ids);
  g_free (issue->after.ids);
  g_free (issue->after_failing.ids);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    g_free (issue->dates[i]);
  g_ptr_array_unref (issue->findings);
  g_ptr_array_unref (issue->reasons);
  g_free (issue);
}

static void
free_round (gpointer data)
{
  InsightIssueRound *round = data;

  g_free (round->label);
  g_free (round);
}

void
insight_issues_free (InsightIssues *issues)
{
  if (issues == NULL)
    return;

  g_free (issues->model_code);
  g_free (issues->round_label);
  g_free (issues->end);
  g_ptr_array_unref (issues->issues);
  g_array_unref (issues->points);
  g_ptr_array_unref (issues->rounds);
  g_free (issues);
}

static void
add_unit_ids (InsightIds *ids, const BookEvidence *e, const GArray *units)
{
  for (guint i = 0; i < units->len; i++)
    insight_ids_add (ids, e->units[g_array_index (units, guint, i)].id);
}

static InsightIssue *
describe (const InsightLook *look, int number)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceIssue *one = &e->issues[number];
  InsightIssue *out = g_new0 (InsightIssue, 1);
  gboolean closed = one->closed != 0 && one->closed <= look->said;

  out->id = one->id;
  out->no = one->no;
  out->title = g_strdup (one->title);
  out->klass = one->klass;
  out->found_round = g_strdup (one->found_round >= 0 ? e->rounds[one->found_round].label : "");
  out->found_round_id = one->found_round >= 0 ? e->rounds[one->found_round].id : 0;
  out->found = book_day_format (one->found);
  out->seen_by = g_strdup (one->seen_by >= 0 ? e->characteristics[one->seen_by].code : "");
  out->characteristic = one->seen_by >= 0 ? e->characteristics[one->seen_by].id : 0;
  out->in_life_test = one->seen_in_life_test;
  out->cause = g_strdup (one->cause);
  out->cause_basis = one->cause_basis;
  out->owner = one->owner >= 0 ? e->persons[one->owner].id : 0;
  out->closed = book_day_format (closed ? one->closed : 0);
  out->outcome = closed ? one->outcome : 0;
  out->findings = g_ptr_array_new_with_free_func (free_finding);
  out->reasons = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_reason_free);
  return out;
}

static void
take_over (InsightIssue *out, const InsightFix *fix)
{
  const BookEvidence *e = fix->look->basis->e;

  out->has_test = fix->has_test;
  out->change = fix->change >= 0 ? e->changes[fix->change].id : 0;
  out->change_no = fix->change >= 0 ? e->changes[fix->change].no : 0;
  out->change_title = g_strdup (fix->change >= 0 ? e->changes[fix->change].title : "");
  for (guint i = 0; i < fix->changes->len; i++)
    insight_ids_add (&out->changes, e->changes[g_array_index (fix->changes, int, i)].id);
  out->state = fix->state;
  out->tolerated = fix->tolerated;
  out->wanted_base = fix->terms.confidence;
  out->wanted = fix->wanted;
  out->strict = fix->terms.strict;
  out->confidence = fix->confidence;
  out->fisher = fix->fisher;
  out->reproduced = fix->reproduced;
  out->before_n = fix->before_n;
  out->before_failed = fix->before_failed;
  out->after_n = fix->after_n;
  out->after_failed = fix->after_failed;
  out->looks = fix->looks;
  out->attempts = fix->attempts;
  out->earlier_failures = fix->gone;
  out->needed_load = fix->needed_load;
  out->needed_cycles = fix->needed_cycles;
  out->units_needed = fix->units_needed;
  add_unit_ids (&out->before, e, fix->before);
  add_unit_ids (&out->after, e, fix->after);
  add_unit_ids (&out->after_failing, e, fix->failing);
}

/* Closed as proven by somebody, which the units do not bear out. */
static void
tell_not_shown (InsightIssue *out, const InsightFix *fix)
{
  const BookEvidence *e = fix->look->basis->e;
  const BookEvidenceIssue *one = &e->issues[fix->issue];
  InsightReason *reason;

  if (out->outcome != BOOK_OUTCOME_PROVEN || out->state == INSIGHT_ISSUE_PROVEN)
    return;
  reason = insight_reason_new (INSIGHT_REASON_ISSUE_NOT_SHOWN);
  insight_reason_add_name (reason, out->closed);
  insight_reason_add_name (reason, one->outcome_by >= 0 ? e->persons[one->outcome_by].initials : "");
  g_ptr_array_add (out->reasons, reason);
}

static void
note (GArray *events, BookDay day, int found, int proven)
{
  InsightIssueEvent event = { day, found, proven };

  if (day != 0)
    g_array_append_val (events, event);
}

/* Days on which it became proven, and lost it again; the last of them while it stands, else 0. */
static BookDay
follow_states (const InsightFix *fix, BookDay since, GArray *events, InsightIssue *out)
{
  if (fix->state == INSIGHT_ISSUE_PROVEN)
    {
      out->was_proven = TRUE;
      return since != 0 ? since : MAX (fix->last, 1);
    }
  if (since != 0)
    {
      note (events, since, 0, 1);
      note (events, MAX (fix->last, since + 1), 0, -1);
    }
  return 0;
}

/* One issue at all looks; %NULL when it is not known by the last of them. */
static InsightIssue *
judge (const GPtrArray *looks, InsightUnits *units, int number, GArray *events)
{
  const InsightLook *last = looks->pdata[looks->len - 1];
  const BookEvidence *e = last->basis->e;
  gboolean after_closing = FALSE, came_back = FALSE;
  BookDay proven = 0;
  InsightIssue *out;

  if (!insight_issue_is_seen (e, number, last->through, last->said))
    return NULL;
  out = describe (last, number);
  insight_issue_count_findings (last, number, out, &after_closing);
  if (out->outcome == BOOK_OUTCOME_NOT_REPRODUCED && after_closing)
    out->outcome = 0; /* it was seen again */
  for (guint i = 0; i < looks->len; i++)
    {
      const InsightLook *look = looks->pdata[i];
      InsightFixTerms terms = insight_fix_terms (e, number, -1, look->end);
      g_autoptr(InsightFix) fix = NULL;

      if (!insight_issue_is_seen (e, number, look->through, look->said))
        continue;
      fix = insight_fix_new (look, units, number, &terms);
      came_back = came_back || fix->state == INSIGHT_ISSUE_CAME_BACK;
      proven = follow_states (fix, proven, events, out);
      if (look == last)
        {
          take_over (out, fix);
          if (!insight_issue_is_closed (out))
            {
              tell_not_shown (out, fix);
              insight_fix_tell (fix, out->reasons);
            }
        }
    }
  out->recurring = out->n_rounds > 1 || came_back || out->attempts > 1;
  insight_issue_find_days (last, number, proven, out);
  if (out->outcome != BOOK_OUTCOME_DUPLICATE)
    {
      note (events, e->issues[number].found, 1, 0);
      note (events, proven, 0, 1);
    }
  return out;
}

static void
add_rounds (InsightIssues *issues, const BookEvidence *e, int through, BookDay end)
{
  for (int r = 0; r <= through; r++)
    {
      const BookEvidenceRound *one = &e->rounds[r];
      InsightIssueRound *round;

      if (one->opened == 0)
        continue;
      round = g_new0 (InsightIssueRound, 1);
      round->id = one->id;
      round->label = g_strdup (one->label);
      round->from = one->opened;
      round->to = one->decided != 0 ? MIN (one->decided, end) : end;
      g_ptr_array_add (issues->rounds, round);
    }
}

static InsightIssues *
issues_new (const BookEvidence *e, int through, BookDay end)
{
  InsightIssues *issues = g_new0 (InsightIssues, 1);

  issues->model = e->model_id;
  issues->model_code = g_strdup (e->code);
  issues->round = through >= 0 ? e->rounds[through].id : 0;
  issues->round_label = g_strdup (through >= 0 ? e->rounds[through].label : "");
  issues->end = book_day_format (end);
  issues->issues = g_ptr_array_new_with_free_func (free_issue);
  issues->points = g_array_new (FALSE, FALSE, sizeof (InsightIssuePoint));
  issues->rounds = g_ptr_array_new_with_free_func (free_round);
  add_rounds (issues, e, through, end);
  return issues;
}

/**
 * insight_issues:
 * @evidence: the records of a model
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked once an issue
 * @error: return location
 *
 * Judges every issue that was known by the end of the span, of the newest round until today: what comes back from the field comes
 * after it. Pure: the same records and span give the same answer.
 *
 * Returns: (transfer full) (nullable): the issues; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightIssues *
insight_issues (const BookEvidence *evidence, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightIssues) issues = NULL;
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(GPtrArray) looks = NULL;
  g_autoptr(GArray) events = g_array_new (FALSE, FALSE, sizeof (InsightIssueEvent));
  g_auto(InsightUnits) units = { 0 };
  BookDay today, end;
  int through;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;
  basis = insight_basis_new (evidence);
  looks = insight_look_list (basis, through, today);
  end = ((const InsightLook *) looks->pdata[looks->len - 1])->said;
  issues = issues_new (evidence, through, end);
  insight_units_init (&units, basis);
  for (guint i = 0; i < evidence->n_issues; i++)
    {
      InsightIssue *issue;

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      issue = judge (looks, &units, (int) i, events);
      if (issue == NULL)
        continue;
      g_ptr_array_add (issues->issues, issue);
      if (insight_issue_is_closed (issue))
        issues->n_closed++;
      else
        issues->n_states[issue->state]++;
    }
  insight_issues_find_ages (issues);
  insight_issues_find_points (issues, events, end);
  return g_steal_pointer (&issues);
}

/**
 * insight_issues_find:
 * @issues: issues
 * @id: key
 *
 * Returns: (nullable): the issue with that key
 */
const InsightIssue *
insight_issues_find (const InsightIssues *issues, gint64 id)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];

      if (issue->id == id)
        return issue;
    }
  return NULL;
}

/**
 * insight_issue_is_closed:
 * @issue: an issue
 *
 * Returns: whether somebody closed it as a duplicate, not reproduced or accepted; one that was closed as proven is
 *   judged by its units alone
 */
gboolean
insight_issue_is_closed (const InsightIssue *issue)
{
  return issue->outcome != 0 && issue->outcome != BOOK_OUTCOME_PROVEN;
}
