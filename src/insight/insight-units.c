/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-units-private.h"

#include "insight-counting-private.h"

#include <math.h>
#include <string.h>

/*
 * Method. The evidence of a unit is its first attempt at the deciding step, whatever came later: a unit that is tested
 * until it passes would otherwise pass. A voided first attempt stays the first attempt: an attempt after it is a retest.
 * Within the attempt, voided readings, readings by a gauge out of calibration, readings after an alteration and checks
 * made to an older limit are left out; the others make the unit's value by mean, worst or first.
 */

#define REPEATS_AT_ONCE 32

void
insight_units_init (InsightUnits *units, const InsightBasis *basis)
{
  memset (units, 0, sizeof *units);
  units->match = g_new0 (guint8, basis->n_builds + 1);
}

void
insight_units_clear (InsightUnits *units)
{
  g_free (units->units);
  g_free (units->match);
}

/**
 * insight_units_ask_match:
 * @units: gathered, or being gathered
 * @build: a build
 *
 * Returns: how the build stands to the state looked for; remembered from now on
 */
InsightMatch
insight_units_ask_match (InsightUnits *units, guint build)
{
  InsightMatching matching = { 0 };

  insight_look_match (units->look, units->characteristic, build, &matching);
  units->match[build] = (guint8) (1 + matching.match);
  return matching.match;
}

/* A hair's breadth for the last bit of a mean; values and limits that were typed compare exactly. */
static gboolean
is_inside (double value, NumLimits limits)
{
  return value >= limits.lower - 1e-12 * fabs (limits.lower) && value <= limits.upper + 1e-12 * fabs (limits.upper);
}

/* Limits of a row pulled in by the guard band; as they stand where that leaves nothing between them. */
static NumLimits
pull_in (const BookEvidenceLimit *row, double width, gboolean *nothing_fits)
{
  NumLimits limits = { row->lower + width, row->upper - width };

  *nothing_fits = width > 0.0 && limits.lower >= limits.upper;
  return *nothing_fits ? (NumLimits){ row->lower, row->upper } : limits;
}

static gboolean
has_limits (NumLimits limits)
{
  return isfinite (limits.lower) || isfinite (limits.upper);
}

static InsightVerdict
verdict_of_reading (const BookEvidenceReading *reading, NumLimits limits)
{
  switch ((BookMark) reading->mark)
    {
    case BOOK_MARK_PASSED:
      return INSIGHT_INSIDE;
    case BOOK_MARK_FAILED:
      return INSIGHT_OUTSIDE;
    case BOOK_MARK_MEASURED:
      if (!has_limits (limits) || isnan (reading->value))
        return INSIGHT_NO_VERDICT;
      return is_inside (reading->value, limits) ? INSIGHT_INSIDE : INSIGHT_OUTSIDE;
    case BOOK_MARK_ABOVE: /* anything from the value up */
      if (!has_limits (limits) || isnan (reading->value))
        return INSIGHT_NO_VERDICT;
      if (reading->value >= limits.upper)
        return INSIGHT_OUTSIDE;
      return !isfinite (limits.upper) && reading->value >= limits.lower ? INSIGHT_INSIDE : INSIGHT_UNDECIDABLE;
    case BOOK_MARK_BELOW:
      if (!has_limits (limits) || isnan (reading->value))
        return INSIGHT_NO_VERDICT;
      if (reading->value <= limits.lower)
        return INSIGHT_OUTSIDE;
      return !isfinite (limits.lower) && reading->value <= limits.upper ? INSIGHT_INSIDE : INSIGHT_UNDECIDABLE;
    }
  return INSIGHT_NO_VERDICT;
}

/* Distance to the nearest limit, negative outside; the worst repeat has the least. */
static double
distance_inside (double value, NumLimits limits)
{
  return MIN (value - limits.lower, limits.upper - value);
}

static gboolean
is_plain (const BookEvidenceReading *reading)
{
  return reading->mark == BOOK_MARK_MEASURED;
}

