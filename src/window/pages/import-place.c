/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-place.h"

#include "book-record.h"

FettleImportPlace *
fettle_import_place_ask (gint64 model, gint64 round)
{
  FettleImportPlace *place = g_new0 (FettleImportPlace, 1);

  place->model_key = model;
  place->round_key = round;
  return place;
}

void
fettle_import_place_free (gpointer data)
{
  FettleImportPlace *place = data;

  g_free (place->model);
  g_free (place->round);
  g_free (place);
}

gpointer
fettle_import_place_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleImportPlace *asked = data;
  FettleImportPlace *place = fettle_import_place_ask (asked->model_key, asked->round_key);
  g_autoptr(BookRow) round = asked->round_key != 0 ? book_record_read (db, book_record (BOOK_RECORD_ROUND), asked->round_key, NULL) : NULL;
  int label = book_field_index (book_record (BOOK_RECORD_ROUND), "label");

  if (asked->model_key != 0)
    place->model = book_record_key_text (db, book_record (BOOK_RECORD_MODEL), asked->model_key, BOOK_KEY_TEXT_EXACT, NULL);
  if (round != NULL)
    place->round = g_strndup (round->values[label].text, round->values[label].length);
  return place;
}
