/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quadrature, roots and minima by GSL, whose default error handler ends the program and is switched off here. */
#include "num-solve.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_min.h>
#include <gsl/gsl_roots.h>
#include <math.h>

#define PIECES_MOST 400   /* pieces an integral may be cut into */
#define STEPS_MOST 300    /* steps of a root or a minimum */
#define SLACK 100.0       /* an error estimate beyond the tolerance by this factor is no convergence */

/* Before main(): GSL's handler is one pointer for the whole program, so setting it later would race. */
__attribute__ ((constructor)) static void
switch_handler_off (void)
{
  gsl_set_error_handler_off ();
}

typedef struct
{
  NumFunction function;
  void *data;
} Adapter;

static double
adapt (double x, void *data)
{
  const Adapter *adapter = data;

  return adapter->function (x, adapter->data);
}

/**
 * num_integrate:
 * @function: the integrand
 * @data: (nullable): handed to it
 * @from: lower end, finite
 * @to: upper end, finite
 * @absolute: absolute error wanted, may be 0
 * @relative: relative error wanted
 * @result: (out): the integral
 *
 * Adaptive quadrature by Gauss and Kronrod's rule of 31 points (QUADPACK's QAG in GSL).
 *
 * Returns: %NUM_OK; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_integrate (NumFunction function, void *data, double from, double to, double absolute, double relative,
               double *result)
{
  Adapter adapter = { function, data };
  gsl_function f = { adapt, &adapter };
  gsl_integration_workspace *space;
  double value = NAN;
  double error = NAN;

  *result = NAN;
  if (from == to)
    {
      *result = 0.0;
      return NUM_OK;
    }
  space = gsl_integration_workspace_alloc (PIECES_MOST);
  if (space == NULL)
    return NUM_NO_MEMORY;
  gsl_integration_qag (&f, from, to, absolute, relative, PIECES_MOST, GSL_INTEG_GAUSS31, space, &value, &error);
  gsl_integration_workspace_free (space);

  /* The status tells also of rounding that keeps the wanted error just out of reach; the estimate decides. */
  if (!isfinite (value) || !(error <= SLACK * fmax (fmax (absolute, DBL_MIN), relative * fabs (value))))
    return NUM_NO_CONVERGENCE;
  *result = value;
  return NUM_OK;
}

/**
 * num_gauss_nodes:
 * @from: lower end
 * @to: upper end
 * @nodes: (out): places in rising order
 * @weights: (out): their weights
 *
 * Gauss and Legendre's rule for a smooth integrand, for use where the same places serve several integrals.
 */
void
num_gauss_nodes (double from, double to, double nodes[NUM_GAUSS_NODES], double weights[NUM_GAUSS_NODES])
{
  /* The table of this size is part of GSL and needs no computing; only its small handle is allocated. */
  gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc (NUM_GAUSS_NODES);

  for (size_t i = 0; i < NUM_GAUSS_NODES; i++)
    {
      nodes[i] = weights[i] = NAN;
      if (table != NULL)
        gsl_integration_glfixed_point (from, to, i, &nodes[i], &weights[i], table);
    }
  if (table != NULL)
    gsl_integration_glfixed_table_free (table);
}

