/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-compare-private.h"

#include "insight-span-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const remark_names[] = {
  "too-few",  "arrangements", "no-variation", "censored", "no-limits",   "not-computed", "gauges", "gauges-partly",
  "order",    "lots",         "excused",      "altered",  "gauge-out",   "older-limit",  "voided", "unsaid",
  "retested", "depends",      "bench",        "alike",  "carried",
  "carried-doubt", "open",
};
G_STATIC_ASSERT (G_N_ELEMENTS (remark_names) == INSIGHT_N_REMARKS);
static const char *const difference_names[] = { "revision", "lot", "setting", "limit" };
G_STATIC_ASSERT (G_N_ELEMENTS (difference_names) == INSIGHT_N_DIFFERENCES);

/* Untranslated words, such as `too-few`. */
const char *
insight_remark_code_name (InsightRemarkCode code)
{
  g_return_val_if_fail ((guint) code < INSIGHT_N_REMARKS, "");

  return remark_names[code];
}

const char *
insight_difference_name (InsightDifferenceKind kind)
{
  g_return_val_if_fail ((guint) kind < INSIGHT_N_DIFFERENCES, "");

  return difference_names[kind];
}

const char *
insight_effect_way_name (InsightEffectWay way)
{
  return way == INSIGHT_EFFECT_SPLIT ? "split" : "rounds";
}

const char *
insight_effect_method_name (InsightEffectMethod method)
{
  switch (method)
    {
    case INSIGHT_EFFECT_NONE:
      break;
    case INSIGHT_EFFECT_PERMUTATION:
      return "permutation";
    case INSIGHT_EFFECT_SAMPLED:
      return "permutation-sampled";
    case INSIGHT_EFFECT_WELCH:
      return "welch";
    case INSIGHT_EFFECT_SHARES:
      return "shares";
    }
  return "none";
}

static void
free_difference (gpointer data)
{
  InsightDifference *difference = data;

  g_free (difference->before.built);
  g_free (difference->before.planned);
  g_free (difference->after.built);
  g_free (difference->after.planned);
  g_free (difference->changes);
  g_free (difference);
}

static void
free_change (gpointer data)
{
  g_free (((InsightCompareChange *) data)->issues);
  g_free (data);
}

static void
free_split (gpointer data)
{
  g_strfreev (((InsightSplitPart *) data)->labels);
  g_free (data);
}

static InsightComparison *
new_comparison (void)
{
  InsightComparison *out = g_new0 (InsightComparison, 1);

  out->strings = g_string_chunk_new (2048);
  out->differences = g_ptr_array_new_with_free_func (free_difference);
  out->changes = g_ptr_array_new_with_free_func (free_change);
  out->unseen = g_ptr_array_new_with_free_func (free_change);
  out->effects = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_effect_free);
  out->splits = g_ptr_array_new_with_free_func (free_split);
  return out;
}

void
insight_comparison_free (InsightComparison *comparison)
{
  if (comparison == NULL)
    return;

  g_ptr_array_unref (comparison->differences);
  g_ptr_array_unref (comparison->changes);
  g_ptr_array_unref (comparison->unseen);
  g_ptr_array_unref (comparison->effects);
  g_ptr_array_unref (comparison->splits);
  g_strfreev (comparison->untouched);
  g_strfreev (comparison->unmeasured);
  g_string_chunk_free (comparison->strings);
  g_free (comparison);
}

static int
find_round (const BookEvidence *e, gint64 key, GError **error)
{
  int round = book_evidence_find (e, rounds, key);

  if (round < 0)
    g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND, _("The model '%s' has no such round: choose one of its rounds."), e->code);
  return round;
}

/* How many states the units of one round have of a part or step, and which. */
static GArray *
states_of_round (const InsightCompare *compare, int round, InsightDifferenceKind kind, InsightDependence on)
{
  GArray *states = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));

  for (guint i = 0; i < compare->e->n_units; i++)
    if (compare->e->units[i].round == round && insight_compare_was_built (compare, i))
      {
        int state = insight_compare_state (compare, kind, on, i);

        if (state >= 0)
          insight_count_state (states, state, 0.0);
      }
  return states;
}

static const char *
label_of (const BookEvidence *e, gboolean lots, int state)
{
  return lots ? e->lots[state].number : e->revisions[state].label;
}

/* Whether the first state comes before the second: by date and label, lots by number. */
static gboolean
is_earlier (const BookEvidence *e, gboolean lots, int one, int other)
{
  if (lots)
    return book_serial_compare (e->lots[one].number, e->lots[other].number) < 0;
  return insight_later_revision (e, one, other) == other;
}

