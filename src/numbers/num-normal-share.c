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
 * Its range is cut where the chi-square density vanishes, where the bracket vanishes at large y, and where it is 1 at small y:
 * there the chi-square tail is the answer. What is left is never wider than some 18 deviations of its narrowest part, so that
 * 64 nodes of Gauss and Legendre's rule do; long stretches, for very few values, are cut into pieces.
 */
#include "num-normal-share.h"

#include "num-dist.h"
#include "num-solve.h"

#include <math.h>

#define REACH 8.3        /* deviations beyond which a normal tail is below 1e-16 */
#define PIECE 5.0        /* longest stretch of ln y for one set of nodes */
#define FAR 1e10         /* a limit farther off than this, in deviations, is none */
#define MISS_SMOOTH 0.4  /* above it y need not fall with s, and the integral runs over sigma */
#define BEYOND 38.5      /* deviations beyond which a normal tail is not a number above 0 */
#define Z_MOST 37.5       /* the tail beyond is still a number */
#define ACCURACY 1e-12
#define STEPS_MOST 200

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

/* A value that a chi-square variable exceeds, or falls below, with a chance under 1e-13 (Wilson and Hilferty 1931). */
static double
chi_square_edge (double df, double z)
{
  double part = 2.0 / (9.0 * df);
  double root = 1.0 - part + z * sqrt (part);

  double edge = root > 0.0 ? df * root * root * root : 0.0;

  /* The approximation is too cautious far below: P(v < x) is at most (x/df exp(1 - x/df))^(df/2). */
  return z > 0.0 ? edge : fmax (edge, df * exp (-1.0 - 64.0 / df));
}

/* s'/s by y, for a = y w and b = (2 - y) w, w = 1/s. */
static double
relative_slope (double w, double a, double b)
{
  double ratio = exp (0.5 * (a - b) * (a + b)); /* density at b over density at a */

  return w * (1.0 - ratio) / (a + b * ratio);
}

/* Share missed at y and w beyond what is tolerated, and the two densities it changes by. */
static double
excess_at (double y, double w, double miss, double *near, double *other)
{
  double a = y * w;
  double b = (2.0 - y) * w;
  double excess = num_normal_upper (a) - miss;

  *near = num_normal_density (a);
  *other = 0.0;
  if (b < BEYOND) /* else the farther limit misses nothing that could be told */
    {
      excess += num_normal_upper (b);
      *other = num_normal_density (b);
    }
  return excess;
}

/* Solves Q(y w) + Q((2-y) w) = miss for w from a guess, by Halley's steps: the left side is convex and falls, and each step
 * triples the digits. */
static double
solve_w (double y, double miss, double guess)
{
  double w = guess;

  for (int i = 0; i < 40; i++)
    {
      double near, other;
      double excess = excess_at (y, w, miss, &near, &other);
      double slope = y * near + (2.0 - y) * other;
      double bend = w * (y * y * y * near + (2.0 - y) * (2.0 - y) * (2.0 - y) * other);
      double step = excess / slope;

      step /= fmax (0.5, 1.0 - 0.5 * step * bend / slope);
      w += step;
      if (!(fabs (step) > 1e-5 * w))
        break;
    }
  return w;
}

/* The same for y at given w; 1 where the limits are too narrow for any. */
static double
solve_y (double w, const Limits *x)
{
  double y = x->z1 / w;

  if (w <= x->z2)
    return 1.0;
  for (int i = 0; i < 40; i++)
    {
      double near, other;
      double excess = excess_at (y, w, x->miss, &near, &other);
      double step = excess / (w * (near - other));

      y += step;
      if (!(fabs (step) > 1e-7 * y))
        break;
    }
  return fmin (1.0, y);
}

/* How far the population mean that y stands for lies inside of the sample mean, in deviations of a mean. Falls with y; where
 * the sample mean lies outside the limits it rises instead, for a larger deviation then brings the population's inside. */
static double
u_at (double y, const Limits *x)
{
  return (x->g / x->h - y) * solve_w (y, x->miss, x->z1 / y) * x->root_n;
}

/* A y in [from, to] at which u has just left the range up to @edge, by halving on the log scale: on the side of small y for
 * an edge above 0, of large y for one below. */
static double
cut (const Limits *x, double from, double to, double edge)
{
  double low = log (from);
  double high = log (to);

  for (int i = 0; i < 12 && high - low > 1e-3; i++)
    {
      double middle = 0.5 * (low + high);
      double over = u_at (exp (middle), x) - edge;

      if (over > 0.0)
        low = middle;
      else
        high = middle;
      if ((edge > 0.0 && over > 0.0 && over < 0.5) || (edge < 0.0 && over < 0.0 && over > -0.5))
        break;
    }
  return exp (edge > 0.0 ? low : high);
}

/* The same for a u that rises, as it does where the sample mean lies outside: a y at which it is about to reach @edge. */
static double
cut_rising (const Limits *x, double from, double to, double edge)
{
  double low = log (from);
  double high = log (to);

  for (int i = 0; i < 12 && high - low > 1e-3; i++)
    {
      double middle = 0.5 * (low + high);
      double over = u_at (exp (middle), x) - edge;

      if (over > 0.0)
        high = middle;
      else
        low = middle;
      if (over < 0.0 && over > -0.5)
        break;
    }
  return exp (low);
}

/* Chance of a deviation so small that even the population mean at y is certain enough. */
static double
certain_part (double y, const Limits *x)
{
  double w = solve_w (y, x->miss, x->z1 / y) / x->h;

  return num_chi_square_upper (x->df * w * w, x->df);
}

