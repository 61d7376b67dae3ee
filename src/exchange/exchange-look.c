/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look at rows: the text, what it was recognised as, what was mended. See exchange-look-private.h. */
#include "config.h"

#include "exchange-look-private.h"

#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
text_clear (gpointer data)
{
  exchange_grid_free (((ExchangeLookText *) data)->grid);
}

static gboolean
is_empty_row (const ExchangeGrid *grid, guint row)
{
  for (guint i = 0; i < grid->n_columns; i++)
    if (*exchange_grid_cell (grid, row, i) != '\0')
      return FALSE;
  return TRUE;
}

static guint
first_row (const ExchangeGrid *grid)
{
  guint row = 0;

  while (row + 1 < grid->n_rows && is_empty_row (grid, row))
    row++;
  return row;
}

/**
 * exchange_look_read_text:
 * @name: what sentences call it
 * @text: a block from a spreadsheet, or what a CSV file holds
 * @length: its bytes
 * @likely: (nullable): what kind of record the rows are when their heads do not say otherwise
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the rows, with what was recognised of them
 */
ExchangeLook *
exchange_look_read_text (const char *name, const char *text, gsize length, const BookRecord *likely, GError **error)
{
  g_autoptr(ExchangeGrid) grid = exchange_grid_read (name, text, length, EXCHANGE_LOOK_MOST_ROWS, error);
  ExchangeLook *self;

  if (grid == NULL)
    return NULL;
  self = g_new0 (ExchangeLook, 1);
  self->name = g_strdup (name);
  self->text = g_atomic_rc_box_new0 (ExchangeLookText);
  self->text->grid = g_steal_pointer (&grid);
  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint row = first_row (self->text->grid); row < self->text->grid->n_rows; row++)
    if (!is_empty_row (self->text->grid, row))
      g_array_append_val (self->rows, row);
  self->fields = g_array_new (FALSE, TRUE, sizeof (ExchangeLookField));
  g_array_set_clear_func (self->fields, exchange_look_field_clear);
  self->words = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->columns = g_new (int, self->text->grid->n_columns);
  self->fixed = g_ptr_array_new_with_free_func (g_free);
  self->decimal_sign = '.';
  self->edits = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  self->mends = exchange_look_mends_new ();
  exchange_look_match (self, likely);
  return self;
}

/**
 * exchange_look_read_file:
 * @path: a file
 * @likely: (nullable): as for exchange_look_read_text(); a file called after a record needs none
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the rows
 */
ExchangeLook *
exchange_look_read_file (const char *path, const BookRecord *likely, GError **error)
{
  g_autoptr(GError) failure = NULL;
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *stem = g_strndup (base, strcspn (base, "."));
  g_autofree char *text = NULL;
  gsize length;

  if (!g_file_get_contents (path, &text, &length, &failure))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("%s: the file cannot be read: %s"), path,
                   failure->message);
      return NULL;
    }
  if (book_record_find (stem) != NULL)
    likely = book_record_find (stem);
  return exchange_look_read_text (base, text, length, likely, error);
}

void
exchange_look_free (ExchangeLook *self)
{
  if (self == NULL)
    return;
  g_free (self->name);
  g_atomic_rc_box_release_full (self->text, text_clear);
  g_array_unref (self->rows);
  g_array_unref (self->fields);
  g_clear_pointer (&self->words, g_hash_table_unref);
  g_free (self->columns);
  g_ptr_array_unref (self->fixed);
  g_hash_table_unref (self->edits);
  g_clear_pointer (&self->mends, g_array_unref);
  g_free (self);
}

/* What a question needs of a look; the words of heads and what can be taken back are not. */
static ExchangeLook *
copy (const ExchangeLook *self)
{
  ExchangeLook *made = g_memdup2 (self, sizeof *self);
  GHashTableIter iter;
  gpointer place, text;

  made->name = g_strdup (self->name);
  made->text = g_atomic_rc_box_acquire (self->text);
  made->rows = g_array_copy (self->rows);
  made->fields = g_array_new (FALSE, TRUE, sizeof (ExchangeLookField));
  g_array_set_clear_func (made->fields, exchange_look_field_clear);
  made->fixed = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < self->fields->len; i++)
    {
      ExchangeLookField field = *exchange_look_field (self, i);

      field.label = g_strdup (field.label);
      g_array_append_val (made->fields, field);
      g_ptr_array_add (made->fixed, g_strdup (self->fixed->pdata[i]));
    }
  made->words = NULL;
  made->mends = NULL;
  made->columns = g_memdup2 (self->columns, exchange_look_count_columns (self) * sizeof *self->columns);
  made->edits = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_hash_table_iter_init (&iter, self->edits);
  while (g_hash_table_iter_next (&iter, &place, &text))
    g_hash_table_insert (made->edits, place, g_strdup (text));
  return made;
}

/**
 * exchange_look_question_new:
 * @self: a look that lacks nothing
 * @person: who asks, and stores
 * @sitting: whose
 * @store: whether what can be stored is
 *
 * Returns: (transfer full): the look as it is now, to be asked in any thread
 */
