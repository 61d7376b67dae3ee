/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One criterion under evaluation: what is asked, at which look, and the answer that is being filled in.
 */

#include "insight-class.h"
#include "insight-looks-private.h"
#include "insight-standing.h"
#include "num-conformance.h"

G_BEGIN_DECLS

#define INSIGHT_UNITS_LEAST   6    /* measured units below which a confidence is 'so far'; ISO 16269-6 leaves it open */
#define INSIGHT_AGAINST_UNITS 3    /* counted units below which nothing speaks against */
#define INSIGHT_AGAINST_FROM  0.8  /* confidence of the contrary */
#define INSIGHT_ROUNDING      1e-12 /* of a confidence that is held against the one wanted */
#define INSIGHT_DRAWS         200000 /* where met or not is decided by draws */
#define INSIGHT_DRAWS_BRIEF   5000   /* where only the score is asked for */

/* What a criterion asks at the end of a span. */
typedef struct
{
  double                  share;
  double                  confidence;
  double                  target;      /* NAN: none */
  gboolean                is_default;  /* share or confidence are the class's */
  gboolean                owner_share; /* an owner set the share by name */
  const BookEvidenceTerm *term;        /* NULL: none in force */
  int                     row;         /* of the term in e->terms */
} InsightTerms;

typedef struct
{
  const InsightBasis          *basis;
  const InsightLook           *look;
  InsightLooks                *looks;
  InsightUnits                *units;
  const BookEvidenceCriterion *criterion;
  InsightTerms                 terms;
  gboolean                     brief; /* only state and score matter */
  InsightCriterion            *out;
} InsightQuestion;

/* The counted units, and what was made of them. */
typedef struct
{
  GPtrArray *units;     /* const InsightUnit *, in the order of build */
  double    *values;    /* of the same; NAN for checks */
  guint      failed;    /* of the same */
  guint      censored;  /* of the same, those whose value is no plain number */
  double     resolution; /* in which they were read, 0 when not known */
  gboolean   by_count;
  gboolean   is_plan;
  gboolean   plan_complete;
  gboolean   blocked;   /* something stands in the way of met whatever the confidence */
} InsightEvidence;

InsightCriterion *insight_criterion_new  (void);
void              insight_criterion_free (InsightCriterion *criterion);
void              insight_ids_add        (InsightIds       *ids,
                                          gint64            id);

InsightState      insight_state_of       (const InsightCriterion *criterion,
                                          double            error,
                                          gboolean          may_be_met);
InsightReason    *insight_say            (InsightQuestion  *question,
                                          InsightReasonCode code);
char             *insight_unit_name      (const BookEvidence *evidence,
                                          guint               unit);

InsightTerms      insight_terms_on       (const BookEvidence *evidence,
                                          guint               criterion,
                                          BookDay             day);
double            insight_detection      (const BookEvidence *evidence,
                                          int                 characteristic,
                                          BookDay             end,
                                          double              confidence);

NumShape          insight_shape_of       (const InsightQuestion *question);
void              insight_look_at_lots   (InsightQuestion  *question,
                                          InsightEvidence  *evidence);
gboolean          insight_has_disposition (const InsightBasis *basis,
                                          int               characteristic,
                                          guint             unit,
                                          BookDay           end);
void              insight_judge_units    (InsightQuestion  *question);
void              insight_judge_count    (InsightQuestion  *question);
void              insight_judge_fix      (InsightQuestion  *question);
void              insight_judge_yield    (InsightQuestion  *question);
void              insight_judge_rate     (InsightQuestion  *question);
void              insight_judge_life     (InsightQuestion  *question);
void              insight_judge_method   (InsightQuestion  *question);
void              insight_judge_detection (InsightQuestion *question);
void              insight_tell_design    (InsightQuestion  *question,
                                          gboolean          has_other_state);
void              insight_add_changes_to_state (InsightQuestion *question,
                                          InsightReason    *reason);
void              insight_tell_units     (InsightQuestion  *question,
                                          gboolean          by_count);
void              insight_tell_after_round (InsightQuestion *question);
GArray           *insight_failing_units  (const InsightLook *look,
                                          int               characteristic) G_GNUC_WARN_UNUSED_RESULT;
int               insight_units_wanted   (InsightQuestion  *question,
                                          gboolean          by_count,
                                          const double     *values);

G_END_DECLS
