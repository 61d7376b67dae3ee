/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/*
 * Quadrature, root finding and minimising by GSL, behind one file that switches GSL's aborting error handler off.
 * A function under an integral or a root answers NAN where it cannot be computed; the result is then no convergence.
 */

/* A function of one variable with what it needs besides. */
typedef double (*NumFunction) (double x, void *data);

NumStatus num_integrate (NumFunction function, void *data, double from, double to, double absolute, double relative,
                         double *result);
NumStatus num_root (NumFunction function, void *data, double low, double high, double relative, double *root);
NumStatus num_minimise (NumFunction function, void *data, double low, double high, double relative, double *place,
                        double *least);
