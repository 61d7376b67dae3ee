/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pages on their way: set and drawn by a reader of their own in a thread, so that the window goes on answering, then written into
 * a file or handed to a printer. The bar says how far it is and can stop it. One at a time in a window.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "paper-letter.h"
#include "paper-print.h"
#include "progress.h"
#include "store-reader.h"
#include "window-making.h"

struct _FettleMaking
{
  char             *title;
  FettleMakingDraw  draw;  /* one of the two */
  FettleMakingWrite write;
  gpointer          ask;
  GDestroyNotify    free_ask;
  char             *path; /* NULL: to a printer */
  GPtrArray        *sheets;
  PaperShape        shape;
  FettleWindow     *window; /* held by the callback of the task */
  FettleProgress   *progress;
};

FettleMaking *
fettle_making_new (const char *title, FettleMakingDraw draw, gpointer ask, GDestroyNotify free_ask)
{
  FettleMaking *making = g_new0 (FettleMaking, 1);

  making->title = g_strdup (title);
  making->draw = draw;
  making->ask = ask;
  making->free_ask = free_ask;
  return making;
}

FettleMaking *
fettle_making_new_file (const char *title, FettleMakingWrite write, gpointer ask, GDestroyNotify free_ask)
{
  FettleMaking *making = fettle_making_new (title, NULL, ask, free_ask);

  making->write = write;
  return making;
}

static void
making_free (gpointer data)
{
  FettleMaking *making = data;

  making->free_ask (making->ask);
  g_free (making->title);
  g_free (making->path);
  g_clear_pointer (&making->sheets, g_ptr_array_unref);
  fettle_progress_unref (making->progress);
  g_free (making);
}

/* ---- how far it is ---- */

static void
say_progress (double share, gpointer task)
{
  const FettleMaking *making = g_task_get_task_data (task);
  /* Translators: a document, and how much of it is done */
  g_autofree char *said = g_strdup_printf (_("%s: %u %% is done."), making->title, fettle_progress_percent (share));

  if (making->window->sitting != NULL)
    fettle_window_say (making->window, said, _("Stop"), "win.stop-letter");
}

void
fettle_making_tell (guint64 done, guint64 total, gpointer data)
{
  const FettleMaking *making = data;

  if (making->progress != NULL && done > 0 && done < total)
    fettle_progress_tell (making->progress, (double) done / (double) total);
}

/* ---- the work ---- */

static gpointer
draw (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  FettleMaking *making = data;
  g_autoptr(PaperDocument) document = NULL;

  if (making->write != NULL)
    return making->write (db, making->ask, making, cancellable, error);
  document = making->draw (db, making->ask, making, cancellable, error);
  if (document == NULL)
    return NULL;
  if (making->path != NULL)
    return paper_document_to_pdf (document, cancellable, error);
  paper_document_get_shape (document, &making->shape);
  making->sheets = paper_document_to_sheets (document);
  return making->sheets;
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  FettleMaking *making = data;
  GError *error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (book_get_store (fettle_sitting_get_book (FETTLE_SITTING (source))), &error);
  gpointer made = reader != NULL ? store_reader_run (reader, draw, making, cancellable, &error) : NULL;
  gboolean is_done = made != NULL && !g_cancellable_set_error_if_cancelled (cancellable, &error)
                     && (making->path == NULL || paper_save (made, making->path, &error));

  if (made != NULL && making->path != NULL)
    g_bytes_unref (made);
  if (is_done)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
say_not_printed (FettleWindow *self, const GError *error)
{
  g_autofree char *said = g_strdup_printf (_("It could not be printed: look whether the printer is there, or save it as PDF. (%s)"),
                                           error->message);

  fettle_window_say (self, said, NULL, NULL);
}

static void
on_printed (GtkPrintOperation *operation, GtkPrintOperationResult result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  if (result != GTK_PRINT_OPERATION_RESULT_ERROR) /* only then there is an error to be asked for */
    return;
  gtk_print_operation_get_error (operation, &error);
  say_not_printed (data, error);
}

static void
print (FettleWindow *self, const FettleMaking *making)
{
  const FettleModel *model = fettle_window_get_model (self);
  g_autofree char *name = g_strdup_printf ("%s, %s", making->title, model != NULL ? model->code : "");
  g_autoptr(GtkPrintOperation) operation = fettle_paper_print_new (name, making->sheets, &making->shape);
  g_autoptr(GError) error = NULL;

  fettle_message_bar_hide (self->message_bar);
  g_signal_connect_object (operation, "done", G_CALLBACK (on_printed), self, 0);
  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (self), &error)
          == GTK_PRINT_OPERATION_RESULT_ERROR
      && error != NULL)
    say_not_printed (self, error);
}

static void
on_made (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  const FettleMaking *making = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;

  fettle_progress_end (making->progress); /* something else, or nothing, is on its way next */
  g_clear_object (&self->writing);
  if (self->sitting == NULL)
    return; /* the book was left meanwhile */
  fettle_window_update_actions (self);
  if (g_task_propagate_boolean (G_TASK (result), &error))
    {
      g_autofree char *name = making->path != NULL ? g_filename_display_basename (making->path) : NULL;
      /* Translators: a kind of paper, and a file */
      g_autofree char *said = name != NULL ? g_strdup_printf (_("%s: it is in '%s'."), making->title, name) : NULL;

      if (said != NULL)
        fettle_window_say (self, said, NULL, NULL);
      else
        print (self, making);
    }
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_window_say (self, _("The paper was stopped, and nothing was printed or written."), NULL, NULL);
  else
    fettle_window_say (self, error->message, NULL, NULL);
}

/**
 * fettle_window_make:
 * @self: a window with a book, where nothing is on its way
 * @making: (transfer full): what is made
 * @path: (transfer full) (nullable): into which file; to a printer when there is none
 */
void
fettle_window_make (FettleWindow *self, FettleMaking *making, char *path)
{
  g_autoptr(GTask) task = NULL;
  g_autofree char *said = g_strdup_printf (_("%s: it is being made."), making->title);

  making->path = path;
  self->writing = g_cancellable_new ();
  making->window = self;
  task = g_task_new (self->sitting, self->writing, on_made, g_object_ref (self));
  making->progress = fettle_progress_new (say_progress, task);
  g_task_set_source_tag (task, fettle_window_make);
  g_task_set_check_cancellable (task, FALSE); /* stopped too late, it is there and is said to be */
  g_task_set_task_data (task, making, making_free);
  fettle_window_say (self, said, _("Stop"), "win.stop-letter");
  fettle_window_update_actions (self);
  g_task_run_in_thread (task, work);
}
