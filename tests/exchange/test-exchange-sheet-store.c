/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Storing a measuring sheet: what is made, what is found, what is refused, and that it is one action. */
#include "exchange-desk.h"
#include "exchange-error.h"
#include "exchange-sheet-store.h"

#include "store-undo.h"

#include <string.h>

static const char plain[] = "Anvil\nround P1, 14.3.2025, by KB\n\n"
                            "Serial,Width [mm] 12.5 ±0.1,Slip load >= 250 N,Holds,remarks\n"
                            "class,,safety,,\n"
                            "U1,12.41,401,ok,\n"
                            "U2,12.55 (burr),> 420,nok,lever stuck\n";

static gboolean
store (Desk *desk, const char *text, const ExchangeSheetTarget *target, ExchangeSheetStored *stored, GError **error)
{
  static const ExchangeSheetTarget nothing = { .today = "2025-04-01" };
  g_autoptr(ExchangeSheet) sheet = exchange_sheet_read_text ("sheet", text, strlen (text), error);

  g_assert_nonnull (sheet);
  return exchange_sheet_store (desk->book, sheet, target != NULL ? target : &nothing, stored, NULL, error);
}

static void
test_makes_all (Desk *desk, gconstpointer unused)
{
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("Model, round, units, characteristics, limits, readings and a gate with criteria come of one sheet.");
  g_assert_true (store (desk, plain, NULL, &stored, &error));
  g_assert_no_error (error);
  g_assert_true (stored.new_model && stored.new_round);
  g_assert_cmpuint (stored.characteristics, ==, 3);
  g_assert_cmpuint (stored.limits, ==, 2);
  g_assert_cmpuint (stored.units, ==, 2);
  g_assert_cmpuint (stored.readings, ==, 6);
  g_assert_cmpuint (stored.criteria, ==, 3);
  g_assert_cmpuint (stored.people, ==, 1);
  dump = desk_dump (desk);
  g_test_message ("%s", dump);
  g_assert_nonnull (strstr (dump, "\nANVIL,Anvil,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,P1,prototype,,,,,,,,2025-03-14,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,HOLDS,Holds,checked,,0,function,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,SLIP-LOAD,Slip load,measured,N,0,safety,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,WIDTH,Width,measured,mm,2,function,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,SLIP-LOAD,2025-03-14,,250,,\nANVIL,WIDTH,2025-03-14,12.5,12.4,12.6,\n"));
  g_assert_nonnull (strstr (dump, "\nANVIL,P1,U1,HOLDS,1,1,,,passed,no,,2025-03-14,KB,\n"));
  g_assert_nonnull (strstr (dump, "\nANVIL,P1,U2,HOLDS,1,1,,,failed,no,lever stuck,2025-03-14,KB,\n"));
  g_assert_nonnull (strstr (dump, "\nANVIL,P1,U2,SLIP-LOAD,1,1,,420,above,no,,2025-03-14,KB,\n"));
  g_assert_nonnull (strstr (dump, "\nANVIL,P1,U2,WIDTH,1,1,,12.55,measured,no,burr,2025-03-14,KB,\n"));
  g_assert_nonnull (strstr (dump, "\nANVIL,1,Release\n"));
  /* Shares and confidences by class: the defaults of the rules of evidence. */
  g_assert_nonnull (strstr (dump, "\nANVIL,HOLDS,2025-03-14,0.95,,0.9,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,SLIP-LOAD,2025-03-14,0.9999,,0.95,"));
}

static void
test_one_action (Desk *desk, gconstpointer unused)
{
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;
  gint64 sitting = store_new_sitting ();
  StoreIntent intent = { "undo", 0, sitting, NULL, NULL };
  StoreReceipt receipt;

  g_test_summary ("Undoing the sheet takes all of it back.");
  g_assert_true (store (desk, plain, NULL, &stored, &error));
  g_assert_true (
      store_undo (book_get_store (desk->book), &intent, stored.receipt.action, &receipt, NULL, NULL, &error));
  g_assert_no_error (error);
  dump = desk_dump (desk);
  g_assert_cmpstr (dump, ==, "");
}

static void
test_adds (Desk *desk, gconstpointer unused)
{
  static const char more[] = "Serial,width,Angle [°] 90 ±2\nU2,12.55,90.5\nU3,12.47,91\n";
  static const ExchangeSheetTarget target = { .model = "anvil", .round = "P1", .today = "2025-04-01" };
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("A second sheet adds to the round; names find the characteristics whatever their capitals.");
  g_assert_true (store (desk, plain, NULL, &stored, &error));
  g_assert_true (store (desk, more, &target, &stored, &error));
  g_assert_no_error (error);
  g_assert_false (stored.new_model || stored.new_round);
  g_assert_cmpuint (stored.characteristics, ==, 1);
  g_assert_cmpuint (stored.limits, ==, 1);
  g_assert_cmpuint (stored.limits_kept, ==, 0);
  g_assert_cmpuint (stored.units, ==, 1);
  g_assert_cmpuint (stored.readings, ==, 3);
  g_assert_cmpuint (stored.equal, ==, 1);
  g_assert_cmpuint (stored.criteria, ==, 1);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "\nANVIL,ANGLE,2025-04-01,90,88,92,\n"));
  g_assert_true (store (desk, more, &target, &stored, &error));
  g_assert_cmpint (stored.receipt.action, ==, 0); /* the same sheet again: nothing to store */
  g_assert_cmpuint (stored.equal, ==, 4);
}

