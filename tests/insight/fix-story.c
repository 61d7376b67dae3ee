/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "fix-story.h"

void
story_up (Story *story, const guint *units)
{
  static const char *const labels[] = { "P1", "P2", "P3", "P4", "P5" };
  static const char *const revisions[] = { "A", "B", "C", "D", "E" };
  static const char *const dates[] = { "2026-01-05", "2026-03-02", "2026-05-04", "2026-07-06", "2026-09-07" };
  Fixture *f = story->f = fixture_new ();

  fixture_person (f, "EH", BOOK_ROLE_OWNER);
  fixture_person (f, "MO", BOOK_ROLE_DESIGNER);
  story->part = fixture_part (f, "LEVER");
  story->c = fixture_checked (f, "HOLD", BOOK_CLASS_FUNCTION);
  story->issue = fixture_issue (f, story->c);
  f->e->issues[story->issue].tolerated = 0.10;
  f->e->issues[story->issue].found_round = 0;
  f->e->issues[story->issue].found = book_day_parse ("2026-01-26", NULL);
  for (guint r = 0; r < STORY_ROUNDS && units[r] > 0; r++)
    {
      story->rounds[r] = fixture_round (f, labels[r], BOOK_ROUND_PROTOTYPE, dates[r], TRUE);
      story->revisions[r] = fixture_revision (f, story->part, revisions[r], dates[r]);
      story->changes[r] = -1;
      if (r > 0)
        {
          story->changes[r] = fixture_change (f, dates[r]);
          fixture_change_item (f, story->changes[r], story->part, story->revisions[r - 1], story->revisions[r]);
          fixture_change_issue (f, story->changes[r], story->issue);
        }
      fixture_plan (f, story->rounds[r], story->part, story->revisions[r], -1, "");
      story->first[r] = fixture_units (f, story->rounds[r], units[r]);
    }
}

void
story_down (Story *story)
{
  fixture_free (story->f);
}

void
story_check (Story *story, guint round, guint n, guint failed)
{
  for (guint i = 0; i < n; i++)
    fixture_check (story->f, story->first[round] + (int) i, story->c, i >= failed);
}

InsightIssues *
story_issues (Story *story, const char *through)
{
  InsightSpan span = { 0, "2027-01-01" };
  g_autoptr(GError) error = NULL;
  InsightIssues *issues;

  fixture_finish (story->f);
  for (guint i = 0; through != NULL && i < story->f->e->n_rounds; i++)
    if (g_str_equal (story->f->e->rounds[i].label, through))
      span.through = story->f->e->rounds[i].id;
  issues = insight_issues (story->f->e, &span, NULL, &error);
  g_assert_no_error (error);
  return issues;
}

const InsightIssue *
story_issue (const InsightIssues *issues, guint i)
{
  g_assert_cmpuint (i, <, issues->issues->len);
  return issues->issues->pdata[i];
}

static const InsightReason *
find_reason (const GPtrArray *reasons, InsightReasonCode code)
{
  for (guint i = 0; i < reasons->len; i++)
    if (((const InsightReason *) reasons->pdata[i])->code == code)
      return reasons->pdata[i];
  return NULL;
}

gboolean
has_reason (const GPtrArray *reasons, InsightReasonCode code)
{
  return find_reason (reasons, code) != NULL;
}

gint64
count_of (const GPtrArray *reasons, InsightReasonCode code, guint i)
{
  const InsightReason *reason = find_reason (reasons, code);

  g_assert_nonnull (reason);
  g_assert_cmpuint (i, <, reason->n_counts);
  return reason->counts[i];
}
