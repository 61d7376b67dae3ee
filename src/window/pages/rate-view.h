/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How many a month, and what if: each figure of a bench or a step can be set otherwise by a slider or keys; the rate
 * follows at once, its interval as soon as a thread has drawn it. Nothing of it is stored unless somebody asks and has
 * seen what would be written where. What was set stays set when the book changes, by the keys of benches and steps.
 */

#include <gtk/gtk.h>

#include "insight-rate.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_RATE_VIEW (fettle_rate_view_get_type ())
G_DECLARE_FINAL_TYPE (FettleRateView, fettle_rate_view, FETTLE, RATE_VIEW, GtkWidget)

/* So many draws: an interval that follows a slider; a criterion takes fifty times as many. */
#define FETTLE_RATE_DRAWS 4000

GtkWidget *fettle_rate_view_new         (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_rate_view_set_sitting (FettleRateView   *self,
                                         FettleSitting    *sitting);
void       fettle_rate_view_take        (FettleRateView   *self,
                                         InsightRateInput *input);
void       fettle_rate_view_store       (FettleRateView   *self);
gboolean   fettle_rate_view_can_store   (FettleRateView   *self);

G_END_DECLS
