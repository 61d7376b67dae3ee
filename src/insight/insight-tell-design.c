/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

/*
 * What has to be said about the state of design: units of another one and the changes that made them so, what was
 * carried over, which half of a split round is looked for.
 */

static const BookEvidence *
records (const InsightQuestion *question)
{
  return question->basis->e;
}

static const char *
revision_label (const BookEvidence *e, int revision)
{
  return revision >= 0 ? e->revisions[revision].label : "";
}

static void
add_state_names (InsightQuestion *question, InsightReason *reason, guint unit, InsightDependence on)
{
  const InsightBasis *basis = question->basis;
  const BookEvidence *e = basis->e;
  guint build = basis->build_of[unit];

  if (on.part >= 0)
    {
      insight_reason_add_name (reason, e->parts[on.part].name);
      insight_reason_add_name (reason, revision_label (e, basis->revision[build * e->n_parts + (guint) on.part]));
      insight_reason_add_name (reason, revision_label (e, question->look->revision[on.part]));
    }
  else if (on.step >= 0)
    {
      int have = basis->version[build * e->n_steps + (guint) on.step], want = question->look->version[on.step];
      guint newest = basis->settings[on.step] + (guint) MAX (MAX (have, want) - 1, 0);
      const char *name = newest < basis->settings[on.step + 1]
                           ? e->settings[g_array_index (basis->setting_rows, guint, newest)].name : "";
      char text[G_ASCII_DTOSTR_BUF_SIZE];

      insight_reason_add_name (reason, e->steps[on.step].name);
      insight_reason_add_name (reason, g_ascii_formatd (text, sizeof text, "%.6g",
                                                        insight_setting_value (basis, on.step, have, name)));
      insight_reason_add_name (reason, g_ascii_formatd (text, sizeof text, "%.6g",
                                                        insight_setting_value (basis, on.step, want, name)));
    }
}

static void
add_changes (InsightQuestion *question, InsightReason *reason, const GArray *changes)
{
  for (guint i = 0; i < changes->len; i++)
    {
      const BookEvidenceChange *change = &records (question)->changes[g_array_index (changes, int, i)];
      g_autofree char *name = g_strdup_printf ("%d %s", change->no, change->title);

      insight_reason_add_name (reason, name);
      insight_reason_add_id (reason, change->id);
    }
}

/* Units of another state, by the newest of them. */
static void
tell_other_state (InsightQuestion *question)
{
  const InsightUnit *newest = NULL;
  g_autoptr(GArray) changes = g_array_new (FALSE, FALSE, sizeof (int));
  g_autofree guint8 *asked = g_new0 (guint8, question->basis->n_builds + 1);
  InsightMatching matching = { 0 };
  InsightReason *reason;
  guint n = 0;

  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];

      if (!unit->has_data || (unit->counting != INSIGHT_NOT_STATE && unit->counting != INSIGHT_NOT_LATER_STATE))
        continue;
      insight_ids_add (&question->out->no_longer, records (question)->units[unit->unit].id);
      newest = unit;
      n++;
      if (!asked[question->basis->build_of[unit->unit]]++)
        insight_look_add_changes (question->look, question->criterion->characteristic, question->basis->build_of[unit->unit],
                                  changes);
    }

  if (newest == NULL)
    return;
  insight_look_match (question->look, question->criterion->characteristic, question->basis->build_of[newest->unit], &matching);
  reason = insight_say (question, INSIGHT_REASON_OTHER_STATE);
  add_state_names (question, reason, newest->unit, matching.differs);
  insight_reason_add_count (reason, n);
  for (guint i = 0; i < question->out->no_longer.n; i++)
    insight_reason_add_id (reason, question->out->no_longer.ids[i]);
  add_changes (question, insight_say (question, INSIGHT_REASON_CHANGED_BY), changes);
}

