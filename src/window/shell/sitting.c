/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whoever waits for an answer or a write holds the sitting, so it ends only when nothing is under way. What changed is
 * found by the length of the journal: a commit that stored no action (a kept answer) tells nobody.
 */
#include "config.h"

#include "sitting.h"

#include <glib/gi18n.h>

#include "book-history.h"
#include "book-search.h"
#include "store-history.h"
#include "store-undo.h"
#include "today.h"

struct _FettleSitting
{
  GObject parent_instance;

  Book         *book;
  StoreReader  *reader;
  StoreWatch   *watch;
  FettleDrafts *drafts; /* NULL until asked for */
  gint64        sitting;
  gint64        person;
  gint64        place; /* entries of the journal when last looked */
  gint64        undo;  /* action that undo would take; 0: none */
  gint64        redo;
  guint         asked; /* questions without an answer */
  guint         writing; /* edits and reversals under way */
  GQueue        wishes;  /* of undo and redo (1) that wait until it is known what the ones before left */
  gboolean      looking;
  gboolean      look_again;
};

enum { CHANGED, UNDO_CHANGED, PERSON_CHANGED, PERSON_WANTED, SAY, N_SIGNALS };
static guint signals[N_SIGNALS];

static void fulfil (FettleSitting *self);

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
  FettleSitting *self = g_task_get_source_object (asked->task);
  GError *error = NULL;
  gpointer answer = store_reader_run_finish (self->reader, result, &error);

  self->asked--;
  if (error != NULL)
    g_task_return_error (asked->task, error);
  else
    g_task_return_pointer (asked->task, answer, asked->free_answer);
  g_object_unref (asked->task);
  g_free (asked);
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
} Look;

static gpointer
look_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autofree Look *look = g_memdup2 (data, sizeof *look);

  if (!store_history_head (db, &look->place, NULL, error)
      || !store_undo_find (db, look->sitting, &look->undo, &look->redo, error))
    return NULL;
  return g_steal_pointer (&look);
}

static void
on_looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleSitting *self = FETTLE_SITTING (source);
  g_autoptr(GError) error = NULL;
  g_autofree Look *look = fettle_sitting_ask_finish (self, result, &error);
  gboolean changed, undo_changed;

  self->looking = FALSE;
  if (look == NULL)
    {
      g_queue_clear (&self->wishes);
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        fettle_sitting_say (self, error->message, NULL, NULL);
      return;
    }

  changed = look->place != self->place;
  undo_changed = (look->undo != 0) != (self->undo != 0) || (look->redo != 0) != (self->redo != 0);
  self->place = look->place;
  self->undo = look->undo;
  self->redo = look->redo;
  if (undo_changed)
    g_signal_emit (self, signals[UNDO_CHANGED], 0);
  if (changed)
    g_signal_emit (self, signals[CHANGED], 0);
  if (self->look_again)
    fettle_sitting_look (self);
  fulfil (self);
}

