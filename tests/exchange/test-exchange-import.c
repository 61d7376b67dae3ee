/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Importing files: what goes in, what is refused and with which sentence, and that nothing is half stored. */
#include "exchange-desk.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#define HEAD "model,round,unit,characteristic,value\n"

static void
check (Desk *desk, const ExchangeImportOptions *options, const char *expected)
{
  g_autofree char *got = desk_import (desk, options);

  g_assert_cmpstr (got, ==, expected);
}

static void
test_stores (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;

  g_test_summary ("Files of one call refer to one another and go in together; the order of files does not matter.");
  desk_put_base (desk);
  desk_put (desk, "reading.csv", HEAD "A,P1,U2,W,12.5\nA,P1,U1,W,12.4\n");
  check (desk, NULL, "characteristic +2\nmodel +1\nperson +2\nreading +2\nround +1\nunit +2\n");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,1,,12.4,measured,no,,,,\nA,P1,U2,W,1,1,,12.5,measured,no,,,,\n"));
  g_assert_nonnull (strstr (dump, "KB,maker,yes,Kay B\nLN,inspector,yes,\n"));
}

static void
test_again (Desk *desk, gconstpointer unused)
{
  g_test_summary ("The same files again store nothing.");
  desk_put_base (desk);
  desk_put (desk, "reading.csv", HEAD "A,P1,U2,W,12.5\nA,P1,U1,W,12.4\n");
  desk_do (desk);
  check (desk, NULL, "characteristic =2\nmodel =1\nperson =2\nreading =2\nround =1\nunit =2\n");
  desk_put (desk, "reading.csv", "unit;value;model;round;characteristic;n\nU2;12,50;A;P1;W;1\n");
  check (desk, NULL, "characteristic =2\nmodel =1\nperson =2\nreading =1\nround =1\nunit =2\n");
}

/* Each row: files put over the base, and every sentence that comes of it. */
static const struct
{
  const char *path; /* of the test */
  const char *name;
  const char *text;
  gsize       length; /* 0: up to the zero byte */
  const char *expected;
} refused[] = {
  { "a-wrong-number", "reading.csv", HEAD "A,P1,U1,W,12.5x\n", 0, "reading.csv:2: value: '12.5x' is " },
  { "a-date-that-does-not-exist", "reading.csv", "model,round,unit,characteristic,value,taken\nA,P1,U1,W,12.5,2025-02-30\n", 0,
    "reading.csv:2: taken: '2025-02-30' is not a date or time that exists: write it like " },
  { "an-unknown-serial", "reading.csv", HEAD "A,P1,U9,W,12.5\n", 0,
    "reading.csv:2: unit: there is no unit 'A/P1/U9' in the book or in the files: mend the cell or import it too\n" },
  { "an-unknown-round", "reading.csv", HEAD "A,P9,U1,W,12.5\n", 0,
    "reading.csv:2: round: there is no round 'A/P9' in the book or in the files: mend the cell or import it too\n" },
  { "an-unknown-model", "reading.csv", HEAD "B,P1,U1,W,12.5\n", 0,
    "reading.csv:2: model: there is no model 'B' in the book or in the files: mend the cell or import it too\n" },
  { "a-value-beyond-its-bounds", "reading.csv", "model,round,unit,characteristic,attempt,value\nA,P1,U1,W,0,12.5\n", 0, "reading.csv:2: attempt: " },
  { "an-unknown-choice", "round.csv", "model,label,kind\nA,P1,prototyp\n", 0, "round.csv:2: kind: 'prototyp' is none of the choices; did you mean 'prototype'?" },
  { "two-rows-of-one-key", "reading.csv", HEAD "A,P1,U1,W,12.5\nA,P1,U2,W,12.5\nA,P1,U1,W,12.6\n", 0,
    "reading.csv:4: n: the row has the same key as the one at reading.csv:2: take one of them out\n" },
  { "a-missing-key-column", "reading.csv", "model,round,characteristic,value\nA,P1,W,12.5\n", 0,
    "reading.csv:1: unit: the column is missing: every row needs it\n" },
  { "a-missing-required-column", "characteristic.csv", "model,code,kind\nA,W,measured\n", 0,
    "characteristic.csv:1: name: the column is missing: rows that the book does not have yet need it\n" },
  { "an-unknown-column", "reading.csv", "model,round,unit,characteristic,vlaue\nA,P1,U1,W,12.5\n", 0,
    "reading.csv:1: vlaue: 'reading' has no such column; the nearest is 'value'\n" },
  { "a-column-that-stands-twice", "reading.csv", "model,round,unit,characteristic,value,value\nA,P1,U1,W,12.5,12.5\n", 0,
    "reading.csv:1: value: the column stands there twice: take one out\n" },
  { "too-few-cells", "reading.csv", HEAD "A,P1,U1,W\n", 0,
    "reading.csv:2: the row has 4 cells, the header 5: look for a separator inside a cell without quotes\n" },
  { "invalid-utf-8", "reading.csv", HEAD "A,P1,U1,W,1\xff\n", 0,
    "reading.csv:2: value: the text is not UTF-8: save the file as CSV in UTF-8\n" },
  { "a-nul-byte", "reading.csv", HEAD "A,P1,U1,\0,1\n", sizeof (HEAD "A,P1,U1,\0,1\n") - 1,
    "reading.csv:2: characteristic: the file holds a NUL byte, which is no text: save it as CSV in UTF-8\n" },
  { "an-unfinished-quote", "reading.csv", HEAD "A,P1,U1,W,\"12.5\n", 0, "reading.csv:2: value: a quote is opened and never closed: close it\n" },
  { "an-empty-file", "reading.csv", "", 0, "reading.csv:1: the file is empty: its first line must name the columns\n" },
  { "an-empty-required-cell", "reading.csv", HEAD "A,P1,,W,12.5\n", 0, "reading.csv:2: unit: the cell is empty, but every row needs it\n" },
  { "a-check-with-a-value", "reading.csv", HEAD "A,P1,U1,L,12.5\n", 0,
    "reading.csv:2: mark: The characteristic is checked, not measured: write passed or failed\n" },
  { "a-control-character", "unit.csv", "model,round,serial\nA,P1,U\x07" "1\n", 0, "unit.csv:2: serial: 'U\\u00071' holds a control character: take it out\n" },
};

