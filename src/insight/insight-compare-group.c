/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-compare-group-private.h"

#include "insight-counting-private.h"
#include "num-describe.h"

#include <math.h>

void
insight_remark_free (InsightRemark *remark)
{
  g_strfreev (remark->names);
  g_free (remark->counts);
  g_free (remark);
}

/* Adds a remark without arguments, which the effect owns. */
InsightRemark *
insight_effect_remark (InsightEffect *effect, InsightRemarkCode code)
{
  InsightRemark *remark = g_new0 (InsightRemark, 1);

  remark->code = code;
  remark->names = g_new0 (char *, 1);
  g_ptr_array_add (effect->remarks, remark);
  return remark;
}

void
insight_remark_add_name (InsightRemark *remark, const char *name)
{
  guint n = g_strv_length (remark->names);

  remark->names = g_renew (char *, remark->names, n + 2);
  remark->names[n] = g_strdup (name);
  remark->names[n + 1] = NULL;
}

void
insight_remark_add_count (InsightRemark *remark, gint64 count)
{
  remark->counts = g_renew (gint64, remark->counts, remark->n_counts + 1);
  remark->counts[remark->n_counts++] = count;
}

void
insight_groups_clear (InsightGroups *groups)
{
  for (guint i = 0; i < G_N_ELEMENTS (groups->values); i++)
    g_clear_pointer (&groups->values[i], g_array_unref);
}

/* Names a unit under what it is left out for, or what is to be said of it. */
static void
name_unit (InsightEffect *effect, InsightRemarkCode code, const char *serial)
{
  InsightRemark *remark = NULL;

  for (guint i = 0; i < effect->remarks->len && remark == NULL; i++)
    if (((InsightRemark *) effect->remarks->pdata[i])->code == code)
      remark = effect->remarks->pdata[i];
  if (remark == NULL)
    {
      remark = insight_effect_remark (effect, code);
      insight_remark_add_count (remark, 0);
    }
  insight_remark_add_name (remark, serial);
  remark->counts[0]++;
}

/* Whether a unit counts; otherwise why not. A value holds whatever limits it was judged by, a check does not. */
static gboolean
counts (const InsightUnits *units, const InsightUnit *unit, BookCharacteristicKind kind, InsightRemarkCode *why)
{
  if (!unit->has_data)
    *why = INSIGHT_REMARK_VOIDED;
  else if (insight_is_excused (units->look, unit->unit))
    *why = INSIGHT_REMARK_EXCUSED;
  else if (unit->own == INSIGHT_NOT_ALTERED)
    *why = INSIGHT_REMARK_ALTERED;
  else if (unit->own == INSIGHT_NOT_GAUGE)
    *why = INSIGHT_REMARK_GAUGE_OUT;
  else if (unit->own == INSIGHT_NOT_OLDER_LIMIT)
    {
      *why = unit->altered > 0     ? INSIGHT_REMARK_ALTERED
             : unit->gauge_out > 0 ? INSIGHT_REMARK_GAUGE_OUT
                                   : INSIGHT_REMARK_OLDER_LIMIT;
      return kind == BOOK_CHARACTERISTIC_MEASURED && unit->altered == 0 && unit->gauge_out == 0;
    }
  else
    return TRUE;
  return FALSE;
}

static void
add_unit (InsightCompare *compare, const InsightUnit *unit, InsightEffectGroup *group, GArray *values)
{
  const BookEvidence *e = compare->e;

  group->units[group->n++] = (InsightEffectUnit){
    e->units[unit->unit].id, unit->reading, insight_compare_keep (compare, e->units[unit->unit].serial),
    insight_compare_date (compare, unit->day), unit->value, unit->mark, unit->verdict
  };
  group->failed += insight_is_failing (unit->verdict);
  if (!isnan (unit->value))
    g_array_append_val (values, unit->value);
}

/* Gauges by which the units of a side were read: keys are indices, -1 for one that nobody named. */
static void
count_gauges (const InsightCompare *compare, const InsightUnits *units, const InsightUnit *unit, GArray *gauges)
{
  const BookEvidence *e = compare->e;

  for (guint i = unit->first; i < unit->end; i++)
    {
      int gauge = e->readings[i].gauge >= 0 ? e->readings[i].gauge : e->characteristics[units->characteristic].gauge;

      if (e->readings[i].attempt == unit->attempt && !e->readings[i].voided && e->readings[i].day <= compare->look->end)
        insight_count_state (gauges, gauge, NAN);
    }
}

