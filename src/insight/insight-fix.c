/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"
#include "insight-fix-private.h"

#include "insight-counting-private.h"
#include "num-anytime.h"
#include "num-compare.h"
#include "num-demonstration.h"
#include "num-fix.h"

#include <math.h>
#include <stdlib.h>

/*
 * Method. A fix is proven when (a) the test now used showed the failure on the old state, or its cause was switched on
 * and off, (b) counted units carry the new state and bore the load and 1.5 times the cycles at which it appeared, (c) the
 * confidence that less than the tolerated share of them show it reaches the one wanted, and (d) Fisher's one-sided
 * chance of so few after, if nothing had changed, is below 0.10. Failures on the old state count in (d), never in (c).
 *
 * The newest change that answers the issue and was built is the one that is judged. A failure on the new state of an
 * earlier answer, one that another state of design, a voiding, an excuse or a new limit took out, and one that stands
 * each make the next try another attempt: all of them are counted from the records as they are, so that neither order
 * nor number of looks changes them.
 */

static const int fisher_most = 100000; /* units beyond which no number helps */

/**
 * insight_issue_is_seen:
 * @evidence: the records
 * @issue: an issue
 * @through: round looked through, -1 none
 * @end: last day that is seen
 *
 * Returns: whether the issue was known by then
 */
gboolean
insight_issue_is_seen (const BookEvidence *evidence, int issue, int through, BookDay end)
{
  const BookEvidenceIssue *one = &evidence->issues[issue];

  return one->found <= end && (one->found != 0 || one->found_round <= through);
}

/**
 * insight_fix_terms:
 * @evidence: the records
 * @issue: an issue
 * @criterion: the criterion that asks, -1: the first one about the issue, if there is one
 * @day: end of the span
 *
 * Returns: what is asked: by the criterion's terms; without a criterion the issue's tolerated share (else that of its
 *   class) at 0.90, strict
 */
InsightFixTerms
insight_fix_terms (const BookEvidence *evidence, int issue, int criterion, BookDay day)
{
  const BookEvidenceIssue *one = &evidence->issues[issue];
  BookCountsFrom usual = one->klass == BOOK_CLASS_SAFETY ? BOOK_COUNTS_PILOT : BOOK_COUNTS_PROTOTYPE;
  InsightFixTerms terms = { insight_class_share (one->klass), INSIGHT_FIX_CONFIDENCE, TRUE, usual };
  InsightTerms asked = { .share = NAN, .confidence = NAN };

  for (guint i = 0; criterion < 0 && i < evidence->n_criteria; i++)
    if (evidence->criteria[i].kind == BOOK_CRITERION_FIX && evidence->criteria[i].issue == issue)
      criterion = (int) i;
  if (criterion >= 0)
    {
      asked = insight_terms_on (evidence, (guint) criterion, day);
      terms.confidence = asked.confidence;
      terms.strict = evidence->criteria[criterion].strict;
      terms.counts_from = evidence->criteria[criterion].counts_from;
    }
  if (asked.term != NULL && asked.term->share > 0.0 && asked.term->share < 1.0)
    terms.share = asked.term->share;
  else if (one->tolerated > 0.0 && one->tolerated < 1.0)
    terms.share = 1.0 - one->tolerated;
  return terms;
}

static gboolean
is_built (const InsightFix *fix, int change)
{
  const InsightBasis *basis = fix->look->basis;

  for (guint i = 0; i < basis->e->n_units; i++)
    if (basis->built[i] != 0 && basis->built[i] <= fix->look->end && basis->e->units[i].round <= fix->look->through
        && insight_fix_side (fix->look, change, basis->build_of[i]) == INSIGHT_SIDE_NEW)
      return TRUE;
  return FALSE;
}

static int
compare_changes (gconstpointer a, gconstpointer b, gpointer data)
{
  const BookEvidence *e = data;
  const BookEvidenceChange *first = &e->changes[*(const int *) a], *second = &e->changes[*(const int *) b];

  if (first->day != second->day)
    return first->day < second->day ? -1 : 1;
  return (first->no > second->no) - (first->no < second->no);
}

