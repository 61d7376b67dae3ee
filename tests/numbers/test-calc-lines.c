/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bad lines for the calculator: each gets one sentence that names the key, and the next line is still answered. */
#include "calc-ask.h"

#include <stdlib.h>
#include <string.h>

static const char good_line[] = "{\"method\":\"describe\",\"values\":[1,2],\"id\":\"next\"}";

/* Asks a bad line, then a good one. @names must stand in the sentence. */
static void
check_refused (const char *line, gssize length, const char *names, const char *id)
{
  g_autoptr(GString) lines = g_string_new_len (line, length);
  g_auto(GStrv) answers = NULL;
  g_autoptr(JsonNode) node = NULL;
  const char *sentence;
  int status;
  char *text;

  g_string_append_c (lines, '\n');
  g_string_append (lines, good_line);
  text = calc_ask_text (lines->str, (gssize) lines->len, &status);
  g_assert_cmpint (status, ==, 1);
  answers = g_strsplit (text, "\n", -1);
  free (text);
  g_assert_cmpuint (g_strv_length (answers), ==, 3);
  g_assert_cmpstr (answers[2], ==, "");
  node = json_from_string (answers[0], NULL);
  g_assert_nonnull (node);
  g_assert_true (json_object_has_member (json_node_get_object (node), "error"));
  g_assert_true (json_object_has_member (json_node_get_object (node), "method"));
  sentence = json_object_get_string_member (json_node_get_object (node), "error");
  g_test_message ("%s", sentence);
  g_assert_nonnull (strstr (sentence, names));
  g_assert_cmpint (sentence[strlen (sentence) - 1], ==, '.');
  if (id != NULL)
    g_assert_cmpstr (json_object_get_string_member (json_node_get_object (node), "id"), ==, id);
  g_assert_nonnull (strstr (answers[1], "\"mean\":1.5"));
}

static void
test_malformed (void)
{
  static const struct
  {
    const char *line, *names, *id;
  } lines[] = {
    { "not json", "opening brace", NULL },
    { "[1]", "opening brace", NULL },
    { "{", "key in quotes", NULL },
    { "{\"method\":\"describe\",\"values\":[1,2,],\"id\":\"a\"}", "\"values\"", NULL },
    { "{\"id\":\"a\",\"method\":\"describe\",\"values\":[1 2]}", "\"values\"", "a" },
    { "{\"method\":\"describe\",\"values\":[0x10]}", "\"values\"", NULL },
    { "{\"method\":\"describe\",\"values\":[01]}", "\"values\"", NULL },
    { "{\"method\":\"describe\",\"values\":[1.]}", "\"values\"", NULL },
    { "{\"method\":\"describe\",\"values\":[1e]}", "\"values\"", NULL },
    { "{\"method\":\"describe\",\"values\":[+1]}", "\"values\"", NULL },
    { "{\"method\":\"describe\" /* a */,\"values\":[1]}", "\"method\"", NULL },
    { "var a = {\"method\":\"describe\",\"values\":[1]}", "opening brace", NULL },
    { "{\"method\":\"describe\",\"values\":[1]} {}", "follows the object", NULL },
    { "{\"method\":\"\\ud800\",\"values\":[1]}", "\"method\"", NULL },
    { "{\"method\":\"\\u0000\",\"values\":[1]}", "\"method\"", NULL },
    { "{\"method\":\"describe\xff\",\"values\":[1]}", "not UTF-8", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    check_refused (lines[i].line, -1, lines[i].names, lines[i].id);
}

static void
test_wrong_keys (void)
{
  static const struct
  {
    const char *line, *names;
  } lines[] = {
    { "{\"id\":\"x\"}", "\"method\"" },
    { "{\"method\":7,\"id\":\"x\"}", "\"method\"" },
    { "{\"method\":\"no-such\",\"id\":\"x\"}", "\"method\"" },
    { "{\"method\":\"describe\",\"values\":[1],\"colour\":1,\"id\":\"x\"}", "\"colour\"" },
    { "{\"method\":\"describe\",\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":3,\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,[2]],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,NaN],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,-Infinity],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,null],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,true],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,\"2\"],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"describe\",\"values\":[1,1e400],\"id\":\"x\"}", "\"values\"" },
    { "{\"method\":\"proportion\",\"k\":1.5,\"n\":3,\"confidence\":0.9,\"id\":\"x\"}", "\"k\"" },
    { "{\"method\":\"proportion\",\"k\":1,\"n\":1e30,\"confidence\":0.9,\"id\":\"x\"}", "\"n\"" },
    { "{\"method\":\"proportion\",\"k\":1,\"n\":3,\"confidence\":1,\"id\":\"x\"}", "\"confidence\"" },
    { "{\"method\":\"conformance\",\"values\":[1,2],\"lower\":0,\"coverage\":0.9,\"shape\":\"round\",\"id\":\"x\"}",
      "\"shape\"" },
    { "{\"method\":\"conformance\",\"values\":[1,2],\"n\":2,\"lower\":0,\"coverage\":0.9,\"id\":\"x\"}", "\"n\"" },
    { "{\"method\":\"anytime\",\"failed\":0,\"tolerated\":0.1,\"id\":\"x\"}", "\"units\"" },
    { "{\"method\":\"fix\",\"before\":{\"k\":1},\"after\":{\"k\":0,\"n\":2},\"tolerated\":0.1,\"confidence\":0.9,"
      "\"attempt\":1,\"id\":\"x\"}",
      "\"before\"" },
    { "{\"method\":\"yield\",\"steps\":[{\"in\":1,\"first\":1,\"reworked\":0,\"scrapped\":0,\"lost\":1}],"
      "\"confidence\":0.9,\"id\":\"x\"}",
      "\"lost\"" },
    { "{\"method\":\"gauge\",\"values\":[[[1,2],[3]],[[1,2],[3,4]]],\"id\":\"x\"}", "\"values\"" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    check_refused (lines[i].line, -1, lines[i].names, "x");
}

