/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Conformance when the units come from several lots of a part or a step.
 *
 * Method. One-way random effects; generalised confidence (Mee and Owen 1983; Krishnamoorthy and Mathew 2004; from
 * memory). With a lots of m units (m the harmonic mean when they differ), SSe the squares within, SSb = m times the
 * squares of the unweighted lot means around theirs:
 *
 *   within  = SSe / chi-square(N - a)
 *   between = max (0, (SSb / chi-square(a - 1) - within) / m)
 *   mean    = mean of lot means - Z sqrt (SSb / (chi-square(a - 1) a m)), with the same chi-square(a - 1)
 *
 * The confidence is the chance that a normal population of that mean and variance between + within has the coverage
 * inside its limits. For given chi-squares the means that have it are an interval, so that Z leaves a normal
 * probability; what is left are two integrals over the logarithms of the chi-squares, by Gauss and Legendre's rule. The
 * inner one is cut where between becomes 0, since its function has a bend there. It runs only over the deviations that
 * make some means conform and some not: lots that are much alike leave the mean nearly certain, and then its function
 * is a step that no fixed places would meet. Between two limits both begin where the deviation becomes small enough for
 * any mean to do. There they grow as a square root, so the first piece is taken over the root of the distance from its
 * lower end.
 */
#include "num-lots.h"

#include "num-describe.h"
#include "num-dist.h"
#include "num-solve.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct
{
  double lots;        /* a */
  double size;        /* m */
  double mean;        /* of the lot means */
  double between;     /* SSb */
  double within;      /* SSe */
  double df_within;   /* N - a */
} Squares;

