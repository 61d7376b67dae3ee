/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The strip in two files: chart-strip.c lays it out, chart-strip-state.c holds what is chosen and scrolled.
 */

#include "chart-frame-private.h"
#include "chart-private.h"
#include "chart-strip.h"

G_BEGIN_DECLS

/*
 * from <= to, or both -1 for nothing chosen. scroll is NAN until it is first laid out: then it shows the
 * newest rounds. reveal is a round that the next layout must bring into view, or -1.
 */
typedef struct
{
  ChartStripRound *rounds;
  guint            n_rounds;
  const char      *phase_names[CHART_N_PHASES];
  const char      *phase_roles[CHART_N_PHASES];
  const char      *empty;
  gboolean         show_issues;
  gboolean         legend;
  int              from, to;
  int              reveal;
  gboolean         scrolled;
  double           scroll, scroll_most;
  double           view_left, view_right;
} ChartStripData;

/* The widths of a round's words and issue marks. */
typedef struct
{
  double name, units, verdict, issues;
} StripWords;

typedef struct
{
  double x, w;
} StripBlock;

typedef struct
{
  gboolean names, verdicts, issues, legend;
  double   issues_y, block_y, block_h, bar_y, name_y, verdict_y, legend_y, end_y;
  double   line, name_line;
} StripRows;

ChartStripData *chart_strip_data   (Chart          *chart);
void            chart_strip_lay    (Chart          *chart,
                                    ChartScene     *scene);
void            chart_strip_follow (ChartStripData *data,
                                    const double   *widths,
                                    double          gap);

G_END_DECLS
