/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one description of records (src/book) as JSON. */

#include "config.h"

#include "present-fields.h"

#include "present-json.h"

static gboolean
is_number (BookKind kind)
{
  return kind == BOOK_KIND_INTEGER || kind == BOOK_KIND_REAL || kind == BOOK_KIND_SHARE || kind == BOOK_KIND_MONEY;
}

static void
add_choices (JsonBuilder *builder, const BookChoice *choices)
{
  present_json_list (builder, "choices");
  for (; choices->text != NULL; choices++)
    {
      json_builder_begin_object (builder);
      present_json_text (builder, "text", choices->text);
      present_json_text (builder, "label", book_choice_label (choices));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_bound (JsonBuilder *builder, const char *name, const BookField *field, double bound)
{
  if (field->kind == BOOK_KIND_INTEGER)
    present_json_count (builder, name, (gint64) bound);
  else
    present_json_number (builder, name, bound);
}

/* What a cell may hold. */
static void
add_value (JsonBuilder *builder, const BookField *field)
{
  present_json_text (builder, "kind", book_kind_name (field->kind));
  if (book_field_unit (field) != NULL)
    present_json_text (builder, "unit", book_field_unit (field));
  if (is_number (field->kind))
    {
      add_bound (builder, "min", field, field->min);
      add_bound (builder, "max", field, field->max);
      present_json_flag (builder, "above_min", field->open_min);
      present_json_flag (builder, "below_max", field->open_max);
      present_json_count (builder, "decimals", field->kind == BOOK_KIND_INTEGER ? 0 : field->decimals);
    }
  if (field->max_length > 0)
    present_json_count (builder, "max_length", field->max_length);
  if (field->fallback != NULL)
    present_json_text (builder, "default", field->fallback);
  if (field->choices != NULL)
    add_choices (builder, field->choices);
}

/* The field that a column gives (the first one), and whether any field that needs the column must be there. */
static const BookField *
field_of_column (const BookRecord *record, const BookCsvColumn *column, gboolean *required)
{
  const BookField *owner = NULL;

  *required = FALSE;
  for (guint i = 0; i < record->n_fields; i++)
    {
      BookCsvColumn parts[BOOK_MAX_KEY];
      const guint n = book_field_csv_columns (record, &record->fields[i], parts);

      for (guint j = 0; j < n; j++)
        if (g_str_equal (parts[j].name, column->name))
          {
            /* `unit` of a reading is given by three columns, but is itself called like the last of them. */
            if (owner == NULL || g_str_equal (record->fields[i].name, column->name))
              owner = &record->fields[i];
            *required = *required || (record->fields[i].required && parts[j].otherwise == NULL && parts[j].leaf->required);
          }
    }
  if (owner == NULL)
    {
      owner = record->kept;
      *required = owner != NULL && owner->required;
    }
  return owner;
}

static void
add_column (JsonBuilder *builder, const BookRecord *record, const BookCsvColumn *column)
{
  gboolean required;
  const BookField *field = field_of_column (record, column, &required);
  const gboolean borrowed = column->record != record;
  const gboolean on_the_way = borrowed && !g_str_equal (field->name, column->name);

  json_builder_begin_object (builder);
  present_json_text (builder, "name", column->name);
  present_json_text (builder, "label", on_the_way ? book_record_label (column->record) : book_field_label (field));
  present_json_text (builder, "help", book_field_help (on_the_way ? column->leaf : field));
  present_json_flag (builder, "required", required);
  present_json_flag (builder, "key", book_record_has_in_key (record, field));
  add_value (builder, column->leaf);
  if (borrowed)
    {
      json_builder_set_member_name (builder, "refers");
      json_builder_begin_object (builder);
      present_json_text (builder, "record", column->record->name);
      present_json_text (builder, "column", column->leaf->name);
      json_builder_end_object (builder);
    }
  if (column->otherwise != NULL)
    present_json_text (builder, "otherwise", column->otherwise);
  json_builder_end_object (builder);
}

static void
add_reference (JsonBuilder *builder, const BookRecord *record, const BookField *field)
{
  BookCsvColumn parts[BOOK_MAX_KEY];
  const guint n = book_field_csv_columns (record, field, parts);

  json_builder_begin_object (builder);
  present_json_text (builder, "field", field->name);
  present_json_text (builder, "refers", book_record (field->refers)->name);
  present_json_flag (builder, "required", field->required);
  present_json_list (builder, "by");
  for (guint i = 0; i < n; i++)
    json_builder_add_string_value (builder, parts[i].name);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_record (JsonBuilder *builder, const BookRecord *record)
{
  BookCsvColumn columns[BOOK_MAX_FIELDS * 2];
  const guint n = book_record_csv_columns (record, columns);

  json_builder_begin_object (builder);
  present_json_text (builder, "name", record->name);
  present_json_text (builder, "label", book_record_label (record));
  present_json_text (builder, "plural", book_record_plural (record));
  if (record->parent != NULL)
    present_json_text (builder, "parent", record->parent);
  if (record->ordinal != NULL)
    present_json_text (builder, "ordinal", record->ordinal);
  present_json_flag (builder, "lasting", record->lasting);

  present_json_list (builder, "key");
  for (guint i = 0; i < record->n_key; i++)
    json_builder_add_string_value (builder, record->key[i]);
  json_builder_end_array (builder);

  present_json_list (builder, "columns");
  for (guint i = 0; i < n; i++)
    add_column (builder, record, &columns[i]);
  json_builder_end_array (builder);

  present_json_list (builder, "references");
  for (guint i = 0; i < record->n_fields; i++)
    if (record->fields[i].kind == BOOK_KIND_REFERENCE)
      add_reference (builder, record, &record->fields[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

/**
 * present_fields_json:
 * @record: (nullable): one record; %NULL for all, in the order in which they depend on each other
 *
 * Returns: (transfer full): a document
 */
JsonNode *
present_fields_json (const BookRecord *record)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_list (builder, "records");
  if (record != NULL)
    add_record (builder, record);
  for (guint i = 0; record == NULL && i < BOOK_N_RECORDS; i++)
    add_record (builder, book_record_in_order (i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
