/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What changed between two rounds, or between two groups of units within one round, and what the readings say about it.
 * Computed from arrays alone (book-evidence.h), holds no sentence.
 *
 * Old and new built into one round, all else alike, is a fair comparison: the difference has its exact permutation
 * interval and may be put down to the change. Across rounds everything else may have moved as well: the rounds differ by
 * so much, and nobody can tell how much of it the change did. Where any round of the span is split by a changed part its two
 * groups are preferred.
 */

#include "insight-series.h"

G_BEGIN_DECLS

#define INSIGHT_COMPARE_CONFIDENCE 0.95 /* of each interval; one minus it is the error allowed for all together (Holm) */
#define INSIGHT_COMPARE_LEAST 3         /* units on each side, below which there is no interval */

/**
 * InsightCompareAsk:
 * @from: key of the earlier round
 * @to: key of the later round
 * @round: key of a round whose units are divided into two groups; then @from and @to are 0
 * @part: with @round: key of the part whose revisions, else lots, divide; 0: the only part that does
 * @step: with @round: key of the step whose lots divide; 0 for none
 * @old_label: (nullable): with @round: revision or lot of the first group, where there are more than two
 * @new_label: (nullable): likewise of the second group
 * @today: the day of the question, ISO 8601
 */
typedef struct
{
  gint64      from;
  gint64      to;
  gint64      round;
  gint64      part;
  gint64      step;
  const char *old_label;
  const char *new_label;
  const char *today;
} InsightCompareAsk;

/**
 * InsightDifferenceKind:
 * @INSIGHT_DIFFERS_REVISION: other revisions of a part
 * @INSIGHT_DIFFERS_LOT: other lots of a part or a step
 * @INSIGHT_DIFFERS_SETTING: another setting of a step
 * @INSIGHT_DIFFERS_LIMIT: other limits of a characteristic
 */
typedef enum
{
  INSIGHT_DIFFERS_REVISION,
  INSIGHT_DIFFERS_LOT,
  INSIGHT_DIFFERS_SETTING,
  INSIGHT_DIFFERS_LIMIT,
  INSIGHT_N_DIFFERENCES
} InsightDifferenceKind;

/**
 * InsightCompareState:
 * @label: revision or lot; "" of a setting, and of a unit of which nobody says the revision
 * @id: key of the revision or lot; 0 of a setting, and where nobody says
 * @units: units so built; of a plan: units planned, 0 for all
 * @value: of a setting; NAN when it was not set, and for all else
 */
typedef struct
{
  const char *label;
  gint64      id;
  guint       units;
  double      value;
} InsightCompareState;

/**
 * InsightCompareSide:
 * @built: (array length=n_built): as built, the earliest first, settings by value; empty when nothing was built yet
 * @planned: (array length=n_planned): what the plan says, of revisions only; else empty
 * @lower: of limits: in force at the round's end, -INFINITY for none; else NAN
 * @upper: as above, INFINITY for none
 * @nominal: NAN for none
 */
typedef struct
{
  InsightCompareState *built;
  guint                n_built;
  InsightCompareState *planned;
  guint                n_planned;
  double               lower;
  double               upper;
  double               nominal;
} InsightCompareSide;

/**
 * InsightCompareIssue:
 * @id: key
 * @no: running number
 * @title: in a few words
 * @outcome: 0 while it is open
 */
typedef struct
{
  gint64           id;
  int              no;
  const char      *title;
  BookIssueOutcome outcome;
} InsightCompareIssue;

/**
 * InsightCompareChange:
 * @id: key
 * @no: running number
 * @title: in a few words
 * @reason: why; may be ""
 * @expected: the effect that was expected; may be ""
 * @proposed_by: initials, or ""; leave out on paper that shows no people
 * @proposed: date, or ""
 * @agreed_by: initials, or ""; likewise
 * @agreed: date, or "" while nobody agreed
 * @withdrawn: date, or ""
 * @withdrawn_reason: why, or ""
 * @from_round: label, or ""
 * @from_serial: or ""
 * @built: date of the first unit built with it, where that was before it was agreed; else ""
 * @issues: (array length=n_issues): that it answers
 */
typedef struct
{
  gint64               id;
  int                  no;
  const char          *title;
  const char          *reason;
  const char          *expected;
  const char          *proposed_by;
  const char          *proposed;
  const char          *agreed_by;
  const char          *agreed;
  const char          *withdrawn;
  const char          *withdrawn_reason;
  const char          *from_round;
  const char          *from_serial;
  const char          *built;
  InsightCompareIssue *issues;
  guint                n_issues;
} InsightCompareChange;

