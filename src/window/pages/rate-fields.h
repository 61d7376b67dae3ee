/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The figures of one bench or step, each with a slider and an entry that move together.
 */

#include <gtk/gtk.h>

#include "figure-row.h"
#include "insight-rate.h"

G_BEGIN_DECLS

void fettle_rate_fields_fill (GtkGrid                *grid,
                              const InsightRateInput *before,
                              const InsightRateInput *now,
                              gboolean                of_bench,
                              guint                   index,
                              FettleFigureMoved       moved,
                              gpointer                user_data);

G_END_DECLS
