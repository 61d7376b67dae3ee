/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Issues page asks of the book, in the reader thread, and what it is told. */

#include <gio/gio.h>

#include "book-form.h"
#include "chart.h"
#include "present-issue.h"
#include "store-reader.h"

G_BEGIN_DECLS

/* All issues of a model, as they stood at the end of a round. */
typedef struct
{
  PresentIssues *issues;
  Chart         *chart; /* found and proven; NULL: taken, or there is no issue */
} FettleIssuesAnswer;

gpointer fettle_issues_ask_new  (gint64        model,
                                 gint64        through);
void     fettle_issues_ask_free (gpointer      ask);
/* A StoreReadWork. */
gpointer fettle_issues_ask_work (StoreDb      *db,
                                 gpointer      ask,
                                 GCancellable *cancellable,
                                 GError      **error);
void     fettle_issues_answer_free (gpointer   answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleIssuesAnswer, fettle_issues_answer_free)

/* A change that answers an issue. */
typedef struct
{
  gint64 id;
  char  *words; /* '2 Spring drawn from other wire' */
} FettleIssueChange;

/* What stands beside an issue: who looks after it, and its changes. */
typedef struct
{
  BookForm *form;
  GArray   *changes; /* FettleIssueChange */
} FettleIssueAnswer;

gpointer fettle_issue_ask_new   (gint64        model,
                                 gint64        issue);
/* A StoreReadWork. */
gpointer fettle_issue_ask_work  (StoreDb      *db,
                                 gpointer      ask,
                                 GCancellable *cancellable,
                                 GError      **error);
void     fettle_issue_answer_free (gpointer    answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleIssueAnswer, fettle_issue_answer_free)

/* What an issue raised from a reading begins with. */
typedef struct
{
  gint64    reading;
  BookForm *form;  /* of the issue, for a person to complete */
  char     *title; /* proposed */
  char     *words; /* the reading as shown */
} FettleIssueOrigin;

/* A StoreReadWork; @reading: (transfer full): a gint64, the key of a reading. */
gpointer fettle_issue_origin_work (StoreDb      *db,
                                 gpointer      reading,
                                 GCancellable *cancellable,
                                 GError      **error);
void     fettle_issue_origin_free (gpointer      origin);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleIssueOrigin, fettle_issue_origin_free)

G_END_DECLS
