/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One JSON object into typed values by a table of keys. */
#include "config.h"

#include "batch-calc-input.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define NUMBERS_MOST 500000       /* numbers of one key: what a second is enough for, in the slowest method */
#define COUNT_MOST 9007199254740992.0 /* 2^53: counts beyond are not whole in a double */

/* The value of one key. Numbers of all array kinds lie in @numbers; @groups cuts them. */
typedef struct
{
  const BatchCalcKey *key;
  double number;
  char *text;
  GArray *numbers;    /* of double */
  GArray *sizes;      /* of gsize: values of each group */
  NumSample *groups;  /* set when all numbers are read */
  gsize rows;         /* of a block; 0 when blocks differ */
  GPtrArray *objects; /* of BatchCalcInput */
} Value;

struct BatchCalcInput
{
  GPtrArray *values; /* of Value */
};

static void
value_free (gpointer data)
{
  Value *value = data;

  g_free (value->text);
  g_clear_pointer (&value->numbers, g_array_unref);
  g_clear_pointer (&value->sizes, g_array_unref);
  g_clear_pointer (&value->objects, g_ptr_array_unref);
  g_free (value->groups);
  g_free (value);
}

static gboolean G_GNUC_PRINTF (2, 3)
wrong (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *text = NULL;

  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, text);
  return FALSE;
}

static gboolean
read_number (JsonNode *node, const BatchCalcKey *key, double *number, GError **error)
{
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return wrong (error, _("\"%s\" holds something that is not a number."), key->name);
  *number = json_node_get_double (node);
  if (!isfinite (*number))
    return wrong (error, _("\"%s\" holds a number that is too large."), key->name);
  return TRUE;
}

static gboolean
read_single (JsonNode *node, Value *value, GError **error)
{
  const BatchCalcKey *key = value->key;

  if (!read_number (node, key, &value->number, error))
    return FALSE;
  if (key->kind == BATCH_CALC_SHARE && !(value->number > 0.0 && value->number < 1.0))
    return wrong (error, _("\"%s\" must lie strictly between 0 and 1."), key->name);
  if (key->kind == BATCH_CALC_COUNT
      && !(value->number >= 0.0 && value->number <= COUNT_MOST && value->number == floor (value->number)))
    return wrong (error, _("\"%s\" must be a whole number of 0 or more."), key->name);
  return TRUE;
}

static gboolean
read_flag (JsonNode *node, Value *value, GError **error)
{
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
    return wrong (error, _("\"%s\" must be true or false."), value->key->name);
  value->number = json_node_get_boolean (node) ? 1.0 : 0.0;
  return TRUE;
}

static gboolean
read_text (JsonNode *node, Value *value, GError **error)
{
  const BatchCalcKey *key = value->key;
  g_autofree char *choices = NULL;

  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return wrong (error, _("\"%s\" must be a text."), key->name);
  value->text = json_node_dup_string (node);
  if (key->kind == BATCH_CALC_TEXT)
    return TRUE;
  for (guint i = 0; key->words[i] != NULL; i++)
    if (strcmp (key->words[i], value->text) == 0)
      {
        value->number = i;
        return TRUE;
      }
  choices = g_strjoinv (", ", (char **) key->words);
  return wrong (error, _("\"%s\" must be one of: %s."), key->name, choices);
}

/* Appends the numbers of an array; @depth more levels of arrays lie above them. */
static gboolean
read_numbers (JsonNode *node, Value *value, guint depth, GError **error)
{
  const BatchCalcKey *key = value->key;
  JsonArray *array;
  guint length;

  if (!JSON_NODE_HOLDS_ARRAY (node))
    return wrong (error, _("\"%s\" must be an array of numbers, or of arrays where the method takes groups."), key->name);
  array = json_node_get_array (node);
  length = json_array_get_length (array);
  if (length == 0 && !(key->flags & BATCH_CALC_EMPTY))
    return wrong (error, _("\"%s\" holds an empty array."), key->name);
  if (length > NUMBERS_MOST || value->numbers->len + length > NUMBERS_MOST)
    return wrong (error, _("\"%s\" holds more than %d values, the most that one line may bring."), key->name, NUMBERS_MOST);

  for (guint i = 0; i < length; i++)
    {
      JsonNode *element = json_array_get_element (array, i);
      double number;

      if (depth > 0)
        {
          if (!read_numbers (element, value, depth - 1, error))
            return FALSE;
          continue;
        }
      if (!read_number (element, key, &number, error))
        return FALSE;
      g_array_append_val (value->numbers, number);
    }
  if (depth == 0)
    {
      gsize size = length;

      g_array_append_val (value->sizes, size);
    }
  if (depth == 1 && key->kind == BATCH_CALC_BLOCKS)
    value->rows = value->rows == 0 || value->rows == length ? length : G_MAXSIZE;
  return TRUE;
}

