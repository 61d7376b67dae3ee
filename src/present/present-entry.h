/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The grid in which a round is filled in, in words: headings, values, what a cell says, and what is to be asked or warned of. */

#include "insight-entry.h"

G_BEGIN_DECLS

char *present_entry_title   (const InsightEntryColumn *column) G_GNUC_WARN_UNUSED_RESULT;
char *present_entry_limits  (const InsightEntryColumn *column) G_GNUC_WARN_UNUSED_RESULT;
char *present_entry_value   (const InsightEntryColumn *column,
                             BookMark                  mark,
                             double                    value) G_GNUC_WARN_UNUSED_RESULT;
/* A sign that says by its shape how a value stands; NULL: within its limits, or nothing to say. */
const char *present_entry_sign (InsightEntryJudged     judged,
                                gboolean               slips);
char *present_entry_cell    (const InsightEntry       *entry,
                             guint                     unit,
                             guint                     column,
                             BookMark                  mark,
                             double                    value,
                             InsightEntryJudged        judged) G_GNUC_WARN_UNUSED_RESULT;
char *present_entry_slip    (const InsightEntry       *entry,
                             guint                     unit,
                             guint                     column,
                             double                    value,
                             double                    meant) G_GNUC_WARN_UNUSED_RESULT;
char *present_entry_gauge   (const InsightEntryGauge  *gauge) G_GNUC_WARN_UNUSED_RESULT;
char *present_entry_missing (const InsightEntry       *entry,
                             guint                     all,
                             guint                     unit,
                             guint                     of_unit,
                             guint                     column,
                             guint                     of_column) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
