/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "book-attach.h"
#include "store.h"

G_BEGIN_DECLS

/* A hook of the profile: which records keep which stored files. */
gboolean book_contents_tell (StoreDb         *db,
                             StoreContentFunc func,
                             gpointer         data,
                             GError         **error);

/* A command's own copy of what it attaches; bytes are referred to. */
BookAttachable *book_attachables_copy (const BookAttachable *what,
                                       guint                 n) G_GNUC_WARN_UNUSED_RESULT;
void            book_attachables_free (BookAttachable       *what,
                                       guint                 n);

G_END_DECLS