static void
test_refuses (Desk *desk, gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autofree char *got = NULL;
  g_autofree char *dump = NULL;
  g_autofree char *place = g_strdup_printf ("%s:", refused[i].name);

  g_test_summary ("The sentence names file, line, column and what to do; nothing is stored.");
  desk_put_base (desk);
  desk_put_bytes (desk, refused[i].name, refused[i].text,
                  refused[i].length > 0 ? refused[i].length : strlen (refused[i].text));
  got = desk_import (desk, NULL);
  g_test_message ("%s", got);
  g_assert_true (g_str_has_prefix (got, place));
  g_assert_true (g_ascii_isdigit (got[strlen (place)]));
  g_assert_nonnull (strstr (got, "\nNothing was stored"));
  g_assert_true (g_str_has_prefix (got, refused[i].expected));
  dump = desk_dump (desk);
  g_assert_cmpstr (dump, ==, "");
}

static void
test_all_wrong_rows (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions few = { .most_problems = 3 };
  g_autoptr(GString) text = g_string_new (HEAD);
  g_autofree char *got = NULL;

  g_test_summary ("All wrong rows are told in the order of the file, whatever is wrong with each.");
  desk_put_base (desk);
  desk_put (desk, "reading.csv",
            "model,round,unit,characteristic,n,value\nA,P1,U1,W,1,12.5\nA,P1,U7,W,1,12.5\nA,P1,U2,W,x,12.5\nA,P1,U1,W,"
            "1,12.5\n"
            "A,P1,U2,L,1,3\nA,P1,U2,W,1,12.5\n");
  got = desk_import (desk, NULL);
  g_test_message ("%s", got);
  g_assert_nonnull (strstr (got, "reading.csv:3: unit: "));
  g_assert_nonnull (strstr (got, "reading.csv:4: n: "));
  g_assert_nonnull (strstr (got, "reading.csv:5: n: the row has the same key as the one at reading.csv:2"));
  g_assert_nonnull (strstr (got, "reading.csv:6: "));
  g_assert_nonnull (strstr (got, "Nothing was stored, since 4 rows are wrong: mend them and import again."));
  g_assert_true (strstr (got, "csv:3:") < strstr (got, "csv:4:") && strstr (got, "csv:4:") < strstr (got, "csv:5:"));

  for (guint i = 0; i < 100; i++)
    g_string_append_printf (text, "A,P1,X%u,W,1\n", i);
  desk_put (desk, "reading.csv", text->str);
  g_free (got);
  got = desk_import (desk, &few);
  g_assert_nonnull (strstr (got, "csv:4:"));
  g_assert_null (strstr (got, "csv:5:"));
  g_assert_nonnull (strstr (got, "since 100 rows are wrong"));
}

