/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The reader thread: requests in order, each in one read transaction on the reader's own read-only connection.
 */

#include "config.h"

#include "store-private.h"
#include "store-reader.h"

#include <glib/gi18n-lib.h>

struct _StoreReader
{
  StoreDb     *db; /* used by the thread alone */
  GThread     *thread;
  GAsyncQueue *queue; /* GTask, or the mark that ends the thread */
};

static char end_mark;

typedef struct
{
  StoreReadWork  work;
  gpointer       data;
  GDestroyNotify free_data;
  GDestroyNotify free_answer;
} Request;

static void
request_free (gpointer data)
{
  Request *request = data;

  if (request->free_data != NULL)
    request->free_data (request->data);
  g_free (request);
}

void
store_reader_done_reading (StoreDb *db)
{
  store_db_rollback (db);
}

/* Reads within one transaction, so that an answer never mixes two states of the file. */
static gpointer
answer (StoreDb *db, StoreReadWork work, gpointer data, GCancellable *cancellable, GError **error)
{
  gpointer result = NULL;

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  store_db_set_cancellable (db, cancellable);
  if (store_db_exec (db, "BEGIN", error))
    result = work (db, data, cancellable, error);
  store_db_set_cancellable (db, NULL);
  store_db_rollback (db);
  return result;
}

static gpointer
reader_thread (gpointer data)
{
  StoreReader *self = data;

  for (;;)
    {
      gpointer next = g_async_queue_pop (self->queue);
      g_autoptr(GTask) task = next != &end_mark ? next : NULL;
      GError *error = NULL;
      Request *request;
      gpointer result;

      if (task == NULL)
        return NULL;
      request = g_task_get_task_data (task);
      result = answer (self->db, request->work, request->data, g_task_get_cancellable (task), &error);
      if (error != NULL)
        g_task_return_error (task, error);
      else
        g_task_return_pointer (task, result, request->free_answer);
    }
}

StoreReader *
store_reader_new (Store *store, GError **error)
{
  StoreDb *db = store_open_reading (store, error);
  StoreReader *self;

  if (db == NULL)
    return NULL;
  self = g_new0 (StoreReader, 1);
  self->db = db;
  self->queue = g_async_queue_new ();
  self->thread = g_thread_new ("store-reader", reader_thread, self);
  return self;
}

void
store_reader_free (StoreReader *self)
{
  GTask *waiting;

  if (self == NULL)
    return;

  while ((waiting = g_async_queue_try_pop (self->queue)) != NULL)
    {
      g_task_return_new_error (waiting, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("The file was closed before it was asked."));
      g_object_unref (waiting);
    }
  g_async_queue_push (self->queue, &end_mark);
  g_thread_join (self->thread);
  g_async_queue_unref (self->queue);
  store_db_close (self->db);
  g_free (self);
}

void
store_reader_run_async (StoreReader *self, StoreReadWork work, gpointer data, GDestroyNotify free_data,
                        GDestroyNotify free_answer, GCancellable *cancellable, GAsyncReadyCallback done, gpointer user_data)
{
  GTask *task = g_task_new (NULL, cancellable, done, user_data);
  Request *request = g_new0 (Request, 1);

  request->work = work;
  request->data = data;
  request->free_data = free_data;
  request->free_answer = free_answer;
  g_task_set_source_tag (task, store_reader_run_async);
  g_task_set_task_data (task, request, request_free);
  g_async_queue_push (self->queue, task);
}

gpointer
store_reader_run_finish (StoreReader *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, store_reader_run_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

/* One who waits for an answer, with a main context that nobody else iterates. */
static void
on_answered (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **kept = data;

  *kept = g_object_ref (result);
}

gpointer
store_reader_run (StoreReader *self, StoreReadWork work, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr(GMainContext) context = g_main_context_new ();
  g_autoptr(GAsyncResult) result = NULL;

  g_main_context_push_thread_default (context);
  store_reader_run_async (self, work, data, NULL, NULL, cancellable, on_answered, &result);
  while (result == NULL)
    g_main_context_iteration (context, TRUE);
  g_main_context_pop_thread_default (context);
  return store_reader_run_finish (self, result, error);
}
