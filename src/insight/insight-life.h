/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Life tests of one characteristic: which tests count, how long units lived by each way of failing, whether the criterion
 * that asks for it is met, what would prove it, and how the cycles between failures grew over the rounds.
 */

#include "insight-series.h"
#include "insight-standing.h"
#include "num-growth.h"
#include "num-weibull.h"

G_BEGIN_DECLS

#define INSIGHT_LIFE_CONFIDENCE 0.90 /* two-sided, of bands and intervals */
#define INSIGHT_LIFE_FIT        3    /* failures of one way from which there is a line */
#define INSIGHT_LIFE_GROWTH     5    /* failures from which growth is looked for */
#define INSIGHT_LIFE_LINE       41   /* points of a line */

/**
 * InsightLifeTest:
 * @id: key
 * @unit: key
 * @issue: key of what ended it; 0: none was named
 * @mode: title of that issue, "" without one
 * @counting: whether the unit counts, and why not
 * @again: the unit was tested before; its first test counts
 * @short_load: stopped without a failure under less than the load asked for
 */
typedef struct
{
  gint64          id;
  gint64          unit;
  gint64          issue;
  int             no;
  char           *date;
  char           *round;
  char           *serial;
  double          load;
  double          cycles;
  gboolean        failed;
  int             issue_no;
  char           *mode;
  InsightCounting counting;
  gboolean        again;
  gboolean        short_load;
} InsightLifeTest;

/* A failure's place on Weibull paper. @share: failed by then, the middle of the product-limit step (Meeker and Escobar 1998,
 * section 6.4, from memory). */
typedef struct
{
  gint64 unit;
  char  *serial;
  double cycles;
  double share;
} InsightLifePoint;

/* The line of a fit at some cycles: share failed, with its pointwise band. */
typedef struct
{
  double cycles;
  double share;
  double low;
  double high;
} InsightLifeLine;

/**
 * InsightLifeMode:
 * @issue: key; 0: no issue was named
 * @title: of the issue, "" without one
 * @failures: counted units that failed so; all others are stopped there
 * @fitted: there is a line
 * @fit: at %INSIGHT_LIFE_CONFIDENCE; its b10_low at one-sided 0.90 too
 * @survival: share that lives beyond the wanted cycles as far as this way goes; NAN without a line or a wanted number
 * @survival_low: its lower bound, one-sided
 * @line: (array length=n_line)
 */
typedef struct
{
  gint64            issue;
  int               issue_no;
  char             *title;
  guint             failures;
  InsightLifePoint *points;
  guint             n_points;
  gboolean          fitted;
  NumWeibull        fit;
  double            survival;
  double            survival_low;
  InsightLifeLine  *line;
  guint             n_line;
} InsightLifeMode;

/**
 * InsightLifePlan:
 * @units: to be cycled
 * @cycles: each
 * @failures: of them that may fail on the way
 * @assurance: chance to get there by what is known so far; NAN where nothing is
 * @bad_passes: the same chance at exactly the tolerated share, under the shape that makes it largest
 */
typedef struct
{
  guint  units;
  double cycles;
  guint  failures;
  double assurance;
  double bad_passes;
} InsightLifePlan;

/* What a round's tests add to the course: all units, in order of date. */
typedef struct
{
  gint64 round;
  char  *label;
  guint  tests;
  guint  failures;
  double cycles; /* of this round's tests */
  double end;    /* cumulative, after them */
} InsightLifeRound;

/**
 * InsightGrowthState:
 * @INSIGHT_GROWTH_TOO_FEW: fewer than %INSIGHT_LIFE_GROWTH failures
 * @INSIGHT_GROWTH_NOT_LAW: the failures do not follow the power law: no figure may be said
 * @INSIGHT_GROWTH_NONE: the exponent's interval holds 1: neither growth nor decline
 * @INSIGHT_GROWTH_UP: failures come more seldom
 * @INSIGHT_GROWTH_DOWN: failures come more often
 */
typedef enum
{
  INSIGHT_GROWTH_TOO_FEW,
  INSIGHT_GROWTH_NOT_LAW,
  INSIGHT_GROWTH_NONE,
  INSIGHT_GROWTH_UP,
  INSIGHT_GROWTH_DOWN
} InsightGrowthState;

/**
 * InsightLifeGrowth:
 * @times: (array length=n): cumulative cycles at each failure
 * @end: all cycles
 * @by_failure: the last test ended with a failure
 * @fit: NAN below two failures
 * @beta_interval: of the exponent; at %INSIGHT_LIFE_CONFIDENCE
 * @cvm_limit: above it the failures do not follow the law, at a tenth
 * @mixed_loads: tests under different loads are put together
 */
typedef struct
{
  InsightGrowthState state;
  double            *times;
  gint64            *units;
  char             **serials;
  guint              n;
  double             end;
  gboolean           by_failure;
  gboolean           mixed_loads;
  NumGrowth          fit;
  NumInterval        beta_interval;
  double             cvm_limit;
  InsightLifeRound  *rounds;
  guint              n_rounds;
} InsightLifeGrowth;

/* A characteristic that life tests, their plan or a criterion speak of. */
typedef struct
{
  gint64 id;
  char  *code;
  char  *name;
  guint  tests;
} InsightLifeChoice;

/**
 * InsightLife:
 * @choices: (element-type InsightLifeChoice): what can be asked about
 * @characteristic: key; 0: none of the model is cycled
 * @unit: of the load
 * @standing: (nullable): the criterion of kind life that asks about it, alone; %NULL without one
 * @wanted_cycles: NAN without a criterion
 * @wanted_load: NAN: any
 * @share: wanted to live beyond them; NAN without a criterion
 * @shape: stated beforehand; NAN
 * @tests: in order of date
 * @n: counted units
 * @failed: of these
 * @modes: most failures first
 * @survival: share that lives beyond the wanted cycles, all ways together; NAN unless each has a line
 * @plan_fresh: the plan is a new test of its own: what was counted is not built upon
 * @plan_wanted: confidence that the plan reaches
 * @plan_units: so many units at given cycles
 * @plan_cycles: so many cycles at given units
 */
typedef struct
{
  gint64             model;
  char              *model_code;
  char              *today;
  GPtrArray         *choices;
  gint64             characteristic;
  char              *code;
  char              *name;
  char              *unit;
  int                decimals;
  InsightStanding   *standing;
  double             wanted_cycles;
  double             wanted_load;
  double             share;
  NumInterval        shape;
  InsightLifeTest   *tests;
  guint              n_tests;
  guint              n;
  guint              failed;
  double            *stopped; /* of counted units that were stopped, ascending */
  guint              n_stopped;
  InsightLifeMode   *modes;
  guint              n_modes;
  double             survival;
  InsightLifeGrowth  growth;
  gboolean           plan_fresh;
  double             plan_wanted;
  GArray            *plan_units;  /* InsightLifePlan */
  GArray            *plan_cycles; /* InsightLifePlan */
} InsightLife;

InsightLife *insight_life      (const BookEvidence *evidence,
                                gint64              characteristic,
                                const InsightSpan  *span,
                                GCancellable       *cancellable,
                                GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void         insight_life_free (InsightLife        *life);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightLife, insight_life_free)

G_END_DECLS
