/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One criterion in words; see #PresentCriterion. Used by present-standing.c.
 */

#include "present-standing.h"

G_BEGIN_DECLS

PresentCriterion *present_criterion_new  (const InsightStanding *standing,
                                          guint                  index) G_GNUC_WARN_UNUSED_RESULT;
void              present_criterion_free (PresentCriterion      *criterion);

G_END_DECLS
