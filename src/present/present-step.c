/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One whole sentence, or two, for each next step. */

#include "config.h"

#include "present-reason.h"

#include "present-number.h"
#include "present-sentence.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  PresentSentence sentences[PRESENT_MOST_SENTENCES];
} Entry;

static const Entry steps[] = {
  [INSIGHT_STEP_FIND_CAUSE] = { {
      { N_("Find out why before anything more is tested.") },
      { N_("Failing: {count0} of {count1}."), NULL, 0, PRESENT_WITH_COUNT } } },
  [INSIGHT_STEP_DISPOSE] = { { { N_("Say what happens to the units that fail: {names}.") } } },
  [INSIGHT_STEP_TEST] = { {
      { N_PLURAL ("Test {count0} more unit; without a failure it would do.",
                  "Test {count0} more units; without a failure they would do.") } } },
  [INSIGHT_STEP_MEASURE] = { {
      { N_PLURAL ("Measure {count0} more unit; if mean and spread stay as they are, it would do.",
                  "Measure {count0} more units; if mean and spread stay as they are, they would do.") } } },
  [INSIGHT_STEP_MEASURE_INSTEAD] = { {
      { N_PLURAL ("Measure a strength instead of passed or failed: counting alone would take {count0} more unit.",
                  "Measure a strength instead of passed or failed: counting alone would take {count0} more units.") } } },
  [INSIGHT_STEP_NEW_UNITS] = { {
      { N_PLURAL ("Build and test {count0} unit of the newest state of design.",
                  "Build and test {count0} units of the newest state of design.") } } },
  [INSIGHT_STEP_NO_UNITS_HELP] = { {
      { N_("With this mean and spread no number of units would do: change the design or the limits.") } } },
  [INSIGHT_STEP_FINISH_ROUND] = { { { N_("Finish the testing of the round and enter the date on which it was finished: {names}.") } } },
  [INSIGHT_STEP_FINISH_PLAN] = { {
      { N_PLURAL ("Finish the declared plan: {count0} unit is left.", "Finish the declared plan: {count0} units are left.") } } },
  [INSIGHT_STEP_THIRD_LOT] = { {
      { N_PLURAL ("Test units of a third lot of '{name0}': {count0} lot was seen so far.",
                  "Test units of a third lot of '{name0}': {count0} lots were seen so far.") } } },
  [INSIGHT_STEP_MORE_LOTS] = { {
      { N_PLURAL ("Test units of further lots of '{name0}': {count0} lot was seen so far, and they differ too much to be sure.",
                  "Test units of further lots of '{name0}': {count0} lots were seen so far, and they differ too much to be sure.") } } },
  [INSIGHT_STEP_SET_LIMITS] = { { { N_("Give the characteristic its limits.") } } },
  [INSIGHT_STEP_SECOND_PERSON] = { { { N_("Let a second person agree to what is carried over, or measure again: {names}.") } } },
  [INSIGHT_STEP_CALIBRATE] = { { { N_("Have the gauge calibrated, then measure again: {names}.") } } },
  [INSIGHT_STEP_STUDY_GAUGE] = { { { N_("Study the gauge: several persons measure the same pieces several times.") } } },
  [INSIGHT_STEP_FINER_GAUGE] = { { { N_("Measure with a finer gauge: this one cannot show that anything lies inside these limits.") } } },
  [INSIGHT_STEP_OWNER_SHARE] = { { { N_("Let the owner set the tolerated share by name, or measure a strength instead.") } } },
  [INSIGHT_STEP_FINISH_COUNT] = { {
      { N_PLURAL ("{count0} more is asked for.", "{count0} more are asked for."), 0, PRESENT_WITH_COUNT },
      { N_("Not done: {names}."), NULL, 0, PRESENT_WITH_NAMES },
      { N_("Enter in the book what is to be counted."), NULL, 0, PRESENT_NO_NAMES } } },
  [INSIGHT_STEP_NAME_TEST] = { { { N_("Name the characteristic or the life test that shows the issue.") } } },
  [INSIGHT_STEP_ANSWER_ISSUE] = { { { N_("Propose a change that answers the issue by a new revision or a new setting.") } } },
  [INSIGHT_STEP_BUILD_CHANGE] = { { { N_("Build units with the change: {names}.") } } },
  [INSIGHT_STEP_REPRODUCE] = { {
      { N_("Show the failure on the old state by the test in use, or switch its cause on and off.") } } },
  [INSIGHT_STEP_RUN] = { {
      { N_("Find out at which step units and minutes are lost, mend that, and let the steps run again.") },
      { N_PLURAL ("For a confidence {count0} more run day with counts is needed.",
                  "For a confidence {count0} more run days with counts are needed."), 0, PRESENT_WITH_COUNT } } },
  [INSIGHT_STEP_LIFE] = { {
      { N_PLURAL ("Cycle {count0} more unit to {number0} cycles; without a failure it would do.",
                  "Cycle {count0} more units to {number0} cycles; without a failure they would do.") } } },
  [INSIGHT_STEP_LIFE_TERMS] = { {
      { N_("Write down in the criterion how many cycles are wanted, and which range of shapes is expected, before the next test.") } } },
  [INSIGHT_STEP_BAD_PIECES] = { {
      { N_PLURAL ("Mix {count0} more piece known to be bad among good ones, for each inspector.",
                  "Mix {count0} more pieces known to be bad among good ones, for each inspector."), 0, PRESENT_WITH_COUNT },
      { N_("Improve the check itself: it must show what is bad.") } } },
  [INSIGHT_STEP_COUNT_STEPS] = { { { N_("Count also what these steps pass, rework and scrap: {names}.") } } },
  [INSIGHT_STEP_DESCRIBE_STEPS] = { {
      { N_("Write down the bench and the minutes of these steps, or the days at the supplier: {names}.") } } },
};
G_STATIC_ASSERT (G_N_ELEMENTS (steps) == INSIGHT_N_STEPS);

/* What a run without a failure is worth: how often a product that is just not good enough has one, too. */
static char *
chance_sentence (double chance, double share)
{
  g_autofree char *fails = present_fails_in (1 - share);
  guint times, in;

  present_chance (chance, &times, &in);
  if (times == 0)
    return g_strdup_printf (_("That happens less than once in 200 times to a product that fails %s."), fails);
  if (times == in)
    return g_strdup_printf (_("That also happens nearly every time to a product that fails %s."), fails);
  return g_strdup_printf (ngettext ("That also happens about %u time in %u to a product that fails %s.",
                                    "That also happens about %u times in %u to a product that fails %s.",
                                    times),
                          times,
                          in,
                          fails);
}

/**
 * present_step:
 * @step: a next step of @standing
 * @standing: the standing
 *
 * Returns: (transfer full): what to do, without the name of its criterion
 */
char *
present_step (const InsightStep *step, const InsightStanding *standing)
{
  const InsightCriterion *criterion = insight_standing_get_criterion (standing, step->criterion);
  const PresentArguments arguments = {
    (const char * const *) step->names, step->counts, step->numbers, step->n_counts, step->n_numbers,
    criterion == NULL ? NULL : criterion->unit, criterion == NULL ? -1 : criterion->decimals
  };
  g_autofree char *text = present_sentences (steps[step->code].sentences, &arguments);
  g_autofree char *chance = NULL;

  if (step->code != INSIGHT_STEP_TEST || step->n_numbers == 0 || criterion == NULL)
    return g_steal_pointer (&text);

  chance = chance_sentence (step->numbers[0], criterion->share);
  return g_strdup_printf ("%s %s", text, chance);
}
