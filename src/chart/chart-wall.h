/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A wall of small charts, one a characteristic, in the caller's order from the upper left: its values in order of build
 * between its limits, a name and a figure. The marks are the small charts.
 */

#include "chart-characteristic.h"

G_BEGIN_DECLS

#define CHART_WALL_LEAST_WIDTH  150.0 /* of a small chart that can be read */
#define CHART_WALL_LEAST_HEIGHT 92.0

/* One value: @flags as in a chart of one characteristic. Of a check @value is not looked at. */
typedef struct
{
  double            value;
  ChartReadingFlags flags;
} ChartWallValue;

/**
 * ChartWallCell:
 * @name: short ('OF  Opening force')
 * @figure: (nullable): what is wrong with it ('3 of 60 outside')
 * @open: needs a person: the figure is drawn in the accent colour
 * @checked: passed below, failed above, no scale
 * @lower: limit; NAN or infinite for none
 * @upper: likewise
 * @control_lower: NAN for none
 * @control_upper: likewise
 * @values: (array length=n_values): in order of build
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 */
typedef struct
{
  const char           *name;
  const char           *figure;
  gboolean              open;
  gboolean              checked;
  double                lower;
  double                upper;
  double                control_lower;
  double                control_upper;
  const ChartWallValue *values;
  guint                 n_values;
  gint64                key;
  const char           *words;
} ChartWallCell;

/**
 * ChartWall:
 * @title: (nullable): heading drawn above, in serif
 * @empty: sentence drawn in the middle when there is no small chart
 * @cells: (array length=n_cells): the worst first
 */
typedef struct
{
  const char          *title;
  const char          *empty;
  const ChartWallCell *cells;
  guint                n_cells;
} ChartWall;

Chart *chart_wall_new    (const ChartWall *data) G_GNUC_WARN_UNUSED_RESULT;
double chart_wall_height (Chart           *chart,
                          double           width);

G_END_DECLS
