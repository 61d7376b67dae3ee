/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Reads the bytes of a changeset of SQLite's session extension row by row. Untrusted: every length is checked.
 */

#include "store-private.h"

G_BEGIN_DECLS

typedef struct
{
  const StoreProfile *profile;
  const char         *shown; /* path, for sentences */
  const guint8       *at;
  const guint8       *end;
  gboolean            in_table;
  StoreValue         *values; /* before, then after: 2 * n_columns */
  guint               n_values;
  char               *texts; /* the row's texts, each with a zero byte after it */
  gsize               texts_size;
  StoreRow            row;
} StoreChanges;

void     store_changes_init  (StoreChanges       *changes,
                              const StoreProfile *profile,
                              const char         *shown,
                              const void         *bytes,
                              gsize               length);
/* The same for the changeset @raw of the file of @db. */
void     store_changes_open  (StoreChanges *changes,
                              StoreDb      *db,
                              GBytes       *raw);
void     store_changes_clear (StoreChanges *changes);
/* FALSE only on failure, with STORE_ERROR_DAMAGED; @row is NULL at the end. */
gboolean store_changes_next  (StoreChanges    *changes,
                              const StoreRow **row,
                              GError         **error) G_GNUC_WARN_UNUSED_RESULT;

/*
 * The same changes with the tables parents first and the rows of each in order of their keys. A session gives the tables
 * as they were first touched and the rows in the order of a hash; in order they compress better and the entry is the same
 * however the work went about it. Takes over @bytes, which sqlite3_free() frees.
 */
GBytes  *store_changes_sort  (const StoreProfile *profile,
                              const char         *shown,
                              void               *bytes,
                              gsize               length,
                              GError            **error) G_GNUC_WARN_UNUSED_RESULT;

/* For a conflict handler: the row that does not fit, by table and key; FALSE when SQLite cannot tell. */
gboolean store_changes_conflict (sqlite3_changeset_iter *at,
                                 const char            **table,
                                 gint64                 *id) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (StoreChanges, store_changes_clear)

G_END_DECLS
