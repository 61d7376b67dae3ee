/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The journal asked by person, kind and days; the records of issues and changes are searched, told and taken back. */

#include "book-edit.h"
#include "book-history.h"
#include "book-models.h"
#include "book-search.h"
#include "book-shelf.h"
#include "store-undo.h"

#include <string.h>

static void
filled (Shelf *shelf)
{
  shelf_open (shelf);
  shelf_fill (shelf);
}

static void
set_title (Shelf *shelf, const char *key, const char *title, gint64 person)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (book_edit_run (shelf->book, book_edit_record (BOOK_RECORD_ISSUE, shelf_id (shelf, BOOK_RECORD_ISSUE, key),
                                                               STRINGS ("title"), STRINGS (title), NULL),
                                person, 7, NULL, NULL, &error));
  g_assert_no_error (error);
}

static guint
count (Shelf *shelf, StoreHistoryQuery query)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = book_history_list (shelf_db (shelf), &query, &error);

  g_assert_no_error (error);
  return actions->len;
}

static void
test_by_person_and_kind (void)
{
  const int issues = (int) book_table_of_record (book_record (BOOK_RECORD_ISSUE));
  gint64 other;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "person initials=KB | role=maker\n");
  other = shelf_id (&shelf, BOOK_RECORD_PERSON, "KB");
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\nissue model=HF | no=2 | title=Sticks | class=safety\n");
  set_title (&shelf, "HF/1", "Slips at cold", other);
  set_title (&shelf, "HF/2", "Sticks at heat", shelf.person);

  g_assert_cmpuint (count (&shelf, (StoreHistoryQuery){ .table = -1 }), ==, 5);
  g_assert_cmpuint (count (&shelf, (StoreHistoryQuery){ .table = issues }), ==, 3);
  g_assert_cmpuint (count (&shelf, (StoreHistoryQuery){ .table = issues, .person = other }), ==, 1);
  g_assert_cmpuint (count (&shelf, (StoreHistoryQuery){ .table = issues, .id = shelf_id (&shelf, BOOK_RECORD_ISSUE, "HF/2"), .person = other }),
                    ==, 0);
  g_assert_cmpuint (count (&shelf, (StoreHistoryQuery){ .table = -1, .to = "2001-01-01" }), ==, 0);
  shelf_close (&shelf);
}

static void
check_compared (Shelf *shelf, guint most, guint64 expected_n, const char *const *expected)
{
  g_autoptr(GError) error = NULL;
  guint64 n;
  g_autoptr(GPtrArray) lines = book_history_compare (shelf_db (shelf), NULL, NULL, book_record (BOOK_RECORD_ISSUE), 0, most, &n, NULL,
                                                     &error);
  guint told = 0;

  g_assert_no_error (error);
  g_assert_cmpuint (n, ==, expected_n);
  for (guint i = 0; i < lines->len; i++)
    {
      const BookHistoryLine *line = lines->pdata[i];

      if (!g_str_equal (line->field->name, "title"))
        continue;
      g_assert_cmpstr (line->after, ==, expected[told++]);
      g_assert_cmpstr (line->before, ==, NULL);
    }
  g_assert_null (expected[told]);
}

/* However few records are told, what is told of them is how they are now. */
static void
test_few_records_are_compared_to_the_end (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=1 | title=Slips | class=safety\nissue model=HF | no=2 | title=Sticks | class=safety\n"
                       "issue model=HF | no=3 | title=Squeaks | class=safety\n");
  set_title (&shelf, "HF/1", "Slips at cold", shelf.person);
  set_title (&shelf, "HF/2", "Sticks at heat", shelf.person);
  check_compared (&shelf, 10, 3, STRINGS ("Slips at cold", "Sticks at heat", "Squeaks"));
  check_compared (&shelf, 1, 3, STRINGS ("Slips at cold"));
  check_compared (&shelf, 0, 3, (const char *const[]){ NULL });
  shelf_close (&shelf);
}