static void
test_another_value (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autofree char *dump = NULL;

  g_test_summary ("A key with another value is refused, naming both; with update it changes the book.");
  desk_put_base (desk);
  desk_put (desk, "reading.csv", "model,round,unit,characteristic,value,person\nA,P1,U1,W,12.5,KB\n");
  desk_do (desk);
  desk_clear (desk);
  desk_put (desk, "reading.csv", "model,round,unit,characteristic,value,person\nA,P1,U1,W,12.6,LN\n");
  check (desk, NULL,
         "reading.csv:2: value: the book has '12.5' here, the file '12.6': import with --update to change it\n"
         "reading.csv:2: person: the book has 'KB' here, the file 'LN': import with --update to change it\n"
         "Nothing was stored, since 1 row is wrong: mend it and import again.\n");
  check (desk, &update, "reading ~1\n");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,1,,12.6,measured,no,,,LN,\n"));
  check (desk, &update, "reading =1\n");
}

static void
test_rule_on_update (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autofree char *got = NULL;

  g_test_summary ("A change that breaks a rule of the book is refused with its line, also where half of the row is not "
                  "in the file.");
  desk_put_base (desk);
  desk_put (desk, "limit.csv", "model,characteristic,from_date,lower,upper\nA,W,2025-01-01,1,2\n");
  desk_do (desk);
  desk_clear (desk);
  desk_put (desk, "limit.csv", "model,characteristic,from_date,upper\nA,W,2025-01-01,0.5\n");
  got = desk_import (desk, &update);
  g_test_message ("%s", got);
  g_assert_true (g_str_has_prefix (got, "limit.csv:2: "));
  g_assert_nonnull (strstr (got, "Nothing was stored, since 1 row is wrong"));
}

static void
test_absent_and_empty (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autofree char *dump = NULL;

  g_test_summary ("A column that is absent is left alone; an empty cell is empty.");
  desk_put_base (desk);
  desk_put (desk, "characteristic.csv", "model,code,name,unit,decimals\nA,W,Width,mm,3\n");
  desk_do (desk);
  desk_clear (desk);
  desk_put (desk, "characteristic.csv", "model,code,name\nA,W,Width\n");
  check (desk, NULL, "characteristic =1\n");
  desk_put (desk, "characteristic.csv", "model,code,name,unit\nA,W,Width over all,\n");
  check (desk, NULL,
         "characteristic.csv:2: name: the book has 'Width' here, the file 'Width over all': import with --update to change it\n"
         "characteristic.csv:2: unit: the book has 'mm' here, the file '': import with --update to change it\n"
         "Nothing was stored, since 1 row is wrong: mend it and import again.\n");
  check (desk, &update, "characteristic ~1\n");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,W,Width over all,measured,,3,function,"));
}

static void
test_ordinal (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;

  g_test_summary ("A file without `no` numbers its rows within the rest of the key.");
  desk_put_base (desk);
  desk_put (
      desk, "unit_event.csv",
      "model,round,unit,date,kind\nA,P1,U1,2025-01-01,built\nA,P1,U2,2025-01-01,built\nA,P1,U1,2025-01-02,passed\n");
  desk_do (desk);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (
      dump, "A,P1,U1,1,2025-01-01,,built,,,,,\nA,P1,U1,2,2025-01-02,,passed,,,,,\nA,P1,U2,1,2025-01-01,,built,,,,,\n"));
  check (desk, NULL, "characteristic =2\nmodel =1\nperson =2\nround =1\nunit =2\nunit_event =3\n");
}

