/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Scales and ticks. Values may be anything a reading can be: a tiny spread on a huge offset, all equal, near
 * the largest double. Nothing here divides by a range that could be zero, nor adds what could overflow.
 */
#include "chart-scale.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define LARGEST    1e300 /* beyond this a range is cut, so that differences stay finite */
#define EMPTY_MOST 0.25  /* share of a scale that round ends may leave without values */

/**
 * chart_scale_init:
 * @scale: (out caller-allocates): the scale
 * @low: least value
 * @high: greatest value; when not above @low the scale maps everything to its middle
 * @at_low: place of @low
 * @at_high: place of @high
 *
 * Sets up a linear scale.
 */
void
chart_scale_init (ChartScale *scale, double low, double high, double at_low, double at_high)
{
  scale->low = low;
  scale->high = high;
  scale->at_low = at_low;
  scale->at_high = at_high;
}

/**
 * chart_scale_at:
 * @scale: a scale
 * @value: a value; infinite ones lie at the end, NAN stays NAN
 *
 * Returns: its place, not held inside the ends
 */
double
chart_scale_at (const ChartScale *scale, double value)
{
  double share;

  if (isinf (value))
    return value > 0 ? scale->at_high : scale->at_low;
  if (!(scale->high > scale->low))
    return (scale->at_low + scale->at_high) / 2.0;

  share = (value / 2.0 - scale->low / 2.0) / (scale->high / 2.0 - scale->low / 2.0);
  return scale->at_low + share * (scale->at_high - scale->at_low);
}

/**
 * chart_scale_value:
 * @scale: a scale
 * @at: a place
 *
 * Returns: the value there
 */
double
chart_scale_value (const ChartScale *scale, double at)
{
  if (scale->at_high == scale->at_low)
    return scale->low;

  return scale->low + (at - scale->at_low) / (scale->at_high - scale->at_low) * (scale->high - scale->low);
}

/**
 * chart_range_init:
 * @low: (out): least value so far
 * @high: (out): greatest value so far
 *
 * Begins an empty range.
 */
void
chart_range_init (double *low, double *high)
{
  *low = INFINITY;
  *high = -INFINITY;
}

/**
 * chart_range_take:
 * @low: (inout): least value so far
 * @high: (inout): greatest value so far
 * @value: a value; NAN and infinite ones are left out
 *
 * Widens a range to hold @value.
 */
void
chart_range_take (double *low, double *high, double value)
{
  if (!isfinite (value))
    return;

  value = CLAMP (value, -LARGEST, LARGEST);
  *low = MIN (*low, value);
  *high = MAX (*high, value);
}

/**
 * chart_range_settle:
 * @low: (inout): least value; above @high when nothing was taken
 * @high: (inout): greatest value
 *
 * Makes a range that can be drawn: an empty one becomes 0 to 1, one of a single value is opened around it, any
 * other gets a little air at both ends. The result is wide enough for its ends to differ in double precision.
 */
void
chart_range_settle (double *low, double *high)
{
  double middle, half, least;

  if (!(*low <= *high))
    {
      *low = 0.0;
      *high = 1.0;
      return;
    }

  middle = *low / 2.0 + *high / 2.0;
  half = (*high / 2.0 - *low / 2.0) * 1.06;
  least = fabs (middle) * 64.0 * DBL_EPSILON;
  if (half <= least)
    half = middle == 0.0 ? 1.0 : MAX (fabs (middle) * 0.01, least);
  if (half < 1e-290)
    half = 1e-290;

  *low = middle - half;
  *high = middle + half;
}

static double
step_above (double least)
{
  double power = pow (10.0, floor (log10 (least)));
  double lead = least / power;

  /* A hair below 1, 2, 5 counts as these: the logarithm is not exact. */
  if (lead <= 1.0 + 1e-9)
    return power;
  if (lead <= 2.0 + 1e-9)
    return 2.0 * power;
  if (lead <= 5.0 + 1e-9)
    return 5.0 * power;
  return 10.0 * power;
}

static double
next_step (double step)
{
  return step_above (step * 1.5);
}

static double
step_below (double step)
{
  return step_above (step / 3.0); /* 1, 2, 5 and 10 become 0.5, 1, 2 and 5 */
}

static void
fill_ticks (ChartTicks *ticks, double low, double high)
{
  double first = ceil (low / ticks->step - 1e-6);
  double last = floor (high / ticks->step + 1e-6);

  ticks->first = first;
  ticks->n = last < first ? 0 : (guint) MIN (last - first + 1.0, 1000.0);
  ticks->decimals = CLAMP ((int) -floor (log10 (ticks->step) + 1e-9), 0, CHART_DECIMALS_MOST);
}

