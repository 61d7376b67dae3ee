/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <sqlite3.h>
#include <string.h>
#include "book-fields.h"
#include "book-values.h"
#include "book-schema.h"

/*
 * The description and the hand-written SQL say the same, both ways; and the description keeps its own promises.
 */

static sqlite3 *
open_schema (void)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (":memory:", &db), ==, SQLITE_OK);
  for (guint i = 0; i < BOOK_N_MIGRATIONS; i++)
    g_assert_cmpint (sqlite3_exec (db, book_schema_migrations ()[i], NULL, NULL, NULL), ==, SQLITE_OK);
  return db;
}

static sqlite3_stmt *
prepare (sqlite3 *db, const char *sql, const char *argument)
{
  sqlite3_stmt *statement = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_bind_text (statement, 1, argument, -1, SQLITE_TRANSIENT), ==, SQLITE_OK);
  return statement;
}

static const char *
sql_type (BookKind kind)
{
  switch (kind)
    {
    case BOOK_KIND_INTEGER:
    case BOOK_KIND_BOOLEAN:
    case BOOK_KIND_CHOICE:
    case BOOK_KIND_REFERENCE:
    case BOOK_KIND_RECORD:
    case BOOK_KIND_ANY:
      return "INTEGER";
    case BOOK_KIND_REAL:
    case BOOK_KIND_SHARE:
    case BOOK_KIND_MONEY:
      return "REAL";
    case BOOK_KIND_TEXT:
    case BOOK_KIND_LONG_TEXT:
    case BOOK_KIND_DATE:
    case BOOK_KIND_MOMENT:
    case BOOK_KIND_CONTENT:
      return "TEXT";
    }
  g_assert_not_reached ();
}

static void
check_columns (sqlite3 *db, const BookRecord *record)
{
  sqlite3_stmt *statement = prepare (db, "SELECT name, type, \"notnull\", dflt_value, pk FROM pragma_table_xinfo (?1)",
                                     record->name);
  guint n = 0;

  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    {
      const char *name = (const char *) sqlite3_column_text (statement, 0);
      const char *type = (const char *) sqlite3_column_text (statement, 1);
      const BookField *field;

      g_test_message ("%s.%s", record->name, name);
      g_assert_cmpint (sqlite3_column_type (statement, 3), ==, SQLITE_NULL); /* no default */
      g_assert_cmpint (sqlite3_column_int (statement, 4), ==, n == 0);       /* id alone is the primary key */
      if (n == 0)
        {
          g_assert_cmpstr (name, ==, "id");
          g_assert_cmpstr (type, ==, "INTEGER");
          continue;
        }
      g_assert_cmpuint (n, <=, record->n_fields);
      field = &record->fields[n - 1];
      g_assert_cmpstr (name, ==, field->name);
      g_assert_cmpstr (type, ==, sql_type (field->kind));
      g_assert_cmpint (sqlite3_column_int (statement, 2), ==, field->required);
    }
  sqlite3_finalize (statement);
  g_assert_cmpuint (n, ==, record->n_fields + 1);
}

static void
check_references (sqlite3 *db, const BookRecord *record)
{
  sqlite3_stmt *statement = prepare (db, "SELECT \"from\", \"table\", \"to\", on_update, on_delete "
                                         "FROM pragma_foreign_key_list (?1)", record->name);
  guint n = 0;
  guint n_described = 0;

  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    {
      const BookField *field = book_field_find (record, (const char *) sqlite3_column_text (statement, 0));

      g_assert_nonnull (field);
      g_assert_cmpint (field->kind, ==, BOOK_KIND_REFERENCE);
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 1), ==, book_record (field->refers)->name);
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 2), ==, "id");
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 3), ==, "NO ACTION");
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 4), ==, "NO ACTION");
    }
  sqlite3_finalize (statement);

  for (guint i = 0; i < record->n_fields; i++)
    n_described += record->fields[i].kind == BOOK_KIND_REFERENCE;
  g_assert_cmpuint (n, ==, n_described);
}

