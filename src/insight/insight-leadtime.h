/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where the working days of a model went: by round, phase and wait, what is open and for how long, how long issues take,
 * what earlier models took, and how long the next round will probably be. Working days between two dates are those after
 * the first up to and including the second, by the shop's week without its holidays.
 */

#include "insight-days.h"
#include "num-status.h"

G_BEGIN_DECLS

#define INSIGHT_LEADTIME_CONFIDENCE 0.90 /* of the intervals of medians */
#define INSIGHT_LEADTIME_INTERVAL   6    /* finished ones from which there is an interval instead of the range */
#define INSIGHT_LEADTIME_NEXT       3    /* finished rounds from which the next one's length is estimated */
#define INSIGHT_LEADTIME_SHARE      0.80 /* of the interval of the next round's length */

/**
 * InsightTime:
 * @id: key of a round, a wait or an issue, whichever the times are of
 * @round: key of the round of a wait; 0
 * @no: of an issue; 0
 * @name: of the round, what was waited for, the issue's title
 * @days: working days, up to today where it still runs
 */
typedef struct
{
  gint64   id;
  gint64   round;
  int      no;
  char    *name;
  double   days;
  gboolean ended;
} InsightTime;

/**
 * InsightSpread:
 * @n: how many, finished or not
 * @ended: finished ones
 * @median: Kaplan and Meier's; NAN while fewer than half have ended
 * @interval: of it, from %INSIGHT_LEADTIME_INTERVAL ended ones on; else NAN
 * @least: of those that ended; NAN without one
 * @most: likewise
 * @sum: days of all, up to today
 * @times: (element-type InsightTime): what all of it is made of
 *
 * A number of times, some of which are still running.
 */
typedef struct
{
  guint       n;
  guint       ended;
  double      median;
  NumInterval interval;
  double      least;
  double      most;
  double      sum;
  GArray     *times;
} InsightSpread;

/* @days: up to today where it lasts. */
typedef struct
{
  gint64         id;
  guint          round; /* index */
  BookWaitReason reason;
  char          *what;
  char          *supplier; /* "" */
  char          *from;
  char          *to;       /* "" while it lasts */
  double         days;
} InsightWait;

/* Waits that have a supplier, or a reason, in common. */
typedef struct
{
  gint64         supplier; /* key; 0: grouped by reason */
  char          *name;     /* of the supplier, "" of a reason */
  BookWaitReason reason;
  guint          open;
  InsightSpread  spread;
} InsightWaitGroup;

/**
 * InsightStage:
 * @INSIGHT_STAGE_CONTAINED: found to contained
 * @INSIGHT_STAGE_CAUSE: found to cause known
 * @INSIGHT_STAGE_CLOSED: found to closed as solved
 */
typedef enum
{
  INSIGHT_STAGE_CONTAINED,
  INSIGHT_STAGE_CAUSE,
  INSIGHT_STAGE_CLOSED,
  INSIGHT_N_STAGES
} InsightStage;

/* Something that runs: the phase of a round, a wait, an issue. */
typedef enum
{
  INSIGHT_OPEN_ROUND,
  INSIGHT_OPEN_WAIT,
  INSIGHT_OPEN_ISSUE
} InsightOpenKind;

typedef struct
{
  InsightOpenKind kind;
  gint64          id;
  char           *name;  /* of the round, what is waited for, the issue's title */
  int             no;    /* of the issue */
  gint64          round; /* key of the round that waits, or itself; 0 of an issue */
  InsightPhase    phase; /* of the round */
  char           *since;
  double          days;
} InsightOpen;

/* Another model's rounds, in their order. */
typedef struct
{
  gint64            model;
  char             *code;
  char             *name;
  InsightRoundDays *rounds;
  guint             n_rounds;
  double            total;
  gboolean          open;
} InsightEarlier;

/**
 * InsightLeadtime:
 * @rounds: with days, total, open and phase alone
 * @waits: in order of their beginning
 * @by_supplier: most days first
 * @by_reason: likewise
 * @phases: of decided rounds' phases that took place at all, and of running ones
 * @rounds_spread: of whole rounds
 * @stages: of issues
 * @other_ends: share of closed issues that ended otherwise than solved; above a tenth the closing is told by
 *   @solved_share
 * @solved_share: cumulative incidence of being solved, at the end of the record; NAN below a tenth
 * @open: longest first
 * @earlier: models whose first round began before this one's, newest first
 * @next: days of the next round, most likely; NAN below %INSIGHT_LEADTIME_NEXT decided rounds
 * @next_range: at %INSIGHT_LEADTIME_SHARE; NAN likewise
 * @decided: decided rounds
 * @total: working days so far
 * @largest: the phase that took most
 * @largest_share: of all days
 */
typedef struct
{
  gint64            model;
  char             *model_code;
  char             *today;
  InsightRoundDays *rounds;
  guint             n_rounds;
  InsightWait      *waits;
  guint             n_waits;
  GArray           *by_supplier; /* InsightWaitGroup */
  GArray           *by_reason;
  InsightSpread     phases[INSIGHT_N_PHASES];
  InsightSpread     rounds_spread;
  InsightSpread     stages[INSIGHT_N_STAGES];
  double            other_ends;
  double            solved_share;
  InsightOpen      *open;
  guint             n_open;
  InsightEarlier   *earlier;
  guint             n_earlier;
  double            next;
  NumInterval       next_range;
  guint             decided;
  double            total;
  InsightPhase      largest;
  double            largest_share;
} InsightLeadtime;

InsightLeadtime *insight_leadtime      (const BookEvidence        *evidence,
                                        const BookEvidence *const *others,
                                        guint                      n_others,
                                        const InsightSpan         *span,
                                        GError                   **error) G_GNUC_WARN_UNUSED_RESULT;
void             insight_leadtime_free (InsightLeadtime           *leadtime);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightLeadtime, insight_leadtime_free)

G_END_DECLS
