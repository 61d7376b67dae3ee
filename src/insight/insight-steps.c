/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-answer-private.h"
#include "insight-rate.h"

#include <math.h>

/*
 * What to do next, by what blocks most. Where the measurements speak against it the step is never 'test more'.
 */

static const char *const step_names[] = {
  [INSIGHT_STEP_FIND_CAUSE] = "find-cause",
  [INSIGHT_STEP_DISPOSE] = "dispose",
  [INSIGHT_STEP_TEST] = "test",
  [INSIGHT_STEP_MEASURE] = "measure",
  [INSIGHT_STEP_MEASURE_INSTEAD] = "measure-instead",
  [INSIGHT_STEP_NEW_UNITS] = "new-units",
  [INSIGHT_STEP_NO_UNITS_HELP] = "no-units-help",
  [INSIGHT_STEP_FINISH_ROUND] = "finish-round",
  [INSIGHT_STEP_FINISH_PLAN] = "finish-plan",
  [INSIGHT_STEP_THIRD_LOT] = "third-lot",
  [INSIGHT_STEP_MORE_LOTS] = "more-lots",
  [INSIGHT_STEP_SET_LIMITS] = "set-limits",
  [INSIGHT_STEP_SECOND_PERSON] = "second-person",
  [INSIGHT_STEP_CALIBRATE] = "calibrate",
  [INSIGHT_STEP_STUDY_GAUGE] = "study-gauge",
  [INSIGHT_STEP_FINER_GAUGE] = "finer-gauge",
  [INSIGHT_STEP_OWNER_SHARE] = "owner-share",
  [INSIGHT_STEP_FINISH_COUNT] = "finish-count",
  [INSIGHT_STEP_NAME_TEST] = "name-test",
  [INSIGHT_STEP_ANSWER_ISSUE] = "answer-issue",
  [INSIGHT_STEP_BUILD_CHANGE] = "build-change",
  [INSIGHT_STEP_REPRODUCE] = "reproduce",
  [INSIGHT_STEP_RUN] = "run",
  [INSIGHT_STEP_LIFE] = "life",
  [INSIGHT_STEP_LIFE_TERMS] = "life-terms",
  [INSIGHT_STEP_BAD_PIECES] = "bad-pieces",
  [INSIGHT_STEP_COUNT_STEPS] = "count-steps",
  [INSIGHT_STEP_DESCRIBE_STEPS] = "describe-steps",
};
G_STATIC_ASSERT (G_N_ELEMENTS (step_names) == INSIGHT_N_STEPS);

#define MEASURE_INSTEAD_FROM 15 /* pass-or-fail units from which measuring a strength is the cheaper way */

/* An untranslated word, such as `third-lot`. */
const char *
insight_step_code_name (InsightStepCode code)
{
  g_return_val_if_fail ((guint) code < INSIGHT_N_STEPS, "");

  return step_names[code];
}

void
insight_step_free (InsightStep *step)
{
  g_strfreev (step->names);
  g_free (step->counts);
  g_free (step->numbers);
  g_free (step);
}

typedef struct
{
  InsightStanding        *standing;
  const BookEvidence     *e;
  const InsightCriterion *criterion;
  guint                   index;
} Steps;

static InsightStep *
add_step (Steps *steps, InsightStepCode code)
{
  InsightStep *step = g_new0 (InsightStep, 1);

  step->code = code;
  step->criterion = steps->index;
  step->characteristic = steps->criterion->characteristic;
  step->names = g_new0 (char *, 1);
  g_ptr_array_add (steps->standing->steps, step);
  return step;
}

static void
add_names (InsightStep *step, char *const *names)
{
  g_strfreev (step->names);
  step->names = g_strdupv ((char **) names);
}

static void
add_count (InsightStep *step, gint64 count)
{
  step->counts = g_renew (gint64, step->counts, step->n_counts + 1);
  step->counts[step->n_counts++] = count;
}

static void
add_number (InsightStep *step, double number)
{
  step->numbers = g_renew (double, step->numbers, step->n_numbers + 1);
  step->numbers[step->n_numbers++] = number;
}

/* A step that repeats the names of a reason, when the reason was given. */
static gboolean
follow_reason (Steps *steps, InsightReasonCode reason_code, InsightStepCode code)
{
  const InsightReason *reason = insight_criterion_find_reason (steps->criterion, reason_code);
  InsightStep *step;

  if (reason == NULL)
    return FALSE;
  step = add_step (steps, code);
  add_names (step, reason->names);
  for (guint i = 0; i < reason->n_counts; i++)
    add_count (step, reason->counts[i]);
  return TRUE;
}

static gboolean
is_by_count (const InsightCriterion *criterion)
{
  return criterion->method == INSIGHT_METHOD_EXACT || criterion->method == INSIGHT_METHOD_ANYTIME
         || criterion->method == INSIGHT_METHOD_PLAN;
}

