/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Confidence in a normal population's share inside two limits.
 *
 * Method. In sample deviations: h is half the distance of the limits, g that of the mean to its nearer limit. For a given
 * sigma the share missed is at most `miss` while the population mean keeps a distance of at least y h from the nearer
 * limit, where Q(y/s) + Q((2-y)/s) = miss, s = sigma/h, Q the upper normal tail. The population mean is normal around the
 * sample's with deviation sigma/sqrt(n), and v = (n-1)/sigma^2 is chi-square. Integrating over sigma would meet a root-like
 * end where y = 1 (the limits just wide enough); so the integral runs over ln y, in which s(y) is smooth:
 *
 *   confidence = integral of [Phi(u) - Phi(-w)] f(v) 2 v |s'(y)/s| y dlny,  u = (g - y h) sqrt(n)/sigma,
 *                                                                           w = (2h - g - y h) sqrt(n)/sigma.
 *
 * Its range is cut where the chi-square density vanishes and, at small y, where the bracket is 1: there the chi-square
 * tail is the answer. Bounds for s, y/z2 <= s <= y/z1 with Q(z1) = miss and Q(z2) = miss/2, give the cuts without roots.
 */
#include "num-normal-share.h"

#include "num-dist.h"
#include "num-solve.h"

#include <math.h>

#define REACH 8.3        /* deviations beyond which a normal tail is below 1e-16 */
#define FAR 1e10         /* a limit farther off than this, in deviations, is none */
#define MISS_SMOOTH 0.4  /* above it y need not fall with s, and the integral runs over sigma */
#define Z_MOST 37.5       /* the tail beyond is still a number */
#define ACCURACY 1e-12

/**
 * num_normal_share_between:
 * @lower_z: lower limit in deviations from the mean, may be -INFINITY
 * @upper_z: upper limit, may be INFINITY
 *
 * Returns: the share of a normal population between them
 */
double
num_normal_share_between (double lower_z, double upper_z)
{
  return num_normal_between (lower_z, upper_z);
}

typedef struct
{
  double df;
  double root_n;
  double h;
  double g;
  double miss;
  double z1;
  double z2;
} Limits;

/* A value that a chi-square variable exceeds, or falls below, with a chance under 1e-17 (Wilson and Hilferty 1931). */
static double
chi_square_edge (double df, double z)
{
  double part = 2.0 / (9.0 * df);
  double root = 1.0 - part + z * sqrt (part);

  return root > 0.0 ? df * root * root * root : 0.0;
}

/* s' / s by y, at given y, for a = y w and b = (2 - y) w, w = 1/s. */
static double
relative_slope (double w, double a, double b)
{
  double ratio = exp (0.5 * (a - b) * (a + b)); /* density at b over density at a */

  return w * (1.0 - ratio) / (a + b * ratio);
}

/* Solves Q(y w) + Q((2-y) w) = miss for w, upward from a guess. The left side is convex and falls, so that Newton's
 * steps from the left never overshoot, and one from the right lands on the left. */
static double
solve_w (double y, double miss, double guess)
{
  double w = guess;

  for (int i = 0; i < 40; i++)
    {
      double a = y * w;
      double b = (2.0 - y) * w;
      double excess = num_normal_upper (a) + num_normal_upper (b) - miss;
      double slope = y * num_normal_density (a) + (2.0 - y) * num_normal_density (b);
      double step = excess / slope;

      w += step;
      if (!(fabs (step) > 1e-13 * w))
        break;
    }
  return w;
}

