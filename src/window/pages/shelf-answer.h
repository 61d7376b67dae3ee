/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Shelf page asks: which models there are, then one model after the other, so that the page fills while it goes
 * on. Standings that the book keeps are not computed anew.
 */

#include "book-models.h"
#include "insight-shelf.h"
#include "page.h"

G_BEGIN_DECLS

typedef struct _FettleShelfAsk FettleShelfAsk;

/* (element-type BookModel) */
gpointer        fettle_shelf_list_work (StoreDb      *db,
                                        gpointer      data,
                                        GCancellable *cancellable,
                                        GError      **error);
void            fettle_shelf_list_free (gpointer      data);

FettleShelfAsk *fettle_shelf_ask_new   (Book         *book,
                                        gint64        model) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_shelf_ask_free  (gpointer      data);
/* An InsightShelf. */
gpointer        fettle_shelf_ask_work  (StoreDb      *db,
                                        gpointer      data,
                                        GCancellable *cancellable,
                                        GError      **error);
void            fettle_shelf_free      (gpointer      data);

G_END_DECLS
