/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "book-edit.h"
#include "book-values.h"

static const BookField *
field (BookRecordId record, const char *name)
{
  return book_field_find (book_record (record), name);
}

static void
check_number (const char *text, gboolean comma, double expected)
{
  double number;

  g_test_message ("'%s'", text);
  g_assert_cmpint (book_number_parse (text, strlen (text), comma, &number), ==, !isnan (expected));
  if (!isnan (expected))
    g_assert_cmpfloat (number, ==, expected);
}

static void
test_numbers_are_nothing_but_numbers (void)
{
  check_number ("12.5", FALSE, 12.5);
  check_number ("-0.1", FALSE, -0.1);
  check_number ("\342\210\2220.07", FALSE, -0.07); /* U+2212, as the window shows it */
  check_number ("\342\210\2220,07", TRUE, -0.07);
  check_number ("\342\210\222", FALSE, NAN);
  check_number ("\342\210\222-1", FALSE, NAN);
  check_number ("\342\210\222\342\210\2221", FALSE, NAN);
  check_number ("+3", FALSE, 3.0);
  check_number (".5", FALSE, 0.5);
  check_number ("5.", FALSE, 5.0);
  check_number ("1e3", FALSE, 1000.0);
  check_number ("1.5E-2", FALSE, 0.015);
  check_number ("12,5", TRUE, 12.5);
  check_number ("12.5", TRUE, 12.5);
  check_number ("0.1234567890123456789", FALSE, 0.1234567890123456789);
  check_number ("123456789012345678901234567890", FALSE, 123456789012345678901234567890.0);

  check_number ("", FALSE, NAN);
  check_number ("-", FALSE, NAN);
  check_number (".", FALSE, NAN);
  check_number ("12,5", FALSE, NAN);
  check_number ("1,234.5", TRUE, NAN);
  check_number ("1.2.3", FALSE, NAN);
  check_number ("1e", FALSE, NAN);
  check_number ("1e+", FALSE, NAN);
  check_number ("12 mm", FALSE, NAN);
  check_number ("0x10", FALSE, NAN);
  check_number ("nan", FALSE, NAN);
  check_number ("inf", FALSE, NAN);
  check_number ("1e999", FALSE, NAN);
}

static void
check_printed (double number, const char *expected)
{
  g_autoptr(GString) text = g_string_new (NULL);

  book_number_append (text, number);
  g_assert_cmpstr (text->str, ==, expected);
}

static void
test_numbers_print_shortest_and_read_back (void)
{
  GRand *rand = g_rand_new_with_seed (20260311);

  check_printed (0.1, "0.1");
  check_printed (0.1 + 0.2, "0.30000000000000004"); /* IEEE 754: the well-known sum */
  check_printed (5e-324, "4.94065645841247e-324");
  check_printed (12.0, "12");
  check_printed (1e15, "1e15");
  check_printed (-1.5e-5, "-1.5e-5");
  check_printed (0.0001, "0.0001");
  for (int i = 0; i < 20000; i++)
    {
      double number = ldexp (g_rand_double_range (rand, -1.0, 1.0), g_rand_int_range (rand, -60, 60));
      g_autoptr(GString) text = g_string_new (NULL);
      double back;

      book_number_append (text, number);
      g_assert_true (book_number_parse (text->str, text->len, FALSE, &back));
      g_assert_cmpfloat (back, ==, number);
    }
  g_rand_free (rand);
}

static void
test_minus_zero_is_zero (void)
{
  double number;

  g_assert_true (book_number_parse ("-0.0", 4, FALSE, &number));
  g_assert_false (signbit (number));
}

/* Fast route against the C library's on decimals such as gauges write. */
static void
test_short_decimals_round_as_the_c_library_does (void)
{
  for (int i = -99999; i < 100000; i += 7)
    {
      g_autofree char *text = g_strdup_printf ("%d.%05d", i / 100, abs (i * 31) % 100000);
      double number;

      g_assert_true (book_number_parse (text, strlen (text), FALSE, &number));
      g_assert_cmpfloat (number, ==, g_ascii_strtod (text, NULL));
    }
}

static void
test_dates_exist (void)
{
  static const char *const good[] = { "2026-03-31", "2024-02-29", "2000-02-29", "1900-01-01", "2199-12-31", NULL };
  static const char *const bad[] = { "2026-02-29", "2100-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-4-1",
                                     "31.03.2026", "2026/03/31", "1899-12-31", "2200-01-01", "20260331", "", NULL };
  static const char *const moments[] = { "2026-03-31", "2026-03-31T14:05", "2026-03-31T23:59:59", NULL };
  static const char *const not_moments[] = { "2026-03-31 14:05", "2026-03-31T24:00", "2026-03-31T14:60", "2026-03-31T14",
                                             "2026-03-31T14:05Z", "2026-02-30T10:00", "2026-03-31T14:05:60", NULL };

  for (guint i = 0; good[i] != NULL; i++)
    g_assert_true (book_date_is_valid (good[i], strlen (good[i])));
  for (guint i = 0; bad[i] != NULL; i++)
    g_assert_false (book_date_is_valid (bad[i], strlen (bad[i])));
  for (guint i = 0; moments[i] != NULL; i++)
    g_assert_true (book_moment_is_valid (moments[i], strlen (moments[i])));
  for (guint i = 0; not_moments[i] != NULL; i++)
    g_assert_false (book_moment_is_valid (not_moments[i], strlen (not_moments[i])));
}

