/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issues-answer.h"

#include "book-change-list.h"
#include "book-evidence.h"
#include "book-issue.h"
#include "book-readings.h"
#include "present-reading.h"
#include "today.h"

/* ---- all issues ---- */

typedef struct
{
  gint64 model;
  gint64 through;
  char  *today;
} IssuesAsk;

gpointer
fettle_issues_ask_new (gint64 model, gint64 through)
{
  IssuesAsk *ask = g_new0 (IssuesAsk, 1);

  ask->model = model;
  ask->through = through;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_issues_ask_free (gpointer data)
{
  IssuesAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

gpointer
fettle_issues_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const IssuesAsk *ask = data;
  InsightSpan span = { ask->through, ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  g_autoptr(FettleIssuesAnswer) answer = g_new0 (FettleIssuesAnswer, 1);
  InsightIssues *issues;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  issues = insight_issues (evidence, &span, cancellable, error);
  if (issues == NULL)
    return NULL;
  answer->issues = present_issues_new (issues);
  if (issues->issues->len > 0)
    answer->chart = present_chart_issues (issues, FALSE);
  return g_steal_pointer (&answer);
}

void
fettle_issues_answer_free (gpointer data)
{
  FettleIssuesAnswer *answer = data;

  if (answer == NULL)
    return;
  g_clear_pointer (&answer->issues, present_issues_free);
  g_clear_pointer (&answer->chart, chart_free);
  g_free (answer);
}

/* ---- what stands beside one ---- */

typedef struct
{
  gint64 model;
  gint64 issue;
} IssueAsk;

gpointer
fettle_issue_ask_new (gint64 model, gint64 issue)
{
  IssueAsk *ask = g_new0 (IssueAsk, 1);

  ask->model = model;
  ask->issue = issue;
  return ask;
}

static void
change_clear (gpointer data)
{
  g_free (((FettleIssueChange *) data)->words);
}

static gboolean
read_changes (StoreDb *db, const IssueAsk *ask, FettleIssueAnswer *answer, GError **error)
{
  g_autoptr(BookChangeList) list = book_change_list_read (db, ask->model, error);

  for (guint i = 0; list != NULL && i < list->n_issues; i++)
    {
      const BookChangeListChange *change = &list->changes[list->issues[i].change];
      FettleIssueChange found = { .id = change->id };

      if (list->issues[i].issue != ask->issue)
        continue;
      found.words = g_strdup_printf ("%d  %s", change->no, change->title);
      g_array_append_val (answer->changes, found);
    }
  return list != NULL;
}

gpointer
fettle_issue_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const IssueAsk *ask = data;
  g_autoptr(FettleIssueAnswer) answer = g_new0 (FettleIssueAnswer, 1);

  answer->changes = g_array_new (FALSE, TRUE, sizeof (FettleIssueChange));
  g_array_set_clear_func (answer->changes, change_clear);
  answer->form = book_form_read (db, book_record (BOOK_RECORD_ISSUE), ask->issue, error);
  if (answer->form == NULL || !read_changes (db, ask, answer, error))
    return NULL;
  return g_steal_pointer (&answer);
}

void
fettle_issue_answer_free (gpointer data)
{
  FettleIssueAnswer *answer = data;

  if (answer == NULL)
    return;
  g_clear_pointer (&answer->form, book_form_free);
  g_clear_pointer (&answer->changes, g_array_unref);
  g_free (answer);
}

/* ---- raised from a reading ---- */

gpointer
fettle_issue_origin_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const gint64 *reading = data;
  g_autofree char *today = fettle_today ();
  g_autoptr(BookReadingRow) shown = NULL;
  g_autoptr(BookForm) finding = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(FettleIssueOrigin) origin = g_new0 (FettleIssueOrigin, 1);

  if (!book_issue_draft (db, *reading, today, &origin->form, &finding, error)
      || !book_readings_read (db, reading, 1, &shown, error)
      || (evidence = book_evidence_load_parts (db, finding->model, BOOK_EVIDENCE_READINGS, error)) == NULL)
    return NULL;
  store_reader_done_reading (db);
  origin->reading = *reading;
  origin->title = present_reading_issue (shown, insight_entry_judge_reading (evidence, *reading, today));
  origin->words = present_reading_words (shown, NULL);
  return g_steal_pointer (&origin);
}

void
fettle_issue_origin_free (gpointer data)
{
  FettleIssueOrigin *origin = data;

  if (origin == NULL)
    return;
  g_clear_pointer (&origin->form, book_form_free);
  g_free (origin->title);
  g_free (origin->words);
  g_free (origin);
}
