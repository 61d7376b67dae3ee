/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Units that somebody picked out of a chart: what each of them is, and what they have that fewer of the others have. Plain
 * counts; nothing here says why.
 */

#include "insight-series.h"

G_BEGIN_DECLS

#define INSIGHT_CHOSEN_MOST 8  /* units that are told one by one; all of them are counted */
#define INSIGHT_SHARED_MOST 12 /* things in common that are told */

/**
 * InsightFactKind:
 * @INSIGHT_FACT_LOT: a part or step is of a lot
 * @INSIGHT_FACT_REVISION: a part is of a revision
 * @INSIGHT_FACT_ROUND: built in a round
 * @INSIGHT_FACT_ISSUE: an issue was seen on it, in use or in a life test
 * @INSIGHT_FACT_FAILS: another characteristic lies outside its limits, or failed
 */
typedef enum
{
  INSIGHT_FACT_LOT,
  INSIGHT_FACT_REVISION,
  INSIGHT_FACT_ROUND,
  INSIGHT_FACT_ISSUE,
  INSIGHT_FACT_FAILS,
  INSIGHT_N_FACTS
} InsightFactKind;

/**
 * InsightFact:
 * @key: of lot, revision, round, issue or characteristic
 * @name: number of the lot, label of revision or round, title of the issue, name of the characteristic
 * @of: part or step that the lot or revision is of, else ""
 * @no: of an issue, else 0
 * @chosen: units among the chosen with it
 * @others: units among the others with it
 *
 * Something that can be said of a unit. Strings are borrowed from the evidence.
 */
typedef struct
{
  InsightFactKind kind;
  gint64          key;
  const char     *name;
  const char     *of;
  int             no;
  guint           chosen;
  guint           others;
} InsightFact;

/* A value at the attempt that is evidence; as in #InsightMark. Strings are borrowed from the evidence. */
typedef struct
{
  gint64                 reading;
  const char            *code;
  const char            *name;
  const char            *unit;
  int                    decimals;
  BookCharacteristicKind kind;
  double                 value;
  BookMark               mark;
  InsightVerdict         verdict;
  InsightCounting        counting;
} InsightChosenValue;

/**
 * InsightChosenUnit:
 * @id: key
 * @serial: borrowed from the evidence, as @round
 * @round: label
 * @values: (element-type InsightChosenValue): of all characteristics: that of the chart, those that fail, the rest
 * @facts: (element-type InsightFact): lots, revisions and issues
 */
typedef struct
{
  gint64      id;
  const char *serial;
  const char *round;
  GArray     *values;
  GArray     *facts;
} InsightChosenUnit;

/**
 * InsightChosen:
 * @n: units chosen
 * @n_others: the other units of which the characteristic was read
 * @units: (array length=n_units): the first of them in order of build, at most %INSIGHT_CHOSEN_MOST
 * @shared: (array length=n_shared): what at least two and more than half of the chosen have, and a smaller share of the others;
 *   the largest distance between both shares first
 */
typedef struct
{
  guint              n;
  guint              n_others;
  InsightChosenUnit *units;
  guint              n_units;
  InsightFact       *shared;
  guint              n_shared;
} InsightChosen;

InsightChosen *insight_chosen      (const BookEvidence *evidence,
                                    gint64              characteristic,
                                    const gint64       *readings,
                                    guint               n_readings,
                                    const InsightSpan  *span,
                                    GCancellable       *cancellable,
                                    GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_chosen_free (InsightChosen      *chosen);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightChosen, insight_chosen_free)

G_END_DECLS
