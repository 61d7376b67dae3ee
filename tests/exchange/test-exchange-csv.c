/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reader of CSV against RFC 4180, section 2, and the sentences it gives for what is not in that grammar. */
#include "exchange-csv.h"
#include "exchange-error.h"

#include <glib/gstdio.h>
#include <string.h>

/* All fields of @text: cells parted by '|', rows by '/', the line of each row in front. */
static char *
dump (const char *text, gsize length, GError **error)
{
  g_autoptr(ExchangeCsv) csv = exchange_csv_open_text ("t.csv", text, length, error);
  g_autoptr(GString) out = g_string_new (NULL);
  const ExchangeCsvRow *row;

  if (csv == NULL)
    return NULL;
  for (guint c = 0; c < exchange_csv_count_columns (csv); c++)
    g_string_append_printf (out, "%s%s", c > 0 ? "|" : "", exchange_csv_get_column (csv, c));
  while (TRUE)
    {
      if (!exchange_csv_next (csv, &row, error))
        return NULL;
      if (row == NULL)
        return g_string_free (g_steal_pointer (&out), FALSE);
      g_string_append_printf (out, " / %u:", row->line);
      for (guint i = 0; i < row->n_fields; i++)
        {
          g_assert_cmpuint (strlen (row->fields[i].text), ==, row->fields[i].length);
          g_string_append_printf (out, "%s%s", i > 0 ? "|" : "", row->fields[i].text);
        }
    }
}

static void
test_reads (void)
{
  static const struct
  {
    const char *text;
    const char *expected;
  } cases[] = {
    { "a,b\n1,2\n", "a|b / 2:1|2" },
    { "a,b\r\n1,2\r\n", "a|b / 2:1|2" },              /* RFC 4180, 2.1 */
    { "a,b\n1,2", "a|b / 2:1|2" },                    /* 2.2: the last line break may be missing */
    { "\xef\xbb\xbf" "a,b\n1,2\n", "a|b / 2:1|2" },   /* a byte order mark */
    { "a,b\n\"1\",\"2\"\n", "a|b / 2:1|2" },          /* 2.5 */
    { "a,b\n\"x\ny\",2\n3,4\n", "a|b / 2:x\ny|2 / 4:3|4" }, /* 2.6: line breaks in quotes; the next row's line */
    { "a,b\n\"x\r\ny\",2\r\n3,4\r\n", "a|b / 2:x\r\ny|2 / 4:3|4" },
    { "a,b\n\"say \"\"so\"\"\",2\n", "a|b / 2:say \"so\"|2" }, /* 2.7 */
    { "a,b\n\"1,5\",2\n", "a|b / 2:1,5|2" },
    { "a;b\n1,5;2\n", "a|b / 2:1,5|2" },
    { "a\tb\n1,5\t2;3\n", "a|b / 2:1,5|2;3" },
    { "a,b\n 1 , 2\n", "a|b / 2: 1 | 2" },            /* 2.4: spaces are part of a field */
    { "a,b\n,\n", "a|b / 2:|" },
    { "a,b\n\n1,2\n\n", "a|b / 3:1|2" },
    { "\n\na,b\n1,2\n", "a|b / 4:1|2" },
    { "a\n1\n", "a / 2:1" },
    { "a,b\n1,2,3\n4\n", "a|b / 2:1|2|3 / 3:4" },     /* how many cells a row has is the caller's affair */
    { "\"a,b\",c\n1,2\n", "a,b|c / 2:1|2" },
    { "a,b\n\"\",\"\"\n", "a|b / 2:|" },
    { "a,b\n=1+1,@x\n", "a|b / 2:=1+1|@x" },          /* formula signs are text like any other */
  };

  g_test_summary ("Rows, quotes, separators and line numbers come out as RFC 4180 says.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autofree char *got = dump (cases[i].text, strlen (cases[i].text), &error);

      g_test_message ("%s", cases[i].text);
      g_assert_no_error (error);
      g_assert_cmpstr (got, ==, cases[i].expected);
    }
}

static void
test_refuses (void)
{
  static const struct
  {
    const char *text;
    gsize       length; /* 0: up to the zero byte */
    const char *sentence;
  } cases[] = {
    { "", 0, "t.csv:1: the file is empty: its first line must name the columns" },
    { "\n\n", 0, "t.csv:1: the file is empty: its first line must name the columns" },
    { "\xef\xbb\xbf", 0, "t.csv:1: the file is empty: its first line must name the columns" },
    { "a,b\n1,\"x\n2,y\n", 0, "t.csv:2: b: a quote is opened and never closed: close it" },
    { "a,b\n1,2\n\"x\"y,2\n", 0, "t.csv:3: a: a quote stands inside a quoted field: write it twice, or end the field after it" },
    { "a,b\n1,5\"\n", 0, "t.csv:2: b: a quote stands inside a field that does not begin with one: put the whole field in quotes" },
    { "a,b\n1,\xff\n", 0, "t.csv:2: b: the text is not UTF-8: save the file as CSV in UTF-8" },
    { "a,b\n1,2\n3,4\n5,m\xfc" "de\n", 0, "t.csv:4: b: the text is not UTF-8: save the file as CSV in UTF-8" },
    { "a,b\n1,\xe2\x82", 0, "t.csv:2: b: the text is not UTF-8: save the file as CSV in UTF-8" },
    { "a,b\n1,\xed\xa0\x80\n", 0, "t.csv:2: b: the text is not UTF-8: save the file as CSV in UTF-8" }, /* a surrogate */
    { "a,b\n\0,2\n", 8, "t.csv:2: a: the file holds a NUL byte, which is no text: save it as CSV in UTF-8" },
    { "a,b\r1,2\r3,4\r", 0, "t.csv:1: a carriage return stands alone: end the lines with LF or CR LF" },
    { "\"a", 0, "t.csv:1: column 1: a quote is opened and never closed: close it" },
  };

  g_test_summary ("What is no CSV is refused with file, line, column and one sentence.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autofree char *got = dump (cases[i].text, cases[i].length > 0 ? cases[i].length : strlen (cases[i].text),
                                   &error);

      g_test_message ("case %u: %s", i, error != NULL ? error->message : got);
      g_assert_null (got);
      g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT);
      g_assert_cmpstr (error->message, ==, cases[i].sentence);
    }
}

