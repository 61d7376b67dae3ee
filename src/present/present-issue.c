/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Issues in words: the state with its n and confidence, a row of the list, one issue as a whole. */

#include "config.h"

#include "present-issue.h"

#include "present-number.h"
#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define AGES_LEAST 6 /* ended ones below which the range is told instead of a median */

static const char *
outcome_words (BookIssueOutcome outcome)
{
  const BookChoice *choice = book_choice_by_code (book_issue_outcomes, outcome);

  return choice == NULL ? "" : book_choice_label (choice);
}

/**
 * present_issue_state:
 * @issue: an issue
 *
 * Returns: (transfer full): where it stands in a few words; never 'proven' without confidence and n
 */
char *
present_issue_state (const InsightIssue *issue)
{
  g_autofree char *confidence = NULL;

  if (insight_issue_is_closed (issue))
    return g_strdup (outcome_words (issue->outcome));
  switch (issue->state)
    {
    case INSIGHT_ISSUE_OPEN:
      return g_strdup (_("open"));
    case INSIGHT_ISSUE_NOT_AGAIN:
      return g_strdup_printf (ngettext ("not seen again on %u unit", "not seen again on %u units", issue->after_n), issue->after_n);
    case INSIGHT_ISSUE_PROVEN:
      confidence = present_confidence (issue->confidence, issue->wanted);
      return g_strdup_printf (ngettext ("proven at %s on %u unit", "proven at %s on %u units", issue->after_n), confidence,
                              issue->after_n);
    case INSIGHT_ISSUE_CAME_BACK:
      return g_strdup (_("came back"));
    case INSIGHT_N_ISSUE_STATES:
      break;
    }
  return g_strdup ("");
}

/**
 * present_issue_mark:
 * @issue: an issue
 *
 * Returns: its state as one shape, the same as on the round strip: hollow, half, filled; a turn for one that came back,
 *   a line for one closed otherwise
 */
const char *
present_issue_mark (const InsightIssue *issue)
{
  if (insight_issue_is_closed (issue))
    return "–";
  switch (issue->state)
    {
    case INSIGHT_ISSUE_OPEN:
      return "○";
    case INSIGHT_ISSUE_NOT_AGAIN:
      return "◐";
    case INSIGHT_ISSUE_PROVEN:
      return "●";
    case INSIGHT_ISSUE_CAME_BACK:
      return "↺";
    case INSIGHT_N_ISSUE_STATES:
      break;
    }
  return "";
}

/* 'The tests support "at least 90 in 100 units no longer show it" at 71 % confidence (wanted: 95 %).' */
static char *
support (const InsightIssue *issue)
{
  g_autofree char *share = present_share_in (1.0 - issue->tolerated);
  g_autofree char *reached = present_confidence (issue->confidence, issue->wanted);
  g_autofree char *wanted = present_wanted (issue->wanted);

  return g_strdup_printf (_("The tests support \"at least %s units do not show it\" at %s confidence (wanted: %s), if the "
                            "units tested are like those to be sold."),
                          share, reached, wanted);
}

/**
 * present_issue_sentence:
 * @issue: an issue
 *
 * Returns: (transfer full): where it stands, as one or two whole sentences
 */
char *
present_issue_sentence (const InsightIssue *issue)
{
  g_autofree char *change = issue->change_no > 0 ? g_strdup_printf ("%d %s", issue->change_no, issue->change_title) : NULL;
  g_autofree char *start = NULL;
  g_autofree char *claim = isnan (issue->confidence) ? NULL : support (issue);

  if (insight_issue_is_closed (issue))
    return g_strdup_printf (_("It was closed on %s: %s."), issue->closed, outcome_words (issue->outcome));
  switch (issue->state)
    {
    case INSIGHT_ISSUE_OPEN:
      if (change == NULL)
        return g_strdup (_("It is open, and no change answers it yet."));
      return g_strdup_printf (_("It is open: no unit that counts speaks for change %s yet."), change);
    case INSIGHT_ISSUE_NOT_AGAIN:
      start = g_strdup_printf (ngettext ("It was not seen again on %u unit with change %s.",
                                         "It was not seen again on %u units with change %s.", issue->after_n),
                               issue->after_n, change);
      break;
    case INSIGHT_ISSUE_PROVEN:
      start = g_strdup_printf (ngettext ("Change %2$s is shown to work on %1$u unit.", "Change %2$s is shown to work on %1$u units.",
                                         issue->after_n),
                               issue->after_n, change);
      break;
    case INSIGHT_ISSUE_CAME_BACK:
      start = g_strdup_printf (_("It came back with change %s: failing %u of %u."), change, issue->after_failed, issue->after_n);
      break;
    case INSIGHT_N_ISSUE_STATES:
      return g_strdup ("");
    }
  return claim == NULL ? g_steal_pointer (&start) : g_strdup_printf ("%s %s", start, claim);
}

static char *
days_words (double days)
{
  if (isnan (days))
    return g_strdup ("");
  if (days < 1.0)
    return g_strdup (_("half a day"));
  return g_strdup_printf (ngettext ("%u day", "%u days", (guint) days), (guint) days);
}

