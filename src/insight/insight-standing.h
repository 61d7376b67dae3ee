/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where a model stands: every criterion with what was reached, what was wanted and why; what was not looked at;
 * what to do next; the score through the rounds. Computed from arrays alone (book-evidence.h), holds no sentence.
 */

#include <gio/gio.h>

#include "book-choices.h"
#include "insight-reason.h"

G_BEGIN_DECLS

typedef struct _BookEvidence BookEvidence; /* book-evidence.h */

#define INSIGHT_N_CLASSES 3 /* arrays of classes are indexed by BookClass - BOOK_CLASS_SAFETY */

/**
 * InsightState:
 * @INSIGHT_MET: the confidence reaches the one wanted, and nothing stands against it
 * @INSIGHT_TOO_FEW: too few to tell
 * @INSIGHT_AGAINST: the measurements speak against it
 * @INSIGHT_NO_LONGER: everything measured was on another state of design
 * @INSIGHT_NO_DATA: nothing that counts was measured
 */
typedef enum
{
  INSIGHT_MET,
  INSIGHT_TOO_FEW,
  INSIGHT_AGAINST,
  INSIGHT_NO_LONGER,
  INSIGHT_NO_DATA
} InsightState;

/**
 * InsightMethod:
 * @INSIGHT_METHOD_NONE: nothing was computed
 * @INSIGHT_METHOD_EXACT: k of n failing, exact binomial
 * @INSIGHT_METHOD_ANYTIME: k of n failing, any-time confidence
 * @INSIGHT_METHOD_PLAN: k of n failing of a declared plan, exact binomial
 * @INSIGHT_METHOD_NORMAL: normal, stated beforehand
 * @INSIGHT_METHOD_LEAST: normal or log-normal, the smaller answer
 * @INSIGHT_METHOD_LOG_NORMAL: log-normal, stated beforehand
 * @INSIGHT_METHOD_LOTS: lots as groups, which gave less than the pooled answer
 * @INSIGHT_METHOD_COUNT: share done
 * @INSIGHT_METHOD_YIELD: product of the steps' first-pass yields
 * @INSIGHT_METHOD_RATE: ceiling of the benches, scrap, rework and run days drawn
 * @INSIGHT_METHOD_LIFE_STATED: life with a shape stated beforehand
 * @INSIGHT_METHOD_LIFE_FITTED: life, a fit restricted to what is wanted, drawn again and again
 * @INSIGHT_METHOD_METHOD: variance components of a gauge study, drawn
 * @INSIGHT_METHOD_DETECTION: k of n known bad pieces found, exact binomial
 */
typedef enum
{
  INSIGHT_METHOD_NONE,
  INSIGHT_METHOD_EXACT,
  INSIGHT_METHOD_ANYTIME,
  INSIGHT_METHOD_PLAN,
  INSIGHT_METHOD_NORMAL,
  INSIGHT_METHOD_LEAST,
  INSIGHT_METHOD_LOG_NORMAL,
  INSIGHT_METHOD_LOTS,
  INSIGHT_METHOD_COUNT,
  INSIGHT_METHOD_YIELD,
  INSIGHT_METHOD_RATE,
  INSIGHT_METHOD_LIFE_STATED,
  INSIGHT_METHOD_LIFE_FITTED,
  INSIGHT_METHOD_METHOD,
  INSIGHT_METHOD_DETECTION,
  INSIGHT_N_METHODS
} InsightMethod;

/* A list of record keys. */
typedef struct
{
  gint64 *ids;
  guint   n;
} InsightIds;

