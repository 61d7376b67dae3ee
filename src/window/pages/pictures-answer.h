/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The pictures and files that are attached to some records, read and made small in the reader thread.
 */

#include <gdk/gdk.h>

#include "book-fields.h"
#include "store-reader.h"

G_BEGIN_DECLS

/**
 * FettleAttached:
 * @owner: key of the record it belongs to
 * @id: key of the attachment
 * @name: of the file, or title of the link
 * @texture: (nullable): the picture; %NULL for what is none, or cannot be shown
 */
typedef struct
{
  gint64      owner;
  gint64      id;
  char       *name;
  GdkTexture *texture;
} FettleAttached;

typedef struct _FettlePicturesAsk FettlePicturesAsk;

/* A question and its work for fettle_sitting_ask(): a GPtrArray of FettleAttached, by owner as asked, then number. */
FettlePicturesAsk *fettle_pictures_ask_new  (BookRecordId   record,
                                             const gint64  *owners,
                                             guint          n_owners,
                                             int            side) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_pictures_ask_free (gpointer       ask);
gpointer           fettle_pictures_ask_work (StoreDb       *db,
                                             gpointer       ask,
                                             GCancellable  *cancellable,
                                             GError       **error);
void               fettle_attached_free     (gpointer       attached);

G_END_DECLS
