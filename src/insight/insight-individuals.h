/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The chart of single values in order of build: a centre line and limits from the units that count, and the patterns that
 * point at something other than chance.
 */

#include "insight-series.h"

G_BEGIN_DECLS

#define INSIGHT_INDIVIDUALS_LEAST 20 /* values below which the limits are 'so far': common practice, no source */

/**
 * InsightRules:
 * @INSIGHT_RULE_ONE: a value beyond a limit
 * @INSIGHT_RULES_ALL: also nine in a row on one side, six in a row rising or falling, two of three and four of five far out
 *
 * Bits as num_signals() takes them.
 */
typedef enum
{
  INSIGHT_RULE_ONE = 1 << 1,
  INSIGHT_RULES_ALL = (1 << 1) | (1 << 2) | (1 << 3) | (1 << 5) | (1 << 6)
} InsightRules;

/**
 * InsightIndividualsState:
 * @INSIGHT_INDIVIDUALS_DRAWN: there are limits
 * @INSIGHT_INDIVIDUALS_CHECKED: a check has no values
 * @INSIGHT_INDIVIDUALS_TOO_FEW: fewer than two values count
 * @INSIGHT_INDIVIDUALS_SAME: all values are the same
 */
typedef enum
{
  INSIGHT_INDIVIDUALS_DRAWN,
  INSIGHT_INDIVIDUALS_CHECKED,
  INSIGHT_INDIVIDUALS_TOO_FEW,
  INSIGHT_INDIVIDUALS_SAME
} InsightIndividualsState;

/* A pattern that is complete at a mark of the series; rules as Nelson 1984 numbers them. */
typedef struct
{
  guint mark;
  guint rule;
} InsightSignal;

/**
 * InsightIndividuals:
 * @state: whether there are limits
 * @rules: that were looked for
 * @so_far: fewer than %INSIGHT_INDIVIDUALS_LEAST values: the limits will still move
 * @n: values that made the limits
 * @left_out: counting units without a value of their own: 'above', 'below', or passed where a value belongs
 * @centre: mean; NAN without values
 * @lower: limit; NAN where there is none
 * @upper: likewise
 * @moving_range: mean difference of neighbours; NAN below two values
 * @signals: (array length=n_signals): by mark, then rule
 */
typedef struct
{
  InsightIndividualsState state;
  guint                   rules;
  gboolean                so_far;
  guint                   n;
  guint                   left_out;
  double                  centre;
  double                  lower;
  double                  upper;
  double                  moving_range;
  InsightSignal          *signals;
  guint                   n_signals;
} InsightIndividuals;

InsightIndividuals *insight_individuals      (const InsightSeries *series,
                                              guint                rules) G_GNUC_WARN_UNUSED_RESULT;
void                insight_individuals_free (InsightIndividuals  *individuals);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightIndividuals, insight_individuals_free)

G_END_DECLS
