/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch issues: where each issue stands. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "present-issue.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static const InsightIssue *
find_issue (const InsightIssues *issues, const char *no)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];
      g_autofree char *number = g_strdup_printf ("%d", issue->no);

      if (g_str_equal (number, no))
        return issue;
    }
  return NULL;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  InsightIssues *issues;
  g_autoptr(PresentIssues) present = NULL;
  g_autoptr(GError) error = NULL;
  const InsightIssue *issue = NULL;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  issues = insight_issues (evidence, &span, call->cancellable, &error);
  if (issues == NULL)
    return batch_fail (call, error);

  present = present_issues_new (issues);
  if (call->n_arguments > 0)
    {
      issue = find_issue (issues, call->arguments[0]);
      if (issue == NULL)
        return batch_usage (call, _("Model '%s' has no issue '%s': 'fettle-batch issues' lists them."), evidence->code,
                            call->arguments[0]);
    }
  if (call->json)
    batch_write_json (call, present_json_issues (present, issue));
  else
    batch_write_text (call, issue != NULL ? present_issue_to_text (issue, PRESENT_TEXT_WIDTH) : present_issues_to_text (present, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_issues = {
  .name = "issues",
  .arguments = N_("[NO]"),
  .summary = N_("List the issues of a model with what its units show about each; with a number, one of them as a whole."),
  .description = N_("State, confidence and n, what failed before and after the change, what is missing, how often it was found, and "
                    "the working days from found to contained, known and shown to be solved."),
  .most = 1,
  .run = run,
};
