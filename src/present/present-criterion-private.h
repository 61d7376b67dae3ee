/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Criteria whose evidence is no reading: a run's yield and rate, lives, a gauge, a check.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

gboolean present_is_run_kind  (BookCriterionKind       kind);
char    *present_run_claim    (const InsightCriterion *criterion) G_GNUC_WARN_UNUSED_RESULT;
char    *present_run_sentence (const InsightCriterion *criterion,
                               const char             *quoted) G_GNUC_WARN_UNUSED_RESULT;
char    *present_run_estimate (const InsightCriterion *criterion) G_GNUC_WARN_UNUSED_RESULT;
char    *present_run_result   (const InsightCriterion *criterion) G_GNUC_WARN_UNUSED_RESULT;
char    *present_run_figures  (const InsightCriterion *criterion) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
