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

G_END_DECLS
