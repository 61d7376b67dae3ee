/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The calculator: one JSON object a line in, one JSON object a line out, in the same order. A line that cannot be computed
 * answers with a sentence, and the next line is still answered.
 */
#include "config.h"

#include "batch-calc.h"

#include "batch-calc-json.h"
#include "batch-calc-methods.h"

#include <glib/gi18n.h>
#include <string.h>

#define LINE_MOST (16 * 1024 * 1024) /* bytes of a line; half a million values fit */
#define LINE_SHOWN 65536             /* of a longer one, what is looked through for its id and key */

static const BatchCalcMethod *const tables[] = {
  batch_calc_shares, batch_calc_samples, batch_calc_charts, batch_calc_comparisons, batch_calc_life, batch_calc_pilot,
};

static const BatchCalcMethod *
find_method (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    for (const BatchCalcMethod *method = tables[i]; method->name != NULL; method++)
      if (strcmp (method->name, name) == 0)
        return method;
  return NULL;
}

/* Reads up to the end of a line; of a longer line than allowed only the beginning is kept. FALSE at the end of input. */
static gboolean
read_line (FILE *in, GString *line, gboolean *too_long)
{
  int c;
  gboolean any = FALSE;

  g_string_truncate (line, 0);
  *too_long = FALSE;
  while ((c = getc_unlocked (in)) != EOF)
    {
      any = TRUE;
      if (c == '\n')
        break;
      if (line->len < LINE_MOST)
        g_string_append_c (line, (char) c);
      else
        *too_long = TRUE;
    }
  return any;
}

static void
write_answer (JsonObject *object, FILE *out)
{
  g_autoptr(JsonNode) node = json_node_init_object (json_node_alloc (), object);
  g_autoptr(GString) text = g_string_new (NULL);

  batch_calc_write (node, text);
  g_string_append_c (text, '\n');
  fwrite (text->str, 1, text->len, out);
}

static JsonNode *
node_of (const char *text)
{
  return text != NULL ? json_from_string (text, NULL) : NULL;
}

static gboolean
say_error (const BatchCalcLine *line, const char *sentence, FILE *out)
{
  g_autoptr(JsonObject) object = json_object_new ();
  JsonNode *id = node_of (line->id);
  JsonNode *method = node_of (line->method);

  if (id != NULL)
    json_object_set_member (object, "id", id);
  json_object_set_string_member (object, "error", sentence);
  if (method != NULL && JSON_NODE_HOLDS_VALUE (method))
    json_object_set_member (object, "method", method);
  else
    {
      g_clear_pointer (&method, json_node_unref);
      json_object_set_null_member (object, "method");
    }
  write_answer (object, out);
  return FALSE;
}

static gboolean
compute (const BatchCalcLine *line, const BatchCalcMethod *method, const BatchCalcInput *input, FILE *out)
{
  BatchCalcAnswer answer = { .object = json_object_new () };
  JsonNode *id = node_of (line->id);
  gboolean good;

  if (id != NULL)
    json_object_set_member (answer.object, "id", id);
  method->compute (input, &answer);
  if (answer.lacks && answer.error == NULL)
    batch_calc_why (&answer, _("A figure that is null does not exist for these data, or is too large for a number."));
  good = answer.error == NULL;
  if (good)
    write_answer (answer.object, out);
  else
    say_error (line, answer.error, out);
  json_object_unref (answer.object);
  g_free (answer.error);
  return good;
}

static gboolean
answer_object (const BatchCalcLine *line, FILE *out)
{
  g_autoptr(JsonParser) parser = json_parser_new ();
  g_autoptr(BatchCalcInput) input = NULL;
  g_autoptr(GError) error = NULL;
  const BatchCalcMethod *method;
  JsonObject *object;
  JsonNode *name;

  if (!json_parser_load_from_data (parser, line->text->str, (gssize) line->text->len, &error))
    return say_error (line, error->message, out);
  object = json_node_get_object (json_parser_get_root (parser));
  name = json_object_get_member (object, "method");
  if (name == NULL)
    return say_error (line, _("\"method\" is missing."), out);
  if (!JSON_NODE_HOLDS_VALUE (name) || json_node_get_value_type (name) != G_TYPE_STRING)
    return say_error (line, _("\"method\" must be a text."), out);
  method = find_method (json_node_get_string (name));
  if (method == NULL)
    return say_error (line, _("\"method\" names no method of the calculator."), out);
  input = batch_calc_input_new (object, method->keys, &error);
  if (input == NULL)
    return say_error (line, error->message, out);
  return compute (line, method, input, out);
}

static gboolean
answer_line (const GString *text, gboolean too_long, FILE *out)
{
  BatchCalcLine line;
  g_autoptr(GError) error = NULL;
  gboolean good = batch_calc_line_init (&line, text->str, too_long ? LINE_SHOWN : text->len, &error);

  if (too_long)
    {
      g_autofree char *sentence = NULL;

      sentence = g_strdup_printf (_("\"%s\": the line is longer than %d bytes, the most that is read."),
                                  line.key != NULL ? line.key : "", LINE_MOST);
      good = say_error (&line, sentence, out);
    }
  else if (good)
    good = answer_object (&line, out);
  else
    say_error (&line, error->message, out);
  batch_calc_line_clear (&line);
  return good;
}

/**
 * batch_calc:
 * @in: lines of JSON; empty lines are passed over
 * @out: an answer a line, written through line by line
 *
 * The caller moves libRmath's warnings away from standard output when @out is standard output.
 *
 * Returns: the exit status: 0; 1 when a line could not be computed or an answer not be written
 */
int
batch_calc (FILE *in, FILE *out)
{
  g_autoptr(GString) line = g_string_new (NULL);
  gboolean all_good = TRUE;
  gboolean too_long;

  while (read_line (in, line, &too_long))
    {
      if (!too_long && strspn (line->str, " \t\r") == line->len)
        continue;
      all_good &= answer_line (line, too_long, out);
      if (fflush (out) != 0)
        return 1;
    }
  return all_good && !ferror (in) && !ferror (out) ? 0 : 1;
}
