/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-book.h"

#include <glib/gstdio.h>

#include "exchange-import.h"

void
window_test_write_file (const char *folder, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr(GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
}

void
window_test_import (const char *path, const char *files)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(Book) book = NULL;
  g_autoptr(ExchangeImportReport) report = NULL;
  ExchangeImportOptions options = { .sitting = store_new_sitting () };

  book = book_create (path, NULL, &error);
  g_assert_no_error (error);
  exchange_import (book, (const char *const[]){ files, NULL }, &options, &report, NULL, &error);
  for (guint i = 0; report != NULL && i < report->problems->len; i++)
    g_printerr ("%s\n", (char *) g_ptr_array_index (report->problems, i));
  g_assert_no_error (error);
  g_assert_true (book_close (g_steal_pointer (&book), &error));
  g_assert_no_error (error);
}

const WindowTestFile window_test_few[] = {
  { "person.csv", "initials,role\nAB,lead\n" },
  { "model.csv", "code,name\nEMPTY,Nothing yet\nONE,One reading\n" },
  { "round.csv", "model,label,kind,opened\nONE,P1,prototype,2026-10-01\n" },
  { "characteristic.csv", "model,code,name,kind,unit,decimals,class,shape\nONE,PL,Play,measured,mm,2,function,normal\n" },
  { "limit.csv", "model,characteristic,from_date,lower,upper\nONE,PL,2026-10-01,,0.25\n" },
  { "unit.csv", "model,round,serial,assembled_on\nONE,P1,P1-1,2026-10-05\n" },
  { "reading.csv", "model,round,unit,characteristic,value,taken\nONE,P1,P1-1,PL,0.2,2026-10-06\n" },
  { "issue.csv", "model,no,title,class,found_on\nONE,1,Rattles,function,2026-10-07\n" },
  { NULL, NULL }
};


char *
window_test_make_book_of (const char *folder, const WindowTestFile *files)
{
  g_autofree char *place = g_build_filename (folder, "files", NULL);
  char *path = g_build_filename (folder, "test" BOOK_SUFFIX, NULL);

  g_assert_cmpint (g_mkdir_with_parents (place, 0700), ==, 0);
  for (; files->name != NULL; files++)
    window_test_write_file (place, files->name, files->text);
  window_test_import (path, place);
  return path;
}

/* Plain invented figures: a strength with one weak unit in the first round, a play that never fails, and a check. */
char *
window_test_make_book (const char *folder)
{
  static const char *const rounds[] = { "P1", "P2", "P3", "A" };
  static const guint sizes[] = { 5, 6, 8, 24 };
  g_autoptr(GString) units = g_string_new ("model,round,serial\n");
  g_autoptr(GString) readings = g_string_new ("model,round,unit,characteristic,value,mark,taken\n");

  for (guint r = 0; r < G_N_ELEMENTS (rounds); r++)
    for (guint u = 1; u <= sizes[r]; u++)
      {
        /* A fixed, uneven pattern; nothing here comes from a measurement. */
        int wave = (int) ((u * 37 + r * 11) % 19) - 9;

        g_string_append_printf (units, "M2,%s,%s-%02u\n", rounds[r], rounds[r], u);
        g_string_append_printf (readings, "M2,%s,%s-%02u,ST,%d,,2026-0%u-10\n", rounds[r], rounds[r], u,
                                r == 0 && u == 3 ? 188 : 262 + (int) r * 6 + wave, r * 2 + 2);
        g_string_append_printf (readings, "M2,%s,%s-%02u,PL,0.%03d,,2026-0%u-10\n", rounds[r], rounds[r], u, 140 - (int) r * 8 + wave * 2,
                                r * 2 + 2);
        g_string_append_printf (readings, "M2,%s,%s-%02u,HO,,%s,2026-0%u-10\n", rounds[r], rounds[r], u,
                                r == 1 && u == 2 ? "failed" : "passed", r * 2 + 2);
      }
  return window_test_make_book_of (folder, (const WindowTestFile[]){
    { "person.csv", "initials,role\nAB,lead\nCD,inspector\n" },
    { "model.csv", "code,name\nM1,Test piece one\nM2,Test piece two\n" },
    { "round.csv",
      "model,label,kind,opened,design_fixed,parts_ready,built,tested,decided,verdict\n"
      "M2,P1,prototype,2026-01-05,2026-01-15,2026-02-02,2026-02-06,2026-02-13,2026-02-16,another round\n"
      "M2,P2,prototype,2026-02-17,2026-03-06,2026-03-20,2026-03-27,2026-04-10,2026-04-13,another round\n"
      "M2,P3,prototype,2026-04-14,2026-05-08,2026-05-29,2026-06-05,2026-06-19,2026-06-22,go on\n"
      "M2,A,pilot,2026-06-23,2026-07-10,2026-08-21,2026-09-04,2026-09-25,,\n" },
    { "characteristic.csv",
      "model,code,name,kind,unit,decimals,class,per_unit,shape\n"
      "M2,ST,Strength,measured,N,0,safety,worst,normal\n"
      "M2,PL,Play,measured,mm,3,function,mean,normal\n"
      "M2,HO,Holds in the test,checked,,,function,,\n" },
    { "limit.csv", "model,characteristic,from_date,lower,upper\nM2,ST,2026-01-05,200,\nM2,PL,2026-01-05,,0.25\n" },
    { "gate.csv", "model,position,name\nM2,1,Release\n" },
    { "criterion.csv",
      "model,gate,code,kind,characteristic,blocking,counts_from\n"
      "M2,1,C1,measured,ST,yes,prototype\nM2,1,C2,measured,PL,yes,prototype\nM2,1,C3,checked,HO,yes,prototype\n" },
    { "unit.csv", units->str },
    { "reading.csv", readings->str },
    { NULL, NULL } });
}

