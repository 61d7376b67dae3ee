/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "demo.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#include "book-record.h"
#include "exchange-import.h"

/* The folder with the demo's files: installed, or in the source tree above the build folder. */
static char *
find_data (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = program == NULL ? NULL : g_path_get_dirname (program);
  const char *named = g_getenv ("FETTLE_DEMO_DIR");
  char *candidates[] = { g_strdup (named),
                         g_build_filename (FETTLE_PKGDATADIR, "demo", "data", NULL),
                         folder == NULL ? NULL : g_build_filename (folder, "..", "..", "..", "demo", "data", NULL) };
  char *found = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (candidates); i++)
    {
      g_autofree char *model = candidates[i] == NULL ? NULL : g_build_filename (candidates[i], "model.csv", NULL);

      if (found == NULL && model != NULL && g_file_test (model, G_FILE_TEST_EXISTS))
        found = g_steal_pointer (&candidates[i]);
      g_free (candidates[i]);
    }
  return found;
}

gboolean
fettle_demo_is_there (void)
{
  g_autofree char *data = find_data ();

  return data != NULL;
}

static char *
demo_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "fettle", "demo" BOOK_SUFFIX, NULL);
}

static gboolean
import_folder (Book *book, const char *folder, const ExchangeImportOptions *options, GError **error)
{
  g_autoptr(ExchangeImportReport) report = NULL;

  if (!exchange_import (book, (const char *const[]){ folder, NULL }, options, &report, NULL, error))
    return FALSE;
  if (report->n_problems == 0)
    return TRUE;
  g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED, g_ptr_array_index (report->problems, 0));
  return FALSE;
}

/* One step of the last days: a folder named like 1-TK, after who entered it. */
static gboolean
import_step (Book *book, const char *later, const char *name, GError **error)
{
  g_autofree char *folder = g_build_filename (later, name, NULL);
  const char *initials = strrchr (name, '-');
  StoreDb *db = store_front_db (book_get_store (book), error);
  ExchangeImportOptions options = { .update = TRUE, .sitting = store_new_sitting () };

  return db != NULL
         && (initials == NULL
             || book_record_find_text (db, book_record (BOOK_RECORD_PERSON), initials + 1, &options.person, error))
         && import_folder (book, folder, &options, error);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The steps beside the data, in order of their names, so that the history has something to tell. */
static gboolean
import_later (Book *book, const char *data, GError **error)
{
  g_autofree char *later = g_build_filename (data, "..", "later", NULL);
  g_autoptr(GDir) folder = g_dir_open (later, 0, NULL);
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  gboolean good = TRUE;

  for (const char *name = NULL; folder != NULL && (name = g_dir_read_name (folder)) != NULL;)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names);
  for (guint i = 0; good && i < names->len; i++)
    good = import_step (book, later, g_ptr_array_index (names, i), error);
  return good;
}

static gboolean
make_book (const char *path, const char *data, GError **error)
{
  g_autoptr(Book) book = book_create (path, NULL, error);
  const ExchangeImportOptions options = { .sitting = store_new_sitting () };

  return book != NULL && import_folder (book, data, &options, error) && import_later (book, data, error)
         && book_close (g_steal_pointer (&book), error);
}

static void
demo_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autofree char *path = demo_path ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *files = find_data ();
  GError *error = NULL;

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_task_return_pointer (task, g_steal_pointer (&path), g_free);
      return;
    }
  g_mkdir_with_parents (folder, 0700);
  if (files != NULL && make_book (path, files, &error))
    {
      g_task_return_pointer (task, g_steal_pointer (&path), g_free);
      return;
    }
  g_unlink (path);
  if (error == NULL)
    g_set_error_literal (&error, BOOK_ERROR, BOOK_ERROR_MISSING, _("The files of the demo are not there any more."));
  g_task_return_error (task, error);
}

static void
on_made (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) beside = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  g_autofree char *path = g_task_propagate_pointer (G_TASK (result), &error);

  if (path == NULL)
    fettle_window_say (beside, error->message, NULL, NULL);
  else
    fettle_application_open (FETTLE_APPLICATION (source), path, FALSE, GTK_WINDOW (beside));
}

/**
 * fettle_demo_open:
 * @application: the program
 * @beside: a window, which is used if it has no book
 *
 * Opens the demo's book in the user's data folder, making it the first time.
 */
void
fettle_demo_open (FettleApplication *application, FettleWindow *beside)
{
  g_autoptr(GTask) task = g_task_new (application, NULL, on_made, g_object_ref (beside));

  g_task_set_source_tag (task, fettle_demo_open);
  g_task_run_in_thread (task, demo_work);
}
