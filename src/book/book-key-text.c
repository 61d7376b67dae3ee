/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-record.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-gone-private.h"
#include "book-record-private.h"
#include "book-sql-private.h"
#include "book-text-private.h"

/*
 * Visible keys as one text, 'HF/P3/P3-04', and back. The parts are the CSV columns of the key, each once.
 */

typedef struct
{
  guint         n;
  BookCsvColumn columns[BOOK_MAX_KEY * 2];
  char         *parts[BOOK_MAX_KEY * 2]; /* owned; NULL while not known */
} KeyParts;

static void
key_parts_clear (KeyParts *parts)
{
  for (guint i = 0; i < parts->n; i++)
    g_free (parts->parts[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (KeyParts, key_parts_clear)

static void
key_parts_init (KeyParts *parts, const BookRecord *record)
{
  parts->n = 0;
  for (guint i = 0; i < record->n_key; i++)
    {
      BookCsvColumn columns[BOOK_MAX_KEY];
      guint n = book_field_csv_columns (record, book_field_find (record, record->key[i]), columns);

      for (guint j = 0; j < n; j++)
        {
          gboolean known = FALSE;

          for (guint k = 0; k < parts->n && !known; k++)
            known = g_str_equal (parts->columns[k].name, columns[j].name);
          if (!known)
            {
              parts->columns[parts->n] = columns[j];
              parts->parts[parts->n++] = NULL;
            }
        }
    }
}

static int
find_part (const KeyParts *parts, const char *name)
{
  for (guint i = 0; i < parts->n; i++)
    if (g_str_equal (parts->columns[i].name, name))
      return (int) i;
  return -1;
}

static gboolean
read_key (StoreDb *db, const BookRecord *record, gint64 id, BookValue *key, char **texts, gboolean *found, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, BOOK_SQL_KEY), error);
  const char *what = _("The record could not be read");

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  if (!store_db_next (db, statement, what, found, error))
    return FALSE;
  for (guint i = 0; *found && i < record->n_key; i++)
    {
      store_value_read (statement, (int) i + 1, &key[i]);
      if (key[i].type == SQLITE_TEXT)
        key[i].text = texts[i] = g_strndup (key[i].text, key[i].length);
    }
  return store_db_has_texts (db, what, error);
}

/* Fills the parts that @key says; @columns are those of the record's key fields as seen from the record asked about. */
static gboolean
fill (StoreDb *db, BookGone *gone, const BookRecord *record, const BookValue *key, const BookCsvColumn *columns,
      KeyParts *parts, GError **error)
{
  for (guint i = 0, c = 0; i < record->n_key; i++)
    {
      const BookField *field = book_field_find (record, record->key[i]);
      BookCsvColumn own[BOOK_MAX_KEY];
      guint n = book_field_csv_columns (record, field, own);
      int part = find_part (parts, columns[c].name);

      if (field->kind == BOOK_KIND_REFERENCE && key[i].type == SQLITE_INTEGER)
        {
          const BookRecord *target = book_record (field->refers);
          BookValue next[BOOK_MAX_KEY];
          char *texts[BOOK_MAX_KEY] = { NULL };
          gboolean found;
          gboolean ok = read_key (db, target, key[i].integer, next, texts, &found, error);

          if (ok && !found && gone != NULL)
            found = book_gone_find (gone, target, key[i].integer, next);
          ok = ok && (!found || fill (db, gone, target, next, columns + c, parts, error));

          for (guint j = 0; j < target->n_key; j++)
            g_free (texts[j]);
          if (!ok)
            return FALSE;
        }
      else if (field->kind == BOOK_KIND_ANY && i > 0 && key[i].type == SQLITE_INTEGER)
        {
          const BookRecord *owner = book_record ((BookRecordId) key[i - 1].integer);

          if (owner != NULL && parts->parts[part] == NULL)
            {
              parts->parts[part] = book_record_key_text (db, owner, key[i].integer, BOOK_KEY_TEXT_EXACT, error);
              if (parts->parts[part] == NULL)
                return FALSE;
            }
        }
      else if (field->kind != BOOK_KIND_REFERENCE && !book_value_is_empty (&key[i]) && parts->parts[part] == NULL)
        parts->parts[part] = book_value_print (field, &key[i]);
      c += n;
    }
  return TRUE;
}

static char *
join (const KeyParts *parts, BookKeyText form)
{
  GString *text = g_string_new (NULL);
  gboolean first = TRUE;

  for (guint i = 0; i < parts->n; i++)
    {
      if (form != BOOK_KEY_TEXT_EXACT && parts->parts[i] == NULL)
        continue;
      if (form == BOOK_KEY_TEXT_SHORT && parts->n > 1 && parts->columns[i].record->id == BOOK_RECORD_MODEL)
        continue;
      if (!first)
        g_string_append_c (text, '/');
      first = FALSE;
      for (const char *c = parts->parts[i]; c != NULL && *c != '\0'; c++)
        {
          if ((*c == '/' || *c == '\\') && form == BOOK_KEY_TEXT_EXACT)
            g_string_append_c (text, '\\');
          g_string_append_c (text, *c);
        }
    }
  return g_string_free (text, FALSE);
}

/*
 * book_key_text:
 * @db: any connection
 * @gone: (nullable): who knows rows that are no longer there
 * @record: what kind
 * @key: (array): a value for each key field in order
 * @form: how it is to be written
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the visible key; %NULL if the book could not be asked
 */
char *
book_key_text (StoreDb *db, BookGone *gone, const BookRecord *record, const BookValue *key, BookKeyText form,
               GError **error)
{
  g_auto(KeyParts) parts = { 0 };
  BookCsvColumn columns[BOOK_MAX_KEY * 2];
  guint n = 0;

  key_parts_init (&parts, record);
  for (guint i = 0; i < record->n_key; i++)
    n += book_field_csv_columns (record, book_field_find (record, record->key[i]), columns + n);
  if (!fill (db, gone, record, key, columns, &parts, error))
    return NULL;
  return join (&parts, form);
}

/**
 * book_record_key_text:
 * @db: any connection
 * @record: what kind
 * @id: which
 * @form: how it is to be written
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the visible key; "" if there is no such record; %NULL if the book could not be
 *   asked
 */
char *
book_record_key_text (StoreDb *db, const BookRecord *record, gint64 id, BookKeyText form, GError **error)
{
  BookValue key[BOOK_MAX_KEY];
  char *texts[BOOK_MAX_KEY] = { NULL };
  gboolean found;
  char *text = NULL;

  if (read_key (db, record, id, key, texts, &found, error))
    text = found ? book_key_text (db, NULL, record, key, form, error) : g_strdup ("");
  for (guint i = 0; i < record->n_key; i++)
    g_free (texts[i]);
  return text;
}

/**
 * book_record_key_text_of:
 * @db: any connection
 * @record: what kind
 * @values: (array): a value for each field in order
 * @form: how it is to be written
 * @error: return location
 *
 * As book_record_key_text(), for values that need not be in the book.
 *
 * Returns: (transfer full) (nullable): the visible key; %NULL if the book could not be asked
 */
char *
book_record_key_text_of (StoreDb *db, const BookRecord *record, const BookValue *values, BookKeyText form, GError **error)
{
  BookValue key[BOOK_MAX_KEY];

  for (guint i = 0; i < record->n_key; i++)
    key[i] = values[book_field_index (record, record->key[i])];
  return book_key_text (db, NULL, record, key, form, error);
}

/* Cuts @text at each '/' that no '\' precedes, and takes the '\' away. */
static GPtrArray *
split (const char *text)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);
  GString *part = g_string_new (NULL);

  for (; *text != '\0'; text++)
    {
      if (*text == '\\' && text[1] != '\0')
        g_string_append_c (part, *++text);
      else if (*text == '/')
        {
          g_ptr_array_add (parts, g_strdup (part->str));
          g_string_truncate (part, 0);
        }
      else
        g_string_append_c (part, *text);
    }
  g_ptr_array_add (parts, g_string_free (part, FALSE));
  return parts;
}

