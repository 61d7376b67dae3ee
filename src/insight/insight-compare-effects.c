/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the readings say about what differs.
 *
 * Method. A unit speaks by its first attempt at the deciding step, as everywhere. Two groups of one round: the exact
 * permutation of means (Pitman 1937). Two rounds: Welch's t. Checks, and values of which some are only bounds: the failed
 * shares, Newcombe's interval and Fisher's exact test. All comparisons that have an interval are adjusted together (Holm
 * 1979). What else differs between the two groups is named and keeps a difference from being put down to the change.
 */
#include "config.h"
#include "insight-compare-private.h"

#include "insight-compare-group-private.h"
#include "num-adjust.h"
#include "num-compare.h"
#include "num-permutation.h"

#include <math.h>

#define RARE_ENOUGH 40.0 /* arrangements from which on one of them is as rare as half the error allowed: 1/40 = 0.05/2 */

void
insight_effect_free (InsightEffect *effect)
{
  g_free (effect->before.units);
  g_free (effect->after.units);
  g_free (effect->touches);
  g_ptr_array_unref (effect->remarks);
  g_free (effect);
}

static gboolean
is_dependent (const InsightCompare *compare, int characteristic, InsightDependence on)
{
  const InsightBasis *basis = compare->basis;

  for (guint i = basis->depend[characteristic]; i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence one = g_array_index (basis->dependences, InsightDependence, i);

      if (one.part == on.part && one.step == on.step)
        return TRUE;
    }
  return FALSE;
}

/* Whether a difference is a reason to look at a characteristic: deliveries alone are none, unless they are asked about. */
static gboolean
is_cause (const InsightCompare *compare, guint number, int characteristic)
{
  const InsightDifference *difference = compare->out->differences->pdata[number];
  const InsightDifferenceRoot *root = compare->roots->pdata[number];

  if (!root->differs || difference->kind == INSIGHT_DIFFERS_LIMIT
      || (difference->kind == INSIGHT_DIFFERS_LOT && !difference->divides))
    return FALSE;
  return is_dependent (compare, characteristic, root->on);
}

static double
arrangements (guint before, guint after)
{
  double count = 1.0;

  for (guint i = 1; i <= MIN (before, after) && count < RARE_ENOUGH; i++)
    count = count * (before + after - MIN (before, after) + i) / i;
  return count;
}

/* Whether every value of a group is the same. */
static gboolean
is_flat (const GArray *values)
{
  for (guint i = 1; i < values->len; i++)
    if (g_array_index (values, double, i) != g_array_index (values, double, 0))
      return FALSE;
  return TRUE;
}

static void
compare_shares (const InsightGroups *groups, InsightEffect *effect)
{
  NumShareComparison out;

  effect->difference = (double) effect->after.failed / effect->after.n - (double) effect->before.failed / effect->before.n;
  if (groups->too_few)
    return;
  if (num_compare_shares (effect->before.failed, effect->before.n, effect->after.failed, effect->after.n,
                          INSIGHT_COMPARE_CONFIDENCE, &out) != NUM_OK)
    {
      insight_effect_remark (effect, INSIGHT_REMARK_NOT_COMPUTED);
      return;
    }
  effect->method = INSIGHT_EFFECT_SHARES;
  effect->low = out.interval.low;
  effect->high = out.interval.high;
  effect->p = out.p;
}

static void
permute (const InsightCompare *compare, NumSample before, NumSample after, InsightEffect *effect)
{
  NumPermutation out;

  if (arrangements ((guint) before.n, (guint) after.n) < RARE_ENOUGH)
    {
      InsightRemark *remark = insight_effect_remark (effect, INSIGHT_REMARK_ARRANGEMENTS);

      insight_remark_add_count (remark, (gint64) before.n);
      insight_remark_add_count (remark, (gint64) after.n);
      return;
    }
  if (num_permutation (before, after, INSIGHT_COMPARE_CONFIDENCE, (guint64) compare->e->model_id,
                       (guint64) effect->characteristic, &out) != NUM_OK)
    {
      insight_effect_remark (effect, INSIGHT_REMARK_NOT_COMPUTED);
      return;
    }
  effect->method = out.exact ? INSIGHT_EFFECT_PERMUTATION : INSIGHT_EFFECT_SAMPLED;
  effect->low = out.interval.low;
  effect->high = out.interval.high;
  effect->p = out.p;
}

