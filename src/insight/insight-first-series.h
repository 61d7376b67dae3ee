/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a first series reached: good units a month as they really came, and the issues that were seen since the release. Its yields
 * are those of its run (insight-pilot.h); what had been promised stands in the evidence that the decision froze.
 */

#include "insight-issue.h"
#include "insight-pilot.h"
#include "insight-rate.h"

G_BEGIN_DECLS

/**
 * InsightFirstSeries:
 * @round: key of the round; 0: no round of the kind first series has anything to count yet
 * @label: of the round; ""
 * @step: name of the step at which good pieces are counted: the last one that counted any; ""
 * @good: pieces good at it, the first time or after rework
 * @n: pieces that went into it
 * @scrapped: pieces scrapped at any step
 * @waiting: pieces in hand at any step
 * @first_day: first date on which a step ran; ""
 * @last_day: the last one; ""
 * @days: working days from the first to the last, both counted
 * @month: good pieces a month of 52/12 weeks at that pace; NAN below %INSIGHT_RATE_RUN_DAYS days
 * @issues: (element-type InsightIssue): found after the release or after delivery; safety first, then by number
 * @n_safety: of these about safety
 * @n_in_field: of these found after delivery
 */
typedef struct
{
  gint64     round;
  char      *label;
  char      *step;
  guint      good;
  guint      n;
  guint      scrapped;
  guint      waiting;
  char      *first_day;
  char      *last_day;
  guint      days;
  double     month;
  GPtrArray *issues;
  guint      n_safety;
  guint      n_in_field;
} InsightFirstSeries;

InsightFirstSeries *insight_first_series      (const BookEvidence     *evidence,
                                               const InsightPilot     *pilot,
                                               const InsightRateInput *input,
                                               const InsightIssues    *issues,
                                               const char             *released) G_GNUC_WARN_UNUSED_RESULT;
void                insight_first_series_free (InsightFirstSeries     *series);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightFirstSeries, insight_first_series_free)

G_END_DECLS
