/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One whole sentence, or up to three, for each reason. The places are explained in present-sentence.h. */

#include "config.h"

#include "present-reason.h"

#include "present-sentence.h"

#include <glib/gi18n-lib.h>

/* The sentences of one code, and their places, which follow the arguments that insight-reason.h promises. */
typedef struct
{
  PresentSentence sentences[PRESENT_MOST_SENTENCES];
} Entry;

static const Entry reasons[] = {
  [INSIGHT_REASON_NO_ROUND] = { { { N_("No round of this model has a built unit.") } } },
  [INSIGHT_REASON_NO_CHARACTERISTIC] = { { { N_("The criterion names no characteristic of its kind: choose one.") } } },
  [INSIGHT_REASON_LIMITS_MISSING] = { { { N_("The characteristic has no limits, and without limits nothing can be judged.") } } },
  [INSIGHT_REASON_TERM_MISSING] = { {
      { N_("Nobody has set a share and a confidence, so those of the class are used: {share0} at {wanted1}.") } } },
  [INSIGHT_REASON_OTHER_STATE] = { {
      { N_PLURAL ("{count0} unit was built to another state of design and does not count: of '{name0}' it has {name1}, looked for is {name2}.",
                  "{count0} units were built to another state of design and do not count: of '{name0}' the newest has {name1}, looked for is {name2}.") } } },
  [INSIGHT_REASON_SPLIT_NEXT_PLAN] = { {
      { N_("The round was built in several states; looked for is '{name0}' {name1}, because round {name2} takes it (chosen later).") } } },
  [INSIGHT_REASON_SPLIT_LATER] = { {
      { N_("The round was built in several states; looked for is '{name0}' {name1}, the later revision.") } } },
  [INSIGHT_REASON_CARRIED_OVER] = { {
      { N_PLURAL ("{count0} unit of an older state counts, because a change is marked as carried over: {names}.",
                  "{count0} units of an older state count, because a change is marked as carried over: {names}.") } } },
  [INSIGHT_REASON_SECOND_PERSON] = { {
      { N_PLURAL ("{count0} unit does not count, because carrying over a safety characteristic needs a second person: {names}.",
                  "{count0} units do not count, because carrying over a safety characteristic needs a second person: {names}.") } } },
  [INSIGHT_REASON_ALTERED] = { {
      { N_PLURAL ("{count0} reading does not count, because it was taken after the unit was altered: {names}.",
                  "{count0} readings do not count, because they were taken after the unit was altered: {names}.") } } },
  [INSIGHT_REASON_KIND_EARLY] = { {
      { N_PLURAL ("{count0} unit does not count, because it comes before the kind of round that counts here: {name0}.",
                  "{count0} units do not count, because they come before the kind of round that counts here: {name0}.") } } },
  [INSIGHT_REASON_LIMIT_WIDENED] = { {
      { N_("The limits were widened on {name0}, after units had been measured: from '{limits0}' to '{limits2}'.") } } },
  [INSIGHT_REASON_WIDENED_SAFETY] = { {
      { N_PLURAL ("{count0} unit does not count, because a safety limit was widened after it was measured: {name0}.",
                  "{count0} units do not count, because a safety limit was widened after they were measured: {name0}.") } } },
  [INSIGHT_REASON_OLDER_LIMIT] = { {
      { N_PLURAL ("{count0} unit does not count, because it was checked to an older limit than that of {name0}.",
                  "{count0} units do not count, because they were checked to an older limit than that of {name0}.") } } },
  [INSIGHT_REASON_LATER_ATTEMPTS] = { {
      { N_PLURAL ("{count0} unit was tried more than once; only the first attempt is evidence.",
                  "{count0} units were tried more than once; only the first attempt is evidence.") },
      { N_PLURAL ("{count1} of them failed at first and passed at last.",
                  "{count1} of them failed at first and passed at last."), 1, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_VOIDED] = { {
      { N_PLURAL ("{count0} reading is voided: it stays visible and does not count.",
                  "{count0} readings are voided: they stay visible and do not count.") } } },
  [INSIGHT_REASON_UNDECIDABLE] = { {
      { N_PLURAL ("{count0} unit was read only as above or below a value; whether it is inside cannot be told, so it counts as failing.",
                  "{count0} units were read only as above or below a value; whether they are inside cannot be told, so they count as failing.") } } },
  [INSIGHT_REASON_CENSORED] = { {
      { N_PLURAL ("Units are only counted as inside or outside, because {count0} was read as above or below a value.",
                  "Units are only counted as inside or outside, because {count0} were read as above or below a value.") } } },
  [INSIGHT_REASON_SHAPE_UNKNOWN] = { { { N_("Units are only counted as inside or outside, because nobody has stated how the values spread.") } } },
  [INSIGHT_REASON_FITTED] = { { { N_("Units are only counted as inside or outside, because it is fitted at assembly.") } } },
  [INSIGHT_REASON_LOG_NORMAL] = { {
      { N_("If the values spread by ratios instead of differences (log-normal), the confidence is lower, and that counts: {apart1} instead of {apart0}."), NULL, 0, PRESENT_APART },
      { N_("If the values spread by ratios instead of differences (log-normal), the confidence is a trace lower, and that counts."), NULL, 0, PRESENT_NOT_APART } } },
  [INSIGHT_REASON_NO_VARIATION] = { {
      { N_("All values are equal and the resolution of the gauge is not known, so no confidence can be told: enter the resolution.") } } },
  [INSIGHT_REASON_NOT_COMPUTED] = { {
      { N_("The method gave no answer for these values.") },
      { N_PLURAL ("{count0} unit is at 0 or below, where nothing log-normal can be: correct the reading or state another shape.",
                  "{count0} units are at 0 or below, where nothing log-normal can be: correct the readings or state another shape."), 0, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_LOTS_FEW] = { {
      { N_PLURAL ("Variation between deliveries was not seen: {count0} lot only of '{name0}'.",
                  "Variation between deliveries was not seen: {count0} lots only of '{name0}'.") } } },
  [INSIGHT_REASON_LOTS_THIRD] = { {
      { N_PLURAL ("The criterion is strict, so units of a third lot of '{name0}' or a waiver are needed; {count0} lot was seen.",
                  "The criterion is strict, so units of a third lot of '{name0}' or a waiver are needed; {count0} lots were seen.") } } },
  [INSIGHT_REASON_LOTS_DECIDED] = { {
      { N_PLURAL ("With the units grouped by lot of '{name0}' ({count0} lot) the confidence is lower, and that counts: {apart0} instead of {apart1}.",
                  "With the units grouped by lot of '{name0}' ({count0} lots) the confidence is lower, and that counts: {apart0} instead of {apart1}."), 0, PRESENT_APART },
      { N_("With the units grouped by lot of '{name0}' the confidence is a trace lower, and that counts."), NULL, 0, PRESENT_NOT_APART } } },
  [INSIGHT_REASON_LOT_UNKNOWN] = { {
      { N_PLURAL ("{count0} unit has no lot of '{name0}' in the book; such units are taken as one lot.",
                  "{count0} units have no lot of '{name0}' in the book; they are taken as one lot.") } } },
  [INSIGHT_REASON_GAUGE_NOT_STUDIED] = { {
      { N_("The gauge was not studied, so the limits are not pulled in for its spread.") },
      { N_PLURAL ("{count0} trial of a study is there and does not count: every person must try every piece equally often, at least twice.",
                  "{count0} trials of a study are there and do not count: every person must try every piece equally often, at least twice."), 0, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_GUARD_BAND] = { {
      { N_("Units are judged with limits pulled in by {small0}, for what the gauge cannot tell.") },
      { N_("Its study of {name0} shows a standard deviation of {small1}."), NULL, 0, PRESENT_WITH_NAMES },
      { N_PLURAL ("A newer study of it has gaps and does not count ({count0} trial).",
                  "A newer study of it has gaps and does not count ({count0} trials)."), 0, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_GUARD_TOO_WIDE] = { {
      { N_("Nothing can be judged: what the gauge cannot tell is {small0} at each limit, and the limits lie closer together than that: measure with a finer gauge.") } } },
  [INSIGHT_REASON_GAUGE_OUT] = { {
      { N_PLURAL ("{count0} reading does not count, because the gauge was out of calibration: {names}.",
                  "{count0} readings do not count, because the gauge was out of calibration: {names}.") } } },
  [INSIGHT_REASON_GAUGE_EXCUSED] = { {
      { N_PLURAL ("{count0} reading counts although its gauge was found out of order later: {triples}.",
                  "{count0} readings count although their gauge was found out of order later: {triples}.") } } },
  [INSIGHT_REASON_MISSES_NOTHING] = { { { N_("This assumes that the check misses nothing.") } } },
  [INSIGHT_REASON_DETECTION] = { {
      { N_("Of known bad pieces mixed in, the check finds at least {confidence0}; fewer failures are tolerated for that.") } } },
  [INSIGHT_REASON_BELOW_SIX] = { {
      { N_PLURAL ("This is 'so far': {count0} unit was measured, and at least six are needed.",
                  "This is 'so far': {count0} units were measured, and at least six are needed.") } } },
  [INSIGHT_REASON_NOT_TESTED_YET] = { { { N_("This is 'so far': the testing of the round is not finished: {names}.") } } },
  [INSIGHT_REASON_DISPOSITION] = { { { N_("Nobody has said what happens to units that fail: {names}.") } } },
  [INSIGHT_REASON_EXCUSED] = { {
      { N_PLURAL ("{count0} unit is excused and does not count: {triples}.",
                  "{count0} units are excused and do not count: {triples}.") },
      { N_PLURAL ("{count1} of them failed.", "{count1} of them failed."), 1, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_LOOKS] = { {
      { N_PLURAL ("It was looked at {count0} time.", "It was looked at {count0} times.") } } },
  [INSIGHT_REASON_ATTEMPTS] = { {
      { N_("This is attempt {count0}.") },
      { N_PLURAL ("{count1} failure in earlier units (n {count2}) no longer counts.",
                  "{count1} failures in earlier units (n {count2}) no longer count."), 1 },
      { N_("Changed in between: {names}."), NULL, 0, PRESENT_WITH_NAMES } } },
  [INSIGHT_REASON_SURCHARGE] = { {
      { N_("Looking again and starting again cost confidence: this is number {count0}, so {wanted1} is wanted instead of {wanted0}.") } } },
  [INSIGHT_REASON_PLAN] = { {
      { N_("Judged once, by a plan declared before the first reading (n {count0}, failures allowed: {count1}).") } } },
  [INSIGHT_REASON_PLAN_INCOMPLETE] = { {
      { N_("The declared plan is not complete: n {count2} of {count0}, failures allowed: {count1}.") } } },
  [INSIGHT_REASON_PLAN_LATE] = { {
      { N_("The plan of {name0} does not count as a plan, because the first counted reading is older: {name1}."), NULL, 0, PRESENT_WITH_NAME1 },
      { N_("The plan of {name0} does not count as a plan, because it was not in the book before the first counted reading."), NULL, 0, PRESENT_NO_NAME1 } } },
  [INSIGHT_REASON_COUNT_NOT_SAFETY] = { {
      { N_("A count of passed and failed alone does not meet a safety criterion, unless the owner sets the share by name.") } } },
  [INSIGHT_REASON_COUNT_DONE] = { {
      { N_("Done: {count0} of {count1}.") },
      { N_("Not done: {names}."), NULL, 0, PRESENT_WITH_NAMES } } },
  [INSIGHT_REASON_WAIVED] = { {
      { N_("{name0} waives this until {name1}: {name2}."), NULL, 0, PRESENT_WITH_NAME1 },
      { N_("{name0} waives this: {name2}."), NULL, 0, PRESENT_NO_NAME1 } } },
  [INSIGHT_REASON_ENTERED_LATER] = { {
      { N_PLURAL ("{count0} reading that counts was entered after the decision of round {name0}.",
                  "{count0} readings that count were entered after the decision of round {name0}."), 0, PRESENT_WITH_COUNT },
      { N_PLURAL ("{count1} unit that counts was entered after the decision of round {name0}.",
                  "{count1} units that count were entered after the decision of round {name0}."), 1, PRESENT_WITH_COUNT },
      { N_("The limits were entered after the decision of round {name0}."), NULL, 2, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_ISSUE_NO_TEST] = { {
      { N_("No test shows the issue: name the characteristic or the life test that does.") } } },
  [INSIGHT_REASON_ISSUE_NO_CHANGE] = { { { N_("No change answers the issue yet.") } } },
  [INSIGHT_REASON_ISSUE_NO_STATE] = { {
      { N_("The change that answers it brings no new revision or setting that units could carry: {name0}.") } } },
  [INSIGHT_REASON_ISSUE_NOT_BUILT] = { { { N_("No unit was built with the change yet: {name0}.") } } },
  [INSIGHT_REASON_ISSUE_NOT_REPRODUCED] = { {
      { N_("The test in use did not show the failure on the old state (n {count0}), and the cause was not switched on and off.") } } },
  [INSIGHT_REASON_ISSUE_UNITS] = { {
      { N_PLURAL ("{count0} more unit of the new state without a failure is needed (n {count1} so far).",
                  "{count0} more units of the new state without a failure are needed (n {count1} so far).") } } },
  [INSIGHT_REASON_ISSUE_LOAD] = { {
      { N_PLURAL ("{count0} unit does not count, because it did not reach the load at which the issue appeared, or nobody wrote the load down: {number0}.",
                  "{count0} units do not count, because they did not reach the load at which the issue appeared, or nobody wrote the load down: {number0}.") } } },
  [INSIGHT_REASON_ISSUE_CYCLES] = { {
      { N_PLURAL ("{count0} unit does not count, because it did not reach {number0} cycles, which is 1.5 times those at which the issue appeared, or nobody wrote them down.",
                  "{count0} units do not count, because they did not reach {number0} cycles, which is 1.5 times those at which the issue appeared, or nobody wrote them down.") } } },
  [INSIGHT_REASON_ISSUE_LUCK] = { {
      { N_("Before the change {count0} of {count1} failed, with it {count2} of {count3}: so few could be luck alone (chance {share0}, below 10 in 100 is asked for).") } } },
  [INSIGHT_REASON_ISSUE_CAME_BACK] = { {
      { N_PLURAL ("It was seen on {count0} unit of the new state: {names}.",
                  "It was seen on {count0} units of the new state: {names}.") } } },
  [INSIGHT_REASON_ISSUE_OTHER_MODE] = { {
      { N_PLURAL ("{count0} unit does not count, because another issue ended its test.",
                  "{count0} units do not count, because another issue ended their test.") } } },
  [INSIGHT_REASON_ISSUE_OTHER_STATE] = { {
      { N_PLURAL ("{count0} unit with the change no longer counts, because something else was changed since: {names}.",
                  "{count0} units with the change no longer count, because something else was changed since: {names}.") } } },
  [INSIGHT_REASON_ISSUE_BEFORE_CHANGE] = { {
      { N_PLURAL ("{count0} unit was tested before the date of the change: {name0}.",
                  "{count0} units were tested before the date of the change: {name0}.") } } },
  [INSIGHT_REASON_ISSUE_NOT_SHOWN] = { {
      { N_("It was closed on {name0} as solved by {name1}, but the units do not show that."), NULL, 0, PRESENT_WITH_NAME1 },
      { N_("It was closed on {name0} as solved, but the units do not show that."), NULL, 0, PRESENT_NO_NAME1 } } },
  [INSIGHT_REASON_CHANGED_BY] = { {
      { N_("They were changed by: {names}."), NULL, 0, PRESENT_WITH_NAMES },
      { N_("No change in the book says why they differ."), NULL, 0, PRESENT_NO_NAMES } } },
  [INSIGHT_REASON_NO_ISSUE] = { { { N_("The criterion names no issue: choose one.") } } },
  [INSIGHT_REASON_ISSUES_EXCEPTED] = { {
      { N_PLURAL ("{count0} issue was closed by name in another way and is not asked for: {triples}.",
                  "{count0} issues were closed by name in another way and are not asked for: {triples}.") } } },
  [INSIGHT_REASON_STEPS_UNCOUNTED] = { { { N_("Nothing was counted at these steps, so they are no part of it: {names}.") } } },
  [INSIGHT_REASON_IN_HAND] = { {
      { N_PLURAL ("{count0} unit is still in hand and counts as not good the first time.",
                  "{count0} units are still in hand and count as not good the first time.") } } },
  [INSIGHT_REASON_TALLIES_LEFT_OUT] = { {
      { N_PLURAL ("{count0} tally does not count, because the units of its step have serials and are counted themselves.",
                  "{count0} tallies do not count, because the units of their steps have serials and are counted themselves.") } } },
  [INSIGHT_REASON_STEPS_LEFT_OUT] = { {
      { N_("Steps without a bench and minutes, or without a supplier's days, are not in the rate, so it cannot be met: {names}.") } } },
  [INSIGHT_REASON_CONSTRAINT] = { {
      { N_("{name0} sets the pace at {number0} a month; a plan takes at most {number1} of them.") } } },
  [INSIGHT_REASON_RUN_DAYS] = { {
      { N_PLURAL ("With {count0} run day there is no confidence: five are needed.",
                  "With {count0} run days there is no confidence: five are needed.") } } },
  [INSIGHT_REASON_NO_TARGET] = { { { N_("Nobody has said how many a month are wanted.") } } },
  [INSIGHT_REASON_LIFE_CYCLES] = { { { N_("The criterion does not say how many cycles are wanted.") } } },
  [INSIGHT_REASON_LIFE_SHAPE] = { {
      { N_("With fewer than three failures of one kind a range of shapes must have been stated before the test.") } } },
  [INSIGHT_REASON_LIFE_LOAD] = { {
      { N_PLURAL ("{count0} unit was stopped under less than the load asked for, or nobody wrote it down, and does not count: {number0}.",
                  "{count0} units were stopped under less than the load asked for, or nobody wrote it down, and do not count: {number0}.") } } },
  [INSIGHT_REASON_LIFE_MODES] = { {
      { N_PLURAL ("{count0} way of failing was looked at by itself: {names}.",
                  "{count0} ways of failing were looked at apart, and the least confidence counts: {names}.") } } },
  [INSIGHT_REASON_LIFE_STOPPED] = { {
      { N_("No unit ran beyond the last failure, nor as far as a plan says: a test that is stopped by its failures promises more than it can hold and cannot meet the criterion. Let units run on, or plan before the test how far they are to go.") } } },
  [INSIGHT_REASON_LIFE_OTHER_STATE] = { {
      { N_PLURAL ("{count0} unit that was tested was built to another state of design and does not count.",
                  "{count0} units that were tested were built to another state of design and do not count.") } } },
  [INSIGHT_REASON_STUDY_GAPS] = { {
      { N_PLURAL ("The newest study has gaps and does not count: {count0} trial.",
                  "The newest study has gaps and does not count: {count0} trials.") } } },
  [INSIGHT_REASON_STUDY] = { {
      { N_("The study that counts was made with '{name0}' and ended on {name1}."), NULL, 0, PRESENT_WITH_NAME1 },
      { N_("The study that counts was made with '{name0}'."), NULL, 0, PRESENT_NO_NAME1 },
      { N_PLURAL ("It tells {count3} distinct category apart.", "It tells {count3} distinct categories apart."), 3,
        PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_NO_TOLERANCE] = { { { N_("Without a lower and an upper limit there is no tolerance that the gauge could take up.") } } },
  [INSIGHT_REASON_INSPECTORS] = { {
      { N_PLURAL ("{count0} inspector was given pieces known to be bad.",
                  "{count0} inspectors were given pieces known to be bad; what counts is the one who found the fewest.") } } },
  [INSIGHT_REASON_IN_ADDITION] = { {
      { N_("A check on every unit is in addition to a strength that is shown, never instead of it.") } } },
  [INSIGHT_REASON_STEPS_WANTED] = { {
      { N_("What is lost at these steps is not known, because nothing was counted there, so this cannot be met: {names}.") } } },
  [INSIGHT_REASON_SET_ASIDE] = { {
      { N_PLURAL ("{count0} unit was set aside at a step and is neither good nor counted.",
                  "{count0} units were set aside at a step and are neither good nor counted.") } } },
  [INSIGHT_REASON_AFTER_ROUND] = { {
      { N_PLURAL ("{count0} reading is dated after the decision of round {name0} and counts for nothing; it belongs to a round that is open.",
                  "{count0} readings are dated after the decision of round {name0} and count for nothing; they belong to a round that is open."), 0, PRESENT_WITH_COUNT },
      { N_PLURAL ("{count1} life test is dated after the decision of round {name0} and counts for nothing; it belongs to a round that is open.",
                  "{count1} life tests are dated after the decision of round {name0} and count for nothing; they belong to a round that is open."), 1, PRESENT_WITH_COUNT } } },
  [INSIGHT_REASON_FAILED_AFTER] = { { { N_("Failed after the decision of the round: {names}.") } } },
};
G_STATIC_ASSERT (G_N_ELEMENTS (reasons) == INSIGHT_N_REASONS);

static const Entry gaps[] = {
  [INSIGHT_GAP_SAFETY] = { { { N_("Safety characteristic without a criterion: {name0}, {name1}.") } } },
  [INSIGHT_GAP_PART] = { { { N_("Part without a characteristic: {name0}, {name1}.") } } },
  [INSIGHT_GAP_HAZARD] = { { { N_("Hazard {name0} is covered by neither a characteristic nor a document: {name1}.") } } },
  [INSIGHT_GAP_ISSUE] = { { { N_("Issue {name0} has no test that shows it: {name1}.") } } },
  [INSIGHT_GAP_DOCUMENT] = { { { N_("Document {name0} is wanted and not there: {name1}.") } } },
  [INSIGHT_GAP_CHANGE] = { { { N_("Units carry a revision that no change brought in: {name0}, in {name1}.") } } },
  [INSIGHT_GAP_CRITERION] = { { { N_("Criterion {name0} was not looked at: {name1}.") } } },
};
G_STATIC_ASSERT (G_N_ELEMENTS (gaps) == INSIGHT_N_GAPS);

/**
 * present_reason:
 * @reason: what has to be said
 * @unit: (nullable): unit of measure of what it is said about
 * @decimals: of what it is said about; -1: as many as needed
 *
 * Returns: (transfer full): one to three whole sentences
 */
char *
present_reason (const InsightReason *reason, const char *unit, int decimals)
{
  const PresentArguments arguments = {
    (const char * const *) reason->names, reason->counts, reason->numbers, reason->n_counts, reason->n_numbers, unit, decimals
  };

  return present_sentences (reasons[reason->code].sentences, &arguments);
}

/**
 * present_gap:
 * @gap: something nobody looked at
 *
 * Returns: (transfer full): a whole sentence
 */
char *
present_gap (const InsightGap *gap)
{
  const PresentArguments arguments = { (const char * const *) gap->names, NULL, NULL, 0, 0, NULL, -1 };

  return present_sentences (gaps[gap->code].sentences, &arguments);
}
