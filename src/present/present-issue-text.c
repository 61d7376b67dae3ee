/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Issues as plain text: the list, or one of them as a whole. */

#include "config.h"

#include "present-issue.h"

#include "present-text.h"

#include <glib/gi18n-lib.h>

static void
append_table (GString *out, const PresentIssues *present, guint width)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, "", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("no"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("issue"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("class"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("found"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("age"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("before"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("after"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("state"), PRESENT_ALIGN_LEFT);
  for (guint i = 0; i < present->rows->len; i++)
    {
      const PresentIssueRow *row = present->rows->pdata[i];
      g_autofree char *state = *row->recurring == '\0' ? g_strdup (row->state) : g_strdup_printf ("%s, %s", row->state, row->recurring);
      const char *const cells[] = { row->mark, row->no, row->title, row->klass, row->found_round, row->age, row->before,
                                    row->after, state };

      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, width);
  g_string_append_printf (out, "\n%s", text);
}

/**
 * present_issues_to_text:
 * @present: issues in words
 * @width: columns of the terminal
 *
 * Returns: (transfer full): headline, list, and how long it takes
 */
char *
present_issues_to_text (const PresentIssues *present, guint width)
{
  GString *out = g_string_new (NULL);

  present_text_add (out, present->headline, width, "", "  ");
  if (present->rows->len > 0)
    append_table (out, present, width);
  g_string_append_c (out, '\n');
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    present_text_add (out, present->days[i], width, "", "  ");
  present_text_add (out, present->caution, width, "\n", "");
  return g_string_free (out, FALSE);
}

/**
 * present_issue_to_text:
 * @issue: an issue
 * @width: columns of the terminal
 *
 * Returns: (transfer full): the issue as a whole
 */
char *
present_issue_to_text (const InsightIssue *issue, guint width)
{
  g_autoptr(PresentIssueDetail) detail = present_issue_detail_new (issue);
  g_autofree char *title = g_strdup_printf ("%s %d %s", present_issue_mark (issue), issue->no, issue->title);
  GString *out = g_string_new (NULL);

  present_text_add (out, title, width, "", "  ");
  present_text_add (out, detail->sentence, width, "", "  ");
  present_text_add (out, detail->before_after, width, "", "  ");
  present_text_add (out, detail->cause, width, "", "  ");
  present_text_add (out, detail->dates, width, "", "  ");
  present_text_add (out, detail->figures, width, "", "  ");
  for (guint i = 0; i < detail->missing->len; i++)
    present_text_add (out, detail->missing->pdata[i], width, "- ", "  ");
  g_string_append_c (out, '\n');
  present_text_add (out, detail->counted, width, "", "  ");
  for (guint i = 0; i < detail->findings->len; i++)
    present_text_add (out, detail->findings->pdata[i], width, "- ", "  ");
  g_string_append_c (out, '\n');
  present_text_add (out, detail->method, width, "", "");
  return g_string_free (out, FALSE);
}
