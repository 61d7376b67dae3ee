/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Fields side by side in columns of one width, as many as there is room for, row after row; some take a whole row.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_FIELD_GRID (fettle_field_grid_get_type ())
G_DECLARE_FINAL_TYPE (FettleFieldGrid, fettle_field_grid, FETTLE, FIELD_GRID, GtkWidget)

GtkWidget *fettle_field_grid_new (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_field_grid_add (FettleFieldGrid *self,
                                  GtkWidget       *child,
                                  gboolean         is_wide);

G_END_DECLS
