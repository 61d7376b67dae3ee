/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-setup.h"

#include <string.h>

#include "book-day.h"
#include "book-form.h"
#include "book-rules.h"
#include "book-search.h"

static const BookSetupKind kinds[] = {
  { BOOK_RECORD_MODEL, FALSE },          { BOOK_RECORD_CHARACTERISTIC, FALSE }, { BOOK_RECORD_LIMIT, FALSE },
  { BOOK_RECORD_DEPENDS, FALSE },        { BOOK_RECORD_STEP, FALSE },           { BOOK_RECORD_STEP_SETTING, FALSE },
  { BOOK_RECORD_GATE, FALSE },           { BOOK_RECORD_CRITERION, FALSE },      { BOOK_RECORD_CRITERION_TERM, FALSE },
  { BOOK_RECORD_HAZARD, FALSE },         { BOOK_RECORD_DOCUMENT, FALSE },       { BOOK_RECORD_PART, TRUE },
  { BOOK_RECORD_REVISION, TRUE },        { BOOK_RECORD_SUPPLIER, TRUE },        { BOOK_RECORD_BENCH, TRUE },
  { BOOK_RECORD_GAUGE, TRUE },           { BOOK_RECORD_GAUGE_CALIBRATION, TRUE }, { BOOK_RECORD_PERSON, TRUE },
  { BOOK_RECORD_HOLIDAY, TRUE },         { BOOK_RECORD_SETTING, TRUE },
};
G_STATIC_ASSERT (G_N_ELEMENTS (kinds) == BOOK_N_SETUP_KINDS);

/**
 * book_setup_kinds:
 * @n: (out): how many, %BOOK_N_SETUP_KINDS
 *
 * Returns: (array length=n): in the order in which a model is set up; first its own, then what is shared
 */
const BookSetupKind *
book_setup_kinds (guint *n)
{
  *n = G_N_ELEMENTS (kinds);
  return kinds;
}

/**
 * book_setup_columns:
 * @record: what kind
 * @columns: (out): the fields that a table of them shows, in its order
 *
 * All fields but the model, which all rows share, and what no person reads.
 *
 * Returns: how many
 */
guint
book_setup_columns (const BookRecord *record, const BookField *columns[BOOK_MAX_FIELDS])
{
  guint n = 0;

  for (guint i = 0; i < record->n_fields; i++)
    {
      const BookField *field = &record->fields[i];

      if ((field->kind == BOOK_KIND_REFERENCE && field->refers == BOOK_RECORD_MODEL) || field->kind == BOOK_KIND_CONTENT
          || field->kind == BOOK_KIND_RECORD || field->kind == BOOK_KIND_ANY)
        continue;
      columns[n++] = field;
    }
  if (record->kept != NULL)
    columns[n++] = record->kept;
  return n;
}

typedef struct
{
  StoreDb          *db;
  BookRules        *rules;
  const BookRecord *record;
  gint64            model;
  char            **words; /* folded; NULL: all rows */
  guint             n;
  GPtrArray        *rows;  /* NULL: counted alone */
} Gathering;

static void
row_free (gpointer data)
{
  BookSetupRow *row = data;

  g_strfreev (row->cells);
  g_free (row);
}

static BookSetupRow *
read_row (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  const BookField *columns[BOOK_MAX_FIELDS];
  guint n = book_setup_columns (record, columns);
  g_autoptr(BookForm) form = book_form_read (db, record, id, error);
  BookSetupRow *row;

  if (form == NULL)
    return NULL;
  row = g_new0 (BookSetupRow, 1);
  row->id = id;
  if (record->parent != NULL && book_field_find (record, record->parent)->refers != BOOK_RECORD_MODEL)
    row->belongs_to = book_form_find (form, record->parent)->refers;
  row->cells = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    row->cells[i] = g_strdelimit (g_strdup (book_form_find (form, columns[i]->name)->shown), "\n\r\t", ' ');
  return row;
}

/* Whether each record above it is told by a reference, so that the book can count for us. */
static gboolean
has_plain_parents (const BookRecord *record)
{
  while (record->parent != NULL)
    {
      const BookField *parent = book_field_find (record, record->parent);

      if (parent->kind != BOOK_KIND_REFERENCE)
        return FALSE;
      record = book_record (parent->refers);
    }
  return TRUE;
}

