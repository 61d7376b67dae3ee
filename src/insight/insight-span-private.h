/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The span of a question, as indices and days.
 */

#include "insight-standing.h"
#include "book-day.h"

G_BEGIN_DECLS

gboolean insight_span_resolve (const BookEvidence *evidence,
                               const InsightSpan  *span,
                               int                *through,
                               BookDay            *today,
                               GError            **error) G_GNUC_WARN_UNUSED_RESULT;

/* Working days after @from up to and including @to; 0 when @to is not after @from, or either is not known. */
guint    insight_span_working_days (const BookEvidence *evidence,
                                    BookDay             from,
                                    BookDay             to);

G_END_DECLS