/* The integral over ln y, by 64 nodes; coverage of 0.6 or more. */
static double
smooth_confidence (const Limits *x)
{
  double least_s = sqrt (x->df / chi_square_edge (x->df, 9.0)) / x->h;
  double most_s = sqrt (x->df / chi_square_edge (x->df, -9.0)) / x->h; /* INFINITY for few degrees of freedom */
  double from = x->z1 * least_s;
  double to = fmin (1.0, x->z2 * most_s);
  double sum = 0.0;
  double t[NUM_GAUSS_NODES];
  double weight[NUM_GAUSS_NODES];
  double w, slope = 0.0, before = 0.0;

  if (x->g > 0.0)
    {
      double certain = x->z1 * x->g / (x->h * (x->z1 + REACH / x->root_n));

      if (certain >= to)
        return to < 1.0 ? 1.0 : num_chi_square_upper (x->df * (x->z2 / x->h) * (x->z2 / x->h), x->df);
      if (certain > from)
        {
          from = certain;
          w = solve_w (from, x->miss, x->z1 / from);
          sum = num_chi_square_upper (x->df * (w / x->h) * (w / x->h), x->df);
        }
    }
  if (x->root_n * x->z1 > REACH)
    to = fmin (to, x->g / (x->h * (1.0 - REACH / (x->root_n * x->z1))));
  if (!(from < to))
    return sum;

  num_gauss_nodes (log (from), log (to), t, weight);
  w = 0.0;
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      double y = exp (t[i]);
      double lowest = x->z1 / y;
      double guess = w > 0.0 ? w * exp (-slope * (y - before)) : lowest;
      double v, near, other;

      w = solve_w (y, x->miss, fmax (guess, lowest));
      slope = relative_slope (w, y * w, (2.0 - y) * w);
      before = y;
      v = x->df * (w / x->h) * (w / x->h);
      near = (x->g / x->h - y) * w * x->root_n;
      other = (2.0 - x->g / x->h - y) * w * x->root_n;
      sum += weight[i] * num_normal_between (-other, near) * num_chi_square_density (v, x->df) * 2.0 * v * slope * y;
    }
  return sum;
}

typedef struct
{
  const Limits *limits;
  double sigma;
} AtSigma;

/* Share missed beyond what is tolerated when the population mean lies off the middle by d. */
static double
missed_excess (double d, void *data)
{
  const AtSigma *x = data;

  return num_normal_upper ((x->limits->h - d) / x->sigma) + num_normal_upper ((x->limits->h + d) / x->sigma)
         - x->limits->miss;
}

/* The integrand over angle: sigma = most sin(angle), which takes the root-like end at the largest sigma away. */
typedef struct
{
  const Limits *limits;
  double most;
} Angles;

static double
angle_slice (double angle, void *data)
{
  const Angles *angles = data;
  const Limits *x = angles->limits;
  double sigma = angles->most * sin (angle);
  AtSigma at = { x, sigma };
  double middle = x->h - x->g; /* distance of the sample mean from the middle */
  double v, d;

  if (!(sigma > 0.0))
    return 0.0;
  v = x->df / (sigma * sigma);
  if (num_root (missed_excess, &at, 0.0, x->h + fabs (x->z1) * sigma + sigma, ACCURACY, &d) != NUM_OK)
    d = 0.0; /* only at the very end, where rounding hides the sign */
  return num_normal_between ((-d - middle) * x->root_n / sigma, (d - middle) * x->root_n / sigma)
         * num_chi_square_density (v, x->df) * 2.0 * v / sigma * angles->most * cos (angle);
}

/* For coverages below 0.6: adaptive, over sigma. */
static NumStatus
adaptive_confidence (const Limits *x, double *confidence)
{
  double widest = x->h / x->z2;
  Angles angles = { x, widest };
  double from = sqrt (x->df / chi_square_edge (x->df, 9.0));
  double to = fmin (widest, sqrt (x->df / chi_square_edge (x->df, -9.0)));
  double middle = fmin (to, fmax (from, 1.0)); /* where the density of sigma is large */
  double left, right;
  NumStatus status;

  if (!(from < to))
    {
      *confidence = 0.0;
      return NUM_OK;
    }
  status = num_integrate (angle_slice, &angles, asin (from / widest), asin (middle / widest), 1e-11, 1e-9, &left);
  if (status == NUM_OK)
    status = num_integrate (angle_slice, &angles, asin (middle / widest), asin (to / widest), 1e-11, 1e-9, &right);
  if (status == NUM_OK)
    *confidence = left + right;
  return status;
}

