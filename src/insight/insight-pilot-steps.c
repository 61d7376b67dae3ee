/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-pilot-private.h"

#include <math.h>

/*
 * What was counted at each step. Of a unit at a step: scrapped if any event there says so; else passed, and then reworked
 * if it was sent back or reworked there before it passed last; else in hand. A unit set aside is neither good nor counted.
 * One that passed and was reworked here later, because another step found something, is lost at that other step alone;
 * the minutes that it takes here count all the same.
 */

/* What events say of one unit at one step. */
typedef struct
{
  gboolean here, passed, back, reworked, scrapped, aside;
} Fate;

gboolean
insight_event_is_at_step (const BookEvidenceEvent *event)
{
  switch (event->kind)
    {
    case BOOK_EVENT_BUILT:
    case BOOK_EVENT_PASSED:
    case BOOK_EVENT_SENT_BACK:
    case BOOK_EVENT_REWORKED:
    case BOOK_EVENT_SCRAPPED:
    case BOOK_EVENT_SET_ASIDE:
      return event->step >= 0;
    case BOOK_EVENT_ALTERED:
    case BOOK_EVENT_CONSUMED:
    case BOOK_EVENT_LENT:
    case BOOK_EVENT_RETURNED:
      break;
    }
  return FALSE;
}

gboolean
insight_event_is_run (const BookEvidenceEvent *event)
{
  return event->step >= 0 && (event->kind == BOOK_EVENT_PASSED || event->kind == BOOK_EVENT_SENT_BACK
                              || event->kind == BOOK_EVENT_SCRAPPED);
}

static void
add_event (Fate *fate, const BookEvidenceEvent *event)
{
  fate->here = TRUE;
  switch (event->kind)
    {
    case BOOK_EVENT_PASSED:
      fate->passed = TRUE;
      fate->reworked |= fate->back;
      break;
    case BOOK_EVENT_SENT_BACK:
      fate->back = TRUE;
      fate->passed = FALSE; /* until it passes again */
      break;
    case BOOK_EVENT_REWORKED:
      fate->back = TRUE;
      break;
    case BOOK_EVENT_SCRAPPED:
      fate->scrapped = TRUE;
      break;
    case BOOK_EVENT_SET_ASIDE:
      fate->aside = TRUE;
      break;
    case BOOK_EVENT_BUILT:
    case BOOK_EVENT_ALTERED:
    case BOOK_EVENT_CONSUMED:
    case BOOK_EVENT_LENT:
    case BOOK_EVENT_RETURNED:
      break;
    }
}

static double
sum_known (double sum, double more)
{
  return isnan (more) ? sum : isnan (sum) ? more : sum + more;
}

static void
add_minutes (InsightPilotStep *step, const BookEvidenceEvent *event)
{
  if (isnan (event->minutes))
    return;
  if (event->kind == BOOK_EVENT_REWORKED)
    step->rework_min = sum_known (step->rework_min, event->minutes);
  else if (insight_event_is_run (event))
    {
      step->minutes = sum_known (step->minutes, event->minutes);
      step->minutes_n++;
    }
}

static void
add_fate (InsightPilotStep *step, const Fate *fate)
{
  step->source = INSIGHT_PILOT_EVENTS;
  step->in++;
  step->worked_again += fate->back && !fate->aside;
  if (fate->aside)
    step->aside++;
  else if (fate->scrapped)
    step->scrapped++;
  else if (fate->passed && fate->reworked)
    step->reworked++;
  else if (fate->passed)
    step->first++;
  else
    step->waiting++;
}

static void
count_events (const BookEvidence *e, int round, BookDay end, InsightPilotStep *steps)
{
  g_autofree Fate *fates = g_new (Fate, e->n_steps + 1);

  for (guint i = 0; i < e->n_events;)
    {
      int unit = e->events[i].unit;
      gboolean wanted = unit >= 0 && e->units[unit].round == round;

      for (guint s = 0; s < e->n_steps; s++)
        fates[s] = (Fate){ FALSE, FALSE, FALSE, FALSE, FALSE, FALSE };
      for (; i < e->n_events && e->events[i].unit == unit; i++)
        if (wanted && insight_event_is_at_step (&e->events[i]) && e->events[i].day <= end)
          {
            add_event (&fates[e->events[i].step], &e->events[i]);
            add_minutes (&steps[e->events[i].step], &e->events[i]);
          }
      for (guint s = 0; wanted && s < e->n_steps; s++)
        if (fates[s].here)
          add_fate (&steps[s], &fates[s]);
    }
}