/**
 * num_root:
 * @function: a continuous function
 * @data: (nullable): handed to it
 * @low: one end
 * @high: the other; the function has the other sign there, or is 0 at an end
 * @relative: relative error wanted
 * @root: (out): where the function is 0
 *
 * Brent's method in GSL.
 *
 * Returns: %NUM_OK; %NUM_NO_SOLUTION when the ends have one sign; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_root (NumFunction function, void *data, double low, double high, double relative, double *root)
{
  Adapter adapter = { function, data };
  gsl_function f = { adapt, &adapter };
  gsl_root_fsolver *solver;
  double from = low < high ? low : high; /* GSL asks for them in order */
  double to = low < high ? high : low;
  double tiny = DBL_EPSILON * (to - from);
  double at_low = function (from, data);
  double at_high = function (to, data);
  int status = GSL_CONTINUE;

  *root = NAN;
  if (isnan (at_low) || isnan (at_high))
    return NUM_NO_CONVERGENCE;
  if (at_low == 0.0 || at_high == 0.0)
    {
      *root = at_low == 0.0 ? from : to;
      return NUM_OK;
    }
  if ((at_low < 0.0) == (at_high < 0.0))
    return NUM_NO_SOLUTION;

  solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  if (solver == NULL)
    return NUM_NO_MEMORY;
  if (gsl_root_fsolver_set (solver, &f, from, to) != GSL_SUCCESS)
    {
      gsl_root_fsolver_free (solver);
      return NUM_NO_CONVERGENCE;
    }
  for (int i = 0; i < STEPS_MOST && status == GSL_CONTINUE; i++)
    {
      status = gsl_root_fsolver_iterate (solver);
      if (status == GSL_SUCCESS)
        status = gsl_root_test_interval (gsl_root_fsolver_x_lower (solver), gsl_root_fsolver_x_upper (solver), tiny,
                                         relative);
    }
  if (status == GSL_SUCCESS)
    *root = gsl_root_fsolver_root (solver);
  gsl_root_fsolver_free (solver);
  return isnan (*root) ? NUM_NO_CONVERGENCE : NUM_OK;
}

/**
 * num_minimise:
 * @function: a function with one valley
 * @data: (nullable): handed to it
 * @low: lower end
 * @high: upper end
 * @relative: relative error wanted of the place
 * @place: (out): where the function is least, possibly an end
 * @least: (out): its value there
 *
 * Halves towards the lower side until three points enclose the valley, then Brent's method in GSL.
 *
 * Returns: %NUM_OK; %NUM_NO_CONVERGENCE; %NUM_NO_MEMORY
 */
NumStatus
num_minimise (NumFunction function, void *data, double low, double high, double relative, double *place, double *least)
{
  Adapter adapter = { function, data };
  gsl_function f = { adapt, &adapter };
  gsl_min_fminimizer *solver;
  double at_low = function (low, data);
  double at_high = function (high, data);
  double middle = 0.5 * (low + high);
  double at_middle = function (middle, data);
  int status = GSL_CONTINUE;

  *place = *least = NAN;
  for (int i = 0; i < 60 && high > low && (at_middle >= at_low || at_middle >= at_high); i++)
    {
      if (at_low <= at_high)
        {
          high = middle;
          at_high = at_middle;
        }
      else
        {
          low = middle;
          at_low = at_middle;
        }
      middle = 0.5 * (low + high);
      at_middle = function (middle, data);
    }
  if (isnan (at_low) || isnan (at_high) || isnan (at_middle))
    return NUM_NO_CONVERGENCE;
  if (at_middle >= at_low || at_middle >= at_high)
    {
      *place = at_low <= at_high ? low : high;
      *least = fmin (at_low, at_high);
      return NUM_OK;
    }

  solver = gsl_min_fminimizer_alloc (gsl_min_fminimizer_brent);
  if (solver == NULL)
    return NUM_NO_MEMORY;
  gsl_min_fminimizer_set_with_values (solver, &f, middle, at_middle, low, at_low, high, at_high);
  for (int i = 0; i < STEPS_MOST && status == GSL_CONTINUE; i++)
    {
      if (gsl_min_fminimizer_iterate (solver) != GSL_SUCCESS)
        break; /* no smaller value can be told apart: the place is as good as it gets */
      status = gsl_min_test_interval (gsl_min_fminimizer_x_lower (solver), gsl_min_fminimizer_x_upper (solver), 0.0,
                                      relative);
    }
  *place = gsl_min_fminimizer_x_minimum (solver);
  *least = gsl_min_fminimizer_f_minimum (solver);
  gsl_min_fminimizer_free (solver);
  return isnan (*least) ? NUM_NO_CONVERGENCE : NUM_OK;
}
