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

double
calc_ask_number (const char *question, const char *key)
{
  g_autoptr(JsonObject) answer = calc_ask (question);

  g_assert_true (json_object_has_member (answer, key));
  return json_object_get_double_member (answer, key);
}
