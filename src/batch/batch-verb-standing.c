/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch standing: where a model stands. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-json.h"
#include "present-standing.h"
#include "present-text.h"

#include <glib/gi18n.h>

static gboolean method;

static const GOptionEntry options[] = {
  { "method", 0, 0, G_OPTION_ARG_NONE, &method, N_("Also say how each confidence was computed"), NULL },
  G_OPTION_ENTRY_NULL
};

static void
write_methods (BatchCall *call, PresentStanding *standing)
{
  batch_write (call, "\n");
  batch_write (call, _("Methods"));
  batch_write (call, "\n");
  for (guint i = 0; i < standing->criteria->len; i++)
    {
      const PresentCriterion *criterion = standing->criteria->pdata[i];
      g_autofree char *line = g_strdup_printf ("%s: %s", criterion->name, criterion->method);
      g_autofree char *wrapped = present_text_wrap (line, PRESENT_TEXT_WIDTH, "- ", "  ");

      if (*criterion->method != '\0')
        batch_write (call, wrapped);
    }
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(PresentStanding) present = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  standing = insight_standing (evidence, &span, call->cancellable, &error);
  if (standing == NULL)
    return batch_fail (call, error);

  present = present_standing_new (standing, evidence->caution);
  if (call->json)
    {
      batch_write_json (call, present_json_standing (present));
      return BATCH_DONE;
    }
  batch_write_text (call, present_standing_to_text (present, PRESENT_TEXT_WIDTH));
  if (method)
    write_methods (call, present);
  return BATCH_DONE;
}

const BatchVerb batch_verb_standing = {
  .name = "standing",
  .arguments = "",
  .summary = N_("Say where a model stands: what is met, what blocks and why, what was not looked at, what to do next."),
  .description = N_("Criteria with state, confidence reached and wanted, n, rounds, lots, looks and attempts; the score of the evidence "
                    "gathered. Looks through the newest round as of today, or through --through as of --today."),
  .options = options,
  .run = run,
};
