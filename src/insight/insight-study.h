/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Studies of gauges: what was measured again and again, and what it says about the gauge. The book has trials, not
 * studies: those by one gauge on one characteristic are one study as long as no pause between them is longer than a
 * month. Persons are told apart by letters in the order of their keys, never by name.
 */

#include "insight-standing.h"
#include "num-gauge.h"

G_BEGIN_DECLS

#define INSIGHT_STUDY_PAUSE 30 /* days; common practice, no source */

/**
 * InsightStudy:
 * @first: its trials in the evidence: [first, end)
 * @last: day of the last one as an ISO date; "" when no trial has one
 * @complete: every person tried every piece equally often, at least twice
 * @pieces: in order of their names
 * @values: (nullable): of a complete study: [person][piece][trial]
 * @answer: by analysis of variance; all NAN where @computed is not set
 * @tolerance: upper less lower limit in force; NAN without both
 * @tolerance_share: 6 grr over it; NAN
 */
typedef struct
{
  int       characteristic;
  int       gauge;
  guint     first;
  guint     end;
  gint32    day;
  char     *last;
  gboolean  complete;
  guint     n_persons;
  guint     n_pieces;
  guint     n_trials;
  gint64   *persons; /* keys, in the order of the letters */
  char    **pieces;
  double   *values;
  gboolean  computed;
  NumGauge  answer;
  double    tolerance;
  double    tolerance_share;
} InsightStudy;

/* Known bad pieces given to an inspector. */
typedef struct
{
  gint64 person;
  guint  caught;
  guint  tried;
} InsightBadPieces;

GPtrArray    *insight_studies         (const BookEvidence *evidence,
                                       int                 characteristic,
                                       gint32              end) G_GNUC_WARN_UNUSED_RESULT;
void          insight_study_free      (InsightStudy       *study);
NumGaugeStudy insight_study_numbers   (const InsightStudy *study);
GArray       *insight_bad_pieces      (const BookEvidence *evidence,
                                       int                 characteristic,
                                       gint32              end) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
