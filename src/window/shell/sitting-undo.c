/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Undo and redo of a sitting: one action at a time, or all of a visit that is over. */
#include "config.h"

#include "sitting-private.h"

#include <glib/gi18n.h>

#include "book-history.h"
#include "store-history.h"
#include "store-undo.h"

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
  GArray        *rest;   /* gint64: further actions that go with it, the next one last; NULL: none */
} Reversal;

static void
reversal_free (Reversal *reversal)
{
  g_object_unref (reversal->self);
  g_clear_pointer (&reversal->rest, g_array_unref);
  g_free (reversal->sentence);
  g_free (reversal);
}

/* What an action did, in words; NULL for none. Without them it can be undone all the same. */
char *
fettle_sitting_read_words (StoreDb *db, gint64 action)
{
  g_autoptr(StoreActionInfo) info = action == 0 ? NULL : store_history_get (db, action, NULL);

  return info == NULL ? NULL : book_message_text (db, info->message, info->arguments);
}

static gpointer
sentence_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return fettle_sitting_read_words (db, *(const gint64 *) data);
}

/* A key that undoes what is only on its way to the disk waits for it, even where nothing could be undone before. */
void
fettle_sitting_expect (FettleSitting *self, gboolean redo)
{
  gboolean *to_come = redo ? &self->redo_to_come : &self->undo_to_come;

  if (*to_come)
    return;
  *to_come = TRUE;
  fettle_sitting_tell_undo_changed (self);
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

static FettleVisit *
visit_of (FettleSitting *self, gint64 action)
{
  for (guint i = 0; action != 0 && i < self->visits->len; i++)
    if (fettle_visit_has (self->visits->pdata[i], action))
      return self->visits->pdata[i];
  return NULL;
}

/* All that can be is taken back of the visit, or done again: lets the pages hear of it. What was done, in words. */
static char *
end_reversing (FettleSitting *self)
{
  g_autofree char *words = fettle_visit_dup_words (self->reversing, self->reversed);
  char *said = g_strdup_printf (self->redoing ? _("Done again: %s") : _("Taken back: %s"), words);

  self->reversing = NULL;
  if (self->changed)
    fettle_sitting_tell_changed (self);
  self->changed = FALSE;
  fettle_sitting_tell_undo_changed (self);
  return said;
}

static void
say_reversed (FettleSitting *self, const char *said)
{
  fettle_sitting_say (self, said, self->redoing ? _("Undo") : _("Redo"), self->redoing ? "win.undo-book" : "win.redo-book");
}

/* Why it went no further, and how far it went. */
static void
say_refused (FettleSitting *self, const StoreBlock *block, const char *why)
{
  guint reversed = self->reversed;
  g_autofree char *said = self->reversing != NULL ? end_reversing (self) : NULL;
  g_autofree char *both = said != NULL && reversed > 0 ? g_strdup_printf ("%s. %s", said, why) : g_strdup (why);

  g_queue_clear (&self->wishes);
  if (block != NULL && block->n_actions > 0)
    name_block (self, block->actions[0], both);
  else
    fettle_sitting_say (self, both, NULL, NULL);
}

/* A visit remembers what was reversed of it, and by what, so that it can be done again as one too. */
static void
note_reversed (FettleSitting *self, const Reversal *reversal, gint64 by)
{
  FettleVisit *visit = visit_of (self, reversal->action);
  guint before;

  if (visit == NULL)
    return;
  before = fettle_visit_count (visit, reversal->redo);
  fettle_visit_reversed (visit, reversal->action, by, reversal->redo);
  if (visit == self->reversing)
    self->reversed += before - fettle_visit_count (visit, reversal->redo);
}

static void reverse_now (Reversal *reversal);

/* The next of several that are taken back together; FALSE: it was the last. */
static gboolean
go_on (FettleSitting *self, Reversal *reversal)
{
  if (reversal->rest == NULL || reversal->rest->len == 0)
    return FALSE;
  reversal->action = reversal->named = g_array_index (reversal->rest, gint64, reversal->rest->len - 1);
  g_array_set_size (reversal->rest, reversal->rest->len - 1);
  self->writing++;
  reverse_now (reversal);
  return TRUE;
}

static void
on_reversed (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Reversal *reversal = user_data;
  FettleSitting *self = reversal->self;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *said = NULL;
  StoreReceipt receipt = { 0 };

  self->writing--;
  if (!store_undo_finish (book_get_store (self->book), result, &receipt, &block, &error))
    {
      say_refused (self, block, error->message);
    }
  else
    {
      note_reversed (self, reversal, receipt.action);
      if (go_on (self, reversal))
        return;
      self->redoing = reversal->redo;
      if (self->reversing == NULL)
        {
          said = g_strdup_printf (reversal->redo ? _("Done again: %s") : _("Taken back: %s"),
                                  reversal->sentence != NULL ? reversal->sentence : "");
          say_reversed (self, said);
        }
    }
  fettle_sitting_look (self);
  reversal_free (reversal);
}

static void
reverse_now (Reversal *reversal)
{
  FettleSitting *self = reversal->self;
  StoreIntent intent = { .action = reversal->redo ? "redo" : "undo", .person = self->person, .sitting = self->sitting };

  (reversal->redo ? store_redo_async : store_undo_async) (book_get_store (self->book), &intent, reversal->named, NULL,
                                                          on_reversed, reversal);
}

static void
on_sentence (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Reversal *reversal = user_data;

  reversal->sentence = fettle_sitting_ask_finish (reversal->self, result, NULL); /* without it the undo still matters */
  reverse_now (reversal);
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
  fettle_sitting_expect (self, !redo);
  fettle_sitting_ask (self, sentence_work, g_memdup2 (&action, sizeof action), g_free, g_free, NULL, on_sentence, reversal);
}

static gint64
next_of (FettleSitting *self, gboolean redo)
{
  return redo ? self->redo : self->undo;
}

/* A visit that is over, of which the next undo or redo takes all; NULL: it takes one action. */
static FettleVisit *
whole_visit (FettleSitting *self, gboolean redo)
{
  FettleVisit *visit = visit_of (self, next_of (self, redo));

  return visit != NULL && fettle_visit_is_over (visit) && fettle_visit_count (visit, redo) > 1 ? visit : NULL;
}

enum { WISH_UNDO, WISH_REDO, WISH_UNDO_ONE };

/*
 * Does the next of what was asked for, once what there is to undo is known again. A visit is taken back action by action,
 * last first, as it was stored, until the last action is not one of it.
 */
void
fettle_sitting_fulfil (FettleSitting *self)
{
  g_autofree char *said = NULL;
  int wish;

  if (self->writing > 0 || self->looking)
    return;
  if (self->reversing != NULL)
    {
      if (visit_of (self, next_of (self, self->redoing)) == self->reversing)
        {
          reverse (self, next_of (self, self->redoing), 0, self->redoing);
          return;
        }
      said = end_reversing (self);
      say_reversed (self, said);
    }
  if (g_queue_is_empty (&self->wishes))
    return;

  wish = GPOINTER_TO_INT (g_queue_pop_head (&self->wishes));
  self->redoing = wish == WISH_REDO;
  self->reversing = wish == WISH_UNDO_ONE ? NULL : whole_visit (self, self->redoing);
  self->reversed = 0;
  reverse (self, next_of (self, self->redoing), 0, self->redoing);
}

/* Keys come faster than the disk: a second undo waits for the first, else it would name the same action. */
static void
wish_for (FettleSitting *self, int wish)
{
  g_queue_push_tail (&self->wishes, GINT_TO_POINTER (wish));
  fettle_sitting_fulfil (self);
}

void
fettle_sitting_undo (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (fettle_sitting_may_write (self))
    wish_for (self, WISH_UNDO);
}

void
fettle_sitting_redo (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (fettle_sitting_may_write (self))
    wish_for (self, WISH_REDO);
}

void
fettle_sitting_undo_one (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (fettle_sitting_may_write (self))
    wish_for (self, WISH_UNDO_ONE);
}

void
fettle_sitting_take_back (FettleSitting *self, gint64 action)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (fettle_sitting_may_write (self))
    reverse (self, action, action, FALSE);
}

