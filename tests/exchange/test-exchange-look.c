/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look at rows before they are stored: what is recognised, how each row is judged, what taking in does. */
#include "exchange-desk.h"
#include "exchange-look.h"
#include "store-undo.h"

#include <string.h>

#define ROUND "Model\tRound\tKind\n"

static ExchangeLook *
look_at (const char *text, const char *likely)
{
  g_autoptr(GError) error = NULL;
  ExchangeLook *look = exchange_look_read_text ("Pasted rows", text, strlen (text),
                                                likely != NULL ? book_record_find (likely) : NULL, &error);

  g_assert_no_error (error);
  return look;
}

static ExchangeLookAnswer *
ask (Desk *desk, ExchangeLook *look, gboolean store)
{
  g_autoptr(ExchangeLookQuestion) question = exchange_look_question_new (look, 0, 1, store);
  g_autoptr(GError) error = NULL;
  ExchangeLookAnswer *answer = exchange_look_ask (desk->book, question, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  return answer;
}

/* The columns as `head>field`, by name. */
static char *
matched (const ExchangeLook *look)
{
  g_autoptr(GString) out = g_string_new (exchange_look_get_record (look)->name);

  for (guint i = 0; i < exchange_look_count_columns (look); i++)
    {
      int field = exchange_look_get_column (look, i);

      g_string_append_printf (out, " %s", field < 0 ? "-" : exchange_look_get_field (look, (guint) field)->name);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* A letter a row: new, changed, equal, refused. */
static void
check_states (const ExchangeLookAnswer *answer, const char *expected)
{
  g_autofree char *got = g_strnfill (strlen (expected), ' ');

  for (guint i = 0; i < strlen (expected); i++)
    got[i] = "ncer"[exchange_look_answer_state (answer, i)];
  g_assert_cmpstr (got, ==, expected);
  for (guint state = 0; state < EXCHANGE_LOOK_N_STATES; state++)
    {
      guint n = 0;

      for (const char *p = expected; *p != '\0'; p++)
        n += *p == "ncer"[state];
      g_assert_cmpuint (exchange_look_answer_count (answer, (ExchangeLookState) state), ==, n);
    }
}

static void
check_words (const ExchangeLook *look, const ExchangeLookAnswer *answer, guint row, const char *expected)
{
  g_autofree char *words = exchange_look_answer_words (look, answer, row);

  g_assert_cmpstr (words, ==, expected);
}

/* ---- recognising ---- */

static const struct
{
  const char *path;
  const char *text;
  const char *likely;
  const char *expected;
} heads[] = {
  { "by-the-names-of-files", "model,round,unit,characteristic,value\nA,P1,U1,W,1\n", NULL,
    "reading model round unit characteristic value" },
  { "by-labels-in-any-case", "MODEL\tround\tSerial\tstate note\nA\tP1\tU9\t\n", NULL, "unit model round serial -" },
  { "by-labels-of-a-record", "Initials;Role;Name\nKB;maker;Kay B\n", NULL, "person initials role name" },
  { "with-units-in-brackets", "Model\tRound\tUnit\tCharacteristic\tValue [mm]\nA\tP1\tU1\tW\t1\n", NULL,
    "reading model round unit characteristic value" },
  { "by-trade-words", "Name\tRemark\nTurner\tx\n", "supplier", "supplier name note" },
  { "a-field-once", "code,name,name\nW,Width,Wide\n", "characteristic", "characteristic code name -" },
  { "nothing-without-heads", "U7\t1\nU8\t2\n", "unit", "unit - -" },
};

static void
test_heads (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autoptr(ExchangeLook) look = look_at (heads[i].text, heads[i].likely);
  g_autofree char *got = matched (look);

  g_test_summary ("Heads are names of files, labels or trade words, in any case.");
  g_assert_cmpstr (got, ==, heads[i].expected);
}

static void
test_is_sure (void)
{
  g_autoptr(ExchangeLook) records = look_at ("round\tserial\tlot\nP1\tU9\t\n", NULL);
  g_autoptr(ExchangeLook) sheet = look_at ("Serial\tSide play [mm]\tHardness [HRC]\nU1\t0.1\t58\n", NULL);

  g_test_summary ("A measuring sheet is told from rows of records.");
  g_assert_true (exchange_look_is_sure (records));
  g_assert_false (exchange_look_is_sure (sheet));
}

static void
test_numbers_and_dates (void)
{
  static const struct
  {
    const char       *text;
    char              sign;
    ExchangeDateOrder order;
  } cases[] = {
    { "unit\tvalue\ttaken\nU1\t12,5\t13/4/2026\n", ',', EXCHANGE_DATE_DAY_FIRST },
    { "unit\tvalue\ttaken\nU1\t12.5\t4/13/2026\n", '.', EXCHANGE_DATE_MONTH_FIRST },
    { "unit\tvalue\ttaken\nU1\t1.234,5\t3.4.2026\n", ',', EXCHANGE_DATE_DAY_FIRST },
    { "unit\tvalue\ttaken\nU1\t12\t2026-04-03\n", '.', EXCHANGE_DATE_DAY_FIRST },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(ExchangeLook) look = look_at (cases[i].text, "reading");

      g_test_message ("%s", cases[i].text);
      g_assert_cmpint (exchange_look_get_decimal_sign (look), ==, cases[i].sign);
      g_assert_cmpint (exchange_look_get_date_order (look), ==, cases[i].order);
    }
}

/* ---- judging ---- */

#define READING_HEAD "Model\tRound\tUnit\tCharacteristic\tValue\tTaken\tPerson\n"

static void
put_reading (Desk *desk)
{
  desk_put_base (desk);
  desk_put (desk, "reading.csv",
            "model,round,unit,characteristic,value,taken,person\nA,P1,U1,W,12.4,2026-04-03,KB\nA,P1,U2,W,12.5,2026-04-03,\n");
  desk_do (desk);
}

static void
test_judges (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;

  g_test_summary ("Each row is new, changed, equal or refused, with fields from old to new or the reason; nothing is stored.");
  put_reading (desk);
  desk_clear (desk);
  desk_put (desk, "unit.csv", "model,round,serial\nA,P1,U3\n");
  desk_do (desk);
  before = desk_dump (desk);
  look = look_at (READING_HEAD "A\tP1\tU1\tW\t12,4\t3.4.2026\tKB\n" /* equal */
                  "A\tP1\tU2\tW\t12,6\t03.04.2026\tLN\n"            /* changed */
                  "A\tP1\tU3\tW\t12,7\t2026-04-03\t\n"              /* new */
                  "A\tP1\tU9\tW\t12,7\t2026-04-03\t\n"              /* no such unit */
                  "A\tP1\tU1\tW\t12,4x\t2026-04-03\t\n"             /* no number */
                  "A\tP1\tU3\tW\t12,8\t2026-04-03\t\n",             /* twice */
                  NULL);
  answer = ask (desk, look, FALSE);
  check_states (answer, "ecnrrr");
  check_words (look, answer, 0, "");
  check_words (look, answer, 1, "Value: '12.5' becomes '12,6'; Person: 'LN', empty until now.");
  check_words (look, answer, 3, "Unit: there is no unit 'A/P1/U9' in the book or in the files: mend the cell or import it too.");
  check_words (look, answer, 4, "Value: '12,4x' is not a number: write digits, such as 12.5.");
  g_assert_cmpstr (exchange_look_answer_old (look, answer, 1, 4), ==, "12.5");
  g_assert_null (exchange_look_answer_old (look, answer, 1, 5));
  g_assert_true (exchange_look_answer_is_wrong (look, answer, 4, 4));
  g_assert_false (exchange_look_answer_is_wrong (look, answer, 4, 3));
  g_assert_false (exchange_look_answer_is_stored (answer));
  after = desk_dump (desk);
  g_assert_cmpstr (after, ==, before);
}

static void
test_takes_in (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) first = NULL, second = NULL, third = NULL;
  g_autofree char *csv = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("What can be stored is; what was refused stays, is mended and taken in later, or goes out as CSV.");
  put_reading (desk);
  look = look_at (READING_HEAD "A\tP1\tU2\tW\t12,6\t03.04.2026\tLN\nA\tP1\tU1\tL\t\t\t\nA\tP1\tU7\tW\t12,7\t\t\n", NULL);
  first = ask (desk, look, TRUE);
  check_states (first, "crr");
  g_assert_true (exchange_look_answer_is_stored (first));
  exchange_look_keep_refused (look, first);
  g_assert_cmpuint (exchange_look_count_rows (look), ==, 2);
  g_assert_cmpuint (exchange_look_get_line (look, 0), ==, 3);
  second = ask (desk, look, FALSE);
  check_states (second, "rr");
  csv = exchange_look_print_refused (look, second);
  g_test_message ("%s", csv);
  g_assert_true (g_str_has_prefix (csv, "model;round;unit;characteristic;value;taken;person;rejected_because\n"));
  g_assert_nonnull (strstr (csv, "A;P1;U7;W;12,7;;;"));
  exchange_look_set_cell (look, 1, 2, "U1");
  exchange_look_set_cell (look, 1, 6, "KB");
  third = ask (desk, look, TRUE);
  check_states (third, "rc");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P1,U2,W,1,1,,12.6,"));
  g_assert_nonnull (strstr (dump, "A,P1,U1,W,1,1,,12.7,"));
}

static void
test_one_action (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr(GError) error = NULL;
  StoreIntent intent = { .action = "undo", .sitting = 1 };

  g_test_summary ("New and changed rows are taken in as one action, which is undone at once.");
  put_reading (desk);
  before = desk_dump (desk);
  look = look_at (READING_HEAD "A\tP1\tU2\tW\t12,6\t\t\nA\tP1\tU1\tL\t\t\t\nA\tP1\tU1\tW\t12,4\t2026-04-03\tLN\n", NULL);
  answer = ask (desk, look, TRUE);
  check_states (answer, "crc");
  g_assert_true (store_undo (book_get_store (desk->book), &intent, 0, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  after = desk_dump (desk);
  g_assert_cmpstr (after, ==, before);
}

static void
test_for_all_rows (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *lacks = NULL;
  g_autofree char *none = NULL;

  g_test_summary ("What no column gives is asked for once, and holds for all rows.");
  put_reading (desk);
  look = look_at ("Serial\nU1\nU5\n", "unit");
  lacks = exchange_look_lacks (look);
  g_assert_cmpstr (lacks, ==, "No column says 'Model', which every row needs: choose the column above it, or fill it in for all rows.");
  for (guint i = 0; i < exchange_look_count_fields (look); i++)
    if (exchange_look_needs (look, i))
      exchange_look_set_fixed (look, i, strcmp (exchange_look_get_field (look, i)->name, "model") == 0 ? "A" : "P1");
  none = exchange_look_lacks (look);
  g_assert_null (none);
  answer = ask (desk, look, FALSE);
  check_states (answer, "en");
}

static void
test_mends_columns (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *by_hand = NULL;

  g_test_summary ("A column that was not recognised is chosen by hand; one that was can be left out.");
  put_reading (desk);
  look = look_at ("Model\tRound\tNumber on the knife\tNote\nA\tP1\tU8\t\xf0\x9f\x94\xaa \xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d\n", "unit");
  for (guint i = 0; i < exchange_look_count_fields (look); i++)
    if (strcmp (exchange_look_get_field (look, i)->name, "serial") == 0)
      exchange_look_set_column (look, 2, (int) i);
  exchange_look_set_column (look, 3, -1);
  by_hand = matched (look);
  g_assert_cmpstr (by_hand, ==, "unit model round serial -");
  answer = ask (desk, look, TRUE);
  check_states (answer, "n");
}

static void
test_decimal_sign (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) comma = NULL, point = NULL;
  g_autofree char *with_comma = NULL, *with_point = NULL;

  g_test_summary ("What could be read both ways is read by the decimal sign, which can be changed.");
  put_reading (desk);
  look = look_at (READING_HEAD "A\tP1\tU2\tW\t1,234\t\t\n", NULL);
  comma = ask (desk, look, TRUE);
  with_comma = desk_dump (desk);
  g_assert_nonnull (strstr (with_comma, "A,P1,U2,W,1,1,,1.234,"));
  exchange_look_set_decimal_sign (look, '.');
  point = ask (desk, look, TRUE);
  with_point = desk_dump (desk);
  g_assert_nonnull (strstr (with_point, "A,P1,U2,W,1,1,,1234,"));
}

static void
test_words_of_choices (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("Choices are taken by the word of files or the label, in any case; a word that is none is refused.");
  put_reading (desk);
  look = look_at (ROUND "A\tP2\tPROTOTYPE\nA\tP3\tpilot\nA\tP4\tplaything\n", NULL);
  answer = ask (desk, look, TRUE);
  check_states (answer, "nnr");
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "A,P2,prototype,"));
}

static void
test_percent (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("A share in percent is the share to the last bit, as where it is typed; one beyond the whole is refused.");
  look = look_at ("name\tuptime\nMill\t99.9 %\nLathe\t0.95\nSaw\t120%\n", "bench");
  answer = ask (desk, look, TRUE);
  check_states (answer, "nnr");
  dump = desk_dump (desk);
  g_test_message ("%s", dump);
  g_assert_nonnull (strstr (dump, "\nLathe,1,1,,0.95,"));
  g_assert_nonnull (strstr (dump, "\nMill,1,1,,0.999,"));
}

static void
test_numbers_rows (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) first = NULL, again = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("Rows without the number that their record counts by never overwrite: they are equal, or numbered on.");
  put_reading (desk);
  desk_clear (desk);
  desk_put (desk, "unit_event.csv", "model,round,unit,no,date,kind\nA,P1,U1,1,2025-01-01,built\nA,P1,U1,2,2025-01-02,passed\n");
  desk_do (desk);
  look = look_at ("model\tround\tunit\tdate\tkind\nA\tP1\tU1\t2025-02-01\treworked\nA\tP1\tU1\t2025-01-02\tpassed\n"
                  "A\tP1\tU2\t2025-02-01\tbuilt\n",
                  "unit_event");
  first = ask (desk, look, TRUE);
  check_states (first, "nen");
  dump = desk_dump (desk);
  g_test_message ("%s", dump);
  g_assert_nonnull (strstr (dump, "A,P1,U1,1,2025-01-01,,built,"));
  g_assert_nonnull (strstr (dump, "A,P1,U1,3,2025-02-01,,reworked,"));
  g_assert_nonnull (strstr (dump, "A,P1,U2,1,2025-02-01,,built,"));
  again = ask (desk, look, FALSE);
  check_states (again, "eee");
}

