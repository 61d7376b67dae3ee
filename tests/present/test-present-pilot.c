/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a run: whole sentences with one and with many, nothing where nothing was counted, a code for each note. */

#include "config.h"

#include "present-pilot.h"

#include "chart-table.h"

#include <math.h>
#include <string.h>

typedef struct
{
  InsightPilotStep steps[3];
  InsightPilot     pilot;
  InsightRateBench benches[2]; /* one more than are used, as a copy takes it */
  InsightRateStep  rate_steps[3];
  InsightRateInput input;
} Run;

/* Two steps with counts, one without; @n of everything that can be counted. */
static void
run_init (Run *run, guint n)
{
  *run = (Run){ .pilot = { .round = 1, .label = (char *) "A", .rolled = 0.75, .rolled_interval = { 0.66, 0.82 }, .final = 0.9,
                           .final_range = { 0.88, 0.93 }, .waiting = n, .counted_steps = 2, .n_steps = 3 },
                .input = { .label = (char *) "A", .n_benches = 1, .n_steps = 2, .unpriced = n, .hourly_cost = NAN, .days_week = 5,
                           .run_days = n, .demand = NAN } };
  for (guint i = 0; i < 3; i++)
    run->steps[i] = (InsightPilotStep){ .index = (int) i, .id = i + 1, .position = (int) (10 * i + 10), .name = (char *) "Fit", .n = 20,
                                        .kind = BOOK_STEP_OWN, .in = 20, .first = 17, .first_pass = 0.85, .minutes = NAN,
                                        .first_interval = { 0.7, 0.94 }, .final = 1, .final_range = { 0.95, 1 }, .setup_min = NAN,
                                        .rework_min = NAN };
  run->steps[0].source = INSIGHT_PILOT_TALLY;
  run->steps[1].source = INSIGHT_PILOT_EVENTS;
  run->steps[1].tallies_left_out = n;
  run->steps[1].aside = n;
  run->pilot.steps = run->steps;
  run->benches[0] = (InsightRateBench){ 1, (char *) "Bench", 1, 1, 40, 1, 1 };
  for (guint i = 0; i < 2; i++)
    run->rate_steps[i] = (InsightRateStep){ .id = i + 1, .position = (int) (10 * i + 10), .name = (char *) "Fit", .kind = BOOK_STEP_OWN,
                                            .batch = 1, .cycle_min = 52, .yield = 1, .counts = i == 0, .queue_days = NAN, .price = NAN };
  run->input.benches = run->benches;
  run->input.steps = run->rate_steps;
}

static void
check_notes (const GPtrArray *notes, const GPtrArray *facts)
{
  g_assert_cmpuint (notes->len, ==, facts->len);
  for (guint i = 0; i < notes->len; i++)
    {
      g_assert_true (g_str_has_suffix (notes->pdata[i], "."));
      g_assert_null (strchr (notes->pdata[i], '%') != NULL && strstr (notes->pdata[i], "%s") != NULL ? "a format" : NULL);
    }
}

static const PresentFact *
fact_of (const GPtrArray *facts, const char *code)
{
  for (guint i = 0; i < facts->len; i++)
    if (g_str_equal (((const PresentFact *) facts->pdata[i])->code, code))
      return facts->pdata[i];
  return NULL;
}

static void
test_notes (void)
{
  static const char *const codes[] = { "tally-then-units", "tallies-left-out", "in-hand", "set-aside", "steps-uncounted" };

  for (guint n = 1; n <= 2; n++)
    {
      Run run;
      g_autoptr(PresentPilot) present = NULL;

      run_init (&run, n);
      present = present_pilot_new (&run.pilot);
      check_notes (present->notes, present->facts);
      for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
        g_assert_nonnull (fact_of (present->facts, codes[i]));
      g_assert_cmpuint (fact_of (present->facts, "in-hand")->count, ==, n);
      g_assert_cmpstr (fact_of (present->facts, "steps-uncounted")->names[0], ==, "Fit");
      g_assert_nonnull (strstr (present->notes->pdata[2], n == 1 ? "1 unit is" : "2 units are"));
      g_assert_nonnull (strstr (present->headline, "75 %"));
      g_assert_nonnull (strstr (present->headline, "66 to 82 %"));
      g_assert_nonnull (strstr (present->headline, "88 to 93 %"));
      g_assert_cmpuint (present->steps->rows->len, ==, 2); /* a step without counts has no figures */
    }
}

