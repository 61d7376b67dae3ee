/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-choices.h"

#include <glib/gi18n-lib.h>

/* Words in files are English trade words in lower case; they are part of the file format, the labels are not. */

#define LAST { 0, NULL, NULL }

const BookChoice book_roles[] = { { BOOK_ROLE_LEAD, "lead", N_("Product lead") },
                                  { BOOK_ROLE_DESIGNER, "designer", N_("Designer") },
                                  { BOOK_ROLE_OWNER, "owner", N_("Owner") },
                                  { BOOK_ROLE_MAKER, "maker", N_("Maker") },
                                  { BOOK_ROLE_INSPECTOR, "inspector", N_("Inspector") },
                                  LAST };

const BookChoice book_sources[] = { { BOOK_SOURCE_MADE, "made", N_("Made here") },
                                    { BOOK_SOURCE_BOUGHT, "bought", N_("Bought") },
                                    LAST };

const BookChoice book_revision_states[] = { { BOOK_REVISION_DRAFT, "draft", N_("Draft") },
                                            { BOOK_REVISION_RELEASED, "released", N_("Released") },
                                            { BOOK_REVISION_WITHDRAWN, "withdrawn", N_("Withdrawn") },
                                            LAST };

const BookChoice book_lot_verdicts[] = { { BOOK_LOT_ACCEPTED, "accepted", N_("Accepted") },
                                         { BOOK_LOT_SORTED, "sorted", N_("Sorted, the good ones used") },
                                         { BOOK_LOT_REJECTED, "rejected", N_("Rejected") },
                                         LAST };

const BookChoice book_characteristic_kinds[] = { { BOOK_CHARACTERISTIC_MEASURED, "measured", N_("Measured") },
                                                 { BOOK_CHARACTERISTIC_CHECKED, "checked", N_("Checked") },
                                                 LAST };

const BookChoice book_classes[] = { { BOOK_CLASS_SAFETY, "safety", N_("Safety") },
                                    { BOOK_CLASS_FUNCTION, "function", N_("Function") },
                                    { BOOK_CLASS_APPEARANCE, "appearance", N_("Appearance") },
                                    LAST };

const BookChoice book_per_units[] = { { BOOK_PER_UNIT_MEAN, "mean", N_("Mean of its repeats") },
                                      { BOOK_PER_UNIT_WORST, "worst", N_("Worst of its repeats") },
                                      { BOOK_PER_UNIT_FIRST, "first", N_("First of its repeats") },
                                      LAST };

const BookChoice book_shapes[] = { { BOOK_SHAPE_NORMAL, "normal", N_("Normal") },
                                   { BOOK_SHAPE_LOG_NORMAL, "log-normal", N_("Log-normal") },
                                   { BOOK_SHAPE_UNKNOWN, "unknown", N_("Unknown") },
                                   LAST };

const BookChoice book_step_kinds[] = { { BOOK_STEP_OWN, "own", N_("In the shop") },
                                       { BOOK_STEP_OUTSIDE, "outside", N_("Outside") },
                                       { BOOK_STEP_INSPECTION, "inspection", N_("Inspection") },
                                       LAST };

const BookChoice book_round_kinds[] = { { BOOK_ROUND_BENCH, "bench", N_("Bench") },
                                        { BOOK_ROUND_PROTOTYPE, "prototype", N_("Prototype") },
                                        { BOOK_ROUND_PILOT, "pilot", N_("Pilot") },
                                        { BOOK_ROUND_FIRST_SERIES, "first series", N_("First series") },
                                        LAST };

const BookChoice book_round_verdicts[] = { { BOOK_VERDICT_GO_ON, "go on", N_("Go on") },
                                           { BOOK_VERDICT_ANOTHER_ROUND, "another round", N_("Another round") },
                                           { BOOK_VERDICT_STOP, "stop", N_("Stop") },
                                           LAST };

const BookChoice book_wait_reasons[] = { { BOOK_WAIT_DELIVERY, "delivery", N_("Delivery of material or parts") },
                                         { BOOK_WAIT_OUTSIDE_STEP, "outside step", N_("Outside step") },
                                         { BOOK_WAIT_TOOLING, "tooling", N_("Tools and fixtures") },
                                         { BOOK_WAIT_MACHINE, "machine", N_("Machine") },
                                         { BOOK_WAIT_PEOPLE, "people", N_("People") },
                                         { BOOK_WAIT_TEST, "test", N_("Test equipment or laboratory") },
                                         { BOOK_WAIT_DECISION, "decision", N_("Decision") },
                                         { BOOK_WAIT_OTHER, "other", N_("Something else") },
                                         LAST };

