/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "record-source.h"

#include <glib/gi18n.h>

#include "book-edit.h"
#include "book-form.h"
#include "book-search.h"
#include "book-values.h"
#include "drafts.h"

/*
 * Typing lives in the drafts alone, under the name of the row and the field: 'typed' is what stands in a cell and was not
 * finished, 'new' a finished cell of a row that is not in the book yet.
 */

struct _FettleRecordSource
{
  GObject parent_instance;

  FettleSitting      *sitting;
  FettleDrafts       *drafts;
  const BookRecord   *record;
  FettleRecordColumn *shapes;
  FettleTableColumn  *columns;
  const BookField   **fields;
  guint               n_columns;
  GPtrArray          *rows;    /* FettleRecordRow */
  char               *place;   /* which rows are shown, for the names of drafts */
  GHashTable         *pending; /* draft of a cell -> text that the writer has */
  GHashTable         *storing; /* names of new rows that the writer has */
  GHashTable         *refers;  /* field -> key, for new rows */
  GHashTable         *presets; /* field -> text, likewise */
  GHashTable         *offers;  /* field -> GPtrArray of BookOption */
};

static void fettle_record_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleRecordSource, fettle_record_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_record_source_table_init))

enum
{
  SIGNAL_STORED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* ---- rows ---- */

/**
 * fettle_record_row_new:
 * @n_columns: of the table
 *
 * Returns: (transfer full): a row that is not in the book, with empty cells
 */
FettleRecordRow *
fettle_record_row_new (guint n_columns)
{
  FettleRecordRow *row = g_new0 (FettleRecordRow, 1);

  row->name = g_strdup ("");
  row->texts = g_new0 (char *, n_columns + 1);
  row->shown = g_new0 (char *, n_columns + 1);
  row->refers = g_new0 (gint64, n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      row->texts[i] = g_strdup ("");
      row->shown[i] = g_strdup ("");
    }
  return row;
}

void
fettle_record_row_free (FettleRecordRow *row)
{
  if (row == NULL)
    return;
  g_free (row->name);
  g_strfreev (row->texts);
  g_strfreev (row->shown);
  g_free (row->refers);
  g_free (row);
}

static void
free_row (gpointer data)
{
  fettle_record_row_free (data);
}

static gboolean
fill_row (StoreDb *db, const BookRecord *record, const FettleRecordColumn *columns, guint n_columns, FettleRecordRow *row,
          GError **error)
{
  g_autoptr(BookForm) form = book_form_read (db, record, row->key, error);

  if (form == NULL)
    return FALSE;
  for (guint i = 0; i < n_columns; i++)
    {
      const BookFormField *field = book_form_find (form, columns[i].field);

      g_free (row->texts[i]);
      g_free (row->shown[i]);
      row->texts[i] = g_strdup (field->text);
      row->shown[i] = g_strdup (field->shown);
      row->refers[i] = field->refers;
    }
  return TRUE;
}

/**
 * fettle_record_rows_read:
 * @db: any connection
 * @record: what kind
 * @columns: (array length=n_columns): of the table
 * @keys: (array length=n_keys): which records, in order
 * @error: return location
 *
 * For the reader thread.
 *
 * Returns: (transfer full) (element-type FettleRecordRow): a row for each of them
 */
GPtrArray *
fettle_record_rows_read (StoreDb *db, BookRecordId record, const FettleRecordColumn *columns, guint n_columns,
                         const gint64 *keys, guint n_keys, GError **error)
{
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func (free_row);

  for (guint i = 0; i < n_keys; i++)
    {
      FettleRecordRow *row = fettle_record_row_new (n_columns);

      g_ptr_array_add (rows, row);
      row->key = keys[i];
      if (!fill_row (db, book_record (record), columns, n_columns, row, error))
        return NULL;
    }
  return g_steal_pointer (&rows);
}

static const FettleRecordRow *
row_at (FettleRecordSource *self, guint row)
{
  return self->rows != NULL && row < self->rows->len ? self->rows->pdata[row] : NULL;
}

/* A row that is not in the book is known by its name: below 0, so that it is never a record's key. */
static gint64
key_of (const FettleRecordRow *row)
{
  return row->key != 0 ? row->key : -1 - (gint64) g_str_hash (row->name);
}

static const FettleRecordRow *
row_of_key (FettleRecordSource *self, gint64 key)
{
  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (key_of (self->rows->pdata[i]) == key)
      return self->rows->pdata[i];
  return NULL;
}

/* ---- drafts ---- */

static char *
draft_name (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column)
{
  const char *field = self->shapes[column].field;

  if (row->key != 0)
    return g_strdup_printf ("grid-%s-%" G_GINT64_FORMAT "-%s", self->record->name, row->key, field);
  return g_strdup_printf ("grid-%s-%s-%s-%s-%s", self->record->name, stage, self->place, row->name, field);
}

static const char *
kept (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column)
{
  g_autofree char *name = draft_name (self, row, stage, column);

  return fettle_drafts_get (self->drafts, name);
}

static void
keep (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column, const char *text)
{
  g_autofree char *name = draft_name (self, row, stage, column);

  fettle_drafts_keep (self->drafts, name, text);
}

/* What a cell of a row that is not in the book holds so far; "" when nothing. */
static const char *
new_text (FettleRecordSource *self, const FettleRecordRow *row, guint column)
{
  const char *text = kept (self, row, "new", column);

  if (text != NULL)
    return text;
  if (*row->texts[column] != '\0')
    return row->texts[column];
  text = g_hash_table_lookup (self->presets, self->shapes[column].field);
  return text != NULL ? text : "";
}

/* ---- what is typed, made into what the book reads ---- */

static const char *
last_part (const char *key_text)
{
  const char *slash = strrchr (key_text, '/');

  return slash != NULL ? slash + 1 : key_text;
}

/* 0: not what is meant; 1: begins so; 2: is it. */
static guint
matches (const char *folded, const char *text)
{
  g_autofree char *other = book_search_fold (text, -1);

  return g_str_equal (folded, other) ? 2 : g_str_has_prefix (other, folded) ? 1 : 0;
}

static char *
read_option (FettleRecordSource *self, guint column, const char *typed, char **refused)
{
  GPtrArray *options = g_hash_table_lookup (self->offers, self->shapes[column].field);
  g_autofree char *folded = book_search_fold (typed, -1);
  const BookOption *found = NULL;
  guint best = 0, n = 0;

  if (options == NULL || *typed == '\0')
    return g_strdup (typed);
  for (guint i = 0; i < options->len; i++)
    {
      const BookOption *option = options->pdata[i];
      guint match = MAX (matches (folded, option->text), matches (folded, option->label));

      match = MAX (match, matches (folded, last_part (option->text)));
      if (match > best)
        n = 0;
      if (match >= best && match > 0)
        {
          best = match;
          found = option;
          n++;
        }
    }
  if (n == 1)
    return g_strdup (found->text);
  *refused = n == 0 ? g_strdup_printf (_("There is no '%s' to choose here: Escape leaves the cell as it was."), typed)
                    : g_strdup_printf (_("'%s' may mean several here: type more of it."), typed);
  return NULL;
}

static char *
read_choice (const BookField *field, const char *typed, char **refused)
{
  g_autofree char *folded = book_search_fold (typed, -1);
  g_autoptr(GString) words = g_string_new (NULL);
  const BookChoice *found = NULL;
  guint best = 0, n = 0;

  if (*typed == '\0')
    return g_strdup ("");
  for (const BookChoice *choice = field->choices; choice->text != NULL; choice++)
    {
      guint match = MAX (matches (folded, choice->text), matches (folded, _(choice->label)));

      g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", _(choice->label));
      if (match > best)
        n = 0;
      if (match >= best && match > 0)
        {
          best = match;
          found = choice;
          n++;
        }
    }
  if (n == 1)
    return g_strdup (found->text);
  *refused = g_strdup_printf (_("'%s' is none of these: %s."), typed, words->str);
  return NULL;
}

/* The text that the book reads; NULL with a sentence in @refused. */
static char *
read_cell (FettleRecordSource *self, guint column, const char *text, char **refused)
{
  const BookField *field = self->fields[column];
  g_autofree char *typed = g_strstrip (g_strdup (text));
  g_autoptr(GError) error = NULL;
  BookValue value;

  if (field->kind == BOOK_KIND_REFERENCE)
    return read_option (self, column, typed, refused);
  if (field->kind == BOOK_KIND_CHOICE)
    return read_choice (field, typed, refused);
  if (*typed != '\0' && !book_value_parse (field, typed, -1, TRUE, &value, &error))
    {
      *refused = g_strdup (error->message);
      return NULL;
    }
  return g_steal_pointer (&typed);
}

/* What the book reads, as people read it. */
static char *
shown_text (FettleRecordSource *self, guint column, const char *text)
{
  const BookField *field = self->fields[column];
  GPtrArray *options = g_hash_table_lookup (self->offers, self->shapes[column].field);

  for (const BookChoice *choice = field->choices; choice != NULL && choice->text != NULL; choice++)
    if (g_str_equal (choice->text, text))
      return g_strdup (_(choice->label));
  for (guint i = 0; options != NULL && i < options->len; i++)
    {
      const BookOption *option = options->pdata[i];

      if (g_str_equal (option->text, text))
        return g_strdup (option->label);
    }
  return g_strdup (text);
}

/* ---- storing ---- */

typedef struct
{
  FettleRecordSource *self;
  char               *draft; /* of the cell, or name of the new row */
  char               *text;
  char               *place;
} Deed;

static Deed *
deed_new (FettleRecordSource *self, const char *draft, const char *text)
{
  Deed *deed = g_new0 (Deed, 1);

  deed->self = g_object_ref (self);
  deed->draft = g_strdup (draft);
  deed->text = g_strdup (text);
  deed->place = g_strdup (self->place);
  return deed;
}

static void
deed_free (Deed *deed)
{
  g_object_unref (deed->self);
  g_free (deed->draft);
  g_free (deed->text);
  g_free (deed->place);
  g_free (deed);
}

static gboolean
finish (Deed *deed, GAsyncResult *result, gint64 *id)
{
  g_autoptr(GError) error = NULL;

  if (fettle_sitting_edit_finish (deed->self->sitting, result, NULL, id, &error))
    return TRUE;
  if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_sitting_say (deed->self->sitting, error->message, NULL, NULL);
  return FALSE;
}

/* What could not be stored stays among the drafts, and so in its cell. */
static void
on_cell_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  Deed *deed = data;
  FettleRecordSource *self = deed->self;
  const char *text = g_hash_table_lookup (self->pending, deed->draft);

