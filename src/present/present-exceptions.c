/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-exceptions.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "present-issue.h"
#include "present-number.h"
#include "present-reading.h"

static char *
value_words (const BookReadingRow *row)
{
  const BookChoice *mark;

  if (!isnan (row->value))
    return present_value (row->value, (int) row->decimals, row->unit);
  mark = book_choice_by_code (book_marks, (int) row->mark);
  return g_strdup (mark != NULL ? book_choice_label (mark) : "");
}

PresentSheet *
present_voids_sheet (BookReadingRow *const *rows, guint n)
{
  PresentSheet *sheet = present_sheet_new (_("Voided readings"));

  present_sheet_add_column (sheet, _("unit"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("characteristic"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("value"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("by"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("why"), FALSE, TRUE, 0);
  for (guint i = 0; i < n; i++)
    if (rows[i] != NULL)
      present_sheet_add_row (sheet, "reading", rows[i]->id, FALSE,
                             PRESENT_CELLS (g_strdup (rows[i]->serial), g_strdup_printf ("%s %s", rows[i]->code, rows[i]->name),
                                            value_words (rows[i]), g_strdup (rows[i]->person), g_strdup (rows[i]->reason)));
  return sheet;
}

PresentSheet *
present_concessions_sheet (const InsightIssues *issues)
{
  PresentSheet *sheet = present_sheet_new (_("Concessions and units taken out of the count"));

  present_sheet_add_column (sheet, _("issue"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("what was found, and what becomes of it"), FALSE, TRUE, 0);
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];

      for (guint k = 0; k < issue->findings->len; k++)
        {
          const InsightIssueFinding *finding = issue->findings->pdata[k];

          if (finding->disposition == BOOK_DISPOSITION_USE_AS_IS || finding->excused)
            present_sheet_add_row (sheet, "issue", issue->id, FALSE,
                                   PRESENT_CELLS (g_strdup_printf ("%d %s", issue->no, issue->title), present_issue_finding (finding, TRUE)));
        }
    }
  return sheet;
}
