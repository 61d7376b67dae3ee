/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-search.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-record.h"
#include "book-search-private.h"

/*
 * Keys are asked for by their index: what was typed, or what begins so. Words are asked for of the index of words, the
 * present model first, since a word that stands in thousands of notes of another would crowd it out, and the newest first:
 * to weigh all that one letter finds would take longer than the next letter. A fragment within a key is looked for in the
 * keys alone, one within a text only where nothing else was found.
 */

#define MOST_OF_KEYS 300
#define MOST_OF_WORDS 300
#define ENOUGH 12 /* with so many, nobody looks for fragments */
#define SHORTEST_FRAGMENT 2

typedef enum
{
  RANK_KEY,
  RANK_KEY_BEGINS,
  RANK_LINE,
  RANK_LINE_BEGINS,
  RANK_WORDS,
  RANK_KEY_FRAGMENT,
  RANK_TEXT_FRAGMENT
} Rank;

typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            model;
  Rank              rank;
  guint             order;
} Found;

typedef struct
{
  StoreDb    *db;
  gint64      model; /* present; 0: none */
  const char *typed; /* folded */
  char      **words; /* of it */
  GHashTable *known; /* of Found, each record once */
  GPtrArray  *found; /* the same, in the order in which they were found */
  const BookRecord *only; /* NULL: all kinds */
} Search;

static guint
found_hash (gconstpointer data)
{
  const Found *found = data;

  return g_int64_hash (&found->id) ^ (guint) found->record->id;
}

static gboolean
found_equal (gconstpointer a, gconstpointer b)
{
  const Found *x = a;
  const Found *y = b;

  return x->id == y->id && x->record == y->record;
}

/* What was found before was found by something better. */
static void
add (Search *search, StoreStatement *statement, Rank rank)
{
  Found *found = g_new0 (Found, 1);

  found->record = book_record ((BookRecordId) sqlite3_column_int (statement, 0));
  found->id = sqlite3_column_int64 (statement, 1);
  found->model = sqlite3_column_int64 (statement, 2);
  found->rank = rank;
  found->order = search->found->len;
  if (found->record == NULL || (search->only != NULL && found->record != search->only)
      || g_hash_table_contains (search->known, found))
    {
      g_free (found);
      return;
    }
  g_hash_table_add (search->known, found);
  g_ptr_array_add (search->found, found);
}

static Rank
rank_of_text (const char *text, const char *typed)
{
  Rank best = RANK_WORDS;
  gsize length = strlen (typed);

  for (const char *line = text; line != NULL; line = strchr (line, '\n'))
    {
      line += *line == '\n';
      if (strncmp (line, typed, length) == 0)
        {
          if (line[length] == '\0' || line[length] == '\n')
            return RANK_LINE;
          best = RANK_LINE_BEGINS;
        }
    }
  return best;
}

/* Keys that are what was typed, then those that begin so. Of a path such as 'HF/P3/P3-04' the last part is the key. */
static gboolean
find_keys (Search *search, GError **error)
{
  static const char sql[] = "SELECT record, id, model, key = ?1 FROM search WHERE key >= ?1 AND key < ?2 "
                            "ORDER BY key <> ?1, model NOT IN (0, ?3), key LIMIT ?4";
  g_autoptr(StoreStatement) statement = store_db_statement (search->db, sql, error);
  const char *slash = strrchr (search->typed, '/');
  const char *key = slash != NULL && slash[1] != '\0' ? slash + 1 : search->typed;
  g_autofree char *end = g_strconcat (key, "\xf4\x8f\xbf\xbf", NULL);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, key, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 2, end, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 3, search->model);
  sqlite3_bind_int (statement, 4, MOST_OF_KEYS);
  while ((ok = store_db_next (search->db, statement, _("The book could not be searched"), &more, error)) && more)
    add (search, statement, sqlite3_column_int (statement, 3) ? RANK_KEY : RANK_KEY_BEGINS);
  return ok;
}

