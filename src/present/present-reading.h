/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One reading as a row of a table: its cells, how weighty each is, and all of it in words. */

#include "book-readings.h"
#include "insight-entry.h"
#include "insight-series.h"

G_BEGIN_DECLS

typedef enum
{
  PRESENT_READING_ROUND,
  PRESENT_READING_SERIAL,
  PRESENT_READING_CHARACTERISTIC,
  PRESENT_READING_ATTEMPT,
  PRESENT_READING_VALUE,
  PRESENT_READING_STATE,
  PRESENT_READING_TAKEN,
  PRESENT_READING_PERSON,
  PRESENT_READING_REMARK,
  PRESENT_N_READING_COLUMNS
} PresentReadingColumn;

/**
 * PresentWeight:
 * @PRESENT_WEIGHT_PLAIN: as ordinary text
 * @PRESENT_WEIGHT_LESS: no longer counts, or is of lesser interest
 * @PRESENT_WEIGHT_OPEN: needs a person
 * @PRESENT_WEIGHT_STRUCK: voided
 */
typedef enum
{
  PRESENT_WEIGHT_PLAIN,
  PRESENT_WEIGHT_LESS,
  PRESENT_WEIGHT_OPEN,
  PRESENT_WEIGHT_STRUCK
} PresentWeight;

const char *present_reading_heading (PresentReadingColumn  column);
char       *present_reading_cell    (const BookReadingRow *row,
                                     const InsightMark    *mark,
                                     PresentReadingColumn  column,
                                     PresentWeight        *weight) G_GNUC_WARN_UNUSED_RESULT;
char       *present_reading_words   (const BookReadingRow *row,
                                     const InsightMark    *mark) G_GNUC_WARN_UNUSED_RESULT;
char       *present_reading_issue   (const BookReadingRow *row,
                                     InsightEntryJudged    judged) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
