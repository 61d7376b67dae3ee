/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "release-answer.h"

#include "book-evidence.h"
#include "today.h"

struct _FettleReleaseAsk
{
  FettleSpan      span;
  char           *book; /* UUID */
  char           *today;
  FettleProgress *progress; /* NULL: the gates alone */
};

#define PAST_SHARE 0.4 /* of the time: going through the journal */

FettleReleaseAsk *
fettle_release_ask_new (const FettleSpan *span, const char *book, FettleProgress *progress)
{
  FettleReleaseAsk *ask = g_new0 (FettleReleaseAsk, 1);

  ask->span = *span;
  ask->book = g_strdup (book);
  ask->today = fettle_today ();
  ask->progress = progress != NULL ? fettle_progress_ref (progress) : NULL;
  return ask;
}

void
fettle_release_ask_free (gpointer data)
{
  FettleReleaseAsk *ask = data;

  fettle_progress_unref (ask->progress);
  g_free (ask->book);
  g_free (ask->today);
  g_free (ask);
}

static void
on_past (double share, gpointer progress)
{
  fettle_progress_tell (progress, share * PAST_SHARE);
}

static void
on_computed (double share, gpointer progress)
{
  fettle_progress_tell (progress, PAST_SHARE + share * (1.0 - PAST_SHARE));
}

gpointer
fettle_release_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleReleaseAsk *ask = data;
  const InsightSpan span = { ask->span.to, ask->today };
  const gboolean whole = ask->progress != NULL;
  BookEvidence *evidence = book_evidence_load (db, ask->span.model, error);
  g_autoptr(PresentDossier) dossier = evidence != NULL ? present_dossier_load (db, evidence, &span, cancellable, error) : NULL;
  FettleReleaseAnswer *answer;

  if (dossier == NULL || (whole && !present_dossier_load_past (dossier, db, on_past, ask->progress, cancellable, error)))
    return NULL;
  store_reader_done_reading (db);
  if (!present_dossier_compute (dossier, whole ? PRESENT_DOSSIER_ALL : PRESENT_DOSSIER_GATES, whole ? on_computed : NULL, ask->progress,
                                cancellable, error))
    return NULL;

  answer = g_atomic_rc_box_new0 (FettleReleaseAnswer);
  answer->dossier = g_steal_pointer (&dossier);
  if (!whole)
    return answer;
  answer->documents = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  for (guint i = 0; i < answer->dossier->gates->gates->len; i++)
    g_ptr_array_add (answer->documents, present_dossier_freeze (answer->dossier, i, ask->book));
  return answer;
}

static void
clear_answer (gpointer data)
{
  FettleReleaseAnswer *answer = data;

  g_clear_pointer (&answer->documents, g_ptr_array_unref);
  present_dossier_free (answer->dossier);
}

FettleReleaseAnswer *
fettle_release_answer_ref (FettleReleaseAnswer *answer)
{
  return g_atomic_rc_box_acquire (answer);
}

void
fettle_release_answer_unref (gpointer data)
{
  if (data != NULL)
    g_atomic_rc_box_release_full (data, clear_answer);
}
