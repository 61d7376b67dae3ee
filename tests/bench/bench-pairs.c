/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench-pairs.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

#define CALIBRATION_STEPS 1000000 /* tests/bench/run knows how long they take on the machine that the limits are of */
#define CALIBRATION_WORDS 65536   /* half a megabyte: more than the first cache, less than the last */

static volatile double used;

void
bench_use (double value)
{
  used = value;
}

static double
read_clock (clockid_t clock)
{
  struct timespec now;

  clock_gettime (clock, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

/* Seconds from some fixed moment. */
double
bench_now (void)
{
  return read_clock (CLOCK_MONOTONIC);
}

/* Seconds that this program computed, in all its threads. */
double
bench_computed (void)
{
  return read_clock (CLOCK_PROCESS_CPUTIME_ID);
}

/* The same, in all threads but the one that asks. */
double
bench_computed_beside (void)
{
  return read_clock (CLOCK_PROCESS_CPUTIME_ID) - read_clock (CLOCK_THREAD_CPUTIME_ID);
}

/* Whole numbers, floating point and memory, each step dependent on the one before: as fast as the machine is just now. */
void
bench_calibration (gpointer data)
{
  static double table[CALIBRATION_WORDS];
  guint64 state = 1;
  double sum = 0.0;

  for (guint i = 0; i < CALIBRATION_STEPS; i++)
    {
      state = state * 6364136223846793005u + 1442695040888963407u;
      table[(state >> 40) % CALIBRATION_WORDS] += sum;
      sum = sqrt (1.0 + 0.5 * sum) + table[(state >> 20) % CALIBRATION_WORDS] * 1e-12;
    }
  bench_use (sum);
}

static double
time_of (BenchSide side, guint times, gpointer data)
{
  double start = bench_computed ();

  for (guint i = 0; i < times; i++)
    side (data);
  return (bench_computed () - start) / times;
}

/*
 * Each side is run once before, so that neither pays for what is done only once. For sides that only compute, or read what
 * the system has in memory: other programs on the machine, which would strike the longer side, are left out.
 */
void
bench_pairs (BenchSide left, guint left_times, BenchSide right, guint right_times, gpointer data)
{
  left (data);
  right (data);
  for (guint i = 0; i < BENCH_PAIRS; i++)
    {
      double first = time_of (left, left_times, data);

      printf ("%.9f %.9f\n", first, time_of (right, right_times, data));
    }
}
