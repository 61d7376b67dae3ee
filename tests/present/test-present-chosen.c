/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is said of units picked out of a chart: of none, of one, of many, with and without something in common. With
 * FETTLE_LOCALE_DIR the same in the pseudo-language, in which a text without brackets was never marked for translation.
 */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <string.h>

#include "present-chosen.h"

#define MOST 8

typedef struct
{
  InsightChosenUnit units[MOST];
  InsightFact       shared[2];
  InsightChosen     chosen;
} Story;

static const char *const serials[MOST] = { "A-1", "A-2", "A-3", "A-4", "A-5", "A-6", "A-7", "A-8" };

/* Fails, counts; fails, does not count; a check that was voided; a figure that a gauge gave as 'above', without limits. */
static const InsightChosenValue values[] = {
  { .reading = 31, .code = "C1", .name = "Play", .unit = "mm", .decimals = 2, .kind = BOOK_CHARACTERISTIC_MEASURED, .value = 0.53,
    .verdict = INSIGHT_OUTSIDE, .counting = INSIGHT_COUNTS },
  { .reading = 32, .code = "C2", .name = "Force", .unit = "N", .decimals = 0, .kind = BOOK_CHARACTERISTIC_MEASURED, .value = 193,
    .verdict = INSIGHT_OUTSIDE, .counting = INSIGHT_NOT_STATE },
  { .reading = 33, .code = "C3", .name = "Holds", .unit = "", .kind = BOOK_CHARACTERISTIC_CHECKED, .verdict = INSIGHT_INSIDE,
    .counting = INSIGHT_NOT_VOIDED },
  { .reading = 34, .code = "C4", .name = "Slip", .unit = "N", .decimals = 0, .kind = BOOK_CHARACTERISTIC_MEASURED, .value = 500,
    .mark = BOOK_MARK_ABOVE, .verdict = INSIGHT_NO_VERDICT, .counting = INSIGHT_COUNTS },
};
static const InsightFact facts[] = {
  { INSIGHT_FACT_LOT, 41, "203", "Spring", 0, 3, 1 },
  { INSIGHT_FACT_LOT, 42, "204", "", 0, 3, 1 },
  { INSIGHT_FACT_REVISION, 43, "B", "Lever", 0, 3, 1 },
  { INSIGHT_FACT_ISSUE, 44, "Lever sticks", "", 7, 3, 1 },
};

/* @n chosen units; the first has all values and facts. */
static void
story_init (Story *story, guint n, guint n_others, guint n_shared)
{
  *story = (Story){ .shared = { { INSIGHT_FACT_ROUND, 51, "P1", "", 0, n, 2 }, { INSIGHT_FACT_FAILS, 52, "Play", "", 0, n - 1, 1 } } };
  story->chosen = (InsightChosen){ .n = n, .n_others = n_others, .units = story->units, .n_units = MIN (n, MOST),
                                   .shared = story->shared, .n_shared = n_shared };
  for (guint i = 0; i < story->chosen.n_units; i++)
    {
      story->units[i] = (InsightChosenUnit){ 21 + i, serials[i], "P1", g_array_new (FALSE, FALSE, sizeof (InsightChosenValue)),
                                             g_array_new (FALSE, FALSE, sizeof (InsightFact)) };
      if (i > 0)
        continue;
      g_array_append_vals (story->units[0].values, values, G_N_ELEMENTS (values));
      g_array_append_vals (story->units[0].facts, facts, G_N_ELEMENTS (facts));
    }
}

static PresentChosen *
tell (guint n, guint n_others, guint n_shared)
{
  Story story;
  PresentChosen *present;

  story_init (&story, n, n_others, n_shared);
  present = present_chosen_new (&story.chosen);
  for (guint i = 0; i < story.chosen.n_units; i++)
    {
      g_array_unref (story.units[i].values);
      g_array_unref (story.units[i].facts);
    }
  return present;
}

static const PresentSheetRow *
row (const PresentSheet *sheet, guint i)
{
  g_assert_cmpuint (i, <, sheet->rows->len);
  return &g_array_index (sheet->rows, PresentSheetRow, i);
}

static void
assert_row (const PresentSheet *sheet, guint i, const char *record, gint64 key, const char *first, const char *second)
{
  g_assert_cmpstr (row (sheet, i)->record, ==, record);
  g_assert_cmpint (row (sheet, i)->key, ==, key);
  g_assert_cmpstr (row (sheet, i)->cells[0], ==, first);
  g_assert_cmpstr (row (sheet, i)->cells[1], ==, second);
}