/**
 * InsightCriterion:
 * @id: key
 * @code: visible key, unique in the model
 * @gate: name of its gate
 * @gate_order: the gate's place
 * @kind: what it asks about
 * @klass: of the characteristic or issue it is about; all others: function
 * @characteristic: key, or 0
 * @about_code: code of the characteristic, "" without one
 * @about_name: name of the characteristic or title of the issue, "" without one
 * @unit: of measure, "" for none
 * @decimals: of the characteristic
 * @about_kind: measured or checked; 0 without a characteristic
 * @blocking: said so in the book
 * @blocks: blocking, not met, and not excepted by a waiver today
 * @so_far: the confidence stands but cannot meet the criterion yet (round not tested, below six units, plan not complete)
 * @lower: limit in force at the end of the span, -INFINITY for none; not pulled in
 * @upper: as above, INFINITY for none
 * @nominal: NAN for none
 * @strict: looks and attempts cost confidence
 * @state: what may be said
 * @method: what @confidence was computed by
 * @share: that must conform (of counts: to be done)
 * @wanted_base: confidence wanted, without surcharge
 * @wanted: confidence wanted at the present look or attempt
 * @confidence: reached; NAN when none can be told
 * @contrary: confidence that the share is not reached; NAN when none can be told
 * @n: counted units (for counts: things asked for)
 * @failed: of these failing or undecidable
 * @done: for counts: things done
 * @mean: of the counted units' values; NAN for a check
 * @sd: used, that is at least half the resolution; NAN below two values
 * @min: least value; NAN for a check
 * @max: greatest value; NAN for a check
 * @share_estimate: share that conforms, estimated; NAN when none
 * @share_low: its lower bound at @wanted_base
 * @failing_year: units a year that may fail at @share_low and the model's monthly demand; NAN without a demand
 * @target: of a yield, a monthly rate, cycles, or the tolerance that a gauge may take up; NAN for other kinds
 * @estimate: of the same, of cycles NAN
 * @estimate_low: of its interval; NAN where there is none
 * @estimate_high: likewise
 * @rounds: labels of the rounds that the counted units come from, in order
 * @round_ids: their keys
 * @lots: number of lots in the counted units of the lotted part or step with the fewest; 0 without lots
 * @looks: rounds with new counted data
 * @attempts: 1 and the starts again
 * @earlier_units: earlier units that no longer count, of the starts again
 * @earlier_failures: of these failing
 * @voided: readings voided
 * @units_needed: further units if nothing fails, or if mean and deviation stay, by the pooled answer where there are lots;
 *   0: none; -1: no number of units would
 * @counted: units counted, in order of build
 * @failing: of these failing
 * @no_longer: units of a kind that counts, in another state
 * @score: evidence gathered, 0 to 1; 1 only when met
 * @reasons: (element-type InsightReason): most important first
 */
typedef struct
{
  gint64                 id;
  char                  *code;
  char                  *gate;
  int                    gate_order;
  BookCriterionKind      kind;
  BookClass              klass;
  BookCharacteristicKind about_kind;
  gint64                 characteristic;
  char                  *about_code;
  char                  *about_name;
  char                  *unit;
  int                    decimals;
  gboolean               blocking;
  gboolean               blocks;
  gboolean               strict;
  gboolean               so_far;
  InsightState           state;
  InsightMethod          method;
  double                 lower;
  double                 upper;
  double                 nominal;
  double                 share;
  double                 wanted_base;
  double                 wanted;
  double                 confidence;
  double                 contrary;
  guint                  n;
  guint                  failed;
  guint                  done;
  double                 mean;
  double                 sd;
  double                 min;
  double                 max;
  double                 share_estimate;
  double                 share_low;
  double                 failing_year;
  double                 target;
  double                 estimate;
  double                 estimate_low;
  double                 estimate_high;
  char                 **rounds;
  InsightIds             round_ids;
  guint                  lots;
  guint                  looks;
  guint                  attempts;
  guint                  earlier_units;
  guint                  earlier_failures;
  guint                  voided;
  int                    units_needed;
  InsightIds             counted;
  InsightIds             failing;
  InsightIds             no_longer;
  double                 score;
  GPtrArray             *reasons;
} InsightCriterion;

/**
 * InsightGapCode:
 * @INSIGHT_GAP_SAFETY: a safety characteristic without a criterion; names: code, name
 * @INSIGHT_GAP_PART: a part without a characteristic; names: number, name
 * @INSIGHT_GAP_HAZARD: a hazard with neither characteristic nor document; names: no, what could hurt whom
 * @INSIGHT_GAP_ISSUE: an issue without a test that shows it; names: no, title
 * @INSIGHT_GAP_DOCUMENT: a document wanted; names: no, title
 * @INSIGHT_GAP_CRITERION: a criterion that says itself why it was not looked at; names: code, reason
 * @INSIGHT_GAP_CHANGE: a revision that units carry and no change brought in; names: part and revision, rounds
 */
typedef enum
{
  INSIGHT_GAP_SAFETY,
  INSIGHT_GAP_PART,
  INSIGHT_GAP_HAZARD,
  INSIGHT_GAP_ISSUE,
  INSIGHT_GAP_DOCUMENT,
  INSIGHT_GAP_CRITERION,
  INSIGHT_GAP_CHANGE,
  INSIGHT_N_GAPS
} InsightGapCode;

/* Something nobody looked at. @id is the record's key. */
typedef struct
{
  InsightGapCode code;
  gint64         id;
  char         **names;
} InsightGap;

