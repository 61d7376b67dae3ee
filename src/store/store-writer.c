/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The writer thread. It alone touches the writable connection after opening; others hand it jobs and get receipts.
 */

#include "config.h"

#include "store-action-private.h"
#include "store-writer-private.h"

#include <glib/gi18n-lib.h>

#include <string.h>

struct _StoreWriter
{
  Store       *store;
  StoreDb     *db;
  GThread     *thread;
  GAsyncQueue *queue; /* Job */
  gboolean     written; /* since the last checkpoint */
  GError      *closing; /* what went wrong with the last checkpoint */
};

/* A piece of work under way. Owned by who waits for it, or by the writer when there is a task. */
typedef struct
{
  gboolean      quit;
  StoreIntent   intent;
  StoreWork     work;
  gpointer      data;
  StoreReceipt *receipt;
  GCancellable *cancellable;
  GTask        *task; /* NULL: somebody waits */
  GMutex        mutex;
  GCond         cond;
  gboolean      done; /* guarded by mutex */
  gboolean      ok;
  GError       *error;
} Job;

/* Brings what the WAL holds into the file, as far as nobody reads it; never waits for anybody. */
static gboolean
checkpoint (StoreWriter *self, GError **error)
{
  int code;

  if (self->store->remote)
    return TRUE;
  sqlite3_busy_timeout (self->db->handle, 0);
  code = sqlite3_wal_checkpoint_v2 (self->db->handle, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL);
  if (code != SQLITE_OK && code != SQLITE_BUSY)
    return store_db_fail_code (self->db, code, _("The file could not be tidied up"), error);
  return TRUE;
}

static void
idle (StoreWriter *self)
{
  g_autoptr(GError) error = NULL;

  if (!checkpoint (self, &error))
    g_debug ("%s", error->message);
  store_db_restore_busy (self->db);
  sqlite3_db_release_memory (self->db->handle); /* what bulk work needed */
  self->written = FALSE;
}

static Job *
next_job (StoreWriter *self)
{
  Job *job = NULL;

  if (self->written)
    {
      job = g_async_queue_timeout_pop (self->queue, (guint64) self->store->idle_ms * 1000);
      if (job == NULL)
        idle (self);
    }
  return job != NULL ? job : g_async_queue_pop (self->queue);
}

static void
job_done (Job *job, gboolean ok, GError *error)
{
  if (job->task != NULL)
    {
      g_autoptr(GTask) task = job->task;

      if (ok)
        g_task_return_boolean (task, TRUE);
      else
        g_task_return_error (task, error);
      g_clear_object (&job->cancellable);
      g_free ((char *) job->intent.action);
      g_free (job);
      return;
    }
  g_mutex_lock (&job->mutex);
  job->done = TRUE;
  job->ok = ok;
  job->error = error;
  g_cond_signal (&job->cond);
  g_mutex_unlock (&job->mutex);
}

static gpointer
writer_thread (gpointer data)
{
  StoreWriter *self = data;

  for (;;)
    {
      Job *job = next_job (self);
      GError *error = NULL;
      gboolean ok;

      if (job->quit)
        {
          g_free (job);
          break;
        }
      ok = store_action_run (self->store, self->db, &job->intent, job->work, job->data, job->receipt, job->cancellable, &error);
      self->written = TRUE;
      job_done (job, ok, error);
    }

  checkpoint (self, &self->closing);
  g_clear_pointer (&self->db, store_db_close);
  return NULL;
}

StoreWriter *
store_writer_new (Store *store, StoreDb *db)
{
  StoreWriter *self = g_new0 (StoreWriter, 1);

  self->store = store;
  self->db = db;
  self->queue = g_async_queue_new ();
  self->thread = g_thread_new ("store-writer", writer_thread, self);
  return self;
}

gboolean
store_writer_end (StoreWriter *self, GError **error)
{
  Job *job = g_new0 (Job, 1);
  gboolean ok;

  job->quit = TRUE;
  g_async_queue_push (self->queue, job);
  g_thread_join (self->thread);
  g_async_queue_unref (self->queue);

  ok = self->closing == NULL;
  if (!ok)
    g_propagate_error (error, self->closing);
  g_free (self);
  /* cppcheck-suppress memleak ; the thread has freed the job */
  return ok;
}

gint64
store_new_sitting (void)
{
  gint64 high = g_random_int () & 0x3fffffff, low = g_random_int ();

  return MAX (high << 32 | low, 1);
}

