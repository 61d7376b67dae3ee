/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The figures of one bench or step, each with a slider and an entry that move together.
 */

#include <gtk/gtk.h>

#include "insight-rate.h"

G_BEGIN_DECLS

/* A person has moved @field to @value. */
typedef void (*FettleRateMoved) (InsightRateField field,
                                 double           value,
                                 gpointer         user_data);

void fettle_rate_fields_fill (GtkGrid                *grid,
                              const InsightRateInput *before,
                              const InsightRateInput *now,
                              gboolean                of_bench,
                              guint                   index,
                              FettleRateMoved         moved,
                              gpointer                user_data);

G_END_DECLS
