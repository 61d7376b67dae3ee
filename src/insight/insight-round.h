/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rounds of a model as they were planned and built, and what a finished one answered in figures.
 */

#include "insight-issue.h"

G_BEGIN_DECLS

#define INSIGHT_N_ROUND_DATES 6 /* opened, design fixed, parts ready, built, tested, decided */

/**
 * InsightRoundState:
 * @INSIGHT_ROUND_PLANNED: nothing of it has begun
 * @INSIGHT_ROUND_UNDER_WAY: begun and not decided
 * @INSIGHT_ROUND_DECIDED: decided
 */
typedef enum
{
  INSIGHT_ROUND_PLANNED,
  INSIGHT_ROUND_UNDER_WAY,
  INSIGHT_ROUND_DECIDED
} InsightRoundState;

/* What goes in: a part, or a batch of a step. @units 0: all. Empty texts where nothing is said. */
typedef struct
{
  gint64      id;
  const char *number;
  const char *name;
  const char *revision;
  const char *lot;
  guint       units;
  const char *first_serial;
} InsightRoundPart;

/* @days: working days, to the day of the question while it lasts. @to: "" then. */
typedef struct
{
  gint64         id;
  int            no;
  BookWaitReason reason;
  const char    *what;
  const char    *supplier;
  const char    *from;
  const char    *to;
  guint          days;
} InsightRoundWait;

/* @unit: 0 while it is not built. @load and @cycles: NAN where nothing is said. */
typedef struct
{
  const char *serial;
  gint64      unit;
  gint64      characteristic;
  const char *code;
  double      load;
  double      cycles;
  gboolean    destroyed;
  gboolean    lent;
} InsightRoundTest;

/* A product that is built. @differs: revisions of parts that not all units of the round have, such as 'HF-30 C'. */
typedef struct
{
  gint64      id;
  const char *serial;
  const char *differs;
} InsightRoundUnit;

/**
 * InsightRound:
 * @dates: reached, in order; "" for one that is not
 * @planned: of the same; "" for none; a round has no planned day of opening
 * @next: the date that is reached next: index into @dates; %INSIGHT_N_ROUND_DATES when none is left
 * @days: working days from opened to decided, or to the day of the question; 0 when it was not opened
 * @late: the date reached next was planned for an earlier day than today
 * @beside: labels of rounds that ran at the same time, with commas; ""
 * @parts: (element-type InsightRoundPart)
 * @waits: (element-type InsightRoundWait)
 * @tests: (element-type InsightRoundTest)
 * @units: (element-type InsightRoundUnit): built ones
 */
typedef struct
{
  gint64            id;
  const char       *label;
  const char       *question;
  BookRoundKind     kind;
  InsightRoundState state;
  BookRoundVerdict  verdict;
  const char       *dates[INSIGHT_N_ROUND_DATES];
  const char       *planned[INSIGHT_N_ROUND_DATES];
  guint             next;
  guint             days;
  gboolean          late;
  guint             planned_units;
  double            cost;
  const char       *beside;
  GArray           *parts;
  GArray           *waits;
  GArray           *tests;
  GArray           *units;
} InsightRound;

/* A characteristic that can be planned for a test. */
typedef struct
{
  gint64      id;
  const char *code;
  const char *name;
  gboolean    destructive;
} InsightRoundTestable;

/* Rounds in order; characteristics of the model by code. Texts live as long as the whole. */
typedef struct
{
  gint64        model;
  GStringChunk *strings;
  GArray       *rounds;    /* InsightRound */
  GArray       *testables; /* InsightRoundTestable */
} InsightRounds;

InsightRounds *insight_rounds        (const BookEvidence *evidence,
                                      const char         *today,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_rounds_free   (InsightRounds      *rounds);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightRounds, insight_rounds_free)

/* What became of a fix by the end of a round. */
typedef struct
{
  int               no;
  char             *title;
  InsightIssueState state;
  guint             n;      /* units of the new state */
  guint             failed; /* of these showing it */
  double            confidence;
} InsightRoundFix;

/**
 * InsightRoundAnswer:
 * @met_before: criteria met at the end of the round before
 * @met: at its own end
 * @total: criteria
 * @block: blocking ones not met
 * @newly_met: (array zero-terminated=1): criteria met since, each by code and what it is about
 * @no_longer_met: (array zero-terminated=1): those met before and not any more
 * @against: (array zero-terminated=1): those that the measurements speak against
 * @fixes: (element-type InsightRoundFix): issues that changes answer whose first round it is
 * @found: issues found in it
 * @rolled: product of first-pass yields of its steps; NAN where nothing was counted
 * @rolled_low: interval; NAN
 * @rolled_high: likewise
 * @steps: steps that @rolled is made of
 */
typedef struct
{
  guint      met_before;
  guint      met;
  guint      total;
  guint      block;
  char     **newly_met;
  char     **no_longer_met;
  char     **against;
  GPtrArray *fixes;
  guint      found;
  double     rolled;
  double     rolled_low;
  double     rolled_high;
  guint      steps;
} InsightRoundAnswer;

InsightRoundAnswer *insight_round_answer (const BookEvidence *evidence,
                                      gint64              round,
                                      const char         *today,
                                      GCancellable       *cancellable,
                                      GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_round_answer_free (InsightRoundAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightRoundAnswer, insight_round_answer_free)

G_END_DECLS