void
fettle_sitting_look (FettleSitting *self)
{
  Look look = { .sitting = self->sitting };

  self->look_again = self->looking;
  if (self->looking)
    return;

  self->looking = TRUE;
  fettle_sitting_ask (self, look_work, g_memdup2 (&look, sizeof look), g_free, g_free, NULL, on_looked, NULL);
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
  g_clear_object (&self->drafts);
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
fettle_sitting_class_init (FettleSittingClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_sitting_dispose;
  signals[CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[UNDO_CHANGED] = g_signal_new ("undo-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PERSON_CHANGED] = g_signal_new ("person-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PERSON_WANTED] = g_signal_new ("person-wanted", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SAY] = g_signal_new ("say", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3, G_TYPE_STRING,
                               G_TYPE_STRING, G_TYPE_STRING);
}

static void
fettle_sitting_init (FettleSitting *self)
{
  self->sitting = store_new_sitting ();
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
    self->drafts = fettle_drafts_new (book_get_path (self->book));
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

void
fettle_sitting_say (FettleSitting *self, const char *sentence, const char *label, const char *action)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  g_signal_emit (self, signals[SAY], 0, sentence, label, action);
}

/* ---- writing ---- */

/* One write under way: the window's own callback comes first, then everybody hears of the change. */
typedef struct
{
  FettleSitting      *self;
  GAsyncReadyCallback done;
  gpointer            user_data;
} Writing;

static void
on_edited (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Writing *writing = user_data;
  g_autoptr(GError) error = NULL;

  writing->self->writing--;
  if (writing->done == NULL && !book_edit_run_finish (writing->self->book, result, NULL, NULL, &error))
    fettle_sitting_say (writing->self, error->message, NULL, NULL);
  if (writing->done != NULL)
    writing->done (G_OBJECT (writing->self), result, writing->user_data);
  fettle_sitting_look (writing->self);
  g_object_unref (writing->self);
  g_free (writing);
}

void
fettle_sitting_edit (FettleSitting *self, BookEdit *edit, GAsyncReadyCallback done, gpointer user_data)
{
  g_autofree char *today = fettle_today ();
  Writing *writing;

  g_return_if_fail (FETTLE_IS_SITTING (self));

  book_edit_set_today (edit, today);
  writing = g_new0 (Writing, 1);
  writing->self = g_object_ref (self);
  writing->done = done;
  writing->user_data = user_data;
  g_queue_clear (&self->wishes); /* they meant what was there before */
  self->writing++;
  book_edit_set_today (edit, today);
  book_edit_run_async (self->book, edit, self->person, self->sitting, NULL, on_edited, writing);
}

gboolean
fettle_sitting_edit_finish (FettleSitting *self, GAsyncResult *result, StoreReceipt *receipt, gint64 *id, GError **error)
{
  return book_edit_run_finish (self->book, result, receipt, id, error);
}

/* ---- undo ---- */

/*
 * What is taken back is told by the sentence of its action, which is read while its records are still there; only then
 * the action is reversed.
 */
typedef struct
{
  FettleSitting *self;
  gint64         action; /* whose effect is taken back or done again */
  gint64         named;  /* the same where it was asked for by its key; 0: the last of this sitting */
  gboolean       redo;
  char          *sentence;
} Reversal;

static void
reversal_free (Reversal *reversal)
{
  g_object_unref (reversal->self);
  g_free (reversal->sentence);
  g_free (reversal);
}

static gpointer
sentence_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const gint64 *action = data;
  g_autoptr(StoreActionInfo) info = store_history_get (db, *action, error);

  return info == NULL ? NULL : book_message_text (db, info->message, info->arguments);
}

static void
on_block_named (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleSitting *self = FETTLE_SITTING (source);
  g_autofree char *why = user_data;
  g_autofree char *sentence = fettle_sitting_ask_finish (self, result, NULL);
  g_autofree char *in_the_way = sentence == NULL ? NULL : g_strdup_printf (_("The latest in the way: %s."), sentence);
  g_autofree char *said = g_strjoin (" ", why, in_the_way, NULL);

  fettle_sitting_say (self, said, NULL, NULL);
}

/* Says why an undo is refused, and by which later action. */
static void
name_block (FettleSitting *self, gint64 action, const char *why)
{
  fettle_sitting_ask (self, sentence_work, g_memdup2 (&action, sizeof action), g_free, g_free, NULL, on_block_named,
                      g_strdup (why));
}

static void
on_reversed (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Reversal *reversal = user_data;
  FettleSitting *self = reversal->self;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *said = NULL;

  self->writing--;
  if (!store_undo_finish (book_get_store (self->book), result, NULL, &block, &error))
    {
      g_queue_clear (&self->wishes);
      if (block != NULL && block->n_actions > 0)
        name_block (self, block->actions[0], error->message);
      else
        fettle_sitting_say (self, error->message, NULL, NULL);
    }
  else
    {
      said = g_strdup_printf (reversal->redo ? _("Done again: %s") : _("Taken back: %s"),
                              reversal->sentence != NULL ? reversal->sentence : "");
      fettle_sitting_say (self, said, reversal->redo ? _("Undo") : _("Redo"), reversal->redo ? "win.undo" : "win.redo");
    }
  fettle_sitting_look (self);
  reversal_free (reversal);
}

static void
on_sentence (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Reversal *reversal = user_data;
  FettleSitting *self = reversal->self;
  StoreIntent intent = { .action = reversal->redo ? "redo" : "undo", .person = self->person, .sitting = self->sitting };

  reversal->sentence = fettle_sitting_ask_finish (self, result, NULL); /* without it the undo still matters */
  (reversal->redo ? store_redo_async : store_undo_async) (book_get_store (self->book), &intent, reversal->named, NULL,
                                                          on_reversed, reversal);
}

static void
reverse (FettleSitting *self, gint64 action, gint64 named, gboolean redo)
{
  Reversal *reversal;

  if (action == 0)
    return;

  reversal = g_new0 (Reversal, 1);
  reversal->self = g_object_ref (self);
  reversal->action = action;
  reversal->named = named;
  reversal->redo = redo;
  self->writing++;
  fettle_sitting_ask (self, sentence_work, g_memdup2 (&action, sizeof action), g_free, g_free, NULL, on_sentence, reversal);
}

/* Does the next of what was asked for, once what there is to undo is known again. */
static void
fulfil (FettleSitting *self)
{
  if (self->writing > 0 || self->looking || g_queue_is_empty (&self->wishes))
    return;

  if (GPOINTER_TO_INT (g_queue_pop_head (&self->wishes)) != 0)
    reverse (self, self->redo, 0, TRUE);
  else
    reverse (self, self->undo, 0, FALSE);
}

/* Keys come faster than the disk: a second undo waits for the first, else it would name the same action. */
static void
wish (FettleSitting *self, gboolean redo)
{
  g_queue_push_tail (&self->wishes, GINT_TO_POINTER (redo ? 1 : 0));
  fulfil (self);
}

void
fettle_sitting_undo (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  wish (self, FALSE);
}

void
fettle_sitting_redo (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  wish (self, TRUE);
}

void
fettle_sitting_take_back (FettleSitting *self, gint64 action)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  reverse (self, action, action, FALSE);
}

gboolean
fettle_sitting_can_undo (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return self->undo != 0;
}

gboolean
fettle_sitting_can_redo (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return self->redo != 0;
}
