/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounds in words: their rows, what goes in, waits, tests, and what a finished one answered. */

#include "config.h"

#include "present-round.h"

#include <math.h>
#include <string.h>

static void
check (char *said, const char *expected)
{
  g_assert_cmpstr (said, ==, expected);
  g_free (said);
}

static void
test_parts (void)
{
  InsightRoundPart part = { 1, "HF-30", "Spring", "C", "", 0, "" };

  check (present_round_part (&part), "HF-30 Spring C");
  check (present_round_part_units (&part), "all units");
  part.lot = "S-31";
  part.units = 5;
  part.first_serial = "P3-06";
  check (present_round_part (&part), "HF-30 Spring C, lot S-31");
  check (present_round_part_units (&part), "5 units from P3-06 on");
  part.units = 1;
  part.first_serial = "";
  check (present_round_part_units (&part), "1 unit");
  part.units = 0;
  part.first_serial = "P3-06";
  check (present_round_part_units (&part), "from P3-06 on");
}

static void
test_waits (void)
{
  InsightRoundWait wait = { 1, 1, BOOK_WAIT_OUTSIDE_STEP, "hardening", "A shop", "2026-02-02", "", 1 };

  check (present_round_wait (&wait), "Outside step: hardening (A shop), since 2026-02-02, 1 working day");
  wait.to = "2026-02-04";
  wait.days = 2;
  wait.supplier = "";
  check (present_round_wait (&wait), "Outside step: hardening, 2026-02-02 to 2026-02-04, 2 working days");
}

static void
test_tests (void)
{
  InsightRoundTest test = { "P3-01", 0, 1, "CY", NAN, 3000, FALSE, FALSE };

  check (present_round_test (&test), "tested, 3000 cycles");
  test.destroyed = TRUE;
  test.cycles = NAN;
  test.load = 250;
  check (present_round_test (&test), "destroyed, load 250");
  test.destroyed = FALSE;
  test.lent = TRUE;
  test.load = NAN;
  check (present_round_test (&test), "lent");
}

static InsightRound
new_round (void)
{
  InsightRound round = { .id = 1, .label = "P3", .question = "", .kind = BOOK_ROUND_PROTOTYPE, .next = 0, .planned_units = 10, .cost = NAN,
                         .beside = "" };

  for (guint i = 0; i < INSIGHT_N_ROUND_DATES; i++)
    round.dates[i] = round.planned[i] = "";
  round.parts = g_array_new (FALSE, FALSE, sizeof (InsightRoundPart));
  round.waits = g_array_new (FALSE, FALSE, sizeof (InsightRoundWait));
  round.tests = g_array_new (FALSE, FALSE, sizeof (InsightRoundTest));
  round.units = g_array_new (FALSE, FALSE, sizeof (InsightRoundUnit));
  return round;
}

static void
clear_round (gpointer data)
{
  InsightRound *round = data;

  g_array_unref (round->parts);
  g_array_unref (round->waits);
  g_array_unref (round->tests);
  g_array_unref (round->units);
}

static void
check_story (const InsightRound *round, guint at, const char *expected)
{
  g_autoptr(GPtrArray) story = present_round_story (round);

  g_assert_cmpuint (story->len, >, at);
  g_assert_cmpstr (story->pdata[at], ==, expected);
}

static void
test_story (void)
{
  InsightRound round = new_round ();

  check_story (&round, 0, "No question is written down: what must the round answer?");
  round.question = "Which spring lasts, B or C?";
  round.planned[1] = "2026-06-01";
  round.dates[0] = "2026-05-28";
  round.next = 1;
  round.days = 1;
  round.state = INSIGHT_ROUND_UNDER_WAY;
  round.late = TRUE;
  round.beside = "P2, A";
  check_story (&round, 0, "Which spring lasts, B or C?");
  check_story (&round, 1, "Opened: 2026-05-28; Design fixed: planned for 2026-06-01.");
  check_story (&round, 2, "It took 1 working day so far.");
  check_story (&round, 3, "'Design fixed' was planned for 2026-06-01 and is not reached yet.");
  check_story (&round, 4, "It runs beside: P2, A.");
  round.state = INSIGHT_ROUND_DECIDED;
  round.days = 41;
  check_story (&round, 2, "It took 41 working days.");
  clear_round (&round);
}