/* Which repeat decides; -1 for a mean of plain values. */
static int
deciding_repeat (const InsightUnits *units, const BookEvidenceReading *const *repeats, guint n, BookPerUnit rule)
{
  int worst = 0;
  gboolean plain = TRUE;

  if (rule == BOOK_PER_UNIT_FIRST)
    return 0;
  for (guint i = 0; i < n; i++)
    {
      plain &= is_plain (repeats[i]);
      if (insight_is_failing (verdict_of_reading (repeats[i], units->limits)) && !is_plain (repeats[i]))
        return (int) i; /* failed, or cannot be told: fails the unit */
    }
  if (rule == BOOK_PER_UNIT_MEAN)
    return plain ? -1 : 0;
  for (guint i = 1; i < n; i++)
    if (!isnan (repeats[i]->value)
        && (isnan (repeats[worst]->value)
            || distance_inside (repeats[i]->value, units->limits) < distance_inside (repeats[worst]->value, units->limits)))
      worst = (int) i;
  return worst;
}

/* A mean in which some repeats are bounds: inside only if the mean with the bounds in their place is. */
static InsightVerdict
verdict_of_bounds (const BookEvidenceReading *const *repeats, guint n, NumLimits limits)
{
  double sum = 0.0;
  guint values = 0;

  for (guint i = 0; i < n; i++)
    if (!isnan (repeats[i]->value))
      {
        sum += repeats[i]->value;
        values++;
      }
  return values == 0 || is_inside (sum / values, limits) ? INSIGHT_INSIDE : INSIGHT_UNDECIDABLE;
}

/**
 * insight_units_judge:
 * @units: whose rule and limits
 * @repeats: (array length=n): readings of one attempt, by n
 * @n: how many, at least 1
 * @unit: value, mark, verdict, deciding reading and day are filled in
 *
 * Brings the repeats of a unit down to one value and one verdict.
 */
void
insight_units_judge (const InsightUnits *units, const BookEvidenceReading *const *repeats, guint n, InsightUnit *unit)
{
  const BookEvidenceCharacteristic *one = &units->look->basis->e->characteristics[units->characteristic];
  BookPerUnit rule = one->kind == BOOK_CHARACTERISTIC_CHECKED ? BOOK_PER_UNIT_WORST : one->per_unit;
  int decides = deciding_repeat (units, repeats, n, rule);
  const BookEvidenceReading *shown = repeats[MAX (decides, 0)];

  unit->repeats = n;
  unit->reading = shown->id;
  unit->value = shown->value;
  unit->mark = (BookMark) shown->mark;
  unit->verdict = verdict_of_reading (shown, units->limits);
  unit->censored = FALSE;
  for (guint i = 0; i < n; i++)
    {
      unit->day = MAX (unit->day, repeats[i]->day);
      unit->censored |= (rule != BOOK_PER_UNIT_FIRST || i == 0) && !is_plain (repeats[i]);
    }

  if (decides < 0)
    {
      double sum = 0.0;

      for (guint i = 0; i < n; i++)
        sum += repeats[i]->value;
      unit->value = sum / n;
      if (unit->verdict != INSIGHT_NO_VERDICT)
        unit->verdict = is_inside (unit->value, units->limits) ? INSIGHT_INSIDE : INSIGHT_OUTSIDE;
    }
  else if (rule == BOOK_PER_UNIT_MEAN && unit->verdict == INSIGHT_INSIDE)
    unit->verdict = verdict_of_bounds (repeats, n, units->limits);
  if (units->nothing_fits && unit->verdict == INSIGHT_INSIDE)
    unit->verdict = INSIGHT_NO_VERDICT;
}

static gboolean
is_at_deciding_step (const InsightUnits *units, const BookEvidenceReading *reading)
{
  int deciding = units->look->basis->e->characteristics[units->characteristic].step;

  return reading->step < 0 || deciding < 0 || reading->step == deciding;
}

/*
 * The limits that the maker had before him: those in force on the day, or the first ones ever. A row that was entered
 * only after the reading, whatever date it bears, was not there yet.
 */
static int
limit_then (const InsightUnits *units, BookDay day, gint64 reading)
{
  const BookEvidence *e = units->look->basis->e;
  int row;

  if (units->rows.end == units->rows.first + 1) /* mostly */
    return (int) units->rows.first;
  row = insight_limit_on (e, units->rows, day);
  if (row < 0 && units->rows.first < units->rows.end)
    row = (int) units->rows.first;
  while (units->has_entries && row > (int) units->rows.first && insight_limit_came_later (e, row, reading))
    row--;
  return row;
}

