/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include <glib/gi18n-lib.h>

/*
 * Where the issues stand, by the units and not by what was hoped: open ones, and those that a change of these rounds
 * answers; with their photographs.
 */

static gboolean
is_answered_here (const Letter *letter, gint64 issue)
{
  for (guint i = 0; i < letter->comparison->data->changes->len; i++)
    {
      const InsightCompareChange *change = letter->comparison->data->changes->pdata[i];

      for (guint j = 0; j < change->n_issues; j++)
        if (change->issues[j].id == issue)
          return TRUE;
    }
  return FALSE;
}

static int
compare_issues (gconstpointer a, gconstpointer b)
{
  const InsightIssue *one = (*(PresentIssueRow *const *) a)->data;
  const InsightIssue *other = (*(PresentIssueRow *const *) b)->data;
  gboolean one_back = one->state == INSIGHT_ISSUE_CAME_BACK, other_back = other->state == INSIGHT_ISSUE_CAME_BACK;

  if (one->klass != other->klass)
    return one->klass < other->klass ? -1 : 1;
  if (one_back != other_back)
    return one_back ? -1 : 1;
  return one->no < other->no ? -1 : one->no > other->no;
}

/* Those that a designer has to know of, the most serious first: (element-type PresentIssueRow), borrowed. */
GPtrArray *
letter_issues (const Letter *letter)
{
  GPtrArray *chosen = g_ptr_array_new ();

  for (guint i = 0; i < letter->issues->rows->len; i++)
    {
      PresentIssueRow *row = letter->issues->rows->pdata[i];

      if (!insight_issue_is_closed (row->data) || is_answered_here (letter, row->data->id))
        g_ptr_array_add (chosen, row);
    }
  g_ptr_array_sort (chosen, compare_issues);
  return chosen;
}

static void
set_pictures (const Letter *letter, PaperFlow *flow, GPtrArray *issues, const LetterMeasure *measure)
{
  g_autoptr(GArray) figures = g_array_new (FALSE, TRUE, sizeof (PaperFigure));
  g_autoptr(GPtrArray) captions = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < issues->len && i < measure->issues; i++)
    {
      const PresentIssueRow *row = issues->pdata[i];
      cairo_surface_t *surface;

      for (guint j = 0; (surface = letter_picture (letter, BOOK_RECORD_ISSUE, row->data->id, j)) != NULL; j++)
        {
          g_autofree char *title = letter_free_text (letter, row->title);
          PaperFigure figure = { .picture = surface, .height = measure->picture_height };

          if (figures->len >= measure->issue_pictures)
            break;
          g_ptr_array_add (captions, g_strdup_printf (_("Issue %s: %s"), row->no, title));
          figure.caption = captions->pdata[captions->len - 1];
          g_array_append_val (figures, figure);
        }
    }
  if (figures->len > 0)
    paper_flow_figures (flow, (const PaperFigure *) (gpointer) figures->data, figures->len, 3);
}

void
letter_set_issues (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure)
{
  const PaperColumn columns[] = { { _("Issue"), 2.1, FALSE }, { _("Class"), 1.1, FALSE }, { _("State"), 1.6, FALSE },
                                  { _("What the units say"), 4.1, FALSE } };
  g_autoptr(GPtrArray) issues = letter_issues (letter);
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  guint n = MIN (issues->len, measure->issues);

  paper_flow_heading (flow, 1, _("Where the issues stand"), "issues", 80.0);
  if (issues->len == 0)
    {
      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("No issue is open, and no change between these rounds answers one."));
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      const PresentIssueRow *row = issues->pdata[i];
      g_autofree char *title = letter_free_text (letter, row->title);
      g_autofree char *said = present_issue_sentence (row->data);

      g_ptr_array_add (cells, g_strdup_printf ("%s %s", row->no, title));
      g_ptr_array_add (cells, g_strdup (row->klass));
      g_ptr_array_add (cells, g_strdup_printf ("%s %s", row->mark, row->state));
      g_ptr_array_add (cells, letter_sentence (letter, said));
    }
  paper_flow_table (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, n);
  if (issues->len > n)
    {
      g_autofree char *more
        = g_strdup_printf (ngettext ("%u further issue is left out for want of room.", "%u further issues are left out for want of room.",
                                     issues->len - n),
                           issues->len - n);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, more);
    }
  set_pictures (letter, flow, issues, measure);
}
