/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a plan keeps of the book: who counts for which criterion by place in the order of serials.
 */

#include "insight-criterion-private.h"
#include "insight-plan.h"

G_BEGIN_DECLS

/* A planned test, by the place of its unit in the round: 0 is the first. */
typedef struct
{
  guint    place;
  int      characteristic;
  double   load;
  double   cycles;
  gboolean lost; /* destroyed or lent */
} InsightPlanTest;

/* The units at the places [from, to). */
typedef struct
{
  guint from;
  guint to;
} InsightPlanPlaces;

/* A lot that the plan names. */
typedef struct
{
  InsightPlanPlaces places;
  int               lot;
  gboolean          seen; /* units that count already are of it */
} InsightPlanLot;

/* A part or step of which lots are kept. */
typedef struct
{
  char   *name;
  guint   seen;  /* lots of units that count already */
  GArray *of;    /* int: by unit that counts already, its lot; -1: not known */
  GArray *lots;  /* InsightPlanLot */
} InsightPlanGrouping;

/* The values that count already as one shape takes them: as they are, or their logarithms. */
typedef struct
{
  GArray   *values; /* double: in the order of InsightPlanGrouping.of */
  double    mean;
  double    sd;
  double    resolution;
  NumLimits limits;
} InsightPlanScale;

/* What a criterion is computed from beside what is told of it. */
typedef struct
{
  InsightPlanCriterion told;
  int                  characteristic;
  GArray              *places; /* InsightPlanPlaces: of the state looked for, in order and apart */
  NumLimits            limits; /* logarithms where told.logs */
  GArray              *groupings; /* InsightPlanGrouping; NULL: lots do not matter */
  GArray              *scales; /* InsightPlanScale: those of which the lesser answer counts; NULL: no values are judged */
} InsightPlanInput;

struct _InsightPlan
{
  gatomicrefcount references;
  gint64          model;
  guint           units;
  guint           n_others;
  GArray         *inputs; /* InsightPlanInput */
  GArray         *tests;  /* InsightPlanTest */
  GPtrArray      *offers; /* InsightPlanOffer */
  GPtrArray      *twice;  /* char *, ends in NULL */
};

/* insight-plan-places.c: which unit gets what. */
guint        insight_plan_place   (const BookEvidence *evidence,
                                   int                 round,
                                   const char         *serial);
InsightPlanPlaces insight_plan_places (const BookEvidence *evidence,
                                   const BookEvidencePlan *row);
GArray      *insight_plan_range   (const InsightLook  *look,
                                   int                 round,
                                   int                 characteristic) G_GNUC_WARN_UNUSED_RESULT;

/* insight-plan-tests.c: which units count for what. */
void         insight_plan_tests   (InsightPlan        *plan,
                                   const BookEvidence *evidence,
                                   int                 round);
void         insight_plan_count   (const InsightPlan  *plan,
                                   const InsightPlanInput *input,
                                   guint               units,
                                   InsightPlanProof   *proof);
guint        insight_plan_count_within (const InsightPlan *plan,
                                   const InsightPlanInput *input,
                                   guint               from,
                                   guint               to,
                                   guint              *taken);
gboolean     insight_plan_has_test (const InsightPlan *plan,
                                   int                 characteristic);

/* insight-plan-lots.c: of how many deliveries they are. */
void         insight_plan_groupings (InsightPlanInput  *input,
                                   const InsightUnits *units,
                                   const InsightBasis *basis,
                                   int                 round);
double       insight_plan_by_lot  (const InsightPlan  *plan,
                                   const InsightPlanInput *input,
                                   guint               units,
                                   guint               counted,
                                   const char        **of);
void         insight_plan_look_at_lots (const InsightPlan *plan,
                                   const InsightPlanInput *input,
                                   guint               units,
                                   InsightPlanProof   *proof);

/* insight-plan-prove.c */
size_t       insight_plan_units_allowing (const InsightPlanCriterion *told,
                                   guint               further_failures);
double       insight_plan_confidence (const InsightPlanInput *input,
                                   guint               further,
                                   guint               failing);

/* insight-plan-offers.c */
void         insight_plan_offers  (InsightPlan        *plan,
                                   const BookEvidence *evidence,
                                   int                 round);

/* Units of a round, without those that are parts of others. */
guint insight_plan_built (const BookEvidence *evidence,
                          int                 round);

G_END_DECLS
