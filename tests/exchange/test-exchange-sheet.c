/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring sheets as people keep them (common practice, no source): what is understood, what is guessed, what is not. */
#include "exchange-error.h"
#include "exchange-sheet.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static ExchangeSheet *
read_sheet (const char *text)
{
  g_autoptr(GError) error = NULL;
  ExchangeSheet *sheet = exchange_sheet_read_text ("sheet", text, strlen (text), &error);

  g_assert_no_error (error);
  return sheet;
}

static void
append_number (GString *out, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isnan (value))
    g_string_append (out, g_ascii_formatd (text, sizeof text, "%.12g", value));
}

/* A line for each column that is stored: role, name, code, class, unit, nominal lower..upper, repeat, readings. */
static char *
show_columns (const ExchangeSheet *sheet)
{
  static const char roles[] = "-SMCDPANR";
  GString *out = g_string_new (NULL);

  for (guint c = 0; c < exchange_sheet_count_columns (sheet); c++)
    {
      const ExchangeSheetColumn *column = exchange_sheet_get_column (sheet, c);

      g_assert_nonnull (column->reason);
      g_string_append_printf (out, "%c", roles[column->role]);
      if (column->role == EXCHANGE_COLUMN_MEASURED || column->role == EXCHANGE_COLUMN_CHECKED)
        {
          g_string_append_printf (out, " %s", column->name);
          if (column->code != NULL)
            g_string_append_printf (out, " <%s>", column->code);
          if (column->class_word != NULL)
            g_string_append_printf (out, " !%s", column->class_word);
          if (column->unit != NULL)
            g_string_append_printf (out, " [%s]", column->unit);
          if (!isnan (column->nominal) || !isnan (column->lower) || !isnan (column->upper))
            {
              g_string_append_c (out, ' ');
              append_number (out, column->nominal);
              g_string_append_c (out, '(');
              append_number (out, column->lower);
              g_string_append (out, "..");
              append_number (out, column->upper);
              g_string_append_c (out, ')');
            }
          if (column->repeat > 1)
            g_string_append_printf (out, " #%u", column->repeat);
          g_string_append_printf (out, " n=%u", column->n_values);
        }
      g_string_append_c (out, '\n');
    }
  return g_string_free (out, FALSE);
}

/* A letter for each row, and the rows of readings as serial/attempt/n/date/person. */
static char *
show_rows (const ExchangeSheet *sheet)
{
  static const char roles[] = "-TGNCUKLMlurS";
  GString *out = g_string_new (NULL);

  for (guint r = 0; r < exchange_sheet_count_rows (sheet); r++)
    {
      const ExchangeSheetRow *row = exchange_sheet_get_row (sheet, r);

      if (row->role != EXCHANGE_ROW_DATA)
        {
          g_string_append_printf (out, "%c ", roles[row->role]);
          continue;
        }
      g_string_append_printf (out, "%s/%u/%u", row->serial != NULL ? row->serial : "?", row->attempt, row->n);
      if (row->date != NULL)
        g_string_append_printf (out, "/%s", row->date);
      if (row->person != NULL)
        g_string_append_printf (out, "/%s", row->person);
      g_string_append_c (out, ' ');
    }
  return g_string_free (out, FALSE);
}

static gboolean
has_remark (const ExchangeSheet *sheet, ExchangeRemarkKind kind, const char *place, const char *part)
{
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (sheet, i);

      if (remark->kind == kind && strcmp (remark->place, place) == 0 && strstr (remark->text, part) != NULL)
        return TRUE;
    }
  return FALSE;
}

static void
tell (const ExchangeSheet *sheet)
{
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (sheet, i);

      g_test_message ("%s %s: %s", remark->kind == EXCHANGE_REMARK_PROBLEM ? "problem" : "guess", remark->place,
                      remark->text);
    }
}

