/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Constants and signals of control charts, and the chart of single values. */
#include "num-control.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-solve.h"

#include <math.h>
#include <stdlib.h>

/* A deviation this little over a limit is rounding: a point on a limit gives no signal. */
#define EDGE 1e-11

static double
range_tail (double w, void *data)
{
  return num_range_upper (w, *(const double *) data);
}

static double
range_tail_moment (double w, void *data)
{
  return 2.0 * w * num_range_upper (w, *(const double *) data);
}

/* A range of normal values that is exceeded with a chance below 1e-16, up to a billion values. */
static double
range_end (double size)
{
  return 2.0 * sqrt (2.0 * log (size)) + 10.0;
}

/**
 * num_range_mean:
 * @size: values in a group, at least 2
 *
 * Returns: d2, the mean range of that many standard normal values: the integral of the chance to exceed w
 */
double
num_range_mean (size_t size)
{
  double count = (double) size;
  double d2;

  if (size == 2)
    return M_2_SQRTPI;
  return num_integrate (range_tail, &count, 0.0, range_end (count), 0.0, 1e-9, &d2) == NUM_OK ? d2 : nan ("");
}

/**
 * num_range_sd:
 * @size: values in a group, at least 2
 *
 * Returns: d3, the standard deviation of that range: its second moment is the integral of 2 w times the chance to exceed w
 */
double
num_range_sd (size_t size)
{
  double count = (double) size;
  double d2 = num_range_mean (size);
  double second;

  if (size == 2)
    return sqrt (2.0 - 4.0 * M_1_PI);
  return num_integrate (range_tail_moment, &count, 0.0, range_end (count), 0.0, 1e-9, &second) == NUM_OK
             ? sqrt (second - d2 * d2)
             : nan ("");
}

/**
 * num_deviation_mean:
 * @size: values in a group, at least 2
 *
 * Returns: c4 = sqrt(2/(size-1)) Gamma(size/2)/Gamma((size-1)/2), the mean deviation of standard normal values
 */
double
num_deviation_mean (size_t size)
{
  double count = (double) size;

  return sqrt (2.0 / (count - 1.0))
         * exp (num_gamma_function_log (0.5 * count) - num_gamma_function_log (0.5 * (count - 1.0)));
}

/**
 * num_moving_range:
 * @values: (array length=n): values in order
 * @n: at least 2
 *
 * Returns: the mean absolute difference of neighbours
 */
double
num_moving_range (const double *values, size_t n)
{
  long double sum = 0.0L;

  for (size_t i = 1; i < n; i++)
    sum += fabsl ((long double) values[i] - values[i - 1]);
  return n > 1 ? (double) (sum / (long double) (n - 1)) : nan ("");
}

/* How many of the last @count points up to @at lie beyond @limit on the side of point @at; 0 when that one does not. */
static size_t
beyond (const double *z, size_t at, size_t count, double limit)
{
  double side = z[at] > 0.0 ? 1.0 : -1.0;
  size_t found = 0;

  if (at + 1 < count || !(side * z[at] > limit + EDGE))
    return 0;
  for (size_t i = at + 1 - count; i <= at; i++)
    found += side * z[i] > limit + EDGE;
  return found;
}

static bool
trend (const double *z, size_t at)
{
  bool rising = true;
  bool falling = true;

  if (at < 5)
    return false;
  for (size_t i = at - 4; i <= at; i++)
    {
      rising = rising && z[i] > z[i - 1];
      falling = falling && z[i] < z[i - 1];
    }
  return rising || falling;
}

/**
 * num_signals:
 * @z: (array length=n): points in deviations from the centre line, in order
 * @n: their number
 * @rules: bits of the rules to look for
 * @out: (out) (array): room for %NUM_SIGNALS_A_POINT times @n signals
 *
 * Nelson 1984, Journal of Quality Technology 16, 237-239: 1 a point beyond 3 deviations; 2 nine in a row on one side; 3 six
 * in a row rising or falling; 5 two of three beyond 2 on one side, the last among them; 6 four of five beyond 1 on one side,
 * the last among them. Strict; given at every point at which a pattern is complete, by point, then rule.
 *
 * Returns: the number of signals
 */
size_t
num_signals (const double *z, size_t n, unsigned rules, NumSignal *out)
{
  size_t count = 0;

  for (size_t i = 0; i < n; i++)
    {
      const bool complete[7] = {
        [1] = beyond (z, i, 1, 3.0) == 1, [2] = beyond (z, i, 9, 0.0) == 9, [3] = trend (z, i),
        [5] = beyond (z, i, 3, 2.0) >= 2, [6] = beyond (z, i, 5, 1.0) >= 4,
      };

      for (unsigned rule = 1; rule < 7; rule++)
        if (complete[rule] && (rules & (1u << rule)))
          out[count++] = (NumSignal){ i, rule };
    }
  return count;
}

/**
 * num_individuals:
 * @values: (array length=n): finite values in order
 * @n: at least 2
 * @out: (out): centre line and limits
 * @signals: (out) (array): room for %NUM_SIGNALS_A_POINT times @n signals
 * @signal_count: (out): their number
 *
 * Limits mean ± 3 mr_bar/d2, upper limit of the moving range mr_bar (1 + 3 d3/d2), d2 and d3 of two values (NIST/SEMATECH
 * e-Handbook 6.3.2.2). Without variation there is no signal.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_individuals (const double *values, size_t n, NumIndividuals *out, NumSignal *signals, size_t *signal_count)
{
  double d2 = num_range_mean (2);
  NumMoments moments;
  NumStatus status;
  double sd;

  *out = (NumIndividuals){ NAN, NAN, NAN, NAN, NAN };
  *signal_count = 0;
  if (n < 2)
    return NUM_TOO_FEW;
  status = num_moments (values, n, &moments);
  if (status != NUM_OK)
    return status;
  out->mean = moments.mean;
  out->mr_bar = num_moving_range (values, n);
  sd = out->mr_bar / d2;
  out->lower = out->mean - 3.0 * sd;
  out->upper = out->mean + 3.0 * sd;
  out->mr_upper = out->mr_bar * (1.0 + 3.0 * num_range_sd (2) / d2);
  if (sd > 0.0)
    {
      double *z = calloc (n, sizeof *z);

      if (z == NULL)
        return NUM_NO_MEMORY;
      for (size_t i = 0; i < n; i++)
        z[i] = (values[i] - out->mean) / sd;
      *signal_count = num_signals (z, n, NUM_RULES_ALL, signals);
      free (z);
    }
  return NUM_OK;
}