static void
test_summary (void)
{
  g_autoptr(PresentChosen) none = tell (0, 9, 0), one = tell (1, 9, 0), two = tell (2, 9, 0), all = tell (2, 0, 0),
      common = tell (3, 9, 2), many = tell (120, 9, 1);

  g_assert_cmpstr (none->summary, ==, "None of the chosen units is looked at in these rounds.");
  g_assert_cmpstr (one->summary, ==, "1 unit chosen: A-1.");
  g_assert_cmpstr (two->summary, ==, "2 units chosen: A-1, A-2. Nothing is more frequent among them than among the others.");
  g_assert_cmpstr (all->summary, ==, "2 units chosen: A-1, A-2. All are chosen: there are no others to hold them against.");
  g_assert_cmpstr (common->summary, ==, "3 units chosen: A-1, A-2, A-3. In common: round P1 (all 3 chosen; 2 of 9 others).");
  g_assert_cmpstr (many->summary, ==, "120 units chosen: A-1, A-2, A-3, A-4, A-5, A-6 and 114 more. In common: round P1 (all 120 "
                                      "chosen; 2 of 9 others).");
}

/* The caution stands wherever something in common is told, and only there. */
static void
test_shared (void)
{
  g_autoptr(PresentChosen) none = tell (3, 9, 0), some = tell (3, 9, 2);

  g_assert_null (none->caution);
  g_assert_cmpuint (none->shared->rows->len, ==, 0);
  g_assert_true (g_str_has_prefix (some->caution, "A plain count, not a cause:"));
  g_assert_cmpuint (some->shared->rows->len, ==, 2);
  assert_row (some->shared, 0, "round", 51, "round P1", "3 of 3");
  g_assert_cmpstr (row (some->shared, 0)->cells[2], ==, "2 of 9");
  assert_row (some->shared, 1, "characteristic", 52, "outside the limits in Play", "2 of 3");
}

static void
test_units (void)
{
  g_autoptr(PresentChosen) one = tell (1, 9, 0), two = tell (2, 9, 0), many = tell (120, 9, 0);

  g_assert_cmpstr (one->units->title, ==, "The unit");
  g_assert_cmpstr (two->units->title, ==, "Each unit");
  g_assert_cmpstr (many->units->title, ==, "The first 8 units");
  g_assert_cmpuint (two->units->rows->len, ==, 2 + G_N_ELEMENTS (values) + G_N_ELEMENTS (facts));
  assert_row (two->units, 0, "unit", 21, "▸ Unit A-1", "round P1");
  assert_row (two->units, 1, "reading", 31, "C1  Play", "◆ 0.53 mm outside");
  assert_row (two->units, 2, "reading", 32, "C2  Force, does not count", "◆ 193 N outside");
  assert_row (two->units, 3, "reading", 33, "C3  Holds, voided", "passed");
  assert_row (two->units, 4, "reading", 34, "C4  Slip", "above 500 N no limits");
  assert_row (two->units, 5, "lot", 41, "lot 203 of Spring", "");
  assert_row (two->units, 6, "lot", 42, "lot 204", "");
  assert_row (two->units, 7, "revision", 43, "revision B of Lever", "");
  assert_row (two->units, 8, "issue", 44, "issue 7, Lever sticks", "");
  assert_row (two->units, 9, "unit", 22, "▸ Unit A-2", "round P1");
  g_assert_true (row (two->units, 1)->open);
  g_assert_false (row (two->units, 2)->open); /* what does not count needs nobody */
}

/* ---- in the pseudo-language ---- */

/* Every letter of a text stands in brackets, and each bracket is closed, but for names and figures. */
static void
assert_translated (const char *text)
{
  guint open = 0, closed = 0;

  for (const char *c = text; *c != '\0'; c++)
    {
      open += *c == '[';
      closed += *c == ']';
      g_assert_cmpuint (closed, <=, open);
    }
  g_assert_cmpuint (open, >, 0);
  g_assert_cmpuint (open, ==, closed);
}

static void
test_pseudo (void)
{
  const guint numbers[] = { 0, 1, 3, 120 };

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_autoptr(PresentChosen) present = tell (numbers[i], 9, numbers[i] > 1 ? 2 : 0);

      assert_translated (present->summary);
      assert_translated (present->units->title);
      assert_translated (present->shared->title);
      for (guint j = 0; j < present->shared->rows->len; j++)
        for (guint column = 0; column < 3; column++)
          assert_translated (row (present->shared, j)->cells[column]);
      if (present->caution != NULL)
        assert_translated (present->caution);
      for (guint j = 0; j < present->units->rows->len; j++)
        if (g_strcmp0 (row (present->units, j)->record, "reading") == 0)
          g_assert_cmpuint (strlen (row (present->units, j)->cells[0]), >, 0);
        else
          assert_translated (row (present->units, j)->cells[0]);
    }
}

int
main (int argc, char **argv)
{
  const char *place = g_getenv ("FETTLE_LOCALE_DIR");

  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  if (place != NULL)
    {
      bindtextdomain (GETTEXT_PACKAGE, place);
      bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
      textdomain (GETTEXT_PACKAGE);
      g_test_add_func ("/present/chosen/every-text-is-marked-for-translators", test_pseudo);
      return g_test_run ();
    }
  g_test_add_func ("/present/chosen/none-one-and-many-are-named-in-a-sentence", test_summary);
  g_test_add_func ("/present/chosen/what-is-in-common-comes-with-a-caution", test_shared);
  g_test_add_func ("/present/chosen/each-unit-has-its-values-and-what-it-was-built-of", test_units);
  return g_test_run ();
}
