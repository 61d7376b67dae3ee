/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a planned round can prove before anything is built. Everything that depends on the book is prepared once; what a
 * number of units can prove then takes a fraction of a second in any thread, again for each number that is typed.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

#define INSIGHT_PLAN_ASSURANCE  0.8 /* chance of passing that a plan aims at */
#define INSIGHT_PLAN_UNITS_MOST 100000

/**
 * InsightPlanCriterion:
 * @id: key
 * @code: visible key
 * @name: of the characteristic, or title of the issue
 * @about_code: code of the characteristic
 * @unit: of measure, ""
 * @decimals: of the characteristic
 * @klass: of what it is about
 * @is_fix: it asks whether an issue is solved
 * @by_count: units are counted as failing or not; else values are judged by their shape
 * @strict: looks and attempts cost confidence
 * @blocking: said so in the book
 * @method: of the confidence
 * @share: that must conform
 * @tolerated: share that may fail, less where a check does not find everything
 * @wanted_base: confidence wanted, without surcharge
 * @wanted: at the look or attempt that the round will be
 * @n: units of the planned state that count already
 * @failed: of these failing
 * @mean: of their values (logarithms where @logs); NAN
 * @sd: NAN below two values
 * @logs: the log-normal answer is the lesser one and decides
 * @confidence: reached by them; NAN when none can be told
 * @plan_units: of a declared plan; 0: none
 * @plan_failures: allowed by it
 * @needed: further units for #INSIGHT_PLAN_ASSURANCE; 0: none; -1: no number would do; only where something is known
 * @needed_clean: further units if none fails, or if mean and deviation stay; -1: no number would do, or nothing is known
 * @not_enough_alone: a count of passed and failed meets a safety criterion only where the owner set the share
 * @needs_choice: the test destroys the unit, and no unit is planned for it
 * @needed_load: that a unit must bear to count for a fix; NAN: none
 * @needed_cycles: likewise
 * @no_limits: no limits in force: nothing can be proven
 */
typedef struct
{
  gint64        id;
  char         *code;
  char         *name;
  char         *about_code;
  char         *unit;
  int           decimals;
  BookClass     klass;
  gboolean      is_fix;
  gboolean      by_count;
  gboolean      strict;
  gboolean      blocking;
  InsightMethod method;
  double        share;
  double        tolerated;
  double        wanted_base;
  double        wanted;
  guint         n;
  guint         failed;
  double        mean;
  double        sd;
  gboolean      logs;
  double        confidence;
  guint         plan_units;
  guint         plan_failures;
  int           needed;
  int           needed_clean;
  gboolean      not_enough_alone;
  gboolean      needs_choice;
  double        needed_load;
  double        needed_cycles;
  gboolean      no_limits;
} InsightPlanCriterion;

/**
 * InsightPlanOfferCode:
 * @INSIGHT_PLAN_MEASURE_INSTEAD: measuring a strength takes fewer units than pass or fail; code: of the criterion; units
 *   that pass or fail would take
 * @INSIGHT_PLAN_SPLIT: build half with the old and half with the new state; code: number of the change; name: its title;
 *   part, old and new label
 */
typedef enum
{
  INSIGHT_PLAN_MEASURE_INSTEAD,
  INSIGHT_PLAN_SPLIT
} InsightPlanOfferCode;

typedef struct
{
  InsightPlanOfferCode code;
  char                *about;
  char                *name;
  char                *part;
  char                *old_label;
  char                *new_label;
  guint                units;
} InsightPlanOffer;

typedef struct _InsightPlan InsightPlan;

InsightPlan *insight_plan_new        (const BookEvidence *evidence,
                                      gint64              round,
                                      const char         *today,
                                      GCancellable       *cancellable,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
InsightPlan *insight_plan_ref        (InsightPlan        *plan);
void         insight_plan_unref      (InsightPlan        *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightPlan, insight_plan_unref)

guint        insight_plan_get_units  (const InsightPlan  *plan);
guint        insight_plan_n_criteria (const InsightPlan  *plan);
const InsightPlanCriterion *insight_plan_get_criterion (const InsightPlan *plan,
                                      guint               i);
/* (element-type InsightPlanOffer) */
const GPtrArray *insight_plan_get_offers (const InsightPlan *plan);
/* Criteria that no number of units settles: issues, documents, rates and their like. */
guint        insight_plan_n_others   (const InsightPlan  *plan);
/* (array zero-terminated=1): serials that two tests would use up or take out of the shop. */
char       **insight_plan_get_twice  (const InsightPlan  *plan);

/**
 * InsightPlanProof:
 * @counted: further units that count
 * @taken: units that other tests destroy or that are lent
 * @confidence: reached if none of them fails, or if mean and deviation stay, also within each lot; NAN when none can be told
 * @proves: that is enough
 * @allowed: how many of them may fail; -1: not even none would be enough
 * @assurance: chance of passing by what is known so far; NAN when nothing is
 * @bad_passes: chance that a design at exactly the tolerated share passes; NAN
 * @distance: how many deviations the mean must lie inside its limit with that many units; NAN for counts, two limits, or
 *   below six units
 * @lots: deliveries of @lots_of that will have been seen, of the part or step with the fewest; 0: lots do not matter
 * @lots_of: (nullable): name of that part or step; lives as long as the plan
 * @lots_assumed: no lot is planned: the units are taken to come of one that was not seen before
 * @lots_few: these are fewer than three, so that variation between deliveries is not seen
 * @lots_short: and the criterion is strict, so that it is not met without a waiver
 * @pooled: the confidence as if all were of one lot; NAN when none can be told
 * @by_lots_of: (nullable): name of the part or step by whose lots the values reach less than @pooled, and so @confidence is
 *   told; @assurance and @bad_passes are as if all were of one lot, which is no less; lives as long as the plan
 */
typedef struct
{
  guint    counted;
  guint    taken;
  double   confidence;
  gboolean proves;
  int      allowed;
  double   assurance;
  double   bad_passes;
  double   distance;
  guint    lots;
  const char *lots_of;
  gboolean lots_assumed;
  gboolean lots_few;
  gboolean lots_short;
  double   pooled;
  const char *by_lots_of;
} InsightPlanProof;

/**
 * InsightPlanAnswer:
 * @units: that were asked about
 * @n: criteria
 * @proofs: (array length=n): of each criterion in the order of the plan
 * @all_pass: chance that all pass of which something is known, as if each were independent of the others; NAN: none is
 * @n_known: how many these are
 * @at_most: @all_pass may be less, since values are judged by lot
 * @n_proves: criteria that these units could meet
 */
typedef struct
{
  guint             units;
  guint             n;
  InsightPlanProof *proofs;
  double            all_pass;
  guint             n_known;
  gboolean          at_most;
  guint             n_proves;
} InsightPlanAnswer;

InsightPlanAnswer *insight_plan_prove (const InsightPlan  *plan,
                                       guint               units,
                                       GCancellable       *cancellable,
                                       GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void         insight_plan_answer_free (InsightPlanAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightPlanAnswer, insight_plan_answer_free)

G_END_DECLS
