/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How the spread of the units that count fits between the limits, and how the values of each round lie. Indices are given
 * only where they mean something.
 */

#include "insight-series.h"

G_BEGIN_DECLS

#define INSIGHT_CAPABILITY_LEAST 30      /* units below which no index is given: common practice, no source */
#define INSIGHT_CAPABILITY_CONFIDENCE 0.95

/**
 * InsightCapabilityState:
 * @INSIGHT_CAPABILITY_GIVEN: there are indices
 * @INSIGHT_CAPABILITY_CHECKED: a check has no values
 * @INSIGHT_CAPABILITY_NO_LIMITS: no limits are in force
 * @INSIGHT_CAPABILITY_SHAPE: its shape was stated as unknown or log-normal, for which the indices do not hold
 * @INSIGHT_CAPABILITY_LEFT_OUT: some units have no value of their own ('above', 'below')
 * @INSIGHT_CAPABILITY_TOO_FEW: fewer than %INSIGHT_CAPABILITY_LEAST units count
 * @INSIGHT_CAPABILITY_SAME: values, or all neighbours, are the same
 */
typedef enum
{
  INSIGHT_CAPABILITY_GIVEN,
  INSIGHT_CAPABILITY_CHECKED,
  INSIGHT_CAPABILITY_NO_LIMITS,
  INSIGHT_CAPABILITY_SHAPE,
  INSIGHT_CAPABILITY_LEFT_OUT,
  INSIGHT_CAPABILITY_TOO_FEW,
  INSIGHT_CAPABILITY_SAME,
  INSIGHT_N_CAPABILITIES
} InsightCapabilityState;

/**
 * InsightCapability:
 * @state: whether there are indices
 * @n: values that count
 * @failed: units that count and fail
 * @counted: units that count
 * @share_low: of the failing share, exact interval at %INSIGHT_CAPABILITY_CONFIDENCE; NAN when none counts
 * @share_high: likewise
 * @signals: signals of rule 1: with any, the within indices describe a spread that does not last
 * @cp: NAN with one limit, as @pp
 * @cpk: from the moving range of neighbours
 * @pp: see @cp
 * @pp_low: two-sided interval of @pp at %INSIGHT_CAPABILITY_CONFIDENCE (chi-square); NAN with one limit
 * @pp_high: likewise
 * @ppk: from the deviation of all
 * @ppk_low: two-sided interval of @ppk at %INSIGHT_CAPABILITY_CONFIDENCE (Bissell 1990)
 * @ppk_high: likewise
 * @sd_within: of neighbours
 * @sd_overall: of all
 */
typedef struct
{
  InsightCapabilityState state;
  guint                  n;
  guint                  failed;
  guint                  counted;
  double                 share_low;
  double                 share_high;
  guint                  signals;
  double                 cp;
  double                 cpk;
  double                 pp;
  double                 pp_low;
  double                 pp_high;
  double                 ppk;
  double                 ppk_low;
  double                 ppk_high;
  double                 sd_within;
  double                 sd_overall;
} InsightCapability;

/**
 * InsightSpread5:
 * @n: values of units of the round, at the attempt that is evidence, whatever their state of design
 * @least: NAN without values, as all below
 * @q1: a quarter lies below
 * @median: half
 * @q3: three quarters
 * @most: the largest
 */
typedef struct
{
  guint  n;
  double least;
  double q1;
  double median;
  double q3;
  double most;
} InsightSpread5;

InsightCapability insight_capability       (const InsightSeries *series);
const char       *insight_capability_name  (InsightCapabilityState state);
InsightSpread5   *insight_spreads          (const InsightSeries *series) G_GNUC_WARN_UNUSED_RESULT;
gboolean          insight_mark_is_evidence (const InsightMark   *mark);

G_END_DECLS
