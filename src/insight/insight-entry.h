/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A round as it is filled in: its units down, the characteristics of its model across, in each cell the reading of an
 * attempt, judged by the limits in force; what is still missing; and values that look like a slipped decimal point.
 */

#include <gio/gio.h>

#include "book-choices.h"

G_BEGIN_DECLS

typedef struct _BookEvidence BookEvidence; /* book-evidence.h */

/**
 * InsightEntryJudged:
 * @INSIGHT_ENTRY_EMPTY: nothing was read
 * @INSIGHT_ENTRY_OPEN: there is nothing to judge it by, or a value beyond the gauge's range may lie on either side
 * @INSIGHT_ENTRY_INSIDE: within its limits, or passed
 * @INSIGHT_ENTRY_ABOVE: above the upper limit
 * @INSIGHT_ENTRY_BELOW: below the lower limit
 * @INSIGHT_ENTRY_FAILED: a check that failed
 */
typedef enum
{
  INSIGHT_ENTRY_EMPTY,
  INSIGHT_ENTRY_OPEN,
  INSIGHT_ENTRY_INSIDE,
  INSIGHT_ENTRY_ABOVE,
  INSIGHT_ENTRY_BELOW,
  INSIGHT_ENTRY_FAILED
} InsightEntryJudged;

/**
 * InsightEntryColumn:
 * @lower: limit in force; -INFINITY without one
 * @upper: limit in force; INFINITY without one
 * @gauge: index of the usual gauge among the gauges; -1: none
 * @missing: cells of it in which a reading is expected and missing
 * @n_values: measured values that are shown
 * @n_usual: of them, those from which what is usual was last read; with @usual, kept by insight_entry_slip()
 * @usual: the least and the greatest of those that lie near the median
 */
typedef struct
{
  gint64                 id;
  char                  *code;
  char                  *name;
  char                  *unit;
  BookCharacteristicKind kind;
  int                    decimals;
  double                 lower;
  double                 upper;
  int                    gauge;
  guint                  missing;
  guint                  n_values;
  guint                  n_usual;
  double                 usual[2];
} InsightEntryColumn;

/* @gone: scrapped, consumed, set aside or away. @missing: of its cells. */
typedef struct
{
  gint64   id;
  char    *serial;
  gboolean gone;
  guint    missing;
} InsightEntryUnit;

/**
 * InsightEntryCell:
 * @reading: key of the reading shown; 0: there is none that stands
 * @voided: key of one that was voided and has no successor yet; 0
 * @value: of either; NAN
 * @n: number of the repeat of @reading, or which the next one gets
 * @others: further readings that stand of this unit, of other repeats and attempts
 * @expected: a reading belongs here
 */
typedef struct
{
  gint64   reading;
  gint64   voided;
  double   value;
  BookMark mark;
  guint    n;
  guint    others;
  gboolean expected;
} InsightEntryCell;

/* @out: readings by it do not count today. @due: the day after which they do not, "" */
typedef struct
{
  gint64   id;
  char    *name;
  gboolean out;
  char    *due;
} InsightEntryGauge;

/**
 * InsightEntry:
 * @attempts: the most attempts that a unit has, at least 1
 * @cells: (array): by unit, then characteristic
 */
typedef struct
{
  gint64              round;
  char               *label;
  guint               attempt;
  guint               repeat;
  guint               attempts;
  InsightEntryColumn *columns;
  guint               n_columns;
  InsightEntryUnit   *units;
  guint               n_units;
  InsightEntryCell   *cells;
  InsightEntryGauge  *gauges;
  guint               n_gauges;
  guint               missing;
} InsightEntry;

InsightEntry      *insight_entry       (const BookEvidence       *evidence,
                                        gint64                    round,
                                        guint                     attempt,
                                        guint                     repeat,
                                        const char               *today,
                                        GError                  **error) G_GNUC_WARN_UNUSED_RESULT;
void               insight_entry_free  (InsightEntry             *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightEntry, insight_entry_free)

InsightEntryCell  *insight_entry_cell  (const InsightEntry       *entry,
                                        guint                     unit,
                                        guint                     column);
void               insight_entry_put   (InsightEntry             *entry,
                                        guint                     unit,
                                        guint                     column,
                                        gint64                    reading,
                                        BookMark                  mark,
                                        double                    value);
InsightEntryJudged insight_entry_judge (const InsightEntryColumn *column,
                                        BookMark                  mark,
                                        double                    value);
InsightEntryJudged insight_entry_judge_reading
                                       (const BookEvidence       *evidence,
                                        gint64                    reading,
                                        const char               *today);
double             insight_entry_slip  (const InsightEntry       *entry,
                                        guint                     unit,
                                        guint                     column,
                                        double                    value);

G_END_DECLS
