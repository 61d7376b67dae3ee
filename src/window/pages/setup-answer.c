/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-answer.h"

#include "present-setup.h"

FettleSetupAsk *
fettle_setup_ask_new (gint64 model, BookRecordId kind, const char *words, gboolean all)
{
  FettleSetupAsk *ask = g_new0 (FettleSetupAsk, 1);

  *ask = (FettleSetupAsk){ model, kind, g_strdup (words), all };
  return ask;
}

void
fettle_setup_ask_free (gpointer data)
{
  FettleSetupAsk *ask = data;

  g_free (ask->words);
  g_free (ask);
}

gpointer
fettle_setup_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleSetupAsk *ask = data;

  return book_setup_read (db, ask->model, ask->kind, ask->words, ask->all, error);
}

FettleSetupGoing *
fettle_setup_going_new (BookRecordId record, gint64 id)
{
  FettleSetupGoing *going = g_new0 (FettleSetupGoing, 1);

  going->record = record;
  going->id = id;
  return going;
}

void
fettle_setup_going_free (gpointer data)
{
  FettleSetupGoing *going = data;

  if (going == NULL)
    return;
  g_free (going->key);
  g_free (going->goes_with);
  g_free (going->refusal);
  g_free (going);
}

gpointer
fettle_setup_going_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleSetupGoing *asked = data;
  const BookRecord *record = book_record (asked->record);
  g_autoptr(GError) refusal = NULL;
  FettleSetupGoing *going;
  guint counts[BOOK_N_RECORDS + 1];
  g_autofree char *key = book_record_key_text (db, record, asked->id, BOOK_KEY_TEXT_SHORT, error);

  if (key == NULL)
    return NULL;
  going = fettle_setup_going_new (asked->record, asked->id);
  going->key = g_steal_pointer (&key);
  if (book_record_goes_with (db, record, asked->id, counts, &refusal))
    going->goes_with = present_setup_goes_with (counts);
  else
    going->refusal = g_strdup (refusal->message);
  return going;
}
