/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What leaves a chart on the screen: its picture or its table on the clipboard, its picture in a file that a person names. */

#include <gtk/gtk.h>

#include "chart.h"

G_BEGIN_DECLS

typedef struct _FettleChartCopies FettleChartCopies;

/* The chart of now; %NULL: none. A file may be named when another chart is shown already. */
typedef Chart *(*FettleChartCopiesGet) (gpointer owner);

FettleChartCopies *fettle_chart_copies_new     (GtkWidget           *area,
                                                FettleChartCopiesGet get_chart,
                                                gpointer             owner) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_chart_copies_free    (FettleChartCopies   *self);
void               fettle_chart_copies_picture (FettleChartCopies   *self);
void               fettle_chart_copies_table   (FettleChartCopies   *self);
void               fettle_chart_copies_save    (FettleChartCopies   *self);

G_END_DECLS