/* Each word as a phrase of which the last token may go on: '{key text} : "p1-01" * "lev" *'. */
static char *
match_of (const Search *search, gboolean of_model)
{
  GString *match = g_string_new ("{key text} : (");

  for (guint i = 0; search->words[i] != NULL; i++)
    {
      g_auto(GStrv) parts = g_strsplit (search->words[i], "\"", -1);
      g_autofree char *quoted = g_strjoinv ("\"\"", parts);

      g_string_append_printf (match, "%s\"%s\" *", i > 0 ? " AND " : "", quoted);
    }
  g_string_append_c (match, ')');
  if (of_model)
    g_string_append_printf (match, " AND model : \"%" G_GINT64_FORMAT "\"", search->model);
  return g_string_free (match, FALSE);
}

static gboolean
has_letter (const char *word)
{
  for (const char *c = word; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_isalnum (g_utf8_get_char (c)))
      return TRUE;
  return FALSE;
}

static gboolean
find_words (Search *search, gboolean of_model, GError **error)
{
  static const char sql[] =
    "SELECT search.record, search.id, search.model, search.text FROM "
    "(SELECT rowid AS word_id FROM search_word WHERE search_word MATCH ?1 ORDER BY rowid DESC LIMIT ?2) "
    "JOIN search ON search.id = word_id ORDER BY word_id DESC";
  g_autoptr(StoreStatement) statement = store_db_statement (search->db, sql, error);
  g_autofree char *match = match_of (search, of_model);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, match, -1, SQLITE_STATIC);
  sqlite3_bind_int (statement, 2, MOST_OF_WORDS);
  while ((ok = store_db_next (search->db, statement, _("The book could not be searched"), &more, error)) && more)
    {
      const char *text = (const char *) sqlite3_column_text (statement, 3);

      add (search, statement, text != NULL ? rank_of_text (text, search->typed) : RANK_WORDS);
    }
  return ok;
}

/* Without what is left out, or put in, as one speaks: 's41' and 'S 41' are 'S-41'. */
static char *
without_joints (const char *typed)
{
  g_auto(GStrv) parts = g_strsplit_set (typed, "- ", -1);

  return g_strjoinv ("", parts);
}

static gboolean
find_key_fragments (Search *search, GError **error)
{
  static const char sql[] = "SELECT record, id, model, at FROM (SELECT record, id, model, key, "
                            "instr (replace (replace (key, '-', ''), ' ', ''), ?1) AS at FROM search INDEXED BY search_key) "
                            "WHERE at > 0 ORDER BY at > 1, model NOT IN (0, ?2), key LIMIT ?3";
  g_autoptr(StoreStatement) statement = store_db_statement (search->db, sql, error);
  g_autofree char *joined = without_joints (search->typed);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  if (joined[0] == '\0')
    return TRUE;
  sqlite3_bind_text (statement, 1, joined, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 2, search->model);
  sqlite3_bind_int (statement, 3, MOST_OF_KEYS);
  while ((ok = store_db_next (search->db, statement, _("The book could not be searched"), &more, error)) && more)
    add (search, statement, sqlite3_column_int (statement, 3) == 1 ? RANK_KEY_BEGINS : RANK_KEY_FRAGMENT);
  return ok;
}

/* Every text that holds each word somewhere: also the way of a book that has no index yet. */
static gboolean
find_text_fragments (Search *search, GError **error)
{
  static const char sql[] = "SELECT record, id, model, text FROM search WHERE instr (text, ?1) > 0 "
                            "ORDER BY model NOT IN (0, ?2)";
  g_autoptr(StoreStatement) statement = store_db_statement (search->db, sql, error);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, search->words[0], -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 2, search->model);
  while ((ok = store_db_next (search->db, statement, _("The book could not be searched"), &more, error)) && more)
    {
      const char *text = (const char *) sqlite3_column_text (statement, 3);
      gboolean all = text != NULL; /* it never is but for want of memory, of which the next step tells */

      for (guint i = 1; search->words[i] != NULL && all; i++)
        all = strstr (text, search->words[i]) != NULL;
      if (all)
        add (search, statement, MIN (rank_of_text (text, search->typed), RANK_TEXT_FRAGMENT));
      if (search->found->len >= MOST_OF_KEYS + MOST_OF_WORDS)
        return TRUE;
    }
  return ok;
}