static InsightCounting
exclusion_of_reading (const InsightUnits *units, InsightUnit *unit, const BookEvidenceReading *reading,
                      InsightGaugeMemo *memo)
{
  const BookEvidence *e = units->look->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[units->characteristic];
  BookDay day = reading->day != 0 ? reading->day : units->look->basis->built[unit->unit];
  int then;

  if (insight_is_altered (units->look, units->characteristic, unit->unit, reading->day, reading->second))
    {
      unit->altered++;
      return INSIGHT_NOT_ALTERED;
    }
  switch (insight_gauge_state (e, reading->gauge >= 0 ? reading->gauge : one->gauge, day, units->look->read, memo))
    {
    case INSIGHT_GAUGE_IN_ORDER:
      break;
    case INSIGHT_GAUGE_EXCUSED:
      unit->gauge_excused++;
      break;
    case INSIGHT_GAUGE_OUT:
      unit->gauge_out++;
      return INSIGHT_NOT_GAUGE;
    }
  if (units->limit < 0)
    return INSIGHT_COUNTS;

  then = limit_then (units, day, reading->id);
  if (then == units->limit)
    return INSIGHT_COUNTS;
  if ((reading->mark == BOOK_MARK_PASSED || reading->mark == BOOK_MARK_FAILED)
      && insight_limit_differs (e, units->limit, then))
    return INSIGHT_NOT_OLDER_LIMIT;
  if (insight_limit_is_wider (e, units->limit, then))
    {
      unit->wider = TRUE;
      unit->dated_back |= e->limits[units->limit].from <= day;
      if (one->klass == BOOK_CLASS_SAFETY)
        return INSIGHT_NOT_OLDER_LIMIT;
    }
  return INSIGHT_COUNTS;
}

/* Whether a later repeat of the same attempt stands in for a voided one. */
static gboolean
is_replaced (const InsightUnits *units, const InsightUnit *unit, guint voided)
{
  const BookEvidenceReading *readings = units->look->basis->e->readings;

  for (guint i = unit->first; i < unit->end; i++)
    if (!readings[i].voided && readings[i].attempt == readings[voided].attempt
        && (readings[i].n > readings[voided].n || readings[i].id > readings[voided].id)
        && readings[i].day <= units->look->read && is_at_deciding_step (units, &readings[i]))
      return TRUE;
  return FALSE;
}

/* Repeats of one attempt: what counts, what does not and why, what was voided. */
typedef struct
{
  const BookEvidenceReading **counted;
  const BookEvidenceReading **left_out;
  const BookEvidenceReading **voided;
  guint n_counted, n_left_out, n_voided;
  InsightCounting why;
} Repeats;

static void
sort_out (const InsightUnits *units, InsightUnit *unit, InsightGaugeMemo *memo, Repeats *repeats)
{
  const BookEvidence *e = units->look->basis->e;

  repeats->n_counted = repeats->n_left_out = repeats->n_voided = 0;
  repeats->why = INSIGHT_COUNTS;
  for (guint i = unit->first; i < unit->end; i++)
    {
      const BookEvidenceReading *reading = &e->readings[i];
      InsightCounting why;

      if (reading->attempt != unit->attempt || reading->day > units->look->read || !is_at_deciding_step (units, reading))
        continue;
      if (reading->voided)
        {
          repeats->voided[repeats->n_voided++] = reading;
          if (insight_is_failing (verdict_of_reading (reading, units->limits)) && !is_replaced (units, unit, i))
            {
              unit->void_failing = TRUE;
              unit->void_day = reading->day;
            }
          continue;
        }
      unit->has_data = TRUE;
      why = exclusion_of_reading (units, unit, reading, memo);
      if (why == INSIGHT_COUNTS)
        repeats->counted[repeats->n_counted++] = reading;
      else
        {
          repeats->left_out[repeats->n_left_out++] = reading;
          if (repeats->why == INSIGHT_COUNTS)
            repeats->why = why;
        }
    }
}

