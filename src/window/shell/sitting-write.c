/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a sitting writes: one edit after the other, each kept and tried again where the book cannot be written just then. */
#include "config.h"

#include "sitting-private.h"

#include "today.h"

/* One write under way: the window's own callback comes first, then everybody hears of the change. What that callback says
 * is about this write, so an earlier offer of undo is withdrawn before it. */
typedef struct
{
  FettleSitting      *self;
  FettleVisit        *visit; /* NULL: none */
  guint               n;
  gint64              person;
  GAsyncReadyCallback done;
  gpointer            user_data;
} Writing;

static void
finish_writing (GAsyncResult *result, gpointer user_data)
{
  Writing *writing = user_data;
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;

  writing->self->writing--;
  book_edit_run_receipt (result, &receipt);
  if (writing->visit != NULL)
    fettle_visit_add (writing->visit, receipt.action, writing->n);
  if (receipt.action != 0)
    fettle_sitting_tell_stored (writing->self);
  if (writing->done == NULL && !book_edit_run_finish (writing->self->book, result, NULL, NULL, &error) && !writing->self->reading)
    fettle_sitting_say (writing->self, error->message, NULL, NULL);
  if (writing->done != NULL)
    writing->done (G_OBJECT (writing->self), result, writing->user_data);
  fettle_sitting_look (writing->self);
  g_object_unref (writing->self);
  g_free (writing);
}

/* What could not be stored for a passing reason is tried again; its callback waits. */
static void
on_edited (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleSitting) self = g_object_ref (((Writing *) user_data)->self);
  gboolean stored = book_edit_run_error (result) == NULL;

  if (fettle_patience_takes (self->patience, result, user_data))
    return;
  finish_writing (result, user_data);
  if (stored)
    fettle_patience_stored (self->patience);
}

static void
write_again (BookEdit *edit, gpointer data)
{
  Writing *writing = data;

  book_edit_run_async (writing->self->book, edit, writing->person, writing->self->sitting, NULL, on_edited, writing);
}

static void
say_again (const char *sentence, const char *label, const char *action, gpointer owner)
{
  fettle_sitting_say (FETTLE_SITTING (owner), sentence, label, action);
}

/* What keeps the edits of a sitting that could not be stored for a passing reason. */
FettlePatience *
fettle_sitting_patience_new (FettleSitting *self)
{
  return fettle_patience_new (write_again, finish_writing, say_again, self);
}

void
fettle_sitting_try_again (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  fettle_patience_try (self->patience);
}

void
fettle_sitting_give_up (FettleSitting *self)
{
  g_return_if_fail (FETTLE_IS_SITTING (self));

  fettle_patience_give_up (self->patience);
}

void
fettle_sitting_edit (FettleSitting *self, BookEdit *edit, GAsyncReadyCallback done, gpointer user_data)
{
  fettle_sitting_edit_in (self, NULL, edit, 0, done, user_data);
}

void
fettle_sitting_edit_in (FettleSitting *self, FettleVisit *visit, BookEdit *edit, guint n, GAsyncReadyCallback done, gpointer user_data)
{
  g_autofree char *today = fettle_today ();
  Writing *writing;

  g_return_if_fail (FETTLE_IS_SITTING (self));

  if (!fettle_sitting_may_write (self))
    {
      book_edit_free (edit);
      edit = book_edit_refused (fettle_sitting_reading_sentence ());
    }
  if (visit == NULL)
    fettle_sitting_end_visits (self);
  writing = g_new0 (Writing, 1);
  *writing = (Writing){ g_object_ref (self), visit, n, self->person, done, user_data };
  g_queue_clear (&self->wishes); /* they meant what was there before */
  self->writing++;
  fettle_sitting_expect (self, FALSE);
  book_edit_set_today (edit, today);
  book_edit_run_async (self->book, edit, self->person, self->sitting, NULL, on_edited, writing);
}

gboolean
fettle_sitting_edit_finish (FettleSitting *self, GAsyncResult *result, StoreReceipt *receipt, gint64 *id, GError **error)
{
  return book_edit_run_finish (self->book, result, receipt, id, error);
}
