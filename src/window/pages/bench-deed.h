/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a maker or inspector says of a unit in a few fields: sent back, to where and for which issue; reworked; altered;
 * scrapped. Each is stored by one command and undone by one key.
 */

#include <gtk/gtk.h>

#include "bench-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

/* The deeds of the page, in the order of its buttons. */
typedef enum
{
  FETTLE_BENCH_PASSED,
  FETTLE_BENCH_SENT_BACK,
  FETTLE_BENCH_REWORKED,
  FETTLE_BENCH_ALTERED,
  FETTLE_BENCH_SCRAPPED,
  FETTLE_BENCH_N_DEEDS
} FettleBenchDeed;

/**
 * FettleBenchDeedKind:
 * @name: in actions: 'sent-back'
 * @label: of the button, marked
 * @help: its tooltip, marked
 * @key: shown beside the label
 * @kind: of the event
 */
typedef struct
{
  const char   *name;
  const char   *label;
  const char   *help;
  const char   *key;
  BookEventKind kind;
} FettleBenchDeedKind;

extern const FettleBenchDeedKind fettle_bench_deeds[FETTLE_BENCH_N_DEEDS];

GtkWidget *fettle_bench_deed_new (FettleSitting           *sitting,
                                  const FettleBenchAnswer *answer,
                                  const InsightBenchUnit  *unit,
                                  FettleBenchDeed          deed) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