static void
check_key_index (sqlite3 *db, const BookRecord *record)
{
  g_autofree char *index = g_strconcat (record->name, "_key", NULL);
  sqlite3_stmt *statement = prepare (db, "SELECT name FROM pragma_index_info (?1) ORDER BY seqno", index);
  guint n = 0;

  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    {
      g_assert_cmpuint (n, <, record->n_key);
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 0), ==, record->key[n]);
    }
  sqlite3_finalize (statement);
  g_assert_cmpuint (n, ==, record->n_key);

  statement = prepare (db, "SELECT count(*) FROM pragma_index_list (?1) WHERE \"unique\"", record->name);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  g_assert_cmpint (sqlite3_column_int (statement, 0), ==, 0);
  sqlite3_finalize (statement);
}

static void
test_described_tables_are_the_sql (void)
{
  sqlite3 *db = open_schema ();

  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      check_columns (db, book_record (id));
      check_references (db, book_record (id));
      check_key_index (db, book_record (id));
    }
  sqlite3_close (db);
}

static void
test_no_table_is_without_a_description (void)
{
  static const char *const others[] = { "person_name", "model_version", "answer", NULL };
  sqlite3 *db = open_schema ();
  sqlite3_stmt *statement = prepare (db, "SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND ?1 = ''", "");
  guint n = 0;

  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    {
      const char *name = (const char *) sqlite3_column_text (statement, 0);
      const char *sql = (const char *) sqlite3_column_text (statement, 1);

      g_test_message ("%s", name);
      g_assert_nonnull (strstr (sql, "STRICT"));
      g_assert_true (book_record_find (name) != NULL || g_strv_contains (others, name));
    }
  sqlite3_finalize (statement);
  g_assert_cmpuint (n, ==, BOOK_N_RECORDS + G_N_ELEMENTS (others) - 1);

  statement = prepare (db, "SELECT count(*) FROM sqlite_schema WHERE type IN ('trigger', 'view') AND ?1 = ''", "");
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  g_assert_cmpint (sqlite3_column_int (statement, 0), ==, 0);
  sqlite3_finalize (statement);
  sqlite3_close (db);
}

static void
check_field (const BookRecord *record, const BookField *field)
{
  g_test_message ("%s.%s", record->name, field->name);
  g_assert_true (g_str_has_suffix (field->help, "."));
  g_assert_cmpint (field->kind == BOOK_KIND_CHOICE, ==, field->choices != NULL);
  g_assert_cmpint (field->kind == BOOK_KIND_REFERENCE, ==, field->refers != BOOK_RECORD_NONE);
  g_assert_cmpint (field->kind == BOOK_KIND_TEXT || field->kind == BOOK_KIND_LONG_TEXT
                     || field->kind == BOOK_KIND_CONTENT, ==, field->max_length > 0);
  if (field->kind == BOOK_KIND_INTEGER || field->kind == BOOK_KIND_REAL || field->kind == BOOK_KIND_SHARE
      || field->kind == BOOK_KIND_MONEY)
    g_assert_cmpfloat (field->min, <, field->max);
  if (field->kind == BOOK_KIND_BOOLEAN && field->required)
    g_assert_nonnull (field->fallback);
  if (field->choices != NULL)
    for (const BookChoice *choice = field->choices; choice->text != NULL; choice++)
      {
        g_assert_cmpint (choice->code, >, 0);
        g_assert_true (book_choice_by_code (field->choices, choice->code) == choice);
        g_assert_true (book_choice_by_text (field->choices, choice->text) == choice);
      }
  if (field->choices != NULL && field->fallback != NULL)
    g_assert_nonnull (book_choice_by_text (field->choices, field->fallback));
  if (field->fallback != NULL)
    {
      const BookValue value = book_value_fallback (field);
      g_autoptr(GError) error = NULL;

      g_assert_true (book_value_check (field, &value, &error));
      g_assert_no_error (error);
      g_assert_false (book_value_is_empty (&value));
    }
}