static const struct
{
  const char *name;
  const char *text;
  const char *columns;
  const char *rows;
  guint       problems;
} sheets[] = {
  { "a-plain-one", "Serial,Width [mm] 12.5 ±0.1,Lock holds\nU1,12.41,ok\nU2,12.55,nok\n",
    "S\nM Width [mm] 12.5(12.4..12.6) n=2\nC Lock holds n=2\n", "N U1/1/1 U2/1/1 ", 0 },
  { "limits-in-two-rows-below-the-head", "s/n\tWidth\tForce N\nLSL\t12.4\t\nUSL\t12.6\t30\nU1\t12.41\t22\n",
    "S\nM Width (12.4..12.6) n=1\nM Force [N] (..30) n=1\n", "N l u U1/1/1 ", 0 },
  { "limits-in-one-row", "No.;Width;Force\nlimits;12,4-12,6;>= 30 N\nU1;12,41;32\n",
    "S\nM Width (12.4..12.6) n=1\nM Force [N] (30..) n=1\n", "N L U1/1/1 ", 0 },
  { "limits-in-a-row-without-a-name", "No.;Width;Force\n;12,4-12,6;>= 30 N\nU1;12,41;32\n",
    "S\nM Width (12.4..12.6) n=1\nM Force [N] (30..) n=1\n", "N L U1/1/1 ", 0 },
  { "a-row-of-units-of-measure", "Serial,Width,Torque,Angle\n,(mm),[Nm],deg\nU1,12.41,2.1,90\n",
    "S\nM Width [mm] n=1\nM Torque [N·m] n=1\nM Angle [°] n=1\n", "N U U1/1/1 ", 0 },
  { "nominal-values-and-tolerances", "Serial,Width,Height\nnominal,12.5,8\ntol,±0.1,+0.2/-0.1\nU1,12.41,8.01\n",
    "S\nM Width 12.5(12.4..12.6) n=1\nM Height 8(7.9..8.2) n=1\n", "N M L U1/1/1 ", 0 },
  { "min-and-max-above-and-below", "Serial,Width\nmin,12.4\nmax,12.6\nU1,12.41\nU2,12.5\nmin,12.41\nmax,12.5\nmean,12.455\nsd,0.06\n",
    "S\nM Width (12.4..12.6) n=2\n", "N l u U1/1/1 U2/1/1 S S S S ", 0 },
  { "merged-heads", ";Lock;;Blade;\nNo.;play [mm];engages;hardness HRC;rubs\nU1;0,2;ok;57,1;ok\nU2;0,3;ok;57,2;nok\n",
    "S\nM Lock play [mm] n=2\nC Lock engages n=2\nM Blade hardness [HRC] n=2\nC Blade rubs n=2\n", "G N U1/1/1 U2/1/1 ", 0 },
  { "repeats-in-columns", ";Width;;;Force\nNo.;1;2;3;N\nU1;1,1;1,2;1,3;30\nU2;1,1;1,2;;31\n",
    "S\nM Width n=2\nM Width #2 n=2\nM Width #3 n=1\nM Force [N] n=2\n", "G N U1/1/1 U2/1/1 ", 0 },
  { "repeats-by-the-same-name", "Serial,Width,Width\nU1,1.1,1.2\n", "S\nM Width n=1\nM Width #2 n=1\n", "N U1/1/1 ", 0 },
  { "a-title-and-an-empty-line", "Anvil prototypes\nround P2\n\nSerial,Width\nU1,12.41\n", "S\nM Width n=1\n", "T T - N U1/1/1 ", 0 },
  { "serials-without-a-head", ",Width\nA7,12.41\nA8,12.5\n", "S\nM Width n=2\n", "N A7/1/1 A8/1/1 ", 0 },
  { "whole-numbers-as-serials", ",Width\n1,12.41\n2,12.5\n", "S\nM Width n=2\n", "N 1/1/1 2/1/1 ", 0 },
  { "no-serials", "Width,Force\n12.41,30.5\n12.5,31.5\n", "M Width n=2\nM Force n=2\n", "N 1/1/1 2/1/1 ", 0 },
  { "a-serial-and-a-running-number", "No.,Serial,Width\n1,A7,12.41\n2,A8,12.5\n", "-\nS\nM Width n=2\n", "N A7/1/1 A8/1/1 ", 0 },
  { "a-serial-twice", "Serial,Width\nU1,12.41\nU1,12.42\nU2,12.5\n", "S\nM Width n=3\n", "N U1/1/1 U1/1/2 U2/1/1 ", 0 },
  { "a-blank-serial", "Serial,Width\nU1,12.41\n,12.42\nU2,12.5\n", "S\nM Width n=3\n", "N U1/1/1 U1/1/2 U2/1/1 ", 0 },
  { "a-serial-again-on-another-day", "Serial,Date,By,Width\nU1,14.3.2025,KB,12.41\nU1,2025-03-20,LN,12.52\n", "S\nD\nP\nM Width n=2\n",
    "N U1/1/1/2025-03-14/KB U1/2/1/2025-03-20/LN ", 0 },
  { "attempts-and-repeats-by-number", "Serial,Attempt,Repeat,Width\nU1,1,1,1.1\nU1,1,2,1.2\nU1,2,1,1.3\n", "S\nA\nN\nM Width n=3\n",
    "N U1/1/1 U1/1/2 U1/2/1 ", 0 },
  { "months-first", "Serial,Date,Width\nU1,3/14/2025,1.1\nU2,3/4/2025,1.2\n", "S\nD\nM Width n=2\n", "N U1/1/1/2025-03-14 U2/1/1/2025-03-04 ", 0 },
  { "day-numbers-of-a-spreadsheet", "Serial,Date,Width\nU1,45730,1.1\n", "S\nD\nM Width n=1\n", "N U1/1/1/2025-03-14 ", 0 },
  { "classes-and-codes", "code,W,F\nSerial,Width,Force\nclass,safety,function\nU1,12.41,30\n",
    "S\nM Width <W> !safety n=1\nM Force <F> !function n=1\n", "C N K U1/1/1 ", 0 },
  { "empty-cells-and-dashes", "Serial,Width,Force\nU1,12.41,-\nU2,,30\nU3,n/a,\n", "S\nM Width n=1\nM Force n=1\n", "N U1/1/1 U2/1/1 U3/1/1 ", 0 },
  { "german-words", "Lfd. Nr.;Breite [mm];Rastet ein;Bemerkung\nSoll;12,5;;\nUGW;12,4;;\nOGW;12,6;;\n1;12,41;i.O.;\n2;12,55;n.i.O.;klemmt\nMittelwert;12,48;;\n",
    "S\nM Breite [mm] 12.5(12.4..12.6) n=2\nC Rastet ein n=2\nR\n", "N M l u 1/1/1 2/1/1 S ", 0 },
  { "thousands", "Serial\tCycles\tLoad\nU1\t1,200\t12.5\nU2\t12,000\t13.5\n", "S\nM Cycles n=2\nM Load n=2\n", "N U1/1/1 U2/1/1 ", 0 },
  { "the-head-again-after-a-page", "Serial,Width\nU1,1.1\nSerial,Width\nU2,1.2\n", "S\nM Width n=2\n", "N U1/1/1 - U2/1/1 ", 0 },
  { "a-result-column", "Serial,Width,Result\nU1,1.1,ok\nU2,1.2,nok\n", "S\nM Width n=2\n-\n", "N U1/1/1 U2/1/1 ", 0 },
  { "a-head-that-counts", "Nr;1;2\nU1;1,1;2,2\nU2;1,2;2,3\n", "S\nM 1 n=2\nM 2 n=2\n", "N U1/1/1 U2/1/1 ", 0 },
  { "limits-without-a-value-yet", "Serial,Width,Slip load\nlimits,max 5,>= 250 N\nU1,4.1,\n", "S\nM Width (..5) n=1\nM Slip load [N] (250..) n=0\n", "N L U1/1/1 ", 0 },
  { "words-in-a-value-column", "Serial,Width\nU1,1.1\nU2,lost\nU3,1.2\n", "S\nM Width n=2\n", "N U1/1/1 U2/1/1 U3/1/1 ", 1 },
  { "a-lot-column", "Serial,Lot,Width\nU1,H-07,1.1\nU2,H-07,1.2\n", "S\n-\nM Width n=2\n", "N U1/1/1 U2/1/1 ", 1 },
  { "a-fit", "Serial,Shaft\nlimits,h6\nLSL,7.99\nU1,8.00\n", "S\nM Shaft (7.99..) n=1\n", "N L l U1/1/1 ", 1 },
};

