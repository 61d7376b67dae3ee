/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How many good ones a month, and what one costs: of each bench the minutes it has over the minutes that all its steps
 * need for one shippable piece. Everything that the answer is made of lies in one struct that may be changed and asked
 * again, so that a page can ask 'what if' without touching the book.
 */

#include "insight-pilot.h"

G_BEGIN_DECLS

#define INSIGHT_RATE_WEEKS_MONTH (52.0 / 12.0)
#define INSIGHT_RATE_PLAN        0.85 /* share of the ceiling that a plan uses at most: waiting grows as u/(1-u) */
#define INSIGHT_RATE_RUN_DAYS    5    /* run days from which there is an interval */
#define INSIGHT_RATE_CONFIDENCE  0.90 /* of the interval */

/**
 * InsightRateBench:
 * @hours_week: NAN in the book means the shop's working week, which stands here then
 *
 * A bench, or an outside step's supplier, which has no machines.
 */
typedef struct
{
  gint64 id;
  char  *name;
  double machines;
  double people;
  double hours_week;
  double uptime;
  double share_free;
} InsightRateBench;

/**
 * InsightRateStep:
 * @bench: index in the benches; -1: outside, or none was named
 * @batch: pieces, at least 1
 * @cycle_min: NAN: not known
 * @queue_days: of a batch at an outside step, in working days; NAN: not known
 * @rework_share: of the pieces
 * @yield: pieces that go on: 1 - scrapped share
 * @n: counted pieces behind both; 0: assumed
 * @reworked: of these, those that took rework at this step or wait for it
 * @scrapped: of these
 * @yield_fixed: it was set by a person, and is not drawn
 * @rework_fixed: likewise
 * @cycle_fixed: likewise
 * @day_minutes: (array length=n_days): minutes on each run day with minutes
 * @day_units: (array length=n_days): pieces on it
 * @counts: whether it takes part: own and inspection steps need a bench and minutes, outside ones days
 */
typedef struct
{
  gint64       id;
  int          position;
  char        *name;
  BookStepKind kind;
  int          bench;
  double       batch;
  double       setup_min;
  double       cycle_min;
  double       rework_min;
  double       queue_days;
  double       price;
  double       rework_share;
  double       yield;
  guint        n;
  guint        reworked;
  guint        scrapped;
  gboolean     yield_fixed;
  gboolean     rework_fixed;
  gboolean     cycle_fixed;
  double      *day_minutes;
  guint       *day_units;
  guint        n_days;
  gboolean     counts;
} InsightRateStep;

/* A part whose price is in the material of a unit. */
typedef struct
{
  gint64 id;
  char  *number;
  double cost; /* of all of it in a unit */
} InsightRatePart;

/**
 * InsightRateInput:
 * @material: of one unit, bought parts; prices that are not known are left out
 * @parts: (element-type InsightRatePart): what @material is made of; shared by copies
 * @unpriced: bought parts without a price
 * @hourly_cost: NAN: not set
 * @days_week: working days a week
 * @run_days: different days on which any step ran
 * @demand: wanted a month; NAN: not said
 */
typedef struct
{
  gint64            model;
  char             *label;
  InsightRateBench *benches;
  guint             n_benches;
  InsightRateStep  *steps;
  guint             n_steps;
  double            material;
  GArray           *parts;
  guint             unpriced;
  double            hourly_cost;
  double            days_week;
  guint             run_days;
  double            demand;
} InsightRateInput;

/**
 * InsightRateLine:
 * @bench: index of a bench; -1: an outside step, @step
 * @step: index of the outside step; -1
 * @minutes: needed at the bench for one shippable piece; NAN of an outside step
 * @available: minutes a month; NAN of an outside step
 * @month: shippable pieces a month
 * @constraint_chance: of being the least; NAN without an interval
 */
typedef struct
{
  int         bench;
  int         step;
  double      minutes;
  double      available;
  double      month;
  NumInterval interval;
  double      constraint_chance;
} InsightRateLine;

