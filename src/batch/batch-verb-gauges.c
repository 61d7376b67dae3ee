/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch gauges: calibrations, studies and checks behind a model's readings. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-gauge.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightGauges) gauges = NULL;
  g_autoptr(PresentGauges) present = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  gauges = insight_gauges (evidence, &span, call->cancellable, &error);
  if (gauges == NULL)
    return batch_fail (call, error);
  present = present_gauges_new (gauges);
  if (call->json)
    batch_write_json (call, present_json_gauges (present));
  else
    batch_write_text (call, present_gauges_to_text (present, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_gauges = {
  .name = "gauges",
  .arguments = "",
  .summary = N_("Say which gauges are due, how much of the tolerance each takes up, and what checks find of what is bad."),
  .description = N_("Studies by analysis of variance with the share of the tolerance and its bound; known bad pieces by inspector; "
                    "readings that do not count because a gauge was overdue. Persons are letters."),
  .run = run,
};
