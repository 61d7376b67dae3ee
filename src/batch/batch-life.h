/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Life tests of a characteristic by its code, for the verbs that speak of them.
 */

#include "batch-call.h"
#include "insight-life.h"

G_BEGIN_DECLS

InsightLife *batch_life (BatchCall          *call,
                         const BookEvidence *evidence,
                         const char         *code,
                         const InsightSpan  *span,
                         BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