/* The resolution bounds the variation within from below. */
static NumStatus
find_squares (const NumMoments *lots, size_t count, double step, Squares *out)
{
  double *means = calloc (count, sizeof *means);
  double reciprocals = 0.0;
  size_t n = 0;
  NumMoments moments;
  NumStatus status;

  *out = (Squares){ .lots = (double) count };
  if (means == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    {
      means[i] = lots[i].mean;
      if (lots[i].n > 1)
        out->within += lots[i].sd * lots[i].sd * (double) (lots[i].n - 1);
      reciprocals += 1.0 / (double) lots[i].n;
      n += lots[i].n;
    }
  status = num_moments (means, count, &moments);
  free (means);
  if (status != NUM_OK)
    return status;

  out->size = (double) count / reciprocals;
  out->mean = moments.mean;
  out->between = out->size * moments.sd * moments.sd * (double) (count - 1);
  out->df_within = (double) (n - count);
  out->within = fmax (out->within, 0.25 * step * step * out->df_within);
  return out->within + out->between > 0.0 ? NUM_OK : NUM_NO_VARIATION;
}

#define TAIL     1e-10 /* of a chi-square that is left out at either end */
#define BULK     0.05  /* of a chi-square with few degrees of freedom, below which a long thin tail is taken apart */
#define CERTAIN  1e-13 /* of a chance, or of what is missed: below it nothing matters */
#define REACH    7.0   /* deviations of the mean beyond which nothing is left of it */
#define STEPS    60    /* of Newton's rule, whose function is convex: it comes from one side */
#define SLACK    0.1   /* of the mean's deviation, for places at which an integral is cut */

/* The logarithm of a chi-square: where it lies, and what its density is made from. */
typedef struct
{
  double df;
  double constant;
  double from;
  double to;
} Spread;

/* What the integrals run over, and what the population is held against. */
typedef struct
{
  const Squares *x;
  NumLimits limits;
  double miss;  /* share outside that is tolerated */
  double z_one; /* deviations a single limit must be away */
  double most;  /* deviation from which on no mean conforms; infinite with a single limit */
  double edge;  /* deviation up to which the mean of the lots conforms */
  Spread within;
  Spread between;
} Lots;

/*
 * How far the mean must be from the nearer of two limits, in deviations: Q(t) + Q(width - t) = miss, Q the upper normal
 * tail. NAN where even the middle is not enough.
 */
static double
distance_to_nearer (const Lots *lots, double width)
{
  double t = lots->z_one;

  if (2.0 * num_normal_upper (0.5 * width) > lots->miss)
    return NAN;
  for (int i = 0; i < STEPS; i++)
    {
      double other = num_normal_upper (width - t);
      double excess = num_normal_upper (t) + other - lots->miss;
      double slope = num_normal_density (t) - num_normal_density (width - t);
      double step;

      if (other < CERTAIN * lots->miss || !(slope > 0.0))
        break;
      step = excess / slope;
      t = fmin (t + step, 0.5 * width);
      if (fabs (step) < 1e-12)
        break;
    }
  return t;
}

/* The chance over Z that a population of deviation @sd conforms, its mean known to @unsure around the mean of lots. */
static double
chance_for (const Lots *lots, double sd, double unsure)
{
  double to_lower = lots->x->mean - lots->limits.lower;
  double to_upper = lots->limits.upper - lots->x->mean;
  double t = lots->z_one;

  if (isfinite (to_lower) && isfinite (to_upper))
    t = distance_to_nearer (lots, (to_lower + to_upper) / sd);
  if (isnan (t))
    return 0.0;
  to_lower -= t * sd; /* room on either side; without a limit there is all of it */
  to_upper -= t * sd;
  if (unsure > 0.0)
    return fmax (0.0, num_normal_between (-to_lower / unsure, to_upper / unsure));
  return to_lower >= 0.0 && to_upper >= 0.0 ? 1.0 : 0.0;
}

static double
log_quantile (double p, double df)
{
  return log (num_chi_square_quantile (p, df));
}

static Spread
spread_of (double df)
{
  if (!(df > 0.0))
    return (Spread){ 0.0, 0.0, 0.0, 0.0 };
  return (Spread){ df, -num_gamma_function_log (0.5 * df) - 0.5 * df * M_LN2, log_quantile (TAIL, df),
                   log_quantile (1.0 - TAIL, df) };
}

static double
density_at (const Spread *spread, double y)
{
  return exp (0.5 * spread->df * y - 0.5 * exp (y) + spread->constant);
}

/* Nodes from @from to @to; where a square root begins at @from, over the root of the distance from it. */
static void
find_nodes (double from, double to, bool root, double nodes[NUM_GAUSS_NODES], double weights[NUM_GAUSS_NODES])
{
  if (!root)
    {
      num_gauss_nodes (from, to, nodes, weights);
      return;
    }
  num_gauss_nodes (0.0, 1.0, nodes, weights);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      weights[i] *= 2.0 * nodes[i] * (to - from);
      nodes[i] = from + nodes[i] * nodes[i] * (to - from);
    }
}

/* Room that is left between the mean of lots and the nearest mean that no longer conforms; below 0 beyond it. */
static double
room_at (const Lots *lots, double sd)
{
  double to_lower = lots->x->mean - lots->limits.lower;
  double to_upper = lots->limits.upper - lots->x->mean;
  double t = lots->z_one;

  if (isfinite (to_lower) && isfinite (to_upper))
    t = distance_to_nearer (lots, (to_lower + to_upper) / sd);
  if (isnan (t)) /* the middle alone is left at the largest deviation */
    return fmin (to_lower, to_upper) - 0.5 * (to_lower + to_upper);
  return fmin (to_lower, to_upper) - t * sd;
}

/*
 * The largest deviation that leaves @room, to within @slack of it; 0 when none does. A larger deviation leaves less, for
 * at least half of the population is wanted inside. False position (Illinois).
 */
