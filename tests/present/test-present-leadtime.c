/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the headline says of days and of suppliers, with one and with many, and what tells rows of one round apart. */

#include "config.h"

#include "present-leadtime.h"

#include <math.h>
#include <string.h>

typedef struct
{
  InsightRoundDays rounds[1];
  InsightOpen      open[3];
  InsightWaitGroup groups[2];
  InsightLeadtime  leadtime;
} Story;

/* One round of twenty days; @n suppliers, the first with more days. */
static void
story_init (Story *story, guint n)
{
  *story = (Story){ .rounds = { { .id = 4, .label = (char *) "P1", .total = 20, .open = TRUE, .phase = INSIGHT_PHASE_MAKE } },
                    .open = { { .kind = INSIGHT_OPEN_ROUND, .id = 4, .name = (char *) "P1", .round = 4, .since = (char *) "2026-01-05", .days = 9 },
                              { .kind = INSIGHT_OPEN_WAIT, .id = 7, .name = (char *) "blades", .round = 4, .since = (char *) "2026-01-06", .days = 8 },
                              { .kind = INSIGHT_OPEN_ISSUE, .id = 4, .name = (char *) "Sticks", .no = 1, .since = (char *) "2026-01-07", .days = 7 } },
                    .groups = { { .supplier = 1, .name = (char *) "Heater", .spread = { .n = 3, .sum = 12.5 } },
                                { .supplier = 2, .name = (char *) "Plater", .spread = { .n = 1, .sum = 4 } } },
                    .leadtime = { .model = 1, .n_rounds = 1, .n_open = 3, .total = 20, .largest = INSIGHT_PHASE_WAIT, .largest_share = 0.6,
                                  .solved_share = NAN, .next = NAN, .next_range = { NAN, NAN } } };
  story->leadtime.rounds = story->rounds;
  story->leadtime.open = story->open;
  story->leadtime.by_supplier = g_array_new (FALSE, FALSE, sizeof (InsightWaitGroup));
  story->leadtime.by_reason = g_array_new (FALSE, FALSE, sizeof (InsightWaitGroup));
  g_array_append_vals (story->leadtime.by_supplier, story->groups, n);
}

static void
story_clear (Story *story)
{
  g_array_unref (story->leadtime.by_supplier);
  g_array_unref (story->leadtime.by_reason);
}

static void
check_headline (Story *story, const char *expected)
{
  g_autoptr(PresentLeadtime) words = present_leadtime_new (&story->leadtime);

  g_assert_cmpstr (words->headline, ==, expected);
}

#define ONE_ROUND "1 round took 20 working days so far; the largest part went into waiting (60 %)."

static void
test_supplier (void)
{
  Story story;

  story_init (&story, 2);
  check_headline (&story, ONE_ROUND " The supplier waited for most is 'Heater': 12.5 working days in 3 waits.");
  g_array_index (story.leadtime.by_supplier, InsightWaitGroup, 1).spread.sum = 12.5; /* two alike: none is waited for most */
  check_headline (&story, ONE_ROUND);
  story_clear (&story);

  story_init (&story, 1);
  g_array_index (story.leadtime.by_supplier, InsightWaitGroup, 0).spread.n = 1;
  check_headline (&story, ONE_ROUND " The supplier waited for most is 'Heater': 12.5 working days in 1 wait.");
  g_array_index (story.leadtime.by_supplier, InsightWaitGroup, 0).spread.sum = 0;
  check_headline (&story, ONE_ROUND);
  story_clear (&story);

  story_init (&story, 0);
  check_headline (&story, ONE_ROUND);
  story_clear (&story);
}

/* A wait leads to its round, and is told from it. */
static void
test_open (void)
{
  g_autoptr(PresentLeadtime) words = NULL;
  const PresentSheetRow *rows;
  Story story;

  story_init (&story, 0);
  words = present_leadtime_new (&story.leadtime);
  g_assert_cmpuint (words->open->rows->len, ==, 3);
  rows = &g_array_index (words->open->rows, PresentSheetRow, 0);
  g_assert_cmpstr (rows[0].record, ==, "round");
  g_assert_cmpint (rows[0].item, ==, 0);
  g_assert_cmpstr (rows[1].record, ==, "round");
  g_assert_cmpint (rows[1].key, ==, 4);
  g_assert_cmpint (rows[1].item, ==, 7);
  g_assert_cmpstr (rows[2].record, ==, "issue");
  g_assert_cmpint (rows[2].item, ==, 0);
  story_clear (&story);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/leadtime/headline-names-the-supplier-waited-for-most", test_supplier);
  g_test_add_func ("/present/leadtime/an-open-wait-is-told-from-its-round", test_open);
  return g_test_run ();
}
