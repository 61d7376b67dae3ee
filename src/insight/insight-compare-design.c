/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What differs between two sides: revisions as built (as planned where nothing is built yet), lots, settings, limits.
 */
#include "config.h"
#include "insight-compare-private.h"

#include "insight-limits-private.h"

#include <math.h>

void
insight_difference_root_free (InsightDifferenceRoot *root)
{
  g_array_unref (root->before);
  g_array_unref (root->after);
  g_array_unref (root->changes);
  g_free (root);
}

gboolean
insight_compare_was_built (const InsightCompare *compare, guint unit)
{
  BookDay built = compare->basis->built[unit];

  return built != 0 && built <= compare->look->end;
}

/* The revision or lot that a unit has of a part or step: -1 none, INSIGHT_UNSAID when nobody says which. */
int
insight_compare_state (const InsightCompare *compare, InsightDifferenceKind kind, InsightDependence on, guint unit)
{
  const InsightBasis *basis = compare->basis;
  guint n_parts = compare->e->n_parts;

  if (kind == INSIGHT_DIFFERS_REVISION)
    return basis->revision[basis->build_of[unit] * n_parts + (guint) on.part];
  return basis->lot_of[(gsize) unit * (n_parts + compare->e->n_steps)
                       + (on.part >= 0 ? (guint) on.part : n_parts + (guint) on.step)];
}

/* On which side a unit stands, built or not. */
InsightSide
insight_side_of (const InsightCompare *compare, const InsightSides *sides, guint unit)
{
  int round = compare->e->units[unit].round;
  int state;

  if (sides->round < 0)
    {
      if (round != sides->from && round != sides->to)
        return INSIGHT_SIDE_NONE;
      if (sides->keep_part >= 0
          && insight_compare_state (compare, INSIGHT_DIFFERS_REVISION, (InsightDependence){ sides->keep_part, -1 }, unit)
               != sides->keep_revision)
        return INSIGHT_SIDE_NONE;
      return round == sides->from ? INSIGHT_SIDE_BEFORE : INSIGHT_SIDE_AFTER;
    }
  if (round != sides->round)
    return INSIGHT_SIDE_NONE;
  state = insight_compare_state (compare, sides->lots ? INSIGHT_DIFFERS_LOT : INSIGHT_DIFFERS_REVISION, sides->by, unit);
  if (state == sides->old_state)
    return INSIGHT_SIDE_BEFORE;
  return state == sides->new_state ? INSIGHT_SIDE_AFTER : INSIGHT_SIDE_NONE;
}

