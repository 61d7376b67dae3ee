/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Limits that a person types into one field, as they stand on the drawing: what exchange-limit.h reads, and tolerance
 * classes (`12 H7`). Everything that is not understood is refused in a sentence.
 */

#include "exchange-limit.h"

G_BEGIN_DECLS

gboolean exchange_limit_type (const char     *text,
                              const char     *unit,
                              ExchangeLimit  *limit,
                              GError        **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