static gboolean
find (Search *search, GError **error)
{
  gboolean has_index;
  gboolean letters = FALSE;

  if (!book_search_has_index (search->db, &has_index, error))
    return FALSE;
  if (!has_index)
    return find_text_fragments (search, error);

  for (guint i = 0; search->words[i] != NULL; i++)
    letters = letters || has_letter (search->words[i]);
  if (!find_keys (search, error) || (letters && search->model != 0 && !find_words (search, TRUE, error))
      || (letters && !find_words (search, FALSE, error)))
    return FALSE;
  if (search->found->len < ENOUGH && g_utf8_strlen (search->typed, -1) >= SHORTEST_FRAGMENT
      && !find_key_fragments (search, error))
    return FALSE;
  return search->found->len > 0 || find_text_fragments (search, error);
}

/* 'issue 7' means the issue of that number: where the first word names a kind, the others are looked for in it. */
static const BookRecord *
named_kind (const char *word)
{
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const BookRecord *record = book_record ((BookRecordId) id);
      g_autofree char *label = book_search_fold (book_record_label (record), -1);
      g_autofree char *plural = book_search_fold (book_record_plural (record), -1);

      if (g_str_equal (word, label) || g_str_equal (word, plural))
        return record;
    }
  return NULL;
}

static int
nearness (const Found *found, gint64 model)
{
  if (model == 0 || found->model == model)
    return 0;
  return found->model == 0 ? 1 : 2;
}

static int
compare_found (gconstpointer a, gconstpointer b, gpointer data)
{
  const Found *x = *(const Found *const *) a;
  const Found *y = *(const Found *const *) b;
  const gint64 *model = data;

  if (x->rank != y->rank)
    return x->rank < y->rank ? -1 : 1;
  if (nearness (x, *model) != nearness (y, *model))
    return nearness (x, *model) - nearness (y, *model);
  return (x->order > y->order) - (x->order < y->order);
}

/* What people call the record beside its key: its first text outside of it. */
static char *
own_title (const BookRow *row)
{
  for (guint i = 0; i < row->record->n_fields; i++)
    {
      const BookField *field = &row->record->fields[i];

      if (field->kind == BOOK_KIND_TEXT && !book_record_has_in_key (row->record, field) && !book_value_is_empty (&row->values[i]))
        return g_strndup (row->values[i].text, row->values[i].length);
    }
  return g_strdup ("");
}

/* A finding is called by its issue: what has no name of its own, by what it belongs to below the model. */
static char *
title_of (StoreDb *db, const BookRow *row)
{
  g_autofree char *own = own_title (row);
  int field = own[0] != '\0' || row->record->parent == NULL ? -1 : book_field_index (row->record, row->record->parent);
  const BookRecord *parent = field < 0 ? NULL : book_record (row->record->fields[field].refers);
  g_autoptr(BookRow) above = NULL;

  if (parent == NULL || parent->id == BOOK_RECORD_MODEL || row->values[field].type != SQLITE_INTEGER)
    return g_steal_pointer (&own);
  above = book_record_read (db, parent, row->values[field].integer, NULL);
  return above == NULL ? g_steal_pointer (&own) : own_title (above);
}

/* The field with the words as they were typed, else with one of them. What the key or the title shows needs no piece. */
static void
find_piece (BookHit *hit, const BookRow *row, const char *typed, char **words)
{
  const char *wanted[] = { typed, words[0], NULL };

  for (guint w = 0; wanted[w] != NULL && hit->field == NULL; w++)
    for (guint i = 0; i < row->record->n_fields && hit->field == NULL; i++)
      {
        const BookField *field = &row->record->fields[i];
        g_autofree char *text = NULL;
        char *piece;

        if ((field->kind != BOOK_KIND_TEXT && field->kind != BOOK_KIND_LONG_TEXT) || book_value_is_empty (&row->values[i]))
          continue;
        text = g_strndup (row->values[i].text, row->values[i].length);
        piece = book_search_piece (text, wanted[w], &hit->mark, &hit->mark_length);
        if (piece == NULL)
          continue;
        if (book_record_has_in_key (row->record, field))
          {
            g_free (piece);
            return;
          }
        hit->field = field;
        g_free (hit->piece);
        hit->piece = piece;
      }
}

