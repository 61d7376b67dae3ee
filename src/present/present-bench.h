/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What lies at a bench in words: the lead of the page, its tables, and one unit. It speaks of units and issues, never of
 * people.
 */

#include "insight-bench.h"
#include "present-sheet.h"

G_BEGIN_DECLS

#define PRESENT_BENCH_MOST 200 /* rows of a table: the rest comes up as these leave */

char         *present_bench_headline (const InsightBench     *bench) G_GNUC_WARN_UNUSED_RESULT;
PresentSheet *present_bench_waiting  (const InsightBench     *bench) G_GNUC_WARN_UNUSED_RESULT;
PresentSheet *present_bench_measure  (const InsightBench     *bench) G_GNUC_WARN_UNUSED_RESULT;
PresentSheet *present_bench_returns  (const InsightBench     *bench) G_GNUC_WARN_UNUSED_RESULT;
/* How many rows of a table were left out, as a sentence; "" for none. */
char         *present_bench_more     (guint                   n) G_GNUC_WARN_UNUSED_RESULT;

/* What waits at the same bench of other models; "" for nothing. @codes: of the models; @counts: (element-type guint). */
char         *present_bench_elsewhere (const char            *code,
                                      const GPtrArray        *codes,
                                      const GArray           *counts) G_GNUC_WARN_UNUSED_RESULT;

char         *present_bench_title    (const InsightBenchUnit *unit) G_GNUC_WARN_UNUSED_RESULT;
char         *present_bench_place    (const InsightBenchUnit *unit) G_GNUC_WARN_UNUSED_RESULT;
char         *present_bench_wanted   (const InsightBenchUnit *unit) G_GNUC_WARN_UNUSED_RESULT;
/* Why the unit cannot pass; NULL where it can. */
char         *present_bench_stuck    (const InsightBenchUnit *unit) G_GNUC_WARN_UNUSED_RESULT;
/* What is asked for: 'LE Lock engagement, mm (at least 1.20)'; and what a stored reading shows. */
char         *present_bench_prompt   (const InsightBenchWanted *wanted) G_GNUC_WARN_UNUSED_RESULT;
char         *present_bench_read     (const InsightBenchWanted *wanted,
                                      const char             *text,
                                      gboolean                outside) G_GNUC_WARN_UNUSED_RESULT;
char         *present_bench_unknown  (const char             *serial) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
