/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keyed generator against its published answers, and what is drawn from it against the distributions. */
#include "num-dist.h"
#include "num-random.h"

#include <glib.h>
#include <math.h>
#include <stdlib.h>

/* Known answers of philox4x32-10 in the distribution of Random123 (Salmon et al. 2011), kat_vectors: from memory. */
static void
test_known_answers (void)
{
  static const struct
  {
    guint32 counter[4], key[2], out[4];
  } answers[] = {
    { { 0, 0, 0, 0 }, { 0, 0 }, { 0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8 } },
    { { 0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff },
      { 0xffffffff, 0xffffffff },
      { 0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd } },
    { { 0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344 },
      { 0xa4093822, 0x299f31d0 },
      { 0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1 } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      guint32 out[4];

      num_philox (answers[i].counter, answers[i].key, out);
      for (guint j = 0; j < 4; j++)
        g_assert_cmphex (out[j], ==, answers[i].out[j]);
    }
}

static void
test_draws_stand_alone (void)
{
  NumRandom forward, alone;
  guint32 seventh = 0;

  num_random_init (&forward, 11, 22);
  for (guint draw = 0; draw < 10; draw++)
    {
      num_random_draw (&forward, draw);
      for (guint i = 0; i <= draw; i++) /* draws of different length do not shift each other */
        num_random_word (&forward);
      if (draw == 7)
        seventh = num_random_word (&forward);
    }
  num_random_init (&alone, 11, 22);
  num_random_draw (&alone, 7);
  for (guint i = 0; i < 8; i++)
    num_random_word (&alone);
  g_assert_cmphex (num_random_word (&alone), ==, seventh);
}

/* Nothing that a normal left over is carried into another draw, whose numbers would then hang on what came before. */
static void
test_nothing_is_carried (void)
{
  NumRandom after, alone;

  num_random_init (&after, 11, 22);
  num_random_draw (&after, 3);
  num_random_normal (&after);
  num_random_draw (&after, 4);
  num_random_init (&alone, 11, 22);
  num_random_draw (&alone, 4);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpfloat (num_random_normal (&after), ==, num_random_normal (&alone));
}

/* Two normals of a draw tell nothing of each other: no correlation of themselves nor of their squares, within 4 standard errors. */
static void
test_normals_are_independent (void)
{
  const guint n = 40000;
  double plain = 0.0;
  double squares = 0.0;
  NumRandom random;

  num_random_init (&random, 5, 6);
  for (guint i = 0; i < n; i++)
    {
      double x, y;

      num_random_draw (&random, i);
      x = num_random_normal (&random);
      y = num_random_normal (&random);
      g_assert_cmpfloat (x, !=, y);
      plain += x * y;
      squares += (x * x - 1.0) * (y * y - 1.0);
    }
  g_assert_cmpfloat (fabs (plain / n), <, 4.0 / sqrt (n));
  g_assert_cmpfloat (fabs (squares / n), <, 4.0 * 2.0 / sqrt (n)); /* the square of a normal has variance 2 */
}

static void
test_keys_make_streams (void)
{
  const guint64 keys[][2] = { { 1, 2 }, { 1, 3 }, { 2, 2 }, { 1, 2ull << 32 }, { 1ull << 32, 2 } };
  guint32 first[G_N_ELEMENTS (keys)];

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      NumRandom random;

      num_random_init (&random, keys[i][0], keys[i][1]);
      first[i] = num_random_word (&random);
      for (guint j = 0; j < i; j++)
        g_assert_cmphex (first[i], !=, first[j]);
    }
}

typedef double (*Draw) (NumRandom *random);
typedef double (*Lower) (double x);

static double
draw_gamma_small (NumRandom *random)
{
  return num_random_gamma (random, 0.4);
}

static double
lower_gamma_small (double x)
{
  return num_chi_square_lower (2.0 * x, 0.8);
}

static double
draw_chi_square (NumRandom *random)
{
  return num_random_chi_square (random, 7.0);
}

static double
lower_chi_square (double x)
{
  return num_chi_square_lower (x, 7.0);
}

static double
draw_beta (NumRandom *random)
{
  return num_random_beta (random, 0.5, 3.5);
}

static double
lower_beta (double x)
{
  return num_beta_lower (x, 0.5, 3.5);
}

static double
lower_exponential (double x)
{
  return -expm1 (-x);
}

static double
lower_uniform (double x)
{
  return x;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Kolmogorov and Smirnov's distance of 20,000 draws with a fixed key: 1.95/sqrt(n) is exceeded once in a thousand keys. */
static void
test_distributions (void)
{
  static const struct
  {
    const char *name;
    Draw draw;
    Lower lower;
  } kinds[] = {
    { "uniform", num_random_uniform, lower_uniform },
    { "normal", num_random_normal, num_normal_lower },
    { "exponential", num_random_exponential, lower_exponential },
    { "gamma below 1", draw_gamma_small, lower_gamma_small },
    { "chi-square", draw_chi_square, lower_chi_square },
    { "beta", draw_beta, lower_beta },
  };
  const guint n = 20000;
  g_autofree double *values = g_new (double, n);

  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      double most = 0.0;
      NumRandom random;

      num_random_init (&random, 2024, k);
      for (guint i = 0; i < n; i++)
        values[i] = kinds[k].draw (&random);
      qsort (values, n, sizeof *values, compare);
      for (guint i = 0; i < n; i++)
        {
          double p = kinds[k].lower (values[i]);

          most = MAX (most, MAX (p - i / (double) n, (i + 1) / (double) n - p));
        }
      g_test_message ("%s: distance %.4f", kinds[k].name, most);
      g_assert_cmpfloat (most, <, 1.95 / sqrt (n));
    }
}

static void
test_below_is_even (void)
{
  guint counts[7] = { 0 };
  double chi_square = 0.0;
  NumRandom random;

  num_random_init (&random, 5, 6);
  for (guint i = 0; i < 70000; i++)
    {
      guint32 value = num_random_below (&random, 7);

      g_assert_cmpuint (value, <, 7);
      counts[value]++;
    }
  for (guint i = 0; i < 7; i++)
    chi_square += (counts[i] - 10000.0) * (counts[i] - 10000.0) / 10000.0;
  g_assert_cmpfloat (num_chi_square_upper (chi_square, 6.0), >, 0.001);
  g_assert_cmpuint (num_random_below (&random, 1), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/random/agrees-with-known-answers", test_known_answers);
  g_test_add_func ("/numbers/random/a-draw-is-the-same-whatever-was-drawn-before", test_draws_stand_alone);
  g_test_add_func ("/numbers/random/nothing-is-carried-into-another-draw", test_nothing_is_carried);
  g_test_add_func ("/numbers/random/normals-of-a-draw-are-independent", test_normals_are_independent);
  g_test_add_func ("/numbers/random/each-key-has-its-own-stream", test_keys_make_streams);
  g_test_add_func ("/numbers/random/draws-follow-their-distributions", test_distributions);
  g_test_add_func ("/numbers/random/numbers-below-a-limit-are-even", test_below_is_even);
  return g_test_run ();
}