static void
check_refused (const BookField *described, const char *text, gssize length, const char *sentence)
{
  BookValue value;
  g_autoptr(GError) error = NULL;

  g_assert_false (book_value_parse (described, text, length, FALSE, &value, &error));
  g_assert_error (error, BOOK_ERROR, BOOK_ERROR_VALUE);
  g_assert_cmpstr (error->message, ==, sentence);
  g_assert_cmpint (value.type, ==, SQLITE_NULL);
}

static void
test_a_refusal_says_what_to_do (void)
{
  check_refused (field (BOOK_RECORD_READING, "value"), "12 mm", -1, "'12 mm' is not a number: write digits, such as 12.5.");
  check_refused (field (BOOK_RECORD_READING, "attempt"), "0", -1, "0 is too small: it must be at least 1.");
  check_refused (field (BOOK_RECORD_READING, "attempt"), "1001", -1, "1001 is too large: it must be at most 1000.");
  check_refused (field (BOOK_RECORD_READING, "attempt"), "1.5", -1, "'1.5' is not a whole number: write digits, such as 12.");
  check_refused (field (BOOK_RECORD_READING, "attempt"), "9999999999999999", -1,
                 "'9999999999999999' is not a whole number: write digits, such as 12.");
  check_refused (field (BOOK_RECORD_READING, "mark"), "fialed", -1,
                 "'fialed' is none of the choices; did you mean 'failed'? The choices are: measured, above, below, passed, "
                 "failed.");
  check_refused (field (BOOK_RECORD_READING, "voided"), "maybe", -1,
                 "'maybe' is none of the choices: write one of: yes, no.");
  check_refused (field (BOOK_RECORD_READING, "taken"), "2026-02-30", -1,
                 "'2026-02-30' is not a date or time that exists: write it like 2026-03-31 or 2026-03-31T14:05.");
  check_refused (field (BOOK_RECORD_ROUND, "opened"), "31.3.2026", -1,
                 "'31.3.2026' is not a date that exists: write it like 2026-03-31.");
  check_refused (field (BOOK_RECORD_CRITERION_TERM, "confidence"), "95", -1,
                 "95 is not a share: write a fraction between 0 and 1 or percent, such as 0.95 or 95 %.");
  check_refused (field (BOOK_RECORD_CRITERION_TERM, "confidence"), "1", -1,
                 "1 is not a share: write a fraction between 0 and 1 or percent, such as 0.95 or 95 %.");
  check_refused (field (BOOK_RECORD_CRITERION_TERM, "confidence"), "100 %", -1,
                 "1 is not a share: write a fraction between 0 and 1 or percent, such as 0.95 or 95 %.");
  check_refused (field (BOOK_RECORD_CRITERION_TERM, "confidence"), "%", -1, "'%' is not a number: write digits, such as 12.5.");
  check_refused (field (BOOK_RECORD_CRITERION_TERM, "confidence"), "9e1 %", -1, "'9e1 %' is not a number: write digits, such as 12.5.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "  ", -1, "It is empty, but must be filled in.");
  check_refused (field (BOOK_RECORD_PERSON, "initials"), "ABCDEFGHI", -1,
                 "The text has 9 characters, and 8 are allowed: shorten it.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "a\nb", -1, "'a\\u000ab' has more than one line: write it in one.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "a\033[31m", -1,
                 "'a\\u001b[31m' holds a control character: take it out.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "a\0b", 3, "'a\\x00b' holds a control character: take it out.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "a\xc2\x85""b", -1,
                 "'a\\u0085b' holds a control character: take it out.");
  check_refused (field (BOOK_RECORD_MODEL, "name"), "Th\xe9", -1, "'Th\\xe9' is not valid UTF-8: save the file as UTF-8.");
  check_refused (field (BOOK_RECORD_ATTACHMENT, "sha256"), "ABC", -1,
                 "'ABC' is not a SHA-256: it has 64 digits from 0 to 9 and a to f.");
  check_refused (field (BOOK_RECORD_TODO, "about_record"), "redaing", -1,
                 "'redaing' is none of the choices: did you mean 'reading'?");
  check_refused (field (BOOK_RECORD_TODO, "about_record"), "spaceship", -1,
                 "'spaceship' is none of the choices: write the name of one, such as 'person'.");
}

static void
test_spaces_around_do_not_count (void)
{
  BookValue value;

  g_assert_true (book_value_parse (field (BOOK_RECORD_MODEL, "name"), "  Saw \t", -1, FALSE, &value, NULL));
  g_assert_cmpmem (value.text, value.length, "Saw", 3);
  g_assert_true (book_value_parse (field (BOOK_RECORD_READING, "value"), " 1.5 ", -1, FALSE, &value, NULL));
  g_assert_cmpfloat (value.real, ==, 1.5);
}

static void
test_an_empty_cell_takes_the_fallback (void)
{
  BookValue value;

  g_assert_true (book_value_parse (field (BOOK_RECORD_READING, "attempt"), "", 0, FALSE, &value, NULL));
  g_assert_cmpint (value.type, ==, SQLITE_INTEGER);
  g_assert_cmpint (value.integer, ==, 1);
  g_assert_true (book_value_parse (field (BOOK_RECORD_READING, "mark"), "", 0, FALSE, &value, NULL));
  g_assert_cmpint (value.integer, ==, BOOK_MARK_MEASURED);
  g_assert_true (book_value_parse (field (BOOK_RECORD_READING, "taken"), "", 0, FALSE, &value, NULL));
  g_assert_true (book_value_is_empty (&value));
}

static void
check_round_trip (const BookField *described, const char *text)
{
  BookValue value;
  BookValue again;
  g_autofree char *printed = NULL;

  g_assert_true (book_value_parse (described, text, -1, FALSE, &value, NULL));
  g_assert_true (book_value_check (described, &value, NULL));
  printed = book_value_print (described, &value);
  g_assert_cmpstr (printed, ==, text);
  g_assert_true (book_value_parse (described, printed, -1, FALSE, &again, NULL));
  g_assert_true (store_value_equal (&value, &again));
}

static void
test_every_choice_reads_back (void)
{
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const BookRecord *record = book_record (id);

      for (guint i = 0; i < record->n_fields; i++)
        {
          const BookField *described = &record->fields[i];

          for (const BookChoice *choice = described->choices; choice != NULL && choice->text != NULL; choice++)
            check_round_trip (described, choice->text);
          if (described->fallback != NULL)
            check_round_trip (described, described->fallback);
        }
    }
  check_round_trip (field (BOOK_RECORD_MODEL, "purpose"), "two\nlines, =1+1 \"quoted\"");
  check_round_trip (field (BOOK_RECORD_MODEL, "name"), "Säge – 鋸 🪚");
  check_round_trip (field (BOOK_RECORD_READING, "value"), "-12.375");
  check_round_trip (field (BOOK_RECORD_READING, "taken"), "2026-03-31T14:05:09");
  check_round_trip (field (BOOK_RECORD_TODO, "about_record"), "unit");
}

