/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-keys.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-id-map-private.h"
#include "book-record-private.h"
#include "book-sql-private.h"

/*
 * Entries lie in one array, n_key integers and the id each; texts are kept once and stand in the entry as their
 * number. A table of places finds an entry by key, a map by id.
 */

#define EMPTY_PART G_MININT64 /* of an entry: the field is empty */

struct _BookKeys
{
  const BookRecord *record;
  guint             width;   /* n_key + 1 */
  GArray           *entries; /* gint64, width for each; id first */
  guint32          *places;  /* entry number + 1; 0: free */
  gsize             n_places;
  BookIdMap         by_id;  /* entry number */
  GHashTable       *numbers; /* text to its number in @texts */
  GPtrArray        *texts;
};

static gint64 *
entry_at (const BookKeys *keys, gsize i)
{
  return &g_array_index (keys->entries, gint64, i * keys->width);
}

static guint64
hash_parts (const BookKeys *keys, const gint64 *parts)
{
  guint64 hash = 0;

  for (guint i = 0; i < keys->record->n_key; i++)
    hash = book_id_hash (hash + (guint64) parts[i] + G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));
  return hash;
}

/* Where the entry of @parts stands or would stand. */
static guint32 *
find_place (const BookKeys *keys, const gint64 *parts)
{
  gsize i = hash_parts (keys, parts) & (keys->n_places - 1);

  while (keys->places[i] != 0
         && memcmp (entry_at (keys, keys->places[i] - 1) + 1, parts, keys->record->n_key * sizeof *parts) != 0)
    i = (i + 1) & (keys->n_places - 1);
  return &keys->places[i];
}

static void
grow (BookKeys *keys)
{
  g_free (keys->places);
  keys->n_places *= 2;
  keys->places = g_new0 (guint32, keys->n_places);
  for (gsize i = 0; i < book_keys_count (keys); i++)
    *find_place (keys, entry_at (keys, i) + 1) = (guint32) i + 1;
}

/* FALSE if a text of the key was never seen and is not to be kept. */
static gboolean
to_parts (const BookKeys *keys, const BookValue *key, gboolean keep, gint64 *parts)
{
  for (guint i = 0; i < keys->record->n_key; i++)
    {
      char buffer[256];
      g_autofree char *longer = NULL;
      char *text = buffer;
      gpointer number;

      parts[i] = EMPTY_PART;
      if (key[i].type == SQLITE_INTEGER)
        parts[i] = key[i].integer;
      if (key[i].type != SQLITE_TEXT)
        continue;
      if (key[i].length >= sizeof buffer)
        text = longer = g_malloc (key[i].length + 1);
      memcpy (text, key[i].text, key[i].length);
      text[key[i].length] = '\0';
      number = g_hash_table_lookup (keys->numbers, text);
      if (number == NULL && !keep)
        return FALSE;
      if (number == NULL)
        {
          char *kept = g_strdup (text);

          g_ptr_array_add (keys->texts, kept);
          number = GUINT_TO_POINTER (keys->texts->len);
          g_hash_table_insert (keys->numbers, kept, number);
        }
      parts[i] = GPOINTER_TO_UINT (number);
    }
  return TRUE;
}

static BookKeys *
keys_new (const BookRecord *record)
{
  BookKeys *keys = g_new0 (BookKeys, 1);

  keys->record = record;
  keys->width = record->n_key + 1;
  keys->entries = g_array_new (FALSE, FALSE, sizeof (gint64));
  keys->n_places = 64;
  keys->places = g_new0 (guint32, keys->n_places);
  keys->numbers = g_hash_table_new (g_str_hash, g_str_equal);
  keys->texts = g_ptr_array_new_with_free_func (g_free);
  return keys;
}

/**
 * book_keys_load:
 * @db: any connection
 * @record: what kind
 * @error: return location
 *
 * Returns: (transfer full) (nullable): all visible keys of that kind
 */
