/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What changes did, a row a characteristic: each old unit as a dot, below it each new one, below these the difference
 * with its interval, drawn from the old mean. A row has a scale of its own; whether the interval crosses the line of the
 * old mean is what one looks for. Rows follow one another downwards and keep their height; what has no room is left out
 * and counted.
 *
 * The marks of this chart: for each row first the difference itself, then its old units, then its new ones.
 */

#include "chart.h"

G_BEGIN_DECLS

/**
 * ChartEffectUnit:
 * @value: measured; a NAN has no dot
 * @failed: outside its limits
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 */
typedef struct
{
  double      value;
  gboolean    failed;
  gint64      key;
  const char *words;
} ChartEffectUnit;

/**
 * ChartEffectSide:
 * @name: short label ('P2', 'B')
 * @figure: (nullable): words for the mean or the share ('232.5 N', '5 of 8 failed')
 * @mean: where its mark stands: a mean, or a failed share; NAN for none
 * @units: (array length=n): dots; none for shares
 */
typedef struct
{
  const char            *name;
  const char            *figure;
  double                 mean;
  const ChartEffectUnit *units;
  guint                  n;
} ChartEffectSide;

/**
 * ChartEffectRow:
 * @name: of the characteristic
 * @note: (nullable): what is compared ('within P3: Lock spring B, C')
 * @figure: (nullable): words for the difference ('+99.1 N (80.4 to 117.8 N)')
 * @before: old
 * @after: new
 * @low: of the difference; NAN without an interval
 * @high: as above
 * @told_apart: drawn strong, as what can be told apart
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip on the difference
 */
typedef struct
{
  const char     *name;
  const char     *note;
  const char     *figure;
  ChartEffectSide before;
  ChartEffectSide after;
  double          low;
  double          high;
  gboolean        told_apart;
  gint64          key;
  const char     *words;
} ChartEffectRow;

/**
 * ChartEffect:
 * @title: (nullable): heading drawn above, in serif
 * @legend: (nullable): one line that tells how to read a row
 * @empty: sentence drawn in the middle when there is no row
 * @rows: (array length=n_rows): from above
 */
typedef struct
{
  const char           *title;
  const char           *legend;
  const char           *empty;
  const ChartEffectRow *rows;
  guint                 n_rows;
} ChartEffect;

Chart *chart_effect_new    (const ChartEffect *data) G_GNUC_WARN_UNUSED_RESULT;
double chart_effect_height (Chart             *chart,
                            const ChartTheme  *theme);

G_END_DECLS
