/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Search across the book: what is found for what is typed, in which order; that the index follows every commit. */
#include "config.h"
#include "book-shelf.h"

#include "book-search.h"
#include "store-check.h"
#include "store-undo.h"

#include <glib/gstdio.h>
#include <string.h>

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
  shelf_write (shelf, "issue model=HF | no=1 | title=Hebel klemmt nach Stößen | class=function\n"
                      "issue model=HF | no=7 | title=Lever sticks | class=function | cause=Seen by the façade office\n"
                      "issue model=WT | no=7 | title=Blade wobbles | class=function\n"
                      "supplier name=Norden Steel | note=delivers the lever blanks\n"
                      "gauge name=M4 micrometer | resolution=0.001\n"
                      "unit round=HF/P2 | serial=P1-011\n"
                      "round model=WT | label=K1 | kind=prototype | opened=2026-02-02\n"
                      "unit round=WT/K1 | serial=WTP1-01X\n");
}

static char *
search_of (Shelf *shelf, const char *words, gint64 model)
{
  g_autoptr(GError) error = NULL;
  gboolean more;
  g_autoptr(GPtrArray) hits = book_search (shelf_db (shelf), words, model, 10, &more, &error);
  GString *text = g_string_new (NULL);

  g_assert_no_error (error);
  g_assert_false (more);
  for (guint i = 0; i < hits->len; i++)
    {
      const BookHit *hit = hits->pdata[i];

      g_string_append_printf (text, "%s%s %s", i > 0 ? ", " : "", hit->record->name, hit->key);
    }
  return g_string_free (text, FALSE);
}

static void
check (Shelf *shelf, const char *words, const char *expected)
{
  g_autofree char *found = search_of (shelf, words, 0);

  g_assert_cmpstr (found, ==, expected);
}

static void
test_finds_by_words (void)
{
  Shelf shelf;

  filled (&shelf);
  check (&shelf, "SAW folding", "model HF");
  check (&shelf, "stoßen", "issue HF/1");
  check (&shelf, "stössen", ""); /* another word */
  check (&shelf, "facade", "issue HF/7");
  check (&shelf, "fol", "model HF"); /* as one types */
  check (&shelf, "f", "issue HF/7, model HF"); /* façade, folding: words that begin so, not every text with an f */
  check (&shelf, "norden", "supplier Norden Steel");
  check (&shelf, "blanks delivers", "supplier Norden Steel");
  check (&shelf, "  ", "");
  check (&shelf, "100% '\"", "");
  check (&shelf, "lev OR NOT )*", "");
  check (&shelf, "text: lever", "");
  shelf_close (&shelf);
}

static void
test_keys_come_first (void)
{
  Shelf shelf;
  g_autofree char *mine = NULL;

  filled (&shelf);
  /* The key itself, one that begins so, one that holds it. */
  check (&shelf, "p1-01", "unit HF/P1/P1-01, unit HF/P2/P1-011, unit WT/K1/WTP1-01X");
  check (&shelf, "HF/P1/P1-01", "unit HF/P1/P1-01, unit HF/P2/P1-011");
  check (&shelf, "tp1", "unit WT/K1/WTP1-01X"); /* a fragment within a serial */
  check (&shelf, "P101", "unit HF/P1/P1-01, unit HF/P2/P1-011, unit WT/K1/WTP1-01X"); /* as one says it */
  check (&shelf, "p1 01", "unit HF/P2/P1-011, unit HF/P1/P1-01, unit WT/K1/WTP1-01X"); /* words are found the newest first */
  check (&shelf, "hf20", "part HF-20");
  check (&shelf, "--", "");
  check (&shelf, "issue 7", "issue HF/7, issue WT/7");
  check (&shelf, "issue wobbles", "issue WT/7");
  mine = search_of (&shelf, "issue 7", shelf_id (&shelf, BOOK_RECORD_MODEL, "WT"));
  g_assert_cmpstr (mine, ==, "issue WT/7, issue HF/7");
  /* The part is called so, then what begins so, the newest first, then the supplier's note has it. */
  check (&shelf, "lever", "part HF-20, issue HF/7, characteristic HF/LV, supplier Norden Steel");
  shelf_close (&shelf);
}

static void
test_a_fragment_is_found_where_nothing_else_is (void)
{
  Shelf shelf;

  filled (&shelf);
  check (&shelf, "awfin", "model HF");
  check (&shelf, "obbl", "issue WT/7");
  shelf_close (&shelf);
}

static void
test_more_than_asked_for_is_told (void)
{
  Shelf shelf;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) hits = NULL;
  gboolean more;

  filled (&shelf);
  hits = book_search (shelf_db (&shelf), "p1-01", 0, 2, &more, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (hits->len, ==, 2);
  g_assert_true (more);
  shelf_close (&shelf);
}

static void
test_a_hit_says_where (void)
{
  Shelf shelf;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) hits = NULL;
  const BookHit *hit;
  gboolean more;

  filled (&shelf);
  hits = book_search (shelf_db (&shelf), "FACADE", 0, 5, &more, &error);
  g_assert_no_error (error);
  hit = hits->pdata[0];
  g_assert_cmpstr (hit->title, ==, "Lever sticks");
  g_assert_cmpstr (hit->field->name, ==, "cause");
  g_assert_cmpstr (hit->piece, ==, "Seen by the façade office");
  g_assert_cmpuint (hit->mark, ==, strlen ("Seen by the "));
  g_assert_cmpuint (hit->mark_length, ==, strlen ("façade"));
  shelf_close (&shelf);
}

