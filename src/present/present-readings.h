/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the readings of one characteristic say as single values, as a distribution and against their limits; and all
 * characteristics of a model, the worst first. Window and command line show the same.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-capability.h"
#include "insight-gauges.h"
#include "insight-individuals.h"
#include "insight-wall.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentReadings:
 * @series: (transfer none): the characteristic
 * @individuals: (transfer none): its limits and signals
 * @capability: how its spread fits between the limits
 * @spreads: (array): of each round of the series
 * @outside: how many units lie outside, with the interval of the share
 * @control: what the single values say
 * @caution: (nullable): what several rules at once do
 * @fit: what the capability figures say, or why there are none
 * @figures: (nullable): the figures behind it
 * @gauge: (nullable): how much of the tolerance its gauge takes up
 * @rounds: how the values of each round lie; rows lead to rounds
 * @signals: each signal in a sentence that names its unit; rows lead to readings
 */
typedef struct
{
  const InsightSeries      *series;
  const InsightIndividuals *individuals;
  InsightCapability         capability;
  InsightSpread5           *spreads;
  char                     *outside;
  char                     *control;
  char                     *caution;
  char                     *fit;
  char                     *figures;
  char                     *gauge;
  PresentSheet             *rounds;
  PresentSheet             *signals;
} PresentReadings;

PresentReadings *present_readings_new       (const InsightSeries      *series,
                                             const InsightIndividuals *individuals) G_GNUC_WARN_UNUSED_RESULT;
void             present_readings_take_gauges (PresentReadings        *present,
                                             const InsightGauges      *gauges);
void             present_readings_free      (PresentReadings          *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentReadings, present_readings_free)
char            *present_readings_to_text   (const PresentReadings    *present,
                                             guint                     width) G_GNUC_WARN_UNUSED_RESULT;
char            *present_single_words       (const PresentReadings    *present) G_GNUC_WARN_UNUSED_RESULT;
char            *present_spread_words       (const PresentReadings    *present) G_GNUC_WARN_UNUSED_RESULT;
JsonNode        *present_json_readings      (const PresentReadings    *present) G_GNUC_WARN_UNUSED_RESULT;
Chart           *present_chart_individuals  (const PresentReadings    *present,
                                             gboolean                  with_title) G_GNUC_WARN_UNUSED_RESULT;
Chart           *present_chart_distribution (const PresentReadings    *present,
                                             gboolean                  with_title) G_GNUC_WARN_UNUSED_RESULT;

char            *present_wall_words         (const InsightWall        *wall) G_GNUC_WARN_UNUSED_RESULT;
char            *present_wall_figure        (const InsightWallItem    *item) G_GNUC_WARN_UNUSED_RESULT;
PresentSheet    *present_wall_sheet         (const InsightWall        *wall) G_GNUC_WARN_UNUSED_RESULT;
char            *present_wall_to_text       (const InsightWall        *wall,
                                             guint                     width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode        *present_json_wall          (const InsightWall        *wall) G_GNUC_WARN_UNUSED_RESULT;
Chart           *present_chart_wall         (const InsightWall        *wall,
                                             gboolean                  with_title) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
