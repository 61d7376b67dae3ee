/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The power law of reliability growth (Crow; MIL-HDBK-189, 1981, appendix C).
 *
 * Interval of the time between failures at the end. Time truncated: T/(n beta) times n^2/z^2, with z from P(N >= n) = half the
 * error for the upper end and P(N <= n) = half the error for the lower, where P(N = k) is proportional to z^(2k)/(k!(k-1)!):
 * conservative, as with counts. Failure truncated: times 4 n^2 over the quantiles of the product of two independent
 * chi-squares with 2(n-1) and 2n degrees of freedom: exact.
 */
#include "num-growth.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-order.h"
#include "num-solve.h"

#include <math.h>
#include <stdlib.h>

#define ACCURACY 1e-11

typedef struct
{
  double n;
  double half; /* of the error */
  bool upper;  /* which tail */
} Tail;

/* Sum of z^(2k)/(k!(k-1)!) over k from @from in steps of @step until nothing is added, in units of the term at @unit. */
static double
series (double log_z, double from, double step, double unit)
{
  double term = exp (2.0 * log_z * (from - unit) - num_gamma_function_log (from + 1.0) - num_gamma_function_log (from)
                     + num_gamma_function_log (unit + 1.0) + num_gamma_function_log (unit));
  double square = exp (2.0 * log_z);
  double sum = 0.0;

  for (double k = from; k >= 1.0; k += step) /* NOLINT(clang-analyzer-security.FloatLoopCounter): whole numbers are exact */
    {
      double ratio = step > 0.0 ? square / (k * (k + 1.0)) : k * (k - 1.0) / square;

      sum += term;
      term *= ratio;
      if (ratio < 1.0 && term < 1e-17 * sum) /* the terms have passed their peak */
        break;
    }
  return sum;
}

/* P(N >= n) or P(N <= n), less what is wanted, at z = exp (@log_z). */
static double
tail_excess (double log_z, void *data)
{
  const Tail *tail = data;
  double n = tail->n;
  double peak = fmax (1.0, floor (exp (log_z))); /* the largest term is near k = z; all others are taken in its units */
  double at_n = series (log_z, n, n >= peak ? 1.0 : -1.0, peak); /* the tail that falls away from n */
  double all = series (log_z, peak, 1.0, peak) + (peak > 1.0 ? series (log_z, peak - 1.0, -1.0, peak) : 0.0);
  double term_n = exp (2.0 * log_z * (n - peak) - num_gamma_function_log (n + 1.0) - num_gamma_function_log (n)
                       + num_gamma_function_log (peak + 1.0) + num_gamma_function_log (peak));
  bool have_upper = n >= peak;
  double p = at_n / all;

  if (have_upper != tail->upper)
    p = 1.0 - p + term_n / all;
  return tail->upper ? p - tail->half : tail->half - p;
}

static NumStatus
time_truncated_factor (Tail *tail, double *factor)
{
  double middle = log (tail->n);
  double spread = 12.0 / sqrt (tail->n) + 0.1;
  double log_z;
  NumStatus status = num_root (tail_excess, tail, middle - spread, middle + spread, ACCURACY, &log_z);

  for (int i = 0; status == NUM_NO_SOLUTION && i < 8; i++)
    {
      spread *= 2.0;
      status = num_root (tail_excess, tail, middle - spread, middle + spread, ACCURACY, &log_z);
    }
  *factor = exp (2.0 * (middle - log_z));
  return status;
}

typedef struct
{
  double df_one;
  double df_two;
  double log_product;
  double p;
} Product;

/* Over the logarithm of the second chi-square. */
static double
product_slice (double log_y, void *data)
{
  const Product *x = data;
  double y = exp (log_y);

  return num_chi_square_lower (exp (x->log_product - log_y), x->df_one) * num_chi_square_density (y, x->df_two) * y;
}

static double
product_excess (double log_product, void *data)
{
  Product *x = data;
  double centre = log (x->df_two);
  double reach = 12.0 * sqrt (2.0 / x->df_two);
  double left, right;

  x->log_product = log_product;
  if (num_integrate (product_slice, x, centre - 4.0 * reach, centre, 1e-13, 1e-11, &left) != NUM_OK
      || num_integrate (product_slice, x, centre, centre + reach, 1e-13, 1e-11, &right) != NUM_OK)
    return NAN;
  return left + right - x->p;
}

