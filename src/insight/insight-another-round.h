/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One more round: what it takes in working days, units and money, and what it could prove. No price is put on a failure.
 */

#include "insight-forecast.h"
#include "insight-plan.h"
#include "insight-rate.h"

G_BEGIN_DECLS

#define INSIGHT_ANOTHER_WAYS 2 /* as many units as the newest round, and %INSIGHT_FORECAST_UNITS more */

/**
 * InsightAnotherCode:
 * @INSIGHT_ANOTHER_CHANCE: the chance is told
 * @INSIGHT_ANOTHER_UNKNOWN: nothing is known yet of how the units would do
 * @INSIGHT_ANOTHER_CANNOT: no such round meets it: no limits, a share that the owner has to set, too few deliveries
 * @INSIGHT_ANOTHER_OTHER: no number of units settles it: an issue, a document, a yield, a rate
 */
typedef enum
{
  INSIGHT_ANOTHER_CHANCE,
  INSIGHT_ANOTHER_UNKNOWN,
  INSIGHT_ANOTHER_CANNOT,
  INSIGHT_ANOTHER_OTHER
} InsightAnotherCode;

/* @counted: units of the round that count for it; @chance: that it is met, by what is known so far: NAN unless told;
 * @at_most: it may be less, since values are judged by lot. */
typedef struct
{
  guint    counted;
  double   chance;
  gboolean at_most;
} InsightAnotherProof;

/* A criterion that blocks. */
typedef struct
{
  gint64              id;
  char               *code;
  InsightAnotherCode  told; /* of the first way */
  InsightAnotherProof proofs[INSIGHT_ANOTHER_WAYS];
} InsightAnotherCriterion;

/**
 * InsightAnotherWay:
 * @units: built
 * @outside: what finished rounds cost outside the shop a unit, least, median and most, times @units; NAN: none is known
 * @inside: the cost of a good unit by the run, times @units; NAN: not known
 * @inside_interval: likewise; NAN: none
 * @all: chance that all criteria with a chance are met, as if each were independent of the others; NAN: none has one
 */
typedef struct
{
  guint       units;
  double      outside[3];
  double      inside;
  NumInterval inside_interval;
  double      all;
} InsightAnotherWay;

/**
 * InsightAnotherRound:
 * @round: label of the present round, where that is not tested yet: it is the one meant; "": one that is not planned yet
 * @n_days: finished rounds behind @days
 * @days: working days: least, median, most; below %NUM_FORECAST_LENGTHS rounds an assumption without a median (NAN)
 * @n_costs: finished rounds with a cost and units behind what is spent outside
 * @run_days: days of the run behind the cost of a unit
 * @n_asked: criteria at all, whether they block or not
 * @n_chance: criteria with a chance, in @n_criteria
 * @at_most: chances that may be less, so that @all may be less too
 */
typedef struct
{
  char                    *round;
  guint                    n_days;
  double                   days[3];
  guint                    n_costs;
  guint                    run_days;
  InsightAnotherWay        ways[INSIGHT_ANOTHER_WAYS];
  InsightAnotherCriterion *criteria;
  guint                    n_criteria;
  guint                    n_asked;
  guint                    n_chance;
  gboolean                 at_most;
} InsightAnotherRound;

InsightAnotherRound *insight_another_round      (const BookEvidence         *evidence,
                                                 const InsightStanding      *standing,
                                                 const InsightForecastInput *forecast,
                                                 const InsightRateInput     *rate_input,
                                                 const InsightRate          *rate,
                                                 GCancellable               *cancellable,
                                                 GError                    **error) G_GNUC_WARN_UNUSED_RESULT;
void                 insight_another_round_free (InsightAnotherRound        *another);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightAnotherRound, insight_another_round_free)

const char          *insight_another_name       (InsightAnotherCode          code);

G_END_DECLS
