/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The set-up of a model as a whole: the order of its steps and gates, taking over that of an earlier model, and making one
 * of two records that are the same.
 */

#include "book-edit.h"

G_BEGIN_DECLS

BookEdit *book_order_move  (BookRecordId  record,
                            gint64        id,
                            int           steps) G_GNUC_WARN_UNUSED_RESULT;

/**
 * BookCopyWhat:
 * @BOOK_COPY_ROUTE: steps, with what is set at each today
 * @BOOK_COPY_CHARACTERISTICS: characteristics, with the limits of today
 * @BOOK_COPY_DEPENDS: what the characteristics depend on
 * @BOOK_COPY_GATES: gates and criteria, with the terms of today, but for what somebody set by name
 * @BOOK_COPY_DOCUMENTS: the documents wanted
 * @BOOK_COPY_HAZARDS: what could hurt whom
 */
typedef enum
{
  BOOK_COPY_ROUTE = 1 << 0,
  BOOK_COPY_CHARACTERISTICS = 1 << 1,
  BOOK_COPY_DEPENDS = 1 << 2,
  BOOK_COPY_GATES = 1 << 3,
  BOOK_COPY_DOCUMENTS = 1 << 4,
  BOOK_COPY_HAZARDS = 1 << 5
} BookCopyWhat;

#define BOOK_N_COPY_WHAT 6
#define BOOK_COPY_ALL    ((1 << BOOK_N_COPY_WHAT) - 1)

BookEdit *book_setup_copy  (gint64        from,
                            gint64        to,
                            guint         what) G_GNUC_WARN_UNUSED_RESULT;

gboolean  book_can_merge   (BookRecordId  record);
BookEdit *book_merge       (BookRecordId  record,
                            gint64        keep,
                            gint64        other) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
