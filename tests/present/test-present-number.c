/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures as text: what is rounded which way, and that a shown figure never claims more than the computed one. */

#include "config.h"

#include "present-number.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static void
check_text (char *got, const char *expected)
{
  g_assert_cmpstr (got, ==, expected);
  g_free (got);
}

static void
test_values (void)
{
  check_text (present_value (12.0314, 3, "mm"), "12.031 mm");
  check_text (present_value (12, 2, NULL), "12.00");
  check_text (present_value (-0.04, 1, "mm"), "0.0 mm");
  check_text (present_value (-1.5, 1, "mm"), "-1.5 mm");
  check_text (present_value (0.1, -1, "N"), "0.1 N");
  check_text (present_value (1.0 / 3, -1, NULL), "0.3333");
  check_text (present_value (NAN, 2, "mm"), "");
}

static void
test_limits (void)
{
  check_text (present_limits (11.95, 12.05, 2, "mm"), "11.95 to 12.05 mm");
  check_text (present_limits (30, NAN, 0, "N"), "at least 30 N");
  check_text (present_limits (-INFINITY, 5, 1, "mm"), "at most 5.0 mm");
  check_text (present_limits (NAN, INFINITY, 1, "mm"), "");
  /* A limit of 0.125 shown with one decimal would look like another limit. */
  check_text (present_limits (NAN, 0.125, 1, "mm"), "at most 0.125 mm");
}

static void
test_confidence_down (void)
{
  check_text (present_confidence (0.8999, 0.90), "89 %");
  check_text (present_confidence (0.9, 0.90), "90 %");
  check_text (present_confidence (0.57, NAN), "57 %"); /* 0.57 * 100 is 56.99999999999999 */
  check_text (present_confidence (0.9999999, NAN), "99.9 %");
  check_text (present_confidence (1, NAN), "99.9 %"); /* never certain */
  check_text (present_confidence (0, 0.9), "0 %");
  check_text (present_confidence (NAN, 0.9), "");
  /* Reached: it must not look missed beside what was wanted. */
  check_text (present_confidence (0.9761, 0.975), "97.6 %");
  check_text (present_confidence (0.97505, 0.975), "97.5 %");
  check_text (present_confidence (0.9917, 1 - 0.05 / 6), "99.17 %");
  check_text (present_wanted (1 - 0.05 / 6), "99.17 %");
  check_text (present_wanted (0.975), "97.5 %");
  check_text (present_wanted (0.9), "90 %");
}

/* Over a grid: the text read back is never above the confidence, and reached aims never read below what was wanted. */
static void
test_confidence_never_claims_more (void)
{
  for (int i = 1; i < 4000; i++)
    {
      const double reached = i / 4000.0;
      g_autofree char *alone = present_confidence (reached, NAN);

      g_assert_cmpfloat (g_ascii_strtod (alone, NULL), <=, reached * 100 + 1e-6);
      for (int j = 1; j <= 5; j++)
        {
          const double wanted = 1 - 0.1 / (j * (j + 1));
          g_autofree char *text = present_confidence (reached, wanted);
          g_autofree char *wanted_text = present_wanted (wanted);

          g_assert_cmpfloat (g_ascii_strtod (text, NULL), <=, reached * 100 + 1e-6);
          if (reached >= wanted + 2e-4)
            g_assert_cmpfloat (g_ascii_strtod (text, NULL), >=, g_ascii_strtod (wanted_text, NULL));
          if (reached < wanted)
            g_assert_cmpfloat (g_ascii_strtod (text, NULL), <, g_ascii_strtod (wanted_text, NULL));
        }
    }
}

static void
test_failing_up (void)
{
  check_text (present_failing_share (0.031), "3.1 %");
  check_text (present_failing_share (0.0311), "3.2 %");
  check_text (present_failing_share (0.05), "5 %");
  check_text (present_failing_share (0.1201), "13 %");
  check_text (present_failing_share (0.00031), "0.031 %");
  check_text (present_failing_share (0), "0 %");
  check_text (present_failing_share (1), "100 %");
  check_text (present_failing_share (1.0 / 3), "34 %");

  for (int i = 1; i < 5000; i++)
    {
      g_autofree char *text = present_failing_share (i / 5000.0);

      g_assert_cmpfloat (g_ascii_strtod (text, NULL), >=, i / 50.0 - 1e-6);
    }
}

static void
test_shares (void)
{
  check_text (present_share_in (0.95), "95 in 100");
  check_text (present_share_in (0.9999), "9999 in 10000");
  check_text (present_share_in (0.999), "999 in 1000");
  check_text (present_share_in (1.0 - 0.1 * 0.9062109), "90.93 % of"); /* a tolerated share, less what the check misses */
  check_text (present_fails_in (0.05), "1 in 20");
  check_text (present_fails_in (0.1), "1 in 10");
  check_text (present_fails_in (1 - 0.9999), "1 in 10000");
  check_text (present_fails_in (0.03), "3 in 100");
}

static void
check_chance (double chance, guint times, guint in)
{
  guint got_times, got_in;

  present_chance (chance, &got_times, &got_in);
  g_test_message ("%g: %u in %u", chance, got_times, got_in);
  g_assert_cmpuint (got_times, ==, times);
  g_assert_cmpuint (got_in, ==, in);
}

static void
test_chances (void)
{
  /* 0.95^5 = 0.7738: five more units pass a lock that fails 1 in 20 */
  check_chance (pow (0.95, 5), 3, 4);
  check_chance (0.5, 1, 2);
  check_chance (0.66, 2, 3);
  check_chance (0.9, 9, 10);
  check_chance (0.95, 19, 20);
  check_chance (0.997, 100, 100);
  check_chance (0.001, 0, 100);
  check_chance (0.0, 0, 100);
  check_chance (1.0, 100, 100);

  for (int i = 0; i <= 1000; i++)
    {
      guint times, in;

      present_chance (i / 1000.0, &times, &in);
      g_assert_cmpfloat (fabs ((double) times / in - i / 1000.0), <=, 0.0301);
    }
}

static void
test_local (void)
{
  present_number_set_local (TRUE);
  check_text (present_value (-1.5, 2, "mm"), "\xe2\x88\x92" "1.50\xc2\xa0" "mm");
  present_number_set_local (FALSE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/number/values-have-their-decimals-and-unit", test_values);
  g_test_add_func ("/present/number/limits-are-said-as-a-maker-says-them", test_limits);
  g_test_add_func ("/present/number/confidence-is-rounded-down", test_confidence_down);
  g_test_add_func ("/present/number/confidence-never-claims-more", test_confidence_never_claims_more);
  g_test_add_func ("/present/number/failing-shares-are-rounded-up", test_failing_up);
  g_test_add_func ("/present/number/shares-are-pairs-of-counts", test_shares);
  g_test_add_func ("/present/number/chances-are-plain-pairs", test_chances);
  g_test_add_func ("/present/number/the-window-writes-a-true-minus", test_local);
  return g_test_run ();
}