static void
test_nothing (void)
{
  InsightPilot nothing = { .label = (char *) "", .rolled = NAN, .final = NAN };
  InsightRateInput input = { .label = (char *) "", .hourly_cost = NAN, .demand = 40 };
  g_autoptr(PresentPilot) present = present_pilot_new (&nothing);
  g_autoptr(InsightRate) rate = insight_rate (&input);
  g_autoptr(PresentRate) words = present_rate_new (&input, rate);
  g_autofree char *by = present_rate_by (&input, rate, 20, "2027-01-31");

  g_assert_nonnull (strstr (present->headline, "Nothing was counted yet"));
  g_assert_cmpuint (present->notes->len, ==, 0);
  g_assert_nonnull (strstr (words->headline, "No rate can be given"));
  g_assert_cmpstr (words->constraint, ==, "");
  g_assert_cmpstr (words->cost_sentence, ==, "");
  g_assert_cmpstr (by, ==, "");
}

static const char *
demand_code (Run *run, double demand)
{
  g_autoptr(InsightRate) rate = NULL;
  g_autoptr(PresentRate) words = NULL;

  run->input.demand = demand;
  rate = insight_rate (&run->input);
  words = present_rate_new (&run->input, rate);
  check_notes (words->notes, words->facts);
  return ((const PresentFact *) words->facts->pdata[0])->code;
}

/* 40 hours of 52/12 weeks over 52 minutes: 200 a month, of which a plan takes 170. */
static void
test_rate (void)
{
  for (guint n = 1; n <= 2; n++)
    {
      Run run;
      g_autoptr(InsightRate) rate = NULL;
      g_autoptr(PresentRate) words = NULL;

      run_init (&run, n);
      rate = insight_rate (&run.input);
      words = present_rate_new (&run.input, rate);
      check_notes (words->notes, words->facts);
      g_assert_nonnull (strstr (words->headline, "200"));
      g_assert_nonnull (strstr (words->headline, "170"));
      g_assert_cmpstr (words->constraint, ==, "'Bench' sets the pace.");
      g_assert_cmpuint (fact_of (words->facts, "run-days")->count, ==, n);
      g_assert_nonnull (fact_of (words->facts, "steps-left-out"));
      g_assert_nonnull (fact_of (words->facts, "steps-assumed"));
      g_assert_nonnull (fact_of (words->facts, "no-hourly-cost"));
      g_assert_cmpuint (fact_of (words->facts, "unpriced")->count, ==, n);
      g_assert_cmpstr (demand_code (&run, 170), ==, "demand-fits");
      g_assert_cmpstr (demand_code (&run, 171), ==, "demand-tight");
      g_assert_cmpstr (demand_code (&run, 201), ==, "demand-beyond");
    }
}

/* Two that are nearly alike: the likelier one is named first, with its chance; both are marked. */
static void
test_pace (void)
{
  InsightRateLine lines[2] = { { 0, -1, 10, 1000, 100, { 90, 104 }, 0.4 }, { 1, -1, 10, 1010, 101, { 80, 104 }, 0.6 } };
  InsightRate rate = { .lines = lines, .n_lines = 2, .month = 100, .plan = 85, .interval = { 79, 102 }, .cost = NAN };
  InsightRateBench benches[2] = { { 1, (char *) "Bench", 1, 1, 40, 1, 1 }, { 2, (char *) "Lathe", 1, 1, 40, 1, 1 } };
  InsightRateInput input = { .label = (char *) "A", .benches = benches, .n_benches = 2, .hourly_cost = NAN, .demand = NAN, .run_days = 6 };
  g_autoptr(PresentRate) words = present_rate_new (&input, &rate);
  g_autoptr(PresentRate) surely = NULL;

  g_assert_nonnull (strstr (words->headline, "100 good units a month can be made (79 to 102)"));
  g_assert_nonnull (strstr (words->constraint, "though 'Bench' is the least by what was counted alone"));
  g_assert_nonnull (strstr (words->constraint, "'Lathe' probably sets the pace, with a chance of 60 in 100, though"));
  g_assert_true (g_array_index (words->benches->rows, PresentSheetRow, 0).open);
  g_assert_true (g_array_index (words->benches->rows, PresentSheetRow, 1).open);
  lines[0].constraint_chance = 0.999;
  lines[1].constraint_chance = 0.001;
  surely = present_rate_new (&input, &rate);
  g_assert_nonnull (strstr (surely->constraint, "more than 99 times in 100"));
  g_assert_true (g_array_index (surely->benches->rows, PresentSheetRow, 0).open);
  g_assert_false (g_array_index (surely->benches->rows, PresentSheetRow, 1).open);
}

