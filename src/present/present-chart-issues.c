/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Issues over time as a drawing. */

#include "config.h"

#include "present-issue.h"

#include "chart-issues.h"
#include "present-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * Where a day stands among the rounds: each round's column runs from its opening to the opening of the next one, the last
 * to the end of the span. Days before the first round stand at its beginning.
 */
static double
place_of (const InsightIssues *issues, BookDay day, BookDay end)
{
  const GPtrArray *rounds = issues->rounds;

  for (guint i = rounds->len; i-- > 0;)
    {
      const InsightIssueRound *round = rounds->pdata[i];
      BookDay next = i + 1 < rounds->len ? ((const InsightIssueRound *) rounds->pdata[i + 1])->from : end + 1;

      if (day >= round->from)
        return i + CLAMP ((double) (day - round->from) / MAX (next - round->from, 1), 0.0, 1.0);
    }
  return 0.0;
}

static char *
point_words (const InsightIssuePoint *point)
{
  g_autofree char *day = book_day_format (point->day);
  g_autofree char *found = g_strdup_printf (ngettext ("%u issue found", "%u issues found", point->found), point->found);

  /* Translators: date, '5 issues found', number shown to be solved */
  return g_strdup_printf (_("%s: %s, %u shown to be solved"), day, found, point->proven);
}

/* A row a day on which one of the two numbers changed. */
static Chart *
say (Chart *chart, const InsightIssues *issues, const char *newest)
{
  g_autoptr(PresentSheet) sheet = present_sheet_new (_("Issues found and shown to be solved"));
  g_autofree char *sentence = newest == NULL ? g_strdup (_("No issue with a date yet.")) : g_strdup_printf ("%s.", newest);

  present_sheet_add_column (sheet, _("Date"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Found"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("Shown to be solved"), TRUE, FALSE, 0);
  for (guint i = 0; i < issues->points->len; i++)
    {
      const InsightIssuePoint *point = &g_array_index (issues->points, InsightIssuePoint, i);

      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (book_day_format (point->day), g_strdup_printf ("%u", point->found),
                                            g_strdup_printf ("%u", point->proven)));
    }
  return present_chart_say (chart, sentence, sheet);
}

/**
 * present_chart_issues:
 * @issues: issues
 * @with_title: whether the heading stands on the drawing
 *
 * Returns: (transfer full): found and shown to be solved over the days of the rounds
 */
Chart *
present_chart_issues (const InsightIssues *issues, gboolean with_title)
{
  guint n_rounds = issues->rounds->len, n = issues->points->len;
  BookDay end = book_day_parse (issues->end, NULL);
  g_autofree ChartIssuesRound *rounds = g_new0 (ChartIssuesRound, n_rounds + 1);
  g_autofree ChartIssuesPoint *points = g_new0 (ChartIssuesPoint, n + 1);
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  ChartIssues data = { .title = with_title ? _("Issues found and shown to be solved") : NULL,
                       .empty = _("No issue with a date yet."),
                       /* Translators: names of the two lines of a chart: issues found; issues shown to be solved */
                       .found_name = _("found"), .shown_name = _("solved"),
                       .rounds = rounds, .n_rounds = n_rounds, .points = points };

  for (guint i = 0; i < n_rounds; i++)
    {
      const InsightIssueRound *round = issues->rounds->pdata[i];
      BookDay next = i + 1 < n_rounds ? ((const InsightIssueRound *) issues->rounds->pdata[i + 1])->from : end + 1;

      rounds[i] = (ChartIssuesRound){ round->label, MAX (next - round->from, 1), round->id == issues->round };
    }
  for (guint i = 0; i < n; i++)
    {
      const InsightIssuePoint *point = &g_array_index (issues->points, InsightIssuePoint, i);
      const InsightIssuePoint *before = i > 0 ? point - 1 : NULL;

      if (before != NULL && before->found == point->found && before->proven == point->proven)
        continue; /* the end of the span */
      g_ptr_array_add (words, point_words (point));
      points[data.n_points++] = (ChartIssuesPoint){ place_of (issues, point->day, end), point->found, point->proven, point->day,
                                                    words->pdata[words->len - 1] };
    }
  data.end = place_of (issues, end, end);
  return say (chart_issues_new (&data), issues, words->len > 0 ? words->pdata[words->len - 1] : NULL);
}
