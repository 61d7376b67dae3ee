/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Sizes of paper by their words, as calls and the book's setting 'paper' name them. */

#include <gio/gio.h>

#include "paper-document.h"
#include "store-db.h"

G_BEGIN_DECLS

gboolean paper_size_parse   (const char *word,
                             gboolean    may_be_small,
                             PaperSize  *size) G_GNUC_WARN_UNUSED_RESULT;
gboolean paper_size_of_book (StoreDb    *db,
                             gboolean    may_be_small,
                             PaperSize  *size,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
