/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "history-check.h"

#include "present-check.h"
#include "store-check.h"

typedef struct
{
  FettleSitting  *sitting; /* stays open until the check has ended */
  FettleProgress *progress;
} Job;

void
fettle_checked_free (FettleChecked *checked)
{
  g_free (checked->words);
  g_strfreev (checked->findings);
  g_free (checked);
}

static void
job_free (gpointer data)
{
  Job *job = data;

  fettle_progress_unref (job->progress);
  g_object_unref (job->sitting);
  g_free (job);
}

/* In the writer thread. */
static void
on_progress (guint64 done, guint64 total, gpointer progress)
{
  fettle_progress_tell (progress, total > 0 ? (double) done / (double) total : 0.0);
}

static void
check_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  Store *store = book_get_store (fettle_sitting_get_book (job->sitting));
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(FettleChecked) checked = g_new0 (FettleChecked, 1);
  GError *error = NULL;

  if (!store_check (store, TRUE, &findings, on_progress, job->progress, cancellable, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  checked->words = present_check_words (findings->len, TRUE);
  checked->findings = g_new0 (char *, findings->len + 1);
  for (guint i = 0; i < findings->len; i++)
    checked->findings[i] = g_strdup (((StoreFinding *) g_ptr_array_index (findings, i))->sentence);
  g_task_return_pointer (task, g_steal_pointer (&checked), (GDestroyNotify) fettle_checked_free);
}

/**
 * fettle_history_check_async:
 * @sitting: whose book
 * @progress: told now and then
 * @cancellable: (nullable): to stop; nothing was stored anyway
 * @done: on the main thread
 * @user_data: for it
 */
void
fettle_history_check_async (FettleSitting      *sitting,
                            FettleProgress     *progress,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback done,
                            gpointer            user_data)
{
  g_autoptr(GTask) task = g_task_new (NULL, cancellable, done, user_data);
  Job *job = g_new0 (Job, 1);

  job->sitting = g_object_ref (sitting);
  job->progress = fettle_progress_ref (progress);
  g_task_set_source_tag (task, fettle_history_check_async);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, check_work);
}

FettleChecked *
fettle_history_check_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
