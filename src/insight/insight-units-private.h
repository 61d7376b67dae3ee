/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What every unit says about one characteristic at one look: its value by the characteristic's rule, whether that is
 * inside, and whether it counts.
 */

#include "insight-design-private.h"
#include "insight-limits-private.h"
#include "insight-series.h"
#include "num-status.h"

G_BEGIN_DECLS

/* One unit at the attempt that is evidence: the first at the deciding step. */
typedef struct
{
  guint           unit;
  guint           first;    /* its readings of this characteristic: [first, end) in e->readings */
  guint           end;
  guint           attempt;
  guint           repeats;  /* readings behind the value */
  gint64          reading;  /* key of the one that decided */
  double          value;    /* NAN for a check */
  BookMark        mark;
  InsightVerdict  verdict;
  InsightCounting counting;
  BookDay         day;      /* of the last reading behind the value, else the day built */
  guint           voided;   /* voided readings, of all attempts */
  guint           gauge_out; /* readings of this attempt that a gauge takes out */
  guint           altered;  /* readings of this attempt after an alteration */
  guint           attempts; /* attempts at the deciding step */
  gboolean        has_data; /* a reading that is not voided, at the deciding step */
  gboolean        is_kind;  /* of a kind of round that counts */
  gboolean        censored; /* some reading behind it is 'above', 'below', or a verdict where a value belongs */
  gboolean        void_failing; /* a voided reading lay outside, and none of the same attempt replaced it */
  BookDay         void_day; /* of that reading */
  gboolean        wider;    /* measured under narrower limits than those in force */
  gboolean        failed_then; /* and it lay outside those */
  gboolean        passed_later; /* failed at this attempt and passed at the last */
} InsightUnit;

typedef struct
{
  const InsightLook *look;
  int                characteristic;
  BookCountsFrom     counts_from;
  InsightLimitRows   rows;
  int                limit;  /* row in force at the look's end, -1 none */
  double             guard;
  NumLimits          limits; /* pulled in */
  InsightUnit       *units;  /* in the order of build */
  guint              n;
  guint              room;
  guint8            *match;  /* by build: 1 + InsightMatch, 0 not asked yet */
} InsightUnits;

void         insight_units_init   (InsightUnits      *units,
                                   const InsightBasis *basis);
void         insight_units_clear  (InsightUnits      *units);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (InsightUnits, insight_units_clear)

void         insight_units_gather (InsightUnits      *units,
                                   const InsightLook *look,
                                   int                characteristic,
                                   BookCountsFrom     counts_from);
InsightMatch insight_units_match  (InsightUnits      *units,
                                   guint              unit);
gboolean     insight_is_failing   (InsightVerdict     verdict);
void         insight_units_judge  (const InsightUnits *units,
                                   const BookEvidenceReading *const *repeats,
                                   guint              n,
                                   InsightUnit       *unit);

G_END_DECLS
