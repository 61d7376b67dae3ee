/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A chart on the screen: hover tells a mark, arrow keys walk the marks and tell them in a line below, Enter or a
 * click activates one. Ctrl+T shows the data as a table in its place; the context menu saves and copies the drawing, or
 * copies the table. The drawing itself is src/chart.
 *
 * Where marks may be chosen: Space adds the focused mark or takes it away, Shift with arrows, Home and End adds all on the
 * way, Escape clears; a box drawn by the pointer, Ctrl+click and Shift+click do the same.
 */

#include <gtk/gtk.h>

#include "chart.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHART_VIEW (fettle_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (FettleChartView, fettle_chart_view, FETTLE, CHART_VIEW, GtkWidget)

/**
 * FettleChartView::mark-activated:
 * @key: chart_mark_key() of the mark that was clicked or on which Enter was pressed
 */

/**
 * FettleChartView::choice-changed:
 *
 * Other marks are chosen, by a person or because the chart is another.
 */

GtkWidget *fettle_chart_view_new         (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_chart_view_take_chart  (FettleChartView *self,
                                          Chart           *chart);
gboolean   fettle_chart_view_has_chart   (FettleChartView *self);
gboolean   fettle_chart_view_focus       (FettleChartView *self);
gboolean   fettle_chart_view_is_focus    (FettleChartView *self);
void       fettle_chart_view_set_words   (FettleChartView *self,
                                          const char      *label,
                                          const char      *description);
void       fettle_chart_view_set_height  (FettleChartView *self,
                                          int              height);
void       fettle_chart_view_focus_key   (FettleChartView *self,
                                          gint64           key);
void       fettle_chart_view_set_choosing (FettleChartView *self,
                                          gboolean         choosing);
GArray    *fettle_chart_view_get_chosen  (FettleChartView *self) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_chart_view_clear_chosen (FettleChartView *self);
void       fettle_chart_view_set_chosen_words (FettleChartView *self,
                                          const char      *words);

G_END_DECLS
