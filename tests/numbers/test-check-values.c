/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every kept check value through the calculator, and every kept random case with the answer of R or SciPy. Each line names
 * its source; what is printed at the end of each method is how many agree by the kind of source.
 */
#include "calc-ask.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Follows a dotted key such as wilson.0 or signals.2.rule; NULL where there is nothing. */
static JsonNode *
find (JsonNode *node, const char *path)
{
  g_auto(GStrv) parts = g_strsplit (path, ".", -1);

  for (guint i = 0; parts[i] != NULL && node != NULL; i++)
    {
      if (JSON_NODE_HOLDS_OBJECT (node))
        node = json_object_get_member (json_node_get_object (node), parts[i]);
      else if (JSON_NODE_HOLDS_ARRAY (node))
        {
          JsonArray *array = json_node_get_array (node);
          guint64 index = g_ascii_strtoull (parts[i], NULL, 10);

          node = index < json_array_get_length (array) ? json_array_get_element (array, (guint) index) : NULL;
        }
      else
        node = NULL;
    }
  return node;
}

/* The tolerance of a key, or of the nearest key above it. */
static JsonObject *
tolerance_of (JsonObject *test_case, const char *key)
{
  g_autofree char *path = g_strdup (key);
  JsonObject *table = json_object_has_member (test_case, "tolerance")
                          ? json_object_get_object_member (test_case, "tolerance")
                          : NULL;

  while (table != NULL && path[0] != '\0')
    {
      char *dot = strrchr (path, '.');

      if (json_object_has_member (table, path))
        return json_object_get_object_member (table, path);
      if (dot == NULL)
        return json_object_has_member (table, "*") ? json_object_get_object_member (table, "*") : NULL;
      *dot = '\0';
    }
  return NULL;
}

static double
bound (JsonObject *tolerance, const char *name, double otherwise)
{
  if (tolerance == NULL)
    return otherwise;
  return json_object_has_member (tolerance, name) ? json_object_get_double_member (tolerance, name) : 0.0;
}

static gboolean
is_number (JsonNode *node)
{
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  return type == G_TYPE_INT64 || type == G_TYPE_DOUBLE;
}

static gboolean agrees (JsonNode *expected, JsonNode *got, JsonObject *tolerance);

static gboolean
arrays_agree (JsonArray *expected, JsonArray *got, JsonObject *tolerance)
{
  if (json_array_get_length (expected) != json_array_get_length (got))
    return FALSE;
  for (guint i = 0; i < json_array_get_length (expected); i++)
    if (!agrees (json_array_get_element (expected, i), json_array_get_element (got, i), tolerance))
      return FALSE;
  return TRUE;
}

static gboolean
objects_agree (JsonObject *expected, JsonObject *got, JsonObject *tolerance)
{
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;

  json_object_iter_init (&iter, expected);
  while (json_object_iter_next (&iter, &name, &member))
    if (!json_object_has_member (got, name) || !agrees (member, json_object_get_member (got, name), tolerance))
      return FALSE;
  return TRUE;
}

static gboolean
agrees (JsonNode *expected, JsonNode *got, JsonObject *tolerance)
{
  if (got == NULL)
    return FALSE;
  if (JSON_NODE_HOLDS_ARRAY (expected))
    return JSON_NODE_HOLDS_ARRAY (got)
           && arrays_agree (json_node_get_array (expected), json_node_get_array (got), tolerance);
  if (JSON_NODE_HOLDS_OBJECT (expected))
    return JSON_NODE_HOLDS_OBJECT (got)
           && objects_agree (json_node_get_object (expected), json_node_get_object (got), tolerance);
  if (is_number (expected))
    {
      double want = json_node_get_double (expected);
      double most = MAX (bound (tolerance, "abs", 1e-9), bound (tolerance, "rel", 1e-6) * fabs (want));

      return is_number (got) && fabs (json_node_get_double (got) - want) <= most + 4e-16 * fabs (want);
    }
  return json_node_equal (expected, got);
}

/* NULL when the answer agrees, else what does not. */
static char *
judge (JsonObject *test_case, JsonObject *answer)
{
  g_autoptr(JsonNode) root = json_node_init_object (json_node_alloc (), answer);
  JsonObjectIter iter;
  const char *key;
  JsonNode *expected;

  if (json_object_has_member (test_case, "expect_error"))
    return json_object_has_member (answer, "error") && strlen (json_object_get_string_member (answer, "error")) > 10
               ? NULL
               : g_strdup ("a sentence was expected");
  if (json_object_has_member (answer, "error"))
    return g_strdup (json_object_get_string_member (answer, "error"));
  json_object_iter_init (&iter, json_object_get_object_member (test_case, "expect"));
  while (json_object_iter_next (&iter, &key, &expected))
    {
      JsonNode *got = find (root, key);

      if (!agrees (expected, got, tolerance_of (test_case, key)))
        {
          g_autofree char *want = json_to_string (expected, FALSE);
          g_autofree char *have = got != NULL ? json_to_string (got, FALSE) : g_strdup ("nothing");

          return g_strdup_printf ("%s: expected %.120s, got %.120s", key, want, have);
        }
    }
  return NULL;
}

