/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What lies at a bench: units that wait for one of its steps, what is to be measured on them, and what came back to it and
 * why. A unit's place follows from the last event that moved it; units of a round that is decided wait for nothing.
 */

#include <glib.h>

#include "book-choices.h"

G_BEGIN_DECLS

typedef struct _BookEvidence BookEvidence; /* book-evidence.h */

/**
 * InsightBenchState:
 * @INSIGHT_BENCH_PLANNED: nothing happened to it yet: it is to be begun
 * @INSIGHT_BENCH_ASSEMBLED: assembled, and nothing else was written down
 * @INSIGHT_BENCH_CAME: it passed the step before
 * @INSIGHT_BENCH_BEGUN: begun at the step and not passed yet
 * @INSIGHT_BENCH_BACK: sent back, to be put right
 * @INSIGHT_BENCH_REWORKED: put right, to be looked at again
 * @INSIGHT_BENCH_AWAY: lent, and not returned
 * @INSIGHT_BENCH_DONE: passed the last step
 * @INSIGHT_BENCH_GONE: scrapped, consumed or set aside
 * @INSIGHT_BENCH_DECIDED: its round is decided
 */
typedef enum
{
  INSIGHT_BENCH_PLANNED,
  INSIGHT_BENCH_ASSEMBLED,
  INSIGHT_BENCH_CAME,
  INSIGHT_BENCH_BEGUN,
  INSIGHT_BENCH_BACK,
  INSIGHT_BENCH_REWORKED,
  INSIGHT_BENCH_AWAY,
  INSIGHT_BENCH_DONE,
  INSIGHT_BENCH_GONE,
  INSIGHT_BENCH_DECIDED,
  INSIGHT_N_BENCH_STATES
} InsightBenchState;

/**
 * InsightBenchWanted:
 * @characteristic: key
 * @planned: the round's plan asks for it on this unit
 * @again: it was read and failed before the unit was put right
 * @here: decided at a step of the bench; of all benches also what no step decides
 * @life: it is a life test, which is not entered as a reading
 * @attempt: of the reading to be taken
 * @n: of the reading to be taken: beyond those that are voided
 * @decimals: shown after the point
 * @lower: limit in force, an infinity for none
 * @upper: likewise
 *
 * Something that is not read yet. Strings are borrowed from the evidence.
 */
typedef struct
{
  gint64                 characteristic;
  const char            *code;
  const char            *name;
  BookCharacteristicKind kind;
  const char            *unit;
  gboolean               planned;
  gboolean               again;
  gboolean               here;
  gboolean               life;
  guint                  attempt;
  guint                  n;
  int                    decimals;
  double                 lower;
  double                 upper;
} InsightBenchWanted;

/**
 * InsightBenchUnit:
 * @unit: key
 * @serial: or bag number
 * @round: label
 * @state: what it waits for
 * @step: index of the step that it waits for, in the evidence; -1: none
 * @here: it waits for a step of the bench
 * @since: day of the event that left it there, "" when not known
 * @days: working days since then
 * @issue: key of the issue that it came back for, 0; with number and title
 * @reason: why it came back, ""
 * @found_at: name of the step that found it, ""
 * @wanted: (element-type InsightBenchWanted): what is to be measured on it
 *
 * Strings are borrowed but for @since.
 */
typedef struct
{
  gint64            unit;
  const char       *serial;
  const char       *round;
  InsightBenchState state;
  int               step;
  gint64            step_id;
  int               position;
  const char       *step_name;
  gboolean          here;
  char             *since;
  guint             days;
  gint64            issue;
  int               issue_no;
  const char       *issue_title;
  const char       *reason;
  const char       *found_at;
  GArray           *wanted;
} InsightBenchUnit;

/**
 * InsightBenchReturn:
 * @unit: index in the bench's @units
 * @date: when it was sent back
 * @found_at: name of the step that found it, ""
 * @to: name of the step that was to put it right, ""
 * @issue: key, 0; with number and title
 * @reason: ""
 * @settled: day on which it passed the step that had found it, or left for good; "" while it is open
 *
 * A unit that came back. Strings are borrowed but for @date and @settled.
 */
typedef struct
{
  guint       unit;
  char       *date;
  const char *found_at;
  const char *to;
  gint64      issue;
  int         issue_no;
  const char *issue_title;
  const char *reason;
  char       *settled;
} InsightBenchReturn;

/**
 * InsightBench:
 * @bench: key; 0: all benches
 * @name: of the bench, ""
 * @units: (element-type InsightBenchUnit): all units of the model, in order of build
 * @waiting: (element-type guint): those here, by step, what came back first, then the longest waiting
 * @measure: (element-type guint): those on which something is to be measured here, in the same order
 * @returns: (element-type InsightBenchReturn): the newest first
 * @longest: most working days that a unit has waited here
 * @n_wanted: how many characteristics are to be measured here
 *
 * Lives no longer than the evidence.
 */
typedef struct
{
  gint64      bench;
  const char *name;
  GPtrArray  *units;
  GArray     *waiting;
  GArray     *measure;
  GPtrArray  *returns;
  guint       longest;
  guint       n_wanted;
} InsightBench;

InsightBench           *insight_bench        (const BookEvidence *evidence,
                                              gint64              bench,
                                              gint64              from,
                                              gint64              to,
                                              const char         *today) G_GNUC_WARN_UNUSED_RESULT;
void                    insight_bench_free   (InsightBench       *bench);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightBench, insight_bench_free)

/* Index of the step that a unit goes back to when nobody says another, found at step @found; -1: nobody knows. */
int                     insight_bench_usual_back (const BookEvidence *evidence,
                                                  gint64              unit,
                                                  int                 found);
/* Whether a reading of it lies outside the limits in force. */
gboolean                insight_bench_is_outside (const InsightBenchWanted *wanted,
                                                  BookMark                  mark,
                                                  double                    value);
const InsightBenchUnit *insight_bench_find   (const InsightBench *bench,
                                              const char         *serial);

G_END_DECLS
