/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* From the id of a record to the cells that files name it by: the way back of a reference. */

#include "book-keys.h"

G_BEGIN_DECLS

gboolean exchange_key_cells_append (StoreDb *db, BookKeys **keys, const BookRecord *record, gint64 id, GString *cells,
                                    GError **error);

G_END_DECLS