/* Shares are written as fractions or as percent. */
static void
test_percent (void)
{
  static const struct
  {
    const char *text;
    double      share;
  } cases[] = { { "95 %", 0.95 }, { "5%", 0.05 }, { "99.9  %", 0.999 }, { "0.1 %", 0.001 }, { "0.95", 0.95 } };
  const BookField *share = field (BOOK_RECORD_CRITERION_TERM, "share");
  BookValue value;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_true (book_value_parse (share, cases[i].text, -1, FALSE, &value, NULL));
      g_assert_cmpfloat (value.real, ==, cases[i].share);
    }
  g_assert_true (book_value_parse (share, "99,9 %", -1, TRUE, &value, NULL));
  g_assert_cmpfloat (value.real, ==, 0.999);
}

static void
test_stored_values_are_held_to_the_same (void)
{
  const BookField *name = field (BOOK_RECORD_MODEL, "name");
  const BookField *share = field (BOOK_RECORD_CRITERION_TERM, "share");
  const BookField *mark = field (BOOK_RECORD_READING, "mark");
  BookValue value;

  value = book_value_text (" Saw", -1);
  g_assert_false (book_value_check (name, &value, NULL));
  value = book_value_text ("", -1);
  g_assert_false (book_value_check (name, &value, NULL));
  value = book_value_integer (3);
  g_assert_false (book_value_check (name, &value, NULL));
  value = BOOK_VALUE_EMPTY;
  g_assert_false (book_value_check (name, &value, NULL));
  value = book_value_real (NAN);
  g_assert_false (book_value_check (share, &value, NULL));
  value = book_value_real (INFINITY);
  g_assert_false (book_value_check (share, &value, NULL));
  value = book_value_real (0.95);
  g_assert_true (book_value_check (share, &value, NULL));
  value = book_value_integer (99);
  g_assert_false (book_value_check (mark, &value, NULL));
  value = book_value_integer (BOOK_MARK_ABOVE);
  g_assert_true (book_value_check (mark, &value, NULL));
}

