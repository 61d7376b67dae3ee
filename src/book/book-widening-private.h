/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Who may widen limits: a setting of the book, held to at every commit.
 */

#include "store-db.h"
#include "store-row.h"

G_BEGIN_DECLS

#define BOOK_SETTING_WIDEN "may widen limits"

typedef struct _BookWidening BookWidening;

void     book_widening_free  (BookWidening   *self);
gboolean book_widening_note  (BookWidening  **self,
                              StoreDb        *db,
                              const StoreRow *row,
                              GError        **error);
gboolean book_widening_check (BookWidening   *self,
                              StoreDb        *db,
                              GError        **error);

G_END_DECLS
