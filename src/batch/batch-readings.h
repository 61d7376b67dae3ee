/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the readings of a characteristic say, as the verbs 'readings' and 'chart' ask for it. */

#include "batch-call.h"
#include "book-evidence.h"
#include "present-readings.h"

G_BEGIN_DECLS

/* A characteristic with its single values, which live as long as what is said of them. */
typedef struct
{
  InsightSeries      *series;
  InsightIndividuals *individuals;
  PresentReadings    *present;
} BatchReadings;

void     batch_readings_clear (BatchReadings      *readings);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BatchReadings, batch_readings_clear)

gboolean batch_readings       (BatchCall          *call,
                               const BookEvidence *evidence,
                               const char         *code,
                               guint               rules,
                               const InsightSpan  *span,
                               BatchReadings      *readings,
                               BatchStatus        *status) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