static gboolean
is_disjoint (const GArray *one, const GArray *other)
{
  for (guint i = 0; i < one->len; i++)
    if (insight_has_state (other, g_array_index (one, InsightStateCount, i).state,
                           g_array_index (one, InsightStateCount, i).value))
      return FALSE;
  return TRUE;
}

static char *
name_gauges (const BookEvidence *e, const GArray *gauges)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < gauges->len; i++)
    {
      int gauge = g_array_index (gauges, InsightStateCount, i).state;

      g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", gauge >= 0 ? e->gauges[gauge].name : "–");
    }
  return g_string_free (names, FALSE);
}

static void
tell_gauges (InsightGroups *groups, const InsightCompare *compare, GArray *const gauges[2], InsightEffect *effect)
{
  g_autofree char *before = name_gauges (compare->e, gauges[0]);
  g_autofree char *after = name_gauges (compare->e, gauges[1]);
  InsightRemark *remark;

  if (gauges[0]->len == 0 || gauges[1]->len == 0 || insight_same_states (gauges[0], gauges[1]))
    return;
  groups->other_gauges = is_disjoint (gauges[0], gauges[1]);
  remark = insight_effect_remark (effect, groups->other_gauges ? INSIGHT_REMARK_GAUGES : INSIGHT_REMARK_GAUGES_PARTLY);
  insight_remark_add_name (remark, before);
  insight_remark_add_name (remark, after);
}

/* What one dependence of the characteristic was on both sides, of the units that count. */
static void
count_both (const InsightCompare *compare, const GArray *members, InsightDifferenceKind kind, InsightDependence on,
            const char *setting, GArray *states[2])
{
  const InsightBasis *basis = compare->basis;

  for (guint side = 0; side < 2; side++)
    g_array_set_size (states[side], 0);
  for (guint i = 0; i < members->len; i++)
    {
      int member = g_array_index (members, int, i);
      guint unit = (guint) (member >> 1);
      int state = 0;
      double value = NAN;

      if (kind == INSIGHT_DIFFERS_SETTING)
        value = insight_setting_value (basis, on.step, basis->version[basis->build_of[unit] * compare->e->n_steps + (guint) on.step],
                                       setting);
      else
        state = insight_compare_state (compare, kind, on, unit);
      if (state >= 0)
        insight_count_state (states[member & 1], state, value);
    }
}

static int
find_difference (const InsightCompare *compare, InsightDifferenceKind kind, InsightDependence on, const char *setting)
{
  for (guint i = 0; i < compare->roots->len; i++)
    {
      const InsightDifferenceRoot *root = compare->roots->pdata[i];

      if (((InsightDifference *) compare->out->differences->pdata[i])->kind == kind && root->on.part == on.part
          && root->on.step == on.step && g_str_equal (root->setting, setting))
        return (int) i;
    }
  return -1;
}

static void
add_touch (InsightCompare *compare, GArray *touches, InsightDifferenceKind kind, InsightDependence on, const char *setting)
{
  InsightTouch touch = { kind, on.part >= 0 ? compare->e->parts[on.part].id : compare->e->steps[on.step].id,
                         insight_dependence_name (compare, on), insight_compare_keep (compare, setting),
                         find_difference (compare, kind, on, setting) };

  g_array_append_val (touches, touch);
}

static void
touch_settings (InsightCompare *compare, const GArray *members, int step, GArray *states[2], GArray *touches)
{
  const InsightBasis *basis = compare->basis;
  g_autoptr(GPtrArray) done = g_ptr_array_new ();

  for (guint i = basis->settings[step]; i < basis->settings[step + 1]; i++)
    {
      const char *name = compare->e->settings[g_array_index (basis->setting_rows, guint, i)].name;
      InsightDependence on = { -1, step };

      if (g_ptr_array_find_with_equal_func (done, name, g_str_equal, NULL))
        continue;
      g_ptr_array_add (done, (gpointer) name);
      count_both (compare, members, INSIGHT_DIFFERS_SETTING, on, name, states);
      if (!insight_same_states (states[0], states[1]))
        add_touch (compare, touches, INSIGHT_DIFFERS_SETTING, on, name);
    }
}

