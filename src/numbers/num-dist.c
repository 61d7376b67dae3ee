/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Distribution functions, by libRmath. Its warnings about lost precision go to standard output: a program that writes
 * results there moves its descriptor first.
 */
#include "num-dist.h"

#include "num-solve.h"

#define MATHLIB_STANDALONE 1
#include <Rmath.h>

#include <math.h>
#include <pthread.h>

#define LOWER 1
#define UPPER 0
#define PLAIN 0
#define LOGARITHM 1

/* Largest noncentrality at which libRmath's pnt() sums the series; above it answers with a normal approximation. */
#define NONCENTRALITY_MOST 37.62
/* The series' absolute error is about 1e-12, so that a smaller probability keeps no digits; the integral does. */
#define SERIES_LEAST 1e-5
/*
 * From so many degrees of freedom and up to such a t the integrand is even enough for a fixed rule, in a quarter of the
 * steps of the adaptive one. Against that, relative differences are below 1e-10 down to a probability of 1e-7, and below
 * 1e-9 down to 1e-13.
 */
#define EVEN_LEAST 30.0
#define EVEN_MOST 8.0 /* of t over the root of the degrees of freedom */
#define T_MOST 1e100 /* beyond, its square overflows, and the probability is 0 or 1 */

double
num_normal_density (double z)
{
  return dnorm4 (z, 0.0, 1.0, PLAIN);
}

double
num_normal_lower (double z)
{
  return pnorm5 (z, 0.0, 1.0, LOWER, PLAIN);
}

double
num_normal_upper (double z)
{
  return pnorm5 (z, 0.0, 1.0, UPPER, PLAIN);
}

/**
 * num_normal_between:
 * @low: lower end, may be -INFINITY
 * @high: upper end, at least @low, may be INFINITY
 *
 * Returns: the standard normal probability between the ends, subtracted on the side where the tails are small
 */
double
num_normal_between (double low, double high)
{
  if (low > 0.0)
    return num_normal_upper (low) - num_normal_upper (high);
  return num_normal_lower (high) - num_normal_lower (low);
}

/* The logarithm of num_normal_lower(), which does not vanish far out. */
double
num_normal_lower_log (double z)
{
  return pnorm5 (z, 0.0, 1.0, LOWER, LOGARITHM);
}

double
num_normal_quantile (double p)
{
  return qnorm5 (p, 0.0, 1.0, LOWER, PLAIN);
}

double
num_t_lower (double t, double df)
{
  return pt (t, df, LOWER, PLAIN);
}

double
num_t_upper (double t, double df)
{
  return pt (t, df, UPPER, PLAIN);
}

double
num_t_quantile (double p, double df)
{
  return qt (p, df, LOWER, PLAIN);
}

typedef struct
{
  double t;
  double df;
  double ncp;
} NoncentralT;

/* Chance of a noncentral t below t given u = sqrt (chi-square / df), times the density of u. */
static double
noncentral_t_slice (double u, void *data)
{
  const NoncentralT *x = data;

  return num_normal_lower (x->t * u - x->ncp) * 2.0 * x->df * u * num_chi_square_density (x->df * u * u, x->df);
}

static double
by_gauss (NoncentralT *x, double from, double to)
{
  double nodes[NUM_GAUSS_NODES];
  double weights[NUM_GAUSS_NODES];
  double sum = 0.0;

  num_gauss_nodes (from, to, nodes, weights);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    sum += weights[i] * noncentral_t_slice (nodes[i], x);
  return sum;
}

static double
noncentral_t_integral (double t, double df, double ncp)
{
  NoncentralT x = { .t = t, .df = df, .ncp = ncp };
  double reach = 12.0 / sqrt (2.0 * df); /* u is close to normal with deviation 1/sqrt(2 df); its tails are lighter */
  double from = fmax (0.0, 1.0 - reach);
  double to = 1.0 + reach;
  double edge = ncp / t; /* where the normal chance turns from 0 to 1, over a width of 1/t */
  double left = 0.0;
  double right = 0.0;

  if (!(edge > from && edge < to))
    edge = 1.0;
  if (df >= EVEN_LEAST && t > 0.0 && t <= EVEN_MOST * sqrt (df))
    return fmin (1.0, by_gauss (&x, from, edge) + by_gauss (&x, edge, to));
  if (num_integrate (noncentral_t_slice, &x, from, edge, 0.0, 1e-11, &left) != NUM_OK
      || num_integrate (noncentral_t_slice, &x, edge, to, 0.0, 1e-11, &right) != NUM_OK)
    return NAN;
  return fmin (1.0, left + right);
}