/**
 * num_normal_share_confidence:
 * @n: sample size, at least 2
 * @to_lower: distance to the lower limit in deviations, INFINITY for none
 * @to_upper: distance to the upper limit in deviations, INFINITY for none; their sum above 0
 * @miss: share tolerated outside, in (0, 1)
 * @confidence: (out): that the share outside is at most @miss
 *
 * Returns: %NUM_OK; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_normal_share_confidence (size_t n, double to_lower, double to_upper, double miss, double *confidence)
{
  Limits x = { .df = (double) n - 1.0, .root_n = sqrt ((double) n), .miss = miss };
  NumStatus status = NUM_OK;

  x.h = 0.5 * (to_lower + to_upper);
  x.g = fmin (to_lower, to_upper);
  x.z1 = -num_normal_quantile (miss);
  x.z2 = -num_normal_quantile (0.5 * miss);
  *confidence = NAN;
  if (x.h > FAR)
    *confidence = num_noncentral_t_lower (x.g * x.root_n, x.df, x.z1 * x.root_n);
  else if (miss <= MISS_SMOOTH)
    *confidence = smooth_confidence (&x);
  else
    status = adaptive_confidence (&x, confidence);
  if (status == NUM_OK && isnan (*confidence))
    return NUM_NO_CONVERGENCE;
  *confidence = fmin (1.0, fmax (0.0, *confidence));
  return status;
}

typedef struct
{
  size_t n;
  double to_lower;
  double to_upper;
  double confidence;
} Bound;

/* Confidence beyond what is wanted when the share missed has normal quantile -z: falls with z. */
static double
bound_excess (double z, void *data)
{
  const Bound *x = data;
  double reached;

  if (num_normal_share_confidence (x->n, x->to_lower, x->to_upper, num_normal_upper (z), &reached) != NUM_OK)
    return NAN;
  return reached - x->confidence;
}

/**
 * num_normal_share_miss:
 * @n: sample size, at least 2
 * @to_lower: distance to the lower limit in deviations, INFINITY for none
 * @to_upper: distance to the upper limit in deviations, INFINITY for none
 * @confidence: one-sided, in (0, 1)
 * @miss: (out): the share outside that is not exceeded, at this confidence
 *
 * The inverse of num_normal_share_confidence(), by Brent's root over the normal quantile of the share.
 *
 * Returns: %NUM_OK; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_normal_share_miss (size_t n, double to_lower, double to_upper, double confidence, double *miss)
{
  Bound x = { n, to_lower, to_upper, confidence };
  double g = fmax (-Z_MOST, fmin (Z_MOST, fmin (to_lower, to_upper)));
  double spread = sqrt (1.0 / (double) n + 0.5 * g * g / ((double) n - 1.0));
  double low = fmax (-Z_MOST, g - spread);
  double high = fmin (Z_MOST, g + spread);
  double z;
  NumStatus status;

  *miss = NAN;
  for (; bound_excess (low, &x) < 0.0; low = fmax (-Z_MOST, low - spread), spread *= 2.0)
    {
      if (low == -Z_MOST) /* no share at all can be told */
        {
          *miss = 1.0;
          return NUM_OK;
        }
      high = low;
    }
  for (; bound_excess (high, &x) > 0.0; high = fmin (Z_MOST, high + spread), spread *= 2.0)
    {
      if (high == Z_MOST) /* less than a double can tell from none */
        {
          *miss = 0.0;
          return NUM_OK;
        }
      low = high;
    }
  status = num_root (bound_excess, &x, low, high, 1e-10, &z);
  if (status == NUM_OK)
    *miss = num_normal_upper (z);
  return status;
}
