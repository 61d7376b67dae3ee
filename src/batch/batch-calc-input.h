/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/*
 * The keys of a method are described by a table; one reader turns the JSON object into typed values or one sentence that
 * names the key. Methods then take values that are known to have their kind.
 */
typedef enum
{
  BATCH_CALC_NUMBER,  /* finite */
  BATCH_CALC_SHARE,   /* strictly between 0 and 1 */
  BATCH_CALC_COUNT,   /* whole, from 0 */
  BATCH_CALC_FLAG,    /* true or false */
  BATCH_CALC_WORD,    /* one of @words */
  BATCH_CALC_TEXT,    /* any text */
  BATCH_CALC_NUMBERS, /* array of finite numbers */
  BATCH_CALC_GROUPS,  /* array of arrays of numbers, none empty */
  BATCH_CALC_BLOCKS,  /* array of arrays of arrays of numbers, none empty */
  BATCH_CALC_OBJECT,  /* object of @keys */
  BATCH_CALC_OBJECTS  /* array of such objects */
} BatchCalcKind;

typedef enum
{
  BATCH_CALC_OPTIONAL = 0,
  BATCH_CALC_REQUIRED = 1 << 0,
  BATCH_CALC_EMPTY = 1 << 1 /* an empty array is in order */
} BatchCalcFlags;

typedef struct BatchCalcKey BatchCalcKey;

struct BatchCalcKey
{
  const char *name;
  BatchCalcKind kind;
  BatchCalcFlags flags;
  const char *const *words; /* for a word: the choices, NULL at the end */
  const BatchCalcKey *keys; /* for objects: the keys, name NULL at the end */
};

typedef struct BatchCalcInput BatchCalcInput;

BatchCalcInput *batch_calc_input_new (JsonObject *object, const BatchCalcKey *keys, GError **error);
void batch_calc_input_free (BatchCalcInput *input);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BatchCalcInput, batch_calc_input_free)

/*
 * Values by the name of their key, which the table of the method must hold in that kind. Without the key: @otherwise, 0,
 * %NULL, or a sample of nothing. All belong to @input.
 */
gboolean batch_calc_has (const BatchCalcInput *input, const char *name);
double batch_calc_number (const BatchCalcInput *input, const char *name, double otherwise);
gsize batch_calc_count (const BatchCalcInput *input, const char *name);
gboolean batch_calc_flag (const BatchCalcInput *input, const char *name, gboolean otherwise);
guint batch_calc_word (const BatchCalcInput *input, const char *name, guint otherwise);
const char *batch_calc_text (const BatchCalcInput *input, const char *name);
NumSample batch_calc_numbers (const BatchCalcInput *input, const char *name);
const NumSample *batch_calc_groups (const BatchCalcInput *input, const char *name, gsize *count);
const BatchCalcInput *batch_calc_object (const BatchCalcInput *input, const char *name);
const BatchCalcInput *batch_calc_objects (const BatchCalcInput *input, const char *name, gsize index, gsize *count);
gboolean batch_calc_block_sizes (const BatchCalcInput *input, const char *name, gsize *blocks, gsize *rows, gsize *columns);

G_END_DECLS
