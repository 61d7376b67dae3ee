/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of the answer about issues.
 */

#include "insight-fix-private.h"

G_BEGIN_DECLS

/* A day on which the number of issues found or proven changed. */
typedef struct
{
  BookDay day;
  int     found;
  int     proven;
} InsightIssueEvent;

void    insight_issue_count_findings (const InsightLook  *look,
                                      int                 number,
                                      InsightIssue       *out,
                                      gboolean           *after_closing);
void    insight_issue_find_days      (const InsightLook  *look,
                                      int                 number,
                                      BookDay             proven,
                                      InsightIssue       *out);
void    insight_issues_find_ages     (InsightIssues      *issues);
void    insight_issues_find_points   (InsightIssues      *issues,
                                      GArray             *events,
                                      BookDay             end);

G_END_DECLS
