/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be said of two rounds or two groups: a whole sentence for each code, and never more than the units show. */

#include "config.h"

#include "present-effect-private.h"

#include <math.h>
#include <string.h>

static InsightEffect
effect_new (InsightEffectWay way, double low, double high, gboolean told)
{
  return (InsightEffect){ .code = "LS", .name = "Load at slip", .unit = "N", .decimals = 0, .kind = BOOK_CHARACTERISTIC_MEASURED,
                          .way = way, .round_label = way == INSIGHT_EFFECT_SPLIT ? "P3" : "", .divides = -1, .part_name = "Lever",
                          .before = { "A", NULL, 5, 0, 100, 3 }, .after = { "B", NULL, 6, 0, 100 + (low + high) / 2, 3 },
                          .method = way == INSIGHT_EFFECT_SPLIT ? INSIGHT_EFFECT_PERMUTATION : INSIGHT_EFFECT_WELCH,
                          .difference = (low + high) / 2, .low = low, .high = high, .p = told ? 0.001 : 0.03,
                          .told_apart = told, .to_change = way == INSIGHT_EFFECT_SPLIT,
                          .remarks = g_ptr_array_new () };
}

static char *
said_of (InsightEffect *effect)
{
  const InsightComparison comparison = { .n_adjusted = 7 };
  PresentEffect *present = present_effect_new (&comparison, effect);
  char *said = g_strdup (present->sentence);

  g_assert_null (strchr (said, '{'));
  g_assert_true (g_str_has_suffix (said, "."));
  present_effect_free (present);
  g_ptr_array_unref (effect->remarks);
  return said;
}

static void
test_change (void)
{
  InsightEffect told = effect_new (INSIGHT_EFFECT_SPLIT, 2, 12, TRUE);
  InsightEffect crossed = effect_new (INSIGHT_EFFECT_SPLIT, -2, 12, FALSE);
  InsightEffect many = effect_new (INSIGHT_EFFECT_SPLIT, 2, 12, FALSE);
  InsightEffect gauges = effect_new (INSIGHT_EFFECT_SPLIT, 2, 12, TRUE);
  g_autofree char *first = said_of (&told), *second = said_of (&crossed), *third = said_of (&many), *fourth = NULL;

  gauges.to_change = FALSE;
  fourth = said_of (&gauges);
  g_assert_cmpstr (first, ==, "In round P3 the units with Lever B differ from those with A by +7.0 N (2.0 to 12.0 N); 5 units with A "
                              "and 6 units with B count. It may be put down to the change.");
  g_assert_nonnull (strstr (second, "It may be chance alone, for 0 lies within."));
  g_assert_nonnull (strstr (third, "Among the 7 comparisons shown together it may be chance alone."));
  g_assert_nonnull (strstr (fourth, "It cannot be put down to the change, for the two groups were read by other gauges."));
}

static void
test_rounds (void)
{
  InsightTouch touches[] = { { INSIGHT_DIFFERS_REVISION, 1, "Lever", "", 0 }, { INSIGHT_DIFFERS_SETTING, 2, "Harden", "temperature", 1 } };
  InsightEffect one = effect_new (INSIGHT_EFFECT_ROUNDS, 2, 12, TRUE);
  InsightEffect two = effect_new (INSIGHT_EFFECT_ROUNDS, 2, 12, TRUE);
  g_autofree char *first = NULL, *second = NULL;

  one.touches = two.touches = touches;
  one.n_touches = 1;
  two.n_touches = 2;
  first = said_of (&one);
  second = said_of (&two);
  g_assert_nonnull (strstr (first, "The rounds differ by +7.0 N (2.0 to 12.0 N); 5 units of A and 6 units of B count."));
  g_assert_nonnull (strstr (first, "What of it is due to Lever cannot be separated"));
  g_assert_nonnull (strstr (second, "neither from one another nor from the rounds: Lever, Harden (temperature)."));
  g_assert_null (strstr (first, "put down"));
}

static void
test_nothing (void)
{
  InsightEffect empty = effect_new (INSIGHT_EFFECT_ROUNDS, NAN, NAN, FALSE);
  InsightEffect bare = effect_new (INSIGHT_EFFECT_SPLIT, NAN, NAN, FALSE);
  InsightEffect none = effect_new (INSIGHT_EFFECT_ROUNDS, NAN, NAN, FALSE);
  g_autofree char *first = NULL, *second = NULL, *third = NULL;

  empty.before.n = 0;
  empty.method = bare.method = INSIGHT_EFFECT_NONE;
  bare.difference = 7;
  first = said_of (&empty);
  second = said_of (&bare);
  g_assert_cmpstr (first, ==, "There is nothing to compare: 0 units of A count, and 6 units of B.");
  none.method = INSIGHT_EFFECT_SHARES;
  none.before.n = 59;
  none.after.n = 0;
  third = said_of (&none);
  g_assert_cmpstr (third, ==, "There is nothing to compare: 59 units of A count, and 0 units of B."); /* how many count, not how many failed */
  g_assert_nonnull (strstr (second, "Without an interval nothing can be concluded from it."));
}

/* No rounding makes an interval that leaves 0 out seem to touch it. */
static void
test_rounding (void)
{
  InsightEffect narrow = effect_new (INSIGHT_EFFECT_SPLIT, 0.0004, 0.0123, TRUE);
  g_autofree char *said = said_of (&narrow);

  g_assert_nonnull (strstr (said, "0.0004 to 0.0123 N"));
}

static void
test_remarks (void)
{
  static const char *names[] = { "one", "two", NULL };

  for (guint code = 0; code < INSIGHT_N_REMARKS; code++)
    for (gint64 count = 1; count < 3; count++)
      {
        const InsightComparison comparison = { .n_adjusted = 1 };
        gint64 counts[] = { count, count + 1, 3 };
        InsightRemark remark = { code, (char **) names, counts, 3 };
        InsightEffect effect = effect_new (INSIGHT_EFFECT_SPLIT, 2, 12, TRUE);
        PresentEffect *present;
        const char *said;

        g_ptr_array_add (effect.remarks, &remark);
        present = present_effect_new (&comparison, &effect);
        g_assert_cmpuint (present->remarks->len, ==, 1);
        said = present->remarks->pdata[0];
        g_test_message ("%s", said);
        g_assert_cmpuint (strlen (said), >, 20);
        g_assert_true (g_str_has_suffix (said, "."));
        g_assert_null (strchr (said, '{'));
        g_assert_cmpuint (strlen (insight_remark_code_name (code)), >, 3);
        present_effect_free (present);
        g_ptr_array_unref (effect.remarks);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/compare/a-split-may-be-put-down-to-the-change-unless-something-stands-against-it", test_change);
  g_test_add_func ("/present/compare/rounds-differ-and-nothing-is-put-down-to-a-change", test_rounds);
  g_test_add_func ("/present/compare/without-an-interval-nothing-is-concluded", test_nothing);
  g_test_add_func ("/present/compare/no-rounding-hides-which-side-of-zero", test_rounding);
  g_test_add_func ("/present/compare/every-remark-has-a-sentence", test_remarks);
  return g_test_run ();
}
