/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One issue as a whole: what is missing, before and after, findings as lines, dates. */

#include "config.h"

#include "present-issue.h"

#include "present-number.h"
#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
append (GString *line, const char *between, char *text)
{
  if (*text != '\0')
    g_string_append_printf (line, "%s%s", line->len == 0 ? "" : between, text);
  g_free (text);
}

static char *
what_was_found (const InsightIssueFinding *finding)
{
  if (finding->unit[0] != '\0')
    return g_strdup (finding->unit);
  if (finding->lot[0] != '\0')
    return g_strdup_printf (_("lot %s"), finding->lot);
  if (finding->inspected > 0)
    return g_strdup_printf (_("%u of %u"), finding->affected, finding->inspected);
  return finding->affected > 0 ? g_strdup_printf (ngettext ("%u unit", "%u units", finding->affected), finding->affected)
                               : g_strdup (_("not counted"));
}

static char *
step_words (const char *pattern, const char *step)
{
  return step[0] == '\0' ? g_strdup ("") : g_strdup_printf ("%s %s", pattern, step);
}

/* 'scrap, EH 2026-03-18: lock slipped' */
static char *
disposition_words (const InsightIssueFinding *finding, gboolean with_person)
{
  const BookChoice *choice = book_choice_by_code (book_dispositions, finding->disposition);
  GString *text = g_string_new (choice == NULL ? _("no disposition yet") : book_choice_label (choice));

  if (finding->excused)
    g_string_append_printf (text, ", %s", _("does not count"));
  if (with_person && finding->by[0] != '\0')
    g_string_append_printf (text, ", %s", finding->by);
  if (finding->date[0] != '\0')
    g_string_append_printf (text, "%s%s", with_person && finding->by[0] != '\0' ? " " : ", ", finding->date);
  if (finding->reason[0] != '\0')
    g_string_append_printf (text, ": %s", finding->reason);
  return g_string_free (text, FALSE);
}

/**
 * present_issue_finding:
 * @finding: a finding
 * @with_person: whether the line names who decided
 *
 * Returns: (transfer full): one line, such as 'P1-02 (P1), found at final test, caused at grinding; scrap, EH
 *   2026-03-18: lock slipped'
 */
char *
present_issue_finding (const InsightIssueFinding *finding, gboolean with_person)
{
  g_autofree char *what = what_was_found (finding);
  GString *line = g_string_new (what);

  if (finding->lot[0] != '\0' && finding->inspected > 0)
    g_string_append_printf (line, ", %u/%u", finding->affected, finding->inspected);
  if (finding->round[0] != '\0')
    g_string_append_printf (line, " (%s)", finding->round);
  append (line, ", ", finding->in_field ? g_strdup (_("found after delivery")) : step_words (_("found at"), finding->found_at));
  append (line, ", ", step_words (_("caused at"), finding->caused_at));
  append (line, "; ", disposition_words (finding, with_person));
  return g_string_free (line, FALSE);
}

static char *
before_after (const InsightIssue *issue)
{
  g_autofree char *luck = NULL;

  if (issue->before_n == 0 || issue->after_n == 0)
    return issue->before_n == 0 ? g_strdup ("")
                                : g_strdup_printf (_("Before a change: %u of %u failed."), issue->before_failed, issue->before_n);
  luck = present_failing_share (issue->fisher);
  return g_strdup_printf (_("Before the change %u of %u failed, with it %u of %u. If the change did nothing, so few would be seen with chance %s."),
                          issue->before_failed, issue->before_n, issue->after_failed, issue->after_n, luck);
}

static char *
counted (const InsightIssue *issue)
{
  GString *text;

  if (issue->n_findings == 0)
    return g_strdup (_("No finding was written down yet."));
  text = g_string_new (NULL);
  g_string_append_printf (text, ngettext ("%u finding", "%u findings", issue->n_findings), issue->n_findings);
  append (text, ", ", issue->n_units > 0 ? g_strdup_printf (ngettext ("%u unit", "%u units", issue->n_units), issue->n_units) : g_strdup (""));
  append (text, ", ", issue->n_lots > 0 ? g_strdup_printf (ngettext ("%u lot", "%u lots", issue->n_lots), issue->n_lots) : g_strdup (""));
  append (text, ", ", issue->inspected > 0 ? g_strdup_printf (_("counted %u of %u"), issue->affected, issue->inspected) : g_strdup (""));
  append (text, ", ", issue->n_rounds > 1 ? g_strdup_printf (ngettext ("%u round", "%u rounds", issue->n_rounds), issue->n_rounds) : g_strdup (""));
  append (text, ", ", issue->in_field ? g_strdup (_("also after delivery")) : g_strdup (""));
  return g_string_free (text, FALSE);
}

static char *
cause (const InsightIssue *issue)
{
  const BookChoice *basis = book_choice_by_code (book_cause_bases, issue->cause_basis);

  if (issue->cause[0] == '\0')
    return g_strdup ("");
  return basis == NULL ? g_strdup (issue->cause) : g_strdup_printf ("%s (%s)", issue->cause, book_choice_label (basis));
}

