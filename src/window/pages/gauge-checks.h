/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A person's own trials of a check on pieces known to be good or bad, entered in a table: piece, known bad or not, which
 * trial, and what the check said.
 */

#include "gauge-answer.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_GAUGE_CHECKS (fettle_gauge_checks_get_type ())
G_DECLARE_FINAL_TYPE (FettleGaugeChecks, fettle_gauge_checks, FETTLE, GAUGE_CHECKS, GtkBox)

/**
 * FettleGaugeChecks::chosen:
 *
 * Another check is to be asked for: fettle_gauge_checks_get_check().
 */

GtkWidget *fettle_gauge_checks_new       (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* Takes the rows out of @answer. */
void       fettle_gauge_checks_take      (FettleGaugeChecks *self,
                                          FettleGaugeAnswer *answer);
gint64     fettle_gauge_checks_get_check (FettleGaugeChecks *self);

G_END_DECLS