static void
test_lacks_required (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;

  g_test_summary ("A column that only new rows need refuses the new rows alone.");
  put_reading (desk);
  look = look_at ("model\tcode\tunit\nA\tW\tcm\nA\tX\tmm\n", "characteristic");
  answer = ask (desk, look, FALSE);
  check_states (answer, "cr");
  check_words (look, answer, 1, "Name: no column gives it, but a row that is new in the book needs it.");
}

static void
test_cancelled (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookQuestion) question = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  g_autoptr(GString) text = g_string_new ("model\tround\tserial\n");
  g_autoptr(GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;

  g_test_summary ("Cancelled while taking in: nothing is stored.");
  put_reading (desk);
  before = desk_dump (desk);
  for (guint i = 0; i < 6000; i++)
    g_string_append_printf (text, "A\tP1\tN%u\n", i);
  look = look_at (text->str, NULL);
  question = exchange_look_question_new (look, 0, 1, TRUE);
  g_cancellable_cancel (cancellable);
  g_assert_null (exchange_look_ask (desk->book, question, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  after = desk_dump (desk);
  g_assert_cmpstr (after, ==, before);
}

/* Every kind of field with something wrong in it: the row is refused with the field named, the others are not. */
static const struct
{
  const char *path;
  const char *likely;
  const char *text;
  const char *words;
} wrong[] = {
  { "wrong-number", "characteristic", "model\tcode\tname\tdecimals\nA\tQ\tPlay\tmany\n",
    "Decimals: 'many' is not a whole number: write digits, such as 12." },
  { "out-of-bounds", "characteristic", "model\tcode\tname\tdecimals\nA\tQ\tPlay\t99\n", "Decimals: " },
  { "empty-required", "characteristic", "model\tcode\tname\nA\tQ\t\n", "Name: It is empty, but must be filled in." },
  { "wrong-date", "reading", "model\tround\tunit\tcharacteristic\tvalue\ttaken\nA\tP1\tU1\tW\t1\t31.2.2026\n",
    "Taken: '31.2.2026' is not a date or time that exists: write it like 2026-03-31 or 2026-03-31T14:05." },
  { "wrong-word", "person", "initials\trole\tactive\nQQ\tmaker\tperhaps\n", "Active: 'perhaps' is none of the choices" },
};

static void
test_wrong (Desk *desk, gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *words = NULL;

  put_reading (desk);
  look = look_at (wrong[i].text, wrong[i].likely);
  answer = ask (desk, look, FALSE);
  words = exchange_look_answer_words (look, answer, 0);
  g_test_message ("%s", words);
  check_states (answer, "r");
  g_assert_true (g_str_has_prefix (words, wrong[i].words));
}

static void
test_too_long (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = NULL;
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  g_autofree char *name = g_strnfill (100000, 'x');
  g_autofree char *text = g_strdup_printf ("model\tcode\tname\nA\tQ\t%s\nA\tR\t\xf0\x9f\x94\xaa\xe2\x80\x8f \xd8\xb3\xd9\x83\xd9\x8a\xd9\x86\n", name);
  g_autofree char *words = NULL;

  g_test_summary ("A text that is too long is refused; emoji and right-to-left text are stored as they are.");
  put_reading (desk);
  look = look_at (text, "characteristic");
  answer = ask (desk, look, FALSE);
  words = exchange_look_answer_words (look, answer, 0);
  g_test_message ("%s", words);
  check_states (answer, "rn");
  g_assert_true (g_str_has_prefix (words, "Name: "));
  g_assert_cmpuint (strlen (words), <, 400);
}

static void
check_reversal (const ExchangeLook *look, gboolean again, const char *expected)
{
  g_autofree char *words = exchange_look_dup_reversal (look, again);

  g_assert_cmpstr (words, ==, expected);
  g_assert_cmpint (exchange_look_can_reverse (look, again), ==, expected != NULL);
}

static void
test_mends (Desk *desk, gconstpointer unused)
{
  g_autoptr(ExchangeLook) look = look_at (ROUND "A\tP1\t\n\nA\t\t\n", NULL);
  g_autoptr(ExchangeLookAnswer) answer = NULL;
  guint row, column;

  g_test_summary ("Mended cells are taken back newest first and put again; the same text is no mend, and what is stored ends it.");
  check_reversal (look, FALSE, NULL);
  check_reversal (look, TRUE, NULL);
  g_assert_false (exchange_look_reverse (look, FALSE, &row, &column));
  exchange_look_set_cell (look, 0, 1, "P1");
  check_reversal (look, FALSE, NULL);
  exchange_look_set_cell (look, 1, 1, "P2 of the second series of the year");
  check_reversal (look, FALSE, "'P2 of the second series …' under Round in line 4");
  exchange_look_set_cell (look, 0, 1, "");
  check_reversal (look, FALSE, "cell emptied under Round in line 2");

  g_assert_true (exchange_look_reverse (look, FALSE, &row, &column));
  g_assert_cmpuint (row, ==, 0);
  g_assert_cmpuint (column, ==, 1);
  g_assert_cmpstr (exchange_look_get_cell (look, 0, 1), ==, "P1");
  check_reversal (look, TRUE, "cell emptied under Round in line 2");
  g_assert_true (exchange_look_reverse (look, FALSE, &row, &column));
  g_assert_cmpuint (row, ==, 1);
  g_assert_cmpstr (exchange_look_get_cell (look, 1, 1), ==, "");
  check_reversal (look, FALSE, NULL);
  g_assert_true (exchange_look_reverse (look, TRUE, &row, &column));
  g_assert_cmpstr (exchange_look_get_cell (look, 1, 1), ==, "P2 of the second series of the year");

  /* What is mended now takes the place of what was taken back. */
  exchange_look_set_cell (look, 1, 1, "P2");
  check_reversal (look, TRUE, NULL);
  exchange_look_set_has_head (look, FALSE);
  exchange_look_set_cell (look, 0, 1, "P7");
  exchange_look_set_has_head (look, TRUE);
  g_assert_true (exchange_look_reverse (look, FALSE, &row, &column)); /* its row gives the heads now */
  g_assert_cmpuint (row, ==, exchange_look_count_rows (look));
  exchange_look_set_cell (look, 0, 0, "none");
  answer = ask (desk, look, FALSE);
  check_states (answer, "rr");
  exchange_look_keep_refused (look, answer);
  check_reversal (look, FALSE, NULL);
  g_assert_cmpstr (exchange_look_get_cell (look, 0, 0), ==, "none");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (heads); i++)
    {
      g_autofree char *path = g_strconcat ("/exchange/look/recognises-heads/", heads[i].path, NULL);

      g_test_add_data_func (path, GSIZE_TO_POINTER (i), test_heads);
    }
  g_test_add_func ("/exchange/look/tells-records-from-a-sheet", test_is_sure);
  g_test_add_func ("/exchange/look/recognises-decimal-sign-and-dates", test_numbers_and_dates);
#define TEST(path, function) g_test_add ("/exchange/look/" path, Desk, NULL, desk_open, function, desk_close)
  TEST ("judges-each-row-and-stores-nothing", test_judges);
  TEST ("takes-in-what-can-be-stored-and-keeps-the-rest", test_takes_in);
  TEST ("takes-in-as-one-action", test_one_action);
  TEST ("asks-once-for-what-holds-for-all-rows", test_for_all_rows);
  TEST ("mends-columns-by-hand", test_mends_columns);
  TEST ("reads-by-the-decimal-sign", test_decimal_sign);
  TEST ("takes-choices-by-their-labels", test_words_of_choices);
  TEST ("shares-in-percent", test_percent);
  TEST ("numbers-rows-on", test_numbers_rows);
  TEST ("refuses-only-the-rows-that-need-a-column", test_lacks_required);
  TEST ("stores-nothing-when-cancelled", test_cancelled);
  TEST ("takes-back-what-was-mended", test_mends);
  TEST ("refuses-what-is-too-long", test_too_long);
#undef TEST
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *path = g_strconcat ("/exchange/look/refuses/", wrong[i].path, NULL);

      g_test_add (path, Desk, GSIZE_TO_POINTER (i), desk_open, test_wrong, desk_close);
    }
  return g_test_run ();
}