  if (finish (deed, result, NULL) && g_strcmp0 (fettle_drafts_get (self->drafts, deed->draft), deed->text) == 0)
    fettle_drafts_keep (self->drafts, deed->draft, NULL);
  if (g_strcmp0 (text, deed->text) == 0)
    g_hash_table_remove (self->pending, deed->draft);
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  deed_free (deed);
}

static void
forget_new (FettleRecordSource *self, const char *place, const char *name)
{
  for (guint i = 0; i < self->n_columns; i++)
    {
      g_autofree char *draft
          = g_strdup_printf ("grid-%s-new-%s-%s-%s", self->record->name, place, name, self->shapes[i].field);

      fettle_drafts_keep (self->drafts, draft, NULL);
    }
}

static void
on_row_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  Deed *deed = data;
  FettleRecordSource *self = deed->self;
  gint64 id = 0;
  gboolean stored = finish (deed, result, &id);

  g_hash_table_remove (self->storing, deed->draft);
  if (stored)
    forget_new (self, deed->place, deed->draft);
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  if (stored)
    g_signal_emit (self, signals[SIGNAL_STORED], 0, id);
  deed_free (deed);
}

static gboolean
is_complete (FettleRecordSource *self, const FettleRecordRow *row)
{
  for (guint i = 0; i < self->n_columns; i++)
    if (self->fields[i]->required && *new_text (self, row, i) == '\0')
      return FALSE;
  return TRUE;
}