/* Each drawing has a sentence and a table for those who do not see it, and a mark for each row. */
static void
test_charts (void)
{
  InsightPilotLoss losses[2] = { { .issue = 7, .issue_no = 2, .title = (char *) "Sticks", .found = 1, .caused = 0, .units = 3,
                                   .scrapped = 1, .minutes = 20 },
                                 { .title = (char *) "", .found = 0, .caused = -1, .units = 1, .minutes = NAN } };
  InsightPilot nothing = { .label = (char *) "", .rolled = NAN, .final = NAN };
  Run run;
  g_autoptr(InsightRate) rate = NULL;
  g_autoptr(Chart) yield = NULL, lost = NULL, month = NULL, empty = NULL;

  run_init (&run, 1);
  run.steps[2].n = 0;
  run.pilot.losses = losses;
  run.pilot.n_losses = 2;
  rate = insight_rate (&run.input);
  yield = present_chart_yield (&run.pilot, TRUE);
  g_assert_nonnull (strstr (chart_get_summary (yield), "75 %"));
  g_assert_cmpuint (chart_table_rows (yield), ==, 2);
  g_assert_cmpuint (chart_count_marks (yield), ==, 3); /* two steps, and both in a row */
  lost = present_chart_losses (&run.pilot, TRUE);
  g_assert_nonnull (strstr (chart_get_summary (lost), "4 times"));
  g_assert_nonnull (strstr (chart_get_summary (lost), "Sticks"));
  g_assert_cmpuint (chart_table_rows (lost), ==, 2);
  g_assert_cmpuint (chart_count_marks (lost), ==, 3); /* scrapped and reworked ones of the first, tallied ones of the second */
  month = present_chart_rate (&run.input, rate, FALSE);
  g_assert_nonnull (strstr (chart_get_summary (month), "200"));
  empty = present_chart_losses (&nothing, FALSE);
  g_assert_cmpuint (chart_table_rows (empty), ==, 0);
  g_assert_cmpstr (chart_get_summary (empty), ==, "Nothing was counted yet.");
}

static gboolean
has_line (const GPtrArray *lines, const char *line)
{
  return g_ptr_array_find_with_equal_func ((GPtrArray *) lines, line, g_str_equal, NULL);
}

/* Counted figures stay out of the book, with the reason; benches say whom they touch. */
static void
test_storing (void)
{
  g_autoptr(InsightRateInput) now = NULL;
  g_autoptr(GPtrArray) nothing = NULL, lines = NULL, timed = NULL;
  Run run;

  run_init (&run, 4);
  now = insight_rate_input_copy (&run.input);
  nothing = present_rate_storing (&run.input, now);
  g_assert_cmpuint (nothing->len, ==, 0);
  g_assert_true (insight_rate_set (now, 0, INSIGHT_RATE_CYCLE, 40));
  g_assert_true (insight_rate_set (now, 1, INSIGHT_RATE_YIELD, 0.9));
  lines = present_rate_storing (&run.input, now);
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_true (has_line (lines, "Step 10 'Fit': Minutes a piece from 52.0 min to 40.0 min."));
  g_assert_true (has_line (lines, "Step 20 'Fit': 'Not scrapped' is counted in the run, so it is not stored."));

  run.rate_steps[0].n_days = INSIGHT_RATE_RUN_DAYS; /* its minutes are what was written down */
  g_assert_true (insight_rate_set (now, 0, INSIGHT_RATE_HOURS, 60));
  timed = present_rate_storing (&run.input, now);
  g_assert_true (has_line (timed, "Bench 'Bench': Hours a week from 40.0 h to 60.0 h."));
  g_assert_true (has_line (timed, "Step 10 'Fit': the minutes a piece are those of 5 run days, so they are not stored."));
  g_assert_true (has_line (timed, "Benches are shared: what is stored of one changes the rate of every model that uses it."));
  run.rate_steps[0].n_days = 0;

  g_assert_cmpfloat (present_figure_read (present_rate_field (INSIGHT_RATE_SHARE_FREE), 49.7), ==, 0.5);
  g_assert_cmpfloat (present_figure_read (present_rate_field (INSIGHT_RATE_CYCLE), 9.46), ==, 9.5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/pilot/each-note-has-a-sentence-and-a-code", test_notes);
  g_test_add_func ("/present/pilot/nothing-counted-is-said", test_nothing);
  g_test_add_func ("/present/pilot/rate-plan-and-demand", test_rate);
  g_test_add_func ("/present/pilot/what-sets-the-pace-by-figure-and-by-chance", test_pace);
  g_test_add_func ("/present/pilot/drawings-have-words-and-tables", test_charts);
  g_test_add_func ("/present/pilot/storing-says-what-is-written-where-and-what-is-not", test_storing);
  return g_test_run ();
}