static void
test_own_references (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;

  g_test_summary ("A row may refer to a later row of the same file.");
  desk_put_base (desk);
  desk_put (desk, "unit.csv", "model,round,serial,went_into\nA,P1,B1,U1\nA,P1,U1,\nA,P1,B2,B1\n");
  desk_do (desk);
  dump = desk_dump (desk);
  g_test_message ("%s", dump);
  g_assert_nonnull (strstr (dump, "A,P1,B1,,,,,,P1,U1\nA,P1,B2,,,,,,P1,B1\nA,P1,U1,,,,,,,\n"));
  check (desk, NULL, "characteristic =2\nmodel =1\nperson =2\nround =1\nunit =3\n");
  desk_put (desk, "unit.csv", "model,round,serial,went_into\nA,P1,C1,C2\nA,P1,C2,C1\n");
  check (desk, NULL,
         "unit.csv:2: went_into: there is no unit 'A/P1/C2' in the book or in the files: mend the cell or import it too\n"
         "unit.csv:3: went_into: there is no unit 'A/P1/C1' in the book or in the files: mend the cell or import it too\n"
         "Nothing was stored, since 2 rows are wrong: mend them and import again.\n");
}

static void
test_keep_good (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions keep = { .keep_good = TRUE };
  g_autofree char *got = NULL;
  g_autofree char *dump = NULL;
  g_autofree char *units = NULL;
  g_autofree char *readings = NULL;

  g_test_summary ("Good rows are stored, wrong ones and those that refer to them are written beside the file.");
  desk_put_base (desk);
  desk_put (desk, "unit.csv", "model,round,serial,assembled_on\nA,P1,U1,2025-01-31\nA,P1,U2,2025-01-32\n");
  desk_put (desk, "reading.csv",
            "model;round;unit;characteristic;value;reason\nA;P1;U1;W;12,5;\nA;P1;U2;W;12,6;\"a;b\"\nA;P1;U1;L;1;\n");
  got = desk_import (desk, &keep);
  g_test_message ("%s", got);
  g_assert_nonnull (strstr (got, "unit.csv:3: assembled_on: "));
  g_assert_nonnull (
      strstr (got, "reading.csv:3: unit: the row refers to the unit 'A/P1/U2', which was rejected at unit.csv:3\n"));
  g_assert_nonnull (strstr (got, "reading +1\nreading !2\nround +1\nunit +1\nunit !1\n"));
  units = desk_read (desk, "unit.csv.rejected.csv");
  g_assert_true (g_str_has_prefix (units, "model,round,serial,assembled_on,rejected_because\nA,P1,U2,2025-01-32,"));
  readings = desk_read (desk, "reading.csv.rejected.csv");
  g_assert_true (g_str_has_prefix (
      readings, "model;round;unit;characteristic;value;reason;rejected_because\nA;P1;U2;W;12,6;\"a;b\";"));
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,1,,12.5,"));
  g_assert_null (strstr (dump, "U2"));
}