static double
deviation_with_room (const Lots *lots, double room, double slack)
{
  double low = 0.0, over = fmin (lots->x->mean - lots->limits.lower, lots->limits.upper - lots->x->mean) - room;
  double high, under;

  if (!(over > 0.0))
    return 0.0;
  high = fmin (over / lots->z_one, lots->most);
  if (!isfinite (lots->most))
    return high;
  under = room_at (lots, high) - room;
  for (int i = 0, side = 0; i < STEPS && under < -slack; i++)
    {
      double middle = (low * under - high * over) / (under - over);
      double rest = room_at (lots, middle) - room;

      if (fabs (rest) <= slack)
        return middle;
      if (rest > 0.0)
        {
          low = middle;
          over = rest;
          under *= side > 0 ? 0.5 : 1.0; /* the other end stood still twice */
          side = 1;
        }
      else
        {
          high = middle;
          under = rest;
          over *= side < 0 ? 0.5 : 1.0;
          side = -1;
        }
    }
  return high;
}

/* The logarithm of the chi-square within from which on the deviation is at most @sd. */
static double
place_within (const Lots *lots, double ratio, double sd)
{
  const Squares *x = lots->x;
  double square = sd * sd;
  double rest = square - ratio / x->size;

  if (ratio <= square) /* then between is 0 at that place */
    return log (x->within / square);
  return rest > 0.0 ? log (x->within * (1.0 - 1.0 / x->size) / rest) : HUGE_VAL;
}

/* The integral over the logarithm of the chi-square within, from @from to @to. */
static double
chance_over_within (const Lots *lots, double ratio, double unsure, double from, double to, bool root)
{
  const Squares *x = lots->x;
  double y[NUM_GAUSS_NODES], weight[NUM_GAUSS_NODES];
  double sum = 0.0;

  if (!(to > from))
    return 0.0;
  find_nodes (from, to, root, y, weight);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      double within = x->within / exp (y[i]);
      double total = within + fmax (0.0, (ratio - within) / x->size);
      double density = weight[i] * density_at (&lots->within, y[i]);

      if (density > CERTAIN)
        sum += density * chance_for (lots, sqrt (total), unsure);
    }
  return sum;
}

/* The chance for one value of SSb over its chi-square. */
static double
chance_for_ratio (const Lots *lots, double ratio)
{
  const Squares *x = lots->x;
  double unsure = sqrt (ratio / (x->lots * x->size));
  double from, to, sure, bend, edge, first, second;
  bool root = isfinite (lots->most);

  if (x->df_within == 0.0)
    return chance_for (lots, sqrt (ratio / x->size), unsure);
  from = fmax (lots->within.from, place_within (lots, ratio, lots->most));
  sure = to = lots->within.to;
  if (lots->z_one > 0.0)
    {
      from = fmax (from, place_within (lots, ratio, deviation_with_room (lots, -REACH * unsure, SLACK * unsure)));
      sure = fmin (to, place_within (lots, ratio, deviation_with_room (lots, REACH * unsure, SLACK * unsure)));
    }
  if (!(from < to))
    return 0.0;
  sure = fmax (sure, from);
  bend = fmin (fmax (log (x->within / ratio), from), sure);
  edge = fmin (fmax (place_within (lots, ratio, lots->edge), from), sure);
  first = fmin (bend, edge);
  second = fmax (bend, edge);
  /* Beyond @sure every mean conforms, and what is left is the tail of the chi-square. */
  return chance_over_within (lots, ratio, unsure, from, first, root)
         + chance_over_within (lots, ratio, unsure, first, second, root && first <= from)
         + chance_over_within (lots, ratio, unsure, second, sure, root && second <= from)
         + (sure < to ? num_chi_square_upper (exp (sure), x->df_within) : 0.0);
}

/* All lot means equal: nothing is unsure but the deviation, and there is one up to which the population conforms. */
static double
chance_without_between (const Lots *lots)
{
  double low = DBL_MIN, high = DBL_MAX;

  if (chance_for (lots, low, 0.0) < 1.0)
    return 0.0; /* the mean itself lies outside */
  for (int i = 0; i < 2 * DBL_MANT_DIG; i++) /* halves the logarithm, of at most 11 bits before the point */
    {
      double middle = sqrt (low) * sqrt (high);

      if (chance_for (lots, middle, 0.0) < 1.0)
        high = middle;
      else
        low = middle;
    }
  return num_chi_square_upper (lots->x->within / low / low, lots->x->df_within);
}

