/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What is to be measured on a unit, one after the other in one line: a value and Enter, as a caliper types them, stores it
 * and goes to the next. Down leaves one out, Up goes back to it, Escape leaves; what is typed and not stored is kept among
 * the drafts.
 */

#include <gtk/gtk.h>

#include "insight-bench.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_BENCH_MEASURE (fettle_bench_measure_get_type ())
G_DECLARE_FINAL_TYPE (FettleBenchMeasure, fettle_bench_measure, FETTLE, BENCH_MEASURE, GtkWidget)

/**
 * FettleBenchMeasure::closed:
 *
 * All is measured, or a person left: whoever shows it hides it and takes the keyboard back.
 */

GtkWidget *fettle_bench_measure_new   (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_bench_measure_show  (FettleBenchMeasure     *self,
                                       const InsightBenchUnit *unit);
char      *fettle_bench_measure_dup_last (FettleBenchMeasure  *self) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_bench_measure_focus (FettleBenchMeasure     *self);

G_END_DECLS
