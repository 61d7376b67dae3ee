/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Readings page draws, with its sentences: one chart of a characteristic, or the wall of small charts of all, which
 * scrolls.
 */

#include <gtk/gtk.h>

#include "chart.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_READING_CHARTS (fettle_reading_charts_get_type ())
G_DECLARE_FINAL_TYPE (FettleReadingCharts, fettle_reading_charts, FETTLE, READING_CHARTS, GtkBox)

/**
 * FettleReadingCharts::mark:
 * @key: of the reading whose mark was clicked, or on which Enter was pressed
 */

/**
 * FettleReadingCharts::opened:
 * @key: of the characteristic whose small chart was chosen
 */

void fettle_reading_charts_show      (FettleReadingCharts *self,
                                      Chart               *chart,
                                      const char          *name,
                                      const char          *words);
void fettle_reading_charts_show_wall (FettleReadingCharts *self,
                                      Chart               *wall,
                                      const char          *words);
void fettle_reading_charts_focus     (FettleReadingCharts *self);
void fettle_reading_charts_set_sitting (FettleReadingCharts *self,
                                      FettleSitting       *sitting);
void fettle_reading_charts_look_at   (FettleReadingCharts *self,
                                      gint64               model,
                                      gint64               characteristic,
                                      gint64               to);

G_END_DECLS