static char *
k_of_n (guint k, guint n)
{
  return n == 0 ? g_strdup ("") : g_strdup_printf (_("%u of %u"), k, n);
}

static PresentIssueRow *
row_new (const InsightIssue *issue)
{
  PresentIssueRow *row = g_new0 (PresentIssueRow, 1);
  const BookChoice *klass = book_choice_by_code (book_classes, issue->klass);

  row->data = issue;
  row->no = g_strdup_printf ("%d", issue->no);
  row->title = issue->title;
  row->klass = klass == NULL ? "" : book_choice_label (klass);
  row->state = present_issue_state (issue);
  row->mark = present_issue_mark (issue);
  row->recurring = issue->recurring ? _("recurring") : "";
  row->found_round = issue->found_round;
  row->found = issue->found;
  row->age = days_words (issue->age);
  row->before = k_of_n (issue->before_failed, issue->before_n);
  row->after = k_of_n (issue->after_failed, issue->after_n);
  row->n = g_strdup_printf ("%u", issue->after_n);
  row->confidence = present_confidence (issue->confidence, issue->wanted);
  return row;
}

static void
row_free (gpointer data)
{
  PresentIssueRow *row = data;

  g_free (row->no);
  g_free (row->state);
  g_free (row->age);
  g_free (row->before);
  g_free (row->after);
  g_free (row->n);
  g_free (row->confidence);
  g_free (row);
}

static char *
headline (const InsightIssues *issues)
{
  const guint *n = issues->n_states;
  GString *text;

  if (issues->issues->len == 0)
    return g_strdup (_("No issue yet"));
  /* Translators: counts of issues by state; each is left out when there is none */
  text = g_string_new (NULL);
  if (n[INSIGHT_ISSUE_OPEN] > 0)
    g_string_append_printf (text, _("%u open"), n[INSIGHT_ISSUE_OPEN]);
  if (n[INSIGHT_ISSUE_CAME_BACK] > 0)
    g_string_append_printf (text, _("%s%u came back"), text->len > 0 ? ", " : "", n[INSIGHT_ISSUE_CAME_BACK]);
  if (n[INSIGHT_ISSUE_NOT_AGAIN] > 0)
    g_string_append_printf (text, _("%s%u not seen again"), text->len > 0 ? ", " : "", n[INSIGHT_ISSUE_NOT_AGAIN]);
  if (n[INSIGHT_ISSUE_PROVEN] > 0)
    g_string_append_printf (text, _("%s%u shown to be solved"), text->len > 0 ? ", " : "", n[INSIGHT_ISSUE_PROVEN]);
  if (issues->n_closed > 0)
    g_string_append_printf (text, _("%s%u closed otherwise"), text->len > 0 ? ", " : "", issues->n_closed);
  return g_string_free (text, FALSE);
}

/* 'From found to contained: half of the issues within 3 days (90 % interval 1 to 8), open ones counted as unfinished (n 7, open 2).' */
static char *
ages_words (const InsightIssueAges *ages, InsightIssueDaysKind kind)
{
  static const char *const names[] = { N_("From found to contained"), N_("From found to cause known"),
                                       N_("From found to shown to be solved") };
  const char *name = _(names[kind]);
  g_autofree char *median = NULL, *low = NULL, *high = NULL;

  if (ages->n == 0)
    return g_strdup ("");
  if (ages->n_ended == 0)
    return g_strdup_printf (_("%s: none yet (n %u)."), name, ages->n);
  if (ages->n_ended < AGES_LEAST || isnan (ages->median))
    {
      low = present_number (ages->least, ages->least < 1.0 ? 1 : 0);
      high = present_number (ages->most, ages->most < 1.0 ? 1 : 0);
      return g_strdup_printf (_("%s: %s to %s working days (n %u, unfinished %u)."), name, low, high, ages->n, ages->n_open);
    }
  median = present_number (ages->median, -1);
  if (isnan (ages->low) || isnan (ages->high))
    return g_strdup_printf (_("%s: half of them within %s working days (n %u, unfinished %u)."), name, median, ages->n,
                            ages->n_open);
  low = present_number (ages->low, -1);
  high = present_number (ages->high, -1);
  return g_strdup_printf (_("%s: half of them within %s working days, at 90 %% confidence %s to %s (n %u, unfinished %u)."), name,
                          median, low, high, ages->n, ages->n_open);
}

/**
 * present_issues_new:
 * @issues: (transfer full): issues
 *
 * Returns: (transfer full): the issues in words
 */
PresentIssues *
present_issues_new (InsightIssues *issues)
{
  PresentIssues *present = g_new0 (PresentIssues, 1);

  present->data = issues;
  present->headline = headline (issues);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    present->days[i] = ages_words (&issues->ages[i], i);
  present->rows = g_ptr_array_new_with_free_func (row_free);
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];

      g_ptr_array_add (present->rows, row_new (issue));
      if (issue->klass == BOOK_CLASS_SAFETY)
        present->caution = present_caution ();
    }
  return present;
}

void
present_issues_free (PresentIssues *present)
{
  if (present == NULL)
    return;

  g_ptr_array_unref (present->rows);
  g_free (present->headline);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    g_free (present->days[i]);
  insight_issues_free (present->data);
  g_free (present);
}