/**
 * InsightStepCode:
 * @INSIGHT_STEP_FIND_CAUSE: against: find why; counts: failing, n
 * @INSIGHT_STEP_DISPOSE: give failing units a disposition; names: units
 * @INSIGHT_STEP_TEST: test further units; counts: units; numbers: chance that a product exactly at the tolerated share passes them all
 * @INSIGHT_STEP_MEASURE: measure further units; counts: units
 * @INSIGHT_STEP_MEASURE_INSTEAD: measure a strength instead of pass or fail; counts: units pass or fail would still need
 * @INSIGHT_STEP_NEW_UNITS: build and test units of the newest state; counts: units needed
 * @INSIGHT_STEP_NO_UNITS_HELP: with this mean and spread no number of units would do: change the design or the limits
 * @INSIGHT_STEP_FINISH_ROUND: set the round's 'tested' date when its testing is finished; names: rounds
 * @INSIGHT_STEP_FINISH_PLAN: finish the declared plan; counts: units left
 * @INSIGHT_STEP_THIRD_LOT: test units of a third lot; names: part or step; counts: lots seen
 * @INSIGHT_STEP_MORE_LOTS: the lots as groups hold the confidence down: test units of further lots; names: part or step;
 *   counts: lots seen
 * @INSIGHT_STEP_SET_LIMITS: give the characteristic its limits
 * @INSIGHT_STEP_SECOND_PERSON: let a second person agree to the carrying over; names: changes
 * @INSIGHT_STEP_CALIBRATE: have gauges calibrated and measure again; names: gauges
 * @INSIGHT_STEP_STUDY_GAUGE: study the gauge, so that limits can be pulled in for its spread
 * @INSIGHT_STEP_FINER_GAUGE: the gauge is too coarse for the limits
 * @INSIGHT_STEP_OWNER_SHARE: the owner sets the share by name, or a strength is measured
 * @INSIGHT_STEP_NAME_TEST: name the test that shows the issue
 * @INSIGHT_STEP_ANSWER_ISSUE: propose a change that answers the issue by a new revision or setting
 * @INSIGHT_STEP_BUILD_CHANGE: build units with the change; names: changes
 * @INSIGHT_STEP_REPRODUCE: show the failure on the old state by the test in use, or switch the cause on and off
 * @INSIGHT_STEP_RUN: let the steps run on further days and write down minutes; counts: run days left, 0 when days are
 *   not what is missing
 * @INSIGHT_STEP_LIFE: cycle further units without a failure as far as wanted; counts: units; numbers: cycles
 * @INSIGHT_STEP_LIFE_TERMS: write down how many cycles are wanted, and which range of shapes is expected
 * @INSIGHT_STEP_BAD_PIECES: give the inspectors further pieces known to be bad; counts: pieces each
 * @INSIGHT_STEP_COUNT_STEPS: count also at steps of the route at which nothing was counted; names: steps
 * @INSIGHT_STEP_DESCRIBE_STEPS: write down bench and minutes, or a supplier's days, of steps; names: steps
 * @INSIGHT_STEP_FINISH_COUNT: issues, documents, revisions, sign-offs, lots left; names: what is not done; counts: left
 */
typedef enum
{
  INSIGHT_STEP_FIND_CAUSE,
  INSIGHT_STEP_DISPOSE,
  INSIGHT_STEP_TEST,
  INSIGHT_STEP_MEASURE,
  INSIGHT_STEP_MEASURE_INSTEAD,
  INSIGHT_STEP_NEW_UNITS,
  INSIGHT_STEP_NO_UNITS_HELP,
  INSIGHT_STEP_FINISH_ROUND,
  INSIGHT_STEP_FINISH_PLAN,
  INSIGHT_STEP_THIRD_LOT,
  INSIGHT_STEP_MORE_LOTS,
  INSIGHT_STEP_SET_LIMITS,
  INSIGHT_STEP_SECOND_PERSON,
  INSIGHT_STEP_CALIBRATE,
  INSIGHT_STEP_STUDY_GAUGE,
  INSIGHT_STEP_FINER_GAUGE,
  INSIGHT_STEP_OWNER_SHARE,
  INSIGHT_STEP_FINISH_COUNT,
  INSIGHT_STEP_NAME_TEST,
  INSIGHT_STEP_ANSWER_ISSUE,
  INSIGHT_STEP_BUILD_CHANGE,
  INSIGHT_STEP_REPRODUCE,
  INSIGHT_STEP_RUN,
  INSIGHT_STEP_LIFE,
  INSIGHT_STEP_LIFE_TERMS,
  INSIGHT_STEP_BAD_PIECES,
  INSIGHT_STEP_COUNT_STEPS,
  INSIGHT_STEP_DESCRIBE_STEPS,
  INSIGHT_N_STEPS
} InsightStepCode;

