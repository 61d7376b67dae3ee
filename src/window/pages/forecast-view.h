/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * When it is ready, and what if: each assumption can be set otherwise by a slider or keys beside what the records say; the
 * curve follows in a thread, first roughly, then as finely as what a decision freezes. Nothing of it is stored, and a
 * decision always freezes the forecast by the records.
 */

#include <gtk/gtk.h>

#include "release-answer.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_FORECAST_VIEW (fettle_forecast_view_get_type ())
G_DECLARE_FINAL_TYPE (FettleForecastView, fettle_forecast_view, FETTLE, FORECAST_VIEW, GtkWidget)

GtkWidget *fettle_forecast_view_new  (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_forecast_view_show (FettleForecastView  *self,
                                      FettleReleaseAnswer *answer);

G_END_DECLS
