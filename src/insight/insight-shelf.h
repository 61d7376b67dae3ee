/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A model among the others of the shop: where it stands, how long it took so far, what it makes a month and which safety
 * issues are open.
 */

#include "insight-days.h"
#include "num-status.h"

G_BEGIN_DECLS

/**
 * InsightShelf:
 * @model: key
 * @criteria: how many are asked for; 0: none, or the standing is not known
 * @met: of these
 * @block: of these
 * @no_safety: no safety criterion is among them
 * @known: the standing was known
 * @rounds: with days, total, open and phase alone
 * @total: working days so far
 * @open: a round is not decided
 * @run: label of the round whose counts the rate is of; "" without one
 * @month: good ones a month; NAN when not known
 * @interval: of it; NAN below five run days
 * @demand: wanted a month; NAN when not said
 * @open_safety: safety issues that are not closed by the day
 */
typedef struct
{
  gint64            model;
  char             *code;
  char             *name;
  gboolean          known;
  guint             criteria;
  guint             met;
  guint             block;
  gboolean          no_safety;
  InsightRoundDays *rounds;
  guint             n_rounds;
  double            total;
  gboolean          open;
  char             *run;
  double            month;
  NumInterval       interval;
  double            demand;
  guint             open_safety;
} InsightShelf;

InsightShelf *insight_shelf      (const BookEvidence    *evidence,
                                  const InsightStanding *standing,
                                  const char            *today,
                                  GError               **error) G_GNUC_WARN_UNUSED_RESULT;
void          insight_shelf_free (InsightShelf          *shelf);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightShelf, insight_shelf_free)

G_END_DECLS
