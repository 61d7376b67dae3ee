/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "batch-calc-input.h"
#include "num-status.h"

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* The answer to one line, as it is put together: figures, or one sentence. */
typedef struct
{
  JsonObject *object; /* (owned) */
  char *error;        /* (owned) (nullable): the sentence; the figures do not count then */
  gboolean lacks;     /* a figure does not exist */
} BatchCalcAnswer;

/* A method: its keys, and what computes it. */
typedef struct
{
  const char *name;
  const BatchCalcKey *keys;
  void (*compute) (const BatchCalcInput *input, BatchCalcAnswer *answer);
} BatchCalcMethod;

/* Figures and words of the answer by name; what is not finite becomes null. The last of a name counts. */
void batch_calc_put (BatchCalcAnswer *answer, const char *name, double value);
void batch_calc_put_count (BatchCalcAnswer *answer, const char *name, gsize value);
void batch_calc_put_flag (BatchCalcAnswer *answer, const char *name, gboolean value);
void batch_calc_put_text (BatchCalcAnswer *answer, const char *name, const char *value);
void batch_calc_put_interval (BatchCalcAnswer *answer, const char *name, NumInterval interval);
void batch_calc_put_numbers (BatchCalcAnswer *answer, const char *name, const double *values, gsize n);
void batch_calc_put_array (BatchCalcAnswer *answer, const char *name, JsonArray *array);
void batch_calc_why (BatchCalcAnswer *answer, const char *sentence);
/* Makes the answer a sentence: the figures no longer count. */
void batch_calc_fail (BatchCalcAnswer *answer, const char *format, ...) G_GNUC_PRINTF (2, 3);
gboolean batch_calc_ok (BatchCalcAnswer *answer, NumStatus status, const char *key);
gboolean batch_calc_need (const BatchCalcInput *input, BatchCalcAnswer *answer, const char *const *names);
gboolean batch_calc_refuse (const BatchCalcInput *input, BatchCalcAnswer *answer, const char *const *names);
gboolean batch_calc_limits (const BatchCalcInput *input, BatchCalcAnswer *answer, NumLimits *limits);

G_END_DECLS