static void
find_changes (InsightFix *fix)
{
  const BookEvidence *e = fix->look->basis->e;

  for (guint i = 0; i < e->n_change_issues; i++)
    if (e->change_issues[i].issue == fix->issue && e->change_issues[i].change >= 0
        && insight_look_sees_change (fix->look, e->change_issues[i].change))
      insight_add_once (fix->changes, e->change_issues[i].change);
  g_array_sort_with_data (fix->changes, compare_changes, (gpointer) e);

  for (guint i = fix->changes->len; i-- > 0 && !fix->built;)
    {
      int change = g_array_index (fix->changes, int, i);
      gboolean names_state = insight_fix_names_state (fix->look, change);

      fix->built = names_state && is_built (fix, change);
      if (fix->built || fix->change < 0 || (names_state && !fix->names_state))
        {
          fix->change = change;
          fix->names_state = names_state;
        }
    }
}

/* Units of each build are on one side: asked once a build. */
typedef struct
{
  InsightFixSide judged; /* of the change that counts */
  gboolean       old;    /* of some answer */
  gboolean       earlier; /* on the new side of an earlier answer, not of the one that counts */
} Sides;

static Sides *
find_sides (const InsightFix *fix)
{
  guint n = fix->look->basis->n_builds;
  Sides *sides = g_new0 (Sides, n + 1);

  for (guint b = 0; b < n; b++)
    {
      if (fix->change >= 0)
        sides[b].judged = insight_fix_side (fix->look, fix->change, b);
      for (guint i = 0; i < fix->changes->len && sides[b].judged != INSIGHT_SIDE_NEW; i++)
        {
          InsightFixSide side = insight_fix_side (fix->look, g_array_index (fix->changes, int, i), b);

          sides[b].old |= side == INSIGHT_SIDE_OLD;
          sides[b].earlier |= side == INSIGHT_SIDE_NEW;
        }
    }
  return sides;
}

typedef enum
{
  START_EARLIER, /* by round */
  START_STATE,   /* by round */
  START_VOID,    /* by day */
  START_EXCUSE,  /* by day */
  START_LIMIT    /* one */
} StartKind;

static void
note_start (InsightFix *fix, GArray *starts, StartKind kind, int when)
{
  gint64 start = ((gint64) kind << 32) | (guint32) when;

  fix->gone++;
  for (guint i = 0; i < starts->len; i++)
    if (g_array_index (starts, gint64, i) == start)
      return;
  g_array_append_val (starts, start);
}

static BookDay
day_excused (const InsightLook *look, guint unit)
{
  int finding = look->basis->excused[unit];

  return look->basis->aside[unit] != 0 ? look->basis->aside[unit] : finding >= 0 ? look->basis->e->findings[finding].day : 0;
}

/* A failure that was counted once: whether of the new state of an earlier answer, or taken out since. */
static void
note_gone (InsightFix *fix, GArray *starts, const InsightTrial *trial, gboolean earlier)
{
  const BookEvidence *e = fix->look->basis->e;
  gboolean failed = (trial->fails || trial->found) && !trial->other;

  if (trial->own == INSIGHT_NOT_GAUGE || trial->own == INSIGHT_NOT_ALTERED
      || e->rounds[e->units[trial->unit].round].kind == BOOK_ROUND_BENCH)
    return;
  if (earlier && (failed || trial->void_failing || trial->failed_then))
    note_start (fix, starts, START_EARLIER, e->units[trial->unit].round);
  else if (earlier)
    return;
  else if (failed && insight_is_excused (fix->look, trial->unit))
    note_start (fix, starts, START_EXCUSE, day_excused (fix->look, trial->unit));
  else if (failed && trial->own == INSIGHT_NOT_OLDER_LIMIT)
    note_start (fix, starts, START_LIMIT, 0);
  else if (failed && (trial->counting == INSIGHT_NOT_STATE || trial->counting == INSIGHT_NOT_LATER_STATE))
    note_start (fix, starts, START_STATE, e->units[trial->unit].round);
  else if (!failed && trial->void_failing)
    note_start (fix, starts, START_VOID, trial->void_day);
  else if (!failed && trial->failed_then)
    note_start (fix, starts, START_LIMIT, 0);
}

static void
count_before (InsightFix *fix, const InsightTrial *trial)
{
  const BookEvidence *e = fix->look->basis->e;

  if (!trial->tested || trial->other || trial->own != INSIGHT_COUNTS || insight_is_excused (fix->look, trial->unit)
      || e->rounds[e->units[trial->unit].round].kind == BOOK_ROUND_BENCH)
    return;
  g_array_append_val (fix->before, trial->unit);
  fix->before_n++;
  fix->before_failed += trial->fails;
}

static void
note_look (InsightFix *fix, GArray *rounds, guint unit)
{
  guint before = rounds->len;

  insight_add_once (rounds, fix->look->basis->e->units[unit].round);
  fix->looks += rounds->len - before;
}