static void
test_understands (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autoptr(ExchangeSheet) sheet = read_sheet (sheets[i].text);
  g_autofree char *columns = show_columns (sheet);
  g_autofree char *rows = show_rows (sheet);

  tell (sheet);
  g_assert_cmpstr (columns, ==, sheets[i].columns);
  g_assert_cmpstr (rows, ==, sheets[i].rows);
  g_assert_cmpuint (exchange_sheet_count_problems (sheet), ==, sheets[i].problems);
}

static void
test_untidy (void)
{
  static const char text[] = "Anvil (invented);;;;;\n"
                             "Measured after round P4, 24.11.2026, by LN;;;;;\n"
                             ";;;;;\n"
                             ";Lock;;Forces;;\n"
                             "No.;engagement [mm];play (mm);opening N;slip load;remarks\n"
                             "limits;>= 1,20;max 0,45;13 ±4;min. 250 N;\n"
                             "P4-01;1,46;0,27;13,2;401;\n"
                             "P4-02;1,44;0,31;14,1 (stiff at first);> 420;washer?\n"
                             "mean;1,45;0,29;13,7;;\n";
  g_autoptr(ExchangeSheet) sheet = read_sheet (text);
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);
  ExchangeSheetReading reading;

  g_test_summary (
      "An untidy sheet: titles, groups, limits, notes, comparisons, a mean at the end; each guess is listed.");
  tell (sheet);
  g_assert_cmpstr (title->model, ==, "Anvil");
  g_assert_cmpstr (title->round, ==, "P4");
  g_assert_cmpstr (title->date, ==, "2026-11-24");
  g_assert_cmpstr (title->person, ==, "LN");
  g_assert_cmpuint (exchange_sheet_count_units (sheet), ==, 2);
  g_assert_cmpuint (exchange_sheet_count_readings (sheet), ==, 8);
  g_assert_cmpuint (exchange_sheet_count_problems (sheet), ==, 0);
  reading = exchange_sheet_get_reading (sheet, 7, 3);
  g_assert_cmpint (reading.mark, ==, EXCHANGE_READING_MEASURED);
  g_assert_cmpfloat (reading.value, ==, 14.1);
  g_assert_cmpstr (reading.note, ==, "stiff at first");
  reading = exchange_sheet_get_reading (sheet, 7, 4);
  g_assert_cmpint (reading.mark, ==, EXCHANGE_READING_ABOVE);
  g_assert_cmpfloat (reading.value, ==, 420);
  g_assert_cmpint (exchange_sheet_get_reading (sheet, 8, 1).mark, ==, EXCHANGE_READING_NONE);
  g_assert_cmpstr (exchange_sheet_get_row (sheet, 7)->remark, ==, "washer?");
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "", "the comma is the decimal sign"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "line 4", "a blank continues the one on its left"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "line 9", "sums up the others"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "column D", "'N' at the end of the head"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "column E", "> or <"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "line 1", "'P4' in the title was taken for the round"));
}