/* The integral over ln y by 64 nodes. */
static double
piece (const Limits *x, double from, double to)
{
  double sum = 0.0;
  double w = 0.0;
  double slope = 0.0;
  double turn = 0.0;
  double before = 0.0;
  double t[NUM_GAUSS_NODES];
  double weight[NUM_GAUSS_NODES];

  num_gauss_nodes (from, to, t, weight);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      double y = exp (t[i]);
      double lowest = x->z1 / y;
      double guess = w > 0.0 ? w * exp (-(slope + 0.5 * turn) * (y - before)) : lowest;
      double v, near, other;

      w = solve_w (y, x->miss, fmax (guess, lowest));
      turn = slope;
      slope = relative_slope (w, y * w, (2.0 - y) * w);
      turn = i > 0 ? slope - turn : 0.0; /* the slope goes on changing as it did: a guess good to some six digits */
      before = y;
      v = x->df * (w / x->h) * (w / x->h);
      near = (x->g / x->h - y) * w * x->root_n;
      other = (2.0 - x->g / x->h - y) * w * x->root_n;
      sum += weight[i] * num_normal_between (-other, near) * num_chi_square_density (v, x->df) * 2.0 * v * slope * y;
    }
  return sum;
}

/* Coverage of 0.6 or more. */
static double
smooth_confidence (const Limits *x)
{
  double most_w = x->h * sqrt (chi_square_edge (x->df, 9.0) / x->df);
  double least_w = x->h * sqrt (chi_square_edge (x->df, -9.0) / x->df);
  double from = solve_y (most_w, x);
  double to = solve_y (least_w, x);
  double sum = 0.0;
  int pieces;

  if (u_at (to, x) >= REACH)
    return certain_part (to, x);
  if (!(from < to) || (u_at (from, x) <= -REACH && u_at (to, x) <= -REACH))
    return 0.0;
  if (u_at (from, x) <= -REACH)
    from = cut_rising (x, from, to, -REACH);
  else if (u_at (to, x) < -REACH)
    to = cut (x, from, to, -REACH);
  if (u_at (from, x) > REACH)
    {
      from = cut (x, from, to, REACH);
      sum = certain_part (from, x);
    }

  from = log (from);
  to = log (to);
  pieces = 1 + (int) ((to - from) / PIECE); /* more than one only for a handful of values, whose deviation tells little */
  for (int i = 0; i < pieces; i++)
    sum += piece (x, from + (to - from) * i / pieces, from + (to - from) * (i + 1) / pieces);
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
  double wanted_z;
} Bound;

/* Confidence when the share missed has normal quantile -z, less the one wanted, both as normal quantiles: falls with z and is
 * nearly a straight line. */
static double
bound_excess (double z, void *data)
{
  const Bound *x = data;
  double reached;

  if (num_normal_share_confidence (x->n, x->to_lower, x->to_upper, num_normal_upper (z), &reached) != NUM_OK)
    return NAN;
  return fmax (-Z_MOST, fmin (Z_MOST, num_normal_quantile (reached))) - x->wanted_z;
}

/**
 * num_normal_share_miss:
 * @n: sample size, at least 2
 * @to_lower: distance to the lower limit in deviations, INFINITY for none
 * @to_upper: distance to the upper limit in deviations, INFINITY for none
 * @confidence: one-sided, in (0, 1)
 * @miss: (out): the share outside that is not exceeded, at this confidence
 *
 * The inverse of num_normal_share_confidence(), by secants within a bracket, both shares taken as normal quantiles:
 * that is nearly a straight line, and five steps do where a general method takes a dozen.
 *
 * Returns: %NUM_OK; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_normal_share_miss (size_t n, double to_lower, double to_upper, double confidence, double *miss)
{
  Bound x = { n, to_lower, to_upper, num_normal_quantile (confidence) };
  double g = fmax (-Z_MOST, fmin (Z_MOST, fmin (to_lower, to_upper)));
  double spread = sqrt (1.0 / (double) n + 0.5 * g * g / ((double) n - 1.0));
  double low = -Z_MOST; /* no share at all can be told */
  double high = Z_MOST; /* less than a double can tell from none */
  double z = fmax (low, fmin (high, g - x.wanted_z * spread)); /* as if the quantile were normal */
  double slope = -1.0 / spread;
  double before = z;
  double excess_before = NAN;

  *miss = NAN;
  for (int i = 0; i < STEPS_MOST; i++)
    {
      double excess = bound_excess (z, &x);
      double next, error;

      if (isnan (excess))
        return NUM_NO_CONVERGENCE;
      if (excess >= 0.0)
        low = z;
      else
        high = z;
      if (z != before && excess != excess_before)
        slope = (excess - excess_before) / (z - before);
      next = z - excess / slope;
      if (!(next > low && next < high))
        next = 0.5 * (low + high);
      /* The error that a secant leaves is the product of the last two, times the bend: well below 1 of this function. */
      error = z != before ? fabs ((next - z) * (z - before)) : fabs (next - z);
      if (excess == 0.0 || fmin (error, fabs (next - z)) <= 1e-10 * (1.0 + fabs (z)))
        {
          *miss = low >= Z_MOST - 1e-6 ? 0.0 : high <= -Z_MOST + 1e-6 ? 1.0 : num_normal_upper (next);
          return NUM_OK;
        }
      before = z;
      excess_before = excess;
      z = next;
    }
  return NUM_NO_CONVERGENCE;
}
