/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rules by which measurements count, each in one sentence with its source: what a reader of a printed document, who
 * has no program to ask, needs in order to weigh the figures.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

/* (transfer full) (element-type utf8): what holds for every model. */
GPtrArray *present_rules_new         (void) G_GNUC_WARN_UNUSED_RESULT;
/* (transfer full) (element-type utf8): how the confidences of these criteria were computed, each way once. */
GPtrArray *present_rules_methods_new (const InsightStanding *standing) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
