/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The gauges behind a model's readings: whether they are calibrated and which readings do not count because they were not,
 * how much of the tolerance they take up, and what checks find of what is bad.
 */

#include "insight-study.h"
#include "num-status.h"

G_BEGIN_DECLS

#define INSIGHT_GAUGES_CONFIDENCE 0.90

/**
 * InsightGaugeCare:
 * @INSIGHT_CARE_UNKNOWN: no calibration was written down
 * @INSIGHT_CARE_IN_ORDER: found in order and not due yet
 * @INSIGHT_CARE_OVERDUE: past its due date: later readings do not count
 * @INSIGHT_CARE_OUT: found out of order: readings do not count, nor those since the calibration before
 */
typedef enum
{
  INSIGHT_CARE_UNKNOWN,
  INSIGHT_CARE_IN_ORDER,
  INSIGHT_CARE_OVERDUE,
  INSIGHT_CARE_OUT
} InsightGaugeCare;

/**
 * InsightGaugeLine:
 * @calibrated: of the last calibration; "" without one
 * @due: ""
 * @readings: of the model by this gauge, not voided
 * @not_counting: of these, readings that do not count because of it
 * @since: day of the first of them; ""
 * @excused: of these, readings that count because somebody excused them by name
 */
typedef struct
{
  gint64           id;
  char            *name;
  double           resolution;
  InsightGaugeCare care;
  char            *calibrated;
  char            *due;
  guint            readings;
  guint            not_counting;
  char            *since;
  guint            excused;
} InsightGaugeLine;

/**
 * InsightStudyLine:
 * @at_most: of the tolerance, at %INSIGHT_GAUGES_CONFIDENCE; NAN
 * @most: share of the tolerance up to which the gauge is good enough
 * @criterion: code of the criterion about the way of measuring whose target that is, the least of several; "": none sets one,
 *   so that %NUM_GAUGE_SHARE_MOST is taken
 *
 * A study with its bound.
 */
typedef struct
{
  const InsightStudy *study; /* owned by the answer */
  gint64              characteristic;
  char               *code;
  char               *name;
  char               *unit;
  int                 decimals;
  char               *gauge;
  double              at_most;
  double              most;
  char               *criterion;
} InsightStudyLine;

/* One inspector. @letter: 'A', 'B' … of the check. @at_least: of what is bad, at %INSIGHT_GAUGES_CONFIDENCE. */
typedef struct
{
  gint64 characteristic;
  char  *code;
  char  *name;
  char   letter;
  guint  caught;
  guint  tried;
  double at_least;
} InsightCheckLine;

typedef struct
{
  gint64            model;
  char             *model_code;
  char             *today;
  InsightGaugeLine *gauges;
  guint             n_gauges;
  GPtrArray        *studies; /* InsightStudy */
  InsightStudyLine *lines;
  guint             n_lines;
  InsightCheckLine *checks;
  guint             n_checks;
} InsightGauges;

InsightGauges *insight_gauges      (const BookEvidence  *evidence,
                                    const InsightSpan   *span,
                                    GCancellable        *cancellable,
                                    GError             **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_gauges_free (InsightGauges       *gauges);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightGauges, insight_gauges_free)

G_END_DECLS