static void
note_excused (InsightFix *fix, const InsightTrial *trial)
{
  if (!insight_is_excused (fix->look, trial->unit) || (!trial->tested && !trial->found))
    return;
  g_array_append_val (fix->excused, trial->unit);
  fix->excused_failing += trial->fails || trial->found;
}

static gboolean
is_before_change (const InsightFix *fix, const InsightTrial *trial)
{
  return trial->day != 0 && trial->day < fix->look->basis->e->changes[fix->change].day;
}

/* A unit of the new state. A failure on it counts whatever load, cycles or kind of round it was. */
static void
count_after (InsightFix *fix, const InsightTrial *trial, GArray *rounds)
{
  gboolean fails = (trial->fails || trial->found) && !trial->other;

  if (trial->counting == INSIGHT_NOT_STATE || trial->counting == INSIGHT_NOT_LATER_STATE)
    {
      fix->other_state += trial->tested;
      fix->earlier_units += trial->tested;
      return;
    }
  if (trial->counting == INSIGHT_NOT_KIND && !fails)
    {
      fix->early += trial->tested;
      return;
    }
  if ((trial->counting != INSIGHT_COUNTS && trial->counting != INSIGHT_NOT_KIND)
      || (trial->counting == INSIGHT_NOT_KIND
          && (insight_is_excused (fix->look, trial->unit) || trial->own != INSIGHT_COUNTS
              || fix->look->basis->e->rounds[fix->look->basis->e->units[trial->unit].round].kind == BOOK_ROUND_BENCH)))
    return;
  note_look (fix, rounds, trial->unit);
  if (trial->other)
    {
      fix->other_mode++;
      return;
    }
  if (!fails && (!trial->tested || trial->short_load || trial->short_cycles))
    {
      fix->short_load += trial->tested && trial->short_load;
      fix->short_cycles += trial->tested && trial->short_cycles;
      return;
    }
  g_array_append_val (fix->after, trial->unit);
  fix->after_n++;
  if (fails)
    {
      g_array_append_val (fix->failing, trial->unit);
      fix->after_failed++;
    }
  fix->before_change += is_before_change (fix, trial);
  fix->last = MAX (fix->last, trial->day);
}

static void
count_trials (InsightFix *fix, const GArray *trials)
{
  g_autofree Sides *sides = find_sides (fix);
  g_autoptr(GArray) starts = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GArray) rounds = g_array_new (FALSE, FALSE, sizeof (int));

  for (guint i = 0; i < trials->len; i++)
    {
      const InsightTrial *trial = &g_array_index (trials, InsightTrial, i);
      const Sides *side = &sides[fix->look->basis->build_of[trial->unit]];

      if (side->judged == INSIGHT_SIDE_NEW)
        {
          note_excused (fix, trial);
          note_gone (fix, starts, trial, FALSE);
          count_after (fix, trial, rounds);
          continue;
        }
      if (side->old || fix->change < 0)
        {
          note_excused (fix, trial);
          count_before (fix, trial);
        }
      if (side->earlier)
        {
          note_gone (fix, starts, trial, TRUE);
          fix->earlier_units += trial->tested;
        }
    }
  fix->starts = starts->len;
}

/* A check that misses some of the failures leaves less to be tolerated. */
static void
lower_for_detection (InsightFix *fix)
{
  const BookEvidence *e = fix->look->basis->e;
  const BookEvidenceIssue *issue = &e->issues[fix->issue];

  fix->tolerated = 1.0 - fix->terms.share;
  fix->detection = NAN;
  if (issue->seen_in_life_test || issue->seen_by < 0 || e->characteristics[issue->seen_by].kind != BOOK_CHARACTERISTIC_CHECKED)
    return;
  fix->detection = insight_detection (e, issue->seen_by, fix->look->end, fix->terms.confidence);
  if (!isnan (fix->detection))
    fix->tolerated *= fix->detection;
}