static void
test_pieces (void)
{
  static const struct
  {
    const char *text, *word, *piece, *marked;
  } rows[] = {
    { "Lever sticks", "lever", "Lever sticks", "Lever" },
    { "clever lever", "lever", "clever lever", "lever" },
    { "clever", "lever", "clever", "lever" },
    { "Größe", "große", "Größe", "Größe" }, /* an accent is no letter, a sharp s is */
    { "the first line\nand the second", "second", "the first line and the second", "second" },
    { "the quick brown fox that jumps over the lazy dog sees the lever", "lever",
      "…jumps over the lazy dog sees the lever", "lever" },
    { "nothing", "lever", NULL, NULL },
    { "anything", "", NULL, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gsize mark, length;
      g_autofree char *piece = book_search_piece (rows[i].text, rows[i].word, &mark, &length);
      g_autofree char *marked = piece == NULL ? NULL : g_strndup (piece + mark, length);

      g_assert_cmpstr (piece, ==, rows[i].piece);
      g_assert_cmpstr (marked, ==, rows[i].marked);
    }
}

static void
test_the_index_follows_every_commit (void)
{
  const StoreIntent undo = { .action = "undo" };
  const StoreIntent redo = { .action = "redo" };
  Shelf shelf;

  filled (&shelf);
  shelf_check_words (&shelf);
  shelf_write (&shelf, "issue model=HF | no=9 | title=Rivet creaks | class=function\n");
  check (&shelf, "creaks", "issue HF/9");
  shelf_run (&shelf, book_edit_field (BOOK_RECORD_ISSUE, shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/9"), "title", "Rivet squeals"));
  check (&shelf, "creaks", "");
  check (&shelf, "squeals", "issue HF/9");
  shelf_check_words (&shelf);
  shelf_undo (&shelf);
  check (&shelf, "creaks", "issue HF/9");
  check (&shelf, "squeals", "");
  g_assert_true (store_undo (book_get_store (shelf.book), &undo, 0, NULL, NULL, NULL, NULL));
  check (&shelf, "creaks", "");
  g_assert_true (store_redo (book_get_store (shelf.book), &redo, 0, NULL, NULL, NULL, NULL));
  check (&shelf, "creaks", "issue HF/9");
  shelf_check_words (&shelf);
  shelf_close (&shelf);
}

/* ---- a book of an older form ---- */

static void
exec (Shelf *shelf, const char *sql)
{
  sqlite3 *db = NULL;
  char *problem = NULL;

  g_assert_cmpint (sqlite3_open (shelf->path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, sql, NULL, NULL, &problem);
  g_assert_cmpstr (problem, ==, NULL);
  sqlite3_close (db);
}

/* As books were before there was an index of words. */
static void
make_old (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (book_close (g_steal_pointer (&shelf->book), &error));
  exec (shelf, "DROP TABLE search_word;"
               "CREATE TABLE old (record INTEGER NOT NULL, id INTEGER NOT NULL, model INTEGER NOT NULL, text TEXT NOT NULL, "
               "PRIMARY KEY (record, id)) STRICT, WITHOUT ROWID;"
               "INSERT INTO old SELECT record, id, model, text FROM search; DROP TABLE search;"
               "ALTER TABLE old RENAME TO search;");
  shelf->book = book_open (shelf->path, &shelf->options, &error);
  g_assert_no_error (error);
}

static void
check_holds (Shelf *shelf)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) findings = NULL;

  g_assert_true (store_check (book_get_store (shelf->book), TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((StoreFinding *) findings->pdata[i])->sentence);
  g_assert_cmpuint (findings->len, ==, 0);
}

static void
test_an_older_book_is_searched_and_caught_up (void)
{
  Shelf shelf;

  filled (&shelf);
  make_old (&shelf);
  check (&shelf, "creak", "");
  check (&shelf, "facade", "issue HF/7"); /* by looking through the texts */
  shelf_write (&shelf, "issue model=HF | no=9 | title=Rivet creaks | class=function\n"); /* a commit makes the index first */
  check (&shelf, "creak", "issue HF/9");
  check (&shelf, "issue 7", "issue HF/7, issue WT/7");
  shelf_check_words (&shelf);
  check_holds (&shelf);

  make_old (&shelf);
  book_search_catch_up (shelf.book);
  while (shelf_integer (&shelf, "SELECT count (*) FROM sqlite_schema WHERE name = 'search_word'") == 0)
    g_main_context_iteration (NULL, FALSE);
  for (guint i = 0; i < 50; i++) /* the write's own end */
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (1000);
    }
  check (&shelf, "issue 7", "issue HF/7, issue WT/7");
  shelf_check_words (&shelf);
  check_holds (&shelf);
  shelf_close (&shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/search/finds-by-words", test_finds_by_words);
  g_test_add_func ("/book/search/keys-come-first", test_keys_come_first);
  g_test_add_func ("/book/search/a-fragment-is-found-where-nothing-else-is", test_a_fragment_is_found_where_nothing_else_is);
  g_test_add_func ("/book/search/more-than-asked-for-is-told", test_more_than_asked_for_is_told);
  g_test_add_func ("/book/search/a-hit-says-where", test_a_hit_says_where);
  g_test_add_func ("/book/search/a-piece-is-cut-around-the-word", test_pieces);
  g_test_add_func ("/book/search/the-index-follows-every-commit", test_the_index_follows_every_commit);
  g_test_add_func ("/book/search/an-older-book-is-searched-and-caught-up", test_an_older_book_is_searched_and_caught_up);
  return g_test_run ();
}
