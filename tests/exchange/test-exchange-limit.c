/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, limits, heads, cells and dates as people write them (common practice, no source). */
#include "exchange-cell.h"
#include "exchange-limit.h"
#include "exchange-number.h"

#include <math.h>
#include <string.h>

static char *
show (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup (isnan (value) ? "-" : g_ascii_formatd (text, sizeof text, "%.12g", value));
}

static char *
show_limit (const ExchangeLimit *limit)
{
  g_autofree char *nominal = show (limit->nominal);
  g_autofree char *lower = show (limit->lower);
  g_autofree char *upper = show (limit->upper);

  return g_strdup_printf ("%s %s %s %s", nominal, lower, upper, limit->unit != NULL ? limit->unit : "");
}

static void
test_numbers (void)
{
  static const struct
  {
    const char *text;
    char        sign;
    double      value;
    guint       decimals;
    gboolean    doubtful;
  } cases[] = {
    { "12.41", 0, 12.41, 2, FALSE },      { "12,41", 0, 12.41, 2, FALSE },     { "12,41", ',', 12.41, 2, FALSE },
    { "12,41", '.', 12.41, 2, FALSE },    { "1,234", ',', 1.234, 3, FALSE },   { "1,234", '.', 1234, 0, TRUE },
    { "1,234", 0, 1.234, 3, TRUE },       { "1.234", '.', 1.234, 3, FALSE },   { "1.234", ',', 1234, 0, TRUE },
    { "1,234.5", 0, 1234.5, 1, FALSE },   { "1.234,5", 0, 1234.5, 1, FALSE },  { "1 234,5", 0, 1234.5, 1, FALSE },
    { "1'234.5", 0, 1234.5, 1, FALSE },   { "1\xc2\xa0" "234", 0, 1234, 0, FALSE }, { "1,234,567", 0, 1234567, 0, FALSE },
    { "0,012", '.', 12, 0, TRUE },        { "-0.5", 0, -0.5, 1, FALSE },       { "−0,5", 0, -0.5, 1, FALSE },
    { "+3", 0, 3, 0, FALSE },             { ".5", 0, 0.5, 1, FALSE },          { "1e3", 0, 1000, 0, FALSE },
    { "2.5E-3", 0, 0.0025, 1, FALSE },    { "0", 0, 0, 0, FALSE },
  };
  static const char *const none[] = { "",    "abc",      "-",      ".",
                                      ",5,", "1.23,4.5", "1,23,4", "99999999999999999999999999999999" };

  g_test_summary ("Points, commas, groups and signs of numbers.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *p = cases[i].text;
      ExchangeNumber number;

      g_test_message ("%s", cases[i].text);
      g_assert_true (exchange_number_scan (&p, cases[i].sign, &number));
      g_assert_cmpstr (p, ==, "");
      g_assert_cmpfloat (number.value, ==, cases[i].value); /* the same decimal: the same double */
      g_assert_cmpuint (number.decimals, ==, cases[i].decimals);
      g_assert_cmpint (number.is_doubtful, ==, cases[i].doubtful);
    }
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    {
      const char *p = none[i];
      ExchangeNumber number;

      g_test_message ("%s", none[i]);
      g_assert_false (exchange_number_scan (&p, 0, &number) && *p == '\0');
    }
  g_assert_cmpfloat (exchange_number_round (0.3 - 0.1, 1), ==, 0.2);
  g_assert_cmpfloat (exchange_number_round (12.5 + 0.1, 1), ==, 12.6);
}

