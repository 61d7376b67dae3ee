/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whoever waits for an answer or a write holds the sitting, so it ends only when nothing is under way. What changed is
 * found by the length of the journal: a commit that stored no action (a kept answer) tells nobody.
 */
#include "config.h"

#include "sitting-private.h"

#include <glib/gi18n.h>

#include "book-search.h"
#include "store-history.h"
#include "store-undo.h"

enum { CHANGED, UNDO_CHANGED, PERSON_CHANGED, READING_CHANGED, PERSON_WANTED, ANSWERED, SAY, STORED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleSitting, fettle_sitting, G_TYPE_OBJECT)

/* ---- asking ---- */

typedef struct
{
  GTask         *task;
  GDestroyNotify free_answer;
} Asked;

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Asked *asked = user_data;
  g_autoptr(FettleSitting) self = g_object_ref (g_task_get_source_object (asked->task));
  GError *error = NULL;
  gpointer answer = store_reader_run_finish (self->reader, result, &error);

  self->asked--;
  if (error != NULL)
    g_task_return_error (asked->task, error);
  else
    g_task_return_pointer (asked->task, answer, asked->free_answer);
  g_object_unref (asked->task);
  g_free (asked);
  if (self->asked == 0)
    g_signal_emit (self, signals[ANSWERED], 0);
}

void
fettle_sitting_ask (FettleSitting      *self,
                    StoreReadWork       work,
                    gpointer            data,
                    GDestroyNotify      free_data,
                    GDestroyNotify      free_answer,
                    GCancellable       *cancellable,
                    GAsyncReadyCallback done,
                    gpointer            user_data)
{
  Asked *asked = g_new0 (Asked, 1);

  g_return_if_fail (FETTLE_IS_SITTING (self));

  asked->task = g_task_new (self, cancellable, done, user_data);
  g_task_set_source_tag (asked->task, fettle_sitting_ask);
  asked->free_answer = free_answer;
  self->asked++;
  store_reader_run_async (self->reader, work, data, free_data, free_answer, cancellable, on_answer, asked);
}

gboolean
fettle_sitting_is_asking (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return self->asked > 0;
}

gpointer
fettle_sitting_ask_finish (FettleSitting *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

/* ---- looking for changes ---- */

typedef struct
{
  gint64 sitting;
  gint64 place;
  gint64 undo;
  gint64 redo;
  gboolean never;
  char  *undo_words;
  char  *redo_words;
} Look;

static void
look_free (gpointer data)
{
  Look *look = data;

  g_free (look->undo_words);
  g_free (look->redo_words);
  g_free (look);
}

/* What would be undone is called by what records are called now, so it is read anew each time. */
static gpointer
look_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  Look *look = g_memdup2 (data, sizeof *look);

  if (!store_history_head (db, &look->place, NULL, error)
      || !store_undo_find (db, look->sitting, &look->undo, &look->redo, error)
      || !store_undo_is_never (db, look->undo, &look->never, error))
    {
      look_free (look);
      return NULL;
    }
  look->undo_words = fettle_sitting_read_words (db, look->undo);
  look->redo_words = fettle_sitting_read_words (db, look->redo);
  return look;
}

/* Takes what was seen; tells whether undo and redo are what they were. */
static gboolean
take_undo (FettleSitting *self, Look *look)
{
  gboolean same = look->undo == self->undo && look->redo == self->redo && !self->undo_to_come && !self->redo_to_come
                  && g_strcmp0 (look->undo_words, self->undo_words) == 0 && g_strcmp0 (look->redo_words, self->redo_words) == 0;

  self->undo = look->undo;
  self->redo = look->redo;
  self->undo_never = look->never;
  g_free (self->undo_words);
  self->undo_words = g_steal_pointer (&look->undo_words);
  g_free (self->redo_words);
  self->redo_words = g_steal_pointer (&look->redo_words);
  if (self->writing == 0 && !self->look_again)
    self->undo_to_come = self->redo_to_come = FALSE;
  return same;
}