/* Finds the attempt that is evidence, and how many there were. */
static gboolean
find_attempt (const InsightUnits *units, InsightUnit *unit)
{
  const BookEvidenceReading *readings = units->look->basis->e->readings;
  guint last = 0;
  gboolean failed = FALSE;

  unit->attempt = 0;
  for (guint i = unit->first; i < unit->end; i++)
    {
      if (readings[i].day > units->look->read)
        continue;
      unit->voided += readings[i].voided;
      if (!is_at_deciding_step (units, &readings[i]))
        continue;
      if (unit->attempt == 0)
        unit->attempt = readings[i].attempt;
      if (readings[i].attempt != last)
        {
          unit->attempts++;
          failed = FALSE;
        }
      last = readings[i].attempt;
      failed |= !readings[i].voided && insight_is_failing (verdict_of_reading (&readings[i], units->limits));
    }
  unit->passed_later = unit->attempts > 1 && !failed;
  return unit->attempt != 0;
}

static InsightCounting
counting_of_unit (InsightUnits *units, const InsightUnit *unit)
{
  if (!unit->is_kind)
    return INSIGHT_NOT_KIND;
  if (!unit->has_data)
    return INSIGHT_NOT_VOIDED;
  if (insight_is_excused (units->look, unit->unit))
    return INSIGHT_NOT_EXCUSED;
  switch (insight_units_match (units, unit->unit))
    {
    case INSIGHT_MATCH_SAME:
    case INSIGHT_MATCH_CARRIED:
      break;
    case INSIGHT_MATCH_OTHER:
      return INSIGHT_NOT_STATE;
    case INSIGHT_MATCH_LATER:
      return INSIGHT_NOT_LATER_STATE;
    }
  return unit->own;
}

/* Whether a unit that is inside now lay outside the narrower limits under which it was measured. */
static gboolean
failed_under_older (const InsightUnits *units, const InsightUnit *unit, const BookEvidenceReading *const *repeats, guint n)
{
  const BookEvidence *e = units->look->basis->e;
  int then = limit_then (units, unit->day, unit->reading);
  InsightUnits older = *units;
  InsightUnit again = *unit;

  if (then < 0 || n == 0)
    return FALSE;
  older.limits = pull_in (&e->limits[then], units->guard.width, &older.nothing_fits);
  insight_units_judge (&older, repeats, n, &again);
  return insight_is_failing (again.verdict);
}

static void
add_unit (InsightUnits *units, const InsightUnit *unit)
{
  if (units->n == units->room)
    {
      units->room = MAX (64, units->room * 2);
      units->units = g_renew (InsightUnit, units->units, units->room);
    }
  units->units[units->n++] = *unit;
}

/* Nothing about its readings can be new at a later look: all are taken, and no alteration divides them. */
static gboolean
is_settled (const InsightUnits *units, const InsightUnit *unit)
{
  const InsightBasis *basis = units->look->basis;

  for (guint i = unit->first; i < unit->end; i++)
    if (basis->e->readings[i].day > units->look->read)
      return FALSE;
  for (guint i = basis->event[unit->unit]; i < basis->event[unit->unit + 1]; i++)
    if (basis->e->events[i].kind == BOOK_EVENT_ALTERED)
      return FALSE;
  return TRUE;
}

static void
gather_unit (InsightUnits *units, guint number, guint first, guint end, InsightGaugeMemo *memo)
{
  const InsightBasis *basis = units->look->basis;
  const BookEvidenceReading *counted[REPEATS_AT_ONCE], *left_out[REPEATS_AT_ONCE], *voided[REPEATS_AT_ONCE];
  g_autofree const BookEvidenceReading **more =
    end - first > REPEATS_AT_ONCE ? g_new (const BookEvidenceReading *, 3 * (gsize) (end - first)) : NULL;
  Repeats repeats = { counted, left_out, voided, 0, 0, 0, INSIGHT_COUNTS };
  InsightUnit unit = { .unit = number, .first = first, .end = end, .value = NAN, .mark = BOOK_MARK_MEASURED,
                       .verdict = INSIGHT_NO_VERDICT };

  if (more != NULL)
    {
      repeats.counted = more;
      repeats.left_out = more + (end - first);
      repeats.voided = more + 2 * (end - first);
    }
  if (!find_attempt (units, &unit))
    return; /* nothing at the deciding step */
  unit.is_kind = insight_kind_counts (basis->e->rounds[basis->e->units[number].round].kind, units->counts_from);
  sort_out (units, &unit, memo, &repeats);
  if (repeats.n_counted > 0)
    insight_units_judge (units, repeats.counted, repeats.n_counted, &unit);
  else if (repeats.n_left_out > 0)
    insight_units_judge (units, repeats.left_out, repeats.n_left_out, &unit);
  else
    insight_units_judge (units, repeats.voided, repeats.n_voided, &unit);
  if (unit.day == 0)
    unit.day = basis->built[number];
  unit.passed_later = unit.passed_later && insight_is_failing (unit.verdict);
  unit.own = repeats.n_counted > 0 ? INSIGHT_COUNTS : repeats.why;
  unit.counting = counting_of_unit (units, &unit);
  unit.settled = is_settled (units, &unit);
  if (unit.wider)
    unit.failed_then = repeats.n_counted > 0 ? failed_under_older (units, &unit, repeats.counted, repeats.n_counted)
                                             : failed_under_older (units, &unit, repeats.left_out, repeats.n_left_out);
  add_unit (units, &unit);
}

