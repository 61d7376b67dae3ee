/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-fix-private.h"

#include "insight-counting-private.h"

#include <math.h>

/*
 * Method. A unit says something about an issue by the test that shows it: its first attempt at the characteristic that
 * the issue names or, where life tests show it, its first life test. What counts is as for a criterion about that
 * characteristic. A finding of the issue on a unit is a failure of it whatever the test said. A failure that a finding
 * (or the life test itself) puts down to another issue ended the test by another mode; one that nobody put down to
 * anything is taken as this one.
 *
 * On which side of a change a unit is follows from what was built into it, never from a date.
 */

/* The rows of a step's setting that a change wrote: how many of the first rows of the step must be in force. */
static int
version_of_change (const InsightBasis *basis, int step, const char *name, int change)
{
  int version = 0;

  for (guint i = basis->settings[step]; i < basis->settings[step + 1]; i++)
    {
      const BookEvidenceSetting *row = &basis->e->settings[g_array_index (basis->setting_rows, guint, i)];

      if (row->change == change && (name[0] == '\0' || g_str_equal (row->name, name)))
        version = (int) (i - basis->settings[step]) + 1;
    }
  return version;
}

/* A setting that no row ties to the change is told by its value, where the item gives one. */
static InsightFixSide
side_by_value (const InsightBasis *basis, const BookEvidenceItem *item, guint build)
{
  double value = insight_setting_value (basis, item->step, basis->version[build * basis->e->n_steps + (guint) item->step],
                                        item->setting);
  const char *const texts[] = { item->now, item->old };
  static const InsightFixSide sides[] = { INSIGHT_SIDE_NEW, INSIGHT_SIDE_OLD };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      char *end;
      double wanted = g_ascii_strtod (texts[i], &end);

      if (end != texts[i] && value == wanted)
        return sides[i];
    }
  return INSIGHT_SIDE_NEITHER;
}

static InsightFixSide
side_of_item (const InsightLook *look, const BookEvidenceItem *item, guint build)
{
  const InsightBasis *basis = look->basis;

  if (item->part >= 0)
    {
      int have = basis->revision[build * basis->e->n_parts + (guint) item->part];

      if (have == item->new_revision
          || (have >= 0 && insight_look_leads_to (look, item->part, item->new_revision, have)))
        return INSIGHT_SIDE_NEW;
      return have == item->old_revision ? INSIGHT_SIDE_OLD : INSIGHT_SIDE_NEITHER;
    }
  else
    {
      int version = version_of_change (basis, item->step, item->setting, item->change);

      if (version == 0)
        return side_by_value (basis, item, build);
      return basis->version[build * basis->e->n_steps + (guint) item->step] >= version ? INSIGHT_SIDE_NEW
                                                                                       : INSIGHT_SIDE_OLD;
    }
}

/* A limit is no state of design, and an item without a new revision brings nothing that could be built. */
static gboolean
is_design (const BookEvidenceItem *item)
{
  return (item->part >= 0 && item->new_revision >= 0) || (item->part < 0 && item->step >= 0);
}

/**
 * insight_fix_names_state:
 * @look: a look
 * @change: a change
 *
 * Returns: whether the change brings a new revision or a new setting; one of limits alone does not
 */
gboolean
insight_fix_names_state (const InsightLook *look, int change)
{
  const BookEvidence *e = look->basis->e;

  for (guint i = 0; i < e->n_items; i++)
    if (e->items[i].change == change && is_design (&e->items[i]))
      return TRUE;
  return FALSE;
}

/**
 * insight_fix_side:
 * @look: a look
 * @change: a change
 * @build: a build of the look's basis
 *
 * Returns: the side on which units built so are; a unit with only a part of the change is on neither
 */