static void
on_looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleSitting *self = FETTLE_SITTING (source);
  g_autoptr(GError) error = NULL;
  Look *look = fettle_sitting_ask_finish (self, result, &error);
  gboolean changed, undo_changed;

  self->looking = FALSE;
  if (look == NULL)
    {
      g_queue_clear (&self->wishes);
      fettle_sitting_say_error (self, error);
      return;
    }

  changed = look->place != self->place;
  self->place = look->place;
  undo_changed = !take_undo (self, look);
  look_free (look);
  if (undo_changed)
    g_signal_emit (self, signals[UNDO_CHANGED], 0);
  if (changed && self->reversing != NULL)
    self->changed = TRUE; /* told once, at the end */
  else if (changed)
    g_signal_emit (self, signals[CHANGED], 0);
  if (self->look_again)
    fettle_sitting_look (self);
  fettle_sitting_fulfil (self);
}

void
fettle_sitting_look (FettleSitting *self)
{
  const Look look = { .sitting = self->sitting };

  self->look_again = self->looking;
  if (self->looking)
    return;

  self->looking = TRUE;
  fettle_sitting_ask (self, look_work, g_memdup2 (&look, sizeof look), look_free, look_free, NULL, on_looked, NULL);
}

static void
on_watch (gpointer data)
{
  fettle_sitting_look (FETTLE_SITTING (data));
}

/* ---- opening and ending ---- */

typedef struct
{
  char    *path;
  gboolean create;
} Opening;

static void
opening_free (gpointer data)
{
  Opening *opening = data;

  g_free (opening->path);
  g_free (opening);
}

static void
open_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Opening *opening = data;
  GError *error = NULL;
  Book *book = opening->create ? book_create (opening->path, NULL, &error) : book_open (opening->path, NULL, &error);

  if (book == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, book, (GDestroyNotify) book_free);
}

void
fettle_sitting_open_async (const char         *path,
                           gboolean            create,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback done,
                           gpointer            user_data)
{
  g_autoptr(GTask) task = g_task_new (NULL, cancellable, done, user_data);
  Opening *opening = g_new0 (Opening, 1);

  opening->path = g_strdup (path);
  opening->create = create;
  g_task_set_source_tag (task, fettle_sitting_open_async);
  g_task_set_task_data (task, opening, opening_free);
  g_task_run_in_thread (task, open_work);
}

FettleSitting *
fettle_sitting_open_finish (GAsyncResult *result, GError **error)
{
  g_autoptr(Book) book = g_task_propagate_pointer (G_TASK (result), error);
  g_autoptr(FettleSitting) self = NULL;

  if (book == NULL)
    return NULL;

  self = g_object_new (FETTLE_TYPE_SITTING, NULL);
  self->reader = store_reader_new (book_get_store (book), error);
  if (self->reader == NULL)
    return NULL;
  self->watch = store_watch (book_get_store (book), 0, on_watch, self, error);
  if (self->watch == NULL)
    return NULL;

  self->book = g_steal_pointer (&book);
  book_search_catch_up (self->book);
  fettle_sitting_look (self);
  return g_steal_pointer (&self);
}

typedef struct
{
  StoreReader *reader;
  Book        *book;
} Ending;

static void
end_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Ending *ending = data;
  g_autoptr(GError) error = NULL;

  store_reader_free (ending->reader);
  if (ending->book != NULL && !book_close (ending->book, &error))
    g_message ("%s", error->message); /* the window is gone; nothing is lost, the next open brings it together */
  g_task_return_boolean (task, TRUE);
}

static void
on_ended (GObject *source, GAsyncResult *result, gpointer user_data)
{
  if (g_application_get_default () != NULL)
    g_application_release (g_application_get_default ());
}

static void
fettle_sitting_dispose (GObject *object)
{
  FettleSitting *self = FETTLE_SITTING (object);
  g_autoptr(GTask) task = NULL;
  Ending *ending;

  g_queue_clear (&self->wishes);
  g_clear_pointer (&self->visits, g_ptr_array_unref);
  g_clear_object (&self->drafts);
  g_clear_pointer (&self->patience, fettle_patience_free);
  g_clear_pointer (&self->watch, store_watch_free);
  if (self->reader != NULL)
    {
      if (g_application_get_default () != NULL)
        g_application_hold (g_application_get_default ());
      ending = g_new0 (Ending, 1);
      ending->reader = g_steal_pointer (&self->reader);
      ending->book = g_steal_pointer (&self->book);
      task = g_task_new (NULL, NULL, on_ended, NULL);
      g_task_set_source_tag (task, fettle_sitting_dispose);
      g_task_set_task_data (task, ending, g_free);
      g_task_run_in_thread (task, end_work);
    }
  G_OBJECT_CLASS (fettle_sitting_parent_class)->dispose (object);
}

