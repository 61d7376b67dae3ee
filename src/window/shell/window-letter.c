/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The letters: to the designer, about the rounds chosen on the strip; to a supplier, about the model. Each goes into a file that
 * is chosen, and is read and drawn by a reader and in a thread of its own, so that pages go on answering; the bar says so and
 * can stop it.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "paper-letter.h"
#include "paper-supplier.h"
#include "progress.h"
#include "store-reader.h"
#include "today.h"

typedef struct
{
  PaperLetterAsk   ask;
  PaperSupplierAsk to_supplier; /* its supplier is 0: the letter is to the designer */
  char            *today;
  char            *path;
  FettleWindow    *window; /* held by the callback of the task */
  FettleProgress  *progress;
} Writing;

static void
writing_free (gpointer data)
{
  Writing *writing = data;

  g_free (writing->today);
  g_free (writing->path);
  fettle_progress_unref (writing->progress);
  g_free (writing);
}

static void
say_progress (double share, gpointer task)
{
  const Writing *writing = g_task_get_task_data (task);
  g_autofree char *said = g_strdup_printf (writing->to_supplier.supplier != 0 ? _("The letter to the supplier is being written: %u %% is done.")
                                                                              : _("The letter to the designer is being written: %u %% is done."),
                                           fettle_progress_percent (share));

  if (writing->window->sitting != NULL)
    fettle_window_say (writing->window, said, _("Stop"), "win.stop-letter");
}

static void
tell_progress (guint64 done, guint64 total, gpointer data)
{
  const Writing *writing = data;

  if (done > 0 && done < total)
    fettle_progress_tell (writing->progress, (double) done / (double) total);
}

static gpointer
write_letter (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Writing *writing = data;

  return writing->to_supplier.supplier != 0 ? paper_supplier_write (db, &writing->to_supplier, cancellable, error)
                                            : paper_letter_write (db, &writing->ask, cancellable, error);
}

static void
letter_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Writing *writing = data;
  GError *error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (book_get_store (fettle_sitting_get_book (FETTLE_SITTING (source))), &error);
  g_autoptr(GBytes) pdf = reader != NULL ? store_reader_run (reader, write_letter, writing, cancellable, &error) : NULL;

  if (pdf != NULL && paper_save (pdf, writing->path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  const Writing *writing = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;
  g_autofree char *name = g_filename_display_basename (writing->path);
  const gboolean to_supplier = writing->to_supplier.supplier != 0;
  g_autofree char *said = g_strdup_printf (to_supplier ? _("The letter to the supplier is in '%s'.") : _("The letter to the designer is in '%s'."),
                                           name);

  fettle_progress_end (writing->progress); /* another letter, or none, is on its way next */
  g_clear_object (&self->writing);
  if (self->sitting == NULL)
    return; /* the book was left meanwhile */
  if (g_task_propagate_boolean (G_TASK (result), &error))
    fettle_window_say (self, said, NULL, NULL);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_window_say (self, _("The letter was stopped, and nothing was written."), NULL, NULL);
  else if (error->domain == PAPER_ERROR)
    fettle_window_say (self, error->message, NULL, NULL);
  else
    fettle_window_say (self, error->message, _("Choose Another Place…"), to_supplier ? "win.suppliers" : "win.letter");
  fettle_window_update_actions (self);
}

/* @supplier: 0: to the designer */
static void
begin_writing (FettleWindow *self, GListModel *files, gint64 supplier)
{
  g_autoptr(GTask) task = NULL;
  Writing *writing;
  char *path;

  if (self->sitting == NULL || self->writing != NULL)
    return;
  path = fettle_window_output_path (self, FETTLE_OUTPUT_PDF, files);
  if (path == NULL)
    return;
  writing = g_new0 (Writing, 1);
  writing->path = path;
  writing->today = fettle_today ();
  writing->ask = (PaperLetterAsk) {
    .model = self->span.model,
    .from = self->span.from == self->span.to ? 0 : self->span.from, /* one round: set against the one before it */
    .to = self->span.to,
    .today = writing->today,
    .progress = tell_progress,
    .progress_data = writing,
  };
  writing->to_supplier = (PaperSupplierAsk) {
    .model = self->span.model,
    .supplier = supplier,
    .today = writing->today,
    .progress = tell_progress,
    .progress_data = writing,
  };

  self->writing = g_cancellable_new ();
  writing->window = self;
  task = g_task_new (self->sitting, self->writing, on_written, g_object_ref (self));
  writing->progress = fettle_progress_new (say_progress, task);
  g_task_set_source_tag (task, begin_writing);
  g_task_set_task_data (task, writing, writing_free);
  fettle_window_say (self, supplier != 0 ? _("The letter to the supplier is being written.") : _("The letter to the designer is being written."),
                     _("Stop"), "win.stop-letter");
  fettle_window_update_actions (self);
  g_task_run_in_thread (task, letter_work);
}

static void
letter_chosen (FettleWindow *self, GListModel *files)
{
  begin_writing (self, files, 0);
}

static void
supplier_letter_chosen (FettleWindow *self, GListModel *files)
{
  begin_writing (self, files, self->letter_to);
}

void
fettle_window_ask_letter (FettleWindow *self)
{
  const FettleModel *model = fettle_window_get_model (self);
  g_autofree char *today = fettle_today ();
  g_autofree char *name = NULL;

  if (model == NULL || self->writing != NULL)
    return;
  name = paper_letter_name (model->code, today);
  fettle_window_ask_output (self, FETTLE_OUTPUT_PDF, _("Letter to the Designer"), name, letter_chosen);
}

void
fettle_window_ask_supplier_letter (FettleWindow *self, gint64 supplier)
{
  const FettleModel *model = fettle_window_get_model (self);
  g_autofree char *today = fettle_today ();

  if (model == NULL || self->writing != NULL || self->facts == NULL)
    return;
  for (guint i = 0; i < self->facts->n_suppliers; i++)
    if (self->facts->suppliers[i].key == supplier)
      {
        g_autofree char *name = paper_supplier_name (model->code, self->facts->suppliers[i].name, today);

        self->letter_to = supplier;
        fettle_window_ask_output (self, FETTLE_OUTPUT_PDF, _("Letter to a Supplier"), name, supplier_letter_chosen);
        return;
      }
}

/* (transfer full): those whom a letter can go to, by name. */
GMenu *
fettle_window_supplier_menu (FettleWindow *self)
{
  GMenu *menu = g_menu_new ();

  for (guint i = 0; self->facts != NULL && i < self->facts->n_suppliers; i++)
    {
      g_auto(GStrv) pieces = g_strsplit (self->facts->suppliers[i].name, "_", -1);
      g_autofree char *name = g_strjoinv ("__", pieces); /* a line below a letter begins a mnemonic */
      g_autofree char *label = g_strdup_printf ("%s…", name);
      g_autoptr(GMenuItem) item = g_menu_item_new (label, NULL);

      g_menu_item_set_action_and_target (item, "win.supplier-letter", "x", self->facts->suppliers[i].key);
      g_menu_append_item (menu, item);
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (menu)) == 0)
    g_menu_append (menu, _("The book has no supplier yet"), "win.nothing");
  return menu;
}

void
fettle_window_stop_letter (FettleWindow *self)
{
  if (self->writing != NULL)
    g_cancellable_cancel (self->writing);
}
