/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The limits of a characteristic by date, how far they are pulled in for a gauge (insight-gauge.c), and when a gauge's readings count.
 */

#include "book-evidence.h"

G_BEGIN_DECLS

#define INSIGHT_GUARD_FACTOR 1.645 /* one-sided 95 % of the normal distribution; JCGM 106:2012, ISO 14253-1 */

/* The rows of one characteristic in e->limits: [first, end). */
typedef struct
{
  guint first;
  guint end;
} InsightLimitRows;

/**
 * InsightGaugeState:
 * @INSIGHT_GAUGE_IN_ORDER: as far as the calibrations tell, or nothing is known
 * @INSIGHT_GAUGE_EXCUSED: found out of order later, and somebody lets the readings count by name
 * @INSIGHT_GAUGE_OUT: its readings do not count
 */
typedef enum
{
  INSIGHT_GAUGE_IN_ORDER,
  INSIGHT_GAUGE_EXCUSED,
  INSIGHT_GAUGE_OUT
} InsightGaugeState;

/* The last answer about a gauge: readings of a day come together. */
typedef struct
{
  int               gauge;
  BookDay           day;
  InsightGaugeState state;
  int               calibration; /* that found it out of order later; -1: none */
} InsightGaugeMemo;

/* How far the limits of a characteristic are pulled in, and for what. */
typedef struct
{
  double  width;      /* at each limit */
  double  grr;        /* deviation that the study found; 0 without a study */
  BookDay studied;    /* last day of the study that counts, 0 when not known */
  guint   has_study : 1;
  guint   incomplete; /* trials of a newer study that does not count because it has gaps; 0: there is none */
} InsightGuard;

InsightLimitRows insight_limit_rows     (const BookEvidence *evidence,
                                         int                 characteristic);
int              insight_limit_on       (const BookEvidence *evidence,
                                         InsightLimitRows    rows,
                                         BookDay             day);
gboolean         insight_limit_is_wider (const BookEvidence *evidence,
                                         int                 now,
                                         int                 then);
gboolean         insight_limit_differs  (const BookEvidence *evidence,
                                         int                 now,
                                         int                 then);
gboolean         insight_limit_has_entries (const BookEvidence *evidence,
                                            InsightLimitRows    rows);
gboolean         insight_limit_came_later (const BookEvidence *evidence,
                                           int                 row,
                                           gint64              reading);
double           insight_resolution     (const BookEvidence *evidence,
                                         int                 characteristic);
InsightGuard     insight_guard          (const BookEvidence *evidence,
                                         int                 characteristic,
                                         BookDay             end);
InsightGaugeState insight_gauge_state   (const BookEvidence *evidence,
                                         int                 gauge,
                                         BookDay             day,
                                         BookDay             end,
                                         InsightGaugeMemo   *memo);

G_END_DECLS
