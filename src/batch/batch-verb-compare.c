/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch compare: two rounds, or two groups of one, set against each other. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-compare.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static BatchCompareOptions given;
static gboolean method;

static const GOptionEntry options[] = {
  BATCH_COMPARE_ENTRIES (given),
  { "method", 0, 0, G_OPTION_ARG_NONE, &method, N_("Also say how each interval was found"), NULL },
  G_OPTION_ENTRY_NULL
};

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(PresentComparison) present = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_compare_check (call, &given, &status) || !batch_book_open (call, &book, &status)
      || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  present = batch_compare (call, evidence, &given, &status);
  if (present == NULL)
    return status;
  if (call->json)
    batch_write_json (call, present_json_comparison (present));
  else
    batch_write_text (call, present_comparison_to_text (present, PRESENT_TEXT_WIDTH, method));
  return BATCH_DONE;
}

const BatchVerb batch_verb_compare = {
  .name = "compare",
  .arguments = N_("--from ROUND --to ROUND | --round ROUND [--by PART]"),
  .summary = N_("Say what changed between two rounds, or two groups of one round, and what the readings say."),
  .description = N_("What was built, set or limited otherwise, old and new, with the changes that account for it; and for each "
                    "characteristic that depends on it the difference with its interval. Units with old and new in one round are "
                    "compared rather than rounds, wherever there are such."),
  .options = options,
  .run = run,
};
