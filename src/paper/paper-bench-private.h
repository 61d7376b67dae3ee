/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the papers for the bench share: what was read (paper-bench-read.c), heads, cautions and fields to be signed
 * (paper-bench.c). A kind is one file with one function that sets it.
 */

#include "book-evidence.h"
#include "insight-change.h"
#include "insight-sheet.h"
#include "paper-bench.h"
#include "paper-form.h"
#include "present-issue.h"

G_BEGIN_DECLS

/**
 * Bench:
 * @round: index in the evidence, -1: none is asked for
 * @unit: likewise
 * @state: first digits of the head of the book's journal: which state it was printed from
 * @sheet: (nullable): of the round
 * @issues: (nullable): for the card of an issue
 * @changes: (nullable): for the notice of a change
 * @pictures: (element-type cairo_surface_t): of the issue
 * @n_lost: pictures that cannot be shown any more
 */
typedef struct
{
  const PaperBenchAsk *ask;
  PaperSize            size;
  BookEvidence        *evidence;
  int                  round;
  int                  unit;
  char                *state;
  InsightSheet        *sheet;
  PresentIssues       *issues;
  InsightChanges      *changes;
  GPtrArray           *pictures;
  guint                n_lost;
} Bench;

gboolean bench_read  (StoreDb             *db,
                      const PaperBenchAsk *ask,
                      Bench               *bench,
                      GCancellable        *cancellable,
                      GError             **error) G_GNUC_WARN_UNUSED_RESULT;
void     bench_clear (Bench               *bench);

/* Begins a part of the document with @title as the name of the thing that it is about. */
void     bench_begin     (const Bench *bench, PaperFlow *flow, const char *title);
void     bench_say_caution (const Bench *bench, PaperFlow *flow);
void     bench_heading   (PaperFlow *flow, const char *text, double with);
void     bench_paragraph (PaperFlow *flow, const char *text);
void     bench_remark    (PaperFlow *flow, const char *text);
/* A row of boxes to be written into; @labels: %NULL-terminated. */
void     bench_boxes     (PaperFlow *flow, const char *const *labels);
char    *bench_limits    (const InsightSheetColumn *column) G_GNUC_WARN_UNUSED_RESULT;
char    *bench_cell      (const InsightSheetColumn *column, const InsightSheetCell *cell) G_GNUC_WARN_UNUSED_RESULT;
const char *bench_of_step (const Bench *bench, const BookEvidenceStep *step);

void     bench_set_build_list      (const Bench *bench, PaperFlow *flow);
void     bench_set_measuring_sheet (const Bench *bench, PaperFlow *flow);
void     bench_set_unit_cards      (const Bench *bench, PaperFlow *flow);
void     bench_set_tally_sheet     (const Bench *bench, PaperFlow *flow);
void     bench_set_change_notice   (const Bench *bench, PaperFlow *flow);
void     bench_set_issue_card      (const Bench *bench, PaperFlow *flow);

G_END_DECLS