/* A next step. @criterion is the index into the standing's criteria. */
typedef struct
{
  InsightStepCode code;
  guint           criterion;
  gint64          characteristic;
  char          **names;
  gint64         *counts;
  double         *numbers;
  guint           n_counts;
  guint           n_numbers;
} InsightStep;

/* Criteria and the score of one class; @percent is -1 where the class has no criterion. */
typedef struct
{
  guint  total;
  guint  met;
  double score;
  int    percent;
} InsightScore;

/* The score at the end of one round, by the rules of a span through it. */
typedef struct
{
  gint64        round;
  char         *label;
  BookRoundKind kind;
  InsightScore  all;
  InsightScore  classes[INSIGHT_N_CLASSES];
} InsightCoursePoint;

/**
 * InsightStanding:
 * @model: key
 * @round: key of the round looked through, 0 when the model has none
 * @round_open: that round is not decided
 * @end: last day of the span
 * @today: day it was computed for
 * @criteria: (element-type InsightCriterion): by gate, then code
 * @n_block: criteria that block
 * @score: overall: the lowest class's
 * @no_safety: there is no safety criterion, so that nobody may say that criteria are met
 * @gaps: (element-type InsightGap):
 * @steps: (element-type InsightStep): what blocks most first
 * @course: (element-type InsightCoursePoint): rounds up to this one
 */
typedef struct
{
  gint64        model;
  char         *model_code;
  char         *model_name;
  gint64        round;
  char         *round_label;
  BookRoundKind round_kind;
  gboolean      round_open;
  char         *end;
  char         *today;
  GPtrArray    *criteria;
  guint         n_total;
  guint         n_met;
  guint         n_block;
  InsightScore  score;
  InsightScore  classes[INSIGHT_N_CLASSES];
  gboolean      no_safety;
  GPtrArray    *gaps;
  GPtrArray    *steps;
  GPtrArray    *course;

  gatomicrefcount references; /*< private >*/
} InsightStanding;

/* What to look at: through round @through (0: the newest opened by then), as of @today (ISO 8601). */
typedef struct
{
  gint64      through;
  const char *today;
} InsightSpan;

#define INSIGHT_ERROR (insight_error_quark ())

/**
 * InsightError:
 * @INSIGHT_ERROR_ROUND: the model has no such round
 * @INSIGHT_ERROR_DATE: not a date
 * @INSIGHT_ERROR_CHARACTERISTIC: the model has no such characteristic
 * @INSIGHT_ERROR_KEPT: a kept answer cannot be read: it is of another version
 * @INSIGHT_ERROR_GROUPS: there are no two rounds or groups of units to compare
 */
typedef enum
{
  INSIGHT_ERROR_ROUND,
  INSIGHT_ERROR_DATE,
  INSIGHT_ERROR_CHARACTERISTIC,
  INSIGHT_ERROR_KEPT,
  INSIGHT_ERROR_GROUPS
} InsightError;

GQuark           insight_error_quark           (void);

InsightStanding *insight_standing              (const BookEvidence    *evidence,
                                                const InsightSpan     *span,
                                                GCancellable          *cancellable,
                                                GError               **error) G_GNUC_WARN_UNUSED_RESULT;
InsightStanding *insight_standing_of           (const BookEvidence    *evidence,
                                                guint                  criterion,
                                                const InsightSpan     *span,
                                                GCancellable          *cancellable,
                                                GError               **error) G_GNUC_WARN_UNUSED_RESULT;
InsightStanding *insight_standing_ref          (InsightStanding       *standing);
void             insight_standing_unref        (InsightStanding       *standing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightStanding, insight_standing_unref)

GVariant        *insight_standing_to_variant   (const InsightStanding *standing) G_GNUC_WARN_UNUSED_RESULT;
InsightStanding *insight_standing_from_variant (GVariant              *variant,
                                                GError               **error) G_GNUC_WARN_UNUSED_RESULT;

const char      *insight_state_name            (InsightState           state);
const char      *insight_method_name           (InsightMethod          method);
const char      *insight_gap_code_name         (InsightGapCode         code);
const char      *insight_step_code_name        (InsightStepCode        code);

const InsightCriterion *insight_standing_get_criterion  (const InsightStanding  *standing,
                                                         guint                   i);
const InsightCriterion *insight_standing_find_criterion (const InsightStanding  *standing,
                                                         gint64                  id);
const InsightReason    *insight_criterion_find_reason   (const InsightCriterion *criterion,
                                                         InsightReasonCode       code);

G_END_DECLS