static BookHit *
hit_new (const Search *search, const Found *found, GError **error)
{
  g_autofree char *key = book_record_key_text (search->db, found->record, found->id, BOOK_KEY_TEXT_SHOWN, error);
  g_autoptr(BookRow) row = key == NULL ? NULL : book_record_read (search->db, found->record, found->id, error);
  BookHit *hit;

  if (row == NULL)
    return NULL;
  hit = g_new0 (BookHit, 1);
  hit->record = found->record;
  hit->id = found->id;
  hit->model = found->record->id == BOOK_RECORD_MODEL ? found->id : found->model;
  hit->key = g_steal_pointer (&key);
  hit->title = title_of (search->db, row);
  hit->piece = g_strdup ("");
  find_piece (hit, row, search->typed, search->words);
  return hit;
}

/**
 * book_hit_free:
 * @hit: (transfer full): from book_search()
 */
void
book_hit_free (BookHit *hit)
{
  g_free (hit->key);
  g_free (hit->title);
  g_free (hit->piece);
  g_free (hit);
}

static GPtrArray *
hits_of (Search *search, guint most, gboolean *more, GError **error)
{
  g_autoptr(GPtrArray) hits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_hit_free);

  g_ptr_array_sort_with_data (search->found, compare_found, &search->model);
  *more = search->found->len > most;
  for (guint i = 0; i < MIN (search->found->len, most); i++)
    {
      BookHit *hit = hit_new (search, search->found->pdata[i], error);

      if (hit == NULL)
        return NULL;
      g_ptr_array_add (hits, hit);
    }
  return g_steal_pointer (&hits);
}

static gboolean
find_in_kind (Search *search, const BookRecord *kind, GError **error)
{
  const char *rest = search->typed + strlen (search->words[0]);
  Search within = *search;

  within.only = kind;
  within.words = search->words + 1;
  within.typed = rest + strspn (rest, " \t\n");
  return find (&within, error);
}

/**
 * book_search:
 * @db: any connection
 * @words: what was typed
 * @model: the present model, whose records come before others; 0: none
 * @most: how many at most
 * @more: (out): whether there are more than @most
 * @error: return location
 *
 * Where the first word names a kind of record ('issue 7'), the records of that kind that have the others come too.
 *
 * Returns: (transfer full) (element-type BookHit) (nullable): records whose visible key is what was typed, then those
 *   whose key begins so, then those of which one text is or begins so, then all that have the words, then fragments;
 *   nothing for a blank search
 */
GPtrArray *
book_search (StoreDb *db, const char *words, gint64 model, guint most, gboolean *more, GError **error)
{
  g_autofree char *typed = g_strstrip (book_search_fold (words, -1));
  g_auto(GStrv) split = g_strsplit_set (typed, " \t\n", -1);
  g_autoptr(GPtrArray) each = g_ptr_array_new ();
  g_autoptr(GHashTable) known = g_hash_table_new (found_hash, found_equal);
  g_autoptr(GPtrArray) found = g_ptr_array_new_with_free_func (g_free);
  Search search = { .db = db, .model = model, .typed = typed, .known = known, .found = found };
  const BookRecord *kind;

  *more = FALSE;
  for (guint i = 0; split[i] != NULL; i++)
    if (*split[i] != '\0')
      g_ptr_array_add (each, split[i]);
  if (each->len == 0)
    return g_ptr_array_new_with_free_func ((GDestroyNotify) book_hit_free);
  g_ptr_array_add (each, NULL);
  search.words = (char **) each->pdata;

  kind = each->len > 2 ? named_kind (search.words[0]) : NULL;
  if ((kind != NULL && !find_in_kind (&search, kind, error)) || !find (&search, error))
    return NULL;
  return hits_of (&search, most, more, error);
}