static void
test_limits (void)
{
  static const struct
  {
    const char *text;
    const char *expected; /* nominal lower upper unit */
  } cases[] = {
    { "12.5 ±0.1", "12.5 12.4 12.6 " },          { "12.5±0.1 mm", "12.5 12.4 12.6 mm" },
    { "12.5 mm ± 0.1", "12.5 12.4 12.6 mm" },    { "12,5 +0,2/-0,1", "12.5 12.4 12.7 " },
    { "12.5 +0.2 -0.1", "12.5 12.4 12.7 " },     { "12.5 -0.1/+0.2", "12.5 12.4 12.7 " },
    { "12.5 (+0.2/-0.1)", "12.5 12.4 12.7 " },   { "12.5 +0.2/0", "12.5 12.5 12.7 " },
    { "12.5 0/-0.1", "12.5 12.4 12.5 " },                 { "12.5 +0.3/+0.1", "12.5 12.6 12.8 " },
    { "12.5 +/- 0.1", "12.5 12.4 12.6 " },       { "12.5 +-0.1", "12.5 12.4 12.6 " },
    { "200 ± 5 %", "200 190 210 " },             { "0.3 ±0.1", "0.3 0.2 0.4 " },
    { "12.4-12.6", "- 12.4 12.6 " },             { "12.4 – 12.6 mm", "- 12.4 12.6 mm" },
    { "12.4 … 12.6", "- 12.4 12.6 " },           { "12.4...12.6", "- 12.4 12.6 " },
    { "12,4 .. 12,6", "- 12.4 12.6 " },          { "12.4 to 12.6", "- 12.4 12.6 " },
    { "12,4 bis 12,6", "- 12.4 12.6 " },         { "[12.4; 12.6]", "- 12.4 12.6 " },
    { "12.4/12.6", "- 12.4 12.6 " },             { "58-60 HRC", "- 58 60 HRC" },
    { "-0.2 … 0.2", "- -0.2 0.2 " },             { "-0.3 - -0.1", "- -0.3 -0.1 " },
    { "12.6-12.4", "- 12.4 12.6 " },             { "12.5 -0.1", "12.5 12.4 12.5 " },
    { "12.5 +0.2", "12.5 12.5 12.7 " },          { "max 5", "- - 5 " },
    { "max. 0,45 mm", "- - 0.45 mm" },           { "5 max", "- - 5 " },
    { "0.15 mm max.", "- - 0.15 mm" },           { "min. 1.8", "- 1.8 - " },
    { ">= 30 N", "- 30 - N" },                   { "≥30", "- 30 - " },
    { "≥ 30 N·m", "- 30 - N·m" },                { "<0.15 mm", "- - 0.15 mm" },
    { "≤ 5", "- - 5 " },                         { "min 1.8 max 2.2", "- 1.8 2.2 " },
    { ">= 1.8, <= 2.2", "- 1.8 2.2 " },          { "1.8 ≤ x ≤ 2.2", "- 1.8 2.2 " },
    { "at least 30 Nm", "- 30 - N·m" },          { "12.5", "12.5 - - " },
    { "12.5 mm", "12.5 - - mm" },                { "1.000 ±0.005 µm", "1 0.995 1.005 µm" },
    { "max: 5", "- - 5 " },                      { "90° ±2°", "90 88 92 °" },
    { "h6", "- - - " },                          { "12 h6", "- - - " },
    { "none", "- - - " },                        { "12.4-12.6-12.8", "- - - " },
  };

  g_test_summary ("Limits in all the ways of a drawing or a sheet.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      ExchangeLimit limit;
      g_autofree char *got = NULL;

      if (!exchange_limit_read (cases[i].text, 0, &limit))
        exchange_limit_init (&limit);
      got = show_limit (&limit);
      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (got, ==, cases[i].expected);
    }
}

static void
test_writes (void)
{
  static const struct
  {
    double      nominal, lower, upper;
    char        sign;
    const char *expected;
  } cases[] = {
    { NAN, 18, 22, '.', "18 … 22" },        { NAN, 18, NAN, '.', "≥ 18" },
    { NAN, NAN, 22, '.', "≤ 22" },          { NAN, NAN, NAN, '.', "" },
    { 20, NAN, NAN, '.', "20" },            { 20, 18, 22, '.', "20 ±2" },
    { 12.5, 12.4, 12.6, ',', "12,5 ±0,1" }, { 12.5, 12.4, 12.7, '.', "12.5 +0.2/-0.1" },
    { 12.5, 12.5, 12.7, '.', "12.5 +0.2/0" }, { 12.5, 12.6, 12.8, '.', "12.5 +0.3/+0.1" },
    { -0.2, -0.3, 0.1, '.', "-0.2 +0.3/-0.1" }, { 20, 18, NAN, '.', "≥ 18" },
    { NAN, 0.00005, 1.5e16, '.', "5e-5 … 1.5e16" }, { NAN, 1.234, 2.5, 0, "1.234 … 2.5" },
  };

  g_test_summary ("Limits as this program writes them read back the same to the bit; an aim that no notation holds is left out.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = exchange_limit_write (cases[i].nominal, cases[i].lower, cases[i].upper, cases[i].sign);
      ExchangeLimit limit;

      g_assert_cmpstr (text, ==, cases[i].expected);
      if (*text == '\0')
        continue;
      g_assert_true (exchange_limit_read (text, cases[i].sign != 0 ? cases[i].sign : '.', &limit));
      g_assert_true (isnan (cases[i].lower) ? isnan (limit.lower) : limit.lower == cases[i].lower); /* NOLINT: the same double */
      g_assert_true (isnan (cases[i].upper) ? isnan (limit.upper) : limit.upper == cases[i].upper); /* NOLINT: the same double */
    }
}

