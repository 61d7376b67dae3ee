/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "book-record.h"

G_BEGIN_DECLS

void book_column_read (sqlite3_stmt    *statement,
                       int              column,
                       BookValue       *value);
void book_column_bind (sqlite3_stmt    *statement,
                       int              place,
                       const BookValue *value);

G_END_DECLS