static void
compare_means (const InsightCompare *compare, const InsightGroups *groups, InsightEffect *effect)
{
  const GArray *values[2] = { groups->values[INSIGHT_SIDE_BEFORE], groups->values[INSIGHT_SIDE_AFTER] };
  NumSample before = { (const double *) (gpointer) values[0]->data, values[0]->len };
  NumSample after = { (const double *) (gpointer) values[1]->data, values[1]->len };
  NumComparison out;

  effect->difference = effect->after.mean - effect->before.mean;
  if (groups->too_few)
    return;
  if (is_flat (values[0]) && is_flat (values[1]))
    {
      insight_effect_remark (effect, INSIGHT_REMARK_NO_VARIATION);
      return;
    }
  if (effect->way == INSIGHT_EFFECT_SPLIT)
    {
      permute (compare, before, after, effect);
      return;
    }
  if (num_compare (before, after, INSIGHT_COMPARE_CONFIDENCE, &out) != NUM_OK)
    {
      insight_effect_remark (effect, INSIGHT_REMARK_NOT_COMPUTED);
      return;
    }
  effect->method = INSIGHT_EFFECT_WELCH;
  effect->low = out.interval.low;
  effect->high = out.interval.high;
  effect->p = out.p;
}

static void
measure (const InsightCompare *compare, const InsightGroups *groups, InsightEffect *effect)
{
  if (groups->too_few)
    {
      InsightRemark *remark = insight_effect_remark (effect, INSIGHT_REMARK_TOO_FEW);

      insight_remark_add_count (remark, effect->before.n);
      insight_remark_add_count (remark, effect->after.n);
      insight_remark_add_count (remark, INSIGHT_COMPARE_LEAST);
    }
  if (effect->before.n == 0 || effect->after.n == 0)
    return;
  if (effect->kind == BOOK_CHARACTERISTIC_CHECKED)
    {
      compare_shares (groups, effect);
      return;
    }
  if (groups->n_censored == 0)
    {
      compare_means (compare, groups, effect);
      return;
    }
  insight_remark_add_count (insight_effect_remark (effect, groups->has_limits ? INSIGHT_REMARK_CENSORED
                                                                              : INSIGHT_REMARK_NO_LIMITS),
                            groups->n_censored);
  if (groups->has_limits)
    compare_shares (groups, effect);
}

/* One effect, unless nothing was read on either side. */
static gboolean
add_effect (InsightCompare *compare, InsightUnits *units, const InsightSides *sides, int divides)
{
  const BookEvidence *e = compare->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[units->characteristic];
  g_auto(InsightGroups) groups = { 0 };
  InsightEffect *effect = g_new0 (InsightEffect, 1);

  effect->remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_remark_free);
  effect->characteristic = one->id;
  effect->code = insight_compare_keep (compare, one->code);
  effect->name = insight_compare_keep (compare, one->name);
  effect->unit = insight_compare_keep (compare, one->unit);
  effect->decimals = one->decimals;
  effect->kind = one->kind;
  effect->klass = one->klass;
  effect->way = sides->round >= 0 ? INSIGHT_EFFECT_SPLIT : INSIGHT_EFFECT_ROUNDS;
  effect->round = sides->round >= 0 ? e->rounds[sides->round].id : 0;
  effect->round_label = sides->round >= 0 ? insight_compare_keep (compare, e->rounds[sides->round].label) : "";
  effect->divides = divides;
  effect->part_name = sides->round >= 0 ? insight_dependence_name (compare, sides->by) : "";
  effect->difference = effect->low = effect->high = effect->p = effect->p_holm = NAN;

  insight_groups_gather (&groups, compare, units, sides, effect);
  if (groups.n_read == 0)
    {
      insight_effect_free (effect);
      return FALSE;
    }
  measure (compare, &groups, effect);
  effect->to_change = effect->way == INSIGHT_EFFECT_SPLIT && effect->n_touches == 0 && !groups.other_gauges;
  g_ptr_array_add (compare->out->effects, effect);
  return TRUE;
}

/* Two groups of one round by the revisions of a part that are on both sides of the question. */
typedef struct
{
  InsightSides sides;
  guint        difference;
} Split;

