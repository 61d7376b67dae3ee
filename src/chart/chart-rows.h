/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows from above, each with a name, a bar in parts or an estimate with its interval, and a figure at the right, over one
 * scale: where days went, what was lost, the yields of the steps. The marks are the rows' parts, or the rows where they
 * have none.
 */

#include "chart.h"
#include "chart-hatch.h"

G_BEGIN_DECLS

/* A kind of part: its name stands in the legend. */
typedef struct
{
  const char *name;
  ChartHatch  hatch;
} ChartRowsPart;

/**
 * ChartRow:
 * @name: at the left
 * @note: (nullable): after it, fainter, where there is room
 * @figure: (nullable): at the right
 * @parts: (nullable) (array length=n_parts of the chart): lengths, from the left; NAN or 0 for none
 * @value: estimate, drawn as a disc; NAN for none
 * @low: of its interval; NAN for none
 * @high: likewise
 * @range_low: of a range drawn as a light bar; NAN for none
 * @range_high: likewise
 * @open: is not ended: the bar ends open
 * @strong: stands out: the one that sets the pace, the product of all
 * @apart: a rule is drawn above
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 */
typedef struct
{
  const char   *name;
  const char   *note;
  const char   *figure;
  const double *parts;
  double        value;
  double        low;
  double        high;
  double        range_low;
  double        range_high;
  gboolean      open;
  gboolean      strong;
  gboolean      apart;
  gint64        key;
  const char   *words;
} ChartRow;

/**
 * ChartRows:
 * @kind: static name of what is drawn ('leadtime')
 * @title: (nullable): heading drawn above, in serif
 * @empty: sentence drawn in the middle when there is no row
 * @scale: (nullable): words at the scale ('working days')
 * @least: where the scale begins, at most 0 where a row has parts, since a bar is read by its length
 * @most: where the scale ends; NAN: at the longest row
 * @parts: (array length=n_parts): kinds of parts
 * @rows: (array length=n_rows): from above
 */
typedef struct
{
  const char          *kind;
  const char          *title;
  const char          *empty;
  const char          *scale;
  double               least;
  double               most;
  const ChartRowsPart *parts;
  guint                n_parts;
  const ChartRow      *rows;
  guint                n_rows;
} ChartRows;

Chart *chart_rows_new    (const ChartRows  *data) G_GNUC_WARN_UNUSED_RESULT;
double chart_rows_height (Chart            *chart,
                          const ChartTheme *theme);

G_END_DECLS