gboolean
store_write (Store *store, const StoreIntent *intent, StoreWork work, gpointer data, StoreReceipt *receipt,
             GCancellable *cancellable, GError **error)
{
  Job job = { .intent = *intent, .work = work, .data = data, .receipt = receipt, .cancellable = cancellable };

  g_return_val_if_fail (intent->action != NULL, FALSE);
  g_return_val_if_fail (g_thread_self () != store->writer->thread, FALSE); /* would wait for itself */

  g_mutex_init (&job.mutex);
  g_cond_init (&job.cond);
  g_async_queue_push (store->writer->queue, &job);
  g_mutex_lock (&job.mutex);
  while (!job.done)
    g_cond_wait (&job.cond, &job.mutex);
  g_mutex_unlock (&job.mutex);
  g_mutex_clear (&job.mutex);
  g_cond_clear (&job.cond);

  if (!job.ok)
    g_propagate_error (error, job.error);
  return job.ok;
}

void
store_writer_queue (Store *store, const StoreIntent *intent, StoreWork work, gpointer data, StoreReceipt *receipt, GTask *task)
{
  Job *job = g_new0 (Job, 1);
  GCancellable *cancellable = g_task_get_cancellable (task);

  job->intent = *intent;
  job->intent.action = g_strdup (intent->action);
  job->work = work;
  job->data = data;
  job->receipt = receipt;
  job->cancellable = cancellable != NULL ? g_object_ref (cancellable) : NULL;
  job->task = g_object_ref (task);
  g_task_set_check_cancellable (task, FALSE); /* what was stored before the cancelling is told as stored */
  g_async_queue_push (store->writer->queue, job);
  /* cppcheck-suppress memleak ; the thread has it now */
}

/* What an asynchronous write keeps until its task is finalized. */
typedef struct
{
  gpointer       data;
  GDestroyNotify free_data;
  StoreWork      work;
  StoreReceipt   receipt;
  StoreProgress  progress; /* the caller's, called in its main context */
  gpointer       progress_data;
  GTask         *task; /* not owned */
  GMutex         mutex;
  guint64        done, total; /* guarded by mutex */
  gboolean       pending;     /* guarded by mutex: one report at most is under way */
} AsyncWrite;

static void
async_write_free (gpointer data)
{
  AsyncWrite *self = data;

  if (self->free_data != NULL)
    self->free_data (self->data);
  g_mutex_clear (&self->mutex);
  g_free (self);
}

static gboolean
deliver_progress (gpointer data)
{
  GTask *task = data;
  AsyncWrite *self = g_task_get_task_data (task);
  guint64 done, total;

  g_mutex_lock (&self->mutex);
  done = self->done;
  total = self->total;
  self->pending = FALSE;
  g_mutex_unlock (&self->mutex);
  if (!g_task_get_completed (task))
    self->progress (done, total, self->progress_data);
  return G_SOURCE_REMOVE;
}

static void
send_progress (guint64 done, guint64 total, gpointer data)
{
  AsyncWrite *self = data;
  gboolean send;

  g_mutex_lock (&self->mutex);
  self->done = done;
  self->total = total;
  send = !self->pending;
  self->pending = TRUE;
  g_mutex_unlock (&self->mutex);
  if (send)
    g_main_context_invoke_full (g_task_get_context (self->task), G_PRIORITY_DEFAULT_IDLE, deliver_progress,
                                g_object_ref (self->task), g_object_unref);
}

static gboolean
async_work (StoreAction *action, gpointer data, GError **error)
{
  AsyncWrite *self = data;

  return self->work (action, self->data, error);
}

void
store_write_async (Store *store, const StoreIntent *intent, StoreWork work, gpointer data, GDestroyNotify free_data,
                   GCancellable *cancellable, GAsyncReadyCallback done, gpointer user_data)
{
  g_autoptr(GTask) task = g_task_new (NULL, cancellable, done, user_data);
  AsyncWrite *self = g_new0 (AsyncWrite, 1);
  StoreIntent own = *intent;

  g_return_if_fail (intent->action != NULL);

  self->data = data;
  self->free_data = free_data;
  self->work = work;
  self->progress = intent->progress;
  self->progress_data = intent->progress_data;
  self->task = task;
  g_mutex_init (&self->mutex);
  if (intent->progress != NULL)
    {
      own.progress = send_progress;
      own.progress_data = self;
    }
  g_task_set_source_tag (task, store_write_async);
  g_task_set_task_data (task, self, async_write_free);
  store_writer_queue (store, &own, async_work, self, &self->receipt, task);
}

gboolean
store_write_finish (Store *store, GAsyncResult *result, StoreReceipt *receipt, GError **error)
{
  AsyncWrite *self;

  g_return_val_if_fail (g_async_result_is_tagged (result, store_write_async), FALSE);

  self = g_task_get_task_data (G_TASK (result));
  if (receipt != NULL)
    *receipt = self->receipt;
  return g_task_propagate_boolean (G_TASK (result), error);
}
