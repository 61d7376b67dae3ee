/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch-compare.h"

#include "batch-book.h"
#include "present-sentence.h"

#include <glib/gi18n.h>

/**
 * batch_compare_check:
 * @call: the call
 * @given: its options
 * @status: (out): the exit status on failure
 *
 * Returns: whether the options name one comparison; otherwise a sentence was written
 */
gboolean
batch_compare_check (BatchCall *call, const BatchCompareOptions *given, BatchStatus *status)
{
  gboolean rounds = given->from != NULL || given->to != NULL;

  if (call->through != NULL)
    {
      *status = batch_usage (call, _("A comparison ends with its later round: leave out --through, and add --to or --round."));
      return FALSE;
    }
  if (rounds == (given->round != NULL) || (rounds && (given->from == NULL || given->to == NULL)))
    {
      *status = batch_usage (call, _("Say what to compare: add either --from and --to, or --round."));
      return FALSE;
    }
  if (rounds && (given->by != NULL || given->old_label != NULL || given->new_label != NULL))
    {
      *status = batch_usage (call, _("--by, --old and --new divide one round: add --round instead of --from and --to."));
      return FALSE;
    }
  if ((given->old_label == NULL) != (given->new_label == NULL))
    {
      *status = batch_usage (call, _("Two groups are compared: add both --old and --new, or neither."));
      return FALSE;
    }
  return TRUE;
}

/* A part by its number, else a step by its name. */
static gboolean
find_divider (BatchCall *call, const BookEvidence *evidence, const char *by, InsightCompareAsk *ask, BatchStatus *status)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  g_autofree char *known = NULL;

  for (guint i = 0; i < evidence->n_parts; i++)
    {
      if (g_str_equal (evidence->parts[i].number, by))
        {
          ask->part = evidence->parts[i].id;
          return TRUE;
        }
      g_ptr_array_add (names, (gpointer) evidence->parts[i].number);
    }
  for (guint i = 0; i < evidence->n_steps; i++)
    {
      if (g_str_equal (evidence->steps[i].name, by))
        {
          ask->step = evidence->steps[i].id;
          return TRUE;
        }
      g_ptr_array_add (names, (gpointer) evidence->steps[i].name);
    }
  g_ptr_array_add (names, NULL);
  known = present_names ((const char * const *) names->pdata);
  *status = batch_usage (call, _("Model '%s' has no part or step '%s'; it has: %s."), evidence->code, by, known);
  return FALSE;
}

/**
 * batch_compare:
 * @call: the call
 * @evidence: of the model
 * @given: its options, checked
 * @status: (out): the exit status on failure
 *
 * Returns: (transfer full) (nullable): the comparison in words; otherwise a sentence was written
 */
PresentComparison *
batch_compare (BatchCall *call, const BookEvidence *evidence, const BatchCompareOptions *given, BatchStatus *status)
{
  InsightCompareAsk ask = { .today = call->today, .old_label = given->old_label, .new_label = given->new_label };
  g_autoptr(GError) error = NULL;
  InsightComparison *comparison;

  if ((given->from != NULL && !batch_round (call, evidence, given->from, &ask.from, status))
      || (given->to != NULL && !batch_round (call, evidence, given->to, &ask.to, status))
      || (given->round != NULL && !batch_round (call, evidence, given->round, &ask.round, status))
      || (given->by != NULL && !find_divider (call, evidence, given->by, &ask, status)))
    return NULL;
  comparison = insight_compare (evidence, &ask, call->cancellable, &error);
  if (comparison != NULL)
    return present_comparison_new (comparison, evidence->caution);
  *status = batch_fail (call, error);
  return NULL;
}
