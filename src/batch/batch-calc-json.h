/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* What a strict look at one line of JSON found, whether or not the line was in order. */
typedef struct
{
  GString *text;   /* the line as json-glib reads it without misreading */
  char *key;       /* the outermost key last seen, or NULL */
  char *id;        /* text of the value of "id", or NULL */
  char *method;    /* text of the value of "method", or NULL */
} BatchCalcLine;

gboolean batch_calc_line_init (BatchCalcLine *line, const char *text, gsize length, GError **error);
void batch_calc_line_clear (BatchCalcLine *line);
void batch_calc_write (JsonNode *node, GString *text);

G_END_DECLS