static void
test_problems (void)
{
  static const char text[] = "Serial,Date,By,Width [mm],Holds,Shaft\n"
                             "limits,,,h6,,H7\n"
                             "LSL,,,,,1\n"
                             "U1,31.2.2025,KB,1.1 N,ok,1\n"
                             "U2,2025-02-01,somebody else,lost,perhaps,2\n"
                             "U3,2025-02-01,KB,#DIV/0!,ok,2\n"
                             ",,,* measured after cleaning,,\n";
  g_autoptr(ExchangeSheet) sheet = read_sheet (text);

  g_test_summary ("What is not understood is listed with its cell, and is not stored.");
  tell (sheet);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "D2", "'h6' is not understood as limits"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "B4", "'31.2.2025' is no date that exists"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "C5", "'somebody else' is too long for initials"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "D4", "the value is in N, the column in mm"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "D5", "'lost' is not a number and not stored"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "E5", "'perhaps' is neither passed nor failed"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "D6", "'#DIV/0!' is a fault of the spreadsheet"));
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "D7", "stands alone in its line and is not stored"));
  g_assert_cmpuint (exchange_sheet_get_column (sheet, 3)->n_values, ==, 0);
}

static void
test_crosses (void)
{
  g_autoptr(ExchangeSheet) only = read_sheet ("Serial,Holds\nU1,x\nU2,x\n");
  g_autoptr(ExchangeSheet) mixed = read_sheet ("Serial,Holds\nU1,✓\nU2,x\nU3,✓\n");

  g_test_summary ("A cross alone is taken for passed and listed as a problem; beside other signs it means failed.");
  g_assert_cmpint (exchange_sheet_get_reading (only, 1, 1).mark, ==, EXCHANGE_READING_PASSED);
  g_assert_true (has_remark (only, EXCHANGE_REMARK_PROBLEM, "column B", "there is only 'x' in it"));
  g_assert_cmpint (exchange_sheet_get_reading (mixed, 2, 1).mark, ==, EXCHANGE_READING_FAILED);
  g_assert_true (has_remark (mixed, EXCHANGE_REMARK_GUESS, "column B", "'x' beside other signs was taken for failed"));
}

