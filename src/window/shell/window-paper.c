/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Paper for the bench: about what is chosen on the page in view, else about the round chosen on the strip, to a printer or into
 * a file. It is read and drawn by a reader of its own in a thread; the bar says so and can stop it.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "paper-bench.h"
#include "paper-letter.h"
#include "paper-print.h"
#include "store-reader.h"
#include "today.h"

/* What can be put on paper: about which record, and by which word actions name it. */
static const struct
{
  const char    *word;
  const char    *record;
  const char    *label; /* NULL: the paper's title */
  PaperBenchKind kind;
} papers[] = {
  { "unit-card", "unit", NULL, PAPER_BENCH_UNIT_CARD },
  { "change-notice", "change", NULL, PAPER_BENCH_CHANGE_NOTICE },
  { "issue-card", "issue", NULL, PAPER_BENCH_ISSUE_CARD },
  { "build-list", "round", NULL, PAPER_BENCH_BUILD_LIST },
  { "measuring-sheet", "round", NULL, PAPER_BENCH_MEASURING_SHEET },
  { "unit-cards", "round", N_("Cards of All Units"), PAPER_BENCH_UNIT_CARD },
  { "tally-sheet", "round", NULL, PAPER_BENCH_TALLY_SHEET },
};

/* One paper on its way. */
typedef struct
{
  PaperBenchAsk ask;
  char         *today;
  char         *path; /* NULL: to a printer */
  GPtrArray    *sheets;
  PaperShape    shape;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  g_free (job->today);
  g_free (job->path);
  g_clear_pointer (&job->sheets, g_ptr_array_unref);
  g_free (job);
}

/* The record of that name that is chosen; of rounds, when the page has none, the one of the strip. 0: none. */
static gint64
chosen_key (FettleWindow *self, const char *wanted)
{
  const char *record = NULL;
  gint64 key = 0;

  if (self->page >= 0 && self->pages[self->page] != NULL && fettle_page_get_place (FETTLE_PAGE (self->pages[self->page]), &record, &key)
      && g_str_equal (record, wanted))
    return key;
  return g_str_equal (wanted, "round") ? self->span.to : 0;
}

/* Fills in what a word asks for; FALSE when nothing fitting is chosen. */
static gboolean
fill_ask (FettleWindow *self, const char *word, PaperBenchAsk *ask)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_str_equal (papers[i].word, word))
      {
        gint64 key = chosen_key (self, papers[i].record);

        *ask = (PaperBenchAsk) { .kind = papers[i].kind, .model = self->span.model, .size = PAPER_BENCH_SIZE_OF_BOOK };
        if (g_str_equal (papers[i].record, "round"))
          ask->round = key;
        else if (g_str_equal (papers[i].record, "unit"))
          ask->unit = key;
        else if (g_str_equal (papers[i].record, "change"))
          ask->change = key;
        else
          ask->issue = key;
        return key != 0;
      }
  return FALSE;
}

