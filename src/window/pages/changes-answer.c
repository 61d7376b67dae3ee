/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "changes-answer.h"

#include "today.h"

struct _FettleChangesAsk
{
  gint64 model;
  char  *today;
};

FettleChangesAsk *
fettle_changes_ask_new (gint64 model)
{
  FettleChangesAsk *ask = g_new0 (FettleChangesAsk, 1);

  ask->model = model;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_changes_ask_free (gpointer data)
{
  FettleChangesAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

gpointer
fettle_changes_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleChangesAsk *ask = data;
  g_autoptr(BookChangeList) list = book_change_list_read (db, ask->model, error);
  g_autoptr(BookEvidence) evidence = list != NULL ? book_evidence_load (db, ask->model, error) : NULL;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  return insight_changes_new (g_steal_pointer (&list), evidence, ask->today);
}

void
fettle_changes_answer_free (gpointer answer)
{
  insight_changes_free (answer);
}
