/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Issues found and issues shown to be solved, as two rising stairs over the days of the rounds. What lies between them
 * is open. The marks of this chart are the days on which one of the two changed.
 */

#include "chart.h"

G_BEGIN_DECLS

/**
 * ChartIssuesRound:
 * @name: short label ('P3')
 * @days: how long it took, for its width
 * @current: the round looked at
 */
typedef struct
{
  const char *name;
  double      days;
  gboolean    current;
} ChartIssuesRound;

/**
 * ChartIssuesPoint:
 * @at: where, in rounds from the left: 1.5 is the middle of the second one; rising
 * @found: issues found by then
 * @shown: of these shown to be solved by then
 * @key: the caller's key
 * @words: (nullable): one line for a tooltip
 */
typedef struct
{
  double      at;
  guint       found;
  guint       shown;
  gint64      key;
  const char *words;
} ChartIssuesPoint;

/**
 * ChartIssues:
 * @title: (nullable): heading drawn above, in serif
 * @empty: sentence drawn in the middle when there is nothing to draw
 * @found_name: (nullable): label of the upper stair
 * @shown_name: (nullable): label of the lower stair
 * @rounds: (array length=n_rounds): in their order
 * @points: (array length=n_points): in their order
 * @end: where the stairs end, as @at
 */
typedef struct
{
  const char             *title;
  const char             *empty;
  const char             *found_name;
  const char             *shown_name;
  const ChartIssuesRound *rounds;
  guint                   n_rounds;
  const ChartIssuesPoint *points;
  guint                   n_points;
  double                  end;
} ChartIssues;

Chart *chart_issues_new (const ChartIssues *data) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
