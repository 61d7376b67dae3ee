/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * One value of a row: read from a query, bound to a statement, compared, printed.
 */

#include "config.h"

#include "store-row.h"

void
store_value_read (sqlite3_stmt *statement, int column, StoreValue *value)
{
  *value = (StoreValue){ .type = sqlite3_column_type (statement, column) };
  switch (value->type)
    {
    case SQLITE_INTEGER:
      value->integer = sqlite3_column_int64 (statement, column);
      break;
    case SQLITE_FLOAT:
      value->real = sqlite3_column_double (statement, column);
      break;
    case SQLITE_TEXT:
      value->text = (const char *) sqlite3_column_text (statement, column);
      value->length = (gsize) sqlite3_column_bytes (statement, column);
      break;
    case SQLITE_BLOB:
      value->text = sqlite3_column_blob (statement, column);
      value->length = (gsize) sqlite3_column_bytes (statement, column);
      break;
    default:
      break;
    }
}

gboolean
store_value_bind (sqlite3_stmt *statement, int place, const StoreValue *value)
{
  switch (value->type)
    {
    case SQLITE_INTEGER:
      return sqlite3_bind_int64 (statement, place, value->integer) == SQLITE_OK;
    case SQLITE_FLOAT:
      return sqlite3_bind_double (statement, place, value->real) == SQLITE_OK;
    case SQLITE_TEXT:
      /* Bound, a text that memory did not suffice for would empty the column. */
      return value->text != NULL &&
             sqlite3_bind_text64 (statement, place, value->text, value->length, SQLITE_STATIC, SQLITE_UTF8) == SQLITE_OK;
    default:
      return sqlite3_bind_null (statement, place) == SQLITE_OK;
    }
}

gboolean
store_value_equal (const StoreValue *a, const StoreValue *b)
{
  if (a->type != b->type)
    return FALSE;
  switch (a->type)
    {
    case SQLITE_INTEGER:
      return a->integer == b->integer;
    case SQLITE_FLOAT:
      return memcmp (&a->real, &b->real, sizeof a->real) == 0; /* NOLINT(bugprone-suspicious-memory-comparison): bits are kept */
    case SQLITE_TEXT:
    case SQLITE_BLOB:
      return a->length == b->length && (a->length == 0 || memcmp (a->text, b->text, a->length) == 0);
    default:
      return TRUE;
    }
}

char *
store_value_dup_print (const StoreValue *value)
{
  GString *hex;
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  switch (value->type)
    {
    case SQLITE_INTEGER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, value->integer);
    case SQLITE_FLOAT:
      return g_strdup (g_ascii_dtostr (buffer, sizeof buffer, value->real));
    case SQLITE_TEXT:
      return g_strndup (value->text, value->length);
    case SQLITE_BLOB:
      hex = g_string_new ("x'");
      for (gsize i = 0; i < value->length; i++)
        g_string_append_printf (hex, "%02x", (guint8) value->text[i]);
      g_string_append_c (hex, '\'');
      return g_string_free (hex, FALSE);
    default:
      return g_strdup ("");
    }
}
