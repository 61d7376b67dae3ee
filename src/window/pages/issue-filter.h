/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which issues the page lists, and in which order: by words, state and class.
 */

#include "present-issue.h"

G_BEGIN_DECLS

/* The choices of states and orders, as they stand in the page; what they are called is translated by who shows them. */
enum { FETTLE_ISSUE_STATE_ALL, FETTLE_ISSUE_STATE_NOT_CLOSED, FETTLE_ISSUE_STATE_OPEN, FETTLE_ISSUE_STATE_BACK,
       FETTLE_ISSUE_STATE_NOT_AGAIN, FETTLE_ISSUE_STATE_SOLVED, FETTLE_ISSUE_STATE_CLOSED, FETTLE_N_ISSUE_STATES };
enum { FETTLE_ISSUE_ORDER_NUMBER, FETTLE_ISSUE_ORDER_STATE, FETTLE_ISSUE_ORDER_CLASS, FETTLE_ISSUE_ORDER_AGE,
       FETTLE_N_ISSUE_ORDERS };

extern const char *const fettle_issue_states[FETTLE_N_ISSUE_STATES];
extern const char *const fettle_issue_orders[FETTLE_N_ISSUE_ORDERS];

/**
 * FettleIssueFilter:
 * @words: each must occur in number, title, class, state, round or cause
 * @state: one of the choices
 * @klass: 0: every one
 * @order: one of the choices
 */
typedef struct
{
  const char *words;
  guint       state;
  guint       klass;
  guint       order;
} FettleIssueFilter;

/* (transfer container) (element-type PresentIssueRow) */
GPtrArray *fettle_issue_filter_list (const FettleIssueFilter *filter,
                                     const PresentIssues     *issues) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