/* Pieces that may have gone in and were not come to take no minutes yet. */
static guint
pieces_done (const BookEvidenceTally *tally)
{
  return (guint) (tally->good_first + tally->reworked_good + tally->waiting + tally->scrapped);
}

static void
count_tallies (const BookEvidence *e, int round, BookDay end, InsightPilotStep *steps)
{
  for (guint i = 0; i < e->n_tallies; i++)
    {
      const BookEvidenceTally *tally = &e->tallies[i];
      InsightPilotStep *step;

      if (tally->round != round || tally->step < 0 || tally->day > end)
        continue;
      step = &steps[tally->step];
      if (step->source == INSIGHT_PILOT_EVENTS)
        {
          step->tallies_left_out++;
          continue;
        }
      step->source = INSIGHT_PILOT_TALLY;
      step->in += (guint) tally->n_in;
      step->first += (guint) tally->good_first;
      step->reworked += (guint) tally->reworked_good;
      step->waiting += (guint) tally->waiting;
      step->scrapped += (guint) tally->scrapped;
      step->worked_again += (guint) (tally->reworked_good + tally->waiting);
      if (!isnan (tally->minutes))
        {
          step->minutes = sum_known (step->minutes, tally->minutes);
          step->minutes_n += pieces_done (tally);
        }
      step->setup_min = sum_known (step->setup_min, tally->setup_min);
      step->rework_min = sum_known (step->rework_min, tally->rework_min);
    }
}

static int
compare_days (gconstpointer a, gconstpointer b)
{
  return (*(const BookDay *) a > *(const BookDay *) b) - (*(const BookDay *) a < *(const BookDay *) b);
}

/* Different dates among the days of @step, or of all for -1. */
static guint
count_run_days (const BookEvidence *e, int round, BookDay end, const InsightPilotStep *steps, int step)
{
  g_autoptr(GArray) days = g_array_new (FALSE, FALSE, sizeof (BookDay));
  guint n = 0;

  for (guint i = 0; i < e->n_tallies; i++)
    if (e->tallies[i].round == round && e->tallies[i].step >= 0 && e->tallies[i].day <= end
        && (step < 0 || e->tallies[i].step == step) && steps[e->tallies[i].step].source == INSIGHT_PILOT_TALLY)
      g_array_append_val (days, e->tallies[i].day);
  for (guint i = 0; i < e->n_events; i++)
    if (insight_event_is_run (&e->events[i]) && e->events[i].day <= end && e->units[e->events[i].unit].round == round
        && (step < 0 || e->events[i].step == step))
      g_array_append_val (days, e->events[i].day);
  g_array_sort (days, compare_days);
  for (guint i = 0; i < days->len; i++)
    n += i == 0 || g_array_index (days, BookDay, i) != g_array_index (days, BookDay, i - 1);
  return n;
}

/* @steps: (array length=n_steps): one for each step of the model's route, filled anew; names are left alone. */
void
insight_pilot_count_steps (const BookEvidence *e, int round, BookDay end, InsightPilotStep *steps)
{
  for (guint s = 0; s < e->n_steps; s++)
    steps[s] = (InsightPilotStep){ .index = (int) s,
                                   .id = e->steps[s].id,
                                   .position = e->steps[s].position,
                                   .kind = e->steps[s].kind,
                                   .first_pass = NAN,
                                   .first_interval = { NAN, NAN },
                                   .final = NAN,
                                   .final_range = { NAN, NAN },
                                   .minutes = NAN,
                                   .setup_min = NAN,
                                   .rework_min = NAN };
  count_events (e, round, end, steps);
  count_tallies (e, round, end, steps);
  for (guint s = 0; s < e->n_steps; s++)
    {
      steps[s].n = steps[s].first + steps[s].reworked + steps[s].scrapped + steps[s].waiting;
      steps[s].run_days = count_run_days (e, round, end, steps, (int) s);
    }
}

/* Whether anything was counted in a round by @end. */
gboolean
insight_pilot_has_counts (const BookEvidence *e, int round, BookDay end)
{
  for (guint i = 0; i < e->n_tallies; i++)
    if (e->tallies[i].round == round && e->tallies[i].step >= 0 && e->tallies[i].day <= end)
      return TRUE;
  for (guint i = 0; i < e->n_events; i++)
    if (insight_event_is_at_step (&e->events[i]) && e->events[i].day <= end && e->units[e->events[i].unit].round == round
        && (insight_event_is_run (&e->events[i]) || e->events[i].kind == BOOK_EVENT_BUILT))
      return TRUE;
  return FALSE;
}

