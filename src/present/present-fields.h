/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The description of records as JSON: what `fettle-batch fields` prints.
 */

#include "book-fields.h"

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

JsonNode *present_fields_json (const BookRecord *record) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