static gboolean
is_value (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

/* Counts one more unit of a state; @value is NAN but for a setting. */
void
insight_count_state (GArray *counts, int state, double value)
{
  InsightStateCount one = { state, value, 1 };

  for (guint i = 0; i < counts->len; i++)
    {
      InsightStateCount *known = &g_array_index (counts, InsightStateCount, i);

      if (known->state == state && is_value (known->value, value))
        {
          known->units++;
          return;
        }
    }
  g_array_append_val (counts, one);
}

gboolean
insight_has_state (const GArray *counts, int state, double value)
{
  for (guint i = 0; i < counts->len; i++)
    {
      const InsightStateCount *known = &g_array_index (counts, InsightStateCount, i);

      if (known->state == state && is_value (known->value, value))
        return TRUE;
    }
  return FALSE;
}

/* Whether two sides have the same states, in whatever numbers. */
gboolean
insight_same_states (const GArray *one, const GArray *other)
{
  for (guint i = 0; i < one->len; i++)
    {
      const InsightStateCount *state = &g_array_index (one, InsightStateCount, i);

      if (!insight_has_state (other, state->state, state->value))
        return FALSE;
    }
  return one->len == other->len;
}

const char *
insight_compare_keep (InsightCompare *compare, const char *text)
{
  return g_string_chunk_insert_const (compare->out->strings, text);
}

const char *
insight_compare_date (InsightCompare *compare, BookDay day)
{
  g_autofree char *text = day > 0 ? book_day_format (day) : g_strdup ("");

  return insight_compare_keep (compare, text);
}

/* 'L-1 Lever' of a part; the name of a step. */
const char *
insight_dependence_name (InsightCompare *compare, InsightDependence on)
{
  g_autofree char *name = NULL;

  if (on.part < 0)
    return insight_compare_keep (compare, compare->e->steps[on.step].name);
  name = g_strdup_printf ("%s %s", compare->e->parts[on.part].number, compare->e->parts[on.part].name);
  return insight_compare_keep (compare, g_strchomp (name));
}

static GArray *
new_counts (void)
{
  return g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
}

static int
compare_states (gconstpointer a, gconstpointer b, gpointer data)
{
  const InsightStateCount *first = a, *second = b;
  const BookEvidence *e = data;

  if (first->state == second->state)
    return (first->value > second->value) - (first->value < second->value);
  if (first->state < 0 || second->state < 0)
    return first->state < 0 ? 1 : -1; /* what nobody says comes last */
  return insight_later_revision (e, first->state, second->state) == first->state ? 1 : -1;
}

static int
compare_lots (gconstpointer a, gconstpointer b, gpointer data)
{
  const BookEvidence *e = data;

  return book_serial_compare (e->lots[((const InsightStateCount *) a)->state].number,
                              e->lots[((const InsightStateCount *) b)->state].number);
}

/* The states of one side as built. */
static GArray *
count_built (const InsightCompare *compare, InsightDifferenceKind kind, InsightDependence on, const char *setting,
             InsightSide side)
{
  const InsightBasis *basis = compare->basis;
  GArray *counts = new_counts ();

  for (guint i = 0; i < compare->e->n_units; i++)
    {
      int state = 0;
      double value = NAN;

      if (!insight_compare_was_built (compare, i) || insight_side_of (compare, &compare->sides, i) != side)
        continue;
      if (kind == INSIGHT_DIFFERS_SETTING)
        value = insight_setting_value (basis, on.step, basis->version[basis->build_of[i] * compare->e->n_steps + (guint) on.step],
                                       setting);
      else
        state = insight_compare_state (compare, kind, on, i);
      if (state != -1)
        insight_count_state (counts, state, value);
    }
  g_array_sort_with_data (counts, kind == INSIGHT_DIFFERS_LOT ? compare_lots : compare_states, (gpointer) compare->e);
  return counts;
}

/* What the plan of a round takes of a part, or of the nearest round before that names it. */
static GArray *
count_planned (const InsightCompare *compare, int round, int part)
{
  const BookEvidence *e = compare->e;
  GArray *counts = new_counts ();

  for (int r = round; r >= 0; r--)
    {
      gboolean named = FALSE;

      for (guint i = 0; i < e->n_plans; i++)
        {
          InsightStateCount one = { e->plans[i].revision, NAN, r == round ? (guint) MAX (e->plans[i].units, 0) : 0 };

          if (e->plans[i].round != r || e->plans[i].part != part)
            continue;
          named = TRUE;
          if (one.state >= 0 && !insight_has_state (counts, one.state, NAN))
            g_array_append_val (counts, one);
        }
      if (named)
        break;
    }
  g_array_sort_with_data (counts, compare_states, (gpointer) e);
  return counts;
}

static void
fill_states (InsightCompare *compare, InsightDifferenceKind kind, const GArray *counts, InsightCompareState **states, guint *n)
{
  const BookEvidence *e = compare->e;

  *n = counts->len;
  *states = g_new0 (InsightCompareState, counts->len + 1);
  for (guint i = 0; i < counts->len; i++)
    {
      const InsightStateCount *count = &g_array_index (counts, InsightStateCount, i);
      InsightCompareState *state = &(*states)[i];

      *state = (InsightCompareState){ "", 0, count->units, count->value };
      if (kind == INSIGHT_DIFFERS_SETTING || count->state < 0)
        continue;
      state->id = kind == INSIGHT_DIFFERS_REVISION ? e->revisions[count->state].id : e->lots[count->state].id;
      state->label = insight_compare_keep (compare, kind == INSIGHT_DIFFERS_REVISION ? e->revisions[count->state].label
                                                                                     : e->lots[count->state].number);
    }
}

static InsightDifference *
add_difference (InsightCompare *compare, InsightDifferenceKind kind, InsightDependence on, InsightDifferenceRoot *root)
{
  const BookEvidence *e = compare->e;
  InsightDifference *difference = g_new0 (InsightDifference, 1);

  difference->kind = kind;
  difference->code = difference->name = difference->setting = difference->unit = "";
  difference->decimals = -1;
  difference->before.lower = difference->before.upper = difference->before.nominal = NAN;
  difference->after.lower = difference->after.upper = difference->after.nominal = NAN;
  if (on.part >= 0)
    {
      difference->part = e->parts[on.part].id;
      difference->code = insight_compare_keep (compare, e->parts[on.part].number);
      difference->name = insight_compare_keep (compare, e->parts[on.part].name);
    }
  else if (on.step >= 0)
    {
      difference->step = e->steps[on.step].id;
      difference->code = insight_compare_keep (compare, e->steps[on.step].name);
    }
  if (root->before == NULL)
    root->before = new_counts ();
  if (root->after == NULL)
    root->after = new_counts ();
  root->on = on;
  root->setting = difference->setting;
  root->changes = g_array_new (FALSE, FALSE, sizeof (int));
  g_ptr_array_add (compare->out->differences, difference);
  g_ptr_array_add (compare->roots, root);
  return difference;
}

/* Units of the later side with a revision that the plan of their round does not take. */
static guint
count_off_plan (const GArray *built, const GArray *planned)
{
  guint units = 0;

  for (guint i = 0; i < built->len && planned->len > 0; i++)
    {
      const InsightStateCount *count = &g_array_index (built, InsightStateCount, i);

      if (count->state >= 0 && !insight_has_state (planned, count->state, NAN))
        units += count->units;
    }
  return units;
}

static void
find_revisions (InsightCompare *compare, int part)
{
  const InsightSides *sides = &compare->sides;
  InsightDependence on = { part, -1 };
  gboolean rounds = sides->round < 0;
  g_autoptr(GArray) built_before = count_built (compare, INSIGHT_DIFFERS_REVISION, on, "", INSIGHT_SIDE_BEFORE);
  g_autoptr(GArray) built_after = count_built (compare, INSIGHT_DIFFERS_REVISION, on, "", INSIGHT_SIDE_AFTER);
  g_autoptr(GArray) planned_before = rounds ? count_planned (compare, sides->from, part) : new_counts ();
  g_autoptr(GArray) planned_after = rounds ? count_planned (compare, sides->to, part) : new_counts ();
  GArray *before = built_before->len > 0 ? built_before : planned_before;
  GArray *after = built_after->len > 0 ? built_after : planned_after;
  gboolean differs = !insight_same_states (before, after);
  guint off_plan = count_off_plan (built_after, planned_after);
  InsightDifferenceRoot *root;
  InsightDifference *difference;

  if (!differs && off_plan == 0)
    return;
  root = g_new0 (InsightDifferenceRoot, 1);
  root->before = g_array_ref (before);
  root->after = g_array_ref (after);
  root->differs = differs;
  difference = add_difference (compare, INSIGHT_DIFFERS_REVISION, on, root);
  difference->off_plan = off_plan;
  difference->divides = !rounds && !sides->lots && sides->by.part == part;
  fill_states (compare, INSIGHT_DIFFERS_REVISION, built_before, &difference->before.built, &difference->before.n_built);
  fill_states (compare, INSIGHT_DIFFERS_REVISION, built_after, &difference->after.built, &difference->after.n_built);
  fill_states (compare, INSIGHT_DIFFERS_REVISION, planned_before, &difference->before.planned, &difference->before.n_planned);
  fill_states (compare, INSIGHT_DIFFERS_REVISION, planned_after, &difference->after.planned, &difference->after.n_planned);
}

/* Lots or a setting: known of built units alone. */
static void
find_counted (InsightCompare *compare, InsightDifferenceKind kind, InsightDependence on, const BookEvidenceSetting *setting)
{
  const InsightSides *sides = &compare->sides;
  const char *name = setting != NULL ? setting->name : "";
  g_autoptr(GArray) before = count_built (compare, kind, on, name, INSIGHT_SIDE_BEFORE);
  g_autoptr(GArray) after = count_built (compare, kind, on, name, INSIGHT_SIDE_AFTER);
  InsightDifferenceRoot *root;
  InsightDifference *difference;

  if (insight_same_states (before, after) || (before->len == 0 && after->len == 0))
    return;
  if (kind == INSIGHT_DIFFERS_SETTING && (before->len == 0 || after->len == 0))
    return; /* nothing is built on one side */
  root = g_new0 (InsightDifferenceRoot, 1);
  root->before = g_array_ref (before);
  root->after = g_array_ref (after);
  root->differs = TRUE;
  difference = add_difference (compare, kind, on, root);
  difference->divides = kind == INSIGHT_DIFFERS_LOT && sides->round >= 0 && sides->lots && sides->by.part == on.part
                        && sides->by.step == on.step;
  if (setting != NULL)
    {
      difference->setting = root->setting = insight_compare_keep (compare, setting->name);
      difference->unit = insight_compare_keep (compare, setting->unit);
    }
  fill_states (compare, kind, before, &difference->before.built, &difference->before.n_built);
  fill_states (compare, kind, after, &difference->after.built, &difference->after.n_built);
}

static void
find_settings (InsightCompare *compare, int step)
{
  const InsightBasis *basis = compare->basis;
  g_autoptr(GPtrArray) done = g_ptr_array_new ();

  for (guint i = basis->settings[step]; i < basis->settings[step + 1]; i++)
    {
      const BookEvidenceSetting *setting = &compare->e->settings[g_array_index (basis->setting_rows, guint, i)];

      if (g_ptr_array_find_with_equal_func (done, setting->name, g_str_equal, NULL))
        continue;
      g_ptr_array_add (done, (gpointer) setting->name);
      find_counted (compare, INSIGHT_DIFFERS_SETTING, (InsightDependence){ -1, step }, setting);
    }
}

static void
fill_limits (const BookEvidence *e, int row, InsightCompareSide *side)
{
  side->lower = row >= 0 ? e->limits[row].lower : -INFINITY;
  side->upper = row >= 0 ? e->limits[row].upper : INFINITY;
  side->nominal = row >= 0 ? e->limits[row].nominal : (double) NAN;
}

/* Limits are in force on a day, whatever was built: at the end of one round against the end of the other. */
static void
find_limits (InsightCompare *compare, int characteristic)
{
  const BookEvidence *e = compare->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  InsightLimitRows rows = insight_limit_rows (e, characteristic);
  int then = insight_limit_on (e, rows, insight_round_end (e, compare->sides.from, compare->look->end));
  int now = insight_limit_on (e, rows, compare->look->end);
  InsightDifference *difference;
  InsightDifferenceRoot *root;

  if (now == then || now < 0)
    return;
  if (then >= 0 && !insight_limit_differs (e, now, then) && is_value (e->limits[now].nominal, e->limits[then].nominal))
    return;
  root = g_new0 (InsightDifferenceRoot, 1);
  root->differs = TRUE;
  difference = add_difference (compare, INSIGHT_DIFFERS_LIMIT, (InsightDependence){ -1, -1 }, root);
  insight_count_state (root->before, then, NAN);
  insight_count_state (root->after, now, NAN);
  difference->characteristic = one->id;
  difference->code = insight_compare_keep (compare, one->code);
  difference->name = insight_compare_keep (compare, one->name);
  difference->unit = insight_compare_keep (compare, one->unit);
  difference->decimals = one->decimals;
  difference->widened = insight_limit_is_wider (e, now, then);
  fill_limits (e, then, &difference->before);
  fill_limits (e, now, &difference->after);
}

/**
 * insight_compare_find_differences:
 * @compare: with its sides
 *
 * Fills in what differs, by part, then step, then characteristic.
 */
void
insight_compare_find_differences (InsightCompare *compare)
{
  const BookEvidence *e = compare->e;

  for (guint i = 0; i < e->n_parts; i++)
    {
      find_revisions (compare, (int) i);
      find_counted (compare, INSIGHT_DIFFERS_LOT, (InsightDependence){ (int) i, -1 }, NULL);
    }
  for (guint i = 0; i < e->n_steps; i++)
    {
      find_settings (compare, (int) i);
      find_counted (compare, INSIGHT_DIFFERS_LOT, (InsightDependence){ -1, (int) i }, NULL);
    }
  for (guint i = 0; i < e->n_characteristics && compare->sides.round < 0; i++)
    find_limits (compare, (int) i);
}