static void
test_rounds_span_days (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rounds = NULL;
  const char *first, *last;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "round model=HF | label=P0 | kind=bench | design_fixed=2026-01-05 | decided=2026-01-30 | verdict=go on\n");
  rounds = book_rounds_list (shelf_db (&shelf), shelf_id (&shelf, BOOK_RECORD_MODEL, "HF"), &error);
  g_assert_no_error (error);
  book_rounds_days (rounds->pdata[0], rounds->pdata[0], &first, &last);
  g_assert_cmpstr (first, ==, "2026-01-05");
  g_assert_cmpstr (last, ==, "2026-01-30");
  book_rounds_days (rounds->pdata[0], rounds->pdata[1], &first, &last);
  g_assert_cmpstr (last, ==, NULL);
  shelf_close (&shelf);
}

/* One of each record of issues and changes, with a word that is found, its key, and a field to change. */
static const struct
{
  BookRecordId record;
  const char  *line;
  const char  *key;
  const char  *field; /* NULL: nothing in it is free to change */
  const char  *before;
  const char  *after;
  const char  *word; /* NULL: it has no texts */
} kinds[] = {
  { BOOK_RECORD_SUPPLIER, "supplier name=Brook Springs", "Brook Springs", "name", "Brook Springs", "Brook Springs, Lower Mill", "brook" },
  { BOOK_RECORD_ISSUE, "issue model=HF | no=1 | title=Lever sticks | class=function", "HF/1", "title", "Lever sticks", "Lever jams", "sticks" },
  { BOOK_RECORD_FINDING, "finding issue=HF/9 | no=1 | unit=HF/P1/P1-01 | reason=burr in the slot", "HF/9/1", "reason", "burr in the slot",
    "chip in the slot", "burr" },
  { BOOK_RECORD_CHANGE, "change model=HF | no=1 | title=Polished ramp", "HF/1", "title", "Polished ramp", "Ground ramp", "polish" },
  { BOOK_RECORD_CHANGE_ITEM, "change_item change=HF/9 | no=1 | part=HF-10 | old=rough | new=mirror finish", "HF/9/1", "new", "mirror finish",
    "satin finish", "mirror" },
  { BOOK_RECORD_CHANGE_ISSUE, "change_issue change=HF/9 | issue=HF/9", "HF/9/9", NULL, NULL, NULL, NULL },
  { BOOK_RECORD_CHANGE_EFFECT,
    "change_effect change=HF/9 | characteristic=HF/LE | effect=carried over | person=EH | reason=contact untouched", "HF/9/LE", "reason",
    "contact untouched", "contact the same", "untouched" },
  { BOOK_RECORD_LIFE_TEST,
    "life_test model=HF | no=1 | date=2026-03-01 | unit=HF/P1/P1-01 | characteristic=HF/LV | cycles=900 | ended=stopped", "HF/1", "cycles",
    "900", "950", NULL },
  { BOOK_RECORD_TODO, "todo no=1 | what=ring the designer | about_record=issue | about=HF/9", "1", "what", "ring the designer",
    "write to the designer", "ring" },
};

static gboolean
is_found (Shelf *shelf, const char *word, BookRecordId record, gint64 id)
{
  g_autoptr(GError) error = NULL;
  gboolean more;
  g_autoptr(GPtrArray) hits = book_search (shelf_db (shelf), word, 0, 100, &more, &error);
  gboolean found = FALSE;

  g_assert_no_error (error);
  for (guint i = 0; i < hits->len; i++)
    found = found || (((BookHit *) hits->pdata[i])->record->id == record && ((BookHit *) hits->pdata[i])->id == id);
  return found;
}

