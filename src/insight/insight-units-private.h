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

/* One unit at the attempt that is evidence: the first at the deciding step. A model has a hundred thousand of these. */
typedef struct
{
  gint64          reading;   /* key of the one that decided */
  double          value;     /* NAN for a check */
  guint           unit;
  guint           first;     /* its readings of this characteristic: [first, end) in e->readings */
  guint           end;
  BookDay         day;       /* of the last reading behind the value, else the day built */
  BookDay         void_day;  /* of the reading that @void_failing speaks of */
  guint16         attempt;
  guint16         attempts;  /* attempts at the deciding step */
  guint16         repeats;   /* readings behind the value */
  guint16         voided;    /* voided readings, of all attempts */
  guint16         gauge_out; /* readings of this attempt that a gauge takes out */
  guint16         gauge_excused; /* that it would, were they not excused by name */
  guint16         altered;   /* readings of this attempt after an alteration */
  BookMark        mark : 8;
  InsightVerdict  verdict : 8;
  InsightCounting counting : 8;
  InsightCounting own : 8;   /* what its readings say, whatever its state of design */
  guint           has_data : 1; /* a reading that is not voided, at the deciding step */
  guint           is_kind : 1;  /* of a kind of round that counts */
  guint           censored : 1; /* some reading behind it is 'above', 'below', or a verdict where a value belongs */
  guint           void_failing : 1; /* a voided reading lay outside, and none of the same attempt replaced it */
  guint           wider : 1;    /* measured under narrower limits than those in force */
  guint           failed_then : 1; /* and it lay outside those */
  guint           passed_later : 1; /* failed at this attempt and passed at the last */
  guint           dated_back : 1; /* of @wider: only by the date that was entered for the limits later */
  guint           settled : 1;  /* a later look finds the same readings */
} InsightUnit;

typedef struct
{
  const InsightLook *look;
  int                characteristic;
  BookCountsFrom     counts_from;
  InsightLimitRows   rows;
  int                limit;  /* row in force at the look's end, -1 none */
  gboolean           has_entries; /* the journal tells of some of its limits when they were entered */
  InsightGuard       guard;
  NumLimits          limits; /* pulled in, unless that leaves nothing between them */
  gboolean           nothing_fits; /* the guard band is wider than half the tolerance: nothing can be shown to be inside */
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
InsightMatch insight_units_ask_match (InsightUnits   *units,
                                      guint           build);
void         insight_units_judge  (const InsightUnits *units,
                                   const BookEvidenceReading *const *repeats,
                                   guint              n,
                                   InsightUnit       *unit);

static inline gboolean
insight_is_failing (InsightVerdict verdict)
{
  return verdict == INSIGHT_OUTSIDE || verdict == INSIGHT_UNDECIDABLE;
}

/* How the build of @unit stands to the state looked for. */
static inline InsightMatch
insight_units_match (InsightUnits *units, guint unit)
{
  guint build = units->look->basis->build_of[unit];

  return units->match[build] != 0 ? (InsightMatch) (units->match[build] - 1) : insight_units_ask_match (units, build);
}

G_END_DECLS