typedef struct
{
  BookDay day;
  int     step;
  int     unit;  /* -1: of a tally */
  guint   tally; /* index, of one */
  guint   n, first;
  double  minutes;
  guint   minutes_n;
} RunDay;

static int
compare_run_days (gconstpointer a, gconstpointer b)
{
  const RunDay *x = a, *y = b;

  if (x->step != y->step)
    return x->step < y->step ? -1 : 1;
  return (x->day > y->day) - (x->day < y->day);
}

static int
compare_run_units (gconstpointer a, gconstpointer b)
{
  const RunDay *x = a, *y = b;
  int order = compare_run_days (a, b);

  return order != 0 ? order : (x->unit > y->unit) - (x->unit < y->unit);
}

static gboolean
is_first_time (const BookEvidence *e, guint number)
{
  const BookEvidenceEvent *event = &e->events[number];

  if (event->kind != BOOK_EVENT_PASSED)
    return FALSE;
  for (guint i = number; i > 0 && e->events[i - 1].unit == event->unit; i--)
    if (e->events[i - 1].step == event->step
        && (e->events[i - 1].kind == BOOK_EVENT_SENT_BACK || e->events[i - 1].kind == BOOK_EVENT_REWORKED
            || e->events[i - 1].kind == BOOK_EVENT_PASSED))
      return FALSE;
  return TRUE;
}

/* The same unit on the same day at the same step once more: its minutes, and a pass after all. */
static void
merge_run (RunDay *into, const RunDay *more)
{
  into->minutes = sum_known (into->minutes, more->minutes);
  into->minutes_n |= more->minutes_n;
  into->first |= more->first;
}

static void
list_runs (const BookEvidence *e, int round, BookDay end, const InsightPilot *pilot, GArray *all)
{
  for (guint i = 0; i < e->n_tallies; i++)
    {
      const BookEvidenceTally *tally = &e->tallies[i];
      RunDay day = { tally->day, tally->step, -1, i, (guint) tally->n_in, (guint) tally->good_first, tally->minutes,
                     isnan (tally->minutes) ? 0 : pieces_done (tally) };

      if (tally->round == round && tally->step >= 0 && tally->day <= end
          && pilot->steps[tally->step].source == INSIGHT_PILOT_TALLY)
        g_array_append_val (all, day);
    }
  for (guint i = 0; i < e->n_events; i++)
    {
      const BookEvidenceEvent *event = &e->events[i];
      RunDay day = { event->day, event->step, event->unit, 0, 1, is_first_time (e, i), event->minutes, !isnan (event->minutes) };

      if (insight_event_is_run (event) && event->day <= end && e->units[event->unit].round == round)
        g_array_append_val (all, day);
    }
  g_array_sort (all, compare_run_units);
}

/* Each step's run days, with what came through it and the minutes written down. */
void
insight_pilot_find_days (const BookEvidence *e, int round, BookDay end, InsightPilot *pilot)
{
  g_autoptr(GArray) all = g_array_new (FALSE, FALSE, sizeof (RunDay));
  InsightPilotDay *day = NULL;
  guint n = 0;

  list_runs (e, round, end, pilot, all);
  pilot->days = g_new0 (InsightPilotDay, all->len + 1);
  for (guint i = 0; i < all->len;)
    {
      RunDay run = g_array_index (all, RunDay, i);

      if (day == NULL || compare_run_days (&run, &g_array_index (all, RunDay, i - 1)) != 0)
        {
          day = &pilot->days[n++];
          day->step = run.step;
          day->date = book_day_format (run.day);
          day->minutes = NAN;
          day->pieces = insight_pilot_pieces_new ();
        }
      if (run.unit >= 0)
        insight_pilot_add_unit (day->pieces, e, run.unit);
      else
        insight_pilot_add_tally (day->pieces, e, run.tally);
      for (i++; i < all->len && run.unit >= 0 && compare_run_units (&run, &g_array_index (all, RunDay, i)) == 0; i++)
        merge_run (&run, &g_array_index (all, RunDay, i));
      day->n += run.n;
      day->first += run.first;
      day->minutes = sum_known (day->minutes, run.minutes);
      day->minutes_n += run.minutes_n;
    }
  pilot->n_days = n;
  pilot->n_run_days = count_run_days (e, round, end, pilot->steps, -1);
}