static void
test_corrections (void)
{
  g_autoptr(ExchangeSheet) sheet = read_sheet ("Part,Hole 1-2,Seen\nU1,1.234,good\nU2,2.345,burr\nU3,1.5,bad\n");
  g_autofree char *columns = NULL;

  g_test_summary ("Everything that is guessed can be set, and stays set when something else is.");
  exchange_sheet_set_column_name (sheet, 1, "Hole pitch");
  exchange_sheet_set_column_limits (sheet, 1, 1.5, 1.0, NAN);
  exchange_sheet_set_column_unit (sheet, 1, "mm");
  exchange_sheet_set_column_class (sheet, 1, "safety");
  exchange_sheet_set_serial_column (sheet, 0);
  exchange_sheet_set_column_role (sheet, 2, EXCHANGE_COLUMN_CHECKED);
  exchange_sheet_set_row_role (sheet, 3, EXCHANGE_ROW_LEFT_OUT);
  columns = show_columns (sheet);
  tell (sheet);
  g_assert_cmpstr (columns, ==, "S\nM Hole pitch !safety [mm] 1.5(1..) n=2\nC Seen n=1\n");
  g_assert_true (exchange_sheet_get_column (sheet, 0)->is_set);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "C3", "'burr' is neither passed nor failed"));
  exchange_sheet_set_column_limits (sheet, 1, NAN, 3.0, 2.0);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_PROBLEM, "column B", "the lower limit lies above the upper one"));
}

static void
test_decimal_sign (void)
{
  g_autoptr(ExchangeSheet) sheet = read_sheet ("Serial\tLoad\nU1\t1,234\nU2\t2,345\n");

  g_test_summary ("Where nothing decides the decimal sign, a guess is listed and can be turned.");
  g_assert_cmpfloat (exchange_sheet_get_reading (sheet, 1, 1).value, ==, 1.234);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "", "nothing in the sheet decides it"));
  exchange_sheet_set_decimal_sign (sheet, '.');
  g_assert_cmpfloat (exchange_sheet_get_reading (sheet, 1, 1).value, ==, 1234);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "B2", "'1,234' was read as 1234"));
}

static void
test_odd_sign (void)
{
  g_autoptr(ExchangeSheet) sheet = read_sheet ("Serial;Load\nU1;3,21\nU2;3.19\nU3;3,25\n");

  g_test_summary ("A number with another decimal sign than the sheet's is told as it is written, without digits that nobody wrote.");
  tell (sheet);
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "B3", "'3.19' was read as 3.19"));
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    g_assert_null (strstr (exchange_sheet_get_remark (sheet, i)->text, "3.18999"));
}

