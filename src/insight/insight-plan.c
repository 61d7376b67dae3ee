/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include "insight-counting-private.h"
#include "insight-issue.h"
#include "insight-span-private.h"
#include "num-conformance.h"
#include "num-describe.h"
#include "num-plan.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * Method. Each criterion about units is taken through all looks so far, and through one more: that at the planned round,
 * which looks for the state that its plan takes. What counts there is known already; failures that no longer count there
 * have cost an attempt. Units of the round itself are left out, for it is planned as if nothing of it were built.
 */

static void
offer_free (gpointer data)
{
  InsightPlanOffer *offer = data;

  g_free (offer->about);
  g_free (offer->name);
  g_free (offer->part);
  g_free (offer->old_label);
  g_free (offer->new_label);
  g_free (offer);
}

static void
input_clear (gpointer data)
{
  InsightPlanInput *input = data;
  InsightPlanCriterion *told = &input->told;

  g_clear_pointer (&input->groupings, g_array_unref);
  g_clear_pointer (&input->places, g_array_unref);
  g_clear_pointer (&input->scales, g_array_unref);
  g_free (told->code);
  g_free (told->name);
  g_free (told->about_code);
  g_free (told->unit);
}

static InsightPlan *
plan_alloc (gint64 model, guint units)
{
  InsightPlan *plan = g_new0 (InsightPlan, 1);

  g_atomic_ref_count_init (&plan->references);
  plan->model = model;
  plan->units = units;
  plan->inputs = g_array_new (FALSE, TRUE, sizeof (InsightPlanInput));
  g_array_set_clear_func (plan->inputs, input_clear);
  plan->tests = g_array_new (FALSE, FALSE, sizeof (InsightPlanTest));
  plan->offers = g_ptr_array_new_with_free_func (offer_free);
  plan->twice = g_ptr_array_new_with_free_func (g_free);
  return plan;
}

InsightPlan *
insight_plan_ref (InsightPlan *plan)
{
  g_atomic_ref_count_inc (&plan->references);
  return plan;
}

void
insight_plan_unref (InsightPlan *plan)
{
  if (plan == NULL || !g_atomic_ref_count_dec (&plan->references))
    return;
  g_array_unref (plan->inputs);
  g_array_unref (plan->tests);
  g_ptr_array_unref (plan->offers);
  g_ptr_array_unref (plan->twice);
  g_free (plan);
}

guint
insight_plan_get_units (const InsightPlan *plan)
{
  return plan->units;
}

guint
insight_plan_n_criteria (const InsightPlan *plan)
{
  return plan->inputs->len;
}

const InsightPlanCriterion *
insight_plan_get_criterion (const InsightPlan *plan, guint i)
{
  g_return_val_if_fail (i < plan->inputs->len, NULL);

  return &g_array_index (plan->inputs, InsightPlanInput, i).told;
}

const GPtrArray *
insight_plan_get_offers (const InsightPlan *plan)
{
  return plan->offers;
}

guint
insight_plan_n_others (const InsightPlan *plan)
{
  return plan->n_others;
}

char **
insight_plan_get_twice (const InsightPlan *plan)
{
  return (char **) plan->twice->pdata;
}

/* ---- what counts already ---- */

typedef struct
{
  const InsightBasis *basis;
  GPtrArray          *looks;  /* InsightLook: all so far, last the one at the planned round */
  InsightIssues      *issues; /* NULL until one is asked for */
  int                 round;
  BookDay             today;
} Preparing;

/* Plain values of the units that count; returns how many. */
static guint
collect (const Preparing *p, const InsightUnits *units, InsightPlanCriterion *told, double *values, guint *censored)
{
  guint n = 0;

  *censored = 0;
  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];

      if (unit->counting != INSIGHT_COUNTS || p->basis->e->units[unit->unit].round == p->round)
        continue;
      told->n++;
      told->failed += insight_is_failing (unit->verdict);
      *censored += unit->censored || isnan (unit->value);
      values[n++] = unit->value;
    }
  return n;
}

