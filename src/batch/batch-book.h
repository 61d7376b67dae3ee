/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The book of a call, and what the shared options name in it.
 */

#include "batch-call.h"
#include "book-evidence.h"
#include "book.h"
#include "insight-standing.h"

G_BEGIN_DECLS

gboolean     batch_book_open  (BatchCall          *call,
                               Book              **book,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;
gboolean     batch_intent     (BatchCall          *call,
                               Book               *book,
                               const char         *action,
                               StoreIntent        *intent,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;
gboolean     batch_model      (BatchCall          *call,
                               StoreDb            *db,
                               gint64             *model,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;
gboolean     batch_evidence   (BatchCall          *call,
                               Book               *book,
                               BookEvidence      **evidence,
                               InsightSpan        *span,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;
gboolean     batch_round      (BatchCall          *call,
                               const BookEvidence *evidence,
                               const char         *label,
                               gint64             *round,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;
gboolean batch_gate       (BatchCall          *call,
                           const BookEvidence *evidence,
                           const char         *name,
                           gint64             *gate,
                           BatchStatus        *status);
GPtrArray   *batch_other_rounds (Book             *book,
                               gint64              model,
                               GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean     batch_is_moment  (const char         *text);

G_END_DECLS
