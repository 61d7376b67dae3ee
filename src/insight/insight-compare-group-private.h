/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The two groups of one effect: which units count on each side, by what values, and what has to be said of them.
 */

#include "insight-compare-private.h"
#include "insight-units-private.h"

G_BEGIN_DECLS

typedef struct
{
  GArray  *values[2];   /* double: by side */
  guint    n_read;      /* units with any reading, counted or not */
  guint    n_censored;  /* counted units by a reading that is only a bound */
  gboolean has_limits;
  gboolean too_few;
  gboolean other_gauges; /* no gauge read on both sides */
} InsightGroups;

void           insight_groups_gather    (InsightGroups        *groups,
                                         InsightCompare       *compare,
                                         InsightUnits         *units,
                                         const InsightSides   *sides,
                                         InsightEffect        *effect);
void           insight_groups_clear     (InsightGroups        *groups);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (InsightGroups, insight_groups_clear)

InsightRemark *insight_effect_remark    (InsightEffect        *effect,
                                         InsightRemarkCode     code);
void           insight_remark_add_name  (InsightRemark        *remark,
                                         const char           *name);
void           insight_remark_add_count (InsightRemark        *remark,
                                         gint64                count);
void           insight_remark_free      (InsightRemark        *remark);

G_END_DECLS