static void
test_refuses_paths (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-csv-XXXXXX", NULL);
  g_autofree char *absent = g_build_filename (folder, "absent.csv", NULL);
  g_autofree char *expected = g_strdup_printf ("%s: this is a folder: name a file", folder);
  g_autofree char *missing = g_strdup_printf ("%s: the file cannot be opened: No such file or directory", absent);
  g_autoptr(GError) error = NULL;

  g_test_summary ("A folder and a file that is not there are refused.");
  g_assert_null (exchange_csv_open (folder, &error));
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE);
  g_assert_cmpstr (error->message, ==, expected);
  g_clear_error (&error);
  g_assert_null (exchange_csv_open (absent, &error));
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE);
  g_assert_cmpstr (error->message, ==, missing);
  g_rmdir (folder);
}

/* Rows of random cells through the writer and a file larger than the reader's buffer. */
static void
test_round_trip (void)
{
  static const char * const pieces[] = { "a", "12.5", ",", "\"", "\n", "\r\n", " ", ";", "\t", "ä", "€", "𝄞", "" };
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  g_autofree char *folder = g_dir_make_tmp ("fettle-csv-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);
  g_autoptr(GString) text = g_string_new ("x,y,z\n");
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeCsv) csv = NULL;
  const ExchangeCsvRow *row;
  guint at = 0;

  g_test_summary ("What the writer writes, the reader reads back, over buffer ends too.");
  g_test_message ("random numbers from %u", seed);
  for (guint r = 0; r < 20000; r++)
    for (guint c = 0; c < 3; c++)
      {
        g_autoptr(GString) cell = g_string_new (NULL);

        for (gint n = g_rand_int_range (rand, 0, 8); n > 0; n--)
          g_string_append (cell, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
        exchange_csv_write_field (text, cell->str, cell->len, ',');
        g_string_append (text, c < 2 ? "," : "\n");
        g_ptr_array_add (cells, g_strdup (cell->str));
      }
  g_assert_cmpuint (text->len, >, 300 * 1024);
  g_assert_true (g_file_set_contents (path, text->str, (gssize) text->len, &error));
  csv = exchange_csv_open (path, &error);
  g_assert_no_error (error);
  while (exchange_csv_next (csv, &row, &error) && row != NULL)
    {
      g_assert_cmpuint (row->n_fields, ==, 3);
      for (guint c = 0; c < 3; c++)
        g_assert_cmpstr (row->fields[c].text, ==, g_ptr_array_index (cells, at + c));
      at += 3;
    }
  g_assert_no_error (error);
  g_assert_cmpuint (at, ==, cells->len);
  g_assert_cmpfloat_with_epsilon (exchange_csv_get_share (csv), 1.0, 1e-9);
  g_unlink (path);
  g_rmdir (folder);
}

/* An unfinished quote must not take a whole file into memory. */
static void
test_long_row (void)
{
  g_autoptr(GString) text = g_string_new ("x\n\"");
  g_autoptr(GError) error = NULL;
  g_autofree char *got = NULL;

  g_test_summary ("A field without end is refused once it is too long.");
  for (guint i = 0; i < 9 * 1024 * 1024 / 64; i++)
    g_string_append (text, &"0123456789012345678901234567890123456789012345678901234567890123\n"[i % 2]);
  got = dump (text->str, text->len, &error);
  g_assert_null (got);
  g_assert_cmpstr (error->message, ==,
                   "t.csv:2: x: the row is too long to be read: look for a quote that is not closed");
}

static void
test_any_bytes (void)
{
  static const char alphabet[] = "a,;\t\"\r\n \xc3\xa4\xff\xe2\x82\xac";
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  guint read = 0;

  g_test_summary ("Any bytes give rows or one sentence.");
  g_test_message ("random numbers from %u", seed);
  for (guint i = 0; i < 20000; i++)
    {
      char text[40];
      gsize length = (gsize) g_rand_int_range (rand, 0, sizeof text);
      g_autoptr(GError) error = NULL;
      g_autofree char *got = NULL;

      for (gsize k = 0; k < length; k++)
        text[k] = alphabet[g_rand_int_range (rand, 0, sizeof alphabet)]; /* the zero byte at its end too */
      got = dump (text, length, &error);
      g_assert_true ((got == NULL) == (error != NULL));
      if (error != NULL)
        g_assert_true (g_str_has_prefix (error->message, "t.csv:"));
      read += got != NULL;
    }
  g_assert_cmpuint (read, >, 100); /* the loop does reach rows */
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/csv/reads-what-rfc-4180-allows", test_reads);
  g_test_add_func ("/exchange/csv/refuses-what-is-no-csv-with-its-place", test_refuses);
  g_test_add_func ("/exchange/csv/refuses-a-folder-and-an-absent-file", test_refuses_paths);
  g_test_add_func ("/exchange/csv/reads-back-what-it-writes", test_round_trip);
  g_test_add_func ("/exchange/csv/does-not-swallow-a-file-for-one-quote", test_long_row);
  g_test_add_func ("/exchange/csv/any-bytes-give-rows-or-a-sentence", test_any_bytes);
  return g_test_run ();
}