/* Of a round's units the earliest and the latest revision that the question knows, and the smaller group. */
static guint
look_for_split (const InsightCompare *compare, const InsightDifferenceRoot *root, int round, InsightSides *sides)
{
  const BookEvidence *e = compare->e;
  guint n_old = 0, n_new = 0;

  *sides = (InsightSides){ -1, -1, round, root->on, FALSE, -1, -1, -1, -1 };
  for (guint i = 0; i < e->n_units; i++)
    {
      int state;

      if (e->units[i].round != round || !insight_compare_was_built (compare, i))
        continue;
      state = insight_compare_state (compare, INSIGHT_DIFFERS_REVISION, root->on, i);
      if (state < 0 || !(insight_has_state (root->before, state, NAN) || insight_has_state (root->after, state, NAN)))
        continue;
      if (sides->old_state < 0 || insight_later_revision (e, sides->old_state, state) != state)
        sides->old_state = state;
      sides->new_state = insight_later_revision (e, sides->new_state, state);
    }
  if (sides->old_state < 0 || sides->old_state == sides->new_state)
    return 0;
  for (guint i = 0; i < e->n_units; i++)
    if (insight_compare_was_built (compare, i))
      {
        InsightSide side = insight_side_of (compare, sides, i);

        n_old += side == INSIGHT_SIDE_BEFORE;
        n_new += side == INSIGHT_SIDE_AFTER;
      }
  return MIN (n_old, n_new);
}

/* For each changed part the round of the span that is split best by it, the later of equals. */
static GArray *
find_splits (const InsightCompare *compare)
{
  GArray *splits = g_array_new (FALSE, FALSE, sizeof (Split));

  for (guint i = 0; i < compare->out->differences->len; i++)
    {
      const InsightDifference *difference = compare->out->differences->pdata[i];
      const InsightDifferenceRoot *root = compare->roots->pdata[i];
      Split best = { .difference = i };
      guint most = 0;

      if (difference->kind != INSIGHT_DIFFERS_REVISION || !root->differs)
        continue;
      for (int round = compare->sides.from; round <= compare->sides.to; round++)
        {
          InsightSides sides;
          guint least = look_for_split (compare, root, round, &sides);

          if (least >= MAX (most, 1))
            {
              best.sides = sides;
              most = least;
            }
        }
      if (most > 0)
        g_array_append_val (splits, best);
    }
  return splits;
}

/* The revision of a split part that both rounds have, so that they can be compared without its change; -1 none. */
static int
common_revision (const InsightDifferenceRoot *root)
{
  int found = -1;

  for (guint i = 0; i < root->before->len; i++)
    {
      int state = g_array_index (root->before, InsightStateCount, i).state;

      if (state >= 0 && insight_has_state (root->after, state, NAN))
        {
          if (found >= 0)
            return -1;
          found = state;
        }
    }
  return found;
}

static gboolean
has_interval (const InsightCompare *compare)
{
  const InsightEffect *last = compare->out->effects->pdata[compare->out->effects->len - 1];

  return isfinite (last->low);
}

/*
 * Of one characteristic: each split of a part that it depends on; the rounds as well where a split cannot tell, or where
 * something changed beside what the splits show. Then only units alike in the split part stand on both sides, if there are.
 */
static gboolean
add_effects (InsightCompare *compare, InsightUnits *units, const GArray *splits)
{
  InsightSides sides = compare->sides;
  int characteristic = units->characteristic;
  guint n_causes = 0, n_answered = 0;
  gboolean any = FALSE;

  for (guint i = 0; i < compare->out->differences->len; i++)
    n_causes += is_cause (compare, i, characteristic);
  for (guint i = 0; i < splits->len; i++)
    {
      const Split *split = &g_array_index (splits, Split, i);
      const InsightDifferenceRoot *root = compare->roots->pdata[split->difference];

      if (!is_dependent (compare, characteristic, root->on)
          || !add_effect (compare, units, &split->sides, (int) split->difference))
        continue;
      any = TRUE;
      if (!has_interval (compare))
        continue;
      n_answered++;
      if (common_revision (root) >= 0 && sides.keep_part < 0)
        {
          sides.keep_part = root->on.part;
          sides.keep_revision = common_revision (root);
        }
    }
  if (n_answered < n_causes)
    any |= add_effect (compare, units, &sides, -1);
  return any;
}