const BookChoice book_event_kinds[] = { { BOOK_EVENT_BUILT, "built", N_("Built") },
                                        { BOOK_EVENT_PASSED, "passed", N_("Passed") },
                                        { BOOK_EVENT_SENT_BACK, "sent back", N_("Sent back") },
                                        { BOOK_EVENT_REWORKED, "reworked", N_("Reworked") },
                                        { BOOK_EVENT_ALTERED, "altered", N_("Altered") },
                                        { BOOK_EVENT_SCRAPPED, "scrapped", N_("Scrapped") },
                                        { BOOK_EVENT_CONSUMED, "consumed", N_("Used up in a test") },
                                        { BOOK_EVENT_LENT, "lent", N_("Lent") },
                                        { BOOK_EVENT_RETURNED, "returned", N_("Returned") },
                                        { BOOK_EVENT_SET_ASIDE, "set aside", N_("Set aside") },
                                        LAST };

const BookChoice book_marks[] = { { BOOK_MARK_MEASURED, "measured", N_("Measured") },
                                  { BOOK_MARK_ABOVE, "above", N_("Above the gauge's range") },
                                  { BOOK_MARK_BELOW, "below", N_("Below the gauge's range") },
                                  { BOOK_MARK_PASSED, "passed", N_("Passed") },
                                  { BOOK_MARK_FAILED, "failed", N_("Failed") },
                                  LAST };

/* The same codes as above, where only a verdict is possible. */
const BookChoice book_verdict_marks[] = { { BOOK_MARK_PASSED, "passed", N_("Passed") },
                                          { BOOK_MARK_FAILED, "failed", N_("Failed") },
                                          LAST };

const BookChoice book_cause_bases[] = { { BOOK_CAUSE_GUESSED, "guessed", N_("Guessed") },
                                        { BOOK_CAUSE_SEEN, "seen", N_("Seen") },
                                        { BOOK_CAUSE_SWITCHED, "switched on and off", N_("Switched on and off") },
                                        LAST };

const BookChoice book_issue_outcomes[] = { { BOOK_OUTCOME_PROVEN, "proven", N_("Proven") },
                                           { BOOK_OUTCOME_DUPLICATE, "duplicate", N_("Duplicate") },
                                           { BOOK_OUTCOME_NOT_REPRODUCED, "not reproduced", N_("Not reproduced") },
                                           { BOOK_OUTCOME_ACCEPTED, "accepted", N_("Accepted as it is") },
                                           LAST };

const BookChoice book_dispositions[] = { { BOOK_DISPOSITION_USE_AS_IS, "use as is", N_("Use as is") },
                                         { BOOK_DISPOSITION_REWORK, "rework", N_("Rework") },
                                         { BOOK_DISPOSITION_SCRAP, "scrap", N_("Scrap") },
                                         { BOOK_DISPOSITION_SEND_BACK, "send back", N_("Send back") },
                                         LAST };

const BookChoice book_effects[] = { { BOOK_EFFECT_MEASURE_AGAIN, "measure again", N_("Measure again") },
                                    { BOOK_EFFECT_CARRIED_OVER, "carried over", N_("Carried over") },
                                    LAST };

const BookChoice book_life_ends[] = { { BOOK_LIFE_FAILED, "failed", N_("Failed") },
                                      { BOOK_LIFE_STOPPED, "stopped", N_("Stopped") },
                                      LAST };

const BookChoice book_criterion_kinds[] = { { BOOK_CRITERION_CHECKED, "checked", N_("Checked characteristic") },
                                            { BOOK_CRITERION_MEASURED, "measured", N_("Measured characteristic") },
                                            { BOOK_CRITERION_FIX, "fix", N_("Fix of an issue") },
                                            { BOOK_CRITERION_YIELD, "yield", N_("Yield") },
                                            { BOOK_CRITERION_RATE, "rate", N_("Monthly rate") },
                                            { BOOK_CRITERION_LIFE, "life", N_("Life") },
                                            { BOOK_CRITERION_METHOD, "method", N_("Measuring method") },
                                            { BOOK_CRITERION_DETECTION, "detection", N_("Check finds known bad pieces") },
                                            { BOOK_CRITERION_ISSUES, "issues", N_("Issues solved") },
                                            { BOOK_CRITERION_REVISIONS, "revisions", N_("Revisions released") },
                                            { BOOK_CRITERION_SIGN_OFFS, "sign-offs", N_("Sign-offs") },
                                            { BOOK_CRITERION_DOCUMENTS, "documents", N_("Documents approved") },
                                            { BOOK_CRITERION_LOTS, "lots", N_("Lots") },
                                            LAST };

