/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was counted at a step before units have serials: today's counts, what waits, which issues took pieces away, and
 * whether the step can be tallied at all.
 */

#include <glib.h>

#include "insight-pilot.h"

G_BEGIN_DECLS

/**
 * InsightTallyState:
 * @INSIGHT_TALLY_OPEN: it can be counted
 * @INSIGHT_TALLY_SERIALS: units of the round have events at the step: those count
 * @INSIGHT_TALLY_DECIDED: the round is decided
 * @INSIGHT_TALLY_NO_ROUND: no round is running
 * @INSIGHT_TALLY_NO_STEP: the model has no steps
 */
typedef enum
{
  INSIGHT_TALLY_OPEN,
  INSIGHT_TALLY_SERIALS,
  INSIGHT_TALLY_DECIDED,
  INSIGHT_TALLY_NO_ROUND,
  INSIGHT_TALLY_NO_STEP
} InsightTallyState;

/* An issue of the model that is not closed. @units: pieces that it took away at the step in the round; @before: those of
 * them that did so before today; @is_new: found today. */
typedef struct
{
  gint64      id;
  int         no;
  const char *title;
  guint       units;
  guint       before;
  gboolean    is_new;
} InsightTallyIssue;

/**
 * InsightTally:
 * @round: index in the evidence; -1: none is running
 * @step: likewise; -1: the model has none
 * @good: of today, by all who count
 * @reworked: likewise
 * @waiting: likewise
 * @scrapped: likewise
 * @waiting_all: what waits for rework at the step in the round, of all days
 * @row: key of the last row of the person today; 0: none
 * @unnamed: pieces in @row that were not good and have no issue
 * @issues: (element-type InsightTallyIssue): in an order that no tap of today moves: those that took most away before
 *   today, then the newest, then those found today, the newest last
 *
 * Strings are borrowed from the evidence.
 */
typedef struct
{
  InsightTallyState state;
  int               round;
  int               step;
  guint             good;
  guint             reworked;
  guint             waiting;
  guint             scrapped;
  guint             waiting_all;
  gint64            row;
  guint             unnamed;
  GArray           *issues;
} InsightTally;

InsightTally *insight_tally             (const BookEvidence *evidence,
                                         gint64              round,
                                         gint64              step,
                                         gint64              person,
                                         const char         *today) G_GNUC_WARN_UNUSED_RESULT;
void          insight_tally_free        (InsightTally       *tally);
gboolean      insight_tally_has_serials (const BookEvidence *e,
                                         int                 round,
                                         int                 step);
int           insight_tally_first_step  (const BookEvidence *e,
                                         int                 round);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightTally, insight_tally_free)

G_END_DECLS