static void
adjust (InsightCompare *compare)
{
  GPtrArray *effects = compare->out->effects;
  g_autofree double *p = g_new (double, effects->len + 1);
  g_autofree double *holm = g_new (double, effects->len + 1);
  gsize n = 0;

  for (guint i = 0; i < effects->len; i++)
    if (isfinite (((InsightEffect *) effects->pdata[i])->p))
      p[n++] = ((InsightEffect *) effects->pdata[i])->p;
  compare->out->n_adjusted = (guint) n;
  if (n == 0 || num_adjust_holm (p, n, holm) != NUM_OK)
    return;

  n = 0;
  for (guint i = 0; i < effects->len; i++)
    {
      InsightEffect *effect = effects->pdata[i];

      if (!isfinite (effect->p))
        continue;
      effect->p_holm = holm[n++];
      effect->told_apart = effect->p_holm < 1.0 - INSIGHT_COMPARE_CONFIDENCE && (effect->low > 0.0 || effect->high < 0.0);
    }
}

/* Of the changes behind one difference those that are marked as carried over for a characteristic. */
static void
add_carried (const InsightCompare *compare, int difference, int characteristic, GArray *changes)
{
  const InsightDifferenceRoot *root;

  if (difference < 0)
    return;
  root = compare->roots->pdata[difference];
  for (guint i = 0; i < root->changes->len; i++)
    {
      int change = g_array_index (root->changes, int, i);
      gboolean lacks;

      if (insight_look_is_carried (compare->look, characteristic, change, &lacks))
        insight_add_once (changes, change);
    }
}

/* Whoever carries readings over says that the change does nothing to them: where it seems to, that is told. */
static void
tell_carried (InsightCompare *compare, InsightEffect *effect)
{
  const BookEvidence *e = compare->e;
  g_autoptr(GArray) changes = g_array_new (FALSE, FALSE, sizeof (int));
  InsightRemark *remark;
  int characteristic = book_evidence_find (e, characteristics, effect->characteristic);

  add_carried (compare, effect->divides, characteristic, changes);
  for (guint i = 0; i < effect->n_touches; i++)
    add_carried (compare, effect->touches[i].difference, characteristic, changes);
  if (changes->len == 0)
    return;
  remark = insight_effect_remark (effect, effect->told_apart ? INSIGHT_REMARK_CARRIED_DOUBT : INSIGHT_REMARK_CARRIED);
  for (guint i = 0; i < changes->len; i++)
    {
      const BookEvidenceChange *change = &e->changes[g_array_index (changes, int, i)];
      g_autofree char *name = g_strdup_printf ("%d %s", change->no, change->title);

      insight_remark_add_name (remark, name);
    }
}

/**
 * insight_compare_find_effects:
 * @compare: with its differences
 * @cancellable: (nullable): asked once a characteristic
 * @error: return location
 *
 * Fills in what the readings say of each characteristic that depends on something that differs.
 *
 * Returns: %FALSE when it was cancelled
 */
gboolean
insight_compare_find_effects (InsightCompare *compare, GCancellable *cancellable, GError **error)
{
  const BookEvidence *e = compare->e;
  InsightComparison *out = compare->out;
  g_autoptr(GArray) splits = out->within ? g_array_new (FALSE, FALSE, sizeof (Split)) : find_splits (compare);
  g_autoptr(GPtrArray) untouched = g_ptr_array_new (), unmeasured = g_ptr_array_new ();
  g_auto(InsightUnits) units = { 0 };

  insight_units_init (&units, compare->basis);
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      int divides = -1;
      gboolean touched = FALSE, any;

      for (guint i = 0; i < out->differences->len; i++)
        {
          const InsightDifference *difference = out->differences->pdata[i];

          if (out->within && !difference->divides)
            continue;
          if (is_cause (compare, i, (int) c))
            {
              touched = TRUE;
              divides = (int) i;
            }
        }
      if (!touched)
        {
          g_ptr_array_add (untouched, g_strdup (e->characteristics[c].code));
          continue;
        }
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        break;
      insight_units_gather (&units, compare->look, (int) c, BOOK_COUNTS_PROTOTYPE);
      any = out->within ? add_effect (compare, &units, &compare->sides, divides) : add_effects (compare, &units, splits);
      if (!any)
        g_ptr_array_add (unmeasured, g_strdup (e->characteristics[c].code));
    }
  g_ptr_array_add (untouched, NULL);
  g_ptr_array_add (unmeasured, NULL);
  out->untouched = (char **) g_ptr_array_free (g_steal_pointer (&untouched), FALSE);
  out->unmeasured = (char **) g_ptr_array_free (g_steal_pointer (&unmeasured), FALSE);
  if (g_cancellable_is_cancelled (cancellable))
    return FALSE;
  adjust (compare);
  for (guint i = 0; i < out->effects->len; i++)
    tell_carried (compare, out->effects->pdata[i]);
  return TRUE;
}