static void
sort_states (const BookEvidence *e, gboolean lots, GArray *states)
{
  InsightStateCount *list = (InsightStateCount *) (gpointer) states->data;

  for (guint i = 1; i < states->len; i++)
    for (guint k = i; k > 0 && is_earlier (e, lots, list[k].state, list[k - 1].state); k--)
      {
        InsightStateCount kept = list[k];

        list[k] = list[k - 1];
        list[k - 1] = kept;
      }
}

static char **
labels_of (const BookEvidence *e, gboolean lots, const GArray *states)
{
  char **labels = g_new0 (char *, states->len + 1);

  for (guint i = 0; i < states->len; i++)
    labels[i] = g_strdup (label_of (e, lots, g_array_index (states, InsightStateCount, i).state));
  return labels;
}

/* Rounds from @first to @last, the latest first, that were built with several revisions of a part. */
static void
add_splits (InsightCompare *compare, int first, int last)
{
  const BookEvidence *e = compare->e;

  for (int round = last; round >= first; round--)
    for (guint p = 0; p < e->n_parts; p++)
      {
        g_autoptr(GArray) states = states_of_round (compare, round, INSIGHT_DIFFERS_REVISION, (InsightDependence){ (int) p, -1 });
        InsightSplitPart *split;

        if (states->len < 2)
          continue;
        sort_states (e, FALSE, states);
        split = g_new0 (InsightSplitPart, 1);
        split->round = e->rounds[round].id;
        split->round_label = insight_compare_keep (compare, e->rounds[round].label);
        split->part = e->parts[p].id;
        split->part_number = insight_compare_keep (compare, e->parts[p].number);
        split->labels = labels_of (e, FALSE, states);
        g_ptr_array_add (compare->out->splits, split);
      }
}

/* The part or step that the question names; else the only part that splits the round. */
static gboolean
find_divider (const InsightCompare *compare, const InsightCompareAsk *ask, int round, InsightDependence *by, GError **error)
{
  const BookEvidence *e = compare->e;
  gint64 part = ask->part;
  g_autofree char *parts = NULL;

  *by = (InsightDependence){ -1, -1 };
  if (part == 0 && ask->step == 0 && compare->out->splits->len == 1)
    part = ((InsightSplitPart *) compare->out->splits->pdata[0])->part;
  if (part != 0)
    by->part = book_evidence_find (e, parts, part);
  else
    by->step = book_evidence_find (e, steps, ask->step);
  if (by->part >= 0 || by->step >= 0)
    return TRUE;

  if (part != 0 || ask->step != 0)
    g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS,
                 _("No unit of the model '%s' holds that part: choose one of its parts or steps."), e->code);
  else if (compare->out->splits->len == 0)
    g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS,
                 _("No part of round %s was built in several revisions: name a part or a step whose lots divide its units."),
                 e->rounds[round].label);
  else
    {
      GString *names = g_string_new (NULL);

      for (guint i = 0; i < compare->out->splits->len; i++)
        g_string_append_printf (names, "%s%s", i > 0 ? ", " : "",
                                ((InsightSplitPart *) compare->out->splits->pdata[i])->part_number);
      parts = g_string_free (names, FALSE);
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS,
                   _("Round %s is split by several parts, so say by which: %s."), e->rounds[round].label, parts);
    }
  return FALSE;
}

/* Two of the states: the only two, or those that the question names. */
static gboolean
choose_two (const InsightCompare *compare, const InsightCompareAsk *ask, const GArray *states, InsightSides *sides,
            GError **error)
{
  const BookEvidence *e = compare->e;
  g_auto(GStrv) labels = labels_of (e, sides->lots, states);
  g_autofree char *known = g_strjoinv (", ", labels);

  if (ask->old_label == NULL && ask->new_label == NULL && states->len == 2)
    {
      sides->old_state = g_array_index (states, InsightStateCount, 0).state;
      sides->new_state = g_array_index (states, InsightStateCount, 1).state;
      return TRUE;
    }
  sides->old_state = sides->new_state = -1;
  for (guint i = 0; i < states->len; i++)
    {
      int state = g_array_index (states, InsightStateCount, i).state;

      if (g_strcmp0 (label_of (e, sides->lots, state), ask->old_label) == 0)
        sides->old_state = state;
      if (g_strcmp0 (label_of (e, sides->lots, state), ask->new_label) == 0)
        sides->new_state = state;
    }
  if (sides->old_state >= 0 && sides->new_state >= 0 && sides->old_state != sides->new_state)
    return TRUE;
  g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS,
               _("Name two of the groups that round %s was built in, the old one and the new one: %s."),
               e->rounds[sides->round].label, known);
  return FALSE;
}