/* Changes on the way of the units that count in spite of them, and of those that lack a second person. */
static void
tell_carried (InsightQuestion *question)
{
  const InsightBasis *basis = question->basis;
  g_autoptr(GArray) changes = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr(GArray) lacking = g_array_new (FALSE, FALSE, sizeof (int));
  g_autofree guint8 *asked = g_new0 (guint8, basis->n_builds + 1); /* 1 asked, 2 lacks a second person */
  guint carried = 0, held_back = 0;

  for (guint i = 0; i < question->units->n; i++)
    {
      const InsightUnit *unit = &question->units->units[i];
      gboolean counts = unit->counting == INSIGHT_COUNTS;
      guint build = basis->build_of[unit->unit];

      if (!unit->has_data || (!counts && unit->counting != INSIGHT_NOT_STATE)
          || insight_units_match (question->units, unit->unit) == INSIGHT_MATCH_SAME)
        continue;
      if (asked[build] == 0)
        {
          g_autoptr(GArray) lacks = g_array_new (FALSE, FALSE, sizeof (int));
          InsightMatching matching = { .changes = counts ? changes : NULL, .unsigned_ = counts ? NULL : lacks };

          insight_look_match (question->look, question->criterion->characteristic, build, &matching);
          asked[build] = lacks->len > 0 ? 2 : 1;
          for (guint k = 0; k < lacks->len; k++)
            insight_add_once (lacking, g_array_index (lacks, int, k));
        }
      carried += counts;
      held_back += asked[build] == 2;
    }
  if (changes->len > 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_CARRIED_OVER);

      add_changes (question, reason, changes);
      insight_reason_add_count (reason, carried);
    }
  if (lacking->len > 0)
    {
      InsightReason *reason = insight_say (question, INSIGHT_REASON_SECOND_PERSON);

      add_changes (question, reason, lacking);
      insight_reason_add_count (reason, held_back);
    }
}

static void
tell_split (InsightQuestion *question)
{
  const InsightBasis *basis = question->basis;
  const InsightLook *look = question->look;
  int characteristic = question->criterion->characteristic;

  for (guint i = basis->depend[characteristic]; i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      InsightReason *reason;

      if (on.part < 0 || look->split[on.part] == INSIGHT_SPLIT_NO)
        continue;
      reason = insight_say (question, look->split[on.part] == INSIGHT_SPLIT_NEXT_PLAN ? INSIGHT_REASON_SPLIT_NEXT_PLAN
                                                                                     : INSIGHT_REASON_SPLIT_LATER);
      insight_reason_add_name (reason, basis->e->parts[on.part].name);
      insight_reason_add_name (reason, revision_label (basis->e, look->revision[on.part]));
      if (look->split[on.part] == INSIGHT_SPLIT_NEXT_PLAN)
        insight_reason_add_name (reason, basis->e->rounds[look->next].label);
    }
}

/* Whether a change led to the state looked for of a part, or wrote the last setting of a step. */
static gboolean
leads_to_state (const InsightQuestion *question, int change, InsightDependence on)
{
  const InsightBasis *basis = question->basis;
  const BookEvidence *e = basis->e;

  if (on.part < 0)
    {
      int version = question->look->version[on.step];

      return version > 0
             && e->settings[g_array_index (basis->setting_rows, guint, basis->settings[on.step] + (guint) version - 1)].change
                  == change;
    }
  for (guint i = 0; i < e->n_items; i++)
    if (e->items[i].change == change && e->items[i].part == on.part && e->items[i].new_revision >= 0
        && e->items[i].new_revision == question->look->revision[on.part])
      return TRUE;
  return FALSE;
}

/**
 * insight_add_changes_to_state:
 * @question: judged
 * @reason: names are added
 *
 * Adds the changes that led to the state looked for, in what the characteristic depends on.
 */
void
insight_add_changes_to_state (InsightQuestion *question, InsightReason *reason)
{
  const InsightBasis *basis = question->basis;
  const BookEvidence *e = basis->e;
  int characteristic = question->criterion->characteristic;

  for (guint c = 0; c < e->n_changes; c++)
    {
      gboolean leads = FALSE;

      for (guint k = basis->depend[characteristic]; k < basis->depend[characteristic + 1]; k++)
        leads |= leads_to_state (question, (int) c, g_array_index (basis->dependences, InsightDependence, k));
      if (leads)
        {
          g_autofree char *name = g_strdup_printf ("%d %s", e->changes[c].no, e->changes[c].title);

          insight_reason_add_name (reason, name);
        }
    }
}

/**
 * insight_tell_design:
 * @question: judged
 * @has_other_state: whether some unit is of another state
 *
 * Adds to the answer what has to be said about states of design.
 */
void
insight_tell_design (InsightQuestion *question, gboolean has_other_state)
{
  if (has_other_state)
    tell_other_state (question);
  if (records (question)->n_carries > 0)
    tell_carried (question);
  tell_split (question);
}