static void
store_new (FettleRecordSource *self, const FettleRecordRow *row)
{
  g_autoptr(GPtrArray) fields = g_ptr_array_new ();
  g_autoptr(GPtrArray) texts = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer field, value;
  BookEdit *edit;

  for (guint i = 0; i < self->n_columns; i++)
    {
      g_ptr_array_add (fields, (gpointer) self->shapes[i].field);
      g_ptr_array_add (texts, (gpointer) new_text (self, row, i));
    }
  g_hash_table_iter_init (&iter, self->presets);
  while (g_hash_table_iter_next (&iter, &field, &value))
    if (!g_ptr_array_find_with_equal_func (fields, field, g_str_equal, NULL))
      {
        g_ptr_array_add (fields, field);
        g_ptr_array_add (texts, value);
      }
  g_ptr_array_add (fields, NULL);
  g_ptr_array_add (texts, NULL);
  edit = book_edit_record (self->record->id, 0, (const char *const *) fields->pdata, (const char *const *) texts->pdata, NULL);
  g_hash_table_iter_init (&iter, self->refers);
  while (g_hash_table_iter_next (&iter, &field, &value))
    book_edit_record_refer (edit, field, *(gint64 *) value);
  g_hash_table_add (self->storing, g_strdup (row->name));
  fettle_sitting_edit (self->sitting, edit, on_row_stored, deed_new (self, row->name, ""));
}

