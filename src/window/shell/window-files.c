/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that come and go: new, open, copy, import, drop. What a file is, is told by its name: a book, a CSV file of a
 * record, else a measuring sheet.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "application.h"
#include "exchange-import.h"
#include "import-page.h"

/* ---- choosing a file ---- */

static void
on_response (FettleWindow *self, int response, GtkFileChooserNative *chooser)
{
  FettleChosen chosen = (FettleChosen) (void (*) (void)) g_object_get_data (G_OBJECT (chooser), "chosen");
  g_autoptr(GListModel) files = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (chooser));
  g_clear_object (&self->chooser);
  if (files != NULL && g_list_model_get_n_items (files) > 0)
    chosen (self, files);
}

void
fettle_window_add_filter (GtkFileChooserNative *chooser, const char *name, const char *const *patterns)
{
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (guint i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, patterns[i]);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
}

/* A chooser to be shown; NULL when one is open already, which then comes to the front. */
GtkFileChooserNative *
fettle_window_choose_file (FettleWindow *self, const char *title, GtkFileChooserAction action, const char *accept, FettleChosen chosen)
{
  if (self->chooser != NULL)
    {
      gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
      return NULL;
    }

  self->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, accept, _("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (self->chooser), TRUE);
  g_object_set_data (G_OBJECT (self->chooser), "chosen", (gpointer) (void (*) (void)) chosen);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (on_response), self, G_CONNECT_SWAPPED);
  return self->chooser;
}

static const struct
{
  const char *kind;
  const char *pattern;
  const char *elsewhere;
} outputs[] = {
  [FETTLE_OUTPUT_PDF] = { N_("PDF documents"), "*.pdf", N_("A PDF can only be written into a folder of this machine: choose another place.") },
  [FETTLE_OUTPUT_WORKBOOK] = { N_("Workbooks"), "*.xlsx",
                               N_("A workbook can only be written into a folder of this machine: choose another place.") },
};

/* Asks where something that is made goes; @name is offered. */
void
fettle_window_ask_output (FettleWindow *self, FettleOutput output, const char *title, const char *name, FettleChosen chosen)
{
  const char *const patterns[] = { outputs[output].pattern, NULL };
  GtkFileChooserNative *chooser = fettle_window_choose_file (self, title, GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"), chosen);

  if (chooser == NULL)
    return;
  fettle_window_add_filter (chooser, _(outputs[output].kind), patterns);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* Where it goes, with its ending; NULL after saying that it cannot be on this machine. */
char *
fettle_window_output_path (FettleWindow *self, FettleOutput output, GListModel *files)
{
  const char *ending = outputs[output].pattern + 1;
  g_autoptr(GFile) file = g_list_model_get_item (files, 0);
  g_autofree char *path = g_file_get_path (file);

  if (path == NULL)
    {
      fettle_window_say (self, _(outputs[output].elsewhere), NULL, NULL);
      return NULL;
    }
  return g_str_has_suffix (path, ending) ? g_steal_pointer (&path) : g_strconcat (path, ending, NULL);
}

static const char *const book_patterns[] = { "*" BOOK_SUFFIX, NULL };
static const char *const table_patterns[] = { "*.csv", "*.tsv", "*.txt", NULL };

/* A file as a path with the book's ending; NULL after saying that it cannot be on this machine. */
static char *
book_path (FettleWindow *self, GListModel *files, gboolean with_ending)
{
  g_autoptr(GFile) file = g_list_model_get_item (files, 0);
  g_autofree char *path = g_file_get_path (file);

  if (path == NULL)
    {
      fettle_window_say (self, _("A book can only be kept in a folder of this machine: choose another place."), NULL, NULL);
      return NULL;
    }
  if (with_ending && !g_str_has_suffix (path, BOOK_SUFFIX))
    return g_strconcat (path, BOOK_SUFFIX, NULL);
  return g_steal_pointer (&path);
}

static FettleApplication *
application_of (FettleWindow *self)
{
  return FETTLE_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)));
}

static void
new_chosen (FettleWindow *self, GListModel *files)
{
  g_autofree char *path = book_path (self, files, TRUE);

  if (path != NULL)
    fettle_application_open (application_of (self), path, TRUE, GTK_WINDOW (self));
}

void
fettle_window_ask_new (FettleWindow *self)
{
  GtkFileChooserNative *chooser = fettle_window_choose_file (self, _("New Book"), GTK_FILE_CHOOSER_ACTION_SAVE, _("_Make"), new_chosen);

  if (chooser == NULL)
    return;
  fettle_window_add_filter (chooser, _("Fettle books"), book_patterns);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), _("workshop.fettle"));
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
open_chosen (FettleWindow *self, GListModel *files)
{
  g_autofree char *path = book_path (self, files, FALSE);

  if (path != NULL)
    fettle_application_open (application_of (self), path, FALSE, GTK_WINDOW (self));
}