BookKeys *
book_keys_load (StoreDb *db, const BookRecord *record, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql (record, BOOK_SQL_EACH_KEY), error);
  g_autoptr(BookKeys) keys = keys_new (record);
  const char *what = _("The records could not be read");
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return NULL;
  while ((ok = store_db_next (db, statement, what, &more, error)) && more)
    {
      BookValue key[BOOK_MAX_KEY];

      for (guint i = 0; i < record->n_key; i++)
        store_value_read (statement, (int) i + 1, &key[i]);
      book_keys_add (keys, key, sqlite3_column_int64 (statement, 0));
    }
  return ok ? g_steal_pointer (&keys) : NULL;
}

/**
 * book_keys_free:
 * @keys: (transfer full) (nullable): keys
 */
void
book_keys_free (BookKeys *keys)
{
  if (keys == NULL)
    return;
  g_array_unref (keys->entries);
  g_free (keys->places);
  book_id_map_clear (&keys->by_id);
  g_hash_table_unref (keys->numbers);
  g_ptr_array_unref (keys->texts);
  g_free (keys);
}

/**
 * book_keys_count:
 * @keys: keys
 *
 * Returns: how many
 */
gsize
book_keys_count (const BookKeys *keys)
{
  return keys->entries->len / keys->width;
}

/**
 * book_keys_find:
 * @keys: keys
 * @key: (array): a value for each key field in order
 *
 * Returns: the id of the record with that key; 0 if there is none
 */
gint64
book_keys_find (const BookKeys *keys, const BookValue *key)
{
  gint64 parts[BOOK_MAX_KEY];
  guint32 place;

  if (!to_parts (keys, key, FALSE, parts))
    return 0;
  place = *find_place (keys, parts);
  return place != 0 ? entry_at (keys, place - 1)[0] : 0;
}

/**
 * book_keys_add:
 * @keys: keys
 * @key: (array): a value for each key field in order
 * @id: of the record, above 0
 *
 * Returns: %FALSE if a record with that key is there already; nothing is added then
 */
gboolean
book_keys_add (BookKeys *keys, const BookValue *key, gint64 id)
{
  gint64 entry[BOOK_MAX_KEY + 1] = { id };
  guint32 *place;

  to_parts (keys, key, TRUE, entry + 1);
  place = find_place (keys, entry + 1);
  if (*place != 0)
    return FALSE;
  g_array_append_vals (keys->entries, entry, keys->width);
  *place = (guint32) book_keys_count (keys);
  book_id_map_put (&keys->by_id, id, (gint64) book_keys_count (keys) - 1);
  if (book_keys_count (keys) * 2 >= keys->n_places)
    grow (keys);
  return TRUE;
}

/**
 * book_keys_get:
 * @keys: keys
 * @id: of a record
 * @key: (out caller-allocates): filled with its key fields in order; texts belong to @keys
 *
 * Returns: whether it is there
 */
gboolean
book_keys_get (const BookKeys *keys, gint64 id, BookValue *key)
{
  gint64 i;

  if (!book_id_map_get (&keys->by_id, id, &i))
    return FALSE;
  for (guint part = 0; part < keys->record->n_key; part++)
    {
      const BookField *field = book_field_find (keys->record, keys->record->key[part]);
      gint64 value = entry_at (keys, (gsize) i)[part + 1];

      if (value == EMPTY_PART)
        key[part] = BOOK_VALUE_EMPTY;
      else
        switch (field->kind)
          {
          case BOOK_KIND_TEXT:
          case BOOK_KIND_LONG_TEXT:
          case BOOK_KIND_DATE:
          case BOOK_KIND_MOMENT:
          case BOOK_KIND_CONTENT:
            key[part] = book_value_text (keys->texts->pdata[value - 1], -1);
            break;
          default:
            key[part] = book_value_integer (value);
            break;
          }
    }
  return TRUE;
}