/**
 * chart_ticks:
 * @low: least value of the scale, finite
 * @high: greatest, above @low
 * @most: how many ticks have room, at least 1
 *
 * The finest round ticks (1, 2 or 5 times a power of ten) inside [@low, @high] of which there are at most
 * @most.
 *
 * Returns: the ticks; none when the range cannot be divided in double precision
 */
ChartTicks
chart_ticks (double low, double high, guint most)
{
  ChartTicks ticks = { 0.0, 1.0, 0, 0 };
  double least;

  if (!(high > low) || most == 0)
    return ticks;

  least = (high / most - low / most) / 1.5;
  least = MAX (least, MAX (fabs (low), fabs (high)) * 4.0 * DBL_EPSILON);
  if (!(least > 0.0) || !isfinite (least))
    return ticks;

  ticks.step = step_above (least);
  fill_ticks (&ticks, low, high);
  while (ticks.n > most)
    {
      ticks.step = next_step (ticks.step);
      fill_ticks (&ticks, low, high);
    }
  return ticks;
}

/**
 * chart_ticks_around:
 * @low: (inout): least value of the scale, moved down to a tick
 * @high: (inout): greatest value, moved up to a tick
 * @most: how many ticks have room, at least 2
 *
 * Round ticks that begin and end the scale.
 *
 * Returns: the ticks, at most @most
 */
ChartTicks
chart_ticks_around (double *low, double *high, guint most)
{
  ChartTicks ticks = chart_ticks (*low, *high, most);
  double first, last;

  if (!(*high > *low) || most < 2)
    return ticks;

  for (guint turn = 0; turn < 6; turn++)
    {
      first = floor (*low / ticks.step + 1e-6);
      last = ceil (*high / ticks.step - 1e-6);
      if (last - first + 1.0 <= most)
        {
          *low = first * ticks.step;
          *high = last * ticks.step;
          fill_ticks (&ticks, *low, *high);
          return ticks;
        }
      ticks.step = next_step (ticks.step);
    }
  return chart_ticks (*low, *high, most);
}

/* Takes the ticks of @step inside [@low, @high], moving the nearer end outwards until there are two. */
static ChartTicks
ticks_near (double *low, double *high, double step)
{
  ChartTicks ticks = { .step = step };
  double first = ceil (*low / step - 1e-6), last = floor (*high / step + 1e-6);

  while (last - first < 1.0)
    if (*low - (first - 1.0) * step <= (last + 1.0) * step - *high)
      first -= 1.0;
    else
      last += 1.0;
  *low = MIN (*low, first * step);
  *high = MAX (*high, last * step);
  fill_ticks (&ticks, *low, *high);
  return ticks;
}

/**
 * chart_ticks_close:
 * @low: (inout): least value of the scale, moved down if need be
 * @high: (inout): greatest value, moved up if need be
 * @most: how many ticks have room, at least 2
 *
 * As chart_ticks_around(), but where few ticks have room and round ends would leave more than a quarter of the scale
 * empty, the scale ends with the values, or at the tick that makes two.
 *
 * Returns: the ticks, two at least and at most @most
 */
ChartTicks
chart_ticks_close (double *low, double *high, guint most)
{
  double around_low = *low, around_high = *high;
  ChartTicks around = chart_ticks_around (&around_low, &around_high, most);
  /* Where 0 lies between the values, no two ticks stand around them. */
  double span = around.n < 2 ? INFINITY : around_high - around_low, step = around.step;

  if (*high > *low && most >= 2 && *high - *low < (1.0 - EMPTY_MOST) * span)
    /* Finer and finer: the last one of which not too many have room is the one before too many. */
    for (; step > MAX (fabs (*low), fabs (*high)) * 4.0 * DBL_EPSILON; step = step_below (step))
      {
        double close_low = *low, close_high = *high;
        ChartTicks close = ticks_near (&close_low, &close_high, step);

        if (close.n > most)
          break;
        if (close_high - close_low < span)
          {
            around = close;
            around_low = close_low;
            around_high = close_high;
            span = close_high - close_low;
          }
      }
  *low = around_low;
  *high = around_high;
  return around;
}

/**
 * chart_ticks_value:
 * @ticks: ticks
 * @i: which, from 0
 *
 * Returns: its value, as near to the round number as a double can be
 */
double
chart_ticks_value (const ChartTicks *ticks, guint i)
{
  double number = ticks->first + i;

  /* 3 * 0.1 is not 0.3, but 3 / 10 is: divide by the inverse where that is a whole number. */
  if (ticks->step < 1.0 && ticks->step > 1e-15)
    return number / round (1.0 / ticks->step);
  return number * ticks->step;
}

