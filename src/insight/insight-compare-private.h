/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How a comparison is made: which units stand on which side, what differs between the sides (insight-compare-design.c),
 * what the readings say (insight-compare-effects.c).
 */

#include "insight-compare.h"
#include "insight-design-private.h"

G_BEGIN_DECLS

#define INSIGHT_UNSAID (-2) /* a revision of which nobody says which it is */

/* Two sides: the units of two rounds, or two groups of one round by the revision or lot of a part or step. */
typedef struct
{
  int               from;  /* of two rounds; else -1 */
  int               to;
  int               round; /* of two groups; else -1 */
  InsightDependence by;
  gboolean          lots;
  int               old_state; /* revision or lot */
  int               new_state;
  int               keep_part; /* of two rounds: only units with this revision of this part; -1: all */
  int               keep_revision;
} InsightSides;

typedef enum
{
  INSIGHT_SIDE_NONE = -1,
  INSIGHT_SIDE_BEFORE,
  INSIGHT_SIDE_AFTER
} InsightSide;

/* What stands behind an InsightDifference. */
typedef struct
{
  InsightDependence on;
  const char       *setting; /* of a step; else "" */
  GArray           *before;  /* InsightStateCount: as built, else as planned */
  GArray           *after;
  GArray           *changes; /* int: of the evidence */
  gboolean          differs; /* not only another than planned */
} InsightDifferenceRoot;

/* A state and how many units have it. Settings are told apart by @value, all else by @state. */
typedef struct
{
  int    state;
  double value;
  guint  units;
} InsightStateCount;

typedef struct
{
  const BookEvidence *e;
  const InsightBasis *basis;
  const InsightLook  *look;
  InsightComparison  *out;
  InsightSides        sides;
  GPtrArray          *roots; /* InsightDifferenceRoot, one for each difference of @out */
} InsightCompare;

InsightSide  insight_side_of              (const InsightCompare *compare,
                                           const InsightSides   *sides,
                                           guint                 unit);
gboolean     insight_compare_was_built    (const InsightCompare *compare,
                                           guint                 unit);
int          insight_compare_state        (const InsightCompare *compare,
                                           InsightDifferenceKind kind,
                                           InsightDependence     on,
                                           guint                 unit);
void         insight_count_state          (GArray               *counts,
                                           int                   state,
                                           double                value);
gboolean     insight_has_state            (const GArray         *counts,
                                           int                   state,
                                           double                value);
gboolean     insight_same_states          (const GArray         *one,
                                           const GArray         *other);
const char  *insight_compare_keep         (InsightCompare       *compare,
                                           const char           *text);
const char  *insight_compare_date         (InsightCompare       *compare,
                                           BookDay               day);
const char  *insight_dependence_name      (InsightCompare       *compare,
                                           InsightDependence     on);

void         insight_compare_find_differences (InsightCompare   *compare);
void         insight_compare_explain      (InsightCompare       *compare);
gboolean     insight_compare_find_effects (InsightCompare       *compare,
                                           GCancellable         *cancellable,
                                           GError              **error);
void         insight_difference_root_free (InsightDifferenceRoot *root);
void         insight_effect_free          (InsightEffect         *effect);

G_END_DECLS
