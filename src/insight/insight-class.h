/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What is asked of a characteristic by its class, where the terms of a criterion leave it open.
 */

#include "book-choices.h"

G_BEGIN_DECLS

/* The share that must conform, and how sure the measurements must make us; both 0 to 1. */
double insight_class_share      (BookClass klass);
double insight_class_confidence (BookClass klass);

G_END_DECLS
