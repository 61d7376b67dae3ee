/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A round's yields, losses and days, and the rate and cost that follow, in words. Window and command line show the same.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-rate.h"
#include "present-figure.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentFact:
 * @code: what a note says, as scripts know it
 * @names: (array zero-terminated=1): that it names
 * @count: that it tells; 0: none
 *
 * A note for a program to read.
 */
typedef struct
{
  const char *code;
  char      **names;
  guint       count;
} PresentFact;

/**
 * PresentPilot:
 * @data: (transfer none): what was counted
 * @headline: the yield of all steps in a sentence
 * @notes: (element-type utf8): what has to be said beside it: where counts come from, what is in hand, what is left out
 * @facts: (element-type PresentFact): the same, one for each note
 * @steps: yields by step, of the route in order; rows lead to steps
 * @work: by step, what it found and caused, and the minutes of setting up and rework; rows lead to steps
 * @losses: by issue, the step that found and the step that caused; rows lead to issues
 * @days: by step and day
 */
typedef struct
{
  const InsightPilot *data;
  char               *headline;
  GPtrArray          *notes;
  GPtrArray          *facts;
  PresentSheet       *steps;
  PresentSheet       *work;
  PresentSheet       *losses;
  PresentSheet       *days;
} PresentPilot;

/**
 * PresentRate:
 * @headline: how many a month, with interval, and what a plan takes
 * @constraint: which bench sets the pace, and how sure that is
 * @notes: (element-type utf8): what is not in it, why there is no interval
 * @facts: (element-type PresentFact): the same, one for each note
 * @benches: what each bench could make
 * @cost: of one good unit, by what it is for; empty without hourly cost
 * @cost_sentence: or ""
 * @delivery: how many good units by a date; "" until present_rate_deliver() is asked
 */
typedef struct
{
  char         *headline;
  char         *constraint;
  GPtrArray    *notes;
  GPtrArray    *facts;
  PresentSheet *benches;
  PresentSheet *cost;
  char         *cost_sentence;
  char         *delivery;
  char         *delivery_date;
  double        delivery_units;
  NumInterval   delivery_interval;
} PresentRate;

PresentPilot *present_pilot_new  (const InsightPilot     *pilot) G_GNUC_WARN_UNUSED_RESULT;
void          present_pilot_free (PresentPilot           *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentPilot, present_pilot_free)

PresentRate  *present_rate_new   (const InsightRateInput *input,
                                  const InsightRate      *rate) G_GNUC_WARN_UNUSED_RESULT;
void          present_rate_free  (PresentRate            *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentRate, present_rate_free)

/* 'Good units by 2027-01-31: 41 …'; @date is shown as it is. */
char         *present_rate_by    (const InsightRateInput *input,
                                  const InsightRate      *rate,
                                  guint                   working_days,
                                  const char             *date) G_GNUC_WARN_UNUSED_RESULT;
void          present_rate_deliver (PresentRate            *present,
                                    const InsightRateInput *input,
                                    const InsightRate      *rate,
                                    guint                   working_days,
                                    const char             *date);

const PresentFigure *present_rate_field (InsightRateField field);
gboolean      present_rate_field_applies (const InsightRateInput *input,
                                          gboolean                of_bench,
                                          guint                   index,
                                          InsightRateField        field);
GPtrArray    *present_rate_storing (const InsightRateInput *before,
                                    const InsightRateInput *after) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray    *present_rate_changes (const InsightRateInput *before,
                                    const InsightRateInput *after) G_GNUC_WARN_UNUSED_RESULT;
char         *present_rate_instead (const InsightRate      *before,
                                    const InsightRate      *after) G_GNUC_WARN_UNUSED_RESULT;

Chart        *present_chart_yield  (const InsightPilot     *pilot,
                                    gboolean                with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart        *present_chart_losses (const InsightPilot     *pilot,
                                    gboolean                with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart        *present_chart_rate   (const InsightRateInput *input,
                                    const InsightRate      *rate,
                                    gboolean                with_title) G_GNUC_WARN_UNUSED_RESULT;

char         *present_pilot_to_text (const PresentPilot *pilot,
                                     const PresentRate  *rate,
                                     guint               width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode     *present_json_pilot    (const PresentPilot     *pilot,
                                     const InsightRateInput *input,
                                     const InsightRate      *rate,
                                     const PresentRate      *words) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