/* The least number of units after at which Fisher's chance falls below the limit; it falls with each that holds. */
static int
units_for_fisher (const InsightFix *fix)
{
  int low = (int) fix->after_n, high = fisher_most;
  double chance;

  if (fix->before_failed == 0 || num_fisher_less (fix->before_failed, fix->before_n, fix->after_failed, (size_t) high, &chance) != NUM_OK
      || !(chance < NUM_FIX_FISHER))
    return -1;
  while (low < high)
    {
      int middle = low + (high - low) / 2;

      if (middle >= (int) MAX (fix->after_failed, 1)
          && num_fisher_less (fix->before_failed, fix->before_n, fix->after_failed, (size_t) middle, &chance) == NUM_OK
          && chance < NUM_FIX_FISHER)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

static void
find_units_needed (InsightFix *fix)
{
  size_t units = 0;
  int fisher = units_for_fisher (fix);

  fix->units_needed = -1;
  if (fix->change < 0 || !fix->names_state || !fix->has_test || fisher < 0)
    return;
  if (fix->terms.strict)
    num_anytime_units (fix->after_failed, fix->tolerated, fix->wanted, &units);
  else
    num_demonstration_units (fix->after_failed, fix->tolerated, fix->wanted, &units);
  if (units > 0)
    fix->units_needed = MAX (MAX ((int) units, fisher) - (int) fix->after_n, 0);
}

static gboolean
is_switched (const InsightFix *fix)
{
  const BookEvidenceIssue *issue = &fix->look->basis->e->issues[fix->issue];

  return issue->cause_basis == BOOK_CAUSE_SWITCHED && issue->cause_known <= fix->look->end;
}

static void
decide (InsightFix *fix)
{
  NumFix answer = { NAN, NAN, NAN, FALSE };

  fix->attempts = 1 + fix->starts + (fix->after_failed > 0);
  fix->reproduced = fix->before_failed > 0 || is_switched (fix);
  fix->wanted = fix->terms.strict ? insight_surcharged (fix->terms.confidence, fix->attempts) : fix->terms.confidence;
  lower_for_detection (fix);
  if (fix->after_n > 0)
    {
      if (fix->before_n > 0)
        num_fix (fix->before_failed, fix->before_n, fix->after_failed, fix->after_n, fix->tolerated, fix->terms.confidence,
                 fix->attempts, fix->terms.strict, &answer);
      else if (fix->terms.strict)
        num_anytime_confidence (fix->after_failed, fix->after_n, fix->tolerated, NULL, &answer.confidence);
      else
        num_demonstration_confidence (fix->after_failed, fix->after_n, fix->tolerated, &answer.confidence);
      num_demonstration_contrary (fix->after_failed, fix->after_n, fix->tolerated, &fix->contrary);
    }
  fix->confidence = answer.confidence;
  fix->fisher = answer.fisher;
  find_units_needed (fix);

  if (answer.proven && fix->reproduced)
    fix->state = INSIGHT_ISSUE_PROVEN;
  else if (fix->after_failed > 0)
    fix->state = INSIGHT_ISSUE_CAME_BACK;
  else
    fix->state = fix->after_n > 0 ? INSIGHT_ISSUE_NOT_AGAIN : INSIGHT_ISSUE_OPEN;
}

/**
 * insight_fix_new:
 * @look: a look; kept
 * @units: initialised; used for the readings
 * @issue: an issue
 * @terms: what is asked
 *
 * Judges at one look whether the fix of an issue is proven.
 *
 * Returns: (transfer full): the answer
 */
InsightFix *
insight_fix_new (const InsightLook *look, InsightUnits *units, int issue, const InsightFixTerms *terms)
{
  const BookEvidenceIssue *one = &look->basis->e->issues[issue];
  InsightFix *fix = g_new0 (InsightFix, 1);
  g_autoptr(GArray) trials = insight_fix_trials (look, units, issue, terms->counts_from);

  fix->look = look;
  fix->issue = issue;
  fix->terms = *terms;
  fix->changes = g_array_new (FALSE, FALSE, sizeof (int));
  fix->change = -1;
  fix->before = g_array_new (FALSE, FALSE, sizeof (guint));
  fix->after = g_array_new (FALSE, FALSE, sizeof (guint));
  fix->failing = g_array_new (FALSE, FALSE, sizeof (guint));
  fix->excused = g_array_new (FALSE, FALSE, sizeof (guint));
  fix->confidence = fix->contrary = fix->fisher = NAN;
  fix->has_test = one->seen_by >= 0 || one->seen_in_life_test;
  insight_fix_needs (look, issue, &fix->needed_load, &fix->needed_cycles);
  find_changes (fix);
  count_trials (fix, trials);
  decide (fix);
  return fix;
}

void
insight_fix_free (InsightFix *fix)
{
  if (fix == NULL)
    return;

  g_array_unref (fix->changes);
  g_array_unref (fix->before);
  g_array_unref (fix->after);
  g_array_unref (fix->failing);
  g_array_unref (fix->excused);
  g_free (fix);
}
