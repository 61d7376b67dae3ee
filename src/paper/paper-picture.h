/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Attached pictures for paper. What goes into a PDF is packed anew from the dots, so that nothing that a camera noted beside
 * them (place, owner) goes along.
 */

#include <cairo.h>
#include <gio/gio.h>

#include "book-attach.h"

G_BEGIN_DECLS

cairo_surface_t *paper_picture_new (GBytes       *bytes,
                                    const char   *name,
                                    int           side,
                                    GCancellable *cancellable,
                                    GError      **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean         paper_picture_read (StoreDb              *db,
                                     const BookAttachment *attachment,
                                     int                   side,
                                     cairo_surface_t     **picture,
                                     GCancellable         *cancellable,
                                     GError              **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
