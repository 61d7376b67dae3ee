/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Answers as JSON documents: unrounded figures, codes with their arguments beside each sentence, and a `version` key.
 */

#include <json-glib/json-glib.h>

#include "present-standing.h"

G_BEGIN_DECLS

#define PRESENT_JSON_VERSION 1

JsonNode *present_json_standing (const PresentStanding *standing) G_GNUC_WARN_UNUSED_RESULT;

/* Members of an object. */
void      present_json_number   (JsonBuilder           *builder,
                                 const char            *name,
                                 double                 value);
void      present_json_count    (JsonBuilder           *builder,
                                 const char            *name,
                                 gint64                 count);
void      present_json_flag     (JsonBuilder           *builder,
                                 const char            *name,
                                 gboolean               flag);
void      present_json_text     (JsonBuilder           *builder,
                                 const char            *name,
                                 const char            *text);
void      present_json_key      (JsonBuilder           *builder,
                                 const char            *name,
                                 gint64                 key);
void      present_json_choice   (JsonBuilder           *builder,
                                 const char            *name,
                                 const BookChoice      *choices,
                                 gint                   code);
void      present_json_names    (JsonBuilder           *builder,
                                 const char            *name,
                                 char                 **names);
void      present_json_keys     (JsonBuilder           *builder,
                                 const char            *name,
                                 const gint64          *keys,
                                 guint                  n);
void      present_json_list     (JsonBuilder           *builder,
                                 const char            *name);

char     *present_json_print    (JsonNode              *node) G_GNUC_WARN_UNUSED_RESULT;
char     *present_json_end      (JsonBuilder           *builder) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
