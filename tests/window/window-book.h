/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Small books for window tests: a few CSV texts that go through the importer into a folder which the test removes with all
 * that is in it, and a window on such a book.
 */

#include "book-record.h"
#include "window-test.h"

G_BEGIN_DECLS

/* A file of a book, such as "unit.csv". A list of them ends with one that has no name. */
typedef struct
{
  const char *name;
  const char *text;
} WindowTestFile;

/* What most tests are about. A test that needs more has it in a fixture of its own. */
typedef struct
{
  char         *folder;
  char         *book;
  FettleWindow *window;
} WindowTestFixture;

void  window_test_write_file   (const char           *folder,
                                const char           *name,
                                const char           *text);

/* Makes a book at @path of the CSV files in a folder. */
void  window_test_import       (const char           *path,
                                const char           *files);
/* A model without anything, EMPTY, and one with a single reading, ONE. */
extern const WindowTestFile window_test_few[];

/* Makes a book of @files in @folder, and the folder if there is none; returns the book's path. */
char *window_test_make_book_of (const char           *folder,
                                const WindowTestFile *files) G_GNUC_WARN_UNUSED_RESULT;
/* The same of invented figures: two models, four rounds. */
char *window_test_make_book    (const char           *folder) G_GNUC_WARN_UNUSED_RESULT;

/* The same of the demo's files. */
char *window_test_make_demo    (const char           *folder) G_GNUC_WARN_UNUSED_RESULT;

/* Removes a folder that the test made, with all that is in it. */
void  window_test_remove       (const char           *folder);

/* The window on the book of @files, or of window_test_make_book(), at @page; and its end. Both fit g_test_add(). */
void  window_test_set_up_of    (WindowTestFixture    *fixture,
                                const WindowTestFile *files,
                                const char           *page);
void  window_test_set_up       (WindowTestFixture    *fixture,
                                gconstpointer         page);
void  window_test_tear_down    (WindowTestFixture    *fixture,
                                gconstpointer         data);

/* ---- what the book has ---- */

StoreDb *window_test_db          (FettleWindow   *window);
/* The record with that key text, such as "M2/P1"; 0 if there is none. */
gint64   window_test_find_record (FettleWindow   *window,
                                  BookRecordId    record,
                                  const char     *key);
BookRow *window_test_read_record (FettleWindow   *window,
                                  BookRecordId    record,
                                  gint64          id) G_GNUC_WARN_UNUSED_RESULT;
gint64   window_test_count_records (FettleWindow *window,
                                  BookRecordId    record);
/* A field of one as the forms write it. */
char    *window_test_read_field  (FettleWindow   *window,
                                  BookRecordId    record,
                                  gint64          id,
                                  const char     *field) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
