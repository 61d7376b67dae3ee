/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The way from a widget down to one within it, by names, so that it can be found again after all between was made anew. A
 * row or button that is called after the record it leads to is found wherever it stands then; what has no name of its own
 * is told by its place among its like.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* How a widget that leads to a record is called. */
char      *fettle_way_name (const char *record,
                            gint64      key) G_GNUC_WARN_UNUSED_RESULT;

char      *fettle_way_new  (GtkWidget  *root,
                            GtkWidget  *widget) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_way_find (GtkWidget  *root,
                            const char *way);

G_END_DECLS
