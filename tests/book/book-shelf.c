/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-shelf.h"

#include "book-history.h"
#include "store-undo.h"

#include <glib/gstdio.h>
#include <string.h>

void
shelf_open (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;

  memset (shelf, 0, sizeof *shelf);
  shelf->folder = g_dir_make_tmp ("fettle-book-XXXXXX", &error);
  g_assert_no_error (error);
  shelf->path = g_build_filename (shelf->folder, "test.fettle", NULL);
  shelf->options.state_folder = shelf->folder;
  shelf->book = book_create (shelf->path, &shelf->options, &error);
  g_assert_no_error (error);
}

static void
remove_folder (const char *path)
{
  g_autoptr(GDir) folder = g_dir_open (path, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR))
        remove_folder (child);
      else
        g_unlink (child);
    }
  g_rmdir (path);
}

void
shelf_close (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;

  if (shelf->book != NULL)
    book_close (shelf->book, &error);
  g_assert_no_error (error);
  remove_folder (shelf->folder);
  g_free (shelf->folder);
  g_free (shelf->path);
}

StoreDb *
shelf_db (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (shelf->book), &error);

  g_assert_no_error (error);
  return db;
}

static void
take_field (StoreDb *db, const BookRecord *record, const char *name, const char *text, BookValue *values)
{
  int i = book_field_index (record, name);
  const BookField *field;
  g_autoptr(GError) error = NULL;
  gint64 id;

  if (i < 0)
    g_error ("%s has no field %s", record->name, name);
  field = &record->fields[i];
  if (field->kind == BOOK_KIND_REFERENCE)
    {
      g_assert_true (book_record_find_text (db, book_record (field->refers), text, &id, &error));
      if (id == 0)
        g_error ("%s.%s: no %s", record->name, name, text);
      values[i] = book_value_integer (id);
    }
  else if (field->kind == BOOK_KIND_ANY)
    {
      g_assert_true (book_record_find_text (db, book_record ((BookRecordId) values[i - 1].integer), text, &id, &error));
      values[i] = book_value_integer (id != 0 ? id : 999);
    }
  else if (!book_value_parse (field, text, -1, FALSE, &values[i], NULL))
    values[i] = book_value_text (text, -1); /* tests of refusals */
}

static gboolean
write_line (StoreAction *action, char *line, GError **error)
{
  char *space = strchr (line, ' ');
  g_auto(GStrv) words = g_strsplit (space + 1, " | ", -1);
  const BookRecord *record;
  BookValue values[BOOK_MAX_FIELDS];

  *space = '\0';
  record = book_record_find (line);
  g_assert_nonnull (record);
  for (guint i = 0; i < record->n_fields; i++)
    {
      values[i] = BOOK_VALUE_EMPTY;
      if (record->fields[i].fallback != NULL)
        g_assert_true (book_value_parse (&record->fields[i], "", 0, FALSE, &values[i], NULL));
    }
  for (guint i = 0; words[i] != NULL; i++)
    {
      char *equal = strchr (words[i], '=');

      *equal = '\0';
      take_field (store_action_db (action), record, words[i], equal + 1, values);
    }
  return book_record_insert (action, record, values, NULL, error);
}

static gboolean
write_lines (StoreAction *action, gpointer data, GError **error)
{
  g_auto(GStrv) lines = g_strsplit (data, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0' && !write_line (action, lines[i], error))
      return FALSE;
  return TRUE;
}

char *
shelf_refuse (Shelf *shelf, const char *lines)
{
  const StoreIntent intent = { .action = "test", .person = shelf->person };
  g_autoptr(GError) error = NULL;

  if (store_write (book_get_store (shelf->book), &intent, write_lines, (gpointer) lines, NULL, NULL, &error))
    return NULL;
  return g_strdup (error->message);
}

void
shelf_write (Shelf *shelf, const char *lines)
{
  g_autofree char *refusal = shelf_refuse (shelf, lines);

  if (refusal != NULL)
    g_error ("refused: %s", refusal);
}

gint64
shelf_id (Shelf *shelf, BookRecordId record, const char *key)
{
  g_autoptr(GError) error = NULL;
  gint64 id;

  g_assert_true (book_record_find_text (shelf_db (shelf), book_record (record), key, &id, &error));
  g_assert_no_error (error);
  if (id == 0)
    g_error ("no %s %s", book_record (record)->name, key);
  return id;
}

char *
shelf_get (Shelf *shelf, BookRecordId record, const char *key, const char *field)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookRow) row = book_record_read (shelf_db (shelf), book_record (record), shelf_id (shelf, record, key), &error);

  g_assert_no_error (error);
  return book_value_print (book_field_find (row->record, field), book_row_get (row, field));
}

