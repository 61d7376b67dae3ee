/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a selected row of the issues shows below its cells: where the issue stands and what is missing, its findings,
 * pictures and changes, and the forms of what is done about it. It lives as long as its issue is selected: an answer
 * writes other words into it and leaves open forms alone.
 */

#include <gtk/gtk.h>

#include "present-issue.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ISSUE_DETAIL (fettle_issue_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleIssueDetail, fettle_issue_detail, FETTLE, ISSUE_DETAIL, GtkWidget)

GtkWidget *fettle_issue_detail_new    (FettleSitting      *sitting,
                                       gint64              model,
                                       const InsightIssue *issue) G_GNUC_WARN_UNUSED_RESULT;
gint64     fettle_issue_detail_get_id (FettleIssueDetail  *self);
/* What is known now. */
void       fettle_issue_detail_take   (FettleIssueDetail  *self,
                                       const InsightIssue *issue);

/**
 * fettle_issue_detail_act:
 * @self: a detail
 * @what: 'edit', 'find', 'contain', 'cause', 'close', 'decide', 'excuse',
 *   'reopen', 'history', 'attach' or 'paste'
 *
 * Opens the form of what a person wants to do about the issue, with the keyboard in it.
 */
void       fettle_issue_detail_act    (FettleIssueDetail  *self,
                                       const char         *what);

G_END_DECLS