InsightFixSide
insight_fix_side (const InsightLook *look, int change, guint build)
{
  const BookEvidence *e = look->basis->e;
  gboolean is_new = TRUE, is_old = TRUE, any = FALSE;

  for (guint i = 0; i < e->n_items; i++)
    {
      InsightFixSide side;

      if (e->items[i].change != change || !is_design (&e->items[i]))
        continue;
      side = side_of_item (look, &e->items[i], build);
      is_new = is_new && side == INSIGHT_SIDE_NEW;
      is_old = is_old && side == INSIGHT_SIDE_OLD;
      any = TRUE;
    }
  if (!any)
    return INSIGHT_SIDE_NEITHER;
  return is_new ? INSIGHT_SIDE_NEW : is_old ? INSIGHT_SIDE_OLD : INSIGHT_SIDE_NEITHER;
}

typedef struct
{
  const InsightLook *look;
  InsightUnits      *units;
  int                issue;
  BookCountsFrom     counts_from;
  GArray            *trials; /* InsightTrial */
  int               *of_unit; /* by unit: its trial, -1 none */
  double             load;   /* to be reached; NAN none */
  double             cycles;
} Gathering;

static InsightTrial *
add_trial (Gathering *g, guint unit)
{
  InsightTrial trial = { .unit = unit, .own = INSIGHT_COUNTS };

  g->of_unit[unit] = (int) g->trials->len;
  g_array_append_val (g->trials, trial);
  return &g_array_index (g->trials, InsightTrial, g->trials->len - 1);
}

/*
 * A unit that was not loaded as much, or not so often, as when the issue appeared cannot speak for the fix. A measured
 * value is held against its limits, whatever was planned; only what the plan says to be less takes it out.
 */
static void
hold_against_needs (const Gathering *g, InsightTrial *trial, double load, double cycles, gboolean measured)
{
  trial->short_load = !isnan (g->load) && !(load >= g->load) && !(measured && isnan (load));
  trial->short_cycles = !isnan (g->cycles) && !(cycles >= g->cycles * (1.0 - 1e-12)) && !(measured && isnan (cycles));
}

static void
gather_readings (Gathering *g, int characteristic)
{
  const BookEvidence *e = g->look->basis->e;
  gboolean measured = e->characteristics[characteristic].kind == BOOK_CHARACTERISTIC_MEASURED;
  g_autofree int *planned = insight_planned_tests (e, characteristic);

  insight_units_gather (g->units, g->look, characteristic, g->counts_from);
  for (guint i = 0; i < g->units->n; i++)
    {
      const InsightUnit *unit = &g->units->units[i];
      InsightTrial *trial = add_trial (g, unit->unit);
      int test = planned[unit->unit];

      trial->day = unit->day;
      trial->counting = unit->counting;
      trial->own = unit->own;
      trial->tested = unit->has_data && unit->verdict != INSIGHT_NO_VERDICT;
      trial->fails = trial->tested && insight_is_failing (unit->verdict);
      trial->void_failing = unit->void_failing;
      trial->void_day = unit->void_day;
      trial->failed_then = unit->failed_then;
      hold_against_needs (g, trial, test >= 0 ? e->tests[test].load : (double) NAN, test >= 0 ? e->tests[test].cycles : (double) NAN,
                          measured);
    }
}

static void
gather_life_tests (Gathering *g, int characteristic)
{
  const BookEvidence *e = g->look->basis->e;

  for (guint i = 0; i < e->n_life_tests; i++)
    {
      const BookEvidenceLifeTest *test = &e->life_tests[i];
      InsightTrial *trial;

      if (test->unit < 0 || test->day > g->look->end || e->units[test->unit].round > g->look->through
          || (characteristic >= 0 && test->characteristic != characteristic) || g->of_unit[test->unit] >= 0)
        continue;
      trial = add_trial (g, (guint) test->unit);
      trial->day = test->day;
      trial->own = insight_is_altered (g->look, test->characteristic, trial->unit, test->day, -1) ? INSIGHT_NOT_ALTERED
                                                                                                  : INSIGHT_COUNTS;
      trial->counting = insight_counting_of (g->look, test->characteristic, trial->unit, g->counts_from);
      if (trial->counting == INSIGHT_COUNTS)
        trial->counting = trial->own;
      trial->tested = TRUE;
      trial->fails = test->ended == BOOK_LIFE_FAILED;
      trial->other = trial->fails && test->issue >= 0 && test->issue != g->issue;
      hold_against_needs (g, trial, test->load, test->cycles, FALSE);
    }
}

