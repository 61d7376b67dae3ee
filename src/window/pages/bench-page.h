/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The Bench page: what waits at one's bench, what to measure there, and what came back and why. A serial that is typed or
 * scanned, wherever on the page, takes that unit to hand; what happened to it is said by one key, or in one line.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_BENCH_PAGE (fettle_bench_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleBenchPage, fettle_bench_page, FETTLE, BENCH_PAGE, GtkBox)

GtkWidget *fettle_bench_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
