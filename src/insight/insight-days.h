/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where each round's working days went, by phase: what the round strip shows. Working days between two dates are those
 * after the first up to and including the second, by the shop's week and without its holidays. A phase is shown less
 * the waits inside it; days on which several waits overlap count once.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

/**
 * InsightPhase:
 * @INSIGHT_PHASE_DESIGN: opened to design fixed
 * @INSIGHT_PHASE_WAIT: all waits
 * @INSIGHT_PHASE_MAKE: design fixed to built
 * @INSIGHT_PHASE_TEST: built to tested
 * @INSIGHT_PHASE_DECIDE: tested to decided
 */
typedef enum
{
  INSIGHT_PHASE_DESIGN,
  INSIGHT_PHASE_WAIT,
  INSIGHT_PHASE_MAKE,
  INSIGHT_PHASE_TEST,
  INSIGHT_PHASE_DECIDE,
  INSIGHT_N_PHASES
} InsightPhase;

/**
 * InsightRoundDays:
 * @days: working days by #InsightPhase; a phase that has not begun, or whose dates are not known, has 0
 * @total: their sum
 * @open: the round is not decided: its present phase runs to today
 * @phase: the phase it is in, when open (that of the last known date)
 * @units: built units, products and loose parts
 * @planned: units planned
 * @failing: units with a reading outside or failed at the first attempt, by the limits of today
 * @found: issues found in it that are open or came back; without duplicates and those accepted
 * @not_again: of its issues those not seen again by today, or closed as not reproduced
 * @proven: of its issues those that units show to be solved, whatever was written down
 * @verdict: 0 while undecided
 * @overlap: working days on which the round before it was not decided yet either; 0 when it began later
 */
typedef struct
{
  gint64           id;
  char            *label;
  char            *question;
  BookRoundKind    kind;
  BookRoundVerdict verdict;
  double           days[INSIGHT_N_PHASES];
  double           total;
  gboolean         open;
  InsightPhase     phase;
  guint            units;
  guint            planned;
  guint            failing;
  guint            found;
  guint            not_again;
  guint            proven;
  guint            overlap;
} InsightRoundDays;

/* The rounds of a model in order (opened, else the order of entry). */
typedef struct
{
  InsightRoundDays *rounds;
  guint             n_rounds;
} InsightDays;

InsightDays *insight_days         (const BookEvidence *evidence,
                                   const char         *today,
                                   GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void         insight_days_free    (InsightDays        *days);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightDays, insight_days_free)

guint        insight_days_working (const BookEvidence *evidence,
                                   const char         *from,
                                   const char         *to);

G_END_DECLS