/* The issue on a unit that its test does not know of, and failures that another issue explains. */
static void
gather_findings (Gathering *g, int characteristic)
{
  const BookEvidence *e = g->look->basis->e;

  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];
      InsightTrial *trial;

      if (finding->unit < 0 || finding->day > g->look->said || e->units[finding->unit].round > g->look->through
          || finding->issue != g->issue)
        continue;
      if (g->of_unit[finding->unit] < 0)
        {
          trial = add_trial (g, (guint) finding->unit);
          trial->day = finding->day;
          trial->counting = insight_counting_of (g->look, characteristic, trial->unit, g->counts_from);
        }
      trial = &g_array_index (g->trials, InsightTrial, g->of_unit[finding->unit]);
      trial->found = TRUE;
      trial->other = FALSE;
    }
  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];
      InsightTrial *trial;

      if (finding->unit < 0 || finding->day > g->look->end || finding->issue == g->issue || g->of_unit[finding->unit] < 0
          || (characteristic >= 0 && e->issues[finding->issue].seen_by != characteristic))
        continue;
      trial = &g_array_index (g->trials, InsightTrial, g->of_unit[finding->unit]);
      trial->other = trial->other || (trial->fails && !trial->found);
    }
}

/**
 * insight_fix_needs:
 * @look: a look
 * @number: an issue
 * @needed_load: (out): to be reached; NAN: none
 * @needed_cycles: (out): to be reached; NAN: none
 *
 * What a unit must have borne to speak for a fix: the load and 1.5 times the cycles at which the issue appeared, as
 * written down in it, else the least at which a life test failed by it.
 */
void
insight_fix_needs (const InsightLook *look, int number, double *needed_load, double *needed_cycles)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceIssue *issue = &e->issues[number];
  double load = NAN, cycles = NAN;

  for (guint i = 0; i < e->n_life_tests; i++)
    {
      const BookEvidenceLifeTest *test = &e->life_tests[i];

      if (test->ended != BOOK_LIFE_FAILED || test->issue != number || test->day > look->end
          || (issue->seen_by >= 0 && test->characteristic != issue->seen_by))
        continue;
      load = fmin (load, test->load);
      cycles = fmin (cycles, test->cycles);
    }
  *needed_load = isnan (issue->seen_load) ? load : issue->seen_load;
  *needed_cycles = INSIGHT_FIX_CYCLES * (isnan (issue->seen_cycles) ? cycles : issue->seen_cycles);
}

/**
 * insight_fix_trials:
 * @look: a look
 * @units: initialised; used for the readings of the characteristic
 * @issue: an issue
 * @counts_from: the first kind of round that counts
 *
 * Returns: (transfer full) (element-type InsightTrial): a row for each unit that the issue's test or a finding of it
 *   speaks about, whatever its state of design
 */
GArray *
insight_fix_trials (const InsightLook *look, InsightUnits *units, int issue, BookCountsFrom counts_from)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceIssue *one = &e->issues[issue];
  g_autofree int *of_unit = g_new (int, e->n_units + 1);
  Gathering g = { look, units, issue, counts_from, g_array_new (FALSE, FALSE, sizeof (InsightTrial)), of_unit, NAN, NAN };

  for (guint i = 0; i < e->n_units; i++)
    of_unit[i] = -1;
  insight_fix_needs (look, issue, &g.load, &g.cycles);
  if (one->seen_in_life_test)
    gather_life_tests (&g, one->seen_by);
  else if (one->seen_by >= 0)
    gather_readings (&g, one->seen_by);
  gather_findings (&g, one->seen_by);
  return g.trials;
}