static void
test_mended (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions plain = { 0 };
  static const ExchangeImportOptions keep = { .keep_good = TRUE };
  g_autofree char *first = g_build_filename (desk->files, "unit.csv.rejected.csv", NULL);
  const char *paths[] = { first, NULL };
  g_autofree char *got = NULL;
  g_autofree char *text = NULL;
  g_autoptr(GString) mended = NULL;
  g_autoptr(ExchangeImportReport) report = NULL;
  g_autoptr(GError) error = NULL;

  g_test_summary ("The file of rejected rows, mended, is imported as it is; a folder passes it over.");
  desk_put_base (desk);
  desk_put (desk, "unit.csv", "model,round,serial,assembled_on\nA,P1,U1,2025-01-31\nA,P1,U2,2025-01-32\n");
  got = desk_import (desk, &keep);
  text = desk_read (desk, "unit.csv.rejected.csv");
  mended = g_string_new (text);
  g_string_replace (mended, "2025-01-32", "2025-01-30", 1);
  desk_put (desk, "unit.csv.rejected.csv", mended->str);
  exchange_import (desk->book, paths, &plain, &report, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (((ExchangeImportFile *) g_ptr_array_index (report->files, 0))->inserted, ==, 1);
  desk_put (desk, "unit.csv", "model,round,serial\nA,P1,U1\n");
  check (desk, NULL, "characteristic =2\nmodel =1\nperson =2\nround =1\nunit =1\n");
}

static void
test_dry_run (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions dry = { .dry_run = TRUE };
  static const ExchangeImportOptions dry_keep = { .dry_run = TRUE, .keep_good = TRUE };
  g_autofree char *dump = NULL;
  g_autofree char *path = g_build_filename (desk->files, "reading.csv.rejected.csv", NULL);
  g_autofree char *got = NULL;

  g_test_summary ("A dry run says what would happen and stores nothing.");
  desk_put_base (desk);
  check (desk, &dry, "characteristic +2\nmodel +1\nperson +2\nround +1\nunit +2\n");
  desk_put (desk, "reading.csv", HEAD "A,P1,U9,W,1\n");
  got = desk_import (desk, &dry_keep);
  g_assert_nonnull (strstr (got, "reading !1"));
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  dump = desk_dump (desk);
  g_assert_cmpstr (dump, ==, "");
}

static void
test_names (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autofree char *dump = NULL;

  g_test_summary ("Names of people go in and out beside the journal.");
  desk_put_base (desk);
  desk_do (desk);
  desk_put (desk, "person.csv", "initials,name\nKB,Kim B\n");
  check (desk, NULL,
         "person.csv:2: name: the book has 'Kay B' here, the file 'Kim B': import with --update to change it\n"
         "Nothing was stored, since 1 row is wrong: mend it and import again.\n");
  check (desk, &update, "characteristic =2\nmodel =1\nperson ~1\nround =1\nunit =2\n");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "KB,maker,yes,Kim B\n"));
}

static void
test_attachments (Desk *desk, gconstpointer unused)
{
  static const char bytes[] = "a small drawing";
  g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, bytes, -1);
  g_autofree char *file = g_strconcat ("files/", sha256, NULL);
  g_autofree char *row = g_strdup_printf ("owner_record,owner,no,name,sha256,size\nround,A/P1,1,lock.svg,%s,%u\n",
                                          sha256, (guint) strlen (bytes));
  g_autofree char *sizeless = g_strdup_printf ("owner_record,owner,no,name,sha256,size\nround,A/P1,2,lock.svg,%s,4\n", sha256);
  g_autofree char *above = g_strdup_printf ("owner_record,owner,no,name,sha256,size\nround,A/P1,2,../lock.svg,%s,%u\n",
                                            sha256, (guint) strlen (bytes));
  g_autofree char *folder = NULL;
  g_autofree char *out = NULL;
  g_autofree char *read = NULL;
  g_autofree char *got = NULL;

  g_test_summary ("Attached files stand beside the CSV by their SHA-256, go in and come out.");
  desk_put_base (desk);
  desk_put (desk, "attachment.csv", row);
  got = desk_import (desk, NULL);
  g_assert_nonnull (strstr (got, "attachment.csv:2: sha256: the file "));
  g_assert_nonnull (strstr (got, "cannot be read: put it there, or leave the cell empty"));
  g_free (got);
  desk_put (desk, file, "another drawing");
  got = desk_import (desk, NULL);
  g_assert_nonnull (strstr (got, "is not the one that was exported: its SHA-256 is another"));
  desk_put (desk, file, bytes);
  desk_do (desk);
  folder = desk_export (desk);
  out = g_build_filename (folder, file, NULL);
  g_assert_true (g_file_get_contents (out, &read, NULL, NULL));
  g_assert_cmpstr (read, ==, bytes);
  desk_put (desk, "attachment.csv", above);
  g_free (got);
  got = desk_import (desk, NULL);
  g_assert_nonnull (strstr (got, "attachment.csv:2: name: "));
  g_assert_nonnull (strstr (got, "write only its own name"));
  desk_put (desk, "attachment.csv", sizeless);
  g_free (got);
  got = desk_import (desk, NULL);
  g_assert_nonnull (strstr (got, "attachment.csv:2: size: the file has 15 bytes: correct the cell"));
  desk_put (desk, "attachment.csv", row);
  check (desk, NULL, "attachment =1\ncharacteristic =2\nmodel =1\nperson =2\nround =1\nunit =2\n");
}