char *
window_test_make_demo (const char *folder)
{
  char *path = g_build_filename (folder, "demo" BOOK_SUFFIX, NULL);

  window_test_import (path, g_getenv ("FETTLE_DEMO_DIR"));
  return path;
}

void
window_test_remove (const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        window_test_remove (path);
      else
        g_unlink (path);
    }
  g_rmdir (folder);
}

/* ---- with its window ---- */

static char *
make_folder (void)
{
  g_autoptr(GError) error = NULL;
  char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

void
window_test_set_up_of (WindowTestFixture *fixture, const WindowTestFile *files, const char *page)
{
  fixture->folder = make_folder ();
  fixture->book = window_test_make_book_of (fixture->folder, files);
  fixture->window = window_test_open (fixture->book, page);
}

void
window_test_set_up (WindowTestFixture *fixture, gconstpointer page)
{
  fixture->folder = make_folder ();
  fixture->book = window_test_make_book (fixture->folder);
  fixture->window = window_test_open (fixture->book, page);
}

void
window_test_tear_down (WindowTestFixture *fixture, gconstpointer data)
{
  window_test_close (fixture->window);
  window_test_remove (fixture->folder);
  g_free (fixture->book);
  g_free (fixture->folder);
}

/* ---- what the book has ---- */

StoreDb *
window_test_db (FettleWindow *window)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (fettle_sitting_get_book (fettle_window_get_sitting (window))), &error);

  g_assert_no_error (error);
  return db;
}

gint64
window_test_find_record (FettleWindow *window, BookRecordId record, const char *key)
{
  g_autoptr(GError) error = NULL;
  gint64 id = 0;

  g_assert_true (book_record_find_text (window_test_db (window), book_record (record), key, &id, &error));
  g_assert_no_error (error);
  return id;
}

BookRow *
window_test_read_record (FettleWindow *window, BookRecordId record, gint64 id)
{
  g_autoptr(GError) error = NULL;
  BookRow *row = book_record_read (window_test_db (window), book_record (record), id, &error);

  g_assert_no_error (error);
  return row;
}

gint64
window_test_count_records (FettleWindow *window, BookRecordId record)
{
  g_autoptr(GError) error = NULL;
  gint64 n = 0;

  g_assert_true (book_record_count (window_test_db (window), book_record (record), &n, &error));
  g_assert_no_error (error);
  return n;
}

char *
window_test_read_field (FettleWindow *window, BookRecordId record, gint64 id, const char *field)
{
  g_autoptr(BookRow) row = window_test_read_record (window, record, id);

  return book_value_print (book_field_find (book_record (record), field), book_row_get (row, field));
}