const BookChoice book_counts_from[] = { { BOOK_COUNTS_PROTOTYPE, "prototype", N_("Prototype units") },
                                        { BOOK_COUNTS_PILOT, "pilot", N_("Pilot units") },
                                        LAST };

const BookChoice book_opinions[] = { { BOOK_OPINION_AGREE, "agree", N_("Agrees") },
                                     { BOOK_OPINION_AGREE_WITH_CONDITIONS, "agree with conditions",
                                       N_("Agrees with conditions") },
                                     { BOOK_OPINION_DISAGREE, "disagree", N_("Does not agree") },
                                     LAST };

const BookChoice book_decision_verdicts[] = { { BOOK_DECISION_RELEASE, "release", N_("Release") },
                                              { BOOK_DECISION_RELEASE_AT_MOST, "release at most", N_("Release of at most") },
                                              { BOOK_DECISION_RELEASE_WITH_CONDITIONS, "release with conditions",
                                                N_("Release with conditions") },
                                              { BOOK_DECISION_ANOTHER_ROUND, "another round", N_("Another round") },
                                              { BOOK_DECISION_STOP, "stop", N_("Stop") },
                                              LAST };

const BookChoice book_document_kinds[] = { { BOOK_DOCUMENT_DRAWING, "drawing", N_("Drawing") },
                                           { BOOK_DOCUMENT_INSTRUCTIONS, "instructions", N_("Instructions") },
                                           { BOOK_DOCUMENT_MARKING, "marking", N_("Marking") },
                                           { BOOK_DOCUMENT_CERTIFICATE, "certificate", N_("Certificate") },
                                           { BOOK_DOCUMENT_LABORATORY_REPORT, "laboratory report",
                                             N_("Laboratory report") },
                                           LAST };

const BookChoice book_document_states[] = { { BOOK_DOCUMENT_WANTED, "wanted", N_("Wanted") },
                                            { BOOK_DOCUMENT_DRAFT, "draft", N_("Draft") },
                                            { BOOK_DOCUMENT_APPROVED, "approved", N_("Approved") },
                                            LAST };

const BookChoice book_attachment_kinds[] = { { BOOK_ATTACHMENT_PHOTOGRAPH, "photograph", N_("Photograph") },
                                             { BOOK_ATTACHMENT_DRAWING, "drawing", N_("Drawing") },
                                             { BOOK_ATTACHMENT_REPORT, "report", N_("Report") },
                                             { BOOK_ATTACHMENT_CERTIFICATE, "certificate", N_("Certificate") },
                                             { BOOK_ATTACHMENT_OTHER, "other", N_("Something else") },
                                             LAST };

/**
 * book_choice_by_code:
 * @choices: an array that ends with a %NULL text
 * @code: a stored code
 *
 * Returns: (nullable): the choice, or %NULL if no choice has that code
 */
const BookChoice *
book_choice_by_code (const BookChoice *choices, gint64 code)
{
  for (const BookChoice *choice = choices; choice->text != NULL; choice++)
    if (choice->code == code)
      return choice;
  return NULL;
}

/**
 * book_choice_by_text:
 * @choices: an array that ends with a %NULL text
 * @text: the word of a file, exactly
 *
 * Returns: (nullable): the choice, or %NULL if no choice has that word
 */
const BookChoice *
book_choice_by_text (const BookChoice *choices, const char *text)
{
  for (const BookChoice *choice = choices; choice->text != NULL; choice++)
    if (g_str_equal (choice->text, text))
      return choice;
  return NULL;
}

/**
 * book_choice_label:
 * @choice: a choice
 *
 * Returns: its word in the reader's language
 */
const char *
book_choice_label (const BookChoice *choice)
{
  return _(choice->label);
}
