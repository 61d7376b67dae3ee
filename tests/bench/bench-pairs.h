/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Nine pairs of times, the two sides in turn: printed a pair a line in seconds, for tests/bench/run to take the medians.
 */

#include <glib.h>

G_BEGIN_DECLS

#define BENCH_PAIRS 9

/* What is measured; ends the program when it fails. */
typedef void (*BenchSide) (gpointer data);

double bench_now          (void);
double bench_computed     (void);
double bench_computed_beside (void);
void   bench_calibration  (gpointer  data);
void   bench_pairs        (BenchSide left,
                           guint     left_times,
                           BenchSide right,
                           guint     right_times,
                           gpointer  data);
/* Keeps the compiler from leaving out what nobody looks at. */
void   bench_use          (double    value);

G_END_DECLS
