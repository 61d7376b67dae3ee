/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where units and minutes go in a round: each step's yields, what was lost and to which issue, rework, and the days on
 * which something ran. At a step where units of the round have serials their events count, before that the tallies;
 * never both at one step of one round.
 */

#include "insight-standing.h"
#include "num-status.h"

G_BEGIN_DECLS

#define INSIGHT_PILOT_CONFIDENCE 0.90 /* of the intervals */

/**
 * InsightPilotSource:
 * @INSIGHT_PILOT_NOTHING: nothing was counted at the step
 * @INSIGHT_PILOT_TALLY: pieces, from tallies
 * @INSIGHT_PILOT_EVENTS: units, from what happened to them
 */
typedef enum
{
  INSIGHT_PILOT_NOTHING,
  INSIGHT_PILOT_TALLY,
  INSIGHT_PILOT_EVENTS
} InsightPilotSource;

/**
 * InsightPilotPiece:
 * @id: key of a unit, or of a tally
 * @tally: it is a tally
 * @name: serial of the unit, date of the tally
 *
 * What a count is made of.
 */
typedef struct
{
  gint64   id;
  gboolean tally;
  char    *name;
} InsightPilotPiece;

/**
 * InsightPilotStep:
 * @index: of the step in the evidence
 * @in: pieces given to the step
 * @first: good the first time
 * @reworked: good after rework
 * @scrapped: scrapped at it
 * @waiting: in hand: neither good nor scrapped
 * @aside: units set aside at it: neither good nor counted
 * @n: first, reworked, scrapped and waiting
 * @worked_again: of @n, those that took rework at this step, whichever step found it
 * @tallies_left_out: tallies of the round at this step that do not count, because its units have events here
 * @first_pass: share good the first time; NAN without units
 * @first_interval: of it, Jeffreys, at %INSIGHT_PILOT_CONFIDENCE
 * @final: share good in the end of those decided; NAN when none is
 * @final_range: from all waiting scrapped to all good
 * @minutes: written down, without setting up and rework; NAN: none
 * @minutes_n: pieces they were for, done or waiting for rework
 * @setup_min: written down; NAN: none
 * @rework_min: likewise
 * @lost_found: pieces not good the first time that this step found
 * @lost_caused: pieces not good the first time that were caused here, by the findings of their issues
 * @run_days: dates on which the step ran: with a tally, or a unit passed, sent back or scrapped
 * @pieces: (element-type InsightPilotPiece): what was counted at it; %NULL where only counts were asked for
 */
typedef struct
{
  int                index;
  gint64             id;
  int                position;
  char              *name;
  BookStepKind       kind;
  InsightPilotSource source;
  guint              in;
  guint              first;
  guint              reworked;
  guint              scrapped;
  guint              waiting;
  guint              aside;
  guint              n;
  guint              worked_again;
  guint              tallies_left_out;
  double             first_pass;
  NumInterval        first_interval;
  double             final;
  NumInterval        final_range;
  double             minutes;
  guint              minutes_n;
  double             setup_min;
  double             rework_min;
  guint              lost_found;
  guint              lost_caused;
  guint              run_days;
  GArray            *pieces;
} InsightPilotStep;

/**
 * InsightPilotLoss:
 * @issue: key; 0: no issue was named
 * @issue_no: its number
 * @title: of the issue
 * @found: index of the step in the answer's steps; -1: not said
 * @caused: likewise, by the issue's findings; -1: not said
 * @units: pieces that were not good the first time because of it
 * @scrapped: of these, units scrapped; tallies do not say it
 * @minutes: of rework, as written down; NAN: not told
 * @pieces: (element-type InsightPilotPiece): those that were lost
 */
typedef struct
{
  gint64 issue;
  int    issue_no;
  char  *title;
  int    found;
  int    caused;
  guint  units;
  guint  scrapped;
  double minutes;
  GArray *pieces;
} InsightPilotLoss;

/**
 * InsightPilotDay:
 * @step: index in the answer's steps
 * @n: pieces that went in, or units that passed, were sent back or scrapped, each once a day
 * @first: of these good the first time
 * @minutes: written down; NAN: none
 * @minutes_n: pieces they were for
 * @pieces: (element-type InsightPilotPiece): what ran
 *
 * A step on a day on which it ran.
 */
typedef struct
{
  int    step;
  char  *date;
  guint  n;
  guint  first;
  double minutes;
  guint  minutes_n;
  GArray *pieces;
} InsightPilotDay;

/**
 * InsightPilot:
 * @round: key; 0: no round has anything to count
 * @label: of the round
 * @kind: of the round
 * @rounds: (element-type gint64): keys of all rounds that have something to count, in order
 * @n_run_days: different dates on which any step ran
 * @rolled: product of the first-pass yields of the steps with units; NAN without any
 * @rolled_interval: at %INSIGHT_PILOT_CONFIDENCE
 * @final: product of the final yields; NAN while a step has nothing decided
 * @final_range: product of the steps' ranges
 * @waiting: units in hand
 * @counted_steps: steps that @rolled is made of
 */
typedef struct
{
  gint64            model;
  char             *model_code;
  gint64            round;
  char             *label;
  BookRoundKind     kind;
  char             *today;
  GArray           *rounds;
  InsightPilotStep *steps;
  guint             n_steps;
  InsightPilotLoss *losses;
  guint             n_losses;
  InsightPilotDay  *days;
  guint             n_days;
  guint             n_run_days;
  double            rolled;
  NumInterval       rolled_interval;
  double            final;
  NumInterval       final_range;
  guint             waiting;
  guint             counted_steps;
} InsightPilot;

InsightPilot *insight_pilot      (const BookEvidence *evidence,
                                  const InsightSpan  *span,
                                  GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void          insight_pilot_free (InsightPilot       *pilot);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightPilot, insight_pilot_free)

G_END_DECLS
