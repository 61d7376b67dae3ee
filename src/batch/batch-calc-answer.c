/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures into JSON: what does not exist is null with a reason, and a status is a sentence. */
#include "config.h"

#include "batch-calc-answer.h"

#include <glib/gi18n.h>
#include <math.h>

void
batch_calc_put (BatchCalcAnswer *answer, const char *name, double value)
{
  if (isfinite (value))
    {
      json_object_set_double_member (answer->object, name, value);
      return;
    }
  json_object_set_null_member (answer->object, name);
  answer->lacks = TRUE;
}

void
batch_calc_put_count (BatchCalcAnswer *answer, const char *name, gsize value)
{
  json_object_set_int_member (answer->object, name, (gint64) value);
}

void
batch_calc_put_flag (BatchCalcAnswer *answer, const char *name, gboolean value)
{
  json_object_set_boolean_member (answer->object, name, value);
}

void
batch_calc_put_text (BatchCalcAnswer *answer, const char *name, const char *value)
{
  json_object_set_string_member (answer->object, name, value);
}

/* null where neither end exists. */
void
batch_calc_put_interval (BatchCalcAnswer *answer, const char *name, NumInterval interval)
{
  double ends[2] = { interval.low, interval.high };

  if (isnan (interval.low) && isnan (interval.high))
    batch_calc_put (answer, name, NAN);
  else
    batch_calc_put_numbers (answer, name, ends, 2);
}

void
batch_calc_put_numbers (BatchCalcAnswer *answer, const char *name, const double *values, gsize n)
{
  JsonArray *array = json_array_sized_new ((guint) n);

  for (gsize i = 0; i < n; i++)
    if (isfinite (values[i]))
      json_array_add_double_element (array, values[i]);
    else
      {
        json_array_add_null_element (array);
        answer->lacks = TRUE;
      }
  batch_calc_put_array (answer, name, array);
}

/* Takes @array over. */
void
batch_calc_put_array (BatchCalcAnswer *answer, const char *name, JsonArray *array)
{
  json_object_set_array_member (answer->object, name, array);
}

/* Says why a figure is null; the first reason stays. */
void
batch_calc_why (BatchCalcAnswer *answer, const char *sentence)
{
  if (!json_object_has_member (answer->object, "why"))
    json_object_set_string_member (answer->object, "why", sentence);
}

void
batch_calc_fail (BatchCalcAnswer *answer, const char *format, ...)
{
  va_list arguments;

  if (answer->error != NULL)
    return;
  va_start (arguments, format);
  answer->error = g_strdup_vprintf (format, arguments);
  va_end (arguments);
}

static const char *
status_sentence (NumStatus status)
{
  static const char *const sentences[] = {
    [NUM_TOO_FEW] = N_("\"%s\" holds too few values for this method."),
    [NUM_BAD_INPUT] = N_("\"%s\" does not fit the method, or does not fit the other keys."),
    [NUM_NO_VARIATION] = N_("\"%s\" does not vary, and the method needs a spread."),
    [NUM_NO_CONVERGENCE] = N_("The computation for \"%s\" did not settle."),
    [NUM_NO_SOLUTION] = N_("There is no finite answer for \"%s\"."),
    [NUM_CANCELLED] = N_("The computation for \"%s\" was stopped."),
    [NUM_NO_MEMORY] = N_("There is not enough memory for \"%s\"."),
  };

  return _(sentences[status]);
}

/**
 * batch_calc_ok:
 * @answer: the answer
 * @status: what a method said
 * @key: the key that the sentence names
 *
 * Returns: whether the status is in order; if not, the answer is a sentence
 */
gboolean
batch_calc_ok (BatchCalcAnswer *answer, NumStatus status, const char *key)
{
  if (status == NUM_OK)
    return TRUE;
  if (answer->error == NULL)
    {
      G_GNUC_BEGIN_IGNORE_DEPRECATIONS
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
      answer->error = g_strdup_printf (status_sentence (status), key);
#pragma GCC diagnostic pop
      G_GNUC_END_IGNORE_DEPRECATIONS
    }
  return FALSE;
}

/* Whether all of @names (NULL at the end) are given; if not, the answer names the first that is not. */
gboolean
batch_calc_need (const BatchCalcInput *input, BatchCalcAnswer *answer, const char *const *names)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (!batch_calc_has (input, names[i]))
      {
        batch_calc_fail (answer, _("\"%s\" is missing."), names[i]);
        return FALSE;
      }
  return TRUE;
}

/* Whether none of @names (NULL at the end) is given, where another key excludes them. */
gboolean
batch_calc_refuse (const BatchCalcInput *input, BatchCalcAnswer *answer, const char *const *names)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (batch_calc_has (input, names[i]))
      {
        batch_calc_fail (answer, _("\"%s\" does not go with the other keys."), names[i]);
        return FALSE;
      }
  return TRUE;
}

/* "lower" and "upper": at least one, in order. */
gboolean
batch_calc_limits (const BatchCalcInput *input, BatchCalcAnswer *answer, NumLimits *limits)
{
  *limits = (NumLimits){ batch_calc_number (input, "lower", -HUGE_VAL), batch_calc_number (input, "upper", HUGE_VAL) };
  if (isinf (limits->lower) && isinf (limits->upper))
    batch_calc_fail (answer, _("\"lower\" or \"upper\" is missing: at least one limit is needed."));
  else if (!(limits->lower < limits->upper))
    batch_calc_fail (answer, _("\"lower\" must be below \"upper\"."));
  return answer->error == NULL;
}