/* The integral over the logarithm of the chi-square between, from @from to @to. */
static double
chance_over_between (const Lots *lots, double from, double to, bool root)
{
  double y[NUM_GAUSS_NODES], weight[NUM_GAUSS_NODES];
  double sum = 0.0;

  if (!(to > from))
    return 0.0;
  find_nodes (from, to, root, y, weight);
  for (int i = 0; i < NUM_GAUSS_NODES; i++)
    {
      double density = weight[i] * density_at (&lots->between, y[i]);

      if (density > CERTAIN)
        sum += density * chance_for_ratio (lots, lots->x->between / exp (y[i]));
    }
  return sum;
}

static double
chance_of_conforming (const Lots *lots)
{
  const Squares *x = lots->x;
  double from = lots->between.from, to = lots->between.to;
  double begin, middle;

  if (x->between == 0.0)
    return chance_without_between (lots);
  middle = log_quantile (BULK, lots->between.df);
  /* The variance is at least ratio / size. */
  begin = isfinite (lots->most) ? log (x->between / x->size / (lots->most * lots->most)) : from;
  return fmin (1.0, chance_over_between (lots, fmax (from, begin), fmin (middle, to), begin > from)
                      + chance_over_between (lots, fmax (middle, begin), to, begin >= middle));
}

static NumStatus
lots_confidence (const NumMoments *moments, size_t count, NumLimits limits, double coverage, double step, double *confidence)
{
  Squares squares;
  NumStatus status = find_squares (moments, count, step, &squares);
  Lots lots = { &squares, limits, 1.0 - coverage, num_normal_quantile (coverage),
                (limits.upper - limits.lower) / (-2.0 * num_normal_quantile (0.5 * (1.0 - coverage))),
                0.0, spread_of (squares.df_within), spread_of (squares.lots - 1.0) };

  if (lots.z_one > 0.0)
    lots.edge = deviation_with_room (&lots, 0.0, 0.0);
  *confidence = status == NUM_OK ? chance_of_conforming (&lots) : nan ("");
  return status;
}

/**
 * num_lots_moments:
 * @lots: (array length=count): size, mean and deviation of each lot, none empty; the deviation of one value is not looked at
 * @count: lots, at least %NUM_LOTS_LEAST
 * @limits: at least one finite
 * @coverage: share of the population wanted inside, in (0, 1)
 * @resolution: step in which the values were read, 0 where unknown
 * @confidence: (out): with the lots as groups, of a normal population; NAN when it fails
 *
 * See the method above: of lots that are known by their moments alone, or that do not exist yet. For a log-normal
 * population give the moments of the logarithms, their limits, and the resolution divided by the mean.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW lots or an empty one; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_MEMORY
 */
NumStatus
num_lots_moments (const NumMoments *lots, size_t count, NumLimits limits, double coverage, double resolution,
                  double *confidence)
{
  *confidence = NAN;
  if (count < NUM_LOTS_LEAST)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < count; i++)
    {
      if (lots[i].n == 0)
        return NUM_TOO_FEW;
      if (!isfinite (lots[i].mean) || (lots[i].n > 1 && !(isfinite (lots[i].sd) && lots[i].sd >= 0.0)))
        return NUM_BAD_INPUT;
    }
  if (!(coverage > 0.0 && coverage < 1.0) || !(limits.lower < limits.upper)
      || (!isfinite (limits.lower) && !isfinite (limits.upper)))
    return NUM_BAD_INPUT;
  return lots_confidence (lots, count, limits, coverage, resolution, confidence);
}

/* All values in one array, and beside it their logarithms where all are above 0. */
typedef struct
{
  double *values;
  double *logs;        /* NULL where a value is not above 0 */
  NumMoments *moments; /* by lot */
  size_t n;
  double mean;
} Pool;

static void
pool_clear (Pool *pool)
{
  free (pool->values);
  free (pool->logs);
  free (pool->moments);
}

