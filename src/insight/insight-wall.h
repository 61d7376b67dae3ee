/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* All characteristics of a model at one look, the worst first. */

#include "insight-individuals.h"

G_BEGIN_DECLS

#define INSIGHT_WALL_LEAST 3 /* units below which nothing is said about a distance to a limit */

/**
 * InsightWallGroup:
 * @INSIGHT_WALL_FAILS: units that count fail; by the share that fails at least (lower end of its exact 0.95 interval)
 * @INSIGHT_WALL_NEAR: measured and none fails; by the distance of the mean to the nearer limit, in deviations
 * @INSIGHT_WALL_PASSES: checked and none fails; by the number of units
 * @INSIGHT_WALL_TOO_FEW: fewer than %INSIGHT_WALL_LEAST units count
 * @INSIGHT_WALL_NO_LIMITS: measured, and no limits are in force
 * @INSIGHT_WALL_NO_DATA: nothing that counts was measured
 *
 * In this order they stand on the wall.
 */
typedef enum
{
  INSIGHT_WALL_FAILS,
  INSIGHT_WALL_NEAR,
  INSIGHT_WALL_PASSES,
  INSIGHT_WALL_TOO_FEW,
  INSIGHT_WALL_NO_LIMITS,
  INSIGHT_WALL_NO_DATA,
  INSIGHT_N_WALL_GROUPS
} InsightWallGroup;

/**
 * InsightWallItem:
 * @series: the characteristic
 * @individuals: by rule 1 alone: of many charts at once more rules would give false signals everywhere
 * @group: where it stands
 * @measure: what orders it within its group: share, distance, units; NAN where there is none
 */
typedef struct
{
  InsightSeries      *series;
  InsightIndividuals *individuals;
  InsightWallGroup    group;
  double              measure;
} InsightWallItem;

/* @counts: items of each group. */
typedef struct
{
  InsightWallItem *items;
  guint            n_items;
  guint            counts[INSIGHT_N_WALL_GROUPS];
  guint            signals; /* items with a signal */
} InsightWall;

InsightWall *insight_wall            (const BookEvidence *evidence,
                                      const InsightSpan  *span,
                                      GCancellable       *cancellable,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void         insight_wall_free       (InsightWall        *wall);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightWall, insight_wall_free)
const char  *insight_wall_group_name (InsightWallGroup    group);

G_END_DECLS