static void
scale_clear (gpointer data)
{
  g_clear_pointer (&((InsightPlanScale *) data)->values, g_array_unref);
}

static gboolean
describe_values (InsightPlanInput *input, const double *values, guint n, double resolution, gboolean logs, InsightPlanScale *scale)
{
  NumMoments moments;

  for (guint i = 0; i < n; i++)
    {
      double own = logs ? log (values[i]) : values[i];

      if (logs && !(values[i] > 0.0))
        return FALSE;
      g_array_append_val (scale->values, own);
    }
  if (n < 2 || num_moments ((const double *) (gpointer) scale->values->data, n, &moments) != NUM_OK)
    return FALSE;
  input->told.logs = logs;
  scale->mean = input->told.mean = moments.mean;
  scale->sd = input->told.sd = MAX (moments.sd, 0.5 * resolution);
  scale->resolution = resolution;
  scale->limits = input->limits;
  return scale->sd > 0.0;
}

static InsightPlanScale
scale_new (void)
{
  return (InsightPlanScale){ .values = g_array_new (FALSE, FALSE, sizeof (double)), .mean = NAN, .sd = NAN };
}

/* Normal and log-normal, the lesser answer; a stated log-normal alone. */
static void
describe_shape (InsightPlanInput *input, const BookEvidenceCharacteristic *one, const double *values, guint n,
                double resolution)
{
  InsightPlanInput plain = *input, logs = *input;
  InsightPlanScale scales[] = { scale_new (), scale_new () };
  GArray *asked = g_array_new (FALSE, FALSE, sizeof (InsightPlanScale));
  double mean = 0.0;

  g_array_set_clear_func (asked, scale_clear);
  for (guint i = 0; i < n; i++)
    mean += values[i] / n;
  logs.limits = num_limits_log (input->limits);
  if (describe_values (&plain, values, n, resolution, FALSE, &scales[0]))
    plain.told.confidence = insight_plan_confidence (&plain, 0, 0);
  if ((isfinite (logs.limits.lower) || isfinite (logs.limits.upper))
      && describe_values (&logs, values, n, resolution / fabs (mean), TRUE, &scales[1]))
    logs.told.confidence = insight_plan_confidence (&logs, 0, 0);
  else
    logs.told.sd = NAN;
  if (one->shape == BOOK_SHAPE_LOG_NORMAL || (!isnan (logs.told.sd) && logs.told.confidence < plain.told.confidence))
    *input = logs;
  else
    *input = plain;
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    if (isnan (scales[i].sd) || (i == 0 && one->shape == BOOK_SHAPE_LOG_NORMAL))
      scale_clear (&scales[i]);
    else
      g_array_append_val (asked, scales[i]);
  input->scales = asked;
}

/* A declared plan holds while nothing that counts was measured before it. */
static void
apply_declared (InsightPlanCriterion *told, const InsightTerms *terms)
{
  if (terms->term == NULL || terms->term->plan_units <= 0 || told->n > 0)
    return;
  told->by_count = TRUE;
  told->method = INSIGHT_METHOD_PLAN;
  told->plan_units = (guint) terms->term->plan_units;
  told->plan_failures = (guint) terms->term->plan_failures;
}