static NumStatus
pool_init (Pool *pool, const NumSample *lots, size_t count)
{
  NumMoments moments;
  NumStatus status;
  size_t at = 0;

  *pool = (Pool){ 0 };
  for (size_t i = 0; i < count; i++)
    {
      if (lots[i].n == 0)
        return NUM_TOO_FEW;
      pool->n += lots[i].n;
    }
  pool->values = calloc (pool->n, sizeof *pool->values);
  pool->logs = calloc (pool->n, sizeof *pool->logs);
  pool->moments = calloc (count, sizeof *pool->moments);
  if (pool->values == NULL || pool->logs == NULL || pool->moments == NULL)
    return NUM_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    {
      memcpy (pool->values + at, lots[i].values, lots[i].n * sizeof *pool->values);
      at += lots[i].n;
    }
  status = num_moments (pool->values, pool->n, &moments);
  if (status != NUM_OK)
    return status;
  pool->mean = moments.mean;
  if (!(moments.min > 0.0))
    {
      free (pool->logs);
      pool->logs = NULL;
      return NUM_OK;
    }
  for (size_t i = 0; i < pool->n; i++)
    pool->logs[i] = log (pool->values[i]);
  return NUM_OK;
}

/* The answer by lots of @values, which lie lot after lot. */
static NumStatus
ask_lots (Pool *pool, const double *values, const NumSample *lots, size_t count, NumLimits limits, double coverage, double step,
          double *confidence)
{
  NumStatus status = NUM_OK;

  for (size_t i = 0; i < count && status == NUM_OK; values += lots[i++].n)
    status = num_moments (values, lots[i].n, &pool->moments[i]);
  return status == NUM_OK ? lots_confidence (pool->moments, count, limits, coverage, step, confidence) : status;
}

/**
 * num_lots:
 * @lots: (array length=count): a sample a lot, none empty
 * @count: lots, at least %NUM_LOTS_LEAST
 * @limits: at least one finite
 * @coverage: share of the population wanted inside, in (0, 1)
 * @shape: what is assumed; %NUM_SHAPE_UNKNOWN has no lots method
 * @resolution: step in which the values were read, 0 where unknown
 * @out: (out): the answer
 *
 * See the method above. Log-normal: on logarithms. Least: the smaller of the normal and, where all values are positive,
 * the log-normal answer, as with the pooled one. The confidence is the smaller of the answer by lots and the pooled one.
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW lots or an empty one; %NUM_NO_VARIATION; %NUM_BAD_INPUT; %NUM_NO_CONVERGENCE;
 * %NUM_NO_MEMORY
 */
NumStatus
num_lots (const NumSample *lots, size_t count, NumLimits limits, double coverage, NumShape shape, double resolution,
          NumLots *out)
{
  Pool pool = { 0 };
  NumConformance pooled;
  NumStatus status;
  double plain = NAN;
  double logged = NAN;

  *out = (NumLots){ NAN, NAN, NAN, NAN };
  if (shape == NUM_SHAPE_UNKNOWN)
    return NUM_BAD_INPUT;
  if (count < NUM_LOTS_LEAST)
    return NUM_TOO_FEW;

  status = pool_init (&pool, lots, count);
  if (status == NUM_OK)
    status = num_conformance_values (pool.values, pool.n, limits, coverage, 0.95, shape, resolution, &pooled);
  if (status == NUM_OK && shape != NUM_SHAPE_LOGNORMAL)
    status = ask_lots (&pool, pool.values, lots, count, limits, coverage, resolution, &plain);
  if (status == NUM_OK && shape != NUM_SHAPE_NORMAL && pool.logs != NULL)
    status = ask_lots (&pool, pool.logs, lots, count, num_limits_log (limits), coverage, resolution / pool.mean, &logged);
  pool_clear (&pool);
  if (status != NUM_OK)
    return status;

  out->lots = fmin (plain, logged); /* the one that is not NAN where only one was asked */
  out->pooled = pooled.confidence;
  out->contrary = pooled.contrary;
  out->confidence = fmin (out->lots, out->pooled);
  return NUM_OK;
}
