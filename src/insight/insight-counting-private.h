/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What makes a unit count at a look, whatever kind of test speaks about it: its kind of round, its being excused, its
 * state of design, and whether somebody altered it before.
 */

#include "insight-design-private.h"
#include "insight-series.h"

G_BEGIN_DECLS

gboolean        insight_kind_counts          (BookRoundKind      kind,
                                              BookCountsFrom     counts_from);
gboolean        insight_is_excused           (const InsightLook *look,
                                              guint              unit);
gboolean        insight_is_carried_for_issue (const InsightLook *look,
                                              int                characteristic,
                                              int                issue);
gboolean        insight_is_altered           (const InsightLook *look,
                                              int                characteristic,
                                              guint              unit,
                                              BookDay            day,
                                              int                second);
InsightCounting insight_counting_of          (const InsightLook *look,
                                              int                characteristic,
                                              guint              unit,
                                              BookCountsFrom     counts_from);

/* By unit: index of what is planned for it. */
int            *insight_planned_tests        (const BookEvidence *e,
                                              int                characteristic) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