static void
test_records_keep_their_promises (void)
{
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const BookRecord *record = book_record (id);

      g_assert_cmpuint (record->id, ==, id);
      g_assert_true (book_record_find (record->name) == record);
      g_assert_cmpuint (record->n_fields, <=, BOOK_MAX_FIELDS);
      g_assert_cmpuint (record->n_key, >, 0);
      g_assert_cmpuint (record->n_key, <=, BOOK_MAX_KEY);
      for (guint i = 0; i < record->n_key; i++)
        g_assert_nonnull (book_field_find (record, record->key[i]));
      if (record->parent != NULL)
        g_assert_nonnull (book_field_find (record, record->parent));
      if (record->ordinal != NULL)
        {
          const BookField *field = book_field_find (record, record->ordinal);

          g_assert_true (book_record_has_in_key (record, field));
          g_assert_cmpint (field->kind, ==, BOOK_KIND_INTEGER);
        }
      for (guint i = 0; i < record->n_fields; i++)
        check_field (record, &record->fields[i]);
    }
}

static void
test_order_puts_parents_first (void)
{
  gboolean seen[BOOK_N_RECORDS + 1] = { FALSE };

  for (guint position = 0; position < BOOK_N_RECORDS; position++)
    {
      const BookRecord *record = book_record_in_order (position);

      g_assert_false (seen[record->id]);
      seen[record->id] = TRUE;
      for (guint i = 0; i < record->n_fields; i++)
        if (record->fields[i].kind == BOOK_KIND_REFERENCE)
          g_assert_true (seen[record->fields[i].refers]);
    }
  g_assert_null (book_record_in_order (BOOK_N_RECORDS));
}

/* A CSV column that serves several references must mean the same for each of them. */
static void
test_shared_csv_columns_mean_the_same (void)
{
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const BookRecord *record = book_record (id);
      BookCsvColumn columns[BOOK_MAX_FIELDS * 2];
      guint n_columns = book_record_csv_columns (record, columns);

      for (guint i = 0; i < record->n_fields; i++)
        {
          BookCsvColumn parts[BOOK_MAX_KEY];
          guint n_parts = book_field_csv_columns (record, &record->fields[i], parts);

          for (guint j = 0; j < n_parts; j++)
            for (guint k = 0; k < n_columns; k++)
              if (g_str_equal (parts[j].name, columns[k].name))
                {
                  g_test_message ("%s.csv, column %s", record->name, columns[k].name);
                  g_assert_true (parts[j].leaf == columns[k].leaf);
                  g_assert_true (parts[j].record == columns[k].record);
                }
        }
    }
}

static char *
csv_header (const char *name)
{
  BookCsvColumn columns[BOOK_MAX_FIELDS * 2];
  guint n = book_record_csv_columns (book_record_find (name), columns);
  GString *header = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append_printf (header, "%s%s", i > 0 ? "," : "", columns[i].name);
  return g_string_free (header, FALSE);
}

static void
check_header (const char *name, const char *expected)
{
  g_autofree char *header = csv_header (name);

  g_assert_cmpstr (header, ==, expected);
}

static void
test_references_are_given_by_visible_keys (void)
{
  check_header ("person", "initials,role,active,name");
  check_header ("revision", "part,label,state,date,note");
  check_header ("lot", "part,model,step,number,supplier,received,quantity,verdict,person");
  check_header ("limit", "model,characteristic,from_date,nominal,lower,upper,change");
  check_header ("reading", "model,round,unit,characteristic,attempt,n,step,value,mark,voided,reason,taken,person,gauge");
  check_header ("unit", "model,round,serial,part,variant,assembled_on,assembled_by,assembled_at,went_into_round,went_into");
  check_header ("unit_part", "model,round,unit,part,step,revision,lot");
  check_header ("tally_loss", "model,step,date,person,tally,issue,units");
  check_header ("signoff", "model,gate,person,no,opinion,conditions,date,withdraws,reason");
  check_header ("attachment", "owner_record,owner,no,kind,name,mime_type,sha256,size,link");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/fields/described-tables-are-the-sql", test_described_tables_are_the_sql);
  g_test_add_func ("/book/fields/no-table-is-without-a-description", test_no_table_is_without_a_description);
  g_test_add_func ("/book/fields/records-keep-their-promises", test_records_keep_their_promises);
  g_test_add_func ("/book/fields/order-puts-parents-first", test_order_puts_parents_first);
  g_test_add_func ("/book/fields/shared-csv-columns-mean-the-same", test_shared_csv_columns_mean_the_same);
  g_test_add_func ("/book/fields/references-are-given-by-visible-keys", test_references_are_given_by_visible_keys);
  return g_test_run ();
}