/* Every word in one cell or another. */
static gboolean
has_words (const BookSetupRow *row, char **words)
{
  g_autofree char *joined = g_strjoinv (" ", row->cells);
  g_autofree char *folded = book_search_fold (joined, -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (folded, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

static gboolean
gather (const BookRow *row, gpointer data, GError **error)
{
  Gathering *gathering = data;
  BookSetupRow *read;
  gint64 model;

  if (row->record->id != BOOK_RECORD_MODEL)
    {
      if (!book_rules_model_of (gathering->rules, row->record, row->id, row->values, &model, error))
        return FALSE;
      if (model > 0 && model != gathering->model)
        return TRUE;
    }
  if (gathering->rows == NULL && gathering->words == NULL)
    {
      gathering->n++;
      return TRUE;
    }
  read = read_row (gathering->db, row->record, row->id, error);
  if (read == NULL)
    return FALSE;
  if (gathering->words != NULL && !has_words (read, gathering->words))
    {
      row_free (read);
      return TRUE;
    }
  gathering->n++;
  if (gathering->rows != NULL)
    g_ptr_array_add (gathering->rows, read);
  else
    row_free (read);
  return TRUE;
}

/* As people count: C2 before C10. What begins alike stays in the order of its key. */
static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const BookSetupRow *first = *(const BookSetupRow *const *) a, *second = *(const BookSetupRow *const *) b;

  return book_serial_compare (first->cells[0], second->cells[0]);
}

/* Each word once, folded; NULL where nothing is looked for. */
static char **
split_words (const char *words)
{
  g_autofree char *folded = book_search_fold (words != NULL ? words : "", -1);
  g_auto(GStrv) each = g_strsplit_set (folded, " \t", -1);
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  gboolean any = FALSE;

  for (guint i = 0; each[i] != NULL; i++)
    if (*each[i] != '\0')
      {
        g_strv_builder_add (builder, each[i]);
        any = TRUE;
      }
  return any ? g_strv_builder_end (builder) : NULL;
}

/**
 * book_setup_read:
 * @db: a connection in a read transaction
 * @model: of which the own records are read; 0: the book has none yet
 * @kind: of which the rows are read
 * @words: (nullable): only records in which each of these words occurs, without regard to case and accents
 * @all: @words name @kind itself: its rows are read and counted whatever words they have
 * @error: return location
 *
 * Models are read all, whatever @model is, also those that are put away.
 *
 * Returns: (transfer full) (nullable): counts of all kinds, and the rows of one
 */
BookSetup *
book_setup_read (StoreDb *db, gint64 model, BookRecordId kind, const char *words, gboolean all, GError **error)
{
  g_autoptr(BookSetup) setup = g_new0 (BookSetup, 1);
  g_autoptr(BookRules) rules = book_rules_new (db);
  g_auto(GStrv) split = split_words (words);

  setup->rows = g_ptr_array_new_with_free_func (row_free);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      Gathering gathering = { db, rules, book_record (kinds[i].record), model, all && kinds[i].record == kind ? NULL : split, 0,
                              kinds[i].record == kind ? setup->rows : NULL };
      gint64 count;

      if (gathering.rows == NULL && split == NULL && has_plain_parents (gathering.record))
        {
          if (!book_record_count_of (db, gathering.record, model, &count, error))
            return NULL;
          setup->counts[i] = (guint) count;
          continue;
        }
      if (!book_record_each_by_key (db, gathering.record, gather, &gathering, error))
        return NULL;
      setup->counts[i] = gathering.n;
    }
  g_ptr_array_sort (setup->rows, compare_rows);
  return g_steal_pointer (&setup);
}

/**
 * book_setup_free:
 * @setup: (transfer full) (nullable): from book_setup_read()
 */
void
book_setup_free (BookSetup *setup)
{
  if (setup == NULL)
    return;
  g_clear_pointer (&setup->rows, g_ptr_array_unref);
  g_free (setup);
}
