/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "book-attach.h"
#include "book-history.h"
#include "book-shelf.h"
#include "store-check.h"
#include "store-content.h"
#include "store-undo.h"

#define SITTING 78
#define ROUND   "HF/P1"

static GBytes *
bytes_of (const char *text)
{
  return g_bytes_new_static (text, strlen (text));
}

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
}

/* Attaches to round P1; gives the sentence of the refusal, or NULL. */
static char *
attach (Shelf *shelf, const BookAttachable *what, guint n)
{
  g_autoptr(GError) error = NULL;

  if (book_edit_run (shelf->book, book_edit_attach (BOOK_RECORD_ROUND, shelf_id (shelf, BOOK_RECORD_ROUND, ROUND), what, n),
                     shelf->person, SITTING, NULL, NULL, &error))
    return NULL;
  return g_strdup (error->message);
}

static void
attach_text (Shelf *shelf, const char *name, const char *text)
{
  g_autoptr(GBytes) bytes = bytes_of (text);
  g_autofree char *refusal = attach (shelf, &(BookAttachable) { BOOK_ATTACHMENT_REPORT, name, NULL, bytes, NULL }, 1);

  g_assert_cmpstr (refusal, ==, NULL);
}

static GPtrArray *
list (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  GPtrArray *all = book_attachments_list (shelf_db (shelf), BOOK_RECORD_ROUND, shelf_id (shelf, BOOK_RECORD_ROUND, ROUND), &error);

  g_assert_no_error (error);
  return all;
}

