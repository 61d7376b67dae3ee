/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-rate.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book-edit-private.h"

typedef struct
{
  const BookRecord *record;
  gint64            id;
  const BookField  *field;
  double            value;
} Figure;

typedef struct
{
  gint64  model;
  GArray *figures; /* Figure */
} Figures;

static void
figures_free (gpointer data)
{
  Figures *all = data;

  g_array_unref (all->figures);
  g_free (all);
}

/* Another model's steps are none of what was tried out. */
static gboolean
is_of_model (StoreAction *action, const Figure *figure, gint64 model, GError **error)
{
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), figure->record, figure->id, error);

  if (row == NULL)
    return FALSE;
  if (figure->record->id == BOOK_RECORD_STEP && book_row_get (row, "model")->integer != model)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, figure->field, _("The step belongs to another model: try its figures there."));
  return TRUE;
}

static gboolean
store_figure (StoreAction *action, const Figure *figure, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];
  gboolean whole = figure->field->kind == BOOK_KIND_INTEGER;
  gint64 id = figure->id;

  if (!isfinite (figure->value) || (whole && (figure->value != floor (figure->value) || fabs (figure->value) > 1e9)))
    return book_error_refuse (error, BOOK_ERROR_VALUE, figure->field,
                              whole ? _("It must be a whole number: set it so.") : _("It must be a number: set it so."));
  book_values_fill (figure->record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (figure->record, values, figure->field->name,
                   whole ? book_value_integer ((gint64) figure->value) : book_value_real (figure->value));
  return book_edit_store (action, figure->record, values, &id, error);
}

static gboolean
store_figures (BookEdit *edit, StoreAction *action, GError **error)
{
  const Figures *all = edit->data;
  GVariantBuilder builder;

  if (all->figures->len == 0)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, NULL, _("Nothing is set that can be stored: set a figure first."));
  for (guint i = 0; i < all->figures->len; i++)
    {
      const Figure *figure = &g_array_index (all->figures, Figure, i);

      if (!is_of_model (action, figure, all->model, error) || !store_figure (action, figure, error))
        return FALSE;
    }
  edit->id = all->model;
  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", book_record (BOOK_RECORD_MODEL)->name, all->model);
  g_variant_builder_add (&builder, "(sx)", "count", (gint64) all->figures->len);
  store_action_message (action, edit->message, g_variant_builder_end (&builder));
  return TRUE;
}

/**
 * book_rate_store:
 * @model: the model whose rate was tried out
 *
 * Stores what book_rate_store_set() adds, in one action; without anything it is refused.
 *
 * Returns: (transfer full): the command; its record is the model
 */
BookEdit *
book_rate_store (gint64 model)
{
  Figures *all = g_new0 (Figures, 1);

  all->model = model;
  all->figures = g_array_new (FALSE, FALSE, sizeof (Figure));
  return book_edit_new_dated (store_figures, "rate-stored", all, figures_free);
}

/**
 * book_rate_store_set:
 * @edit: from book_rate_store()
 * @record: %BOOK_RECORD_BENCH, which changes it for every model, or %BOOK_RECORD_STEP, of the model
 * @id: which
 * @field: name of a field that holds a number
 * @value: as the book has it: shares as fractions, times in minutes, hours or days
 *
 * Adds one figure. Shares of pieces (scrapped, reworked) are counted, never set, and so are no fields of these records.
 */
void
book_rate_store_set (BookEdit *edit, BookRecordId record, gint64 id, const char *field, double value)
{
  Figure figure = { NULL, id, NULL, value };

  g_return_if_fail (edit->work == store_figures);
  g_return_if_fail (record == BOOK_RECORD_BENCH || record == BOOK_RECORD_STEP);

  figure.record = book_record (record);
  figure.field = book_field_find (figure.record, field);
  g_return_if_fail (figure.field != NULL);
  g_array_append_val (((Figures *) edit->data)->figures, figure);
}
