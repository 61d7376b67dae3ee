/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-as-built.h"

#include "insight-basis-private.h"
#include "insight-counting-private.h"
#include "insight-design-private.h"
#include "insight-units-private.h"

/* ---- a unit ---- */

static void
part_free (gpointer data)
{
  g_free (((InsightBuiltPart *) data)->name);
  g_free (data);
}

static void
event_free (gpointer data)
{
  g_free (((InsightBuiltEvent *) data)->date);
  g_free (data);
}

static void
finding_free (gpointer data)
{
  g_free (((InsightBuiltFinding *) data)->date);
  g_free (data);
}

void
insight_as_built_free (InsightAsBuilt *built)
{
  g_free (built->part);
  g_free (built->built);
  g_ptr_array_unref (built->parts);
  g_ptr_array_unref (built->events);
  g_ptr_array_unref (built->findings);
  g_strfreev (built->kept);
  g_free (built);
}

static char *
date_of (BookDay day)
{
  return day > 1 ? book_day_format (day) : g_strdup (""); /* day 1 stands for 'some day' */
}

static char *
name_of (const BookEvidence *e, int part)
{
  if (part < 0)
    return g_strdup ("");
  return e->parts[part].name[0] != '\0' ? g_strdup_printf ("%s %s", e->parts[part].number, e->parts[part].name)
                                        : g_strdup (e->parts[part].number);
}

static const char *
label_of (const BookEvidence *e, int revision)
{
  return revision >= 0 ? e->revisions[revision].label : "";
}

static const char *
number_of (const BookEvidence *e, int lot)
{
  return lot >= 0 ? e->lots[lot].number : "";
}

/* Key of the unit's own row about a part or a step. */
static gint64
row_of (const BookEvidence *e, guint unit, guint place)
{
  for (guint i = 0; i < e->n_unit_parts; i++)
    if (e->unit_parts[i].unit == (int) unit
        && (place < e->n_parts ? e->unit_parts[i].part == (int) place
                               : e->unit_parts[i].part < 0 && e->unit_parts[i].step == (int) (place - e->n_parts)))
      return e->unit_parts[i].id;
  return 0;
}

/* One part or, at the end of the parts, step; %NULL when nothing was said about it, neither by the plan nor by the unit. */
static InsightBuiltPart *
part_new (const InsightBasis *basis, guint unit, guint place, const int *planned, const int *planned_lots)
{
  const BookEvidence *e = basis->e;
  gboolean is_step = place >= e->n_parts;
  int revision = is_step ? -1 : basis->revision[basis->build_of[unit] * e->n_parts + place];
  int plan = is_step ? -1 : planned[place];
  int lot = basis->lot_of[(gsize) unit * (e->n_parts + e->n_steps) + place];
  InsightBuiltPart *part;

  if (revision == -1 && plan == -1 && lot < 0 && planned_lots[place] < 0)
    return NULL;
  part = g_new0 (InsightBuiltPart, 1);
  part->row = row_of (e, unit, place);
  part->part = is_step ? 0 : e->parts[place].id;
  part->step = is_step ? e->steps[place - e->n_parts].id : 0;
  part->name = is_step ? g_strdup (e->steps[place - e->n_parts].name) : name_of (e, (int) place);
  part->revision = label_of (e, revision);
  part->revision_id = revision >= 0 ? e->revisions[revision].id : 0;
  part->lot = number_of (e, lot);
  part->lot_id = lot >= 0 ? e->lots[lot].id : 0;
  part->planned_revision = label_of (e, plan);
  part->planned_lot = number_of (e, planned_lots[place]);
  part->is_split = revision < -1;
  part->differs = (plan >= -1 && revision != plan) || (planned_lots[place] >= 0 && lot != planned_lots[place]);
  return part;
}

static void
add_parts (InsightAsBuilt *built, const InsightBasis *basis, guint unit)
{
  guint width = basis->e->n_parts + basis->e->n_steps;
  g_autofree int *planned = g_new (int, width + 1), *lots = g_new (int, width + 1);

  insight_basis_planned (basis, unit, planned, lots);
  for (guint i = 0; i < width; i++)
    {
      InsightBuiltPart *part = part_new (basis, unit, i, planned, lots);

      if (part != NULL)
        g_ptr_array_add (built->parts, part);
    }
}

static void
add_events (InsightAsBuilt *built, const InsightBasis *basis, guint unit)
{
  const BookEvidence *e = basis->e;

  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    {
      const BookEvidenceEvent *one = &e->events[i];
      InsightBuiltEvent *event = g_new0 (InsightBuiltEvent, 1);

      event->date = date_of (one->day);
      event->step = one->step >= 0 ? e->steps[one->step].name : "";
      event->kind = one->kind;
      event->issue = one->issue >= 0 ? e->issues[one->issue].id : 0;
      event->issue_no = one->issue >= 0 ? e->issues[one->issue].no : 0;
      event->issue_title = one->issue >= 0 ? e->issues[one->issue].title : "";
      event->by = one->person >= 0 ? e->persons[one->person].initials : "";
      event->reason = one->reason;
      if (event->kind == BOOK_EVENT_ALTERED && built->altered < 0)
        built->altered = (int) built->events->len;
      if (event->kind == BOOK_EVENT_SET_ASIDE && built->aside < 0)
        built->aside = (int) built->events->len;
      g_ptr_array_add (built->events, event);
    }
}