/**
 * InsightExplained:
 * @INSIGHT_EXPLAINED: changes lead from old to new, or a lot needs none
 * @INSIGHT_EXPLAINED_PARTLY: there are changes, but they do not lead all the way, or were withdrawn
 * @INSIGHT_EXPLAINED_NOT: no change is on record
 */
typedef enum
{
  INSIGHT_EXPLAINED,
  INSIGHT_EXPLAINED_PARTLY,
  INSIGHT_EXPLAINED_NOT
} InsightExplained;

/**
 * InsightDifference:
 * @kind: what differs
 * @part: key, or 0
 * @step: key, or 0
 * @characteristic: key of that whose limits differ, or 0
 * @code: number of the part, name of the step, code of the characteristic
 * @name: of the part or characteristic; "" of a step
 * @setting: name of the setting; else ""
 * @unit: of the setting or the limits; else ""
 * @decimals: of the limits; of a setting -1: as many as needed
 * @before: old
 * @after: new
 * @changes: (array length=n_changes): indices into the comparison's changes
 * @explained: whether the changes account for it
 * @widened: of limits: something lies inside now that lay outside before
 * @off_plan: units of the later round built otherwise than planned
 * @divides: the two groups of the question differ by it
 *
 * What differs in one part, step or characteristic. Those of one part or step stand together.
 */
typedef struct
{
  InsightDifferenceKind kind;
  gint64                part;
  gint64                step;
  gint64                characteristic;
  const char           *code;
  const char           *name;
  const char           *setting;
  const char           *unit;
  int                   decimals;
  InsightCompareSide    before;
  InsightCompareSide    after;
  guint                *changes;
  guint                 n_changes;
  InsightExplained      explained;
  gboolean              widened;
  guint                 off_plan;
  gboolean              divides;
} InsightDifference;

/**
 * InsightEffectWay:
 * @INSIGHT_EFFECT_SPLIT: two groups within one round
 * @INSIGHT_EFFECT_ROUNDS: one round against another
 */
typedef enum
{
  INSIGHT_EFFECT_SPLIT,
  INSIGHT_EFFECT_ROUNDS
} InsightEffectWay;

/**
 * InsightEffectMethod:
 * @INSIGHT_EFFECT_NONE: no interval; the remarks say why
 * @INSIGHT_EFFECT_PERMUTATION: difference of means, all arrangements
 * @INSIGHT_EFFECT_SAMPLED: difference of means, arrangements drawn at random
 * @INSIGHT_EFFECT_WELCH: difference of means, Welch's t
 * @INSIGHT_EFFECT_SHARES: difference of failed shares, Newcombe's interval, Fisher's test
 */
typedef enum
{
  INSIGHT_EFFECT_NONE,
  INSIGHT_EFFECT_PERMUTATION,
  INSIGHT_EFFECT_SAMPLED,
  INSIGHT_EFFECT_WELCH,
  INSIGHT_EFFECT_SHARES
} InsightEffectMethod;

/**
 * InsightEffectUnit:
 * @unit: key
 * @reading: key of the reading that decided
 * @serial: of the unit
 * @date: of the reading, or ""
 * @value: by the characteristic's rule; NAN for a check
 * @mark: how it was read
 * @verdict: by the limits in force at the end
 *
 * One unit by its first attempt at the deciding step.
 */
typedef struct
{
  gint64         unit;
  gint64         reading;
  const char    *serial;
  const char    *date;
  double         value;
  BookMark       mark;
  InsightVerdict verdict;
} InsightEffectUnit;

/**
 * InsightEffectGroup:
 * @label: round, revision or lot
 * @units: (array length=n): in the order of build
 * @n: units that count
 * @failed: of these failing
 * @mean: of the values; NAN for checks or none
 * @sd: NAN below two values, and for checks
 */
typedef struct
{
  const char        *label;
  InsightEffectUnit *units;
  guint              n;
  guint              failed;
  double             mean;
  double             sd;
} InsightEffectGroup;

/**
 * InsightTouch:
 * @kind: a revision, a setting or a lot
 * @id: key of the part or step
 * @name: of the part or step
 * @setting: name of the setting; else ""
 * @difference: index into the comparison's differences, -1 when it is not among them
 *
 * Something else in which the two groups of one effect differ, and on which the characteristic depends.
 */