static void
test_lasting (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions update = { .update = TRUE };
  g_autofree char *got = NULL;

  g_test_summary ("A sign-off is never changed, not by an update either.");
  desk_put_base (desk);
  desk_put (desk, "gate.csv", "model,name\nA,Release\n");
  desk_put (desk, "signoff.csv", "model,gate,person,opinion,date\nA,1,KB,disagree,2025-01-01\n");
  got = desk_import (desk, NULL);
  g_test_message ("%s", got);
  g_assert_nonnull (strstr (got, "signoff +1"));
  desk_clear (desk);
  desk_put (desk, "signoff.csv", "model,gate,person,no,opinion,date\nA,1,KB,1,agree,2025-01-01\n");
  g_free (got);
  got = desk_import (desk, &update);
  g_test_message ("%s", got);
  g_assert_true (g_str_has_prefix (got, "signoff.csv:2: opinion: the book has '"));
  g_assert_nonnull (strstr (got, "such a row is never changed: add a new one that withdraws it"));
}

static void
test_paths (Desk *desk, gconstpointer unused)
{
  static const ExchangeImportOptions plain = { 0 };
  g_autofree char *absent = g_build_filename (desk->files, "reading.csv", NULL);
  const char *paths[] = { absent, NULL };
  g_autoptr(GError) error = NULL;

  g_test_summary ("A path that is no file, an empty folder and a file of no record are refused.");
  g_assert_false (exchange_import (desk->book, paths, &plain, NULL, NULL, &error));
  g_assert_true (g_str_has_suffix (error->message, "reading.csv: there is no such file or folder: correct the path"));
  check (desk, NULL, "IN: there is no CSV file in this folder\n");
  desk_put (desk, "readings.csv", HEAD);
  check (desk, NULL,
         "readings.csv: there is no record 'readings'; the nearest is 'reading': name the file after its record\n");
  desk_clear (desk);
  g_assert_cmpint (g_mkdir (absent, 0700), ==, 0);
  check (desk, NULL,
         "reading.csv: this is a folder: name a file\nNothing was stored: mend the files and import again.\n");
}

static void
test_separators (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;
  g_autofree char *got = NULL;

  g_test_summary ("A decimal comma is read where the separator is not a comma, and only there.");
  desk_put_base (desk);
  desk_put (desk, "reading.csv",
            "model\tround\tunit\tcharacteristic\tvalue\r\nA\tP1\tU1\tW\t12,5\r\nA\tP1\tU2\tW\t12.6\r\n");
  desk_do (desk);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,1,,12.5,"));
  g_assert_nonnull (strstr (dump, "A,P1,U2,W,1,1,,12.6,"));
  desk_put (desk, "reading.csv", HEAD "A,P1,U1,W,\"12,5\"\n");
  got = desk_import (desk, NULL);
  g_assert_true (g_str_has_prefix (got, "reading.csv:2: value: "));
}

static void
test_formula_signs (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;

  g_test_summary ("Cells that a spreadsheet would run stay text, byte for byte.");
  desk_put_base (desk);
  desk_put (desk, "part.csv", "number,name\n=1+1,\"=HYPERLINK(\"\"x\"\")\"\n+3,@SUM\n-1,'-2\n");
  desk_do (desk);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "+3,@SUM,"));
  g_assert_nonnull (strstr (dump, "=1+1,\"=HYPERLINK(\"\"x\"\")\","));
}

typedef struct
{
  GCancellable *cancellable;
  guint         told;
  guint64       last;
} Telling;

static void
on_progress (guint64 done, guint64 total, gpointer data)
{
  Telling *telling = data;

  g_assert_cmpuint (total, ==, 1000);
  g_assert_cmpuint (done, <=, 1000);
  g_assert_cmpuint (done, >=, telling->last);
  telling->last = done;
  if (++telling->told == 3 && telling->cancellable != NULL)
    g_cancellable_cancel (telling->cancellable);
}

