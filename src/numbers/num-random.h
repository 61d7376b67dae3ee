/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

/*
 * A counter-based generator: Philox4x32-10 of Salmon, Moraes, Dror and Shaw 2011. Two keys of 64 bits name a stream,
 * for instance a book and a criterion; within it every draw has its own stretch of 2^32 blocks, so that the numbers of
 * draw i are the same whatever other draws were made, in whatever order, on however many threads.
 */
typedef struct
{
  uint32_t key[2];
  uint32_t counter[4]; /* block within the draw, draw, second key */
  uint32_t block[4];
  unsigned used;       /* words of @block already handed out */
} NumRandom;

void num_philox (const uint32_t counter[4], const uint32_t key[2], uint32_t out[4]);
void num_random_init (NumRandom *random, uint64_t key_high, uint64_t key_low);
void num_random_draw (NumRandom *random, uint32_t draw);
uint32_t num_random_word (NumRandom *random);
uint32_t num_random_below (NumRandom *random, uint32_t limit);
double num_random_uniform (NumRandom *random);
double num_random_exponential (NumRandom *random);
double num_random_normal (NumRandom *random);
double num_random_gamma (NumRandom *random, double shape);
double num_random_chi_square (NumRandom *random, double df);
double num_random_beta (NumRandom *random, double a, double b);
