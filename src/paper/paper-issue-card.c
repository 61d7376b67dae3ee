/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>

#define PICTURE_HEIGHT 110.0
#define PICTURES_ACROSS 2
#define NOTES_LEAST     2
#define NOTES_MOST      5
#define FINDINGS_LARGE 6  /* more are set in small letters */
#define FINDINGS_MOST  24 /* a card is no list; the book has them all */

static void
set_findings (PaperFlow *flow, const InsightIssue *issue)
{
  guint shown = MIN (issue->findings->len, FINDINGS_MOST);

  bench_heading (flow, _("Findings"), 20.0);
  if (issue->findings->len == 0)
    bench_paragraph (flow, _("No finding is written down."));
  for (guint i = 0; i < shown; i++)
    {
      g_autofree char *line = present_issue_finding (issue->findings->pdata[i], FALSE);

      if (shown > FINDINGS_LARGE)
        bench_remark (flow, line);
      else
        bench_paragraph (flow, line);
    }
  if (issue->findings->len > shown)
    {
      g_autofree char *more = g_strdup_printf (ngettext ("The book has %u more.", "The book has %u more.", issue->findings->len - shown),
                                               issue->findings->len - shown);

      bench_remark (flow, more);
    }
}

static void
set_pictures (const Bench *bench, PaperFlow *flow)
{
  g_autofree PaperFigure *figures = g_new0 (PaperFigure, bench->pictures->len + 1);

  for (guint i = 0; i < bench->pictures->len; i++)
    figures[i] = (PaperFigure) { .picture = bench->pictures->pdata[i], .height = PICTURE_HEIGHT };
  if (bench->pictures->len > 0)
    {
      bench_heading (flow, _("Photographs"), PICTURE_HEIGHT);
      paper_flow_figures (flow, figures, bench->pictures->len, PICTURES_ACROSS);
    }
  if (bench->n_lost > 0)
    {
      g_autofree char *lost = g_strdup_printf (
        ngettext ("%u picture is left out, since its file is missing or damaged.",
                  "%u pictures are left out, since their files are missing or damaged.", bench->n_lost),
        bench->n_lost);

      bench_remark (flow, lost);
    }
}

/* What was done at once, why it happens, and what is changed. */
static void
set_answer (const Bench *bench, PaperFlow *flow, const InsightIssue *issue, const PresentIssueDetail *detail)
{
  const char *contained = issue->dates[INSIGHT_ISSUE_CONTAINED];
  g_autofree char *when = contained[0] != '\0' ? g_strdup_printf (_("Contained on %s."), contained) : g_strdup (_("Not contained yet."));

  bench_heading (flow, _("Containment"), 20.0);
  bench_paragraph (flow, when);
  bench_heading (flow, _("Cause"), 20.0);
  bench_paragraph (flow, detail->cause[0] != '\0' ? detail->cause : _("Nobody knows the cause yet."));
  bench_heading (flow, _("Change"), 20.0);
  if (issue->change_no > 0)
    {
      g_autofree char *line = g_strdup_printf (_("Change %d: %s"), issue->change_no, issue->change_title);

      bench_paragraph (flow, line);
    }
  else
    bench_paragraph (flow, _("No change answers it yet."));
}

void
bench_set_issue_card (const Bench *bench, PaperFlow *flow)
{
  const InsightIssue *issue = insight_issues_find (bench->issues->data, bench->ask->issue);
  PresentIssueDetail *detail = present_issue_detail_new (issue);
  const BookChoice *klass = book_choice_by_code (book_classes, issue->klass);
  g_autofree char *title = g_strdup_printf (_("Issue %d: %s"), issue->no, issue->title);
  g_autofree char *found = issue->found_round[0] != '\0' ? g_strdup_printf (_("Found on %s in round %s."), issue->found, issue->found_round)
                                                          : g_strdup_printf (_("Found on %s."), issue->found);
  g_autofree char *line = g_strdup_printf (_("Class: %s."), klass != NULL ? book_choice_label (klass) : "");

  int lines;

  bench_begin (bench, flow, title);
  paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, line);
  if (issue->found[0] != '\0')
    bench_paragraph (flow, found);
  bench_paragraph (flow, detail->sentence);
  if (issue->klass == BOOK_CLASS_SAFETY || issue->in_life_test)
    bench_say_caution (bench, flow);
  set_findings (flow, issue);
  set_answer (bench, flow, issue, detail);
  set_pictures (bench, flow);
  /* As many lines as the page has room for, else some on the next. */
  lines = (int) ((paper_flow_room (flow) - 8.0) / PAPER_ANSWER_LINE);
  paper_flow_answer (flow, _("Notes, with day and initials"), lines < NOTES_LEAST ? NOTES_MOST : (guint) MIN (lines, NOTES_MOST));
  present_issue_detail_free (detail);
}
