/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One effect in words.
 */

#include "present-compare.h"

G_BEGIN_DECLS

PresentEffect *present_effect_new  (const InsightComparison *comparison,
                                    const InsightEffect     *effect) G_GNUC_WARN_UNUSED_RESULT;
void           present_effect_free (PresentEffect           *effect);
char          *present_effect_mean (const InsightEffect     *effect,
                                    double                   mean) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
