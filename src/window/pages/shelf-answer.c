/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shelf-answer.h"

#include "book-evidence.h"
#include "standing-answer.h"
#include "today.h"

struct _FettleShelfAsk
{
  Book  *book; /* outlives its reader thread */
  gint64 model;
  char  *today;
};

/* Models that are put away stay away. */
gpointer
fettle_shelf_list_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  GPtrArray *models = book_models_list (db, error);

  for (guint i = models != NULL ? models->len : 0; i > 0; i--)
    if (((const BookModel *) g_ptr_array_index (models, i - 1))->archived)
      g_ptr_array_remove_index (models, i - 1);
  return models;
}

void
fettle_shelf_list_free (gpointer data)
{
  g_ptr_array_unref (data);
}

FettleShelfAsk *
fettle_shelf_ask_new (Book *book, gint64 model)
{
  FettleShelfAsk *ask = g_new0 (FettleShelfAsk, 1);

  ask->book = book;
  ask->model = model;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_shelf_ask_free (gpointer data)
{
  FettleShelfAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* The round that a window looks through when it opens the model, so that both keep the same answer. */
static gboolean
newest_round (StoreDb *db, gint64 model, gint64 *round, GError **error)
{
  g_autoptr(GPtrArray) rounds = book_rounds_list (db, model, error);

  if (rounds == NULL)
    return FALSE;
  *round = rounds->len > 0 ? ((const BookRound *) g_ptr_array_index (rounds, rounds->len - 1))->id : 0;
  return TRUE;
}

gpointer
fettle_shelf_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleShelfAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_RECORDS, error);
  g_autoptr(InsightStanding) standing = NULL;
  gint64 through;

  if (evidence == NULL || !newest_round (db, ask->model, &through, error))
    return NULL;
  standing = fettle_standing_read (db, ask->book, ask->model, through, ask->today, cancellable, error);
  if (standing == NULL)
    return NULL;
  return insight_shelf (evidence, standing, ask->today, error);
}

void
fettle_shelf_free (gpointer data)
{
  insight_shelf_free (data);
}
