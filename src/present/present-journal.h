/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows of the journal as a window shows them: an action, and a field that it changed. present-history.h writes the same
 * for a terminal.
 */

#include "book-history.h"

G_BEGIN_DECLS

/**
 * PresentActionColumn:
 * @PRESENT_ACTION_DAY: the reader's day; "" where the row before has the same
 * @PRESENT_ACTION_TIME: hours and minutes of the reader's clock
 * @PRESENT_ACTION_PERSON: initials
 * @PRESENT_ACTION_WHAT: the sentence
 * @PRESENT_ACTION_STATE: taken back since, or erased
 */
typedef enum
{
  PRESENT_ACTION_DAY,
  PRESENT_ACTION_TIME,
  PRESENT_ACTION_PERSON,
  PRESENT_ACTION_WHAT,
  PRESENT_ACTION_STATE,
  PRESENT_N_ACTION_COLUMNS
} PresentActionColumn;

/**
 * PresentLineColumn:
 * @PRESENT_LINE_RECORD: kind and visible key; "" where the row before has the same
 * @PRESENT_LINE_OP: whether the record came, changed or went; "" likewise
 * @PRESENT_LINE_FIELD: label of the field
 * @PRESENT_LINE_BEFORE: its value before
 * @PRESENT_LINE_AFTER: its value after
 */
typedef enum
{
  PRESENT_LINE_RECORD,
  PRESENT_LINE_OP,
  PRESENT_LINE_FIELD,
  PRESENT_LINE_BEFORE,
  PRESENT_LINE_AFTER,
  PRESENT_N_LINE_COLUMNS
} PresentLineColumn;

const char *present_action_heading (PresentActionColumn      column);
char       *present_action_cell    (const BookHistoryAction *action,
                                    const BookHistoryAction *before,
                                    PresentActionColumn      column) G_GNUC_WARN_UNUSED_RESULT;
const char *present_line_heading   (PresentLineColumn        column);
char       *present_line_cell      (const BookHistoryLine   *line,
                                    const BookHistoryLine   *before,
                                    PresentLineColumn        column) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