static void
prepare_characteristic (const Preparing *p, guint number, InsightPlanInput *input)
{
  const BookEvidence *e = p->basis->e;
  const BookEvidenceCriterion *asked = &e->criteria[number];
  const BookEvidenceCharacteristic *one = &e->characteristics[asked->characteristic];
  const gboolean is_checked = one->kind == BOOK_CHARACTERISTIC_CHECKED;
  InsightPlanCriterion *told = &input->told;
  InsightTerms terms = insight_terms_on (e, number, p->today);
  g_auto(InsightUnits) units;
  g_auto(InsightLooks) looks;
  g_autofree double *values = g_new (double, e->n_units + 1);
  double detection, resolution;
  guint censored, n;

  insight_units_init (&units, p->basis);
  insight_looks_init (&looks, e);
  for (guint i = 0; i < p->looks->len; i++)
    {
      insight_units_gather (&units, p->looks->pdata[i], asked->characteristic, asked->counts_from);
      insight_looks_add (&looks, &units);
    }
  n = collect (p, &units, told, values, &censored);
  insight_plan_groupings (input, &units, p->basis, p->round);
  told->share = terms.share;
  told->wanted_base = terms.confidence;
  told->tolerated = 1.0 - terms.share;
  detection = is_checked ? insight_detection (e, asked->characteristic, p->today, terms.confidence) : NAN;
  if (!isnan (detection))
    told->tolerated *= detection;
  told->by_count = is_checked || asked->kind == BOOK_CRITERION_CHECKED || one->shape == BOOK_SHAPE_UNKNOWN || one->fitted || censored > 0;
  told->method = !told->by_count ? INSIGHT_METHOD_LEAST : asked->strict ? INSIGHT_METHOD_ANYTIME : INSIGHT_METHOD_EXACT;
  apply_declared (told, &terms);
  told->wanted = told->wanted_base;
  if (asked->strict)
    told->wanted = insight_surcharged (told->wanted_base, told->by_count ? looks.attempts : MAX (looks.looks + 1, looks.attempts));
  told->not_enough_alone = told->by_count && asked->klass == BOOK_CLASS_SAFETY && !terms.owner_share;
  told->no_limits = (!is_checked && units.limit < 0) || units.nothing_fits;
  told->needs_choice = one->destructive;
  input->limits = units.limits;
  if (told->no_limits)
    return;
  if (told->by_count)
    {
      told->confidence = insight_plan_confidence (input, 0, 0);
      return;
    }
  resolution = insight_resolution (e, asked->characteristic);
  describe_shape (input, one, values, n, resolution > 0.0 ? resolution : n > 0 ? pow (10.0, -one->decimals) : 0.0);
}

/* ---- whether an issue is solved ---- */

/* Whether the round brings a new answer to the issue, so that what was measured on an older one no longer counts. */
static gboolean
brings_answer (const Preparing *p, int issue)
{
  const BookEvidence *e = p->basis->e;

  for (guint i = 0; i < e->n_change_issues; i++)
    {
      const BookEvidenceChange *change = &e->changes[e->change_issues[i].change];

      if (e->change_issues[i].issue == issue && change->from_round == p->round && change->agreed != 0 && change->withdrawn == 0)
        return TRUE;
    }
  return FALSE;
}

static gboolean
prepare_fix (Preparing *p, guint number, InsightPlanInput *input, GCancellable *cancellable, GError **error)
{
  const BookEvidence *e = p->basis->e;
  const BookEvidenceCriterion *asked = &e->criteria[number];
  InsightPlanCriterion *told = &input->told;
  g_autofree char *today = book_day_format (p->today);
  const InsightSpan span = { 0, today };
  const InsightIssue *issue;
  guint attempts;

  if (p->issues == NULL)
    p->issues = insight_issues (e, &span, cancellable, error);
  if (p->issues == NULL)
    return FALSE;
  issue = insight_issues_find (p->issues, e->issues[asked->issue].id);
  if (issue == NULL)
    return TRUE;
  attempts = issue->attempts;
  if (!brings_answer (p, asked->issue))
    {
      told->n = issue->after_n;
      told->failed = issue->after_failed;
    }
  else
    attempts += issue->after_failed > 0;
  told->is_fix = told->by_count = TRUE;
  told->share = 1.0 - issue->tolerated;
  told->tolerated = issue->tolerated;
  told->wanted_base = issue->wanted_base;
  told->method = issue->strict ? INSIGHT_METHOD_ANYTIME : INSIGHT_METHOD_EXACT;
  told->wanted = issue->strict ? insight_surcharged (issue->wanted_base, MAX (attempts, 1)) : issue->wanted_base;
  told->needed_load = issue->needed_load;
  told->needed_cycles = issue->needed_cycles;
  told->no_limits = !issue->has_test || !(issue->tolerated > 0.0);
  input->characteristic = e->issues[asked->issue].seen_by;
  if (!told->no_limits)
    told->confidence = insight_plan_confidence (input, 0, 0);
  return TRUE;
}