static void
test_finds_round (Desk *desk, gconstpointer unused)
{
  static const struct
  {
    const char *round;
    gboolean    is_new;
  } cases[] = { { "Prototype P1", FALSE }, { "prototype  P1", FALSE }, { "pilot P1", TRUE }, { "prototypeP1", TRUE } };
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;

  g_test_summary ("A round headed by its kind is the round of that label and kind, and another kind's is another one.");
  g_assert_true (store (desk, plain, NULL, &stored, &error));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const ExchangeSheetTarget target = { .model = "Anvil", .round = cases[i].round, .today = "2025-04-01" };

      g_test_message ("%s", cases[i].round);
      g_assert_true (store (desk, "Serial,Width\nU1,12.41\n", &target, &stored, &error));
      g_assert_no_error (error);
      g_assert_cmpint (stored.new_round, ==, cases[i].is_new);
      g_assert_cmpuint (stored.units, ==, cases[i].is_new);
    }
}

static void
test_keeps_limits (Desk *desk, gconstpointer unused)
{
  static const char other[] = "Serial,Width [mm] 12.5 ±0.3\nU3,12.47\n";
  static const ExchangeSheetTarget target = { .model = "Anvil", .round = "P1", .today = "2025-04-01" };
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;

  g_test_summary ("Limits of the book are not widened by a sheet.");
  g_assert_true (store (desk, plain, NULL, &stored, &error));
  g_assert_true (store (desk, other, &target, &stored, &error));
  g_assert_cmpuint (stored.limits, ==, 0);
  g_assert_cmpuint (stored.limits_kept, ==, 1);
}

static void
test_refuses (Desk *desk, gconstpointer unused)
{
  static const struct
  {
    const char *text;
    const char *sentence;
  } cases[] = {
    { "Serial,Width\nU1,12.41\n", "The sheet does not say which model it is about: name it." },
    { "Anvil\nround P1\n\nSerial,Width\nU1,12.42\n",
      "B5: the book has '12.41' for unit 'U1', the sheet '12.42': correct one of them, or say that the sheet holds another attempt" },
    { "Anvil\n\nSerial,Width\nU1,ok\n", "column B: the book has 'Width' as measured, the sheet as checked: set the column's role or name" },
    { "Anvil\n\nSerial,Width\nU1,12.41\nU2,lost\nU3,12.5\n",
      "1 thing in the sheet was not understood: correct it, or store the rest without it." },
    { "Anvil\n\nSerial,Remarks\nU1,lost\n", "The sheet holds no reading: say which lines and columns hold values." },
  };
  ExchangeSheetStored stored;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;

  g_test_summary ("What must be corrected first is said in a sentence, and nothing is stored.");
  g_assert_true (store (desk, plain, NULL, &stored, NULL));
  before = desk_dump (desk);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_false (store (desk, cases[i].text, NULL, &stored, &error));
      g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD);
      g_assert_cmpstr (error->message, ==, cases[i].sentence);
    }
  after = desk_dump (desk);
  g_assert_cmpstr (before, ==, after);
}

static void
test_rest (Desk *desk, gconstpointer unused)
{
  static const ExchangeSheetTarget target = {
    .today = "2025-04-01", .kind = BOOK_ROUND_PILOT, .allow_problems = TRUE, .person = "LN", .date = "2025-03-31"
  };
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("With leave, the rest is stored without what was not understood; what the caller says comes first.");
  g_assert_true (store (desk, "Anvil\n\nSerial,Width\nU1,12.41\nU2,lost\nU3,12.5\n", &target, &stored, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (stored.readings, ==, 2);
  g_assert_cmpuint (stored.units, ==, 3);
  g_assert_cmpuint (stored.criteria, ==, 0); /* without limits there is nothing to conform to */
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "\nANVIL,1,pilot,,,,,,,,2025-03-31,"));
  g_assert_nonnull (strstr (dump, "\nANVIL,1,U1,WIDTH,1,1,,12.41,measured,no,,2025-03-31,LN,\n"));
}

static void
test_repeats (Desk *desk, gconstpointer unused)
{
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("Repeats in columns and in lines get numbers of their own.");
  g_assert_true (store (desk, "Anvil\n\nSerial,Width,Width\nU1,1.1,1.2\nU1,1.3,1.4\n", NULL, &stored, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (stored.characteristics, ==, 1);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump, "U1,WIDTH,1,1,,1.1,"));
  g_assert_nonnull (strstr (dump, "U1,WIDTH,1,2,,1.2,"));
  g_assert_nonnull (strstr (dump, "U1,WIDTH,1,3,,1.3,"));
  g_assert_nonnull (strstr (dump, "U1,WIDTH,1,4,,1.4,"));
}

static void
test_codes (Desk *desk, gconstpointer unused)
{
  ExchangeSheetStored stored;
  g_autoptr(GError) error = NULL;
  g_autofree char *dump = NULL;

  g_test_summary ("Names that give the same code, and names without letters, get codes that differ.");
  g_assert_true (store (desk, "Anvil\n\nSerial,Ø 1,Ø-1,Ölspalt µ,+++\nU1,1.1,1.2,1.3,1.4\n", NULL, &stored, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (stored.characteristics, ==, 4);
  dump = desk_dump (desk);
  g_test_message ("%s", dump);
}

#define TEST(path, func) g_test_add ("/exchange/sheet-store/" path, Desk, NULL, desk_open, func, desk_close)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("makes-all-that-a-sheet-says", test_makes_all);
  TEST ("is-one-action", test_one_action);
  TEST ("adds-to-what-is-there", test_adds);
  TEST ("finds-the-round-that-is-headed-by-its-kind", test_finds_round);
  TEST ("keeps-the-limits-of-the-book", test_keeps_limits);
  TEST ("refuses-what-must-be-corrected", test_refuses);
  TEST ("stores-the-rest-with-leave", test_rest);
  TEST ("numbers-repeats", test_repeats);
  TEST ("makes-codes-that-differ", test_codes);
  return g_test_run ();
}
