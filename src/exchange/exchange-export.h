/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The canonical export: one `RECORD.csv` a kind of record, and attached files by their SHA-256. */

#include "book.h"

G_BEGIN_DECLS

gboolean exchange_export (Book         *book,
                          const char   *folder,
                          GCancellable *cancellable,
                          GError      **error);

G_END_DECLS
