/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch life: how long units live, and what would prove that it is long enough. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-life.h"
#include "present-json.h"
#include "present-life.h"
#include "present-text.h"

#include <glib/gi18n.h>

static char *characteristic;

static const GOptionEntry options[] = {
  { "characteristic", 'c', 0, G_OPTION_ARG_STRING, &characteristic,
    N_("Which characteristic is cycled; the one with most tests when left out"), N_("CODE") },
  G_OPTION_ENTRY_NULL
};

/**
 * batch_life:
 * @call: the call
 * @evidence: of the model
 * @code: (nullable): of the characteristic; %NULL: the one with most tests
 * @span: asked about
 * @status: (out): set on failure
 *
 * Returns: (transfer full) (nullable): what its life tests say
 */
InsightLife *
batch_life (BatchCall *call, const BookEvidence *evidence, const char *code, const InsightSpan *span, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  gint64 id = 0;
  InsightLife *life;

  for (guint i = 0; code != NULL && i < evidence->n_characteristics; i++)
    if (g_str_equal (evidence->characteristics[i].code, code))
      id = evidence->characteristics[i].id;
  if (code != NULL && id == 0)
    {
      *status = batch_usage (call, _("Model '%s' has no characteristic '%s'."), evidence->code, code);
      return NULL;
    }
  life = insight_life (evidence, id, span, call->cancellable, &error);
  if (life == NULL)
    *status = batch_fail (call, error);
  return life;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightLife) life = NULL;
  g_autoptr(PresentLife) present = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  life = batch_life (call, evidence, characteristic, &span, &status);
  if (life == NULL)
    return status;
  present = present_life_new (life, evidence->caution);
  if (call->json)
    batch_write_json (call, present_json_life (present));
  else
    batch_write_text (call, present_life_to_text (present, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_life = {
  .name = "life",
  .arguments = "",
  .summary = N_("Say how long units live in life tests, by each way of failing, and what would prove that it is long enough."),
  .description = N_("Points and lines on Weibull paper with stopped units, the confidence of the criterion that asks for it, how "
                    "the cycles between failures grew over the rounds, and how many units and cycles without a failure would do."),
  .options = options,
  .run = run,
};