void
fettle_window_ask_open (FettleWindow *self)
{
  GtkFileChooserNative *chooser = fettle_window_choose_file (self, _("Open a Book"), GTK_FILE_CHOOSER_ACTION_OPEN, _("_Open"), open_chosen);

  if (chooser == NULL)
    return;
  fettle_window_add_filter (chooser, _("Fettle books"), book_patterns);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* ---- a copy ---- */

static void
copy_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;

  if (store_save_copy (book_get_store (fettle_sitting_get_book (FETTLE_SITTING (source))), data, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_copied (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  g_autofree char *name = g_filename_display_basename (g_task_get_task_data (G_TASK (result)));
  g_autofree char *said = g_strdup_printf (_("A copy of the book as it stands now is in '%s'."), name);

  if (g_task_propagate_boolean (G_TASK (result), &error))
    fettle_window_say (self, said, NULL, NULL);
  else
    fettle_window_say (self, error->message, _("Choose Another Place…"), "win.save-copy");
}

static void
copy_chosen (FettleWindow *self, GListModel *files)
{
  char *path = book_path (self, files, TRUE);
  g_autoptr(GTask) task = NULL;

  if (path == NULL || self->sitting == NULL)
    return;

  task = g_task_new (self->sitting, NULL, on_copied, g_object_ref (self));
  g_task_set_source_tag (task, copy_chosen);
  g_task_set_task_data (task, path, g_free);
  g_task_run_in_thread (task, copy_work);
}

void
fettle_window_ask_copy (FettleWindow *self)
{
  GtkFileChooserNative *chooser = fettle_window_choose_file (self, _("Save a Copy"), GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"), copy_chosen);
  g_autofree char *base = g_path_get_basename (self->path);
  g_autofree char *name = NULL;
  char *ending = g_strrstr (base, BOOK_SUFFIX);

  if (chooser == NULL)
    return;
  if (ending != NULL)
    *ending = '\0';
  name = g_strdup_printf (_("%s copy.fettle"), base);
  fettle_window_add_filter (chooser, _("Fettle books"), book_patterns);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* ---- import ---- */

typedef struct
{
  char **paths;
  gint64 person;
  gint64 sitting;
} Import;

static void
import_free (gpointer data)
{
  Import *import = data;

  g_strfreev (import->paths);
  g_free (import);
}

static void
import_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Import *import = data;
  ExchangeImportOptions options = { .person = import->person, .sitting = import->sitting };
  g_autoptr(ExchangeImportReport) report = NULL;
  GError *error = NULL;

  if (!exchange_import (fettle_sitting_get_book (FETTLE_SITTING (source)), (const char *const *) import->paths,
                        &options, &report, cancellable, &error)
      && (report == NULL || report->n_problems == 0))
    {
      g_task_return_error (task, error);
      return;
    }
  g_clear_error (&error); /* what is wrong stands in the report, row by row */
  g_task_return_pointer (task, g_steal_pointer (&report), (GDestroyNotify) exchange_import_report_free);
}

static char *
report_words (const ExchangeImportReport *report)
{
  guint inserted = 0, equal = 0;

  if (report->n_problems == 1)
    return g_strdup_printf (_("Nothing was stored; one row is wrong: %s"), (char *) g_ptr_array_index (report->problems, 0));
  if (report->n_problems > 1)
    return g_strdup_printf (ngettext ("Nothing was stored; %u row is wrong, the first: %s",
                                      "Nothing was stored; %u rows are wrong, the first: %s", report->n_problems),
                            report->n_problems, (char *) g_ptr_array_index (report->problems, 0));

  for (guint i = 0; i < report->files->len; i++)
    {
      const ExchangeImportFile *file = g_ptr_array_index (report->files, i);

      inserted += file->inserted;
      equal += file->equal;
    }
  if (inserted == 0)
    return g_strdup_printf (ngettext ("The book has this row already: %u.", "The book has these rows already: %u.", equal), equal);
  return g_strdup_printf (ngettext ("%u row came into the book.", "%u rows came into the book.", inserted), inserted);
}

static void
on_imported (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeImportReport) report = g_task_propagate_pointer (G_TASK (result), &error);
  g_autofree char *said = NULL;

  if (report == NULL)
    {
      fettle_window_say (self, error->message, NULL, NULL);
      return;
    }
  said = report_words (report);
  if (report->stored)
    fettle_window_say (self, said, _("Undo"), "win.undo-book");
  else
    fettle_window_say (self, said, NULL, NULL);
  fettle_sitting_look (FETTLE_SITTING (source));
}

static void
import_paths (FettleWindow *self, const char *const *paths)
{
  g_autoptr(GTask) task = NULL;
  Import *import;

  if (!fettle_sitting_may_write (self->sitting))
    return;
  task = g_task_new (self->sitting, NULL, on_imported, g_object_ref (self));
  import = g_new0 (Import, 1);
  import->paths = g_strdupv ((char **) paths);
  import->person = fettle_sitting_get_person (self->sitting);
  import->sitting = fettle_sitting_get_key (self->sitting);
  g_task_set_source_tag (task, import_paths);
  g_task_set_task_data (task, import, import_free);
  g_task_run_in_thread (task, import_work);
  fettle_window_say (self, _("What was chosen is being read."), NULL, NULL);
}

/* Whether it is a folder, or a file that is called after a record: unit.csv. */
static gboolean
is_record_file (const char *path)
{
  g_autofree char *name = g_path_get_basename (path);
  char *dot = strrchr (name, '.');

  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    return TRUE;
  if (dot == NULL || g_ascii_strcasecmp (dot, ".csv") != 0)
    return FALSE;
  *dot = '\0';
  return book_record_find (name) != NULL;
}

/* What was chosen, dropped or named: a book opens, a folder of records is imported, rows and sheets are shown first. */
void
fettle_window_take_file (FettleWindow *self, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);

  if (path == NULL)
    fettle_window_say (self, _("This file is not on this machine: copy it to a folder first."), NULL, NULL);
  else if (g_str_has_suffix (path, BOOK_SUFFIX))
    fettle_application_open (application_of (self), path, FALSE, GTK_WINDOW (self));
  else if (self->sitting == NULL)
    fettle_window_say (self, _("A file is read into a book: make or open one first."), _("New Book…"), "win.new");
  else if (g_file_test (path, G_FILE_TEST_IS_DIR))
    import_paths (self, (const char *const[]){ path, NULL });
  else
    fettle_window_take_rows_file (self, path);
}

/* Several record files at once are one import, so that they may refer to one another. */
static void
take_files (FettleWindow *self, GListModel *files)
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) paths = NULL;
  guint n = g_list_model_get_n_items (files), n_records = 0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr(GFile) file = g_list_model_get_item (files, i);
      g_autofree char *path = g_file_get_path (file);

      if (path == NULL || !is_record_file (path))
        continue;
      g_strv_builder_add (builder, path);
      n_records++;
    }
  if (n > 1 && n_records == n && self->sitting != NULL)
    {
      paths = g_strv_builder_end (builder);
      import_paths (self, (const char *const *) paths);
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      g_autoptr(GFile) file = g_list_model_get_item (files, i);

      fettle_window_take_file (self, file);
    }
}