static void
test_limit_rows (void)
{
  static const struct
  {
    const char *rows;
    const char *columns;
  } cases[] = {
    { "lower,18,18,18,\nupper,22,22,,22\n", "M A 18 … 22, M B 18 … 22, M C ≥ 18, M D ≤ 22, " },
    { "upper,22,22,,22\nlower,18,18,18,\n", "M A 18 … 22, M B 18 … 22, M C ≥ 18, M D ≤ 22, " },
    { "nominal,20,20.5,20,20\nlower,18,18,18,\nupper,22,22,,\n", "M A 20 ±2, M B 20.5 +1.5/-2.5, M C ≥ 18, M D 20, " },
    { "nominal,20,,,20\nlimits,±2,18-22,max 22,18-22\n", "M A 20 ±2, M B 18-22, M C max 22, M D 20 ±2, " },
  };

  g_test_summary ("What a column's limits are said to be says all that the lines of the sheet give, and reads back the same.");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf ("Serial,A,B,C,D\n%sU1,19.1,19.2,19.3,19.4\nU2,19.5,19.6,19.7,19.8\n", cases[i].rows);
      g_autoptr(ExchangeSheet) sheet = read_sheet (text);
      g_autoptr(GString) said = g_string_new (NULL);

      for (guint c = 1; c < exchange_sheet_count_columns (sheet); c++)
        {
          const ExchangeSheetColumn *column = exchange_sheet_get_column (sheet, c);
          g_autofree char *limits = exchange_sheet_dup_limits (sheet, c);

          g_string_append_printf (said, "%c %s %s, ", column->role == EXCHANGE_COLUMN_MEASURED ? 'M' : '-', column->name, limits);
        }
      g_assert_cmpstr (said->str, ==, cases[i].columns);
    }
}

static void
test_again (void)
{
  g_autoptr(ExchangeSheet) sheet = read_sheet ("Serial,Width\nU1,1.1\nU1,1.2\n");
  g_autofree char *rows = NULL;

  g_test_summary ("A serial in two lines is a repeat, unless the caller says that it is another attempt.");
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "column A", "such as 'U1', were taken for repeats"));
  exchange_sheet_set_again (sheet, EXCHANGE_AGAIN_ATTEMPT);
  rows = show_rows (sheet);
  g_assert_cmpstr (rows, ==, "N U1/1/1 U1/2/1 ");
}

static void
test_encodings (void)
{
  static const char latin[] = "Serial;Angle [\xb0] 90 \xb1 2\nU1;90,5\n";
  static const char utf16[] = "\xff\xfeS\0n\0\t\0W\0\n\0" "1\0\t\0" "2\0.\0" "5\0\n\0";
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeSheet) sheet = exchange_sheet_read_text ("sheet", latin, strlen (latin), &error);
  g_autoptr(ExchangeSheet) wide = exchange_sheet_read_text ("sheet", utf16, sizeof utf16 - 1, &error);
  g_autofree char *columns = show_columns (sheet);
  g_autofree char *wide_columns = show_columns (wide);

  g_test_summary ("Text of an older spreadsheet is read, and that this is a guess is said.");
  g_assert_no_error (error);
  g_assert_cmpstr (columns, ==, "S\nM Angle [°] 90(88..92) n=1\n");
  g_assert_true (has_remark (sheet, EXCHANGE_REMARK_GUESS, "", "not UTF-8"));
  g_assert_cmpstr (wide_columns, ==, "S\nM W n=1\n");
}

static void
test_quotes (void)
{
  g_autoptr(ExchangeSheet) sheet = read_sheet ("Serial\t\"Width\n12.4 - 12.6\"\tBlade 3\" long\nU1\t12.5\tok\n");
  g_autofree char *columns = show_columns (sheet);

  g_test_summary ("Cells with line breaks come in quotes when pasted; a lone quote is a sign of inches.");
  g_assert_cmpstr (columns, ==, "S\nM Width (12.4..12.6) n=1\nC Blade 3\" long n=1\n");
  g_assert_cmpuint (exchange_sheet_get_row (sheet, 1)->line, ==, 3);
}