static char *
commit_new (FettleRecordSource *self, const FettleRecordRow *row, guint column, const char *text)
{
  keep (self, row, "typed", column, NULL);
  keep (self, row, "new", column, *text != '\0' ? text : NULL);
  if (is_complete (self, row))
    store_new (self, row);
  return NULL;
}

static char *
commit_stored (FettleRecordSource *self, const FettleRecordRow *row, guint column, const char *text)
{
  const char *const fields[] = { self->shapes[column].field, NULL };
  const char *const texts[] = { text, NULL };
  const char *const expected[] = { row->texts[column], NULL };
  g_autofree char *draft = draft_name (self, row, "typed", column);

  if (g_str_equal (text, row->texts[column]))
    {
      fettle_drafts_keep (self->drafts, draft, NULL);
      return NULL;
    }
  fettle_drafts_keep (self->drafts, draft, text); /* until it is stored */
  g_hash_table_insert (self->pending, g_strdup (draft), g_strdup (text));
  fettle_sitting_edit (self->sitting, book_edit_record (self->record->id, row->key, fields, texts, expected), on_cell_stored,
                       deed_new (self, draft, text));
  return NULL;
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_record_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  *n_columns = self->n_columns;
  return self->columns;
}

static guint
fettle_record_source_n_rows (FettleTableSource *source)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  return self->rows != NULL ? self->rows->len : 0;
}

static char *
fettle_record_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);
  g_autofree char *draft = NULL;
  const char *text;

  *tone = FETTLE_TONE_INK;
  *pending = FALSE;
  if (at == NULL)
    return g_strdup ("");
  if (at->key != 0)
    {
      draft = draft_name (self, at, "typed", column);
      text = g_hash_table_lookup (self->pending, draft);
      *pending = text != NULL;
      return text != NULL ? shown_text (self, column, text) : g_strdup (at->shown[column]);
    }
  text = kept (self, at, "new", column);
  *pending = g_hash_table_contains (self->storing, at->name);
  *tone = text != NULL ? FETTLE_TONE_TYPED : FETTLE_TONE_FAINT;
  if (text == NULL && *at->shown[column] != '\0')
    return g_strdup (at->shown[column]);
  return shown_text (self, column, new_text (self, at, column));
}

static gboolean
fettle_record_source_editable (FettleTableSource *source, guint row, guint column)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);

  return at != NULL && !self->shapes[column].fixed && !(at->key == 0 && g_hash_table_contains (self->storing, at->name));
}

static char *
fettle_record_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *at = row_at (self, row);
  g_autofree char *read = NULL;
  char *refused = NULL;

  if (at == NULL)
    return g_strdup (_("This row is no longer in the book."));
  read = read_cell (self, column, text, &refused);
  if (read == NULL)
    return refused;
  if (at->key == 0)
    return commit_new (self, at, column, read);
  if (*read == '\0' && self->fields[column]->required)
    return g_strdup_printf (_("'%s' cannot be empty: Escape leaves the cell as it was."), book_field_label (self->fields[column]));
  return commit_stored (self, at, column, read);
}

