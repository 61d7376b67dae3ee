/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The issues of a model: where each stands and what is missing, found and proven over time, and what is done about them.
 *
 * Actions, for the window: issue.raise, issue.raise-from (x: key of a reading), issue.act (s: as fettle_issue_detail_act()).
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ISSUES_PAGE (fettle_issues_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleIssuesPage, fettle_issues_page, FETTLE, ISSUES_PAGE, GtkWidget)

GtkWidget *fettle_issues_page_new      (FettleSitting    *sitting) G_GNUC_WARN_UNUSED_RESULT;
gboolean   fettle_issues_page_is_shown (FettleIssuesPage *self);

G_END_DECLS
