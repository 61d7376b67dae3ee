/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "changes-answer.h"

#include "today.h"

#define MOST_OPTIONS 20000 /* of one kind */

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

static GPtrArray *
options (StoreDb *db, BookRecordId record, gint64 model, GError **error)
{
  return book_options_list (db, book_record (record), model, 0, "", MOST_OPTIONS, error);
}

static gboolean
add_text (FettleChangesAnswer *answer, StoreDb *db, BookRecordId record, gint64 id, GError **error)
{
  char *text = book_record_key_text (db, book_record (record), id, BOOK_KEY_TEXT_EXACT, error);

  if (text == NULL)
    return FALSE;
  g_hash_table_replace (answer->texts, g_memdup2 (&id, sizeof id), text);
  return TRUE;
}

static gboolean
add_texts (FettleChangesAnswer *answer, StoreDb *db, const BookEvidence *evidence, GError **error)
{
  for (guint i = 0; i < evidence->n_parts; i++)
    if (!add_text (answer, db, BOOK_RECORD_PART, evidence->parts[i].id, error))
      return FALSE;
  for (guint i = 0; i < evidence->n_steps; i++)
    if (!add_text (answer, db, BOOK_RECORD_STEP, evidence->steps[i].id, error))
      return FALSE;
  for (guint i = 0; i < evidence->n_characteristics; i++)
    if (!add_text (answer, db, BOOK_RECORD_CHARACTERISTIC, evidence->characteristics[i].id, error))
      return FALSE;
  return TRUE;
}

gpointer
fettle_changes_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleChangesAsk *ask = data;
  const InsightSpan span = { 0, ask->today };
  g_autoptr(BookChangeList) list = book_change_list_read (db, ask->model, error);
  g_autoptr(BookEvidence) evidence = list != NULL ? book_evidence_load (db, ask->model, error) : NULL;
  g_autoptr(FettleChangesAnswer) answer = NULL;
  InsightIssues *issues;

  if (evidence == NULL)
    return NULL;
  answer = g_rc_box_new0 (FettleChangesAnswer);
  answer->texts = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  answer->persons = options (db, BOOK_RECORD_PERSON, 0, error);
  answer->rounds = answer->persons != NULL ? options (db, BOOK_RECORD_ROUND, ask->model, error) : NULL;
  answer->issues = answer->rounds != NULL ? options (db, BOOK_RECORD_ISSUE, ask->model, error) : NULL;
  if (answer->issues == NULL || !add_texts (answer, db, evidence, error))
    return NULL;
  store_reader_done_reading (db);
  issues = insight_issues (evidence, &span, cancellable, error);
  if (issues == NULL)
    return NULL;
  answer->standing = present_issues_new (issues);
  answer->changes = insight_changes_new (g_steal_pointer (&list), evidence, ask->today);
  return g_steal_pointer (&answer);
}

static void
answer_clear (gpointer data)
{
  FettleChangesAnswer *answer = data;

  insight_changes_free (answer->changes);
  g_clear_pointer (&answer->standing, present_issues_free);
  g_clear_pointer (&answer->persons, g_ptr_array_unref);
  g_clear_pointer (&answer->rounds, g_ptr_array_unref);
  g_clear_pointer (&answer->issues, g_ptr_array_unref);
  g_clear_pointer (&answer->texts, g_hash_table_unref);
}

FettleChangesAnswer *
fettle_changes_answer_ref (FettleChangesAnswer *answer)
{
  return g_rc_box_acquire (answer);
}

void
fettle_changes_answer_unref (gpointer answer)
{
  if (answer != NULL)
    g_rc_box_release_full (answer, answer_clear);
}

const InsightChange *
fettle_changes_answer_get (FettleChangesAnswer *answer, guint index)
{
  return &g_array_index (answer->changes->changes, InsightChange, index);
}

const InsightChangeTouch *
fettle_changes_answer_find_touch (FettleChangesAnswer *answer, guint index, gint64 characteristic)
{
  const GArray *touches = fettle_changes_answer_get (answer, index)->touches;

  for (guint i = 0; i < touches->len; i++)
    if (g_array_index (touches, InsightChangeTouch, i).characteristic == characteristic)
      return &g_array_index (touches, InsightChangeTouch, i);
  return NULL;
}

gint64
fettle_options_find (GPtrArray *all, const char *text)
{
  for (guint i = 0; text != NULL && text[0] != '\0' && i < all->len; i++)
    if (g_str_equal (((const BookOption *) g_ptr_array_index (all, i))->text, text))
      return ((const BookOption *) g_ptr_array_index (all, i))->id;
  return 0;
}

const BookOption *
fettle_options_get (GPtrArray *all, gint64 id)
{
  for (guint i = 0; i < all->len; i++)
    if (((const BookOption *) g_ptr_array_index (all, i))->id == id)
      return g_ptr_array_index (all, i);
  return NULL;
}