/**
 * chart_number:
 * @value: a number
 * @decimals: digits after the sign; -1 for as many as chart_decimals() finds
 *
 * A number as a label, in the reader's locale, with a true minus sign. Very large and very small ones are
 * written with a power of ten.
 *
 * Returns: (transfer full): its text
 */
char *
chart_number (double value, int decimals)
{
  g_autofree char *plain = NULL;

  if (decimals < 0)
    decimals = chart_decimals (value);
  if (fabs (value) >= 1e9 || decimals > 8)
    plain = g_strdup_printf ("%.6g", value);
  else
    plain = g_strdup_printf ("%.*f", decimals, value + 0.0);

  if (plain[0] != '-')
    return g_steal_pointer (&plain);
  if (strspn (plain + 1, "0.,") == strlen (plain + 1)) /* never '-0.00' */
    return g_strdup (plain + 1);
  return g_strconcat ("\342\210\222", plain + 1, NULL);
}

/**
 * chart_decimals:
 * @value: a number
 *
 * Returns: how many decimals tell @value to six significant digits, without closing zeros
 */
int
chart_decimals (double value)
{
  double scaled = fabs (value);

  for (int decimals = 0; decimals < 6; decimals++, scaled *= 10.0)
    if (fabs (scaled - round (scaled)) <= 1e-6 * MAX (scaled, 1e-3))
      return decimals;
  return 6;
}

static guint
month_begin (const GDate *date, guint months)
{
  GDate begin = *date;

  g_date_set_day (&begin, 1);
  while ((g_date_get_month (&begin) - 1) % MIN (months, 12) != 0
         || (months > 12 && g_date_get_year (&begin) % (months / 12) != 0))
    g_date_subtract_months (&begin, 1);
  return g_date_get_julian (&begin);
}

/* Ticks at whole days (@days > 0; from 7 on they are Mondays) or whole months (@months > 0). */
static GArray *
date_ticks_every (guint low_day, guint high_day, guint days, guint months)
{
  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (ChartDateTick));
  GDate date;
  guint day;

  g_date_clear (&date, 1);
  g_date_set_julian (&date, low_day);
  if (months > 0)
    day = month_begin (&date, months);
  else if (days >= 7)
    day = low_day - MIN ((guint) g_date_get_weekday (&date) - 1, low_day - 1);
  else
    day = low_day;

  while (day <= high_day)
    {
      ChartDateTick tick = { day, "" };

      g_date_set_julian (&date, day);
      if (months >= 12)
        g_snprintf (tick.text, sizeof tick.text, "%04u", g_date_get_year (&date));
      else if (months > 0)
        g_snprintf (tick.text,
                    sizeof tick.text,
                    "%04u-%02u",
                    g_date_get_year (&date),
                    (guint) g_date_get_month (&date));
      else
        g_snprintf (tick.text,
                    sizeof tick.text,
                    "%04u-%02u-%02u",
                    g_date_get_year (&date),
                    (guint) g_date_get_month (&date),
                    (guint) g_date_get_day (&date));
      if (day >= low_day)
        g_array_append_val (ticks, tick);

      if (months > 0)
        {
          g_date_add_months (&date, months);
          day = g_date_get_julian (&date);
        }
      else
        day += days;
    }
  return ticks;
}

/**
 * chart_date_ticks:
 * @low_day: first day, as g_date_get_julian() counts, at least 1
 * @high_day: last day, not before @low_day
 * @most: how many labels have room, at least 1
 *
 * Days, Mondays, months, quarters or years inside the span, as fine as @most allows, labelled as ISO 8601
 * writes them.
 *
 * Returns: (transfer full) (element-type ChartDateTick): at most @most ticks
 */
GArray *
chart_date_ticks (guint low_day, guint high_day, guint most)
{
  static const struct
  {
    guint days, months;
  } steps[] = { { 1, 0 },  { 2, 0 },  { 7, 0 },  { 14, 0 },  { 0, 1 },   { 0, 3 },   { 0, 6 },
                { 0, 12 }, { 0, 24 }, { 0, 60 }, { 0, 120 }, { 0, 240 }, { 0, 600 }, { 0, 1200 } };

  g_return_val_if_fail (low_day >= 1 && high_day >= low_day && most >= 1,
                        g_array_new (FALSE, FALSE, sizeof (ChartDateTick)));

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      guint span = steps[i].days + 28 * steps[i].months;
      GArray *ticks;

      if ((high_day - low_day) / span > most + most / 5 + 2)
        continue;
      ticks = date_ticks_every (low_day, high_day, steps[i].days, steps[i].months);
      if (ticks->len <= most)
        return ticks;
      g_array_unref (ticks);
    }
  return g_array_new (FALSE, FALSE, sizeof (ChartDateTick));
}
