/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch plan: what a planned round can show. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-json.h"
#include "present-plan.h"
#include "present-text.h"

#include <glib/gi18n.h>

static int units;

static const GOptionEntry options[] = {
  { "units", 0, 0, G_OPTION_ARG_INT, &units, N_("How many units are built; as planned when left out"), N_("N") },
  G_OPTION_ENTRY_NULL
};

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightPlan) plan = NULL;
  g_autoptr(InsightPlanAnswer) answer = NULL;
  g_autoptr(PresentPlan) present = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  gint64 round;
  BatchStatus status;

  if (units < 0)
    return batch_usage (call, _("'--units=%d' is less than none: write how many units are built."), units);
  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status)
      || !batch_round (call, evidence, call->arguments[0], &round, &status))
    return status;
  plan = insight_plan_new (evidence, round, span.today, call->cancellable, &error);
  answer = plan != NULL ? insight_plan_prove (plan, units > 0 ? (guint) units : insight_plan_get_units (plan), call->cancellable, &error)
                        : NULL;
  if (answer == NULL)
    return batch_fail (call, error);
  present = present_plan_new (plan, answer);
  if (call->json)
    batch_write_json (call, present_json_plan (plan, answer, present));
  else
    batch_write_text (call, present_plan_to_text (present, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_plan = {
  .name = "plan",
  .arguments = N_("ROUND"),
  .summary = N_("Say what a round can show before it is built: for each criterion, and for all of them."),
  .description = N_("Units that count by the round's plan of tests, the confidence if none of them fails, the chance of passing by what is "
                    "known so far, how often a design at the tolerated share would pass too, and how many units it takes."),
  .options = options,
  .least = 1,
  .most = 1,
  .run = run,
};
