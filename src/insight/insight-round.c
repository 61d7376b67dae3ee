/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-round.h"

#include "insight-basis-private.h"
#include "insight-span-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef struct
{
  const BookEvidence *e;
  InsightBasis       *basis;
  InsightRounds      *all;
  BookDay             today;
} Reading;

static const char *
keep (Reading *r, const char *text)
{
  return g_string_chunk_insert_const (r->all->strings, text);
}

static const char *
keep_day (Reading *r, BookDay day)
{
  g_autofree char *text = book_day_format (day);

  return keep (r, day != 0 ? text : "");
}

static void
add_dates (Reading *r, const BookEvidenceRound *row, InsightRound *round)
{
  const BookDay dates[INSIGHT_N_ROUND_DATES] = { row->opened, row->design_fixed, row->parts_ready, row->built, row->tested, row->decided };
  const BookDay planned[INSIGHT_N_ROUND_DATES] = { 0, row->planned_design_fixed, row->planned_parts_ready, row->planned_built,
                                                   row->planned_tested, row->planned_decided };
  gboolean any = FALSE;

  round->next = INSIGHT_N_ROUND_DATES;
  for (guint i = 0; i < INSIGHT_N_ROUND_DATES; i++)
    {
      round->dates[i] = keep_day (r, dates[i]);
      round->planned[i] = keep_day (r, planned[i]);
      any |= dates[i] != 0;
      if (dates[i] == 0 && round->next == INSIGHT_N_ROUND_DATES)
        round->next = i;
    }
  round->state = row->decided != 0 ? INSIGHT_ROUND_DECIDED : any ? INSIGHT_ROUND_UNDER_WAY : INSIGHT_ROUND_PLANNED;
  round->late = row->decided == 0 && round->next < INSIGHT_N_ROUND_DATES && planned[round->next] != 0 && planned[round->next] < r->today;
  if (row->opened != 0)
    round->days = insight_span_working_days (r->e, row->opened, row->decided != 0 ? row->decided : r->today);
}

static void
add_beside (Reading *r, guint index, InsightRound *round)
{
  const BookEvidenceRound *row = &r->e->rounds[index];
  g_autoptr(GString) names = g_string_new (NULL);

  for (guint i = 0; i < r->e->n_rounds && row->opened != 0; i++)
    {
      const BookEvidenceRound *other = &r->e->rounds[i];

      if (i == index || other->opened == 0 || (other->decided != 0 && other->decided <= row->opened)
          || (row->decided != 0 && row->decided <= other->opened))
        continue;
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", other->label);
    }
  round->beside = keep (r, names->str);
}

static void
add_parts (Reading *r, guint index, InsightRound *round)
{
  const BookEvidence *e = r->e;

  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];
      InsightRoundPart part = { .id = row->id, .units = (guint) MAX (row->units, 0), .first_serial = keep (r, row->first_serial) };

      if (row->round != (int) index)
        continue;
      part.number = keep (r, row->part >= 0 ? e->parts[row->part].number : "");
      part.name = keep (r, row->part >= 0 ? e->parts[row->part].name : row->step >= 0 ? e->steps[row->step].name : "");
      part.revision = keep (r, row->revision >= 0 ? e->revisions[row->revision].label : "");
      part.lot = keep (r, row->lot >= 0 ? e->lots[row->lot].number : "");
      g_array_append_val (round->parts, part);
    }
}

static void
add_waits (Reading *r, guint index, InsightRound *round)
{
  const BookEvidence *e = r->e;

  for (guint i = 0; i < e->n_waits; i++)
    {
      const BookEvidenceWait *row = &e->waits[i];
      InsightRoundWait wait = { .id = row->id, .no = row->no, .reason = row->reason };

      if (row->round != (int) index)
        continue;
      wait.what = keep (r, row->what);
      wait.supplier = keep (r, row->supplier >= 0 ? e->suppliers[row->supplier].name : "");
      wait.from = keep_day (r, row->from);
      wait.to = keep_day (r, row->to);
      wait.days = insight_span_working_days (e, row->from, row->to != 0 ? row->to : r->today);
      g_array_append_val (round->waits, wait);
    }
}

static void
add_tests (Reading *r, guint index, InsightRound *round)
{
  const BookEvidence *e = r->e;

  for (guint i = 0; i < e->n_tests; i++)
    {
      const BookEvidenceTest *row = &e->tests[i];
      InsightRoundTest test = { .load = row->load, .cycles = row->cycles, .destroyed = row->destroyed, .lent = row->lent };

      if (row->round != (int) index || row->characteristic < 0)
        continue;
      test.serial = keep (r, row->serial);
      test.unit = row->unit >= 0 ? e->units[row->unit].id : 0;
      test.characteristic = e->characteristics[row->characteristic].id;
      test.code = keep (r, e->characteristics[row->characteristic].code);
      g_array_append_val (round->tests, test);
    }
}

