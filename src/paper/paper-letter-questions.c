/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include <glib/gi18n-lib.h>

#define REASON_LETTERS 300

/*
 * What the shop asks of the designer. Questions come from the records themselves: what was addressed to a designer, changes
 * that nobody agreed to, what was fitted without a change, issues that came back, and issues whose cause nobody knows.
 */

static void
ask (const Letter *letter, GPtrArray *questions, char *sentence)
{
  g_autofree char *owned = sentence;

  g_ptr_array_add (questions, letter_sentence (letter, owned));
}

static void
ask_about_changes (const Letter *letter, GPtrArray *questions)
{
  for (guint i = 0; i < letter->changes->changes->len; i++)
    {
      const InsightChange *change = &g_array_index (letter->changes->changes, InsightChange, i);
      g_autofree char *title = letter_free_text (letter, change->data->title);
      g_autofree char *reason = letter_shortened (letter_free_text (letter, change->data->reason), REASON_LETTERS);

      if (change->state == INSIGHT_CHANGE_PROPOSED)
        ask (letter, questions,
             g_strdup_printf (_("Change %d, “%s”, is proposed and not agreed yet: do you agree? %s"), change->data->no, title, reason));
    }
}

/* What was fitted or set otherwise between these rounds without a change. */
static void
ask_about_unexplained (const Letter *letter, GPtrArray *questions)
{
  for (guint i = 0; i < letter->comparison->differences->len; i++)
    {
      const PresentDifference *difference = letter->comparison->differences->pdata[i];
      g_autofree char *thing = letter_thing (difference);

      if (difference->data->explained == INSIGHT_EXPLAINED_NOT)
        ask (letter, questions,
             /* Translators: a part or step, what of it differs (revision, a setting), old and new */
             g_strdup_printf (_("%s, %s: %s became %s, and no change in the book says why. Was it yours, and why?"), thing,
                              difference->what, difference->before, difference->after));
    }
}

/* Whether a change after number @after answers the issue by now: agreed, or only @proposed too. */
static gboolean
is_answered (const Letter *letter, gint64 issue, int after, gboolean proposed)
{
  const BookChangeList *list = letter->changes->list;

  for (guint i = 0; i < list->n_issues; i++)
    {
      const BookChangeListChange *change = &list->changes[list->issues[i].change];

      if (list->issues[i].issue == issue && change->no > after && change->withdrawn[0] == '\0'
          && (proposed || change->agreed_on[0] != '\0'))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_solved_by_now (const Letter *letter, gint64 id)
{
  const InsightIssue *issue = insight_issues_find (letter->by_now, id);

  return issue != NULL && (insight_issue_is_closed (issue) || issue->state == INSIGHT_ISSUE_PROVEN);
}

static void
ask_again (const Letter *letter, GPtrArray *questions, const InsightIssue *issue, const char *title)
{
  if (is_answered (letter, issue->id, issue->change_no, FALSE))
    return;
  ask (letter, questions,
       issue->change_no > 0
         ? g_strdup_printf (_("Issue %d, “%s”, came back although change %d was made: what else can be the cause, and what would you change?"),
                            issue->no, title, issue->change_no)
         : g_strdup_printf (_("Issue %d, “%s”, came back: what else can be the cause, and what would you change?"), issue->no, title));
}

/* The issues as they stood at the end of the later round, but not what was answered since. */
static void
ask_about_issues (const Letter *letter, GPtrArray *questions)
{
  g_autoptr(GPtrArray) issues = letter_issues (letter);

  for (guint i = 0; i < issues->len; i++)
    {
      const InsightIssue *issue = ((PresentIssueRow *) issues->pdata[i])->data;
      g_autofree char *title = letter_free_text (letter, issue->title);

      if (insight_issue_is_closed (issue) || is_solved_by_now (letter, issue->id))
        continue;
      if (issue->state == INSIGHT_ISSUE_CAME_BACK)
        ask_again (letter, questions, issue, title);
      else if (issue->cause[0] == '\0')
        ask (letter, questions, g_strdup_printf (_("Nobody knows the cause of issue %d, “%s”: what do you think it is?"), issue->no, title));
      else if (!is_answered (letter, issue->id, 0, TRUE))
        ask (letter, questions, g_strdup_printf (_("No change answers issue %d, “%s”, yet: what would you change?"), issue->no, title));
      else if (issue->cause_basis == BOOK_CAUSE_GUESSED && issue->state != INSIGHT_ISSUE_PROVEN)
        ask (letter, questions,
             g_strdup_printf (_("The cause of issue %d, “%s”, is a guess: how could it be switched on and off to make sure?"), issue->no,
                              title));
    }
}

/* (transfer full) (element-type utf8): in the order of their weight. */
GPtrArray *
letter_questions (const Letter *letter)
{
  GPtrArray *questions = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < letter->asked->len; i++)
    g_ptr_array_add (questions, g_strdup (letter->asked->pdata[i]));
  ask_about_changes (letter, questions);
  ask_about_unexplained (letter, questions);
  ask_about_issues (letter, questions);
  return questions;
}

void
letter_set_questions (PaperFlow *flow, GPtrArray *questions, const LetterMeasure *measure)
{
  guint n = MIN (questions->len, measure->questions);

  paper_flow_heading (flow, 1, _("Questions, and room for your answers"), "questions", 90.0);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = g_strdup_printf ("%u. %s", i + 1, (const char *) questions->pdata[i]);

      paper_flow_need (flow, 40.0 + measure->answer_lines * 19.0);
      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, text);
      paper_flow_answer (flow, _("Answer"), measure->answer_lines);
    }
  if (questions->len > n)
    {
      g_autofree char *more = g_strdup_printf (
        ngettext ("%u further question can wait.", "%u further questions can wait.", questions->len - n), questions->len - n);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, more);
    }
  paper_flow_need (flow, 110.0);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("Anything else: what do you see that is not asked here?"));
  paper_flow_answer (flow, _("Remarks"), 4);
}