static NumStatus
failure_truncated_factor (double n, double p, double *factor)
{
  Product x = { 2.0 * (n - 1.0), 2.0 * n, 0.0, p };
  double middle = log (x.df_one) + log (x.df_two);
  double spread = 8.0 * sqrt (2.0 / x.df_one + 2.0 / x.df_two);
  double log_product;
  NumStatus status = num_root (product_excess, &x, middle - 2.0 * spread, middle + spread, ACCURACY, &log_product);

  *factor = exp (log (4.0 * n * n) - log_product);
  return status;
}

static NumStatus
interval_of (size_t n, double end, double beta, bool failure_truncated, double confidence, NumInterval *out)
{
  double count = (double) n;
  double half = 0.5 * (1.0 - confidence);
  double low, high;
  NumStatus status;

  if (failure_truncated)
    {
      status = failure_truncated_factor (count, 1.0 - half, &low);
      if (status == NUM_OK)
        status = failure_truncated_factor (count, half, &high);
    }
  else
    {
      Tail upper = { count, half, true };
      Tail lower = { count, half, false };

      status = time_truncated_factor (&lower, &low);
      if (status == NUM_OK)
        status = time_truncated_factor (&upper, &high);
    }
  if (status == NUM_OK)
    *out = (NumInterval){ end / (count * beta) * low, end / (count * beta) * high };
  return status == NUM_NO_SOLUTION ? NUM_NO_CONVERGENCE : status;
}

/* The statistic against the fitted law, over the failures before the end. */
static double
cramer_von_mises (const double *sorted, size_t m, double end, double beta)
{
  double count = (double) m;
  double sum = 1.0 / (12.0 * count);

  for (size_t i = 0; i < m; i++)
    {
      double d = pow (sorted[i] / end, beta) - (2.0 * (double) i + 1.0) / (2.0 * count);

      sum += d * d;
    }
  return sum;
}

/**
 * num_growth:
 * @times: (array length=n): cumulative times of the failures, above 0, not after the end
 * @n: at least 2; failure truncated at least 3
 * @end: when the test ended; failure truncated: the last time
 * @failure_truncated: whether the test ended with a failure
 * @confidence: two-sided, in (0, 1)
 * @out: (out): the fit
 *
 * beta = n / sum of ln(T/t); unbiased times (n-1)/n, failure truncated (n-2)/n; lambda = n/T^beta; mtbf at T = T/(n
 * beta_unbiased) (NIST/SEMATECH e-Handbook 8.4.5.2); cvm with the unbiased beta over n, failure truncated n-1, times
 * (MIL-HDBK-189). Interval: see the top of this file.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW; %NUM_BAD_INPUT; %NUM_NO_VARIATION when all times are the end; %NUM_NO_CONVERGENCE;
 * %NUM_NO_MEMORY
 */
NumStatus
num_growth (const double *times, size_t n, double end, bool failure_truncated, double confidence, NumGrowth *out)
{
  double count = (double) n;
  double *sorted;
  long double sum = 0.0L;
  NumStatus status;

  *out = (NumGrowth){ NAN, NAN, NAN, NAN, { NAN, NAN }, NAN };
  if (n < (failure_truncated ? 3 : 2))
    return NUM_TOO_FEW;
  if (!(confidence > 0.0 && confidence < 1.0) || !isfinite (end) || !num_all_finite (times, n))
    return NUM_BAD_INPUT;
  status = num_sorted_copy (times, n, &sorted);
  if (status != NUM_OK)
    return status;
  for (size_t i = 0; i < n; i++)
    sum += logl ((long double) end / sorted[i]);
  if (!(sorted[0] > 0.0) || sorted[n - 1] > end || (failure_truncated && sorted[n - 1] != end))
    status = NUM_BAD_INPUT;
  else if (!(sum > 0.0L))
    status = NUM_NO_VARIATION;
  if (status == NUM_OK)
    {
      out->beta = (double) (count / sum);
      out->beta_unbiased = out->beta * (count - (failure_truncated ? 2.0 : 1.0)) / count;
      out->lambda = count / pow (end, out->beta);
      out->mtbf = end / (count * out->beta_unbiased);
      out->cvm = cramer_von_mises (sorted, failure_truncated ? n - 1 : n, end, out->beta_unbiased);
      status = interval_of (n, end, out->beta, failure_truncated, confidence, &out->mtbf_interval);
    }
  free (sorted);
  return status;
}