typedef struct
{
  InsightDifferenceKind kind;
  gint64                id;
  const char           *name;
  const char           *setting;
  int                   difference;
} InsightTouch;

/**
 * InsightRemarkCode:
 * @INSIGHT_REMARK_TOO_FEW: too few units for an interval; counts: before, after, least
 * @INSIGHT_REMARK_ARRANGEMENTS: so few units that no arrangement is rare enough for an interval; counts: before, after
 * @INSIGHT_REMARK_NO_VARIATION: all values on each side are equal: no interval
 * @INSIGHT_REMARK_CENSORED: compared by the share outside, since some readings are 'above' or 'below'; counts: units
 * @INSIGHT_REMARK_NO_LIMITS: readings 'above' or 'below' and no limits: nothing to compare by; counts: units
 * @INSIGHT_REMARK_NOT_COMPUTED: the method gave no answer for these data
 * @INSIGHT_REMARK_GAUGES: read by other gauges; names: before, after. Such a difference may be the gauges'
 * @INSIGHT_REMARK_GAUGES_PARTLY: some gauges are the same on both sides, some not; names: as above
 * @INSIGHT_REMARK_ORDER: one group was built wholly before the other, so the order of build cannot be told from the change
 * @INSIGHT_REMARK_LOTS: each group is of one lot of the part that divides; names: lots before, after
 * @INSIGHT_REMARK_EXCUSED: units left out: set aside, or excused by a concession; names: units; counts: units
 * @INSIGHT_REMARK_ALTERED: units left out: read after an alteration; names, counts: as above
 * @INSIGHT_REMARK_GAUGE_OUT: units left out: read by a gauge out of calibration; names, counts: as above
 * @INSIGHT_REMARK_OLDER_LIMIT: units left out: checked against other limits; names, counts: as above
 * @INSIGHT_REMARK_VOIDED: units left out: all their readings are voided; names, counts: as above
 * @INSIGHT_REMARK_UNSAID: units left out: nobody says with which revision they were built; names, counts: as above
 * @INSIGHT_REMARK_RETESTED: units that failed first and passed later count as failed; names, counts: as above
 * @INSIGHT_REMARK_DEPENDS: nobody said what it depends on, so it is taken to depend on everything
 * @INSIGHT_REMARK_BENCH: a bench round: its pieces count as evidence of nothing else; names: rounds
 * @INSIGHT_REMARK_ALIKE: only units with the same revision of a part that a split tells about; names: part, revision
 * @INSIGHT_REMARK_CARRIED: older readings count on, since changes are marked as carried over for it; names: changes
 * @INSIGHT_REMARK_CARRIED_DOUBT: the same, though these readings can be told apart; names: changes
 * @INSIGHT_REMARK_OPEN: the testing of the round is not finished; names: rounds
 */
typedef enum
{
  INSIGHT_REMARK_TOO_FEW,
  INSIGHT_REMARK_ARRANGEMENTS,
  INSIGHT_REMARK_NO_VARIATION,
  INSIGHT_REMARK_CENSORED,
  INSIGHT_REMARK_NO_LIMITS,
  INSIGHT_REMARK_NOT_COMPUTED,
  INSIGHT_REMARK_GAUGES,
  INSIGHT_REMARK_GAUGES_PARTLY,
  INSIGHT_REMARK_ORDER,
  INSIGHT_REMARK_LOTS,
  INSIGHT_REMARK_EXCUSED,
  INSIGHT_REMARK_ALTERED,
  INSIGHT_REMARK_GAUGE_OUT,
  INSIGHT_REMARK_OLDER_LIMIT,
  INSIGHT_REMARK_VOIDED,
  INSIGHT_REMARK_UNSAID,
  INSIGHT_REMARK_RETESTED,
  INSIGHT_REMARK_DEPENDS,
  INSIGHT_REMARK_BENCH,
  INSIGHT_REMARK_ALIKE,
  INSIGHT_REMARK_CARRIED,
  INSIGHT_REMARK_CARRIED_DOUBT,
  INSIGHT_REMARK_OPEN,
  INSIGHT_N_REMARKS
} InsightRemarkCode;

/* What has to be said beside an effect. */
typedef struct
{
  InsightRemarkCode code;
  char            **names; /* never %NULL */
  gint64           *counts;
  guint             n_counts;
} InsightRemark;