static void
add_findings (InsightAsBuilt *built, const BookEvidence *e, guint unit)
{
  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *one = &e->findings[i];
      InsightBuiltFinding *finding;

      if (one->unit != (int) unit)
        continue;
      finding = g_new0 (InsightBuiltFinding, 1);
      finding->issue = one->issue >= 0 ? e->issues[one->issue].id : 0;
      finding->issue_no = one->issue >= 0 ? e->issues[one->issue].no : 0;
      finding->issue_title = one->issue >= 0 ? e->issues[one->issue].title : "";
      finding->disposition = one->disposition;
      finding->excused = one->excused;
      finding->by = one->person >= 0 ? e->persons[one->person].initials : "";
      finding->date = date_of (one->day);
      finding->reason = one->reason;
      g_ptr_array_add (built->findings, finding);
    }
}

/* The characteristics for which every alteration of the unit is carried over. */
static char **
kept_codes (const InsightLook *look, guint unit)
{
  const InsightBasis *basis = look->basis;
  GStrvBuilder *codes = g_strv_builder_new ();
  char **kept;

  for (guint c = 0; c < basis->e->n_characteristics; c++)
    {
      gboolean any = FALSE, all = TRUE;

      for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
        if (basis->e->events[i].kind == BOOK_EVENT_ALTERED)
          {
            any = TRUE;
            all &= basis->e->events[i].issue >= 0
                   && insight_is_carried_for_issue (look, (int) c, basis->e->events[i].issue);
          }
      if (any && all)
        g_strv_builder_add (codes, basis->e->characteristics[c].code);
    }
  kept = g_strv_builder_end (codes);
  g_strv_builder_unref (codes);
  return kept;
}

/**
 * insight_as_built:
 * @evidence: the records of the unit's model; must outlive the answer
 * @unit: key of a unit
 *
 * Returns: (transfer full) (nullable): how it was built; %NULL when the model has no such unit
 */
InsightAsBuilt *
insight_as_built (const BookEvidence *evidence, gint64 unit)
{
  int at = book_evidence_find (evidence, units, unit);
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  InsightAsBuilt *built;

  if (at < 0)
    return NULL;
  basis = insight_basis_new (evidence);
  look = insight_look_new (basis, (int) evidence->n_rounds - 1, G_MAXINT32);
  built = g_new0 (InsightAsBuilt, 1);
  built->unit = unit;
  built->serial = evidence->units[at].serial;
  built->round = evidence->rounds[evidence->units[at].round].label;
  built->round_id = evidence->rounds[evidence->units[at].round].id;
  built->part = name_of (evidence, evidence->units[at].part);
  built->built = date_of (basis->built[at]);
  built->parts = g_ptr_array_new_with_free_func (part_free);
  built->events = g_ptr_array_new_with_free_func (event_free);
  built->findings = g_ptr_array_new_with_free_func (finding_free);
  built->altered = -1;
  built->aside = -1;
  add_parts (built, basis, (guint) at);
  add_events (built, basis, (guint) at);
  add_findings (built, evidence, (guint) at);
  built->kept = kept_codes (look, (guint) at);
  return built;
}

/* ---- the other way round ---- */

static void
holder_free (gpointer data)
{
  g_free (((InsightHolder *) data)->built);
  g_free (data);
}

static gboolean
is_written (const BookEvidence *e, guint unit, int lot, int revision)
{
  for (guint i = 0; i < e->n_unit_parts; i++)
    if (e->unit_parts[i].unit == (int) unit
        && (lot >= 0 ? e->unit_parts[i].lot == lot : e->unit_parts[i].revision == revision))
      return TRUE;
  return FALSE;
}

static gboolean
is_found_on (const BookEvidence *e, guint unit)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].unit == (int) unit)
      return TRUE;
  return FALSE;
}

static gboolean
holds (const InsightBasis *basis, guint unit, int lot, int revision)
{
  const BookEvidence *e = basis->e;
  guint width = e->n_parts + e->n_steps;
  int place;

  if (lot < 0)
    {
      place = e->revisions[revision].part;
      return basis->revision[basis->build_of[unit] * e->n_parts + (guint) place] == revision;
    }
  place = e->lots[lot].part >= 0 ? e->lots[lot].part : (int) e->n_parts + e->lots[lot].step;
  return basis->lot_of[(gsize) unit * width + (guint) place] == lot;
}

/**
 * insight_holders:
 * @evidence: the records of a model; must outlive the answer
 * @lot: key of a lot, or 0
 * @revision: key of a revision, or 0: one of both is given
 *
 * Returns: (transfer full) (element-type InsightHolder): the units that it went into, in the order of build; none when the
 *   model does not use it
 */
GPtrArray *
insight_holders (const BookEvidence *evidence, gint64 lot, gint64 revision)
{
  GPtrArray *holders = g_ptr_array_new_with_free_func (holder_free);
  g_autoptr(InsightBasis) basis = insight_basis_new (evidence);
  int lot_at = -1, revision_at = -1;

  for (guint i = 0; lot != 0 && i < evidence->n_lots; i++)
    if (evidence->lots[i].id == lot && (evidence->lots[i].part >= 0 || evidence->lots[i].step >= 0))
      lot_at = (int) i;
  for (guint i = 0; lot == 0 && i < evidence->n_revisions; i++)
    if (evidence->revisions[i].id == revision && evidence->revisions[i].part >= 0)
      revision_at = (int) i;
  for (guint i = 0; (lot_at >= 0 || revision_at >= 0) && i < evidence->n_units; i++)
    if (holds (basis, i, lot_at, revision_at))
      {
        InsightHolder *holder = g_new0 (InsightHolder, 1);

        holder->unit = evidence->units[i].id;
        holder->serial = evidence->units[i].serial;
        holder->round = evidence->rounds[evidence->units[i].round].label;
        holder->built = date_of (basis->built[i]);
        holder->is_planned = !is_written (evidence, i, lot_at, revision_at);
        holder->failed = is_found_on (evidence, i);
        holder->aside = basis->aside[i] != 0 || basis->excused[i] >= 0;
        g_ptr_array_add (holders, holder);
      }
  return holders;
}
