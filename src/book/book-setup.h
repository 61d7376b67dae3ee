/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a model is set up from, kind by kind: the model's own records, and those that all models of a shop share. Read for
 * a table of any kind, made from the description.
 */

#include "book-record.h"

G_BEGIN_DECLS

/**
 * BookSetupKind:
 * @record: what kind
 * @is_shared: its records belong to all models of the shop
 */
typedef struct
{
  BookRecordId record;
  gboolean     is_shared;
} BookSetupKind;

#define BOOK_N_SETUP_KINDS 20

const BookSetupKind *book_setup_kinds     (guint            *n);
guint                book_setup_columns   (const BookRecord *record,
                                           const BookField  *columns[BOOK_MAX_FIELDS]);

/**
 * BookSetupRow:
 * @id: key of the record
 * @belongs_to: key of what it belongs to, on the way to the model; 0: it belongs to the model, or to nothing
 * @cells: (array zero-terminated=1): what people read, one for each of book_setup_columns(); line feeds are spaces
 */
typedef struct
{
  gint64 id;
  gint64 belongs_to;
  char **cells;
} BookSetupRow;

/**
 * BookSetup:
 * @counts: how many records of each kind there are that have the words looked for, in the order of book_setup_kinds()
 * @rows: (element-type BookSetupRow): of one kind, by key
 */
typedef struct
{
  guint      counts[BOOK_N_SETUP_KINDS];
  GPtrArray *rows;
} BookSetup;

BookSetup *book_setup_read (StoreDb      *db,
                            gint64        model,
                            BookRecordId  kind,
                            const char   *words,
                            gboolean      all,
                            GError      **error) G_GNUC_WARN_UNUSED_RESULT;
void       book_setup_free (BookSetup    *setup);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookSetup, book_setup_free)

G_END_DECLS
