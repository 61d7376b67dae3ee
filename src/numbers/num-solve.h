/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/*
 * Quadrature, root finding and minimising by GSL, behind one file that switches GSL's aborting error handler off.
 * A function under an integral or a root answers NAN where it cannot be computed; the result is then no convergence.
 */

#define NUM_GAUSS_NODES 64

/* A function of one variable with what it needs besides. */
typedef double (*NumFunction) (double x, void *data);

NumStatus num_integrate (NumFunction function, void *data, double from, double to, double absolute, double relative,
                         double *result);
NumStatus num_root (NumFunction function, void *data, double low, double high, double relative, double *root);
NumStatus num_minimise (NumFunction function, void *data, double low, double high, double relative, double *place,
                        double *least);
void num_gauss_nodes (double from, double to, double nodes[NUM_GAUSS_NODES], double weights[NUM_GAUSS_NODES]);
