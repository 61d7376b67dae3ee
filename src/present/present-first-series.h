/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The first series after a release, in words: what was promised, told from the frozen evidence alone, against what came. Each
 * criterion then and now is present_frozen_beside().
 */

#include <json-glib/json-glib.h>

#include "insight-first-series.h"
#include "present-freeze.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentFirstSeries:
 * @headline: since when it is released, and what the series reached
 * @note: how the figures are to be read
 * @figures: yield, rate and cost, promised and reached; rows lead to the round
 * @issues: found since the release or after delivery; rows lead to issues
 */
typedef struct
{
  char         *headline;
  char         *note;
  PresentSheet *figures;
  PresentSheet *issues;
} PresentFirstSeries;

/* What came, and what it is told from. */
typedef struct
{
  const InsightFirstSeries *series;
  const InsightPilot       *pilot;
  const InsightRate        *rate;
  const PresentFrozen      *then;     /* NULL: what was known at the decision cannot be read */
  const char               *released; /* ISO 8601 date of the decision */
} PresentFirstSeriesFacts;

PresentFirstSeries *present_first_series_new      (const PresentFirstSeriesFacts *facts) G_GNUC_WARN_UNUSED_RESULT;
void                present_first_series_free     (PresentFirstSeries            *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentFirstSeries, present_first_series_free)

void                present_first_series_add_text (const PresentFirstSeries      *present,
                                                   GString                       *out,
                                                   guint                          width);
JsonNode           *present_json_first_series     (const PresentFirstSeries      *present,
                                                   const PresentFirstSeriesFacts *facts) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
