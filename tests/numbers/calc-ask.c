/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks the calculator within the test's own process. */
#include "calc-ask.h"

#include "batch-calc.h"

#include <stdlib.h>
#include <string.h>

/* The answers, one a line; @status is what the program would exit with. To be freed with free(). */
char *
calc_ask_text (const char *lines, gssize length, int *status)
{
  char *text = NULL;
  size_t size = 0;
  size_t count = length < 0 ? strlen (lines) : (size_t) length;
  FILE *in = count > 0 ? fmemopen ((void *) (guintptr) lines, count, "r") : fopen ("/dev/null", "r");
  FILE *out = open_memstream (&text, &size);

  g_assert_nonnull (in);
  g_assert_nonnull (out);
  *status = batch_calc (in, out);
  fclose (in);
  fclose (out);
  return text;
}

/* The answer to one question, which must be valid JSON. */
JsonObject *
calc_ask (const char *question)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(JsonNode) node = NULL;
  int status;
  char *text = calc_ask_text (question, -1, &status);

  node = json_from_string (text, &error);
  g_assert_no_error (error);
  free (text);
  g_assert_true (JSON_NODE_HOLDS_OBJECT (node));
  return json_node_dup_object (node);
}

static gboolean
has_null (JsonNode *node)
{
  if (JSON_NODE_HOLDS_ARRAY (node))
    {
      JsonArray *array = json_node_get_array (node);

      for (guint i = 0; i < json_array_get_length (array); i++)
        if (has_null (json_array_get_element (array, i)))
          return TRUE;
    }
  return JSON_NODE_HOLDS_NULL (node);
}

/* What must hold of an answer to whatever line: JSON, which has no word for a NAN, an object with figures that are numbers, a reason where one is null, or one
 * sentence instead. */
static void
check_answer (const char *text)
{
  g_autoptr(JsonNode) node = json_from_string (text, NULL);
  JsonObject *object;
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;
  gboolean lacks = FALSE;

  g_assert_nonnull (node);
  g_assert_true (JSON_NODE_HOLDS_OBJECT (node));
  object = json_node_get_object (node);
  if (json_object_has_member (object, "error"))
    {
      const char *sentence = json_object_get_string_member (object, "error");

      g_assert_cmpuint (strlen (sentence), >, 10);
      g_assert_cmpint (sentence[strlen (sentence) - 1], ==, '.');
      return;
    }
  json_object_iter_init (&iter, object);
  while (json_object_iter_next (&iter, &name, &member))
    lacks = lacks || (strcmp (name, "id") != 0 && has_null (member));
  g_assert_true (!lacks || json_object_has_member (object, "why"));
}

/* Asks any bytes: as many answers as lines that are not empty, each in order. */
void
calc_check_answers (const char *lines, gsize length)
{
  gsize expected = 0;
  gsize got = 0;
  int status;
  char *text = calc_ask_text (lines, (gssize) length, &status);
  g_auto(GStrv) answers = g_strsplit (text, "\n", -1);

  free (text);
  for (gsize from = 0; from < length;)
    {
      const char *end = memchr (lines + from, '\n', length - from);
      gsize size = end != NULL ? (gsize) (end - lines) - from : length - from;
      gboolean empty = TRUE;

      for (gsize i = from; i < from + size; i++)
        empty = empty && (lines[i] == ' ' || lines[i] == '\t' || lines[i] == '\r');
      expected += !empty;
      from += size + 1;
    }
  for (; answers[got] != NULL && answers[got][0] != '\0'; got++)
    check_answer (answers[got]);
  g_assert_cmpuint (got, ==, expected);
  g_assert_true (status == 0 || status == 1);
}