static void
undo (Shelf *shelf)
{
  const StoreIntent intent = { .action = "undo" };
  g_autoptr(GError) error = NULL;

  store_undo (book_get_store (shelf->book), &intent, 0, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static void
check_changed (Shelf *shelf, guint i, gint64 id)
{
  const StoreHistoryQuery query = { .table = (int) book_table_of_record (book_record (kinds[i].record)), .id = id };
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) actions = NULL;
  g_autoptr(GPtrArray) lines = NULL;
  const BookHistoryLine *line;
  g_autofree char *undone = NULL;

  g_assert_true (book_edit_run (shelf->book, book_edit_record (kinds[i].record, id, STRINGS (kinds[i].field), STRINGS (kinds[i].after),
                                                               STRINGS (kinds[i].before)),
                                shelf->person, 7, NULL, NULL, &error));
  g_assert_no_error (error);
  actions = book_history_list (shelf_db (shelf), &query, &error);
  g_assert_cmpuint (actions->len, ==, 2); /* came, changed */
  lines = book_history_lines (shelf_db (shelf), ((BookHistoryAction *) actions->pdata[0])->id, book_record (kinds[i].record), id, 10,
                              G_MAXUINT64, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (lines->len, ==, 1);
  line = lines->pdata[0];
  g_assert_cmpstr (line->field->name, ==, kinds[i].field);
  g_assert_cmpstr (line->before, ==, kinds[i].before);
  g_assert_cmpstr (line->after, ==, kinds[i].after);
  undo (shelf);
  undone = shelf_get (shelf, kinds[i].record, kinds[i].key, kinds[i].field);
  g_assert_cmpstr (undone, ==, kinds[i].before);
}

static void
test_every_record_of_issues_and_changes (void)
{
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "issue model=HF | no=9 | title=Other | class=safety\nchange model=HF | no=9 | title=Other\n");
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      const BookRecord *record = book_record (kinds[i].record);
      g_autofree char *ask = g_strdup_printf ("SELECT count(*) FROM %s", record->name);
      gint64 before = shelf_integer (&shelf, ask);
      gint64 id;

      g_test_message ("%s", record->name);
      shelf_write (&shelf, kinds[i].line);
      id = shelf_id (&shelf, kinds[i].record, kinds[i].key);
      if (kinds[i].word != NULL)
        g_assert_true (is_found (&shelf, kinds[i].word, kinds[i].record, id));
      if (kinds[i].field != NULL)
        check_changed (&shelf, i, id);
      undo (&shelf);
      g_assert_cmpint (shelf_integer (&shelf, ask), ==, before);
      if (kinds[i].word != NULL)
        g_assert_false (is_found (&shelf, kinds[i].word, kinds[i].record, id));
    }
  shelf_close (&shelf);
}

/* What an action changed is counted as far as asked for, and told as far as asked for. */
static void
test_counted_as_far_as_asked (void)
{
  static const struct
  {
    guint   most;
    guint64 count_to, n;
    guint   told;
  } cases[] = { { 10, G_MAXUINT64, 3, 3 }, { 1, G_MAXUINT64, 3, 1 }, { 1, 2, 2, 1 }, { 2, 3, 3, 2 }, { 3, 4, 3, 3 } };
  const StoreHistoryQuery query = { .table = -1, .most = 1 };
  g_autoptr(GPtrArray) actions = NULL;
  Shelf shelf;

  filled (&shelf);
  shelf_write (&shelf, "supplier name=One\nsupplier name=Two\nsupplier name=Three\n");
  actions = book_history_list (shelf_db (&shelf), &query, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint64 n = 0;
      g_autoptr(GError) error = NULL;
      g_autoptr(GPtrArray) lines = book_history_lines (shelf_db (&shelf), ((BookHistoryAction *) actions->pdata[0])->id, NULL, 0,
                                                       cases[i].most, cases[i].count_to, &n, &error);

      g_assert_no_error (error);
      g_assert_cmpuint (n, ==, cases[i].n);
      g_assert_cmpuint (lines->len, ==, cases[i].told); /* a supplier without a note has one field */
    }
  g_clear_pointer (&actions, g_ptr_array_unref);
  shelf_close (&shelf);
}

#define TEST(path, func) g_test_add_func ("/book/history/" path, func)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("by-person-and-kind", test_by_person_and_kind);
  TEST ("few-records-are-compared-to-the-end", test_few_records_are_compared_to_the_end);
  TEST ("rounds-span-days", test_rounds_span_days);
  TEST ("counted-as-far-as-asked", test_counted_as_far_as_asked);
  TEST ("every-record-of-issues-and-changes", test_every_record_of_issues_and_changes);
  return g_test_run ();
}