static gboolean
read_array (JsonNode *node, Value *value, GError **error)
{
  guint depth = value->key->kind - BATCH_CALC_NUMBERS;
  gsize at = 0;

  value->numbers = g_array_new (FALSE, FALSE, sizeof (double));
  value->sizes = g_array_new (FALSE, FALSE, sizeof (gsize));
  if (!read_numbers (node, value, depth, error))
    return FALSE;
  value->groups = g_new0 (NumSample, value->sizes->len + 1);
  for (guint i = 0; i < value->sizes->len; i++)
    {
      gsize size = g_array_index (value->sizes, gsize, i);

      if (size > 0) /* no number at all leaves no data to point into */
        value->groups[i].values = &g_array_index (value->numbers, double, at);
      value->groups[i].n = size;
      at += size;
    }
  return TRUE;
}

static gboolean
read_one_object (JsonNode *node, Value *value, GError **error)
{
  BatchCalcInput *input;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return wrong (error, _("\"%s\" must hold an object."), value->key->name);
  input = batch_calc_input_new (json_node_get_object (node), value->key->keys, error);
  if (input == NULL)
    {
      g_prefix_error (error, _("In \"%s\": "), value->key->name);
      return FALSE;
    }
  g_ptr_array_add (value->objects, input);
  return TRUE;
}

static gboolean
read_objects (JsonNode *node, Value *value, GError **error)
{
  JsonArray *array;

  value->objects = g_ptr_array_new_with_free_func ((GDestroyNotify) batch_calc_input_free);
  if (value->key->kind == BATCH_CALC_OBJECT)
    return read_one_object (node, value, error);
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return wrong (error, _("\"%s\" must be an array of objects."), value->key->name);
  array = json_node_get_array (node);
  if (json_array_get_length (array) == 0)
    return wrong (error, _("\"%s\" holds an empty array."), value->key->name);
  if (json_array_get_length (array) > NUMBERS_MOST)
    return wrong (error, _("\"%s\" holds more than %d values, the most that one line may bring."), value->key->name,
                  NUMBERS_MOST);
  for (guint i = 0; i < json_array_get_length (array); i++)
    if (!read_one_object (json_array_get_element (array, i), value, error))
      return FALSE;
  return TRUE;
}

typedef gboolean (*Reader) (JsonNode *node, Value *value, GError **error);

static const Reader readers[] = {
  [BATCH_CALC_NUMBER] = read_single,  [BATCH_CALC_SHARE] = read_single,   [BATCH_CALC_COUNT] = read_single,
  [BATCH_CALC_FLAG] = read_flag,      [BATCH_CALC_WORD] = read_text,      [BATCH_CALC_TEXT] = read_text,
  [BATCH_CALC_NUMBERS] = read_array,  [BATCH_CALC_GROUPS] = read_array,   [BATCH_CALC_BLOCKS] = read_array,
  [BATCH_CALC_OBJECT] = read_objects, [BATCH_CALC_OBJECTS] = read_objects,
};

static const BatchCalcKey *
find_key (const BatchCalcKey *keys, const char *name)
{
  for (const BatchCalcKey *key = keys; key->name != NULL; key++)
    if (strcmp (key->name, name) == 0)
      return key;
  return NULL;
}

static const Value *
find_value (const BatchCalcInput *input, const char *name)
{
  for (guint i = 0; i < input->values->len; i++)
    {
      const Value *value = g_ptr_array_index (input->values, i);

      if (strcmp (value->key->name, name) == 0)
        return value;
    }
  return NULL;
}

/**
 * batch_calc_input_new:
 * @object: what was asked; its members "id" and "method" are passed over
 * @keys: the keys that the method takes, name NULL at the end
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the values; NULL with a sentence that names the key when one is unknown, missing
 *   or of the wrong kind
 */
