/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Paper for the bench, to be written on with a pencil: what goes into a round, what is measured, the card that travels with
 * a unit, counts before there are serials, and what a change or an issue is about. It stays in the shop; no person is named
 * on it, but there is room for initials.
 */

#include <gio/gio.h>

#include "paper-document.h"
#include "store-db.h"

G_BEGIN_DECLS

typedef enum
{
  PAPER_BENCH_BUILD_LIST,
  PAPER_BENCH_MEASURING_SHEET,
  PAPER_BENCH_UNIT_CARD,
  PAPER_BENCH_TALLY_SHEET,
  PAPER_BENCH_CHANGE_NOTICE,
  PAPER_BENCH_ISSUE_CARD,
  PAPER_N_BENCH_KINDS
} PaperBenchKind;


/**
 * PaperBenchAsk:
 * @kind: of paper
 * @model: key
 * @round: key, of build list, measuring sheet, tally sheet and the cards of all units of a round; 0: not asked
 * @unit: key, of one card; 0: all of @round
 * @change: key, of a notice
 * @issue: key, of a card
 * @today: the day that it bears, ISO 8601
 * @size: a #PaperSize; %PAPER_SIZE_OF_BOOK: what the book's setting says
 *
 * What is to be put on paper.
 */
typedef struct _PaperBenchAsk
{
  PaperBenchKind kind;
  gint64         model;
  gint64         round;
  gint64         unit;
  gint64         change;
  gint64         issue;
  const char    *today;
  int            size;
} PaperBenchAsk;

const char    *paper_bench_word      (PaperBenchKind       kind);
const char    *paper_bench_title     (PaperBenchKind       kind);
const char    *paper_bench_summary   (PaperBenchKind       kind);
gboolean       paper_bench_needs_round (PaperBenchKind     kind);
char          *paper_bench_file_name (PaperBenchKind       kind,
                                      const char          *model,
                                      const char          *about,
                                      const char          *today) G_GNUC_WARN_UNUSED_RESULT;
PaperDocument *paper_bench_document  (StoreDb             *db,
                                      const PaperBenchAsk *ask,
                                      GCancellable        *cancellable,
                                      GError             **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