static void
test_heads (void)
{
  static const struct
  {
    const char *text;
    const char *name;
    const char *limit; /* as above, with the unit of the head */
  } cases[] = {
    { "Lock engagement", "Lock engagement", "- - - " },
    { "Lock engagement [mm]", "Lock engagement", "- - - mm" },
    { "Lock engagement [mm] 1.8 ±0.2", "Lock engagement", "1.8 1.6 2 mm" },
    { "Hardness (HRC) 58-60", "Hardness", "- 58 60 HRC" },
    { "Hardness HRC", "Hardness", "- - - HRC" },
    { "Opening force ≥30 N", "Opening force", "- 30 - N" },
    { "Opening force (≥ 30 N)", "Opening force", "- 30 - N" },
    { "Opening force N", "Opening force", "- - - N" },
    { "Side play, max 0.15 mm", "Side play", "- - 0.15 mm" },
    { "Side play max. 0,15", "Side play", "- - 0.15 " },
    { "Side play <0.15 mm", "Side play", "- - 0.15 mm" },
    { "Ø 12.5 ±0.1", "Ø", "12.5 12.4 12.6 " },
    { "Width: 12.4-12.6", "Width", "- 12.4 12.6 " },
    { "Width 12,5 +0,2/-0,1 mm", "Width", "12.5 12.4 12.7 mm" },
    { "Length in mm", "Length", "- - - mm" },
    { "Length / mm", "Length", "- - - mm" },
    { "Width (left side)", "Width (left side)", "- - - " },
    { "Width (2)", "Width (2)", "- - - " },
    { "Force max", "Force max", "- - - " },
    { "Series A", "Series A", "- - - " },
    { "Torque [N·m]\n2.0 … 2.4", "Torque", "- 2 2.4 N·m" },
    { "rubs?", "rubs?", "- - - " },
    { "Angle 90° ±2°", "Angle", "90 88 92 °" },
    { "", "", "- - - " },
  };

  g_test_summary ("A head cell is split into name, unit and limits.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      ExchangeHead head;
      g_autofree char *got = NULL;

      exchange_head_read (cases[i].text, 0, &head);
      head.limit.unit = head.unit;
      got = show_limit (&head.limit);
      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (head.name, ==, cases[i].name);
      g_assert_cmpstr (got, ==, cases[i].limit);
      exchange_head_clear (&head);
    }
}

static void
test_weak_range (void)
{
  ExchangeHead head;

  g_test_summary ("Whole numbers with a hyphen may be part of the name; both names are kept.");
  exchange_head_read ("Hole 1-2", 0, &head);
  g_assert_true (head.has_limit && head.limit.is_weak);
  g_assert_cmpstr (head.name, ==, "Hole");
  g_assert_cmpstr (head.plain_name, ==, "Hole 1-2");
  exchange_head_clear (&head);
}

