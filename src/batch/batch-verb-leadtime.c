/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch leadtime: where the working days of a model went. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-json.h"
#include "present-leadtime.h"
#include "present-text.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(GPtrArray) others = NULL;
  g_autoptr(InsightLeadtime) leadtime = NULL;
  g_autoptr(PresentLeadtime) present = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  others = batch_other_rounds (book, evidence->model_id, &error);
  if (others != NULL)
    leadtime = insight_leadtime (evidence, (const BookEvidence *const *) others->pdata, others->len, &span, &error);
  if (leadtime == NULL)
    return batch_fail (call, error);
  present = present_leadtime_new (leadtime);
  if (call->json)
    batch_write_json (call, present_json_leadtime (present));
  else
    batch_write_text (call, present_leadtime_to_text (present, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_leadtime = {
  .name = "leadtime",
  .arguments = "",
  .summary = N_("Say where the working days of a model went, by round, phase and wait, and what is open for how long."),
  .description = N_("Medians with intervals from six ended ones on, else the range; waits by supplier and reason; how long issues "
                    "take; what earlier models took; and how long the next round will probably be."),
  .run = run,
};