void
fettle_sitting_take_back_all (FettleSitting *self, GArray *actions, const char *sentence)
{
  Reversal *reversal;

  g_return_if_fail (FETTLE_IS_SITTING (self));
  g_return_if_fail (actions->len > 0);

  if (!fettle_sitting_may_write (self))
    return;
  reversal = g_new0 (Reversal, 1);
  reversal->self = g_object_ref (self);
  reversal->action = reversal->named = g_array_index (actions, gint64, 0);
  reversal->sentence = g_strdup (sentence);
  reversal->rest = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = actions->len - 1; i > 0; i--)
    g_array_append_val (reversal->rest, g_array_index (actions, gint64, i));
  self->writing++;
  fettle_sitting_expect (self, TRUE);
  reverse_now (reversal);
}

gint64
fettle_sitting_get_undo (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), 0);

  return self->undo;
}

gboolean
fettle_sitting_can_undo (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return (self->undo != 0 && !self->undo_never) || self->undo_to_come;
}

char *
fettle_sitting_dup_undo_bar (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), NULL);

  if (self->undo == 0 || !self->undo_never || self->undo_to_come)
    return NULL;
  return g_strdup_printf (_("%s: it stays, and can only be withdrawn. What was done before it is taken back on the History page."),
                          self->undo_words != NULL ? self->undo_words : _("An opinion, waiver or decision"));
}

gboolean
fettle_sitting_can_redo (FettleSitting *self)
{
  g_return_val_if_fail (FETTLE_IS_SITTING (self), FALSE);

  return self->redo != 0 || self->redo_to_come;
}

/* ---- visits ---- */

FettleVisit *
fettle_sitting_begin_visit (FettleSitting *self, FettleVisitWords words, const char *where)
{
  FettleVisit *visit = fettle_visit_new (words, where);

  fettle_sitting_end_visits (self);
  g_ptr_array_add (self->visits, visit);
  return visit;
}

void
fettle_sitting_end_visits (FettleSitting *self)
{
  gboolean ended = FALSE;

  for (guint i = 0; i < self->visits->len; i++)
    {
      ended |= !fettle_visit_is_over (self->visits->pdata[i]);
      fettle_visit_end (self->visits->pdata[i]);
    }
  if (ended)
    fettle_sitting_tell_undo_changed (self);
}

void
fettle_sitting_end_visit (FettleSitting *self, FettleVisit *visit)
{
  if (fettle_visit_is_over (visit))
    return;
  fettle_visit_end (visit);
  fettle_sitting_tell_undo_changed (self);
}

char *
fettle_sitting_dup_undo_words (FettleSitting *self, gboolean redo)
{
  FettleVisit *visit = whole_visit (self, redo);

  if (visit != NULL)
    return fettle_visit_dup_words (visit, fettle_visit_count (visit, redo));
  return g_strdup (redo ? self->redo_words : self->undo_words);
}
