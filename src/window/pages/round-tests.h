/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which unit is for which test: serials down, characteristics across. A press takes a cell on: not planned, tested, destroyed,
 * lent, and again not planned; each is stored at once.
 */

#include <gtk/gtk.h>

#include "rounds-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUND_TESTS (fettle_round_tests_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundTests, fettle_round_tests, FETTLE, ROUND_TESTS, GtkWidget)

GtkWidget *fettle_round_tests_new  (FettleSitting       *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_round_tests_show (FettleRoundTests    *self,
                                    const InsightRounds *rounds,
                                    const InsightRound  *round);

G_END_DECLS