/**
 * num_noncentral_t_lower:
 * @t: any value
 * @df: degrees of freedom, above 0
 * @ncp: noncentrality, any finite value
 *
 * Probability that a noncentral t lies at or below @t: by the series of libRmath where it is exact, else as the integral
 * of Phi(t u - ncp) over the density of u = sqrt(chi-square/df).
 *
 * Returns: the probability, NAN if an argument is out of range
 */
double
num_noncentral_t_lower (double t, double df, double ncp)
{
  double p;

  if (isnan (t) || !(df > 0.0) || !isfinite (ncp))
    return NAN;
  if (fabs (t) > T_MOST)
    return t > 0.0 ? 1.0 : 0.0;
  if (fabs (ncp) > NONCENTRALITY_MOST)
    return noncentral_t_integral (t, df, ncp);
  /* Near 1 pnt() prints a warning to the standard output when it is asked for the larger tail, and only then. */
  p = t >= 0.0 ? 1.0 - pnt (t, df, ncp, UPPER, PLAIN) : pnt (t, df, ncp, LOWER, PLAIN);
  return p < SERIES_LEAST ? noncentral_t_integral (t, df, ncp) : p;
}

double
num_chi_square_density (double x, double df)
{
  return dchisq (x, df, PLAIN);
}

double
num_chi_square_lower (double x, double df)
{
  return pchisq (x, df, LOWER, PLAIN);
}

double
num_chi_square_upper (double x, double df)
{
  return pchisq (x, df, UPPER, PLAIN);
}

double
num_chi_square_quantile (double p, double df)
{
  return qchisq (p, df, LOWER, PLAIN);
}

double
num_f_lower (double f, double df_above, double df_below)
{
  return pf (f, df_above, df_below, LOWER, PLAIN);
}

double
num_f_upper (double f, double df_above, double df_below)
{
  return pf (f, df_above, df_below, UPPER, PLAIN);
}

double
num_beta_lower (double x, double a, double b)
{
  return pbeta (x, a, b, LOWER, PLAIN);
}

double
num_beta_upper (double x, double a, double b)
{
  return pbeta (x, a, b, UPPER, PLAIN);
}

/* The logarithm of num_beta_lower(), which does not vanish where the probability would. */
double
num_beta_lower_log (double x, double a, double b)
{
  return pbeta (x, a, b, LOWER, LOGARITHM);
}

double
num_beta_quantile (double p, double a, double b)
{
  return qbeta (p, a, b, LOWER, PLAIN);
}

/* The value above which @p of a beta lies; loses nothing for a small @p. */
double
num_beta_quantile_upper (double p, double a, double b)
{
  return qbeta (p, a, b, UPPER, PLAIN);
}

double
num_beta_function_log (double a, double b)
{
  return lbeta (a, b);
}

/* Thread-safe, unlike the C library's lgamma(). */
double
num_gamma_function_log (double x)
{
  return lgammafn (x);
}

/**
 * num_binomial_lower:
 * @k: a count
 * @n: trials
 * @share: chance of each
 *
 * Returns: P(X <= k)
 */
double
num_binomial_lower (double k, double n, double share)
{
  return pbinom (k, n, share, LOWER, PLAIN);
}

/**
 * num_binomial_upper:
 * @k: a count
 * @n: trials
 * @share: chance of each
 *
 * Returns: P(X > k), without the digits that 1 - P(X <= k) would lose
 */
double
num_binomial_upper (double k, double n, double share)
{
  return pbinom (k, n, share, UPPER, PLAIN);
}

/* Chance of exactly @k marked among @drawn, without replacement. */
double
num_hypergeometric (double k, double marked, double unmarked, double drawn)
{
  return dhyper (k, marked, unmarked, drawn, PLAIN);
}

/* Chance of at most @k marked among @drawn, without replacement. */
double
num_hypergeometric_lower (double k, double marked, double unmarked, double drawn)
{
  return phyper (k, marked, unmarked, drawn, LOWER, PLAIN);
}

/* Chance that the range of @size standard normal values exceeds @range. */
double
num_range_upper (double range, double size)
{
  return ptukey (range, 1.0, size, INFINITY, UPPER, PLAIN);
}

/**
 * num_rank_sum_lower:
 * @u: Mann and Whitney's statistic
 * @m: size of one sample, below 50
 * @n: size of the other, below 50
 *
 * libRmath keeps its table of counts in global memory; it is filled, read and freed under one lock.
 *
 * Returns: P(U <= u) when both samples come from one population without ties
 */
double
num_rank_sum_lower (double u, double m, double n)
{
  static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
  double p;

  if (!(m >= 1.0 && m < 50.0 && n >= 1.0 && n < 50.0))
    return NAN;
  pthread_mutex_lock (&lock);
  p = pwilcox (u, m, n, LOWER, PLAIN);
  wilcox_free ();
  pthread_mutex_unlock (&lock);
  return p;
}
