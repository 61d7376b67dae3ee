/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Documents: numbers that read back equal, null for what does not exist, text that breaks nothing. */

#include "config.h"

#include "present-json.h"

#include <math.h>
#include <string.h>

static void
test_numbers (void)
{
  static const double values[] = { 0, 1, -1, 0.1, 1.0 / 3, 1e-5, 1.5e-300, 1e20, 1e300, -2.5e-7, 9007199254740993.0, 0.9900001957 };

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autoptr(JsonBuilder) builder = json_builder_new ();
      g_autoptr(JsonParser) parser = json_parser_new ();
      g_autoptr(JsonNode) node = NULL;
      g_autoptr(GError) error = NULL;
      g_autofree char *text = NULL;

      json_builder_begin_object (builder);
      present_json_number (builder, "value", values[i]);
      json_builder_end_object (builder);
      node = json_builder_get_root (builder);
      text = present_json_print (node);
      g_test_message ("%s", text);
      g_assert_null (strstr (text, "e-05.0"));
      g_assert_null (strstr (text, "e+20.0"));
      json_parser_load_from_data (parser, text, -1, &error);
      g_assert_no_error (error);
      g_assert_true (json_object_get_double_member (json_node_get_object (json_parser_get_root (parser)), "value") == values[i]);
    }
}

static void
test_missing (void)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autoptr(JsonNode) node = NULL;
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  present_json_number (builder, "none", NAN);
  present_json_number (builder, "endless", INFINITY);
  json_builder_set_member_name (builder, "list");
  json_builder_begin_array (builder);
  json_builder_add_string_value (builder, "a \"b\"\n\x01");
  json_builder_add_int_value (builder, 3);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  node = json_builder_get_root (builder);
  text = present_json_print (node);
  g_assert_cmpstr (text, ==, "{\n  \"none\": null,\n  \"endless\": null,\n  \"list\": [\"a \\\"b\\\"\\n\\u0001\", 3]\n}\n");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/json/numbers-read-back-equal", test_numbers);
  g_test_add_func ("/present/json/what-does-not-exist-is-null", test_missing);
  return g_test_run ();
}
