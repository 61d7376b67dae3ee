/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-fields.h"
#include "book-fields-private.h"

/*
 * Look-ups over the descriptions of book-fields-*.c, and the one rule by which references become CSV columns.
 */

static const BookRecord *by_id[BOOK_N_RECORDS + 1];
static const BookRecord *in_order[BOOK_N_RECORDS];
static GHashTable       *by_name;

static void
place_after_what_it_refers_to (const BookRecord *record, gboolean placed[], guint *n_placed)
{
  if (placed[record->id])
    return;
  placed[record->id] = TRUE; /* before the loop: a record may refer to its own kind */

  for (guint i = 0; i < record->n_fields; i++)
    if (record->fields[i].kind == BOOK_KIND_REFERENCE)
      place_after_what_it_refers_to (by_id[record->fields[i].refers], placed, n_placed);

  in_order[(*n_placed)++] = record;
}

static void
join (const BookRecord *records, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_assert (by_id[records[i].id] == NULL);
      by_id[records[i].id] = &records[i];
      g_hash_table_insert (by_name, (gpointer) records[i].name, (gpointer) &records[i]);
    }
}

static void
ensure_joined (void)
{
  static gsize joined = 0;

  if (g_once_init_enter (&joined))
    {
      gboolean placed[BOOK_N_RECORDS + 1] = { FALSE };
      guint n_placed = 0;

      by_name = g_hash_table_new (g_str_hash, g_str_equal);
      join (book_records_shop, book_n_records_shop);
      join (book_records_model, book_n_records_model);
      join (book_records_round, book_n_records_round);
      join (book_records_issue, book_n_records_issue);
      join (book_records_gate, book_n_records_gate);

      for (guint id = 1; id <= BOOK_N_RECORDS; id++)
        g_assert (by_id[id] != NULL);
      for (guint id = 1; id <= BOOK_N_RECORDS; id++)
        if (id != BOOK_RECORD_TODO && id != BOOK_RECORD_ATTACHMENT)
          place_after_what_it_refers_to (by_id[id], placed, &n_placed);
      /* These two may be about anything, so they come last. */
      place_after_what_it_refers_to (by_id[BOOK_RECORD_TODO], placed, &n_placed);
      place_after_what_it_refers_to (by_id[BOOK_RECORD_ATTACHMENT], placed, &n_placed);

      g_once_init_leave (&joined, 1);
    }
}

/**
 * book_record:
 * @id: a code
 *
 * Returns: (nullable): the description, or %NULL if the code belongs to no record
 */
const BookRecord *
book_record (BookRecordId id)
{
  ensure_joined ();
  return id >= 1 && id <= BOOK_N_RECORDS ? by_id[id] : NULL;
}

/**
 * book_record_find:
 * @name: the name of a table or a CSV file without its ending
 *
 * Returns: (nullable): the description, or %NULL if no record has that name
 */
const BookRecord *
book_record_find (const char *name)
{
  ensure_joined ();
  return g_hash_table_lookup (by_name, name);
}

/**
 * book_record_in_order:
 * @position: from 0
 *
 * Walks all records so that each comes after all that it refers to: the order of importing and exporting.
 *
 * Returns: (nullable): the description, or %NULL from position %BOOK_N_RECORDS on
 */
const BookRecord *
book_record_in_order (guint position)
{
  ensure_joined ();
  return position < BOOK_N_RECORDS ? in_order[position] : NULL;
}

/**
 * book_record_label:
 * @record: a record
 *
 * Returns: its name in the reader's language
 */
const char *
book_record_label (const BookRecord *record)
{
  return _(record->label);
}

/**
 * book_record_plural:
 * @record: a record
 *
 * Returns: its name for many in the reader's language
 */
const char *
book_record_plural (const BookRecord *record)
{
  return _(record->plural);
}

/**
 * book_field_index:
 * @record: a record
 * @name: of a field
 *
 * Returns: its place among the fields, from 0 (its SQL column is one further, after `id`); -1 if there is none
 */
int
book_field_index (const BookRecord *record, const char *name)
{
  for (guint i = 0; i < record->n_fields; i++)
    if (g_str_equal (record->fields[i].name, name))
      return (int) i;
  return -1;
}

/**
 * book_field_find:
 * @record: a record
 * @name: of a field
 *
 * Returns: (nullable): the field, or %NULL if there is none
 */
const BookField *
book_field_find (const BookRecord *record, const char *name)
{
  int i = book_field_index (record, name);

  return i >= 0 ? &record->fields[i] : NULL;
}

/**
 * book_field_label:
 * @field: a field
 *
 * Returns: its label in the reader's language
 */
const char *
book_field_label (const BookField *field)
{
  return _(field->label);
}

