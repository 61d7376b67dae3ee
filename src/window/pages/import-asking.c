/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-asking.h"

#include <glib/gi18n.h>

/* Counted by the page and the task. The thread writes @permille alone; the rest is the main thread's. */
struct _FettleImportAsking
{
  FettleSitting        *sitting;
  ExchangeLookQuestion *question;
  GCancellable         *cancellable;
  gboolean              storing;
  gint                  permille;
  FettleImportAnswered  answered; /* NULL: ended */
  gpointer              data;
};

static void
asking_clear (gpointer data)
{
  FettleImportAsking *self = data;

  exchange_look_question_free (self->question);
  g_object_unref (self->cancellable);
  g_object_unref (self->sitting);
}

static void
asking_release (gpointer data)
{
  g_atomic_rc_box_release_full (data, asking_clear);
}

static void
on_progress (guint64 done, guint64 total, gpointer data)
{
  FettleImportAsking *self = data;

  g_atomic_int_set (&self->permille, (gint) (total > 0 ? done * 1000 / total : 0));
}

static void
ask_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  FettleImportAsking *self = data;
  GError *error = NULL;
  ExchangeLookAnswer *answer = exchange_look_ask (fettle_sitting_get_book (self->sitting), self->question, on_progress, self,
                                                  self->cancellable, &error);

  if (answer != NULL)
    g_task_return_pointer (task, answer, (GDestroyNotify) exchange_look_answer_free);
  else
    g_task_return_error (task, error);
}

static void
on_answered (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleImportAsking *self = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeLookAnswer) answer = g_task_propagate_pointer (G_TASK (result), &error);

  if (self->answered != NULL)
    self->answered (g_steal_pointer (&answer), error, self->data);
}

/**
 * fettle_import_asking_new:
 * @sitting: of the window
 * @look: the rows as they are now
 * @store: whether what can be stored is
 * @answered: told of the answer
 * @data: for @answered
 *
 * Returns: (transfer full): what is under way
 */
FettleImportAsking *
fettle_import_asking_new (FettleSitting *sitting, const ExchangeLook *look, gboolean store, FettleImportAnswered answered,
                          gpointer data)
{
  FettleImportAsking *self = g_atomic_rc_box_new0 (FettleImportAsking);
  g_autoptr(GTask) task = NULL;

  self->sitting = g_object_ref (sitting);
  self->question = exchange_look_question_new (look, fettle_sitting_get_person (sitting), fettle_sitting_get_key (sitting), store);
  self->cancellable = g_cancellable_new ();
  self->storing = store;
  self->answered = answered;
  self->data = data;
  task = g_task_new (NULL, NULL, on_answered, NULL);
  g_task_set_source_tag (task, fettle_import_asking_new);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (self), asking_release);
  g_task_run_in_thread (task, ask_thread);
  return self;
}

gboolean
fettle_import_asking_is_storing (FettleImportAsking *self)
{
  return self->storing;
}

double
fettle_import_asking_get_share (FettleImportAsking *self)
{
  return g_atomic_int_get (&self->permille) / 1000.0;
}

void
fettle_import_asking_cancel (FettleImportAsking *self)
{
  g_cancellable_cancel (self->cancellable);
}

/**
 * fettle_import_asking_end:
 * @self: (transfer full): what is under way
 *
 * A question is stopped; what is being stored goes on to its end.
 */
void
fettle_import_asking_end (FettleImportAsking *self)
{
  if (!self->storing)
    g_cancellable_cancel (self->cancellable);
  self->answered = NULL;
  asking_release (self);
}

char *
fettle_import_asking_words (const ExchangeLookAnswer *answer)
{
  guint inserted = exchange_look_answer_count (answer, EXCHANGE_LOOK_NEW), changed = exchange_look_answer_count (answer, EXCHANGE_LOOK_CHANGED);
  g_autofree char *in = g_strdup_printf (ngettext ("%u row came into the book", "%u rows came into the book", inserted), inserted);
  g_autofree char *other = g_strdup_printf (ngettext ("%u was changed", "%u were changed", changed), changed);

  if (changed == 0)
    return g_strdup_printf ("%s.", in);
  /* Translators: '12 rows came into the book, 3 were changed.' */
  return g_strdup_printf (_("%s, %s."), in, other);
}
