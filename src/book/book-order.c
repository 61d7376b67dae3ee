/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-order.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"

/*
 * Method. Places are numbers with gaps between them, which people know ('step 20'). Moving a row gives each row from its old
 * place to its new one the number of its neighbour: the numbers that there are stay the same ones.
 */

typedef struct
{
  const BookRecord *record;
  int               steps;
} Move;

typedef struct
{
  gint64 id;
  gint64 position;
} Place;

typedef struct
{
  gint64  model;
  GArray *places; /* Place */
} Gathering;

static gboolean
gather (const BookRow *row, gpointer data, GError **error)
{
  Gathering *gathering = data;
  const Place place = { row->id, book_row_get (row, "position")->integer };

  if (book_row_get (row, "model")->integer == gathering->model)
    g_array_append_val (gathering->places, place);
  return TRUE;
}

static gboolean
put (StoreAction *action, const BookRecord *record, const Place *place, gint64 position, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];

  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, "position", book_value_integer (position));
  return book_record_update (action, record, place->id, values, error);
}

static gboolean
move (BookEdit *edit, StoreAction *action, GError **error)
{
  const Move *work = edit->data;
  StoreDb *db = store_action_db (action);
  g_autoptr(BookRow) row = book_record_read (db, work->record, edit->id, error);
  g_autoptr(GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));
  Gathering gathering = { 0, places };
  int at = -1, to, step;

  if (row == NULL)
    return FALSE;
  gathering.model = book_row_get (row, "model")->integer;
  if (!book_record_each_by_key (db, work->record, gather, &gathering, error)) /* in their order */
    return FALSE;
  for (guint i = 0; i < places->len; i++)
    if (g_array_index (places, Place, i).id == edit->id)
      at = (int) i;
  to = CLAMP (at + work->steps, 0, (int) places->len - 1);
  if (to == at)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (work->record, "position"),
                              _("It stands at the end of the order already."));
  step = to > at ? 1 : -1;
  for (int i = at; i != to; i += step)
    if (!put (action, work->record, &g_array_index (places, Place, (guint) (i + step)),
              g_array_index (places, Place, (guint) i).position, error))
      return FALSE;
  if (!put (action, work->record, &g_array_index (places, Place, (guint) at), g_array_index (places, Place, (guint) to).position, error))
    return FALSE;
  book_edit_tell (action, edit->message, work->record->id, edit->id);
  return TRUE;
}

/**
 * book_order_move:
 * @record: #BOOK_RECORD_STEP or #BOOK_RECORD_GATE
 * @id: which
 * @steps: by how many rows it goes down; up where negative; no further than to the end
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_order_move (BookRecordId record, gint64 id, int steps)
{
  Move *work = g_new0 (Move, 1);
  BookEdit *edit = book_edit_new_dated (move, "order-moved", work, g_free);

  *work = (Move){ book_record (record), steps };
  edit->id = id;
  return edit;
}
