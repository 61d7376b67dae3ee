/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Several series at one look, which is prepared once. */

#include "insight-design-private.h"
#include "insight-series.h"

G_BEGIN_DECLS

InsightSeries *insight_series_at (const InsightBasis *basis,
                                  const InsightLook  *look,
                                  guint               characteristic) G_GNUC_WARN_UNUSED_RESULT;

/* Sets @error to %INSIGHT_ERROR_CHARACTERISTIC. */
void           insight_series_refuse_characteristic (const BookEvidence *evidence,
                                                     GError            **error);

G_END_DECLS
