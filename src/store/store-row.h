/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Changed rows as the journal holds them: what hooks are given at a commit, and what history tells.
 */

#include <glib.h>
#include <sqlite3.h>

G_BEGIN_DECLS

/* In an update: a column that was left alone. Any other type is SQLITE_INTEGER, _FLOAT, _TEXT, _BLOB or _NULL. */
#define STORE_UNCHANGED 0

typedef enum
{
  STORE_INSERT = SQLITE_INSERT,
  STORE_UPDATE = SQLITE_UPDATE,
  STORE_DELETE = SQLITE_DELETE
} StoreOp;

/* One value. @text is valid while the row is, ends in a zero byte, and is the bytes of a blob too. */
typedef struct
{
  int         type;
  gint64      integer;
  double      real;
  const char *text;
  gsize       length; /* bytes of @text without the zero */
} StoreValue;

/**
 * StoreRow:
 * @table: index into the profile's journaled tables
 * @op: what happened to the row
 * @id: its key
 * @n_columns: length of both arrays, in the order of the table's columns. A row written under an older schema is
 *   shorter than the table is now: columns were added at its end
 * @before: (nullable): values before; %NULL for an insert
 * @after: (nullable): values after; %NULL for a delete
 *
 * A changed row. In an update both arrays hold %STORE_UNCHANGED for columns that were left alone, `id` among them.
 */
typedef struct
{
  guint             table;
  StoreOp           op;
  gint64            id;
  guint             n_columns;
  const StoreValue *before;
  const StoreValue *after;
} StoreRow;

/* A number as a real, or the given one when it is of another type. */
static inline double
store_value_real (const StoreValue *value, double otherwise)
{
  return value->type == SQLITE_FLOAT ? value->real : value->type == SQLITE_INTEGER ? (double) value->integer : otherwise;
}

/* What @column of the present row holds; its text is valid until the statement moves on. */
void store_value_read (sqlite3_stmt *statement,
                       int           column,
                       StoreValue   *value);

/* Binds @value, whose text must live until the statement has run; FALSE when SQLite does not take it. */
gboolean store_value_bind (sqlite3_stmt     *statement,
                           int               place,
                           const StoreValue *value) G_GNUC_WARN_UNUSED_RESULT;

/* Whether two values are of one type and equal (reals bit by bit). */
gboolean store_value_equal (const StoreValue *a,
                            const StoreValue *b);

/* A value for messages and tests: integers and reals in the C locale, text as it is, blobs as x'..', '' for NULL. */
char *store_value_dup_print (const StoreValue *value) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
