/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small helpers of all documents. */

#include "config.h"

#include "present-json.h"

#include <math.h>

/**
 * present_json_number:
 * @builder: inside an object
 * @name: of the member
 * @value: a figure; one that does not exist (NAN) or has no end is null
 *
 * Adds a member.
 */
void
present_json_number (JsonBuilder *builder, const char *name, double value)
{
  json_builder_set_member_name (builder, name);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

/**
 * present_json_print:
 * @node: a document
 *
 * Returns: (transfer full): its text, indented, with a line end
 */
char *
present_json_print (JsonNode *node)
{
  g_autoptr(JsonGenerator) generator = json_generator_new ();
  g_autofree char *text = NULL;

  json_generator_set_root (generator, node);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  return g_strconcat (text, "\n", NULL);
}