static gboolean
measures_something_of_class (const Steps *steps)
{
  for (guint i = 0; i < steps->standing->criteria->len; i++)
    {
      const InsightCriterion *other = steps->standing->criteria->pdata[i];

      if (other->klass == steps->criterion->klass && other->kind == BOOK_CRITERION_MEASURED && !is_by_count (other))
        return TRUE;
    }
  return FALSE;
}

static void
add_units (Steps *steps)
{
  const InsightCriterion *criterion = steps->criterion;
  int units = criterion->units_needed;
  InsightStep *step;

  if (units < 0 && criterion->method != INSIGHT_METHOD_NONE)
    {
      add_step (steps, INSIGHT_STEP_NO_UNITS_HELP);
      return;
    }
  if (units <= 0)
    return;
  if (criterion->state == INSIGHT_NO_LONGER || criterion->state == INSIGHT_NO_DATA)
    add_count (add_step (steps, INSIGHT_STEP_NEW_UNITS), units);
  else if (is_by_count (criterion))
    {
      step = add_step (steps, INSIGHT_STEP_TEST);
      add_count (step, units);
      add_number (step, pow (criterion->share, units));
    }
  else
    add_count (add_step (steps, INSIGHT_STEP_MEASURE), units);

  if (is_by_count (criterion) && units >= MEASURE_INSTEAD_FROM && criterion->about_kind == BOOK_CHARACTERISTIC_CHECKED
      && !measures_something_of_class (steps))
    add_count (add_step (steps, INSIGHT_STEP_MEASURE_INSTEAD), units);
}

static void
find_steps_of_fix (Steps *steps)
{
  const InsightCriterion *criterion = steps->criterion;
  InsightStep *step;

  if (criterion->failed > 0)
    {
      step = add_step (steps, INSIGHT_STEP_FIND_CAUSE);
      add_count (step, criterion->failed);
      add_count (step, criterion->n);
      return;
    }
  follow_reason (steps, INSIGHT_REASON_COUNT_NOT_SAFETY, INSIGHT_STEP_OWNER_SHARE);
  follow_reason (steps, INSIGHT_REASON_ISSUE_NO_TEST, INSIGHT_STEP_NAME_TEST);
  follow_reason (steps, INSIGHT_REASON_ISSUE_NO_CHANGE, INSIGHT_STEP_ANSWER_ISSUE);
  follow_reason (steps, INSIGHT_REASON_ISSUE_NO_STATE, INSIGHT_STEP_ANSWER_ISSUE);
  follow_reason (steps, INSIGHT_REASON_ISSUE_NOT_BUILT, INSIGHT_STEP_BUILD_CHANGE);
  follow_reason (steps, INSIGHT_REASON_ISSUE_NOT_REPRODUCED, INSIGHT_STEP_REPRODUCE);
  if (criterion->units_needed > 0)
    add_units (steps);
}

static void
add_run (Steps *steps)
{
  const InsightReason *days = insight_criterion_find_reason (steps->criterion, INSIGHT_REASON_RUN_DAYS);
  gboolean counted = follow_reason (steps, INSIGHT_REASON_STEPS_WANTED, INSIGHT_STEP_COUNT_STEPS);
  gboolean described = follow_reason (steps, INSIGHT_REASON_STEPS_LEFT_OUT, INSIGHT_STEP_DESCRIBE_STEPS);

  /* Where the confidence is there and only these steps stand against it, losing less would help nothing. */
  if ((counted || described) && steps->criterion->confidence >= steps->criterion->wanted)
    return;
  add_count (add_step (steps, INSIGHT_STEP_RUN), days != NULL ? INSIGHT_RATE_RUN_DAYS - days->counts[0] : 0);
}

static void
add_life (Steps *steps)
{
  InsightStep *step;

  if (insight_criterion_find_reason (steps->criterion, INSIGHT_REASON_LIFE_CYCLES) != NULL
      || insight_criterion_find_reason (steps->criterion, INSIGHT_REASON_LIFE_SHAPE) != NULL)
    add_step (steps, INSIGHT_STEP_LIFE_TERMS);
  else if (steps->criterion->units_needed > 0)
    {
      step = add_step (steps, INSIGHT_STEP_LIFE);
      add_count (step, steps->criterion->units_needed);
      add_number (step, steps->criterion->target);
    }
}

/* Kinds whose evidence is no reading; FALSE for all others. */
static gboolean
find_steps_of_run (Steps *steps)
{
  switch (steps->criterion->kind)
    {
    case BOOK_CRITERION_YIELD:
    case BOOK_CRITERION_RATE:
      add_run (steps);
      return TRUE;
    case BOOK_CRITERION_LIFE:
      follow_reason (steps, INSIGHT_REASON_NOT_TESTED_YET, INSIGHT_STEP_FINISH_ROUND);
      add_life (steps);
      return TRUE;
    case BOOK_CRITERION_METHOD:
      if (!follow_reason (steps, INSIGHT_REASON_NO_TOLERANCE, INSIGHT_STEP_SET_LIMITS))
        add_step (steps, INSIGHT_STEP_STUDY_GAUGE);
      return TRUE;
    case BOOK_CRITERION_DETECTION:
      add_count (add_step (steps, INSIGHT_STEP_BAD_PIECES), steps->criterion->units_needed);
      return TRUE;
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_MEASURED:
    case BOOK_CRITERION_FIX:
    case BOOK_CRITERION_ISSUES:
    case BOOK_CRITERION_REVISIONS:
    case BOOK_CRITERION_SIGN_OFFS:
    case BOOK_CRITERION_DOCUMENTS:
    case BOOK_CRITERION_LOTS:
      break;
    }
  return FALSE;
}