static void
fettle_sitting_finalize (GObject *object)
{
  FettleSitting *self = FETTLE_SITTING (object);

  g_free (self->undo_words);
  g_free (self->redo_words);
  G_OBJECT_CLASS (fettle_sitting_parent_class)->finalize (object);
}

static void
fettle_sitting_class_init (FettleSittingClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_sitting_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_sitting_finalize;
  signals[CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[UNDO_CHANGED] = g_signal_new ("undo-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PERSON_CHANGED] = g_signal_new ("person-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[READING_CHANGED] = g_signal_new ("reading-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PERSON_WANTED] = g_signal_new ("person-wanted", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ANSWERED] = g_signal_new ("answered", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SAY] = g_signal_new ("say", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3, G_TYPE_STRING,
                               G_TYPE_STRING, G_TYPE_STRING);
  signals[STORED] = g_signal_new ("stored", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_sitting_init (FettleSitting *self)
{
  self->sitting = store_new_sitting ();
  self->visits = g_ptr_array_new_with_free_func ((GDestroyNotify) fettle_visit_free);
  self->patience = fettle_sitting_patience_new (self);
}

void
fettle_sitting_tell_changed (FettleSitting *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

void
fettle_sitting_tell_stored (FettleSitting *self)
{
  g_signal_emit (self, signals[STORED], 0);
}

void
fettle_sitting_tell_undo_changed (FettleSitting *self)
{
  g_signal_emit (self, signals[UNDO_CHANGED], 0);
}

Book *
fettle_sitting_get_book (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), NULL);

  return self->book;
}

const char *
fettle_sitting_get_path (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), NULL);

  return book_get_path (self->book);
}

FettleDrafts *
fettle_sitting_get_drafts (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), NULL);

  if (self->drafts == NULL)
    {
      self->drafts = fettle_drafts_new (book_get_path (self->book));
      g_signal_connect_object (self->drafts, "typed", G_CALLBACK (fettle_sitting_may_write), self, G_CONNECT_SWAPPED);
      fettle_drafts_set_person (self->drafts, self->person);
    }
  return self->drafts;
}

gint64
fettle_sitting_get_key (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), 0);

  return self->sitting;
}

/* ---- who writes ---- */

gint64
fettle_sitting_get_person (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), 0);

  return self->person;
}

void
fettle_sitting_set_person (FettleSitting *self, gint64 person)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (self->person == person)
    return;

  self->person = person;
  fettle_sitting_end_visits (self);
  if (self->drafts != NULL)
    fettle_drafts_set_person (self->drafts, person);
  g_signal_emit (self, signals[PERSON_CHANGED], 0);
}

gboolean
fettle_sitting_need_person (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  if (self->person == 0)
    g_signal_emit (self, signals[PERSON_WANTED], 0);
  return self->person != 0;
}

gboolean
fettle_sitting_is_reading (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return self->reading;
}

void
fettle_sitting_set_reading (FettleSitting *self, gboolean reading)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (self->reading == reading)
    return;

  self->reading = reading;
  g_signal_emit (self, signals[READING_CHANGED], 0);
}

const char *
fettle_sitting_reading_sentence (void)
{
  return _("You are reading: what you type stays here and is not stored. Press F9 to write.");
}

gboolean
fettle_sitting_may_write (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  if (self->reading)
    fettle_sitting_say (self, fettle_sitting_reading_sentence (), _("Write"), "win.write");
  return !self->reading;
}

void
fettle_sitting_say (FettleSitting *self, const char *sentence, const char *label, const char *action)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  g_signal_emit (self, signals[SAY], 0, sentence, label, action);
}

void
fettle_sitting_say_error (FettleSitting *self, const GError *error)
{
  if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_sitting_say (self, error->message, NULL, NULL);
}