static gboolean
find_groups (InsightCompare *compare, const InsightCompareAsk *ask, GError **error)
{
  const BookEvidence *e = compare->e;
  InsightSides *sides = &compare->sides;
  g_autoptr(GArray) states = NULL;

  if (!find_divider (compare, ask, sides->round, &sides->by, error))
    return FALSE;
  if (sides->by.part >= 0)
    states = states_of_round (compare, sides->round, INSIGHT_DIFFERS_REVISION, sides->by);
  if (states == NULL || states->len < 2)
    {
      g_clear_pointer (&states, g_array_unref);
      sides->lots = TRUE;
      states = states_of_round (compare, sides->round, INSIGHT_DIFFERS_LOT, sides->by);
    }
  if (states->len < 2)
    {
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_GROUPS,
                   _("All units of round %s have the same revision and lot of '%s': there are no two groups in it."),
                   e->rounds[sides->round].label, insight_dependence_name (compare, sides->by));
      return FALSE;
    }
  sort_states (e, sides->lots, states);
  return choose_two (compare, ask, states, sides, error);
}

/* Which units stand on which side; the latest round that has to be looked through. */
static gboolean
find_rounds (InsightCompare *compare, const InsightCompareAsk *ask, GError **error)
{
  InsightSides *sides = &compare->sides;

  *sides = (InsightSides){ -1, -1, -1, { -1, -1 }, FALSE, -1, -1, -1, -1 };
  compare->out->within = ask->round != 0;
  if (ask->round != 0)
    {
      sides->round = find_round (compare->e, ask->round, error);
      return sides->round >= 0;
    }
  sides->from = find_round (compare->e, ask->from, error);
  if (sides->from < 0)
    return FALSE;
  sides->to = find_round (compare->e, ask->to, error);
  if (sides->to < 0)
    return FALSE;
  if (sides->from < sides->to)
    return TRUE;
  if (sides->from == sides->to)
    g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND,
                 _("From and to are both round %s: choose two rounds, or two groups within one."),
                 compare->e->rounds[sides->to].label);
  else
    g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_ROUND,
                 _("Round %s comes after round %s: give the earlier one as from and the later one as to."),
                 compare->e->rounds[sides->from].label, compare->e->rounds[sides->to].label);
  return FALSE;
}

static void
describe (InsightCompare *compare)
{
  const BookEvidence *e = compare->e;
  InsightComparison *out = compare->out;
  const InsightSides *sides = &compare->sides;
  int first = out->within ? sides->round : sides->from, last = out->within ? sides->round : sides->to;

  out->model = e->model_id;
  out->model_code = insight_compare_keep (compare, e->code);
  out->model_name = insight_compare_keep (compare, e->name);
  out->from = e->rounds[first].id;
  out->to = e->rounds[last].id;
  out->from_label = out->before_label = insight_compare_keep (compare, e->rounds[first].label);
  out->to_label = out->after_label = insight_compare_keep (compare, e->rounds[last].label);
  out->divided_by = "";
  out->end = insight_compare_date (compare, compare->look->end);
  if (out->within)
    {
      out->divided_by = insight_dependence_name (compare, sides->by);
      out->before_label = insight_compare_keep (compare, label_of (e, sides->lots, sides->old_state));
      out->after_label = insight_compare_keep (compare, label_of (e, sides->lots, sides->new_state));
    }
}

/**
 * insight_compare:
 * @evidence: the records of a model
 * @ask: two rounds, or two groups within one
 * @cancellable: (nullable): asked once a characteristic
 * @error: return location
 *
 * Sets two rounds or two groups against each other: what differs, which changes account for it, what the readings say.
 *
 * Returns: (transfer full) (nullable): the comparison; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_GROUPS, %INSIGHT_ERROR_DATE,
 *   %G_IO_ERROR_CANCELLED
 */
InsightComparison *
insight_compare (const BookEvidence *evidence, const InsightCompareAsk *ask, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightComparison) out = new_comparison ();
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  g_autoptr(GPtrArray) roots = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_difference_root_free);
  InsightCompare compare = { .e = evidence, .out = out, .roots = roots };
  InsightSpan span = { 0, ask->today };
  BookDay today;
  int through;

  if (!insight_span_resolve (evidence, &span, &through, &today, error) || !find_rounds (&compare, ask, error))
    return NULL;
  through = out->within ? compare.sides.round : compare.sides.to;
  compare.basis = basis = insight_basis_new (evidence);
  compare.look = look = insight_look_new (basis, through, insight_round_end (evidence, through, today));
  add_splits (&compare, out->within ? through : compare.sides.from, through);
  if (out->within && !find_groups (&compare, ask, error))
    return NULL;

  describe (&compare);
  insight_compare_find_differences (&compare);
  insight_compare_explain (&compare);
  if (!insight_compare_find_effects (&compare, cancellable, error))
    return NULL;
  return g_steal_pointer (&out);
}