/*
 * Everything that the characteristic depends on and that is not the same on both sides. Lots only where none is on both,
 * since deliveries come and go; those of the part that divides go with its revision.
 */
static void
find_touches (InsightCompare *compare, const InsightSides *sides, const GArray *members, int characteristic,
              InsightEffect *effect)
{
  const InsightBasis *basis = compare->basis;
  g_autoptr(GArray) before = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
  g_autoptr(GArray) after = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
  GArray *states[2] = { before, after };
  GArray *touches = g_array_new (FALSE, TRUE, sizeof (InsightTouch));

  for (guint i = basis->depend[characteristic]; i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      gboolean divides = sides->round >= 0 && sides->by.part == on.part && sides->by.step == on.step;

      if (on.part >= 0 && !(divides && !sides->lots))
        {
          count_both (compare, members, INSIGHT_DIFFERS_REVISION, on, "", states);
          if (!insight_same_states (before, after))
            add_touch (compare, touches, INSIGHT_DIFFERS_REVISION, on, "");
        }
      if (on.step >= 0)
        touch_settings (compare, members, on.step, states, touches);
      count_both (compare, members, INSIGHT_DIFFERS_LOT, on, "", states);
      if (!divides && before->len > 0 && after->len > 0 && is_disjoint (before, after))
        add_touch (compare, touches, INSIGHT_DIFFERS_LOT, on, "");
      if (divides && !sides->lots && before->len == 1 && after->len == 1 && is_disjoint (before, after))
        {
          InsightRemark *remark = insight_effect_remark (effect, INSIGHT_REMARK_LOTS);

          for (guint side = 0; side < 2; side++)
            insight_remark_add_name (remark, compare->e->lots[g_array_index (states[side], InsightStateCount, 0).state].number);
        }
    }
  effect->n_touches = touches->len;
  effect->touches = (InsightTouch *) (gpointer) g_array_free (touches, FALSE);
}

/* Whether all of one group were built before any of the other; @members are in the order of build. */
static gboolean
is_in_order (const GArray *members)
{
  guint turns = 0;

  for (guint i = 1; i < members->len; i++)
    turns += ((g_array_index (members, int, i) ^ g_array_index (members, int, i - 1)) & 1) != 0;
  return turns == 1;
}

static void
tell_rounds (InsightCompare *compare, const InsightSides *sides, InsightEffect *effect)
{
  const int rounds[2] = { sides->round >= 0 ? sides->round : sides->from, sides->round >= 0 ? -1 : sides->to };

  if (sides->keep_part >= 0)
    {
      InsightRemark *remark = insight_effect_remark (effect, INSIGHT_REMARK_ALIKE);

      insight_remark_add_name (remark, insight_dependence_name (compare, (InsightDependence){ sides->keep_part, -1 }));
      insight_remark_add_name (remark, compare->e->revisions[sides->keep_revision].label);
    }
  for (guint i = 0; i < 2; i++)
    {
      const BookEvidenceRound *round;

      if (rounds[i] < 0)
        continue;
      round = &compare->e->rounds[rounds[i]];
      if (round->kind == BOOK_ROUND_BENCH)
        insight_remark_add_name (insight_effect_remark (effect, INSIGHT_REMARK_BENCH), round->label);
      if (round->tested == 0 || round->tested > compare->look->end)
        insight_remark_add_name (insight_effect_remark (effect, INSIGHT_REMARK_OPEN), round->label);
    }
}

/* Labels of the groups, and room for their units. */
static void
begin (InsightCompare *compare, const InsightUnits *units, const InsightSides *sides, InsightEffect *effect)
{
  const BookEvidence *e = compare->e;

  effect->before.units = g_new0 (InsightEffectUnit, units->n + 1);
  effect->after.units = g_new0 (InsightEffectUnit, units->n + 1);
  effect->before.mean = effect->before.sd = effect->after.mean = effect->after.sd = NAN;
  if (sides->round < 0)
    {
      effect->before.label = insight_compare_keep (compare, e->rounds[sides->from].label);
      effect->after.label = insight_compare_keep (compare, e->rounds[sides->to].label);
      return;
    }
  effect->before.label = insight_compare_keep (compare, sides->lots ? e->lots[sides->old_state].number
                                                                    : e->revisions[sides->old_state].label);
  effect->after.label = insight_compare_keep (compare, sides->lots ? e->lots[sides->new_state].number
                                                                   : e->revisions[sides->new_state].label);
}

