/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What one supplier brought into a model: parts, batches of steps, lots with their verdicts, what was found of his lots, what
 * was read of units by the lot that went into them, and how long was waited for him.
 */

#include "insight-series.h"

G_BEGIN_DECLS

/* A part that he delivers, or a step whose batches came from him: the other is -1. @lots: of his. */
typedef struct
{
  int   part;
  int   step;
  guint lots;
} InsightSupplyThing;

/* @lot: index in the evidence. @units: built with it. */
typedef struct
{
  int   lot;
  guint thing; /* index */
  guint units;
} InsightSupplyLot;

/* Something found of a lot of his. @issue, @finding: indices in the evidence. */
typedef struct
{
  int issue;
  int finding;
  int lot; /* index in the lots of the answer */
} InsightSupplyFault;

/**
 * InsightSupplyGroup:
 * @lot: index in the lots of the answer
 * @n: units with a first attempt that was not voided, whether they count for a criterion or not
 * @failed: of these outside, failed or undecidable by the limits of today
 * @mean: of their values; NAN for checks
 * @sd: divides by n - 1; NAN below two values
 * @least: NAN for checks, as @most
 */
typedef struct
{
  guint  lot;
  guint  n;
  guint  failed;
  double mean;
  double sd;
  double least;
  double most;
} InsightSupplyGroup;

/**
 * InsightSupplyReadings:
 * @series: the characteristic
 * @thing: index of the part or step by whose lots it is told
 * @groups: in the order of the lots
 * @of_marks: by mark of the series: index in @groups; -1: not among them
 * @others: the characteristic depends on other parts or steps too
 *
 * A characteristic that depends on something of his.
 */
typedef struct
{
  InsightSeries      *series;
  guint               thing;
  InsightSupplyGroup *groups;
  guint               n_groups;
  int                *of_marks;
  gboolean            others;
} InsightSupplyReadings;

/* @wait: index in the evidence. @days: working days, up to today where it lasts. */
typedef struct
{
  int   wait;
  guint days;
} InsightSupplyWait;

/**
 * InsightSupply:
 * @e: borrowed
 * @supplier: index
 * @lots: by thing, day received, number
 * @readings: of characteristics that something says to depend on his parts or steps; those that fail first
 * @waits: longest first
 */
typedef struct
{
  const BookEvidence    *e;
  int                    supplier;
  char                  *today;
  InsightSupplyThing    *things;
  guint                  n_things;
  InsightSupplyLot      *lots;
  guint                  n_lots;
  InsightSupplyFault    *faults;
  guint                  n_faults;
  InsightSupplyReadings *readings;
  guint                  n_readings;
  InsightSupplyWait     *waits;
  guint                  n_waits;
} InsightSupply;

InsightSupply *insight_supply      (const BookEvidence *evidence,
                                    gint64              supplier,
                                    const char         *today,
                                    GCancellable       *cancellable,
                                    GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void           insight_supply_free (InsightSupply      *supply);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightSupply, insight_supply_free)

G_END_DECLS
