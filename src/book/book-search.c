/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-search.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-record-private.h"
#include "book-rules.h"
#include "book-search-private.h"

/*
 * A plain derived table: one row a record that has something to find, its texts folded, one a line. A book has some ten
 * thousand of these; looking through all of them takes a few milliseconds.
 */

/* Texts that nobody searches for: there may be a million, or they are settings of the program. */
static gboolean
is_searched (const BookRecord *record)
{
  switch (record->id)
    {
    case BOOK_RECORD_SETTING:
    case BOOK_RECORD_GAUGE_TRIAL:
    case BOOK_RECORD_ROUND_TEST:
    case BOOK_RECORD_TALLY:
      return FALSE;
    default:
      return TRUE;
    }
}

static void
append_folded (GString *folded, const char *text, gsize length)
{
  g_autofree char *valid = NULL;
  g_autofree char *decomposed = NULL;
  gsize i;

  for (i = 0; i < length && (guchar) text[i] < 0x80; i++)
    ;
  if (i == length) /* most texts */
    {
      for (i = 0; i < length; i++)
        g_string_append_c (folded, g_ascii_tolower (text[i]));
      return;
    }

  valid = g_utf8_make_valid (text, (gssize) length);
  decomposed = g_utf8_normalize (valid, -1, G_NORMALIZE_ALL);
  for (const char *c = decomposed; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar letter = g_utf8_get_char (c);

      if (!g_unichar_ismark (letter))
        g_string_append_unichar (folded, g_unichar_tolower (letter));
    }
}

/**
 * book_search_fold:
 * @text: any text
 * @length: its bytes; -1 if it ends in a zero byte
 *
 * Returns: (transfer full): in lower case and without accents
 */
char *
book_search_fold (const char *text, gssize length)
{
  GString *folded = g_string_new (NULL);

  append_folded (folded, text, length >= 0 ? (gsize) length : strlen (text));
  return g_string_free (folded, FALSE);
}

static gboolean
is_text (const BookField *field, const BookValue *value)
{
  return value->type == SQLITE_TEXT && (field->kind == BOOK_KIND_TEXT || field->kind == BOOK_KIND_LONG_TEXT);
}

static gboolean
has_texts (const BookRecord *record, const BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    if (is_text (&record->fields[i], &values[i]))
      return TRUE;
  return FALSE;
}

static void
append_texts (GString *folded, const BookRecord *record, const BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    {
      if (!is_text (&record->fields[i], &values[i]))
        continue;
      if (folded->len > 0)
        g_string_append_c (folded, '\n');
      append_folded (folded, values[i].text, values[i].length);
    }
}

/*
 * book_search_put:
 * @db: the writable connection
 * @record: what kind
 * @id: which
 * @model: of which model; 0: shared
 * @values: (array): all its values
 * @is_new: it cannot stand in the table yet
 * @error: return location
 *
 * Brings the table up to date with one record.
 *
 * Returns: whether it is up to date
 */
gboolean
book_search_put (StoreDb *db, const BookRecord *record, gint64 id, gint64 model, const BookValue *values, gboolean is_new,
                 GError **error)
{
  static const char sql[] = "INSERT INTO search (record, id, model, text) VALUES (?1, ?2, ?3, ?4) "
                            "ON CONFLICT (record, id) DO UPDATE SET model = ?3, text = ?4";
  g_autoptr(GString) folded = NULL;
  g_autoptr(StoreStatement) statement = NULL;

  if (!is_searched (record))
    return TRUE;
  if (!has_texts (record, values)) /* nearly all readings */
    return is_new || book_search_remove (db, record, id, error);

  folded = g_string_new (NULL);
  append_texts (folded, record, values);
  statement = store_db_statement (db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, (int) record->id);
  sqlite3_bind_int64 (statement, 2, id);
  sqlite3_bind_int64 (statement, 3, model);
  sqlite3_bind_text (statement, 4, folded->str, (int) folded->len, SQLITE_STATIC);
  return store_db_run (db, statement, _("The search table could not be written"), error);
}

/* Takes one record out of the table. */
gboolean
book_search_remove (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  static const char sql[] = "DELETE FROM search WHERE record = ?1 AND id = ?2";
  g_autoptr(StoreStatement) statement = NULL;

  if (!is_searched (record))
    return TRUE;
  statement = store_db_statement (db, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, (int) record->id);
  sqlite3_bind_int64 (statement, 2, id);
  return store_db_run (db, statement, _("The search table could not be written"), error);
}

typedef struct
{
  StoreDb   *db;
  BookRules *rules; /* remembers which model each parent belongs to */
} Rebuild;

static gboolean
put_row (const BookRow *row, gpointer data, GError **error)
{
  Rebuild *rebuild = data;
  gint64 model;

  return book_rules_model_of (rebuild->rules, row->record, row->id, row->values, &model, error)
         && book_search_put (rebuild->db, row->record, row->id, model, row->values, TRUE, error);
}

