/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A picture in a page: small at first, large in its place when it is clicked or Return is pressed on it, and small again.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_PICTURE (fettle_picture_get_type ())
G_DECLARE_FINAL_TYPE (FettlePicture, fettle_picture, FETTLE, PICTURE, GtkWidget)

GtkWidget *fettle_picture_new (GdkPaintable *paintable,
                               const char   *name,
                               int           small) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
