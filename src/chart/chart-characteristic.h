/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One characteristic through the rounds. Measured: each unit's value as a mark in order of build, limits,
 * round means with their intervals. Checked: each unit passed or failed, the failed share of each round with
 * its interval. Every number that is drawn comes from the caller, nothing is computed here; so do all words.
 */

#include "chart.h"

G_BEGIN_DECLS

/**
 * ChartReadingFlags:
 * @CHART_READING_PLAIN: counts, within its limits, passed
 * @CHART_READING_FAILED: outside its limits, or checked and failed
 * @CHART_READING_VOID: voided; drawn crossed out
 * @CHART_READING_UNCOUNTED: does not count (any more): another state of design, a later attempt; drawn
 * lighter
 * @CHART_READING_ABOVE: the gauge ran out: the value is more than the one drawn
 * @CHART_READING_BELOW: the value is less than the one drawn
 * @CHART_READING_SIGNAL: a pattern is complete here: a ring is drawn around it
 */
typedef enum
{
  CHART_READING_PLAIN = 0,
  CHART_READING_FAILED = 1 << 0,
  CHART_READING_VOID = 1 << 1,
  CHART_READING_UNCOUNTED = 1 << 2,
  CHART_READING_ABOVE = 1 << 3,
  CHART_READING_BELOW = 1 << 4,
  CHART_READING_SIGNAL = 1 << 5
} ChartReadingFlags;

/**
 * ChartReading:
 * @round: index of its round
 * @value: in the characteristic's unit; NAN is not drawn; ignored for a checked characteristic
 * @flags: what the shape tells
 * @key: the caller's key, given back by chart_mark_key()
 * @words: (nullable): one line for a tooltip ('P3-04: 12.031 mm, 3 May')
 */
typedef struct
{
  guint             round;
  double            value;
  ChartReadingFlags flags;
  gint64            key;
  const char       *words;
} ChartReading;

/**
 * ChartRound:
 * @name: short label ('P3')
 * @count: (nullable): words below it ('n 60'; checked: '2 of 60 failed')
 * @mean: measured: mean of the round; checked: failed share, 0 to 1; NAN when there is none
 * @low: lower end of its interval; NAN when there is none
 * @high: upper end of its interval; NAN when there is none
 * @uncounted: the round was built to another state of design: its mean is drawn lighter
 * @current: the round looked at; its name is drawn in the accent colour
 * @short_count: (nullable): what stands for @count when not all of these have room ('2/60')
 */
typedef struct
{
  const char *name;
  const char *count;
  double      mean;
  double      low;
  double      high;
  gboolean    uncounted;
  gboolean    current;
  const char *short_count;
} ChartRound;

/**
 * ChartLimit:
 * @from: where it begins to hold, in rounds: 0 at the start, 2 with the third round, 2.5 in the middle of it
 * @lower: NAN or infinite when there is none
 * @upper: NAN or infinite when there is none
 *
 * Limits from a date on. The caller gives them in rising order of @from.
 */
typedef struct
{
  double from;
  double lower;
  double upper;
} ChartLimit;

/**
 * ChartControl:
 * @centre: NAN: there are no such lines, and the rounds' means are drawn
 * @lower: NAN where there is none
 * @upper: likewise
 * @so_far: drawn dashed: few values made them
 * @centre_words: label of the centre line
 * @lower_words: of the lower limit
 * @upper_words: of the upper limit
 *
 * Centre line and control limits of single values.
 */
typedef struct
{
  double      centre;
  double      lower;
  double      upper;
  gboolean    so_far;
  const char *centre_words;
  const char *lower_words;
  const char *upper_words;
} ChartControl;

/**
 * ChartReadingHeads:
 * @round: head of the column of rounds; %NULL: the chart has no table of its own
 * @value: of the values, with their unit ('N'); not used where units are checked
 * @words: of the words of each reading
 *
 * Heads of the table of readings (chart-table.h), whose rows are made when they are asked for.
 */
typedef struct
{
  const char *round;
  const char *value;
  const char *words;
} ChartReadingHeads;

/**
 * ChartCharacteristic:
 * @title: (nullable): heading drawn above, in serif; leave it out where the page has one
 * @unit: (nullable): drawn small above the scale ('mm')
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @lower_words: (nullable): label of the newest lower limit ('lower limit 11.95'); left out: the number alone
 * @upper_words: (nullable): label of the newest upper limit
 * @mean_words: (nullable): label of the last round's mean ('mean of B 12.001')
 * @decimals: decimals of limit labels that the chart writes itself; -1: as many as they need
 * @rounds: (array length=n_rounds): in their order
 * @readings: (array length=n_readings): in order of build; rounds may come mixed
 * @limits: (array length=n_limits): by @from
 * @heads: of the table
 * @control: (nullable): the readings are single values with control limits
 */
typedef struct
{
  const char         *title;
  const char         *unit;
  const char         *empty;
  const char         *lower_words;
  const char         *upper_words;
  const char         *mean_words;
  int                 decimals;
  const ChartRound   *rounds;
  guint               n_rounds;
  const ChartReading *readings;
  guint               n_readings;
  const ChartLimit   *limits;
  guint               n_limits;
  ChartReadingHeads   heads;
  const ChartControl *control;
} ChartCharacteristic;

/**
 * ChartChecked:
 * @title: (nullable): heading drawn above, in serif
 * @scale_words: (nullable): drawn small above the scale ('failed, %')
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @tolerated: largest failing share the criterion allows, 0 to 1; NAN: no line
 * @tolerated_words: (nullable): its label ('at most 5 %')
 * @rounds: (array length=n_rounds): @mean, @low and @high are failed shares
 * @readings: (array length=n_readings): in order of build; may be empty when only counts are known
 * @heads: of the table
 */
typedef struct
{
  const char         *title;
  const char         *scale_words;
  const char         *empty;
  double              tolerated;
  const char         *tolerated_words;
  const ChartRound   *rounds;
  guint               n_rounds;
  const ChartReading *readings;
  guint               n_readings;
  ChartReadingHeads   heads;
} ChartChecked;

Chart *chart_characteristic_new (const ChartCharacteristic *data) G_GNUC_WARN_UNUSED_RESULT;
Chart *chart_checked_new        (const ChartChecked        *data) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