static gboolean
find_by_parts (StoreDb *db, const BookRecord *record, const BookCsvColumn *columns, const KeyParts *parts, gint64 *id,
               GError **error)
{
  BookValue key[BOOK_MAX_KEY];
  guint c = 0;

  *id = 0;
  for (guint i = 0; i < record->n_key; i++)
    {
      const BookField *field = book_field_find (record, record->key[i]);
      BookCsvColumn own[BOOK_MAX_KEY];
      guint n = book_field_csv_columns (record, field, own);
      const char *last = parts->parts[find_part (parts, columns[c + n - 1].name)];

      key[i] = BOOK_VALUE_EMPTY;
      if (last != NULL && *last != '\0' && field->kind == BOOK_KIND_REFERENCE)
        {
          gint64 target;

          if (!find_by_parts (db, book_record (field->refers), columns + c, parts, &target, error))
            return FALSE;
          if (target == 0)
            return TRUE;
          key[i] = book_value_integer (target);
        }
      else if (last != NULL && *last != '\0' && field->kind == BOOK_KIND_ANY && i > 0)
        {
          const BookRecord *owner = book_record ((BookRecordId) key[i - 1].integer);
          gint64 target = 0;

          if (owner == NULL || !book_record_find_text (db, owner, last, &target, error))
            return owner == NULL;
          if (target == 0)
            return TRUE;
          key[i] = book_value_integer (target);
        }
      else if (last != NULL && *last != '\0' && !book_value_parse (field, last, -1, FALSE, &key[i], NULL))
        return TRUE; /* what cannot be a key is nobody's key */
      c += n;
    }
  return book_record_find_id (db, record, key, id, error);
}

/**
 * book_record_find_text:
 * @db: any connection
 * @record: what kind
 * @text: a visible key as %BOOK_KEY_TEXT_EXACT writes it
 * @id: (out): which; 0 if there is none
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_record_find_text (StoreDb *db, const BookRecord *record, const char *text, gint64 *id, GError **error)
{
  g_autoptr(GPtrArray) words = split (text);
  g_auto(KeyParts) parts = { 0 };
  BookCsvColumn columns[BOOK_MAX_KEY * 2];
  guint n = 0;

  *id = 0;
  key_parts_init (&parts, record);
  if (words->len != parts.n)
    return TRUE;
  for (guint i = 0; i < parts.n; i++)
    parts.parts[i] = g_strdup (words->pdata[i]);
  for (guint i = 0; i < record->n_key; i++)
    n += book_field_csv_columns (record, book_field_find (record, record->key[i]), columns + n);
  return find_by_parts (db, record, columns, &parts, id, error);
}
