/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The drawing within a chart view (chart-view.h): its size, its ink, and the frame of what is being chosen. */

#include "chart-chooser.h"

G_BEGIN_DECLS

#define FETTLE_CHART_AREA_LEAST 150 /* height at which a chart can still be read */

#define FETTLE_TYPE_CHART_AREA (fettle_chart_area_get_type ())
G_DECLARE_FINAL_TYPE (FettleChartArea, fettle_chart_area, FETTLE, CHART_AREA, GtkWidget)

/* The view reaches into it. @height: that it would like. */
struct _FettleChartArea
{
  GtkWidget parent_instance;

  Chart              *chart;
  FettleChartChooser *chooser; /* NULL: no marks are chosen here */
  int                 height;
};

G_END_DECLS