/* A mean of bounds would be none: where some values are only that, there is no mean. */
static void
finish_group (InsightEffectGroup *group, const GArray *values, gboolean bounds)
{
  NumMoments moments;

  group->units = g_renew (InsightEffectUnit, group->units, group->n + 1);
  if (values->len == 0 || values->len < group->n || bounds)
    return;
  if (num_moments ((const double *) (gpointer) values->data, values->len, &moments) == NUM_OK || values->len == 1)
    {
      group->mean = moments.mean;
      group->sd = moments.sd;
    }
}

/**
 * insight_groups_gather:
 * @groups: zeroed; filled in
 * @compare: the comparison
 * @units: gathered for the characteristic
 * @sides: the sides
 * @effect: its groups, touches and remarks are filled in
 *
 * Divides the units of a characteristic into two groups, leaves out those that do not count, and finds what else differs.
 */
void
insight_groups_gather (InsightGroups *groups, InsightCompare *compare, InsightUnits *units, const InsightSides *sides,
                       InsightEffect *effect)
{
  const BookEvidence *e = compare->e;
  InsightEffectGroup *sided[2] = { &effect->before, &effect->after };
  g_autoptr(GArray) members = g_array_new (FALSE, FALSE, sizeof (int)); /* unit * 2 + side */
  g_autoptr(GArray) gauges_before = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
  g_autoptr(GArray) gauges_after = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
  GArray *const gauges[2] = { gauges_before, gauges_after };

  begin (compare, units, sides, effect);
  groups->has_limits = isfinite (units->limits.lower) || isfinite (units->limits.upper);
  for (guint side = 0; side < 2; side++)
    groups->values[side] = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];
      InsightSide side = insight_side_of (compare, sides, unit->unit);
      const char *serial = e->units[unit->unit].serial;
      InsightRemarkCode why;
      int member;

      if (side == INSIGHT_SIDE_NONE)
        {
          if (sides->round == e->units[unit->unit].round && !sides->lots && unit->has_data
              && insight_compare_state (compare, INSIGHT_DIFFERS_REVISION, sides->by, unit->unit) == INSIGHT_UNSAID)
            name_unit (effect, INSIGHT_REMARK_UNSAID, serial);
          continue;
        }
      groups->n_read++;
      if (!counts (units, unit, effect->kind, &why))
        {
          name_unit (effect, why, serial);
          continue;
        }
      if (unit->passed_later)
        name_unit (effect, INSIGHT_REMARK_RETESTED, serial);
      groups->n_censored += effect->kind == BOOK_CHARACTERISTIC_MEASURED && (unit->censored || isnan (unit->value));
      add_unit (compare, unit, sided[side], groups->values[side]);
      count_gauges (compare, units, unit, gauges[side]);
      member = (int) unit->unit * 2 + (int) side;
      g_array_append_val (members, member);
    }
  for (guint side = 0; side < 2; side++)
    finish_group (sided[side], groups->values[side], groups->n_censored > 0);
  groups->too_few = MIN (effect->before.n, effect->after.n) < INSIGHT_COMPARE_LEAST;

  tell_gauges (groups, compare, gauges, effect);
  find_touches (compare, sides, members, units->characteristic, effect);
  if (sides->round >= 0 && is_in_order (members))
    insight_effect_remark (effect, INSIGHT_REMARK_ORDER);
  tell_rounds (compare, sides, effect);
  if (compare->basis->depend[units->characteristic + 1] > compare->basis->depend[units->characteristic])
    {
      gboolean said = FALSE;

      for (guint i = 0; i < e->n_depends; i++)
        said |= e->depends[i].characteristic == units->characteristic;
      if (!said)
        insight_effect_remark (effect, INSIGHT_REMARK_DEPENDS);
    }
}