static void
test_cancel (Desk *desk, gconstpointer unused)
{
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  Telling telling = { cancellable, 0, 0 };
  ExchangeImportOptions options = { .progress = on_progress, .progress_data = &telling };
  const char *paths[] = { desk->files, NULL };
  g_autoptr(GString) text = g_string_new ("model,round,unit,characteristic,n,value\n");
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("A cancelled import stores nothing; one that is not goes to its end.");
  desk_put_base (desk);
  for (guint i = 1; i <= 20000; i++)
    g_string_append_printf (text, "A,P1,U%u,W,%u,%u\n", i % 2 + 1, (i + 1) / 2, i);
  desk_put (desk, "reading.csv", text->str);
  g_assert_false (exchange_import (desk->book, paths, &options, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  dump = desk_dump (desk);
  g_assert_cmpstr (dump, ==, "");
  g_clear_error (&error);
  telling.cancellable = NULL;
  telling.last = 0;
  g_assert_true (exchange_import (desk->book, paths, &options, NULL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (telling.told, >, 5);
}

/* Enough rows for sorting, for several entries, and for the walk over the book instead of single look-ups. */
static void
test_many (Desk *desk, gconstpointer unused)
{
  g_autoptr(GString) text = g_string_new ("model,round,unit,characteristic,n,value\n");
  g_autofree char *dump = NULL;
  g_autofree char *got = NULL;

  g_test_summary ("Many rows in any order go in, and are found again.");
  desk_put_base (desk);
  for (guint i = 0; i < 60000; i++)
    {
      guint j = (i * 7919) % 60000; /* prime: each number once, in a shaken order */

      g_string_append_printf (text, "A,P1,U%u,%s,%u,%u.25\n", j % 2 + 1, "W", j / 2 % 10000 + 1 + 0, j);
      if (j >= 20000)
        g_string_truncate (text, (gsize) (g_strrstr (text->str, "\nA,") - text->str) + 1);
    }
  desk_put (desk, "reading.csv", text->str);
  desk_do (desk);
  got = desk_import (desk, NULL);
  g_assert_nonnull (strstr (got, "reading =20000\n"));
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,10000,,19998.25,measured,no,,,,\nA,P1,U2,W,1,1,,1.25,"));
}

#define TEST(path, func) g_test_add ("/exchange/import/" path, Desk, NULL, desk_open, func, desk_close)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("stores-files-that-refer-to-one-another", test_stores);
  TEST ("stores-nothing-the-second-time", test_again);
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *path = g_strconcat ("/exchange/import/refuses-", refused[i].path, NULL);

      g_test_add (path, Desk, GSIZE_TO_POINTER (i), desk_open, test_refuses, desk_close);
    }
  TEST ("tells-all-wrong-rows-in-order", test_all_wrong_rows);
  TEST ("refuses-another-value-unless-updating", test_another_value);
  TEST ("refuses-a-change-that-breaks-a-rule", test_rule_on_update);
  TEST ("leaves-absent-columns-alone-and-takes-empty-cells-as-empty", test_absent_and_empty);
  TEST ("numbers-rows-without-a-number", test_ordinal);
  TEST ("follows-references-within-a-file", test_own_references);
  TEST ("keeps-good-rows-and-writes-the-rejected-ones", test_keep_good);
  TEST ("takes-mended-rows", test_mended);
  TEST ("dry-run-stores-nothing", test_dry_run);
  TEST ("keeps-names-beside-the-journal", test_names);
  TEST ("takes-attached-files", test_attachments);
  TEST ("never-changes-a-sign-off", test_lasting);
  TEST ("refuses-paths-that-are-no-record", test_paths);
  TEST ("reads-decimal-commas-where-they-are-not-separators", test_separators);
  TEST ("keeps-formula-signs-as-text", test_formula_signs);
  TEST ("stores-nothing-when-cancelled", test_cancel);
  TEST ("stores-many-rows-in-any-order", test_many);
  return g_test_run ();
}