ExchangeLookQuestion *
exchange_look_question_new (const ExchangeLook *self, gint64 person, gint64 sitting, gboolean store)
{
  ExchangeLookQuestion *question = g_new0 (ExchangeLookQuestion, 1);

  question->look = copy (self);
  question->person = person;
  question->sitting = sitting;
  question->store = store;
  return question;
}

void
exchange_look_question_free (ExchangeLookQuestion *question)
{
  if (question == NULL)
    return;
  exchange_look_free (question->look);
  g_free (question);
}

/* ---- what it is ---- */

const char *
exchange_look_get_name (const ExchangeLook *self)
{
  return self->name;
}

guint
exchange_look_count_rows (const ExchangeLook *self)
{
  return self->rows->len;
}

guint
exchange_look_count_columns (const ExchangeLook *self)
{
  return self->text->grid->n_columns;
}

guint
exchange_look_get_line (const ExchangeLook *self, guint row)
{
  return self->text->grid->lines[exchange_look_text_row (self, row)];
}

/* At least two heads and half of all are fields, and nothing but the model and the round is missing of the key. */
gboolean
exchange_look_is_sure (const ExchangeLook *self)
{
  guint matched = exchange_look_count_matched (self);

  for (guint i = 0; i < self->fields->len; i++)
    if (exchange_look_needs (self, i) && !exchange_look_is_place (exchange_look_field (self, i)))
      return FALSE;
  return self->has_head && matched >= 2 && matched * 2 >= exchange_look_count_columns (self);
}

const BookRecord *
exchange_look_get_record (const ExchangeLook *self)
{
  return self->record;
}

void
exchange_look_set_record (ExchangeLook *self, const BookRecord *record)
{
  g_return_if_fail (exchange_look_can_take (record));

  exchange_look_take_record (self, record);
  exchange_look_recognise (self);
}

gboolean
exchange_look_get_has_head (const ExchangeLook *self)
{
  return self->has_head;
}

void
exchange_look_set_has_head (ExchangeLook *self, gboolean has_head)
{
  guint head = first_row (self->text->grid);

  if (self->has_head == has_head)
    return;
  self->has_head = has_head;
  if (!has_head)
    g_array_prepend_val (self->rows, head);
  else if (self->rows->len > 0 && exchange_look_text_row (self, 0) == head)
    g_array_remove_index (self->rows, 0);
  exchange_look_set_record (self, self->record);
}

char
exchange_look_get_decimal_sign (const ExchangeLook *self)
{
  return self->decimal_sign;
}

void
exchange_look_set_decimal_sign (ExchangeLook *self, char decimal_sign)
{
  g_return_if_fail (decimal_sign == '.' || decimal_sign == ',');

  self->decimal_sign = decimal_sign;
  self->decimal_sign_is_set = TRUE;
}

ExchangeDateOrder
exchange_look_get_date_order (const ExchangeLook *self)
{
  return self->order;
}

void
exchange_look_set_date_order (ExchangeLook *self, ExchangeDateOrder order)
{
  self->order = order;
  self->order_is_set = TRUE;
}

guint
exchange_look_count_fields (const ExchangeLook *self)
{
  return self->fields->len;
}

const ExchangeLookField *
exchange_look_get_field (const ExchangeLook *self, guint field)
{
  return exchange_look_field (self, field);
}

const char *
exchange_look_get_head (const ExchangeLook *self, guint column)
{
  return self->has_head ? exchange_grid_cell (self->text->grid, first_row (self->text->grid), column) : "";
}

int
exchange_look_get_column (const ExchangeLook *self, guint column)
{
  return self->columns[column];
}

/* A field is given once: another column that gave it is left out. */
void
exchange_look_set_column (ExchangeLook *self, guint column, int field)
{
  g_return_if_fail (field < (int) self->fields->len);

  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    if (field >= 0 && self->columns[i] == field)
      self->columns[i] = -1;
  self->columns[column] = field;
  exchange_look_recognise (self);
}

static gboolean
is_given (const ExchangeLook *self, guint field)
{
  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    if (self->columns[i] == (int) field)
      return TRUE;
  return FALSE;
}

const char *
exchange_look_get_fixed (const ExchangeLook *self, guint field)
{
  return self->fixed->pdata[field];
}

void
exchange_look_set_fixed (ExchangeLook *self, guint field, const char *text)
{
  g_free (self->fixed->pdata[field]);
  self->fixed->pdata[field] = g_strdup (text);
}

gboolean
exchange_look_needs (const ExchangeLook *self, guint field)
{
  const ExchangeLookField *at = exchange_look_field (self, field);

  return at->field->required && at->field->fallback == NULL && at->leaf->required && at->leaf->fallback == NULL
         && book_record_has_in_key (self->record, at->field) && g_strcmp0 (self->record->ordinal, at->field->name) != 0
         && !is_given (self, field);
}

char *
exchange_look_lacks (const ExchangeLook *self)
{
  if (self->rows->len == 0)
    return g_strdup (_("There are no rows below the names of the columns."));
  for (guint i = 0; i < self->fields->len; i++)
    if (exchange_look_needs (self, i) && *exchange_look_get_fixed (self, i) == '\0')
      return g_strdup_printf (_("No column says '%s', which every row needs: choose the column above it, or fill it in for "
                                "all rows."),
                              exchange_look_field (self, i)->label);
  return NULL;
}