static gpointer
draw (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  Job *job = data;
  g_autoptr(PaperDocument) document = paper_bench_document (db, &job->ask, cancellable, error);

  if (document == NULL)
    return NULL;
  if (job->path != NULL)
    return paper_document_to_pdf (document, cancellable, error);
  paper_document_get_shape (document, &job->shape);
  job->sheets = paper_document_to_sheets (document);
  return job->sheets;
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (book_get_store (fettle_sitting_get_book (FETTLE_SITTING (source))), &error);
  gpointer made = reader != NULL ? store_reader_run (reader, draw, job, cancellable, &error) : NULL;
  gboolean is_done = made != NULL && (job->path == NULL || paper_save (made, job->path, &error));

  if (made != NULL && job->path != NULL)
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
print (FettleWindow *self, const Job *job)
{
  const FettleModel *model = fettle_window_get_model (self);
  g_autofree char *name = g_strdup_printf ("%s, %s", paper_bench_title (job->ask.kind), model != NULL ? model->code : "");
  g_autoptr(GtkPrintOperation) operation = fettle_paper_print_new (name, job->sheets, &job->shape);
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
  const Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;

  g_clear_object (&self->writing);
  if (self->sitting == NULL)
    return; /* the book was left meanwhile */
  fettle_window_update_actions (self);
  if (g_task_propagate_boolean (G_TASK (result), &error))
    {
      g_autofree char *name = job->path != NULL ? g_filename_display_basename (job->path) : NULL;
      /* Translators: a kind of paper, and a file */
      g_autofree char *said = name != NULL ? g_strdup_printf (_("%s: it is in '%s'."), paper_bench_title (job->ask.kind), name) : NULL;

      if (said != NULL)
        fettle_window_say (self, said, NULL, NULL);
      else
        print (self, job);
    }
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_window_say (self, _("The paper was stopped, and nothing was printed or written."), NULL, NULL);
  else
    fettle_window_say (self, error->message, NULL, NULL);
}

/* @path: (transfer full) (nullable): to a printer when there is none. */
static void
make (FettleWindow *self, const PaperBenchAsk *ask, char *path)
{
  g_autoptr(GTask) task = NULL;
  g_autofree char *said = NULL;
  Job *job = g_new0 (Job, 1);

  job->ask = *ask;
  job->path = path;
  job->today = fettle_today ();
  job->ask.today = job->today;
  self->writing = g_cancellable_new ();
  task = g_task_new (self->sitting, self->writing, on_made, g_object_ref (self));
  g_task_set_source_tag (task, make);
  g_task_set_task_data (task, job, job_free);
  said = g_strdup_printf (_("%s: it is being made."), paper_bench_title (ask->kind));
  fettle_window_say (self, said, _("Stop"), "win.stop-letter");
  fettle_window_update_actions (self);
  g_task_run_in_thread (task, work);
}

static void
path_chosen (FettleWindow *self, GListModel *files)
{
  char *path;

  if (self->sitting == NULL || self->writing != NULL)
    return;
  path = fettle_window_pdf_path (self, files);
  if (path != NULL)
    make (self, self->paper, path);
}

/**
 * fettle_window_ask_paper:
 * @self: a window
 * @word: which paper, as its menu names it
 * @into_file: save it as PDF; else print it
 */
void
fettle_window_ask_paper (FettleWindow *self, const char *word, gboolean into_file)
{
  const FettleModel *model = fettle_window_get_model (self);
  PaperBenchAsk ask;

  if (model == NULL || self->writing != NULL)
    return;
  if (!fill_ask (self, word, &ask))
    {
      fettle_window_say (self, _("Choose first what the paper is about: a round, a unit, an issue or a change."), NULL, NULL);
      return;
    }
  if (into_file)
    {
      g_autofree char *today = fettle_today ();
      g_autofree char *name = paper_bench_file_name (ask.kind, model->code, NULL, today);

      g_free (self->paper);
      self->paper = g_memdup2 (&ask, sizeof ask);
      fettle_window_ask_pdf (self, paper_bench_title (ask.kind), name, path_chosen);
    }
  else
    make (self, &ask, NULL);
}

static void
append_part (FettleWindow *self, GMenu *menu, const char *heading, const char *action)
{
  g_autoptr(GMenu) part = g_menu_new ();

  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      g_autofree char *label = NULL;
      g_autoptr(GMenuItem) item = NULL;

      if (chosen_key (self, papers[i].record) == 0)
        continue;
      label = g_strdup_printf ("%s…", papers[i].label != NULL ? _(papers[i].label) : paper_bench_title (papers[i].kind));
      item = g_menu_item_new (label, NULL);
      g_menu_item_set_action_and_target (item, action, "s", papers[i].word);
      g_menu_append_item (part, item);
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (part)) > 0)
    g_menu_append_section (menu, heading, G_MENU_MODEL (part));
}

/**
 * fettle_window_paper_menu:
 * @self: a window
 *
 * Returns: (transfer full): what can be put on paper from where the window is now, the chosen thing's own first
 */
GMenu *
fettle_window_paper_menu (FettleWindow *self)
{
  GMenu *menu = g_menu_new ();

  if (self->sitting != NULL)
    {
      append_part (self, menu, _("Print"), "win.print-paper");
      append_part (self, menu, _("Save as PDF"), "win.save-paper");
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (menu)) == 0)
    g_menu_append (menu, _("Nothing is chosen yet"), "win.nothing");
  return menu;
}
