/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Philox4x32-10: a block of four words is a keyed mixing of a counter of four words, so that there is no state to carry
 * from one draw to the next. Salmon, Moraes, Dror and Shaw 2011, Parallel random numbers: as easy as 1, 2, 3 (SC11).
 */
#include "num-random.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

#define ROUNDS 10
#define MULTIPLIER_0 0xD2511F53u
#define MULTIPLIER_1 0xCD9E8D57u
#define WEYL_0 0x9E3779B9u /* golden ratio */
#define WEYL_1 0xBB67AE85u /* square root of 3, less 1 */

/**
 * num_philox:
 * @counter: counter of 128 bits, least word first
 * @key: key of 64 bits
 * @out: (out): 128 random bits
 *
 * The bare bijection, ten rounds, for the known-answer tests.
 */
void
num_philox (const uint32_t counter[4], const uint32_t key[2], uint32_t out[4])
{
  uint32_t c0 = counter[0];
  uint32_t c1 = counter[1];
  uint32_t c2 = counter[2];
  uint32_t c3 = counter[3];
  uint32_t k0 = key[0];
  uint32_t k1 = key[1];

  for (int i = 0; i < ROUNDS; i++)
    {
      uint64_t left = (uint64_t) MULTIPLIER_0 * c0;
      uint64_t right = (uint64_t) MULTIPLIER_1 * c2;
      uint32_t new_0 = (uint32_t) (right >> 32) ^ c1 ^ k0;
      uint32_t new_2 = (uint32_t) (left >> 32) ^ c3 ^ k1;

      c1 = (uint32_t) right;
      c3 = (uint32_t) left;
      c0 = new_0;
      c2 = new_2;
      k0 += WEYL_0;
      k1 += WEYL_1;
    }
  out[0] = c0;
  out[1] = c1;
  out[2] = c2;
  out[3] = c3;
}

/**
 * num_random_init:
 * @random: (out caller-allocates): the generator
 * @key_high: for instance of the book
 * @key_low: for instance of the criterion
 *
 * Stands at the beginning of draw 0. Other keys give other streams; the same keys give the same stream on every machine.
 */
void
num_random_init (NumRandom *random, uint64_t key_high, uint64_t key_low)
{
  *random = (NumRandom){
    .key = { (uint32_t) key_high, (uint32_t) (key_high >> 32) },
    .counter = { 0, 0, (uint32_t) key_low, (uint32_t) (key_low >> 32) },
    .used = 4,
  };
}

/**
 * num_random_draw:
 * @random: the generator
 * @draw: number of a draw
 *
 * Moves to the beginning of a draw.
 */
void
num_random_draw (NumRandom *random, uint32_t draw)
{
  random->counter[0] = 0;
  random->counter[1] = draw;
  random->used = 4;
}

uint32_t
num_random_word (NumRandom *random)
{
  if (random->used == 4)
    {
      num_philox (random->counter, random->key, random->block);
      random->counter[0]++;
      random->used = 0;
    }
  return random->block[random->used++];
}

/**
 * num_random_below:
 * @random: the generator
 * @limit: at least 1
 *
 * Returns: a whole number from 0 to @limit - 1, each as likely as the others (Lemire 2019, with rejection)
 */
uint32_t
num_random_below (NumRandom *random, uint32_t limit)
{
  uint64_t product = (uint64_t) num_random_word (random) * limit;

  if ((uint32_t) product < limit)
    {
      uint32_t threshold = (uint32_t) (-limit) % limit;

      while ((uint32_t) product < threshold)
        product = (uint64_t) num_random_word (random) * limit;
    }
  return (uint32_t) (product >> 32);
}

/**
 * num_random_uniform:
 * @random: the generator
 *
 * Returns: a number strictly between 0 and 1, the middle of one of 2^52 equal cells
 */
double
num_random_uniform (NumRandom *random)
{
  uint64_t high = num_random_word (random);
  uint64_t bits = (high << 20) | (num_random_word (random) >> 12);

  return ((double) bits + 0.5) * 0x1p-52;
}

double
num_random_exponential (NumRandom *random)
{
  return -log (num_random_uniform (random));
}

/* ---- as GSL takes a generator ---- */

static unsigned long
gsl_word (void *state)
{
  return num_random_word (state);
}

/* The middles of 2^32 cells: never 0, which GSL's gamma would refuse and draw again. */
static double
gsl_number (void *state)
{
  return ((double) num_random_word (state) + 0.5) * 0x1p-32;
}

static const gsl_rng_type philox_type = { .name = "philox4x32-10", .max = 0xffffffffu, .size = sizeof (NumRandom),
                                          .get = gsl_word, .get_double = gsl_number };

/* Standard normal by GSL's ziggurat (Marsaglia and Tsang 2000), mostly of one word. */
double
num_random_normal (NumRandom *random)
{
  const gsl_rng words = { &philox_type, random };

  return gsl_ran_gaussian_ziggurat (&words, 1.0);
}

/**
 * num_random_gamma:
 * @random: the generator
 * @shape: above 0
 *
 * Gamma of scale 1 by GSL (Marsaglia and Tsang 2000); below shape 1 by their power of a uniform number.
 *
 * Returns: a number above 0, or 0 where it is too small for a double
 */
double
num_random_gamma (NumRandom *random, double shape)
{
  const gsl_rng words = { &philox_type, random };

  return gsl_ran_gamma (&words, shape, 1.0);
}

double
num_random_chi_square (NumRandom *random, double df)
{
  return 2.0 * num_random_gamma (random, 0.5 * df);
}

/**
 * num_random_beta:
 * @random: the generator
 * @a: above 0
 * @b: above 0
 *
 * Returns: a number in [0, 1], from two gammas
 */
double
num_random_beta (NumRandom *random, double a, double b)
{
  double x = num_random_gamma (random, a);
  double y = num_random_gamma (random, b);

  return x + y > 0.0 ? x / (x + y) : a / (a + b);
}