/* ---- how many would do ---- */

static void
find_needed_counts (InsightPlanInput *input)
{
  InsightPlanCriterion *told = &input->told;
  size_t clean = insight_plan_units_allowing (told, told->failed);

  if (told->plan_units > 0)
    clean = told->plan_units;
  told->needed_clean = clean == 0 ? -1 : clean > told->n ? (int) (clean - told->n) : 0;
  told->needed = -1;
  if (told->n == 0)
    return;
  for (guint further = 0; further <= 400; further++)
    {
      size_t all = insight_plan_units_allowing (told, told->failed + further);
      NumPlan chance;

      if (all == 0 || all > INSIGHT_PLAN_UNITS_MOST)
        return;
      if (num_plan_counts_chance (told->failed, told->n, all > told->n ? all - told->n : 0, further, told->tolerated, &chance) != NUM_OK)
        return;
      if (chance.assurance >= INSIGHT_PLAN_ASSURANCE)
        {
          told->needed = all > told->n ? (int) (all - told->n) : 0;
          return;
        }
    }
}

static void
find_needed_values (const InsightPlan *plan, InsightPlanInput *input)
{
  InsightPlanCriterion *told = &input->told;
  const NumPlanQuestion question = { told->n, told->mean, told->sd, input->limits, told->share, told->wanted, INSIGHT_PLAN_ASSURANCE };
  NumPlan found;
  size_t units;

  told->needed = told->needed_clean = -1;
  if (told->n < 2 || isnan (told->sd))
    return;
  if (num_conformance_units (told->mean, told->sd, input->limits, told->share, told->wanted, MAX (told->n, INSIGHT_UNITS_LEAST),
                             INSIGHT_PLAN_UNITS_MOST, &units) == NUM_OK)
    told->needed_clean = (int) (units - told->n);
  if (num_plan_measured (&question, (guint64) plan->model, (guint64) told->id, NUM_PLAN_DRAWS, &found) == NUM_OK)
    told->needed = MAX ((int) found.units, told->n < INSIGHT_UNITS_LEAST ? INSIGHT_UNITS_LEAST - (int) told->n : 0);
}

static void
find_needed (const InsightPlan *plan, InsightPlanInput *input)
{
  if (input->told.no_limits)
    input->told.needed = input->told.needed_clean = -1;
  else if (input->told.by_count)
    find_needed_counts (input);
  else
    find_needed_values (plan, input);
}

/* ---- one criterion after the other ---- */

static InsightPlanInput
input_new (const BookEvidence *e, const BookEvidenceCriterion *asked)
{
  const BookEvidenceCharacteristic *one = asked->characteristic >= 0 ? &e->characteristics[asked->characteristic] : NULL;
  InsightPlanInput input = { .characteristic = asked->characteristic };
  InsightPlanCriterion *told = &input.told;

  told->id = asked->id;
  told->code = g_strdup (asked->code);
  told->name = g_strdup (one != NULL ? one->name : asked->issue >= 0 ? e->issues[asked->issue].title : "");
  told->about_code = g_strdup (one != NULL ? one->code : "");
  told->unit = g_strdup (one != NULL ? one->unit : "");
  told->decimals = one != NULL ? one->decimals : -1;
  told->klass = asked->klass;
  told->strict = asked->strict;
  told->blocking = asked->blocking;
  told->mean = told->sd = told->confidence = told->needed_load = told->needed_cycles = NAN;
  return input;
}

