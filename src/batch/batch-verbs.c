/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of verbs. */

#include "config.h"

#include "batch-verbs.h"

const BatchVerb * const batch_verbs[] = {
  &batch_verb_new,
  &batch_verb_fields,
  &batch_verb_import,
  &batch_verb_sheet,
  &batch_verb_export,
  &batch_verb_standing,
  &batch_verb_readings,
  &batch_verb_issues,
  &batch_verb_compare,
  &batch_verb_pilot,
  &batch_verb_leadtime,
  &batch_verb_forecast,
  &batch_verb_release,
  &batch_verb_gauges,
  &batch_verb_life,
  &batch_verb_plan,
  &batch_verb_chart,
  &batch_verb_paper,
  &batch_verb_letter,
  &batch_verb_pack,
  &batch_verb_history,
  &batch_verb_undo,
  &batch_verb_redo,
  &batch_verb_check,
  &batch_verb_calc,
  NULL
};

/**
 * batch_verb_find:
 * @name: a word
 *
 * Returns: (nullable): the verb of that name
 */
const BatchVerb *
batch_verb_find (const char *name)
{
  for (guint i = 0; batch_verbs[i] != NULL; i++)
    if (g_str_equal (batch_verbs[i]->name, name))
      return batch_verbs[i];
  return NULL;
}