BatchCalcInput *
batch_calc_input_new (JsonObject *object, const BatchCalcKey *keys, GError **error)
{
  g_autoptr(BatchCalcInput) input = g_new0 (BatchCalcInput, 1);
  g_autoptr(GList) members = json_object_get_members (object);

  input->values = g_ptr_array_new_with_free_func (value_free);
  for (GList *at = members; at != NULL; at = at->next)
    {
      const char *name = at->data;
      const BatchCalcKey *key = find_key (keys, name);
      Value *value;

      if (strcmp (name, "id") == 0 || strcmp (name, "method") == 0)
        continue;
      if (key == NULL)
        {
          wrong (error, _("\"%s\" is not a key of this method."), name);
          return NULL;
        }
      value = g_new0 (Value, 1);
      value->key = key;
      g_ptr_array_add (input->values, value);
      if (!readers[key->kind](json_object_get_member (object, name), value, error))
        return NULL;
    }
  for (const BatchCalcKey *key = keys; key->name != NULL; key++)
    if ((key->flags & BATCH_CALC_REQUIRED) && !batch_calc_has (input, key->name))
      {
        wrong (error, _("\"%s\" is missing."), key->name);
        return NULL;
      }
  return g_steal_pointer (&input);
}

void
batch_calc_input_free (BatchCalcInput *input)
{
  g_clear_pointer (&input->values, g_ptr_array_unref);
  g_free (input);
}

gboolean
batch_calc_has (const BatchCalcInput *input, const char *name)
{
  return find_value (input, name) != NULL;
}

double
batch_calc_number (const BatchCalcInput *input, const char *name, double otherwise)
{
  const Value *value = find_value (input, name);

  return value != NULL ? value->number : otherwise;
}

/* 0 where the key is absent. */
gsize
batch_calc_count (const BatchCalcInput *input, const char *name)
{
  return (gsize) batch_calc_number (input, name, 0.0);
}

gboolean
batch_calc_flag (const BatchCalcInput *input, const char *name, gboolean otherwise)
{
  return batch_calc_number (input, name, otherwise) != 0.0;
}

/* The index of the word among the choices. */
guint
batch_calc_word (const BatchCalcInput *input, const char *name, guint otherwise)
{
  return (guint) batch_calc_number (input, name, otherwise);
}

const char *
batch_calc_text (const BatchCalcInput *input, const char *name)
{
  const Value *value = find_value (input, name);

  return value != NULL ? value->text : NULL;
}

/* Empty where the key is absent. */
NumSample
batch_calc_numbers (const BatchCalcInput *input, const char *name)
{
  const Value *value = find_value (input, name);

  return value != NULL ? value->groups[0] : (NumSample){ NULL, 0 };
}

const NumSample *
batch_calc_groups (const BatchCalcInput *input, const char *name, gsize *count)
{
  const Value *value = find_value (input, name);

  *count = value != NULL ? value->sizes->len : 0;
  return value != NULL ? value->groups : NULL;
}

const BatchCalcInput *
batch_calc_object (const BatchCalcInput *input, const char *name)
{
  return batch_calc_objects (input, name, 0, NULL);
}

const BatchCalcInput *
batch_calc_objects (const BatchCalcInput *input, const char *name, gsize index, gsize *count)
{
  const Value *value = find_value (input, name);

  if (count != NULL)
    *count = value != NULL ? value->objects->len : 0;
  return value != NULL && index < value->objects->len ? g_ptr_array_index (value->objects, index) : NULL;
}

/**
 * batch_calc_block_sizes:
 * @input: the values
 * @name: a key of kind %BATCH_CALC_BLOCKS
 * @blocks: (out): outer length
 * @rows: (out): middle length
 * @columns: (out): inner length
 *
 * Returns: whether all blocks have the same shape; the numbers then lie one after the other from the first group on
 */
gboolean
batch_calc_block_sizes (const BatchCalcInput *input, const char *name, gsize *blocks, gsize *rows, gsize *columns)
{
  const Value *value = find_value (input, name);

  if (value->rows == G_MAXSIZE)
    return FALSE;
  *rows = value->rows;
  *columns = value->groups[0].n;
  *blocks = value->sizes->len / *rows;
  for (guint i = 0; i < value->sizes->len; i++)
    if (value->groups[i].n != *columns)
      return FALSE;
  return TRUE;
}