static char *
fettle_record_source_describe (FettleTableSource *source, guint row, guint column)
{
  char *words = fettle_record_source_dup_words (FETTLE_RECORD_SOURCE (source), row);

  return words != NULL ? words : g_strdup ("");
}

static gint64
fettle_record_source_key_at (FettleTableSource *source, guint row)
{
  const FettleRecordRow *at = row_at (FETTLE_RECORD_SOURCE (source), row);

  return at != NULL ? key_of (at) : 0;
}

static gboolean
fettle_record_source_find_key (FettleTableSource *source, gint64 key, guint *row)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);

  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (key_of (self->rows->pdata[i]) == key)
      {
        *row = i;
        return TRUE;
      }
  return FALSE;
}

static void
fettle_record_source_keep_typed (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *row = row_of_key (self, key);

  if (row != NULL)
    keep (self, row, "typed", column, text);
}

static char *
fettle_record_source_dup_typed (FettleTableSource *source, gint64 key, guint column)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (source);
  const FettleRecordRow *row = row_of_key (self, key);

  return row != NULL ? g_strdup (kept (self, row, "typed", column)) : NULL;
}

static void
fettle_record_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_record_source_columns;
  iface->n_rows = fettle_record_source_n_rows;
  iface->dup_text = fettle_record_source_dup_text;
  iface->editable = fettle_record_source_editable;
  iface->commit = fettle_record_source_commit;
  iface->describe = fettle_record_source_describe;
  iface->get_key = fettle_record_source_key_at;
  iface->find = fettle_record_source_find_key;
  iface->keep_typed = fettle_record_source_keep_typed;
  iface->dup_typed = fettle_record_source_dup_typed;
}

/* ---- the object ---- */

static void
fettle_record_source_finalize (GObject *object)
{
  FettleRecordSource *self = FETTLE_RECORD_SOURCE (object);

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_hash_table_unref (self->pending);
  g_hash_table_unref (self->storing);
  g_hash_table_unref (self->refers);
  g_hash_table_unref (self->presets);
  g_hash_table_unref (self->offers);
  for (guint i = 0; i < self->n_columns; i++)
    g_free ((char *) self->columns[i].title);
  g_free (self->columns);
  g_free (self->shapes);
  g_free (self->fields);
  g_free (self->place);
  g_object_unref (self->drafts);
  g_object_unref (self->sitting);

  G_OBJECT_CLASS (fettle_record_source_parent_class)->finalize (object);
}

