/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What one supplier brought into a model, in words that he may read: no person and no cost is in them. What people wrote
 * goes through a function of the caller, who knows what does not leave the shop.
 */

#include "chart.h"
#include "book-evidence.h"
#include "insight-supply.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/* One characteristic: @title, what is said of its lots, a row a lot. */
typedef struct
{
  const InsightSupplyReadings *data;
  char                        *title;
  char                        *sentence;
  PresentSheet                *sheet;
} PresentSupplyReadings;

/**
 * PresentSupply:
 * @data: (transfer none): the answer
 * @name: of the supplier
 * @headline: how many lots, how many of them were rejected, how long was waited
 * @things: parts and steps
 * @lots: with their verdicts
 * @faults: what was found of a lot
 * @waits: longest first
 * @readings: (element-type PresentSupplyReadings)
 * @questions: (element-type utf8): what is asked of him
 * @is_safety: something of it is about safety
 */
typedef struct
{
  const InsightSupply *data;
  const char          *name;
  char                *headline;
  PresentSheet        *things;
  PresentSheet        *lots;
  PresentSheet        *faults;
  PresentSheet        *waits;
  GPtrArray           *readings;
  GPtrArray           *questions;
  gboolean             is_safety;
} PresentSupply;

/* (transfer full): what somebody wrote, as it may be told. */
typedef char *(*PresentTell) (const char *text,
                              gpointer    data);

PresentSupply *present_supply_new   (const InsightSupply         *supply,
                                     PresentTell                  tell,
                                     gpointer                     data) G_GNUC_WARN_UNUSED_RESULT;
void           present_supply_free  (PresentSupply               *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentSupply, present_supply_free)

/* The values by lot, with the limits of today. */
Chart         *present_chart_supply (const InsightSupply         *supply,
                                     const InsightSupplyReadings *readings) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
