/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-bench-private.h"

/*
 * A unit's place, event by event: passed moves it to the step after; sent back to the step that puts it right; reworked
 * then to the step that had found it; scrapped, consumed and set aside take it away, lent until it is returned. Altered
 * moves nothing. What has no step moves nothing either, since nobody said where.
 *
 * A loose part follows no route until something happens to it. Before its first event a unit that is assembled waits for the step after those of the bench that assembled it, else for
 * the first inspection; one that is not waits for the first step at which any unit of the model has an event, since before
 * that one tallies count, else for the first.
 */

/* Where units of the model begin. */
static int
first_counted_step (const BookEvidence *e)
{
  int first = -1;

  for (guint i = 0; i < e->n_events; i++)
    if (e->events[i].step >= 0 && (first < 0 || e->events[i].step < first))
      first = e->events[i].step;
  return first >= 0 ? first : e->n_steps > 0 ? 0 : -1;
}

static int
first_inspection (const BookEvidence *e)
{
  for (guint s = 0; s < e->n_steps; s++)
    if (e->steps[s].kind == BOOK_STEP_INSPECTION)
      return (int) s;
  return (int) e->n_steps - 1;
}

/* The last step of a bench before @end; -1: none. */
static int
last_step_of (const BookEvidence *e, int bench, guint end)
{
  for (guint s = MIN (end, e->n_steps); bench >= 0 && s-- > 0;)
    if (e->steps[s].bench == bench)
      return (int) s;
  return -1;
}

static void
begin (const BookEvidence *e, const BookEvidenceUnit *unit, int begins, BookDay today, InsightPlace *place)
{
  gboolean is_assembled = unit->assembled > 0 && unit->assembled <= today;
  int after = last_step_of (e, unit->assembled_at, e->n_steps);

  *place = (InsightPlace){ .state = INSIGHT_BENCH_PLANNED, .step = unit->part < 0 ? begins : -1, .back = -1, .mended_second = -1 };
  if (!is_assembled || unit->part >= 0)
    return;
  place->state = INSIGHT_BENCH_ASSEMBLED;
  place->since = unit->assembled;
  place->step = after >= 0 && after + 1 < (int) e->n_steps ? after + 1 : first_inspection (e);
}

int
insight_bench_back_to (const BookEvidence *e, const BookEvidenceEvent *event)
{
  guint found = event->step >= 0 ? (guint) event->step : e->n_steps;
  int assembled = last_step_of (e, e->units[event->unit].assembled_at, found);

  if (event->back_to >= 0)
    return event->back_to;
  if (event->step >= 0 && e->steps[event->step].kind != BOOK_STEP_INSPECTION)
    return event->step; /* found where it is made: put right there */
  if (assembled >= 0)
    return assembled;
  for (guint i = 0; i < e->n_events; i++)
    if (e->events[i].unit == event->unit && e->events[i].kind == BOOK_EVENT_BUILT && e->events[i].step >= 0)
      return e->events[i].step;
  for (guint s = found; s-- > 0;)
    if (e->steps[s].kind == BOOK_STEP_OWN)
      return (int) s;
  return event->step;
}

static void
pass (const BookEvidence *e, const BookEvidenceEvent *event, InsightPlace *place)
{
  place->back = -1;
  place->step = event->step + 1;
  place->state = INSIGHT_BENCH_CAME;
  if (place->step < (int) e->n_steps)
    return;
  place->step = -1;
  place->state = INSIGHT_BENCH_DONE;
}

static void
mend (const BookEvidence *e, const BookEvidenceEvent *event, InsightPlace *place)
{
  place->mended = event->day;
  place->mended_second = event->second;
  if (event->kind != BOOK_EVENT_REWORKED || place->back < 0 || place->state != INSIGHT_BENCH_BACK)
    return;
  place->state = INSIGHT_BENCH_REWORKED;
  place->since = event->day;
  if (e->events[place->back].step >= 0)
    place->step = e->events[place->back].step;
}

/* @kept: where it was when it was lent. */
static void
move (const BookEvidence *e, guint number, InsightPlace *place, InsightPlace *kept)
{
  const BookEvidenceEvent *event = &e->events[number];

  switch (event->kind)
    {
    case BOOK_EVENT_PASSED:
    case BOOK_EVENT_BUILT:
      if (event->step < 0)
        return;
      if (event->kind == BOOK_EVENT_PASSED)
        pass (e, event, place);
      else
        {
          place->state = INSIGHT_BENCH_BEGUN;
          place->step = event->step;
        }
      break;
    case BOOK_EVENT_SENT_BACK:
      place->state = INSIGHT_BENCH_BACK;
      place->step = insight_bench_back_to (e, event);
      place->back = (int) number;
      break;
    case BOOK_EVENT_REWORKED:
    case BOOK_EVENT_ALTERED:
      mend (e, event, place);
      return;
    case BOOK_EVENT_SCRAPPED:
    case BOOK_EVENT_CONSUMED:
    case BOOK_EVENT_SET_ASIDE:
      place->state = INSIGHT_BENCH_GONE;
      place->step = -1;
      break;
    case BOOK_EVENT_LENT:
      if (place->state != INSIGHT_BENCH_AWAY)
        *kept = *place;
      place->state = INSIGHT_BENCH_AWAY;
      place->step = -1;
      break;
    case BOOK_EVENT_RETURNED:
      if (place->state != INSIGHT_BENCH_AWAY)
        return;
      *place = *kept;
      break;
    }
  place->since = event->day;
}

InsightPlace *
insight_bench_places (const BookEvidence *e, BookDay today)
{
  InsightPlace *places = g_new (InsightPlace, e->n_units + 1);
  int begins = first_counted_step (e);

  for (guint u = 0; u < e->n_units; u++)
    begin (e, &e->units[u], begins, today, &places[u]);
  for (guint i = 0; i < e->n_events;)
    {
      int unit = e->events[i].unit;
      InsightPlace kept = { .step = -1, .back = -1 };

      if (unit >= 0)
        kept = places[unit];
      for (; i < e->n_events && e->events[i].unit == unit; i++)
        if (unit >= 0 && e->events[i].day <= today && places[unit].state != INSIGHT_BENCH_GONE)
          move (e, i, &places[unit], &kept);
    }
  for (guint u = 0; u < e->n_units; u++)
    if (e->rounds[e->units[u].round].decided > 0 && e->rounds[e->units[u].round].decided <= today)
      {
        places[u].state = places[u].state == INSIGHT_BENCH_GONE ? INSIGHT_BENCH_GONE : INSIGHT_BENCH_DECIDED;
        places[u].step = -1;
      }
  return places;
}

gboolean
insight_bench_has_step (const BookEvidence *e, int bench, int step)
{
  return bench < 0 || (step >= 0 && e->steps[step].bench == bench);
}