void
shelf_fill (Shelf *shelf)
{
  shelf_write (shelf,
               "person initials=EH | role=lead\n"
               "part number=HF-10 | name=Blade\n"
               "part number=HF-20 | name=Lever\n"
               "revision part=HF-10 | label=A\n"
               "revision part=HF-20 | label=B\n"
               "model code=HF | name=Hawfinch, a folding saw\n"
               "model code=WT | name=Wagtail\n"
               "characteristic model=HF | code=LE | name=Lock engagement | unit=mm\n"
               "characteristic model=HF | code=LV | name=Lever sticks | kind=checked\n"
               "characteristic model=WT | code=KH | name=Hardness | unit=HRC\n"
               "limit characteristic=HF/LE | from_date=2026-01-12 | lower=1.2\n"
               "round model=HF | label=P1 | kind=prototype | opened=2026-02-02\n"
               "round model=HF | label=P2 | kind=prototype | opened=2026-03-02\n"
               "unit round=HF/P1 | serial=P1-01\n"
               "unit round=HF/P2 | serial=P2-01\n");
  shelf->person = shelf_id (shelf, BOOK_RECORD_PERSON, "EH");
}

gint64
shelf_integer (Shelf *shelf, const char *sql)
{
  sqlite3_stmt *statement = NULL;
  gint64 integer;

  g_assert_cmpint (sqlite3_prepare_v2 (store_db_handle (shelf_db (shelf)), sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  integer = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  return integer;
}

gint64
shelf_run (Shelf *shelf, BookEdit *edit)
{
  g_autoptr(GError) error = NULL;
  gint64 id;

  book_edit_set_today (edit, SHELF_TODAY);
  book_edit_run (shelf->book, edit, shelf->person, SHELF_SITTING, NULL, &id, &error);
  g_assert_no_error (error);
  g_assert_cmpint (id, !=, 0);
  return id;
}

void
shelf_run_refused_to (Shelf *shelf, BookEdit *edit, gint64 person, const char *field, const char *sentence)
{
  g_autoptr(GError) error = NULL;
  gint64 id;

  book_edit_set_today (edit, SHELF_TODAY);
  g_assert_false (book_edit_run (shelf->book, edit, person, SHELF_SITTING, NULL, &id, &error));
  g_assert_cmpint (id, ==, 0);
  g_assert_nonnull (error);
  g_assert_cmpstr (error->message, ==, sentence);
  g_assert_cmpstr (book_error_field (error), ==, field);
}

void
shelf_run_refused (Shelf *shelf, BookEdit *edit, const char *field, const char *sentence)
{
  shelf_run_refused_to (shelf, edit, shelf->person, field, sentence);
}

void
shelf_last_sentence (Shelf *shelf, const char *expected)
{
  const StoreHistoryQuery query = { .table = -1, .most = 1 };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = book_history_list (shelf_db (shelf), &query, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (((BookHistoryAction *) actions->pdata[0])->sentence, ==, expected);
}

void
shelf_undo (Shelf *shelf)
{
  const StoreIntent intent = { .action = "undo", .sitting = SHELF_SITTING };
  g_autoptr(GError) error = NULL;

  store_undo (book_get_store (shelf->book), &intent, 0, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static gboolean
check_words (StoreAction *action, gpointer data, GError **error)
{
  return store_db_exec (store_action_db (action), "INSERT INTO search_word (search_word, rank) VALUES ('integrity-check', 1)", error);
}

void
shelf_check_words (Shelf *shelf)
{
  const StoreIntent intent = { .action = "test" };
  g_autoptr(GError) error = NULL;

  store_write (book_get_store (shelf->book), &intent, check_words, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static void
append_table (StoreDb *db, const char *sql, GChecksum *sum)
{
  sqlite3_stmt *statement = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (store_db_handle (db), sql, -1, &statement, NULL), ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    for (int i = 0; i < sqlite3_column_count (statement); i++)
      {
        const guchar *text = sqlite3_column_text (statement, i);

        g_checksum_update (sum, (const guchar *) (text != NULL ? "=" : "-"), 1);
        if (text != NULL)
          g_checksum_update (sum, text, sqlite3_column_bytes (statement, i));
      }
  sqlite3_finalize (statement);
}

char *
shelf_digest (Shelf *shelf)
{
  g_autoptr(GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);

  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT * FROM \"%s\" ORDER BY id", book_record (id)->name);

      append_table (shelf_db (shelf), sql, sum);
    }
  append_table (shelf_db (shelf), "SELECT * FROM search ORDER BY record, id", sum);
  return g_strdup (g_checksum_get_string (sum));
}
