/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-counting-private.h"

#include <math.h>

/* Whether units of a kind of round count, for what counts from @counts_from on. */
gboolean
insight_kind_counts (BookRoundKind kind, BookCountsFrom counts_from)
{
  switch (kind)
    {
    case BOOK_ROUND_BENCH:
      return FALSE;
    case BOOK_ROUND_PROTOTYPE:
      return counts_from == BOOK_COUNTS_PROTOTYPE;
    case BOOK_ROUND_PILOT:
    case BOOK_ROUND_FIRST_SERIES:
      return TRUE;
    }
  return FALSE;
}

/* Whether a unit was set aside, or excused by a finding, by the end of the look. */
gboolean
insight_is_excused (const InsightLook *look, guint unit)
{
  const InsightBasis *basis = look->basis;
  int finding = basis->excused[unit];

  return (basis->aside[unit] != 0 && basis->aside[unit] <= look->end)
         || (finding >= 0 && basis->e->findings[finding].day <= look->end);
}

/* Whether a change that answers an issue is carried over for the characteristic. */
gboolean
insight_is_carried_for_issue (const InsightLook *look, int characteristic, int issue)
{
  const BookEvidence *e = look->basis->e;

  for (guint i = 0; i < e->n_change_issues; i++)
    {
      gboolean lacks;

      if (e->change_issues[i].issue == issue
          && insight_look_is_carried (look, characteristic, e->change_issues[i].change, &lacks))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_after (BookDay day, int second, const BookEvidenceEvent *event)
{
  if (day != event->day)
    return day > event->day;
  return second >= 0 && event->second >= 0 && second > event->second;
}

/**
 * insight_is_altered:
 * @look: a look
 * @characteristic: what was tested
 * @unit: a unit
 * @day: when it was tested
 * @second: of the day; -1: not known, and an alteration of the same day counts as later
 *
 * Returns: whether the unit was altered before, other than for an issue whose change is carried over
 */
gboolean
insight_is_altered (const InsightLook *look, int characteristic, guint unit, BookDay day, int second)
{
  const InsightBasis *basis = look->basis;

  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    {
      const BookEvidenceEvent *event = &basis->e->events[i];

      if (event->kind == BOOK_EVENT_ALTERED && event->day <= look->read && is_after (day, second, event)
          && !(event->issue >= 0 && insight_is_carried_for_issue (look, characteristic, event->issue)))
        return TRUE;
    }
  return FALSE;
}

/**
 * insight_counting_of:
 * @look: a look
 * @characteristic: what was tested; -1: nothing that a state of design is known for
 * @unit: a unit
 * @counts_from: kinds of rounds that count
 *
 * Returns: whether the unit counts as far as its round, its being excused and its state of design go
 */
InsightCounting
insight_counting_of (const InsightLook *look, int characteristic, guint unit, BookCountsFrom counts_from)
{
  const InsightBasis *basis = look->basis;
  InsightMatching matching = { 0 };

  if (!insight_kind_counts (basis->e->rounds[basis->e->units[unit].round].kind, counts_from))
    return INSIGHT_NOT_KIND;
  if (insight_is_excused (look, unit))
    return INSIGHT_NOT_EXCUSED;
  if (characteristic < 0)
    return INSIGHT_COUNTS;
  insight_look_match (look, characteristic, basis->build_of[unit], &matching);
  if (matching.match == INSIGHT_MATCH_OTHER)
    return INSIGHT_NOT_STATE;
  return matching.match == INSIGHT_MATCH_LATER ? INSIGHT_NOT_LATER_STATE : INSIGHT_COUNTS;
}

/* Whether a planned test asks more of a unit than another: more cycles, and of as many the greater load. */
static gboolean
asks_more (const BookEvidenceTest *test, const BookEvidenceTest *other)
{
  double cycles = isnan (test->cycles) ? -1.0 : test->cycles, others = isnan (other->cycles) ? -1.0 : other->cycles;

  if (cycles < others || cycles > others)
    return cycles > others;
  return (isnan (test->load) ? -1.0 : test->load) > (isnan (other->load) ? -1.0 : other->load);
}

/**
 * insight_planned_tests:
 * @e: the records
 * @characteristic: what is tested
 *
 * Of several tests planned for one unit that counts which asks most of it, for what a unit bore adds up.
 *
 * Returns: (transfer full) (array): by unit, the index of its planned test; -1 where none is
 */
int *
insight_planned_tests (const BookEvidence *e, int characteristic)
{
  int *planned = g_new (int, e->n_units + 1);

  for (guint i = 0; i < e->n_units; i++)
    planned[i] = -1;
  for (guint i = 0; i < e->n_tests; i++)
    {
      int unit = e->tests[i].unit;

      if (unit >= 0 && e->tests[i].characteristic == characteristic
          && (planned[unit] < 0 || asks_more (&e->tests[i], &e->tests[planned[unit]])))
        planned[unit] = (int) i;
    }
  return planned;
}