static void
test_rows (void)
{
  InsightRounds rounds = { .rounds = g_array_new (FALSE, FALSE, sizeof (InsightRound)) };
  InsightRound one = new_round (), other = new_round ();
  g_autoptr(GPtrArray) rows = NULL;
  const PresentRoundRow *row;

  g_array_set_clear_func (rounds.rounds, clear_round);
  one.dates[0] = "2026-05-28";
  one.dates[5] = "2026-07-24";
  one.state = INSIGHT_ROUND_DECIDED;
  one.verdict = BOOK_VERDICT_GO_ON;
  one.days = 41;
  one.cost = 1200;
  other.label = "A";
  g_array_append_val (rounds.rounds, one);
  g_array_append_val (rounds.rounds, other);
  rows = present_round_rows (&rounds);
  row = rows->pdata[0];
  g_assert_cmpstr (row->label, ==, "A"); /* the newest first */
  g_assert_cmpstr (row->state, ==, "planned");
  g_assert_cmpstr (row->days, ==, "");
  g_assert_cmpstr (row->units, ==, "0 of 10");
  g_assert_cmpstr (row->words, ==, "A, Prototype, units: 0 of 10, planned"); /* no comma for a verdict that is not there */
  row = rows->pdata[1];
  g_assert_cmpstr (row->state, ==, "decided 2026-07-24");
  g_assert_cmpstr (row->verdict, ==, "Go on");
  g_assert_cmpstr (row->days, ==, "41");
  g_assert_cmpstr (row->cost, ==, "1200");
  g_assert_cmpstr (row->sign, !=, ((const PresentRoundRow *) rows->pdata[0])->sign);
  check (present_rounds_headline (&rounds), "2 rounds. Not decided: A.");
  g_array_unref (rounds.rounds);
}

static void
test_answer (void)
{
  char *none[] = { NULL };
  char *newly[] = { (char *) "C7 Blade hardness", (char *) "C9 Cutting force", NULL };
  InsightRoundFix fix = { 4, (char *) "Blade rubs", INSIGHT_ISSUE_PROVEN, 40, 0, 0.984 };
  InsightRoundAnswer answer = { .met_before = 2, .met = 4, .total = 16, .newly_met = newly, .no_longer_met = none, .against = none,
                                .found = 1, .rolled = 0.756, .rolled_low = 0.61, .rolled_high = 0.859, .steps = 2 };
  g_autoptr(GPtrArray) said = NULL;

  answer.fixes = g_ptr_array_new ();
  g_ptr_array_add (answer.fixes, &fix);
  said = present_round_answer (&answer);
  g_assert_cmpuint (said->len, ==, 5);
  g_assert_cmpstr (said->pdata[0], ==, "At its end 4 of 16 criteria were met, at the end of the round before 2.");
  g_assert_cmpstr (said->pdata[1], ==, "Met since then: C7 Blade hardness, C9 Cutting force.");
  g_assert_nonnull (strstr (said->pdata[2], "is solved at 98"));
  g_assert_nonnull (strstr (said->pdata[2], "not seen on 40 units with the change."));
  g_assert_cmpstr (said->pdata[3], ==, "1 issue was found in it.");
  g_assert_nonnull (strstr (said->pdata[4], "of the units went through 2 steps good the first time"));
  for (guint i = 0; i < said->len; i++)
    g_assert_true (g_str_has_suffix (said->pdata[i], "."));
  g_ptr_array_unref (answer.fixes);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/round/what-goes-in", test_parts);
  g_test_add_func ("/present/round/waits", test_waits);
  g_test_add_func ("/present/round/tests", test_tests);
  g_test_add_func ("/present/round/story", test_story);
  g_test_add_func ("/present/round/rows", test_rows);
  g_test_add_func ("/present/round/answer", test_answer);
  return g_test_run ();
}
