/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The data of a chart as a table to read and to walk with keys: chart_table_cell() in a column view, of any length.
 */

#include <gtk/gtk.h>

#include "chart.h"

G_BEGIN_DECLS

GtkWidget *fettle_data_table_new (Chart      *chart,
                                  const char *label) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
