/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-column-private.h"

const char *
book_column_keep (GStringChunk *strings, StoreStatement *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return text != NULL ? g_string_chunk_insert_const (strings, text) : "";
}

char *
book_column_dup (StoreStatement *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return g_strdup (text != NULL ? text : "");
}

BookDay
book_column_day (StoreStatement *statement, int column)
{
  return book_day_parse ((const char *) sqlite3_column_text (statement, column), NULL);
}

double
book_column_real (StoreStatement *statement, int column, double empty)
{
  return sqlite3_column_type (statement, column) == SQLITE_NULL ? empty : sqlite3_column_double (statement, column);
}
