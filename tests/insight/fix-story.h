/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A development around one issue: rounds P1, P2, … each built with a revision of the lever of its own, a change between
 * each two that answers the issue, and a check that shows it. Revision and change are called by their round.
 */

#include "evidence-fixture.h"
#include "insight-issue.h"

#define STORY_ROUNDS 5

typedef struct
{
  Fixture *f;
  int      part;
  int      c;
  int      issue;
  int      rounds[STORY_ROUNDS];
  int      revisions[STORY_ROUNDS];
  int      changes[STORY_ROUNDS]; /* to that round's revision; -1 of the first */
  int      first[STORY_ROUNDS];   /* unit */
} Story;

/* @units: of each round, ended by 0. The issue tolerates 1 in 10. */
void                story_up      (Story *story, const guint *units);
void                story_down    (Story *story);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Story, story_down)

/* Checks all units of a round; the first @failed of them fail. */
void                story_check   (Story *story, guint round, guint n, guint failed);
InsightIssues      *story_issues  (Story *story, const char *through);
const InsightIssue *story_issue   (const InsightIssues *issues, guint i);

gboolean            has_reason    (const GPtrArray *reasons, InsightReasonCode code);
gint64              count_of      (const GPtrArray *reasons, InsightReasonCode code, guint i);

#define assert_issue_state(issue, expected) \
  g_assert_cmpstr (insight_issue_state_name ((issue)->state), ==, insight_issue_state_name (expected))