static void
find_steps_of_criterion (Steps *steps)
{
  const InsightCriterion *criterion = steps->criterion;
  InsightStep *step;

  if (criterion->state == INSIGHT_MET)
    return;
  if (criterion->method == INSIGHT_METHOD_COUNT)
    {
      const InsightReason *reason = insight_criterion_find_reason (criterion, INSIGHT_REASON_COUNT_DONE);

      step = add_step (steps, INSIGHT_STEP_FINISH_COUNT);
      add_names (step, reason->names);
      add_count (step, (gint64) criterion->n - criterion->done);
      return;
    }

  follow_reason (steps, INSIGHT_REASON_DISPOSITION, INSIGHT_STEP_DISPOSE);
  if (criterion->kind == BOOK_CRITERION_FIX)
    {
      find_steps_of_fix (steps);
      return;
    }
  follow_reason (steps, INSIGHT_REASON_LIMITS_MISSING, INSIGHT_STEP_SET_LIMITS);
  follow_reason (steps, INSIGHT_REASON_SECOND_PERSON, INSIGHT_STEP_SECOND_PERSON);
  follow_reason (steps, INSIGHT_REASON_GUARD_TOO_WIDE, INSIGHT_STEP_FINER_GAUGE);
  follow_reason (steps, INSIGHT_REASON_GAUGE_OUT, INSIGHT_STEP_CALIBRATE);
  if (criterion->state == INSIGHT_AGAINST)
    {
      step = add_step (steps, INSIGHT_STEP_FIND_CAUSE);
      add_count (step, criterion->failed);
      add_count (step, criterion->n);
      return;
    }
  if (find_steps_of_run (steps))
    return;
  follow_reason (steps, INSIGHT_REASON_COUNT_NOT_SAFETY, INSIGHT_STEP_OWNER_SHARE);
  follow_reason (steps, INSIGHT_REASON_NOT_TESTED_YET, INSIGHT_STEP_FINISH_ROUND);
  follow_reason (steps, INSIGHT_REASON_LOTS_THIRD, INSIGHT_STEP_THIRD_LOT);
  if (criterion->confidence < criterion->wanted)
    follow_reason (steps, INSIGHT_REASON_LOTS_DECIDED, INSIGHT_STEP_MORE_LOTS);
  if (insight_criterion_find_reason (criterion, INSIGHT_REASON_PLAN_INCOMPLETE))
    add_count (add_step (steps, INSIGHT_STEP_FINISH_PLAN), criterion->units_needed);
  else
    add_units (steps);
}

/* What blocks first; then by class, by state, by how little is there. */
static int
compare_steps (gconstpointer a, gconstpointer b, gpointer data)
{
  const GPtrArray *criteria = data;
  const InsightStep *one = *(const InsightStep *const *) a, *other = *(const InsightStep *const *) b;
  const InsightCriterion *first = criteria->pdata[one->criterion], *second = criteria->pdata[other->criterion];
  static const guint8 weight[] = { [INSIGHT_MET] = 4, [INSIGHT_TOO_FEW] = 3, [INSIGHT_AGAINST] = 0, [INSIGHT_NO_LONGER] = 1,
                                   [INSIGHT_NO_DATA] = 2 };

  if (first->blocks != second->blocks)
    return first->blocks ? -1 : 1;
  if (first->klass != second->klass)
    return first->klass < second->klass ? -1 : 1;
  if (weight[first->state] != weight[second->state])
    return weight[first->state] < weight[second->state] ? -1 : 1;
  if (first->score != second->score)
    return first->score < second->score ? -1 : 1;
  return (one->criterion > other->criterion) - (one->criterion < other->criterion);
}

/**
 * insight_find_steps:
 * @standing: with its criteria; its steps are filled in
 * @evidence: the records
 */
void
insight_find_steps (InsightStanding *standing, const BookEvidence *evidence)
{
  Steps steps = { standing, evidence, NULL, 0 };

  for (guint i = 0; i < standing->criteria->len; i++)
    {
      steps.criterion = standing->criteria->pdata[i];
      steps.index = i;
      find_steps_of_criterion (&steps);
      /* Also where it is met: so far the limits stand where a gauge without any spread would have them. */
      if (!insight_criterion_find_reason (steps.criterion, INSIGHT_REASON_GUARD_TOO_WIDE))
        follow_reason (&steps, INSIGHT_REASON_GAUGE_NOT_STUDIED, INSIGHT_STEP_STUDY_GAUGE);
    }
  g_ptr_array_sort_with_data (standing->steps, compare_steps, standing->criteria);
}