/* Empties the table and fills it from the records. */
gboolean
book_search_rebuild (StoreDb *db, gpointer user, GError **error)
{
  g_autoptr(BookRules) rules = book_rules_new (db);
  Rebuild rebuild = { db, rules };

  if (!store_db_exec (db, "DELETE FROM search", error))
    return FALSE;
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      const BookRecord *record = book_record_in_order (i);

      if (is_searched (record) && !book_record_each (db, record, put_row, &rebuild, error))
        return FALSE;
    }
  return TRUE;
}

/**
 * book_hit_free:
 * @hit: (transfer full): from book_search()
 */
void
book_hit_free (BookHit *hit)
{
  g_free (hit->key);
  g_free (hit);
}

typedef struct
{
  BookHit *hit;
  guint    rank; /* 0: a line of the record is what was typed; 1: a line begins so; 2: it occurs */
  guint    order;
} Ranked;

static guint
rank (const char *text, const char *typed)
{
  guint best = 2;
  gsize length = strlen (typed);

  for (const char *line = text; line != NULL; line = strchr (line, '\n'))
    {
      line += *line == '\n';
      if (strncmp (line, typed, length) == 0)
        {
          if (line[length] == '\0' || line[length] == '\n')
            return 0;
          best = 1;
        }
    }
  return best;
}

static int
compare_ranked (gconstpointer a, gconstpointer b)
{
  const Ranked *x = a;
  const Ranked *y = b;

  return x->rank != y->rank ? (int) x->rank - (int) y->rank : (x->order > y->order) - (x->order < y->order);
}

static void
clear_ranked (gpointer data)
{
  Ranked *ranked = data;

  if (ranked->hit != NULL)
    book_hit_free (ranked->hit);
}

/* All records that hold every word, not yet with their keys: the statement is done when these are read. */
static gboolean
collect (StoreDb *db, const char *typed, char **words, gint64 model, GArray *found, GError **error)
{
  static const char sql[] = "SELECT record, id, model, text FROM search "
                            "WHERE instr (text, ?1) > 0 AND (?2 = 0 OR model = 0 OR model = ?2)";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, words[0], -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 2, model);
  while ((ok = store_db_next (db, statement, _("The book could not be searched"), &more, error)) && more)
    {
      const char *text = (const char *) sqlite3_column_text (statement, 3);
      Ranked ranked = { .order = found->len };
      gboolean all = text != NULL; /* it never is but for want of memory, of which the next step tells */

      for (guint i = 1; words[i] != NULL && all; i++)
        all = strstr (text, words[i]) != NULL;
      if (!all)
        continue;
      ranked.rank = rank (text, typed);
      ranked.hit = g_new0 (BookHit, 1);
      ranked.hit->record = book_record ((BookRecordId) sqlite3_column_int (statement, 0));
      ranked.hit->id = sqlite3_column_int64 (statement, 1);
      ranked.hit->model = sqlite3_column_int64 (statement, 2);
      g_array_append_val (found, ranked);
      /* cppcheck-suppress memleak ; the array has it now */
    }
  return ok;
}

/**
 * book_search:
 * @db: any connection
 * @words: what was typed
 * @model: only records of this model and shared ones; 0: of all
 * @most: how many at most
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookHit) (nullable): records of which one text is what was typed, then those of
 *   which one text begins so, then all others; nothing for a blank search
 */
GPtrArray *
book_search (StoreDb *db, const char *words, gint64 model, guint most, GError **error)
{
  g_autofree char *typed = g_strstrip (book_search_fold (words, -1));
  g_auto(GStrv) split = g_strsplit_set (typed, " \t\n", -1);
  g_autoptr(GPtrArray) each = g_ptr_array_new ();
  g_autoptr(GArray) found = g_array_new (FALSE, FALSE, sizeof (Ranked));
  g_autoptr(GPtrArray) hits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_hit_free);

  g_array_set_clear_func (found, clear_ranked);
  for (guint i = 0; split[i] != NULL; i++)
    if (*split[i] != '\0')
      g_ptr_array_add (each, split[i]);
  if (each->len == 0)
    return g_steal_pointer (&hits);
  g_ptr_array_add (each, NULL);

  if (!collect (db, typed, (char **) each->pdata, model, found, error))
    return NULL;
  g_array_sort (found, compare_ranked);
  for (guint i = 0; i < MIN (found->len, most); i++)
    {
      Ranked *ranked = &g_array_index (found, Ranked, i);

      ranked->hit->key = book_record_key_text (db, ranked->hit->record, ranked->hit->id, BOOK_KEY_TEXT_SHOWN, error);
      if (ranked->hit->key == NULL)
        return NULL;
      g_ptr_array_add (hits, g_steal_pointer (&ranked->hit));
    }
  return g_steal_pointer (&hits);
}