/* Whether settled units may stay as they are when @units goes on from the look @before to a later one. */
static gboolean
may_stay (const InsightUnits *units, const InsightUnits *before)
{
  const BookEvidence *e = units->look->basis->e;

  if (before->look == NULL || before->look->basis != units->look->basis || before->look->read > units->look->read
      || before->look->through > units->look->through || before->characteristic != units->characteristic
      || before->counts_from != units->counts_from || before->limit != units->limit
      || before->guard.width < units->guard.width || before->guard.width > units->guard.width)
    return FALSE;
  for (guint i = 0; i < e->n_calibrations; i++)
    {
      BookDay last = MAX (e->calibrations[i].day, e->calibrations[i].excused_on);

      if (last > before->look->read && e->calibrations[i].day <= units->look->read)
        return FALSE; /* may take back readings, or give them back */
    }
  return TRUE;
}

/* Asks again of each unit whether its design counts; how many at the front could stay, up to the first unsettled one. */
static guint
keep_settled (InsightUnits *units, guint *next_reading)
{
  const BookEvidence *e = units->look->basis->e;
  guint i = *next_reading, kept = 0;

  for (; kept < units->n; kept++)
    {
      InsightUnit *unit = &units->units[kept];

      /* A unit without a mark so far may have got one: it stands between the end of the last and the first of this. */
      if (!unit->settled || unit->first != i)
        break;
      unit->counting = counting_of_unit (units, unit);
      i = unit->end;
    }
  *next_reading = kept > 0 ? units->units[kept - 1].end : *next_reading;
  g_assert (*next_reading <= e->n_readings);
  return kept;
}

/**
 * insight_units_gather:
 * @units: initialised; what it held is dropped
 * @look: a look; kept
 * @characteristic: a characteristic
 * @counts_from: the first kind of round that counts; a bench round never does
 *
 * Goes through the readings of a characteristic on units of the rounds looked at, taken as long as the look sees readings. When what
 * it held is of the same characteristic at an earlier look, which is still there, units that cannot have changed since
 * stay: only whether their design still counts is asked again.
 */
void
insight_units_gather (InsightUnits *units, const InsightLook *look, int characteristic, BookCountsFrom counts_from)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  const InsightUnits before = *units;
  InsightGaugeMemo memo = { -1, 0, INSIGHT_GAUGE_IN_ORDER, -1 };
  guint i = one->first_reading;

  units->look = look;
  units->characteristic = characteristic;
  units->counts_from = counts_from;
  units->rows = insight_limit_rows (e, characteristic);
  units->limit = insight_limit_on (e, units->rows, look->end);
  units->has_entries = insight_limit_has_entries (e, units->rows);
  units->guard = insight_guard (e, characteristic, look->end);
  units->limits = (NumLimits){ -INFINITY, INFINITY };
  units->nothing_fits = FALSE;
  if (units->limit >= 0)
    units->limits = pull_in (&e->limits[units->limit], units->guard.width, &units->nothing_fits);
  memset (units->match, 0, look->basis->n_builds);
  units->n = may_stay (units, &before) ? keep_settled (units, &i) : 0;

  while (i < one->end_reading && e->units[e->readings[i].unit].round <= look->through)
    {
      guint unit = e->readings[i].unit, first = i;

      while (i < one->end_reading && e->readings[i].unit == unit)
        i++;
      gather_unit (units, unit, first, i, &memo);
    }
}