static void
test_cells (void)
{
  static const struct
  {
    const char      *text;
    ExchangeCellKind kind;
    double           value;
    const char      *note;
  } cases[] = {
    { "", EXCHANGE_CELL_EMPTY, 0, NULL },
    { "  ", EXCHANGE_CELL_EMPTY, 0, NULL },
    { "-", EXCHANGE_CELL_ABSENT, 0, NULL },
    { "n/a", EXCHANGE_CELL_ABSENT, 0, NULL },
    { "12.41", EXCHANGE_CELL_NUMBER, 12.41, NULL },
    { "12.41 (burr)", EXCHANGE_CELL_NUMBER, 12.41, "burr" },
    { "12.41*", EXCHANGE_CELL_NUMBER, 12.41, "*" },
    { "12.41 * after cleaning", EXCHANGE_CELL_NUMBER, 12.41, "after cleaning" },
    { "12.41 burr", EXCHANGE_CELL_NUMBER, 12.41, "burr" },
    { "12,41 mm", EXCHANGE_CELL_NUMBER, 12.41, NULL },
    { "57 HRC (edge)", EXCHANGE_CELL_NUMBER, 57, "edge" },
    { "> 40", EXCHANGE_CELL_ABOVE, 40, NULL },
    { ">40 N", EXCHANGE_CELL_ABOVE, 40, NULL },
    { "≥ 40", EXCHANGE_CELL_ABOVE, 40, NULL },
    { "<0.02", EXCHANGE_CELL_BELOW, 0.02, NULL },
    { "ok", EXCHANGE_CELL_PASSED, 0, NULL },
    { "OK", EXCHANGE_CELL_PASSED, 0, NULL },
    { "pass", EXCHANGE_CELL_PASSED, 0, NULL },
    { "i.O.", EXCHANGE_CELL_PASSED, 0, NULL },
    { "✓", EXCHANGE_CELL_PASSED, 0, NULL },
    { "ok (tight)", EXCHANGE_CELL_PASSED, 0, "tight" },
    { "nok", EXCHANGE_CELL_FAILED, 0, NULL },
    { "n.i.O.", EXCHANGE_CELL_FAILED, 0, NULL },
    { "FAIL", EXCHANGE_CELL_FAILED, 0, NULL },
    { "nok: sticks", EXCHANGE_CELL_FAILED, 0, "sticks" },
    { "not ok", EXCHANGE_CELL_FAILED, 0, NULL },
    { "✗", EXCHANGE_CELL_FAILED, 0, NULL },
    { "x", EXCHANGE_CELL_CROSS, 0, NULL },
    { "no burr", EXCHANGE_CELL_TEXT, 0, NULL },
    { "#DIV/0!", EXCHANGE_CELL_TEXT, 0, NULL },
    { "12.41/12.43", EXCHANGE_CELL_TEXT, 0, NULL },
    { "12.4-12.6", EXCHANGE_CELL_TEXT, 0, NULL },
    { "12.4 ±0.1", EXCHANGE_CELL_TEXT, 0, NULL },
    { "12.41a", EXCHANGE_CELL_TEXT, 0, NULL },
    { "2025-03-14", EXCHANGE_CELL_TEXT, 0, NULL },
    { "14.3.2025", EXCHANGE_CELL_TEXT, 0, NULL },
  };

  g_test_summary ("Values, checks, comparisons and notes of single cells.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      ExchangeCell cell;
      g_autofree char *note = NULL;

      exchange_cell_read (cases[i].text, 0, &cell);
      note = cell.note != NULL ? g_strndup (cell.note, cell.note_length) : NULL;
      g_test_message ("'%s'", cases[i].text);
      g_assert_cmpint (cell.kind, ==, cases[i].kind);
      g_assert_cmpfloat (cell.value, ==, cases[i].value);
      g_assert_cmpstr (note, ==, cases[i].note);
    }
}

static void
test_dates (void)
{
  static const struct
  {
    const char *text;
    const char *expected; /* NULL: no date */
  } cases[] = {
    { "2025-03-14", "2025-03-14" },      { "14.3.2025", "2025-03-14" },  { "14.03.25", "2025-03-14" },
    { "14/3/2025", "2025-03-14" },       { "3/14/2025", "2025-03-14" },  { "3/4/2025", "2025-04-03" },
    { "14 Mar 2025", "2025-03-14" },     { "14. März 2025", "2025-03-14" }, { "14-Mar-25", "2025-03-14" },
    { "2025/03/14", "2025-03-14" },      { "2025-03-14 13:05", "2025-03-14T13:05" },
    { "2025-03-14T13:05:59", "2025-03-14T13:05" }, { "29.2.2024", "2024-02-29" },
    { "29.2.2025", NULL },               { "31.4.2025", NULL },          { "2025-13-01", NULL },
    { "12.41", NULL },                   { "hello", NULL },              { "0.0.2025", NULL },
    { "0001-01-01", NULL },              { "14.3.0025", NULL },          { "14.3.x", NULL },
  };

  g_test_summary ("Dates as people write them; one that does not exist is none.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *p = cases[i].text;
      char iso[17] = "";
      gboolean doubtful;
      gboolean found = exchange_date_scan (&p, EXCHANGE_DATE_DAY_FIRST, iso, &doubtful) && *p == '\0';

      g_test_message ("%s", cases[i].text);
      g_assert_cmpint (found, ==, cases[i].expected != NULL);
      if (found)
        g_assert_cmpstr (iso, ==, cases[i].expected);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/number/reads-points-commas-and-groups", test_numbers);
  g_test_add_func ("/exchange/limit/reads-limits-as-people-write-them", test_limits);
  g_test_add_func ("/exchange/limit/writes-what-reads-back", test_writes);
  g_test_add_func ("/exchange/head/splits-name-unit-and-limits", test_heads);
  g_test_add_func ("/exchange/head/keeps-the-name-where-a-range-is-weak", test_weak_range);
  g_test_add_func ("/exchange/cell/reads-values-checks-and-notes", test_cells);
  g_test_add_func ("/exchange/date/reads-dates-that-exist", test_dates);
  return g_test_run ();
}