/**
 * book_field_help:
 * @field: a field
 *
 * Returns: what it means, one sentence in the reader's language
 */
const char *
book_field_help (const BookField *field)
{
  return _(field->help);
}

/**
 * book_field_unit:
 * @field: a field
 *
 * Returns: (nullable): the unit of its numbers in the reader's language; %NULL if it has none
 */
const char *
book_field_unit (const BookField *field)
{
  return field->unit != NULL ? _(field->unit) : NULL;
}

/**
 * book_kind_name:
 * @kind: a kind
 *
 * Returns: its untranslated name, as `fields` prints it
 */
const char *
book_kind_name (BookKind kind)
{
  switch (kind)
    {
    case BOOK_KIND_TEXT:
      return "text";
    case BOOK_KIND_LONG_TEXT:
      return "long text";
    case BOOK_KIND_INTEGER:
      return "integer";
    case BOOK_KIND_REAL:
      return "real";
    case BOOK_KIND_SHARE:
      return "share";
    case BOOK_KIND_MONEY:
      return "money";
    case BOOK_KIND_DATE:
      return "date";
    case BOOK_KIND_MOMENT:
      return "moment";
    case BOOK_KIND_BOOLEAN:
      return "boolean";
    case BOOK_KIND_CHOICE:
      return "choice";
    case BOOK_KIND_REFERENCE:
      return "reference";
    case BOOK_KIND_RECORD:
      return "record";
    case BOOK_KIND_ANY:
      return "any";
    case BOOK_KIND_CONTENT:
      return "content";
    }
  g_return_val_if_reached ("");
}

/**
 * book_record_has_in_key:
 * @record: a record
 * @field: one of its fields
 *
 * Returns: whether the field belongs to the visible key
 */
gboolean
book_record_has_in_key (const BookRecord *record, const BookField *field)
{
  for (guint i = 0; i < record->n_key; i++)
    if (g_str_equal (record->key[i], field->name))
      return TRUE;
  return FALSE;
}

static guint
flatten (const BookRecord *record, const BookField *field, const char *name, BookCsvColumn *columns)
{
  const BookRecord *target;
  guint n = 0;

  if (field->kind != BOOK_KIND_REFERENCE)
    {
      columns[0] = (BookCsvColumn) { .name = name, .record = record, .leaf = field };
      return 1;
    }

  target = book_record (field->refers);
  g_assert (target != NULL);
  for (guint i = 0; i < target->n_key; i++)
    {
      const BookField *part = book_field_find (target, target->key[i]);
      gboolean last = i + 1 == target->n_key;

      g_assert (part != NULL && n < BOOK_MAX_KEY);
      n += flatten (target, part, last ? name : part->name, columns + n);
    }

  if (field->qualifier != NULL)
    {
      g_assert (n >= 2);
      columns[n - 2].otherwise = columns[n - 2].name;
      columns[n - 2].name = field->qualifier;
    }
  return n;
}

/**
 * book_field_csv_columns:
 * @record: a record
 * @field: one of its fields
 * @columns: (out): filled from the front
 *
 * The CSV columns that give a field: itself, or for a reference the parts of the visible key of what it refers to. The
 * last part carries the field's own name, the parts before it their own names: `unit` of a reading is given by `model`,
 * `round`, `unit`. A reference is empty when the cell of its last column is.
 *
 * Returns: how many
 */
guint
book_field_csv_columns (const BookRecord *record, const BookField *field, BookCsvColumn columns[BOOK_MAX_KEY])
{
  return flatten (record, field, field->name, columns);
}

/**
 * book_record_csv_columns:
 * @record: a record
 * @columns: (out): filled from the front
 *
 * All columns of `RECORD.csv` in order, each once; the field kept outside the table, where there is one, is the last.
 *
 * Returns: how many
 */
guint
book_record_csv_columns (const BookRecord *record, BookCsvColumn columns[BOOK_MAX_FIELDS * 2])
{
  guint n = 0;

  for (guint i = 0; i < record->n_fields; i++)
    {
      BookCsvColumn parts[BOOK_MAX_KEY];
      guint n_parts = book_field_csv_columns (record, &record->fields[i], parts);

      for (guint j = 0; j < n_parts; j++)
        {
          gboolean known = FALSE;

          for (guint k = 0; k < n && !known; k++)
            known = g_str_equal (columns[k].name, parts[j].name);
          if (!known)
            {
              g_assert (n < BOOK_MAX_FIELDS * 2);
              columns[n++] = parts[j];
            }
        }
    }

  if (record->kept != NULL)
    columns[n++] = (BookCsvColumn) { .name = record->kept->name, .record = record, .leaf = record->kept };
  return n;
}
