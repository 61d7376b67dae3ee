/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issue-filter.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "book-search.h"

const char *const fettle_issue_states[FETTLE_N_ISSUE_STATES] = {
  [FETTLE_ISSUE_STATE_ALL] = N_("Every state"),          [FETTLE_ISSUE_STATE_NOT_CLOSED] = N_("Not closed"),
  [FETTLE_ISSUE_STATE_OPEN] = N_("Open"),                [FETTLE_ISSUE_STATE_BACK] = N_("Came back"),
  [FETTLE_ISSUE_STATE_NOT_AGAIN] = N_("Not seen again"), [FETTLE_ISSUE_STATE_SOLVED] = N_("Shown to be solved"),
  [FETTLE_ISSUE_STATE_CLOSED] = N_("Closed"),
};

const char *const fettle_issue_orders[FETTLE_N_ISSUE_ORDERS] = {
  [FETTLE_ISSUE_ORDER_NUMBER] = N_("By number"),
  [FETTLE_ISSUE_ORDER_STATE] = N_("By state"),
  [FETTLE_ISSUE_ORDER_CLASS] = N_("By class"),
  [FETTLE_ISSUE_ORDER_AGE] = N_("Longest open first"),
};

static gboolean
has_state (const InsightIssue *issue, guint wanted)
{
  gboolean closed = insight_issue_is_closed (issue);

  switch (wanted)
    {
    case FETTLE_ISSUE_STATE_NOT_CLOSED:
      return !closed;
    case FETTLE_ISSUE_STATE_OPEN:
      return !closed && issue->state == INSIGHT_ISSUE_OPEN;
    case FETTLE_ISSUE_STATE_BACK:
      return issue->state == INSIGHT_ISSUE_CAME_BACK;
    case FETTLE_ISSUE_STATE_NOT_AGAIN:
      return !closed && issue->state == INSIGHT_ISSUE_NOT_AGAIN;
    case FETTLE_ISSUE_STATE_SOLVED:
      return issue->state == INSIGHT_ISSUE_PROVEN;
    case FETTLE_ISSUE_STATE_CLOSED:
      return closed;
    default:
      return TRUE;
    }
}

static gboolean
has_words (const PresentIssueRow *row, const char *folded)
{
  g_auto (GStrv) words = g_strsplit_set (folded, " ", -1);
  g_autofree char *all = g_strjoin (" ", row->no, row->title, row->klass, row->state, row->recurring, row->found_round, row->found,
                                    row->data->cause, NULL);
  g_autofree char *text = book_search_fold (all, -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (text, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

static int
compare_rows (gconstpointer a, gconstpointer b, gpointer order)
{
  const InsightIssue *first = (*(PresentIssueRow *const *) a)->data, *second = (*(PresentIssueRow *const *) b)->data;
  static const int urgency[INSIGHT_N_ISSUE_STATES] = { [INSIGHT_ISSUE_CAME_BACK] = 0, [INSIGHT_ISSUE_OPEN] = 1,
                                                       [INSIGHT_ISSUE_NOT_AGAIN] = 2, [INSIGHT_ISSUE_PROVEN] = 3 };
  int difference = 0;

  switch (GPOINTER_TO_UINT (order))
    {
    case FETTLE_ISSUE_ORDER_STATE:
      difference = insight_issue_is_closed (first) - insight_issue_is_closed (second);
      if (difference == 0)
        difference = urgency[first->state] - urgency[second->state];
      break;
    case FETTLE_ISSUE_ORDER_CLASS:
      difference = (int) first->klass - (int) second->klass;
      break;
    case FETTLE_ISSUE_ORDER_AGE:
      difference = insight_issue_is_closed (first) - insight_issue_is_closed (second);
      if (difference == 0 && isfinite (first->age) && isfinite (second->age))
        difference = (second->age > first->age) - (second->age < first->age);
      break;
    default:
      break;
    }
  return difference != 0 ? difference : first->no - second->no;
}

GPtrArray *
fettle_issue_filter_list (const FettleIssueFilter *filter, const PresentIssues *issues)
{
  GPtrArray *rows = g_ptr_array_new ();
  g_autofree char *folded = book_search_fold (filter->words, -1);

  for (guint i = 0; i < issues->rows->len; i++)
    {
      PresentIssueRow *row = g_ptr_array_index (issues->rows, i);

      if (has_state (row->data, filter->state) && (filter->klass == 0 || row->data->klass == (BookClass) filter->klass)
          && has_words (row, folded))
        g_ptr_array_add (rows, row);
    }
  g_ptr_array_sort_with_data (rows, compare_rows, GUINT_TO_POINTER (filter->order));
  return rows;
}