/**
 * InsightEffect:
 * @characteristic: key
 * @code: of the characteristic
 * @name: of the characteristic
 * @unit: of measure, "" for none
 * @decimals: of the characteristic
 * @kind: measured or checked
 * @klass: of the characteristic
 * @way: within one round, or across rounds
 * @round: of a split: key of the round; else 0
 * @round_label: of a split; else ""
 * @divides: of a split: index of the difference that divides the groups; else -1
 * @part_name: of a split: the part or step that divides; else ""
 * @before: the old group
 * @after: the new group
 * @method: how @low and @high were found
 * @difference: after less before: of the means, or of the failed shares; NAN when a side is empty
 * @low: of @difference at %INSIGHT_COMPARE_CONFIDENCE; NAN when there is none
 * @high: as above
 * @p: of this comparison alone; NAN when there is none. Never to be shown by itself
 * @p_holm: adjusted for all that are shown; NAN likewise
 * @told_apart: the groups can be told apart, all comparisons shown together erring at most once in 20 times
 * @to_change: of a split: nothing else that is known differs, so that it may be put down to the change
 * @touches: (array length=n_touches): what else differs and cannot be separated from it; across rounds everything
 * @remarks: (element-type InsightRemark):
 */
typedef struct
{
  gint64                 characteristic;
  const char            *code;
  const char            *name;
  const char            *unit;
  int                    decimals;
  BookCharacteristicKind kind;
  BookClass              klass;
  InsightEffectWay       way;
  gint64                 round;
  const char            *round_label;
  int                    divides;
  const char            *part_name;
  InsightEffectGroup     before;
  InsightEffectGroup     after;
  InsightEffectMethod    method;
  double                 difference;
  double                 low;
  double                 high;
  double                 p;
  double                 p_holm;
  gboolean               told_apart;
  gboolean               to_change;
  InsightTouch          *touches;
  guint                  n_touches;
  GPtrArray             *remarks;
} InsightEffect;

/**
 * InsightSplitPart:
 * @round: key
 * @round_label: label
 * @part: key
 * @part_number: number
 * @labels: (array zero-terminated=1): the revisions built, the earliest first
 *
 * A round of the span in which units were built with several revisions of one part.
 */
typedef struct
{
  gint64      round;
  const char *round_label;
  gint64      part;
  const char *part_number;
  char      **labels;
} InsightSplitPart;

/**
 * InsightComparison:
 * @model: key
 * @from: key of the earlier round; of one round: that round
 * @to: key of the later round; of one round: that round
 * @within: one round was asked for
 * @before_label: the round, or the first group
 * @after_label: the round, or the second group
 * @divided_by: within one round: the part or step; else ""
 * @end: last day that is seen
 * @differences: (element-type InsightDifference): by part, then step, then characteristic
 * @changes: (element-type InsightCompareChange): that account for differences, by number
 * @unseen: (element-type InsightCompareChange): said to begin with these rounds, but the records of the units do not show them
 * @effects: (element-type InsightEffect): of each characteristic that depends on something that differs, by code
 * @n_adjusted: effects that were adjusted for together
 * @untouched: (array zero-terminated=1): codes of characteristics that depend on no revision or setting that differs
 * @unmeasured: (array zero-terminated=1): codes of those that do, but were read on neither side
 * @splits: (element-type InsightSplitPart): split rounds of the span, the latest first
 */
typedef struct
{
  gint64      model;
  const char *model_code;
  const char *model_name;
  gint64      from;
  gint64      to;
  const char *from_label;
  const char *to_label;
  gboolean    within;
  const char *before_label;
  const char *after_label;
  const char *divided_by;
  const char *end;
  GPtrArray  *differences;
  GPtrArray  *changes;
  GPtrArray  *unseen;
  GPtrArray  *effects;
  guint       n_adjusted;
  char      **untouched;
  char      **unmeasured;
  GPtrArray  *splits;

  GStringChunk *strings; /*< private >*/
} InsightComparison;

InsightComparison *insight_compare           (const BookEvidence      *evidence,
                                              const InsightCompareAsk *ask,
                                              GCancellable            *cancellable,
                                              GError                 **error) G_GNUC_WARN_UNUSED_RESULT;
void               insight_comparison_free   (InsightComparison       *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightComparison, insight_comparison_free)

const char        *insight_remark_code_name  (InsightRemarkCode        code);
const char        *insight_difference_name   (InsightDifferenceKind    kind);
const char        *insight_effect_way_name   (InsightEffectWay         way);
const char        *insight_effect_method_name (InsightEffectMethod     method);

G_END_DECLS