static void
test_huge (void)
{
  g_autoptr(GString) line = g_string_new ("{\"method\":\"describe\",\"values\":");

  for (guint i = 0; i < 200000; i++)
    g_string_append_c (line, '[');
  check_refused (line->str, -1, "\"values\"", NULL);

  g_string_assign (line, "{\"id\":\"big\",\"method\":\"describe\",\"values\":[1");
  for (guint i = 1; i < 1000000; i++)
    g_string_append (line, ",1");
  g_string_append (line, "]}");
  check_refused (line->str, -1, "\"values\"", "big");

  g_string_truncate (line, strlen ("{\"id\":\"big\",\"method\":\"describe\",\"values\":[1"));
  while (line->len < 50 * 1000 * 1000)
    g_string_append (line, ",1.2345678901234567");
  g_string_append (line, "]}");
  check_refused (line->str, -1, "\"values\"", "big");
}

static void
test_nul (void)
{
  static const char line[] = "{\"method\":\"describe\",\0\"values\":[1]}";

  check_refused (line, sizeof line - 1, "not UTF-8", NULL);
}

static void
test_order_and_ids (void)
{
  int status;
  char *text = calc_ask_text ("{\"method\":\"describe\",\"values\":[1,3],\"id\":1}\n"
                              "\n  \r\n"
                              "{\"id\":\"\\u00e9\\ud83d\\ude00\\n\",\"method\":\"describe\",\"values\":[4]}\n"
                              "{\"id\":[1,{\"a\":null}],\"method\":\"adjust\",\"p\":[0.5]}",
                              -1, &status);
  g_auto(GStrv) answers = g_strsplit (text, "\n", -1);

  free (text);
  g_assert_cmpint (status, ==, 0);
  g_assert_cmpuint (g_strv_length (answers), ==, 4);
  g_assert_true (g_str_has_prefix (answers[0], "{\"id\":1,"));
  g_assert_true (g_str_has_prefix (answers[1], "{\"id\":\"é😀\\n\","));
  g_assert_true (g_str_has_prefix (answers[2], "{\"id\":[1,{\"a\":null}],"));
}

static void
test_numbers_keep_their_digits (void)
{
  g_autoptr(JsonObject) answer = calc_ask ("{\"method\":\"describe\",\"values\":[100000000000000000000,0.1,1e-320]}");

  g_assert_cmpfloat (json_object_get_double_member (answer, "max"), ==, 1e20);
  g_assert_cmpfloat (json_object_get_double_member (answer, "median"), ==, 0.1);
  g_assert_cmpfloat (json_object_get_double_member (answer, "min"), ==, 1e-320);
}

static void
test_null_has_a_reason (void)
{
  static const char *const questions[] = {
    "{\"method\":\"describe\",\"values\":[1]}",
    "{\"method\":\"median\",\"values\":[1,2],\"confidence\":0.9}",
    "{\"method\":\"line\",\"x\":[1,2],\"y\":[1,2],\"confidence\":0.9}",
    "{\"method\":\"survival\",\"times\":[3],\"ended\":[0]}",
    "{\"method\":\"capability\",\"values\":[1,2],\"lower\":0,\"confidence\":0.9}",
    "{\"method\":\"permutation\",\"before\":[1],\"after\":[2],\"confidence\":0.9}",
    "{\"method\":\"anytime\",\"failed\":0,\"units\":10000000,\"tolerated\":0.5}",
  };

  for (guint i = 0; i < G_N_ELEMENTS (questions); i++)
    {
      g_autoptr(JsonObject) answer = calc_ask (questions[i]);

      g_assert_true (json_object_has_member (answer, "why"));
      g_assert_cmpuint (strlen (json_object_get_string_member (answer, "why")), >, 10);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/calc/malformed-lines-get-a-sentence", test_malformed);
  g_test_add_func ("/numbers/calc/wrong-keys-are-named", test_wrong_keys);
  g_test_add_func ("/numbers/calc/huge-lines-get-a-sentence", test_huge);
  g_test_add_func ("/numbers/calc/a-zero-byte-gets-a-sentence", test_nul);
  g_test_add_func ("/numbers/calc/answers-keep-order-and-ids", test_order_and_ids);
  g_test_add_func ("/numbers/calc/numbers-keep-their-digits", test_numbers_keep_their_digits);
  g_test_add_func ("/numbers/calc/what-is-null-has-a-reason", test_null_has_a_reason);
  return g_test_run ();
}