/* Whether the units of the round differ in the revision of a part. */
static gboolean
is_mixed (const Reading *r, guint index, guint part)
{
  const BookEvidence *e = r->e;
  int first = G_MININT;

  for (guint i = 0; i < e->n_units; i++)
    {
      int revision;

      if (e->units[i].round != (int) index || e->units[i].part >= 0)
        continue;
      revision = r->basis->revision[r->basis->build_of[i] * e->n_parts + part];
      if (first != G_MININT && revision != first)
        return TRUE;
      first = revision;
    }
  return FALSE;
}

static void
add_units (Reading *r, guint index, InsightRound *round)
{
  const BookEvidence *e = r->e;
  g_autofree guint8 *mixed = g_new0 (guint8, e->n_parts + 1);

  for (guint p = 0; p < e->n_parts; p++)
    mixed[p] = is_mixed (r, index, p);
  for (guint i = 0; i < e->n_units; i++)
    {
      InsightRoundUnit unit = { .id = e->units[i].id };
      g_autoptr(GString) differs = g_string_new (NULL);

      if (e->units[i].round != (int) index || e->units[i].part >= 0)
        continue;
      for (guint p = 0; p < e->n_parts; p++)
        {
          int revision = r->basis->revision[r->basis->build_of[i] * e->n_parts + p];

          if (mixed[p] && revision >= 0)
            g_string_append_printf (differs, "%s%s %s", differs->len > 0 ? ", " : "", e->parts[p].number, e->revisions[revision].label);
        }
      unit.serial = keep (r, e->units[i].serial);
      unit.differs = keep (r, differs->str);
      g_array_append_val (round->units, unit);
    }
}

static void
add_round (Reading *r, guint index)
{
  const BookEvidenceRound *row = &r->e->rounds[index];
  InsightRound round = { .id = row->id, .kind = row->kind, .verdict = row->verdict, .cost = row->cost,
                         .planned_units = (guint) MAX (row->planned_units, 0) };

  round.label = keep (r, row->label);
  round.question = keep (r, row->question);
  round.parts = g_array_new (FALSE, FALSE, sizeof (InsightRoundPart));
  round.waits = g_array_new (FALSE, FALSE, sizeof (InsightRoundWait));
  round.tests = g_array_new (FALSE, FALSE, sizeof (InsightRoundTest));
  round.units = g_array_new (FALSE, FALSE, sizeof (InsightRoundUnit));
  add_dates (r, row, &round);
  add_beside (r, index, &round);
  add_parts (r, index, &round);
  add_waits (r, index, &round);
  add_tests (r, index, &round);
  add_units (r, index, &round);
  g_array_append_val (r->all->rounds, round);
}

static void
round_clear (gpointer data)
{
  InsightRound *round = data;

  g_array_unref (round->parts);
  g_array_unref (round->waits);
  g_array_unref (round->tests);
  g_array_unref (round->units);
}

/**
 * insight_rounds:
 * @evidence: the records of a model; its readings are not looked at
 * @today: day of the question, ISO 8601
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the rounds in order; %INSIGHT_ERROR_DATE
 */
InsightRounds *
insight_rounds (const BookEvidence *evidence, const char *today, GError **error)
{
  const InsightSpan span = { 0, today };
  Reading r = { .e = evidence };
  int through;

  if (!insight_span_resolve (evidence, &span, &through, &r.today, error))
    return NULL;
  r.all = g_new0 (InsightRounds, 1);
  r.all->model = evidence->model_id;
  r.all->strings = g_string_chunk_new (4096);
  r.all->rounds = g_array_new (FALSE, FALSE, sizeof (InsightRound));
  g_array_set_clear_func (r.all->rounds, round_clear);
  r.all->testables = g_array_new (FALSE, FALSE, sizeof (InsightRoundTestable));
  r.basis = insight_basis_new (evidence);
  for (guint i = 0; i < evidence->n_rounds; i++)
    add_round (&r, i);
  for (guint i = 0; i < evidence->n_characteristics; i++)
    {
      const BookEvidenceCharacteristic *one = &evidence->characteristics[i];
      InsightRoundTestable testable = { one->id, keep (&r, one->code), keep (&r, one->name), one->destructive };

      g_array_append_val (r.all->testables, testable);
    }
  insight_basis_free (r.basis);
  return r.all;
}

void
insight_rounds_free (InsightRounds *rounds)
{
  if (rounds == NULL)
    return;
  g_array_unref (rounds->rounds);
  g_array_unref (rounds->testables);
  g_string_chunk_free (rounds->strings);
  g_free (rounds);
}