void
fettle_window_ask_import (FettleWindow *self)
{
  int page = fettle_page_kind_find ("import");
  gboolean waits = self->pages[page] != NULL && self->page != page && fettle_import_page_has_rows (FETTLE_IMPORT_PAGE (self->pages[page]));
  GtkFileChooserNative *chooser = NULL;

  if (waits) /* rows wait there to be mended */
    {
      fettle_window_show_page (self, page);
      return;
    }
  chooser = fettle_window_choose_file (self, _("Import"), GTK_FILE_CHOOSER_ACTION_OPEN, _("_Import"), take_files);
  if (chooser == NULL)
    return;
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (chooser), TRUE);
  fettle_window_add_filter (chooser, _("Tables (CSV, text)"), table_patterns);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* ---- drop ---- */

static gboolean
on_drop (FettleWindow *self, const GValue *value, double x, double y)
{
  g_autoptr(GListStore) files = g_list_store_new (G_TYPE_FILE);

  if (G_VALUE_HOLDS (value, G_TYPE_FILE))
    g_list_store_append (files, g_value_get_object (value));
  else
    for (GSList *item = g_value_get_boxed (value); item != NULL; item = item->next)
      g_list_store_append (files, item->data);
  take_files (self, G_LIST_MODEL (files));
  return TRUE;
}

static GdkDragAction
on_enter (FettleWindow *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self->stack), "drop-here");
  return GDK_ACTION_COPY;
}

static void
on_leave (FettleWindow *self)
{
  gtk_widget_remove_css_class (GTK_WIDGET (self->stack), "drop-here");
}

void
fettle_window_set_up_drop (FettleWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY);

  gtk_drop_target_set_gtypes (target, (GType[]){ GDK_TYPE_FILE_LIST, G_TYPE_FILE }, 2);
  g_signal_connect_swapped (target, "drop", G_CALLBACK (on_drop), self);
  g_signal_connect_swapped (target, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect_swapped (target, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
