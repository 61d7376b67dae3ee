/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What somebody took out of the evidence, or let pass as it was, each with who said so and why.
 */

#include "book-readings.h"
#include "insight-issue.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/* @rows: (array length=n) (element-type BookReadingRow): the voided readings; %NULL where one is gone. */
PresentSheet *present_voids_sheet       (BookReadingRow *const *rows,
                                         guint                  n) G_GNUC_WARN_UNUSED_RESULT;
PresentSheet *present_concessions_sheet (const InsightIssues   *issues) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
