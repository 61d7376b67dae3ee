/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "patience.h"

#include <glib/gi18n.h>

#define PAUSE_SECONDS 3

typedef struct
{
  BookEdit     *edit;
  GAsyncResult *result;
  gpointer      data;
} Waiting;

struct _FettlePatience
{
  GQueue            waiting; /* of Waiting */
  gpointer          trying;  /* data of the one under way again; NULL: none */
  guint             pause;   /* source */
  gboolean          is_over;
  FettlePatienceRun run;
  FettlePatienceEnd end;
  FettlePatienceSay say;
  gpointer          owner;
};

static gboolean
on_pause (gpointer data)
{
  FettlePatience *self = data;

  self->pause = 0;
  fettle_patience_try (self);
  return G_SOURCE_REMOVE;
}

/* What can be otherwise in a moment. */
static gboolean
is_passing (const GError *error)
{
  return g_error_matches (error, STORE_ERROR, STORE_ERROR_LOCKED) || g_error_matches (error, STORE_ERROR, STORE_ERROR_FULL)
         || g_error_matches (error, STORE_ERROR, STORE_ERROR_READ_ONLY) || g_error_matches (error, STORE_ERROR, STORE_ERROR_IO);
}

gboolean
fettle_patience_takes (FettlePatience *self, GAsyncResult *result, gpointer data)
{
  const GError *error = book_edit_run_error (result);
  g_autofree char *sentence = NULL;
  Waiting *waiting;

  if (error == NULL)
    return FALSE;
  if (self->is_over || !is_passing (error))
    {
      if (self->trying == data)
        self->trying = NULL;
      return FALSE;
    }
  waiting = g_new0 (Waiting, 1);
  waiting->edit = book_edit_run_take_back (result);
  waiting->result = g_object_ref (result);
  waiting->data = data;
  if (self->trying == data)
    g_queue_push_head (&self->waiting, waiting);
  else
    g_queue_push_tail (&self->waiting, waiting);
  self->trying = NULL;
  if (self->pause == 0)
    self->pause = g_timeout_add_seconds (PAUSE_SECONDS, on_pause, self);
  /* Translators: why the book cannot be written, a whole sentence, and what is done about it */
  sentence = g_strdup_printf (_("%s What was typed stays, and storing it is tried again by itself."), error->message);
  self->say (sentence, _("Try Now"), "win.try-again", self->owner);
  return TRUE;
}

void
fettle_patience_try (FettlePatience *self)
{
  g_autofree Waiting *waiting = self->trying == NULL ? g_queue_pop_head (&self->waiting) : NULL;

  if (waiting == NULL)
    return;
  g_clear_handle_id (&self->pause, g_source_remove);
  self->trying = waiting->data;
  g_object_unref (waiting->result);
  self->run (waiting->edit, waiting->data);
}

void
fettle_patience_stored (FettlePatience *self)
{
  gboolean was_trying = self->trying != NULL;

  self->trying = NULL;
  if (!g_queue_is_empty (&self->waiting))
    fettle_patience_try (self);
  else if (was_trying)
    self->say (_("The book can be written again: what waited is stored."), NULL, NULL, self->owner);
}

void
fettle_patience_give_up (FettlePatience *self)
{
  Waiting *waiting;

  self->is_over = TRUE;
  g_clear_handle_id (&self->pause, g_source_remove);
  while ((waiting = g_queue_pop_head (&self->waiting)) != NULL)
    {
      self->end (waiting->result, waiting->data);
      book_edit_free (waiting->edit);
      g_object_unref (waiting->result);
      g_free (waiting);
    }
}

FettlePatience *
fettle_patience_new (FettlePatienceRun run, FettlePatienceEnd end, FettlePatienceSay say, gpointer owner)
{
  FettlePatience *self = g_new0 (FettlePatience, 1);

  g_queue_init (&self->waiting);
  self->run = run;
  self->end = end;
  self->say = say;
  self->owner = owner;
  return self;
}

void
fettle_patience_free (FettlePatience *self)
{
  fettle_patience_give_up (self);
  g_free (self);
}
