/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A small picture with its name below, made in a thread: of an attachment of the book, or of a file in a folder. What is no
 * picture shows its ending.
 */

#include <gtk/gtk.h>

#include "book-attach.h"
#include "exchange-watch.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_THUMBNAIL (fettle_thumbnail_get_type ())
G_DECLARE_FINAL_TYPE (FettleThumbnail, fettle_thumbnail, FETTLE, THUMBNAIL, GtkWidget)

GtkWidget *fettle_thumbnail_new_of_book (FettleSitting        *sitting,
                                         const BookAttachment *attachment) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_thumbnail_new_of_file (const ExchangeFound  *found) G_GNUC_WARN_UNUSED_RESULT;
/* The picture as large as it fits; NULL: it is none, or is not there yet. */
GdkPaintable *fettle_thumbnail_get_picture (FettleThumbnail   *self);

G_END_DECLS