static JsonObject *
ask_case (JsonObject *test_case)
{
  g_autoptr(JsonNode) input = json_node_copy (json_object_get_member (test_case, "input"));
  g_autofree char *question = NULL;
  JsonObject *answer;

  json_object_set_string_member (json_node_get_object (input), "id", json_object_get_string_member (test_case, "id"));
  question = json_to_string (input, FALSE);
  answer = calc_ask (question);
  g_assert_cmpstr (json_object_get_string_member (answer, "id"), ==, json_object_get_string_member (test_case, "id"));
  return answer;
}

static void
count_kind (GHashTable *kinds, const char *kind, gboolean good)
{
  guint *counts = g_hash_table_lookup (kinds, kind);

  if (counts == NULL)
    {
      counts = g_new0 (guint, 2);
      g_hash_table_insert (kinds, g_strdup (kind), counts);
    }
  counts[0] += good;
  counts[1]++;
}

static void
test_file (gconstpointer data)
{
  const char *path = data;
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  g_auto(GStrv) lines = NULL;
  g_autoptr(GHashTable) kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr(GList) names = NULL;
  guint bad = 0;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_autoptr(JsonNode) node = NULL;
      g_autoptr(JsonObject) answer = NULL;
      g_autofree char *fault = NULL;
      JsonObject *test_case;

      if (lines[i][0] == '\0')
        continue;
      node = json_from_string (lines[i], &error);
      g_assert_no_error (error);
      test_case = json_node_get_object (node);
      answer = ask_case (test_case);
      fault = judge (test_case, answer);
      count_kind (kinds, json_object_get_string_member (test_case, "source_kind"), fault == NULL);
      if (fault != NULL)
        g_test_message ("%s: %s", json_object_get_string_member (test_case, "id"), fault);
      bad += fault != NULL;
    }
  names = g_list_sort (g_hash_table_get_keys (kinds), (GCompareFunc) strcmp);
  for (GList *at = names; at != NULL; at = at->next)
    {
      const guint *counts = g_hash_table_lookup (kinds, at->data);

      g_test_message ("%u of %u agree: %s", counts[0], counts[1], (const char *) at->data);
    }
  g_assert_cmpuint (g_hash_table_size (kinds), >, 0);
  g_assert_cmpuint (bad, ==, 0);
}

/* A comparison that takes everything would make all of the above worthless. */
static void
test_comparison_refuses (void)
{
  g_autoptr(JsonNode) test_case = json_from_string ("{\"expect\":{\"a\":1.0,\"b.1\":2,\"c\":null},"
                                                    "\"tolerance\":{\"a\":{\"abs\":0.01},\"b\":{\"rel\":0.01}}}",
                                                    NULL);
  static const struct
  {
    const char *answer;
    gboolean good;
  } answers[] = {
    { "{\"a\":1.009,\"b\":[0,2.01],\"c\":null}", TRUE },      { "{\"a\":1.02,\"b\":[0,2],\"c\":null}", FALSE },
    { "{\"a\":1,\"b\":[0,2.03],\"c\":null}", FALSE },         { "{\"a\":1,\"b\":[0],\"c\":null}", FALSE },
    { "{\"a\":1,\"b\":[0,2],\"c\":0}", FALSE },               { "{\"a\":\"1\",\"b\":[0,2],\"c\":null}", FALSE },
    { "{\"a\":1,\"b\":[0,2],\"c\":null,\"error\":\"no\"}", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      g_autoptr(JsonNode) answer = json_from_string (answers[i].answer, NULL);
      g_autofree char *fault = judge (json_node_get_object (test_case), json_node_get_object (answer));

      g_assert_cmpint (fault == NULL, ==, answers[i].good);
    }
}

/* Adds a test a file of a folder, and answers how many there are. */
static guint
add_folder (const char *folder, const char *ending, GPtrArray *paths)
{
  g_autofree char *place = g_test_build_filename (G_TEST_DIST, "data", folder, NULL);
  g_autoptr(GDir) dir = g_dir_open (place, 0, NULL);
  const char *name;
  guint files = 0;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".jsonl"))
      {
        g_autofree char *stem = g_strndup (name, strlen (name) - strlen (".jsonl"));
        g_autofree char *test = g_strdup_printf ("/numbers/%s/%s-%s", folder, stem, ending);
        char *path = g_build_filename (place, name, NULL);

        g_ptr_array_add (paths, path);
        g_test_add_data_func (test, path, test_file);
        files++;
      }
  return files;
}

int
main (int argc, char **argv)
{
  g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);

  g_test_init (&argc, &argv, NULL);
  g_assert_cmpuint (add_folder ("check-values", "agrees-with-its-sources", paths), ==, 28);
  g_assert_cmpuint (add_folder ("differential", "agrees", paths), ==, 26);
  g_test_add_func ("/numbers/check-values/comparison-refuses-what-differs", test_comparison_refuses);
  return g_test_run ();
}