/* Units of a kind of round that does not count prove nothing. */
static gboolean
kind_counts (const Preparing *p, const BookEvidenceCriterion *asked)
{
  return insight_kind_counts (p->basis->e->rounds[p->round].kind, asked->counts_from);
}

static gboolean
prepare_criterion (InsightPlan *plan, Preparing *p, guint number, GCancellable *cancellable, GError **error)
{
  const BookEvidence *e = p->basis->e;
  const BookEvidenceCriterion *asked = &e->criteria[number];
  gboolean is_checked = asked->characteristic >= 0 && e->characteristics[asked->characteristic].kind == BOOK_CHARACTERISTIC_CHECKED;
  gboolean about_units = asked->characteristic >= 0
                         && (asked->kind == BOOK_CRITERION_CHECKED || (asked->kind == BOOK_CRITERION_MEASURED && !is_checked));
  gboolean is_fix = asked->kind == BOOK_CRITERION_FIX && asked->issue >= 0;
  InsightPlanInput input;

  if (!about_units && !is_fix)
    {
      plan->n_others++;
      return TRUE;
    }
  input = input_new (e, asked);
  if (about_units)
    prepare_characteristic (p, number, &input);
  else if (!prepare_fix (p, number, &input, cancellable, error))
    {
      input_clear (&input);
      return FALSE;
    }
  input.told.needs_choice = input.told.needs_choice && !insight_plan_has_test (plan, input.characteristic);
  input.places = insight_plan_range (p->looks->pdata[p->looks->len - 1], p->round, input.characteristic);
  if (!kind_counts (p, asked))
    g_array_set_size (input.places, 0);
  if (!isnan (input.told.confidence))
    input.told.confidence = fmin (input.told.confidence, insight_plan_by_lot (plan, &input, 0, 0, NULL));
  find_needed (plan, &input);
  g_array_append_val (plan->inputs, input);
  return TRUE;
}

guint
insight_plan_built (const BookEvidence *e, int round)
{
  guint n = 0;

  for (guint i = 0; i < e->n_units; i++)
    n += e->units[i].round == round && e->units[i].part < 0;
  return n;
}

/**
 * insight_plan_new:
 * @evidence: the records of a model, with its readings
 * @round: key of the round that is planned
 * @today: day of the question, ISO 8601
 * @cancellable: (nullable): asked once a criterion
 * @error: return location
 *
 * Prepares the question what the round can prove. The plan keeps nothing of @evidence.
 *
 * Returns: (transfer full) (nullable): the plan; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightPlan *
insight_plan_new (const BookEvidence *evidence, gint64 round, const char *today, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { round, today };
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightBasis) basis = NULL;
  Preparing p = { 0 };
  gboolean ok = TRUE;

  if (!insight_span_resolve (evidence, &span, &p.round, &p.today, error))
    return NULL;
  if (p.round < 0)
    {
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND, _("The model '%s' has no round yet: plan one first."), evidence->code);
      return NULL;
    }
  /* A round that was built without a plan has the units that it has. */
  plan = plan_alloc (evidence->model_id, evidence->rounds[p.round].planned_units > 0 ? (guint) evidence->rounds[p.round].planned_units
                                                                                     : insight_plan_built (evidence, p.round));
  basis = insight_basis_new (evidence);
  p.basis = basis;
  p.looks = insight_look_list (basis, p.round - 1, p.today);
  g_ptr_array_add (p.looks, insight_look_planned (basis, p.round, p.today));
  insight_plan_tests (plan, evidence, p.round);
  for (guint i = 0; ok && i < evidence->n_criteria; i++)
    ok = !g_cancellable_set_error_if_cancelled (cancellable, error) && prepare_criterion (plan, &p, i, cancellable, error);
  insight_plan_offers (plan, evidence, p.round);
  g_ptr_array_unref (p.looks);
  g_clear_pointer (&p.issues, insight_issues_free);
  return ok ? g_steal_pointer (&plan) : NULL;
}
