/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a round can show before it is built, for a number of units that is typed: it follows the typing, computed in a thread
 * of its own; a number that was typed over is cancelled. Nothing is stored. Of a finished round: what it answered.
 */

#include <gtk/gtk.h>

#include "rounds-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUND_FORECAST (fettle_round_forecast_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundForecast, fettle_round_forecast, FETTLE, ROUND_FORECAST, GtkWidget)

GtkWidget *fettle_round_forecast_new (FettleSitting       *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* Asks about the round, again after each change of the book. */
void       fettle_round_forecast_ask (FettleRoundForecast *self,
                                      gint64               model,
                                      const InsightRound  *round);

G_END_DECLS
