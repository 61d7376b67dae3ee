/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Parts of documents that more than one of them has.
 */

#include "present-json.h"

G_BEGIN_DECLS

void present_json_criterion (JsonBuilder            *builder,
                             const PresentCriterion *criterion);

G_END_DECLS