static void
test_refuses (void)
{
  static const char binary[] = "PK\x03\x04\0\0\xff\xff";
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("fettle-sheet-XXXXXX", NULL);

  g_test_summary ("Only what is no sheet at all is refused: nothing, a folder, a file that is no text.");
  g_assert_null (exchange_sheet_read_text ("sheet", " \n;;\n", 5, &error));
  g_assert_cmpstr (error->message, ==, "sheet: the sheet is empty: copy the head and the readings");
  g_clear_error (&error);
  g_assert_null (exchange_sheet_read_text ("sheet", binary, sizeof binary - 1, &error));
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT);
  g_assert_true (g_str_has_prefix (error->message, "sheet: this is no text: save the sheet as CSV"));
  g_clear_error (&error);
  g_assert_null (exchange_sheet_read_file (folder, &error));
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE);
  g_assert_true (g_str_has_suffix (error->message, ": this is a folder: name a file"));
  g_rmdir (folder);
}

static void
test_any_text (void)
{
  static const char *const pieces[] = { "\t",       ";",     ",",       "\n",     "\n",       "\n",        "12.5",
                                        "1,5",      "ok",    "nok",     "x",      "limits",   "LSL",       "mm",
                                        "±0.1",     "max 5", "(",       ")",      "mean",     "U1",        "U2",
                                        "\"",       "-",     ">",       "Serial", "Date",     "14.3.2025", "no",
                                        "round P2", " ",     "Width",   "code",   "\xc2\xa0", "1'000",     "safety",
                                        "by KB",    "[",     "3/4/2025" };
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  guint read = 0;

  g_test_summary ("Any text is understood in some way, and any of it can be set, without harm.");
  g_test_message ("random numbers from %u", seed);
  for (guint i = 0; i < 3000; i++)
    {
      g_autoptr(GString) text = g_string_new (NULL);
      g_autoptr(ExchangeSheet) sheet = NULL;

      for (gint n = g_rand_int_range (rand, 1, 60); n > 0; n--)
        g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
      sheet = exchange_sheet_read_text ("sheet", text->str, text->len, NULL);
      if (sheet == NULL)
        continue;
      read++;
      for (guint k = 0; k < 3; k++)
        {
          guint column = (guint) g_rand_int_range (rand, 0, (gint32) exchange_sheet_count_columns (sheet));
          guint row = (guint) g_rand_int_range (rand, 0, (gint32) exchange_sheet_count_rows (sheet));

          exchange_sheet_set_column_role (sheet, column,
                                          (ExchangeColumnRole) g_rand_int_range (rand, 0, EXCHANGE_N_COLUMN_ROLES));
          exchange_sheet_set_row_role (sheet, row, (ExchangeRowRole) g_rand_int_range (rand, 0, EXCHANGE_N_ROW_ROLES));
          exchange_sheet_get_reading (sheet, row, column);
        }
    }
  g_assert_cmpuint (read, >, 2000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      g_autofree char *path = g_strconcat ("/exchange/sheet/understands-", sheets[i].name, NULL);

      g_test_add_data_func (path, GSIZE_TO_POINTER (i), test_understands);
    }
  g_test_add_func ("/exchange/sheet/understands-an-untidy-one", test_untidy);
  g_test_add_func ("/exchange/sheet/lists-what-it-does-not-understand", test_problems);
  g_test_add_func ("/exchange/sheet/says-what-a-cross-was-taken-for", test_crosses);
  g_test_add_func ("/exchange/sheet/takes-corrections", test_corrections);
  g_test_add_func ("/exchange/sheet/says-what-the-comma-was-taken-for", test_decimal_sign);
  g_test_add_func ("/exchange/sheet/says-a-number-as-it-is-written", test_odd_sign);
  g_test_add_func ("/exchange/sheet/says-all-limits-that-lines-give", test_limit_rows);
  g_test_add_func ("/exchange/sheet/says-what-a-serial-twice-was-taken-for", test_again);
  g_test_add_func ("/exchange/sheet/reads-older-encodings", test_encodings);
  g_test_add_func ("/exchange/sheet/reads-quotes-as-pasted", test_quotes);
  g_test_add_func ("/exchange/sheet/refuses-what-is-no-sheet", test_refuses);
  g_test_add_func ("/exchange/sheet/takes-any-text-without-harm", test_any_text);
  return g_test_run ();
}
