/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A drawing, whatever its kind: it owns a copy of its data, is laid out for a size, and is inked by the same
 * function on the screen, in a picture and on paper. Marks (a reading, a round) are numbered from 0 in the
 * order in which the caller gave them. Kinds are made by chart-characteristic.h, chart-score.h and
 * chart-strip.h; files are written by chart-output.h.
 */

#include <cairo.h>
#include <glib.h>

#include "chart-theme.h"

G_BEGIN_DECLS

typedef struct _Chart Chart;

/**
 * ChartStep:
 * @CHART_STEP_NEXT: the next mark in order of build (the key to the right)
 * @CHART_STEP_PREVIOUS: the mark before (the key to the left)
 * @CHART_STEP_NEXT_ROUND: the first mark of the next round
 * @CHART_STEP_PREVIOUS_ROUND: the first mark of the round before
 * @CHART_STEP_FIRST: the first mark
 * @CHART_STEP_LAST: the last mark
 */
typedef enum
{
  CHART_STEP_NEXT,
  CHART_STEP_PREVIOUS,
  CHART_STEP_NEXT_ROUND,
  CHART_STEP_PREVIOUS_ROUND,
  CHART_STEP_FIRST,
  CHART_STEP_LAST
} ChartStep;

void        chart_free          (Chart            *chart);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Chart, chart_free)

void        chart_layout        (Chart            *chart,
                                 double            width,
                                 double            height,
                                 const ChartTheme *theme);
void        chart_draw          (Chart            *chart,
                                 cairo_t          *cr,
                                 double            width,
                                 double            height,
                                 const ChartTheme *theme);
double      chart_own_height    (Chart            *chart,
                                 const ChartTheme *theme);
char       *chart_layout_dump   (Chart            *chart) G_GNUC_WARN_UNUSED_RESULT;

guint       chart_count_marks   (Chart            *chart);
int         chart_hit           (Chart            *chart,
                                 double            x,
                                 double            y);
int         chart_step          (Chart            *chart,
                                 int               from,
                                 ChartStep         step);
int         chart_find_key      (Chart            *chart,
                                 gint64            key);
gboolean    chart_mark_position (Chart            *chart,
                                 int               mark,
                                 double           *x,
                                 double           *y);
const char *chart_mark_text     (Chart            *chart,
                                 int               mark);
gint64      chart_mark_key      (Chart            *chart,
                                 int               mark);
void        chart_set_focus     (Chart            *chart,
                                 int               mark);
int         chart_get_focus     (Chart            *chart);

G_END_DECLS