static void
fettle_record_source_class_init (FettleRecordSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_record_source_finalize;

  signals[SIGNAL_STORED] = g_signal_new ("stored", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
free_offers (gpointer data)
{
  g_ptr_array_unref (data);
}

static void
fettle_record_source_init (FettleRecordSource *self)
{
  self->pending = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->storing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->refers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->presets = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->offers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_offers);
  self->place = g_strdup ("");
}

static char *
title_of (const BookField *field)
{
  const char *unit = book_field_unit (field);

  return unit != NULL && *unit != '\0' ? g_strdup_printf ("%s, %s", book_field_label (field), unit)
                                       : g_strdup (book_field_label (field));
}

/**
 * fettle_record_source_new:
 * @sitting: whose book
 * @record: what kind
 * @columns: (array length=n_columns): fields shown; copied
 *
 * Returns: (transfer full): a source without rows
 */
FettleRecordSource *
fettle_record_source_new (FettleSitting *sitting, BookRecordId record, const FettleRecordColumn *columns, guint n_columns)
{
  FettleRecordSource *self = g_object_new (FETTLE_TYPE_RECORD_SOURCE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  self->record = book_record (record);
  self->n_columns = n_columns;
  self->shapes = g_memdup2 (columns, n_columns * sizeof *columns);
  self->columns = g_new0 (FettleTableColumn, n_columns);
  self->fields = g_new0 (const BookField *, n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      const BookField *field = book_field_find (self->record, columns[i].field);
      gboolean number = field->kind == BOOK_KIND_INTEGER || field->kind == BOOK_KIND_REAL || field->kind == BOOK_KIND_SHARE
                        || field->kind == BOOK_KIND_MONEY;

      self->fields[i] = field;
      self->columns[i]
          = (FettleTableColumn){ title_of (field), columns[i].letters, number, columns[i].grows, columns[i].least_width };
    }
  return self;
}

void
fettle_record_source_refer (FettleRecordSource *self, const char *field, gint64 key)
{
  g_hash_table_insert (self->refers, g_strdup (field), g_memdup2 (&key, sizeof key));
}

void
fettle_record_source_preset (FettleRecordSource *self, const char *field, const char *text)
{
  if (text != NULL)
    g_hash_table_insert (self->presets, g_strdup (field), g_strdup (text));
  else
    g_hash_table_remove (self->presets, field);
}

void
fettle_record_source_offer (FettleRecordSource *self, const char *field, GPtrArray *options)
{
  g_hash_table_insert (self->offers, g_strdup (field), options);
}

static gboolean
same_rows (GPtrArray *a, GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (key_of (a->pdata[i]) != key_of (b->pdata[i]))
      return FALSE;
  return TRUE;
}

/**
 * fettle_record_source_take:
 * @self: a source
 * @place: what rows these are, as 'CY': rows that are not in the book yet keep their typing by it
 * @rows: (transfer full) (element-type FettleRecordRow): in order
 *
 * Shows other rows.
 */
void
fettle_record_source_take (FettleRecordSource *self, const char *place, GPtrArray *rows)
{
  gboolean same = same_rows (self->rows, rows) && g_str_equal (self->place, place);

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->rows = rows;
  g_free (self->place);
  self->place = g_strdup (place);
  if (same)
    fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  else
    fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

/**
 * fettle_record_source_get_key:
 * @self: a source
 * @row: which row
 *
 * Returns: key of its record; 0: it is not in the book, or there is no such row
 */
gint64
fettle_record_source_get_key (FettleRecordSource *self, guint row)
{
  const FettleRecordRow *at = row_at (self, row);

  return at != NULL ? at->key : 0;
}

/**
 * fettle_record_source_get_reference:
 * @self: a source
 * @row: which row
 * @field: a reference among the columns
 *
 * Returns: key of what it refers to; 0: nothing
 */
gint64
fettle_record_source_get_reference (FettleRecordSource *self, guint row, const char *field)
{
  const FettleRecordRow *at = row_at (self, row);

  for (guint i = 0; at != NULL && i < self->n_columns; i++)
    if (g_str_equal (self->shapes[i].field, field))
      return at->refers[i];
  return 0;
}

/**
 * fettle_record_source_dup_words:
 * @self: a source
 * @row: which row
 *
 * Returns: (transfer full) (nullable): the row in words; %NULL when there is no such row
 */
char *
fettle_record_source_dup_words (FettleRecordSource *self, guint row)
{
  const FettleRecordRow *at = row_at (self, row);
  GString *words;

  if (at == NULL)
    return NULL;
  words = g_string_new (at->key == 0 ? _("New row") : NULL);
  for (guint i = 0; i < self->n_columns; i++)
    {
      FettleTableTone tone;
      gboolean pending;
      g_autofree char *text = fettle_record_source_dup_text (FETTLE_TABLE_SOURCE (self), row, i, &tone, &pending);

      if (*text != '\0')
        g_string_append_printf (words, "%s%s %s", words->len > 0 ? ", " : "", self->columns[i].title, text);
    }
  return g_string_free (words, FALSE);
}

/**
 * fettle_record_source_has_typed:
 * @self: a source
 *
 * Returns: whether something is typed in records of this kind that is not stored, shown or not
 */
gboolean
fettle_record_source_has_typed (FettleRecordSource *self)
{
  g_auto (GStrv) names = fettle_drafts_list (self->drafts);
  g_autofree char *prefix = g_strdup_printf ("grid-%s-", self->record->name);

  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_has_prefix (names[i], prefix))
      return TRUE;
  return FALSE;
}
