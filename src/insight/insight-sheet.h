/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The measuring sheet of a round: units down in the order of build, characteristics across by code, and in each cell what was
 * read, or that nothing is to be read there.
 */

#include "book-evidence.h"

G_BEGIN_DECLS

/**
 * InsightSheetColumn:
 * @index: of the characteristic in the evidence
 * @lower: limit in force on the day asked about; -INFINITY for none
 * @upper: likewise; INFINITY for none
 * @gauge: that is usually taken, ""
 * @is_life: it is tested by living: cycles are written down
 * @is_wanted: some unit of the sheet has a cell that is not left out
 *
 * Strings are borrowed from the evidence.
 */
typedef struct
{
  guint                  index;
  gint64                 id;
  const char            *code;
  const char            *name;
  const char            *unit;
  int                    decimals;
  BookCharacteristicKind kind;
  BookClass              klass;
  double                 lower;
  double                 upper;
  const char            *gauge;
  gboolean               is_life;
  gboolean               is_wanted;
} InsightSheetColumn;

/**
 * InsightSheetState:
 * @INSIGHT_SHEET_WANTED: not read yet
 * @INSIGHT_SHEET_LEFT_OUT: the plan names other units for it, or it would destroy a unit that is not named
 * @INSIGHT_SHEET_READ: read: the last attempt
 */
typedef enum
{
  INSIGHT_SHEET_WANTED,
  INSIGHT_SHEET_LEFT_OUT,
  INSIGHT_SHEET_READ
} InsightSheetState;

/**
 * InsightSheetCell:
 * @state: what it is
 * @is_planned: the plan of the round names the unit for it
 * @value: the first reading of the last attempt; of a life the cycles; NAN for a check
 * @mark: of that reading
 * @n: readings of the attempt
 */
typedef struct
{
  InsightSheetState state;
  gboolean          is_planned;
  double            value;
  BookMark          mark;
  guint             n;
} InsightSheetCell;

/* @unit: index in the evidence, -1 while it is not built; @serial: "" where none is known yet. */
typedef struct
{
  int         unit;
  const char *serial;
} InsightSheetRow;

typedef struct
{
  GArray           *columns; /* InsightSheetColumn: all characteristics of the model */
  GArray           *rows;    /* InsightSheetRow */
  InsightSheetCell *cells;   /* row by row */
} InsightSheet;

InsightSheet           *insight_sheet_new  (const BookEvidence *evidence,
                                            gint64              round,
                                            const char         *today) G_GNUC_WARN_UNUSED_RESULT;
void                    insight_sheet_free (InsightSheet       *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightSheet, insight_sheet_free)
const InsightSheetCell *insight_sheet_cell (const InsightSheet *sheet,
                                            guint               row,
                                            guint               column);
int                     insight_sheet_find (const InsightSheet *sheet,
                                            int                 unit);

G_END_DECLS