static void
test_empty_comes_before_numbers_before_texts (void)
{
  const BookValue sorted[] = { BOOK_VALUE_EMPTY, book_value_real (-1.5), book_value_integer (0), book_value_real (0.5),
                               book_value_integer (10), book_value_text ("10", -1), book_value_text ("9", -1),
                               book_value_text ("B", -1), book_value_text ("a", -1), book_value_text ("aa", -1) };

  for (guint i = 0; i < G_N_ELEMENTS (sorted); i++)
    for (guint j = 0; j < G_N_ELEMENTS (sorted); j++)
      g_assert_cmpint (CLAMP (book_value_compare (&sorted[i], &sorted[j]), -1, 1), ==, (i > j) - (i < j));
}

static void
check_typed (BookCharacteristicKind kind, const char *text, BookMark mark, double expected)
{
  BookTyped typed;
  g_autoptr(GError) error = NULL;

  g_test_message ("'%s'", text);
  g_assert_cmpint (book_typed_parse (kind, text, &typed, &error), ==, mark != 0);
  if (mark == 0)
    {
      g_assert_error (error, BOOK_ERROR, BOOK_ERROR_VALUE);
      return;
    }
  g_assert_cmpint (typed.mark, ==, mark);
  g_assert_cmpint (typed.has_value, ==, !isnan (expected));
  if (typed.has_value)
    g_assert_cmpfloat (typed.value, ==, expected);
}

static void
test_a_cell_takes_what_people_type (void)
{
  check_typed (BOOK_CHARACTERISTIC_MEASURED, "1.27", BOOK_MARK_MEASURED, 1.27);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, " 1,27 ", BOOK_MARK_MEASURED, 1.27);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, ">500", BOOK_MARK_ABOVE, 500.0);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, "< 0,02", BOOK_MARK_BELOW, 0.02);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, "ok", 0, NAN);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, ">", 0, NAN);
  check_typed (BOOK_CHARACTERISTIC_MEASURED, "", 0, NAN);
  check_typed (BOOK_CHARACTERISTIC_CHECKED, "OK", BOOK_MARK_PASSED, NAN);
  check_typed (BOOK_CHARACTERISTIC_CHECKED, "p", BOOK_MARK_PASSED, NAN);
  check_typed (BOOK_CHARACTERISTIC_CHECKED, "nok", BOOK_MARK_FAILED, NAN);
  check_typed (BOOK_CHARACTERISTIC_CHECKED, "-", BOOK_MARK_FAILED, NAN);
  check_typed (BOOK_CHARACTERISTIC_CHECKED, "1.27", 0, NAN);
}

static void
test_the_nearest_word_is_near (void)
{
  static const char *const words[] = { "characteristic", "unit", "round", NULL };

  g_assert_cmpstr (book_nearest_word ("charakteristik", words), ==, "characteristic");
  g_assert_cmpstr (book_nearest_word ("Unit", words), ==, "unit");
  g_assert_cmpstr (book_nearest_word ("roud", words), ==, "round");
  g_assert_null (book_nearest_word ("xyz", words));
  g_assert_null (book_nearest_word ("", words));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/values/numbers-are-nothing-but-numbers", test_numbers_are_nothing_but_numbers);
  g_test_add_func ("/book/values/numbers-print-shortest-and-read-back", test_numbers_print_shortest_and_read_back);
  g_test_add_func ("/book/values/minus-zero-is-zero", test_minus_zero_is_zero);
  g_test_add_func ("/book/values/short-decimals-round-as-the-c-library-does", test_short_decimals_round_as_the_c_library_does);
  g_test_add_func ("/book/values/dates-exist", test_dates_exist);
  g_test_add_func ("/book/values/a-refusal-says-what-to-do", test_a_refusal_says_what_to_do);
  g_test_add_func ("/book/values/spaces-around-do-not-count", test_spaces_around_do_not_count);
  g_test_add_func ("/book/values/an-empty-cell-takes-the-fallback", test_an_empty_cell_takes_the_fallback);
  g_test_add_func ("/book/values/every-choice-reads-back", test_every_choice_reads_back);
  g_test_add_func ("/book/values/a-share-may-be-percent", test_percent);
  g_test_add_func ("/book/values/stored-values-are-held-to-the-same", test_stored_values_are_held_to_the_same);
  g_test_add_func ("/book/values/empty-comes-before-numbers-before-texts", test_empty_comes_before_numbers_before_texts);
  g_test_add_func ("/book/values/a-cell-takes-what-people-type", test_a_cell_takes_what_people_type);
  g_test_add_func ("/book/values/the-nearest-word-is-near", test_the_nearest_word_is_near);
  return g_test_run ();
}