static void
undo (Shelf *shelf)
{
  const StoreIntent intent = { .action = "undo", .person = shelf->person, .sitting = SITTING };
  g_autoptr(GError) error = NULL;

  g_assert_true (store_undo (book_get_store (shelf->book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
}

static void
run_sql (Shelf *shelf, const char *sql)
{
  sqlite3 *db = NULL;
  char *failure = NULL;

  g_assert_cmpint (sqlite3_open (shelf->path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, sql, NULL, NULL, &failure);
  g_assert_cmpstr (failure, ==, NULL);
  sqlite3_close (db);
}

/* What `check` says about stored files, a sentence a line. */
static char *
check_contents (Shelf *shelf)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;
  GString *said = g_string_new (NULL);

  g_assert_true (store_check (book_get_store (shelf->book), TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    {
      const StoreFinding *finding = findings->pdata[i];

      g_string_append_printf (said, "%s %s %s\n", store_check_name (finding->kind), finding->table, finding->sentence);
    }
  return g_string_free (said, FALSE);
}

static void
test_files_and_links_are_attached_in_one_action (void)
{
  static const guchar png[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R' };
  g_autoptr(GBytes) picture = g_bytes_new_static (png, sizeof png);
  g_autoptr(GBytes) text = bytes_of ("as found");
  const BookAttachable what[] = {
    { BOOK_ATTACHMENT_PHOTOGRAPH, "C:\\photos\\lock slip.png", NULL, picture, NULL },
    { BOOK_ATTACHMENT_REPORT, "notes.txt", "text/plain", text, NULL },
    { BOOK_ATTACHMENT_DRAWING, "Drawing 4 / sheet 2", NULL, NULL, "drawings/4.dxf" },
  };
  g_autoptr(GPtrArray) all = NULL;
  g_autoptr(GBytes) read = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *refusal = NULL;
  g_autofree char *name = NULL;
  const BookAttachment *first, *second, *third;
  Shelf shelf;

  filled (&shelf);
  refusal = attach (&shelf, what, G_N_ELEMENTS (what));
  g_assert_cmpstr (refusal, ==, NULL);
  all = list (&shelf);
  g_assert_cmpuint (all->len, ==, 3);
  first = all->pdata[0];
  second = all->pdata[1];
  third = all->pdata[2];
  g_assert_cmpstr (first->name, ==, "lock slip.png");
  g_assert_cmpstr (first->mime_type, ==, "image/png");
  g_assert_cmpint (first->size, ==, sizeof png);
  g_assert_true (first->is_picture);
  g_assert_cmpint (second->no, ==, 2);
  g_assert_false (second->is_picture);
  /* SHA-256 of the eight bytes 'as found', by coreutils' sha256sum */
  g_assert_cmpstr (second->sha256, ==, "e1d2423e1202a57a58119a5a15e98075e8489ee1065890a28b82b528b70da852");
  g_assert_cmpstr (third->name, ==, "Drawing 4 / sheet 2");
  g_assert_cmpstr (third->link, ==, "drawings/4.dxf");
  g_assert_cmpstr (third->sha256, ==, "");

  read = book_attachment_read (shelf_db (&shelf), first->id, &name, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (read, picture));
  g_assert_cmpstr (name, ==, "lock slip.png");
  g_assert_null (book_attachment_read (shelf_db (&shelf), third->id, NULL, &error));
  g_assert_cmpstr (error->message, ==, "'Drawing 4 / sheet 2' is a link, and no file is stored for it.");
  shelf_close (&shelf);
}

static void
test_attaching_and_taking_away_are_undone (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) one = NULL;
  g_autoptr(GPtrArray) none = NULL;
  g_autoptr(GPtrArray) again = NULL;
  g_autoptr(GPtrArray) undone = NULL;
  Shelf shelf;

  filled (&shelf);
  attach_text (&shelf, "a.txt", "one");
  one = list (&shelf);
  g_assert_cmpuint (one->len, ==, 1);
  book_edit_run (shelf.book, book_edit_detach (((BookAttachment *) one->pdata[0])->id), shelf.person, SITTING, NULL, NULL, &error);
  g_assert_no_error (error);
  none = list (&shelf);
  g_assert_cmpuint (none->len, ==, 0);
  undo (&shelf);
  again = list (&shelf);
  g_assert_cmpuint (again->len, ==, 1);
  undo (&shelf);
  undone = list (&shelf);
  g_assert_cmpuint (undone->len, ==, 0);
  shelf_close (&shelf);
}

static void
check_name (const char *given, const char *kept)
{
  g_autofree char *name = book_file_name (given);

  g_assert_cmpstr (name, ==, kept);
}

static void
test_only_the_last_part_of_a_name_is_kept (void)
{
  g_autoptr(GBytes) bytes = bytes_of ("x");
  g_autofree char *refusal = NULL;
  Shelf shelf;

  check_name ("../../etc/passwd", "passwd");
  check_name ("C:\\temp\\lock.jpg", "lock.jpg");
  check_name ("lock..jpg", "lock..jpg");
  check_name ("a\nb\x7f.txt", "a_b_.txt");
  check_name ("caf\xc3\xa9.jpg", "caf\xc3\xa9.jpg");
  check_name ("..", NULL);
  check_name ("photos/..", NULL);
  check_name ("photos/", NULL);
  check_name ("", NULL);
  filled (&shelf);
  refusal = attach (&shelf, &(BookAttachable) { BOOK_ATTACHMENT_OTHER, "photos/..", NULL, bytes, NULL }, 1);
  g_assert_cmpstr (refusal, ==, "'photos/..' is no name of a file: choose a file.");
  shelf_close (&shelf);
}

static void
test_a_name_that_leads_elsewhere_is_refused_in_rows (void)
{
  static const char *const names[] = { "..", ".", "../x.jpg", "a/b.jpg", "a\\b.jpg" };
  Shelf shelf;

  filled (&shelf);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *line = g_strdup_printf ("attachment owner_record=round | owner=HF/P1 | no=1 | name=%s | sha256=%064d | size=1\n",
                                               names[i], 0);
      g_autofree char *said = shelf_refuse (&shelf, line);

      g_assert_cmpstr (said, ==, "Attachment 'round/HF/P1/1', Name: The name of a file has no '/' and no '\\', and is not '..': "
                                 "write only its own name.");
    }
  shelf_close (&shelf);
}

static void
test_too_large_a_file_is_refused (void)
{
  g_autofree char *zeros = g_malloc0 (STORE_CONTENT_MOST + 1);
  g_autoptr(GBytes) bytes = g_bytes_new_static (zeros, STORE_CONTENT_MOST + 1);
  g_autofree char *refusal = NULL;
  Shelf shelf;

  filled (&shelf);
  refusal = attach (&shelf, &(BookAttachable) { BOOK_ATTACHMENT_OTHER, "big.bin", "application/octet-stream", bytes, NULL }, 1);
  g_assert_cmpstr (refusal, ==, "The file is larger than 32 MiB: make it smaller, or attach a link to it.");
  g_assert_cmpint (shelf_integer (&shelf, "SELECT count(*) FROM content"), ==, 0);
  shelf_close (&shelf);
}

static void
test_history_says_what_was_attached_to (void)
{
  g_autofree char *text = NULL;
  g_autoptr(GVariant) arguments = NULL;
  Shelf shelf;

  filled (&shelf);
  arguments = g_variant_ref_sink (g_variant_new_parsed ("[('round', %x)]", shelf_id (&shelf, BOOK_RECORD_ROUND, ROUND)));
  text = book_message_text (shelf_db (&shelf), "attached", arguments);
  g_assert_cmpstr (text, ==, "Attached a file or link to: Round HF/P1");
  shelf_close (&shelf);
}

static void
test_check_names_missing_files_by_owner_and_name (void)
{
  g_autofree char *good = NULL;
  g_autofree char *said = NULL;
  g_autoptr(GPtrArray) all = NULL;
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  attach_text (&shelf, "lock.txt", "as found");
  good = check_contents (&shelf);
  g_assert_cmpstr (good, ==, "");
  run_sql (&shelf, "DELETE FROM content");
  said = check_contents (&shelf);
  g_assert_cmpstr (said, ==, "content attachment The stored file is missing: 'lock.txt' of 'Round HF/P1': attach it again.\n");
  all = list (&shelf);
  g_assert_null (book_attachment_read (shelf_db (&shelf), ((BookAttachment *) all->pdata[0])->id, NULL, &error));
  g_assert_cmpstr (error->message, ==, "The file 'lock.txt' of 'Round HF/P1' is missing from the book: attach it again.");
  shelf_close (&shelf);
}

static void
test_check_names_altered_files_and_attaching_again_mends (void)
{
  g_autofree char *said = NULL;
  g_autofree char *mended = NULL;
  g_autoptr(GPtrArray) all = NULL;
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  filled (&shelf);
  attach_text (&shelf, "lock.txt", "as found");
  run_sql (&shelf, "UPDATE content SET bytes = CAST ('as hound' AS BLOB)");
  said = check_contents (&shelf);
  g_assert_cmpstr (said, ==, "content attachment The stored file was altered: 'lock.txt' of 'Round HF/P1': attach it again.\n");
  all = list (&shelf);
  g_assert_null (book_attachment_read (shelf_db (&shelf), ((BookAttachment *) all->pdata[0])->id, NULL, &error));
  g_assert_cmpstr (error->message, ==, "The file 'lock.txt' of 'Round HF/P1' is not as it was attached: attach it again.");
  attach_text (&shelf, "lock.txt", "as found");
  mended = check_contents (&shelf);
  g_assert_cmpstr (mended, ==, "");
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/book/attach/files-and-links-are-attached-in-one-action", test_files_and_links_are_attached_in_one_action);
  g_test_add_func ("/book/attach/attaching-and-taking-away-are-undone", test_attaching_and_taking_away_are_undone);
  g_test_add_func ("/book/attach/only-the-last-part-of-a-name-is-kept", test_only_the_last_part_of_a_name_is_kept);
  g_test_add_func ("/book/attach/a-name-that-leads-elsewhere-is-refused-in-rows", test_a_name_that_leads_elsewhere_is_refused_in_rows);
  g_test_add_func ("/book/attach/too-large-a-file-is-refused", test_too_large_a_file_is_refused);
  g_test_add_func ("/book/attach/history-says-what-was-attached-to", test_history_says_what_was_attached_to);
  g_test_add_func ("/book/attach/check-names-missing-files-by-owner-and-name", test_check_names_missing_files_by_owner_and_name);
  g_test_add_func ("/book/attach/check-names-altered-files-and-attaching-again-mends", test_check_names_altered_files_and_attaching_again_mends);
  return g_test_run ();
}
