/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One characteristic through the rounds: what the chart and the Readings page show. Every unit and attempt is there,
 * voided ones too, each with whether it counts and why not. Nothing here depends on a criterion.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

/**
 * InsightCounting:
 * @INSIGHT_COUNTS: counts
 * @INSIGHT_NOT_VOIDED: the reading is voided
 * @INSIGHT_NOT_LATER_ATTEMPT: a later attempt at the deciding step
 * @INSIGHT_NOT_OTHER_STEP: taken at another step than the deciding one
 * @INSIGHT_NOT_STATE: built to another state of design: no longer counts
 * @INSIGHT_NOT_LATER_STATE: built later than the state looked for
 * @INSIGHT_NOT_KIND: of a kind of round that does not count (bench; prototype where pilot units count)
 * @INSIGHT_NOT_EXCUSED: set aside, or a concession says that it does not count
 * @INSIGHT_NOT_ALTERED: taken after the unit was altered
 * @INSIGHT_NOT_GAUGE: by a gauge out of calibration
 * @INSIGHT_NOT_OLDER_LIMIT: a check made to an older limit, or of a safety characteristic before the limit was widened
 * @INSIGHT_NOT_SPAN: taken after the span's end
 */
typedef enum
{
  INSIGHT_COUNTS,
  INSIGHT_NOT_VOIDED,
  INSIGHT_NOT_LATER_ATTEMPT,
  INSIGHT_NOT_OTHER_STEP,
  INSIGHT_NOT_STATE,
  INSIGHT_NOT_LATER_STATE,
  INSIGHT_NOT_KIND,
  INSIGHT_NOT_EXCUSED,
  INSIGHT_NOT_ALTERED,
  INSIGHT_NOT_GAUGE,
  INSIGHT_NOT_OLDER_LIMIT,
  INSIGHT_NOT_SPAN,
  INSIGHT_N_COUNTINGS
} InsightCounting;

/**
 * InsightVerdict:
 * @INSIGHT_INSIDE: inside the limits in force (guard band included), passed
 * @INSIGHT_OUTSIDE: outside, failed
 * @INSIGHT_UNDECIDABLE: 'above' or 'below', and not every value it allows is inside; counts as failing
 * @INSIGHT_NO_VERDICT: no limits in force, or a gauge that is too coarse for them
 */
typedef enum
{
  INSIGHT_INSIDE,
  INSIGHT_OUTSIDE,
  INSIGHT_UNDECIDABLE,
  INSIGHT_NO_VERDICT
} InsightVerdict;

/**
 * InsightMark:
 * @unit: key of the unit
 * @reading: key of the reading that decided (worst, first; else the first of its repeats)
 * @serial: of the unit, borrowed from the series
 * @round: index into the series' rounds
 * @attempt: from 1
 * @repeats: readings behind it
 * @value: by the characteristic's rule (mean, worst, first); NAN for a check
 * @mark: how it was read; of several repeats the one that decides
 * @verdict: by the limits in force at the end of the span
 * @counting: whether it counts
 * @date: taken, else built, "" when neither is known; borrowed from the series
 * @lot: number of its lot of the first lotted part, "" when none; borrowed
 *
 * One unit at one attempt. A voided reading is a mark of its own.
 */
typedef struct
{
  gint64          unit;
  gint64          reading;
  const char     *serial;
  guint           round;
  guint           attempt;
  guint           repeats;
  double          value;
  BookMark        mark;
  InsightVerdict  verdict;
  InsightCounting counting;
  const char     *date;
  const char     *lot;
} InsightMark;

/**
 * InsightSeriesRound:
 * @id: key
 * @label: of the round
 * @n: units with a first attempt in it that was not voided, whether they count or not
 * @failed: of these outside, failed or undecidable
 * @counted: of these counting
 * @mean: measured: of those units' values; checked: failed share; NAN when @n is 0
 * @sd: NAN below two values, and for checks
 * @low: measured: t-interval at 0.95; checked: exact interval at 0.95; NAN when there is none
 * @high: as above
 * @no_longer: units were measured and none of them counts
 * @current: the round looked through
 */
typedef struct
{
  gint64        id;
  const char   *label;
  BookRoundKind kind;
  guint         n;
  guint         failed;
  guint         counted;
  double        mean;
  double        sd;
  double        low;
  double        high;
  gboolean      no_longer;
  gboolean      current;
} InsightSeriesRound;

/**
 * InsightSeriesLimit:
 * @date: from when
 * @from: the same in rounds: 0 from the start, 2 with the third round
 * @lower: -INFINITY for none
 * @upper: INFINITY for none
 * @nominal: NAN for none
 * @change: key, or 0
 */
typedef struct
{
  const char *date;
  double      from;
  double      lower;
  double      upper;
  double      nominal;
  gint64      change;
} InsightSeriesLimit;

/**
 * InsightSeries:
 * @characteristic: key
 * @marks: (array length=n_marks): in order of build: round, then serial as numbers, then attempt
 * @of_readings: for each reading of the characteristic, in the order of the evidence, the index of the mark it is part of;
 *   -1: of a round that is not looked at
 * @rounds: (array length=n_rounds): up to the round looked through, those without a reading too
 * @limits: (array length=n_limits): by date, up to the end of the span
 * @shape: stated for the characteristic
 * @now: the limits in force at the end of the span (index into @limits), -1 for none
 * @guard: width by which limits are pulled in (safety), 0 for none
 * @tolerated: of a criterion about it: largest failing share; NAN without one
 * @n: counted units
 * @failed: of these failing
 * @mean: of the counted units; NAN for checks, or when none
 * @sd: as above
 * @low: measured: t-interval of @mean at 0.95; checked: exact interval of the failing share at 0.95; NAN for none
 * @high: as above
 * @reasons: (element-type InsightReason): what has to be said beside it
 */
typedef struct
{
  gint64                 characteristic;
  const char            *code;
  const char            *name;
  const char            *unit;
  int                    decimals;
  BookCharacteristicKind kind;
  BookClass              klass;
  BookPerUnit            per_unit;
  BookShape              shape;
  InsightMark           *marks;
  guint                  n_marks;
  int                   *of_readings;
  InsightSeriesRound    *rounds;
  guint                  n_rounds;
  InsightSeriesLimit    *limits;
  guint                  n_limits;
  int                    now;
  double                 guard;
  double                 tolerated;
  guint                  n;
  guint                  failed;
  double                 mean;
  double                 sd;
  double                 low;
  double                 high;
  GPtrArray             *reasons;

  GStringChunk *strings; /*< private >*/
} InsightSeries;

InsightSeries *insight_series      (const BookEvidence *evidence,
                                    gint64              characteristic,
                                    const InsightSpan  *span,
                                    GCancellable       *cancellable,
                                    GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_series_free (InsightSeries      *series);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightSeries, insight_series_free)

const char    *insight_counting_name (InsightCounting counting);

G_END_DECLS
