/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What insight-change.c and insight-change-subjects.c share. */

#include "insight-basis-private.h"
#include "insight-change.h"

G_BEGIN_DECLS

/* A text of the evidence that outlives it. */
static inline const char *
insight_changes_keep (InsightChanges *changes, const char *text)
{
  return g_string_chunk_insert_const (changes->list->strings, text);
}

int  insight_part_fitted             (const InsightBasis *basis,
                                      int                 part);
void insight_changes_add_subjects    (InsightChanges     *changes,
                                      const InsightBasis *basis,
                                      BookDay             today);
void insight_changes_add_unexplained (InsightChanges     *changes,
                                      const InsightBasis *basis);

G_END_DECLS