/**
 * InsightRate:
 * @month: ceiling: of the line that is least; NAN when nothing can be computed
 * @plan: %INSIGHT_RATE_PLAN of it
 * @interval: of the ceiling, at %INSIGHT_RATE_CONFIDENCE; NAN below %INSIGHT_RATE_RUN_DAYS run days
 * @constraint: index in @lines of the least
 * @cost: of one good unit, the sum of the next five; NAN while the hourly cost is not set
 * @cost_interval: as @interval
 * @cost_scrap: what others cost more because pieces are scrapped behind them
 * @flow_days: working days that an order waits at outside steps and queues
 */
typedef struct
{
  InsightRateLine *lines;
  guint            n_lines;
  guint            constraint;
  double           month;
  double           plan;
  NumInterval      interval;
  double           cost;
  NumInterval      cost_interval;
  double           cost_material;
  double           cost_outside;
  double           cost_minutes;
  double           cost_rework;
  double           cost_scrap;
  double           flow_days;
} InsightRate;

InsightRateInput *insight_rate_input      (const BookEvidence     *evidence,
                                           const InsightPilot     *pilot) G_GNUC_WARN_UNUSED_RESULT;
InsightRateInput *insight_rate_input_copy (const InsightRateInput *input) G_GNUC_WARN_UNUSED_RESULT;
void              insight_rate_input_free (InsightRateInput       *input);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightRateInput, insight_rate_input_free)

/**
 * InsightRateField:
 *
 * What a person may set otherwise. Of a bench: machines to share free; of a step the others.
 */
typedef enum
{
  INSIGHT_RATE_MACHINES,
  INSIGHT_RATE_PEOPLE,
  INSIGHT_RATE_HOURS,
  INSIGHT_RATE_UPTIME,
  INSIGHT_RATE_SHARE_FREE,
  INSIGHT_RATE_BATCH,
  INSIGHT_RATE_SETUP,
  INSIGHT_RATE_CYCLE,
  INSIGHT_RATE_REWORK,
  INSIGHT_RATE_QUEUE,
  INSIGHT_RATE_PRICE,
  INSIGHT_RATE_YIELD,
  INSIGHT_RATE_REWORK_SHARE,
  INSIGHT_RATE_N_FIELDS
} InsightRateField;

const char *insight_rate_field_name   (InsightRateField        field);
gboolean    insight_rate_field_of_bench (InsightRateField      field);
double      insight_rate_get          (const InsightRateInput *input,
                                       guint                   index,
                                       InsightRateField        field);
gboolean    insight_rate_set          (InsightRateInput       *input,
                                       guint                   index,
                                       InsightRateField        field,
                                       double                  value);

/**
 * InsightRateChange:
 * @field: what was set otherwise
 * @index: of a bench or a step, as the field is of
 * @value: set
 * @counted: the figure follows from what was counted or timed in the run, and is in no record that could hold another
 */
typedef struct
{
  InsightRateField field;
  guint            index;
  double           value;
  gboolean         counted;
} InsightRateChange;

GArray      *insight_rate_changes     (const InsightRateInput *before,
                                       const InsightRateInput *after) G_GNUC_WARN_UNUSED_RESULT;

InsightRate *insight_rate             (const InsightRateInput *input) G_GNUC_WARN_UNUSED_RESULT;
gboolean     insight_rate_draw        (InsightRate            *rate,
                                       const InsightRateInput *input,
                                       guint                   draws,
                                       double                  target,
                                       double                 *confidence,
                                       double                 *error_of,
                                       GCancellable           *cancellable);
double       insight_rate_by          (const InsightRateInput *input,
                                       const InsightRate      *rate,
                                       guint                   working_days,
                                       NumInterval            *interval);
void         insight_rate_free        (InsightRate            *rate);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightRate, insight_rate_free)

G_END_DECLS