/* 'after half a working day', 'after 14 working days' */
static char *
after_words (double days)
{
  if (days < 1.0)
    return g_strdup (_("after half a working day"));
  return g_strdup_printf (ngettext ("after %u working day", "after %u working days", (guint) days), (guint) days);
}

/* Of what is still waited for. */
static char *
so_far_words (double days)
{
  if (days < 1.0)
    return g_strdup (_("half a working day so far"));
  return g_strdup_printf (ngettext ("%u working day so far", "%u working days so far", (guint) days), (guint) days);
}

static char *
date_words (const char *name, const char *date, double days)
{
  gboolean ended = date[0] != '\0';
  g_autofree char *start = ended ? g_strdup_printf ("%s %s", name, date) : g_strdup_printf (_("%s: not yet"), name);
  g_autofree char *passed = isnan (days) ? NULL : ended ? after_words (days) : so_far_words (days);

  return passed == NULL ? g_steal_pointer (&start) : g_strdup_printf ("%s, %s", start, passed);
}

static char *
dates (const InsightIssue *issue)
{
  const char *const names[] = { _("contained"), _("cause known"), _("shown to be solved") };
  GString *line = g_string_new (NULL);

  if (issue->found[0] != '\0')
    g_string_append_printf (line, _("found %s"), issue->found);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    append (line, "; ", date_words (names[i], issue->dates[i], issue->days[i]));
  if (issue->closed[0] != '\0')
    append (line, "; ", g_strdup_printf (_("closed %s"), issue->closed));
  return g_string_free (line, FALSE);
}

static char *
labelled (const char *label, char *value)
{
  char *text = *value == '\0' ? g_strdup ("") : g_strdup_printf ("%s %s", label, value);

  g_free (value);
  return text;
}

static char *
figures (const InsightIssue *issue)
{
  GString *line = g_string_new (NULL);

  append (line, "; ", g_strdup_printf (_("before: failing %u, n %u"), issue->before_failed, issue->before_n));
  append (line, "; ", g_strdup_printf (_("after: failing %u, n %u"), issue->after_failed, issue->after_n));
  append (line, "; ", labelled (_("tolerated"), present_failing_share (issue->tolerated)));
  append (line, "; ", labelled (_("confidence"), present_confidence (issue->confidence, issue->wanted)));
  append (line, "; ", labelled (_("wanted"), present_wanted (issue->wanted)));
  append (line, "; ", labelled (_("luck alone"), isnan (issue->fisher) ? g_strdup ("") : present_failing_share (issue->fisher)));
  append (line, "; ", labelled (_("load"), isnan (issue->needed_load) ? g_strdup ("") : present_number (issue->needed_load, -1)));
  append (line, "; ", labelled (_("cycles"), isnan (issue->needed_cycles) ? g_strdup ("") : present_number (issue->needed_cycles, -1)));
  append (line, "; ", g_strdup_printf (_("looks %u"), issue->looks));
  append (line, "; ", g_strdup_printf (_("attempt %u"), issue->attempts));
  return g_string_free (line, FALSE);
}

/**
 * present_issue_detail_new:
 * @issue: an issue
 *
 * Returns: (transfer full): the issue as a whole in words
 */
PresentIssueDetail *
present_issue_detail_new (const InsightIssue *issue)
{
  PresentIssueDetail *detail = g_new0 (PresentIssueDetail, 1);

  detail->sentence = present_issue_sentence (issue);
  detail->before_after = before_after (issue);
  detail->missing = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < issue->reasons->len; i++)
    g_ptr_array_add (detail->missing, present_reason (issue->reasons->pdata[i], NULL, -1));
  detail->findings = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < issue->findings->len; i++)
    g_ptr_array_add (detail->findings, present_issue_finding (issue->findings->pdata[i], TRUE));
  detail->counted = counted (issue);
  detail->cause = cause (issue);
  detail->dates = dates (issue);
  detail->figures = figures (issue);
  detail->method = g_strdup_printf (_("%s Before and after by Fisher's exact test, one-sided; a fix counts as shown when the "
                                      "failure was reproduced before, units with the change reach the confidence wanted, and the "
                                      "chance of luck alone is below 10 %%."),
                                    present_method_words (issue->strict ? INSIGHT_METHOD_ANYTIME : INSIGHT_METHOD_EXACT));
  return detail;
}

void
present_issue_detail_free (PresentIssueDetail *detail)
{
  if (detail == NULL)
    return;

  g_free (detail->sentence);
  g_free (detail->before_after);
  g_ptr_array_unref (detail->missing);
  g_ptr_array_unref (detail->findings);
  g_free (detail->counted);
  g_free (detail->cause);
  g_free (detail->dates);
  g_free (detail->figures);
  g_free (detail->method);
  g_free (detail);
}
