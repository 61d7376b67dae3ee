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
 * present_json_count:
 * @builder: inside an object
 * @name: of the member
 * @count: a whole number
 *
 * Adds a member.
 */
void
present_json_count (JsonBuilder *builder, const char *name, gint64 count)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, count);
}

/**
 * present_json_flag:
 * @builder: inside an object
 * @name: of the member
 * @flag: true or false
 *
 * Adds a member.
 */
void
present_json_flag (JsonBuilder *builder, const char *name, gboolean flag)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, flag);
}

/**
 * present_json_text:
 * @builder: inside an object
 * @name: of the member
 * @text: (nullable): a text; %NULL is null
 *
 * Adds a member.
 */
void
present_json_text (JsonBuilder *builder, const char *name, const char *text)
{
  json_builder_set_member_name (builder, name);
  if (text == NULL)
    json_builder_add_null_value (builder);
  else
    json_builder_add_string_value (builder, text);
}

/**
 * present_json_list:
 * @builder: where
 * @name: of the member
 *
 * Begins a member that is a list; json_builder_end_array() ends it.
 */
void
present_json_list (JsonBuilder *builder, const char *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
}

/**
 * present_json_key:
 * @builder: inside an object
 * @name: of the member
 * @key: key of a record or an action; 0 is null
 *
 * Adds a member. Keys use all 63 bits, more than a script's floating point holds, so they are texts.
 */
void
present_json_key (JsonBuilder *builder, const char *name, gint64 key)
{
  g_autofree char *text = key == 0 ? NULL : g_strdup_printf ("%" G_GINT64_FORMAT, key);

  present_json_text (builder, name, text);
}

/**
 * present_json_choice:
 * @builder: inside an object
 * @name: of the member
 * @choices: what it may be
 * @code: what it is; 0 for nothing
 *
 * Adds a member: the word that files carry, "" for nothing.
 */
void
present_json_choice (JsonBuilder *builder, const char *name, const BookChoice *choices, gint code)
{
  const BookChoice *choice = book_choice_by_code (choices, code);

  present_json_text (builder, name, choice == NULL ? "" : choice->text);
}

/**
 * present_json_names:
 * @builder: inside an object
 * @name: of the member
 * @names: (nullable) (array zero-terminated=1): its texts
 *
 * Adds a member that lists texts.
 */
void
present_json_names (JsonBuilder *builder, const char *name, char **names)
{
  present_json_list (builder, name);
  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    json_builder_add_string_value (builder, names[i]);
  json_builder_end_array (builder);
}

/**
 * present_json_keys:
 * @builder: inside an object
 * @name: of the member
 * @keys: (array length=n): keys of records
 * @n: how many
 *
 * Adds a member that lists keys, as texts: see present_json_key().
 */
void
present_json_keys (JsonBuilder *builder, const char *name, const gint64 *keys, guint n)
{
  present_json_list (builder, name);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *key = g_strdup_printf ("%" G_GINT64_FORMAT, keys[i]);

      json_builder_add_string_value (builder, key);
    }
  json_builder_end_array (builder);
}

static void
append_line (GString *text, guint depth)
{
  g_string_append_printf (text, "\n%*s", (int) depth * 2, "");
}

/* The shortest text that reads back equal. */
static void
append_real (GString *text, double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  for (int digits = 15; digits <= 17; digits++)
    {
      char format[8];

      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (number, sizeof number, format, value);
      if (g_ascii_strtod (number, NULL) == value)
        break;
    }
  g_string_append (text, number);
}

static void append_node (GString *text, JsonNode *node, guint depth);

static void
append_object (GString *text, JsonObject *object, guint depth)
{
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;
  gboolean first = TRUE;

  g_string_append_c (text, '{');
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &member))
    {
      g_autoptr(JsonNode) key = json_node_init_string (json_node_alloc (), name);
      g_autofree char *quoted = json_to_string (key, FALSE);

      if (!first)
        g_string_append_c (text, ',');
      first = FALSE;
      append_line (text, depth + 1);
      g_string_append_printf (text, "%s: ", quoted);
      append_node (text, member, depth + 1);
    }
  if (!first)
    append_line (text, depth);
  g_string_append_c (text, '}');
}

/* Arrays of plain values stay on their line: they are names, counts, keys. */
static void
append_array (GString *text, JsonArray *array, guint depth)
{
  const guint n = json_array_get_length (array);
  gboolean plain = TRUE;

  for (guint i = 0; i < n && plain; i++)
    plain = !JSON_NODE_HOLDS_OBJECT (json_array_get_element (array, i)) && !JSON_NODE_HOLDS_ARRAY (json_array_get_element (array, i));
  g_string_append_c (text, '[');
  for (guint i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append (text, plain ? ", " : ",");
      if (!plain)
        append_line (text, depth + 1);
      append_node (text, json_array_get_element (array, i), depth + 1);
    }
  if (!plain)
    append_line (text, depth);
  g_string_append_c (text, ']');
}

static void
append_node (GString *text, JsonNode *node, guint depth)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    append_object (text, json_node_get_object (node), depth);
  else if (JSON_NODE_HOLDS_ARRAY (node))
    append_array (text, json_node_get_array (node), depth);
  else if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_DOUBLE)
    append_real (text, json_node_get_double (node));
  else
    {
      g_autofree char *plain = json_to_string (node, FALSE);

      g_string_append (text, plain);
    }
}

/**
 * present_json_print:
 * @node: a document
 *
 * Written here and not by json-glib's generator, which makes 1e-05 into 1e-05.0 (version 1.6), and no reader takes that.
 *
 * Returns: (transfer full): its text, indented, with a line end
 */
char *
present_json_print (JsonNode *node)
{
  GString *text = g_string_new (NULL);

  append_node (text, node, 0);
  g_string_append_c (text, '\n');
  return g_string_free (text, FALSE);
}

/**
 * present_json_end:
 * @builder: an object that was begun as the whole document
 *
 * Ends the object.
 *
 * Returns: (transfer full): the document's text, as present_json_print()
 */
char *
present_json_end (JsonBuilder *builder)
{
  g_autoptr(JsonNode) node = NULL;

  json_builder_end_object (builder);
  node = json_builder_get_root (builder);
  return present_json_print (node);
}
