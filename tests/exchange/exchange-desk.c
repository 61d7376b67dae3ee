/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange-desk.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

static void
remove_all (const char *path)
{
  g_autoptr(GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      remove_all (inner);
    }
  g_remove (path);
}

static void
create_book (Desk *desk)
{
  g_autofree char *path = g_build_filename (desk->folder, "book.fettle", NULL);
  g_autoptr(GError) error = NULL;

  g_remove (path);
  desk->book = book_create (path, &desk->options, &error);
  g_assert_no_error (error);
}

void
desk_open (Desk *desk, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;

  memset (desk, 0, sizeof *desk);
  desk->folder = g_dir_make_tmp ("fettle-desk-XXXXXX", &error);
  g_assert_no_error (error);
  desk->files = g_build_filename (desk->folder, "in", NULL);
  g_assert_cmpint (g_mkdir (desk->files, 0700), ==, 0);
  desk->options.state_folder = g_build_filename (desk->folder, "state", NULL);
  create_book (desk);
}

void
desk_close (Desk *desk, gconstpointer unused)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (book_close (desk->book, &error));
  g_assert_no_error (error);
  remove_all (desk->folder);
  g_free (desk->folder);
  g_free (desk->files);
  g_free ((char *) desk->options.state_folder);
}

void
desk_change_book (Desk *desk)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (book_close (desk->book, &error));
  create_book (desk);
}

void
desk_put_bytes (Desk *desk, const char *name, const char *bytes, gsize length)
{
  g_autofree char *path = g_build_filename (desk->files, name, NULL);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr(GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_file_set_contents (path, bytes, (gssize) length, &error);
  g_assert_no_error (error);
}

void
desk_put (Desk *desk, const char *name, const char *text)
{
  desk_put_bytes (desk, name, text, strlen (text));
}

void
desk_clear (Desk *desk)
{
  remove_all (desk->files);
  g_assert_cmpint (g_mkdir (desk->files, 0700), ==, 0);
}

void
desk_put_base (Desk *desk)
{
  desk_put (desk, "model.csv", "code,name\nA,Anvil\n");
  desk_put (desk, "person.csv", "initials,role,name\nKB,maker,Kay B\nLN,inspector,\n");
  desk_put (desk, "round.csv", "model,label,kind\nA,P1,prototype\n");
  desk_put (desk, "unit.csv", "model,round,serial\nA,P1,U1\nA,P1,U2\n");
  desk_put (desk, "characteristic.csv", "model,code,name,kind,unit\nA,W,Width,measured,mm\nA,L,Lock holds,checked,\n");
}

/* Sentences name files by their path; the folder differs from run to run. */
static void
cut_folder (GString *text, const Desk *desk)
{
  g_autofree char *prefix = g_strconcat (desk->files, "/", NULL);

  g_string_replace (text, prefix, "", 0);
  g_string_replace (text, desk->files, "IN", 0);
}

char *
desk_import (Desk *desk, const ExchangeImportOptions *options)
{
  static const ExchangeImportOptions plain = { 0 };
  const char *paths[] = { desk->files, NULL };
  g_autoptr(ExchangeImportReport) report = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(GString) out = g_string_new (NULL);
  gboolean good = exchange_import (desk->book, paths, options != NULL ? options : &plain, &report, NULL, &error);

  g_assert_true (good == (error == NULL));
  for (guint i = 0; i < report->problems->len; i++)
    g_string_append_printf (out, "%s\n", (const char *) g_ptr_array_index (report->problems, i));
  if (error != NULL)
    g_string_append_printf (out, "%s\n", error->message);
  for (guint i = 0; i < report->files->len; i++)
    {
      const ExchangeImportFile *file = g_ptr_array_index (report->files, i);

      if (file->inserted > 0 && good)
        g_string_append_printf (out, "%s +%u\n", file->record->name, file->inserted);
      if (file->updated > 0 && good)
        g_string_append_printf (out, "%s ~%u\n", file->record->name, file->updated);
      if (file->equal > 0 && good)
        g_string_append_printf (out, "%s =%u\n", file->record->name, file->equal);
      if (file->rejected > 0 && good)
        g_string_append_printf (out, "%s !%u\n", file->record->name, file->rejected);
    }
  g_assert_true (good || !report->stored);
  cut_folder (out, desk);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

void
desk_do (Desk *desk)
{
  static const ExchangeImportOptions plain = { 0 };
  const char *paths[] = { desk->files, NULL };
  g_autoptr(ExchangeImportReport) report = NULL;
  g_autoptr(GError) error = NULL;

  exchange_import (desk->book, paths, &plain, &report, NULL, &error);
  for (guint i = 0; i < report->problems->len; i++)
    g_test_message ("%s", (const char *) g_ptr_array_index (report->problems, i));
  g_assert_no_error (error);
}

char *
desk_export (Desk *desk)
{
  g_autofree char *name = g_strdup_printf ("out%u", ++desk->n_exports);
  char *folder = g_build_filename (desk->folder, name, NULL);
  g_autoptr(GError) error = NULL;

  exchange_export (desk->book, folder, NULL, &error);
  g_assert_no_error (error);
  return folder;
}

char *
desk_dump (Desk *desk)
{
  g_autofree char *folder = desk_export (desk);
  g_autoptr(GString) out = g_string_new (NULL);

  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      g_autofree char *name = g_strconcat (book_record_in_order (i)->name, ".csv", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *text = NULL;

      g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
      if (strchr (text, '\n')[1] != '\0')
        g_string_append_printf (out, "== %s\n%s", name, text);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
desk_read (Desk *desk, const char *name)
{
  g_autofree char *path = g_build_filename (desk->files, name, NULL);
  char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}
