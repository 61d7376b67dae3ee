/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a choice column may hold: a code that the book stores, a word that files carry, a label that people read.
 * Codes are written into books: they are never renumbered and never used again for something else.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * BookChoice:
 * @code: what the book stores, from 1
 * @text: the word in files and on the command line; %NULL ends an array
 * @label: the word shown, not yet translated
 */
typedef struct
{
  gint        code;
  const char *text;
  const char *label;
} BookChoice;

typedef enum
{
  BOOK_ROLE_LEAD = 1,
  BOOK_ROLE_DESIGNER = 2,
  BOOK_ROLE_OWNER = 3,
  BOOK_ROLE_MAKER = 4,
  BOOK_ROLE_INSPECTOR = 5
} BookRole;

typedef enum
{
  BOOK_SOURCE_MADE = 1,
  BOOK_SOURCE_BOUGHT = 2
} BookSource;

typedef enum
{
  BOOK_REVISION_DRAFT = 1,
  BOOK_REVISION_RELEASED = 2,
  BOOK_REVISION_WITHDRAWN = 3
} BookRevisionState;

typedef enum
{
  BOOK_LOT_ACCEPTED = 1,
  BOOK_LOT_SORTED = 2,
  BOOK_LOT_REJECTED = 3
} BookLotVerdict;

typedef enum
{
  BOOK_CHARACTERISTIC_MEASURED = 1,
  BOOK_CHARACTERISTIC_CHECKED = 2
} BookCharacteristicKind;

typedef enum
{
  BOOK_CLASS_SAFETY = 1,
  BOOK_CLASS_FUNCTION = 2,
  BOOK_CLASS_APPEARANCE = 3
} BookClass;

typedef enum
{
  BOOK_PER_UNIT_MEAN = 1,
  BOOK_PER_UNIT_WORST = 2,
  BOOK_PER_UNIT_FIRST = 3
} BookPerUnit;

typedef enum
{
  BOOK_SHAPE_NORMAL = 1,
  BOOK_SHAPE_LOG_NORMAL = 2,
  BOOK_SHAPE_UNKNOWN = 3
} BookShape;

typedef enum
{
  BOOK_STEP_OWN = 1,
  BOOK_STEP_OUTSIDE = 2,
  BOOK_STEP_INSPECTION = 3
} BookStepKind;

typedef enum
{
  BOOK_ROUND_BENCH = 1,
  BOOK_ROUND_PROTOTYPE = 2,
  BOOK_ROUND_PILOT = 3,
  BOOK_ROUND_FIRST_SERIES = 4
} BookRoundKind;

typedef enum
{
  BOOK_VERDICT_GO_ON = 1,
  BOOK_VERDICT_ANOTHER_ROUND = 2,
  BOOK_VERDICT_STOP = 3
} BookRoundVerdict;

typedef enum
{
  BOOK_WAIT_DELIVERY = 1,
  BOOK_WAIT_OUTSIDE_STEP = 2,
  BOOK_WAIT_TOOLING = 3,
  BOOK_WAIT_MACHINE = 4,
  BOOK_WAIT_PEOPLE = 5,
  BOOK_WAIT_TEST = 6,
  BOOK_WAIT_DECISION = 7,
  BOOK_WAIT_OTHER = 8
} BookWaitReason;

typedef enum
{
  BOOK_EVENT_BUILT = 1,
  BOOK_EVENT_PASSED = 2,
  BOOK_EVENT_SENT_BACK = 3,
  BOOK_EVENT_REWORKED = 4,
  BOOK_EVENT_ALTERED = 5,
  BOOK_EVENT_SCRAPPED = 6,
  BOOK_EVENT_CONSUMED = 7,
  BOOK_EVENT_LENT = 8,
  BOOK_EVENT_RETURNED = 9,
  BOOK_EVENT_SET_ASIDE = 10
} BookEventKind;

typedef enum
{
  BOOK_MARK_MEASURED = 1,
  BOOK_MARK_ABOVE = 2,
  BOOK_MARK_BELOW = 3,
  BOOK_MARK_PASSED = 4,
  BOOK_MARK_FAILED = 5
} BookMark;

typedef enum
{
  BOOK_CAUSE_GUESSED = 1,
  BOOK_CAUSE_SEEN = 2,
  BOOK_CAUSE_SWITCHED = 3
} BookCauseBasis;

typedef enum
{
  BOOK_OUTCOME_PROVEN = 1,
  BOOK_OUTCOME_DUPLICATE = 2,
  BOOK_OUTCOME_NOT_REPRODUCED = 3,
  BOOK_OUTCOME_ACCEPTED = 4
} BookIssueOutcome;

typedef enum
{
  BOOK_DISPOSITION_USE_AS_IS = 1,
  BOOK_DISPOSITION_REWORK = 2,
  BOOK_DISPOSITION_SCRAP = 3,
  BOOK_DISPOSITION_SEND_BACK = 4
} BookDisposition;

typedef enum
{
  BOOK_EFFECT_MEASURE_AGAIN = 1,
  BOOK_EFFECT_CARRIED_OVER = 2
} BookEffect;

typedef enum
{
  BOOK_LIFE_FAILED = 1,
  BOOK_LIFE_STOPPED = 2
} BookLifeEnd;

typedef enum
{
  BOOK_CRITERION_CHECKED = 1,
  BOOK_CRITERION_MEASURED = 2,
  BOOK_CRITERION_FIX = 3,
  BOOK_CRITERION_YIELD = 4,
  BOOK_CRITERION_RATE = 5,
  BOOK_CRITERION_LIFE = 6,
  BOOK_CRITERION_METHOD = 7,
  BOOK_CRITERION_DETECTION = 8,
  BOOK_CRITERION_ISSUES = 9,
  BOOK_CRITERION_REVISIONS = 10,
  BOOK_CRITERION_SIGN_OFFS = 11,
  BOOK_CRITERION_DOCUMENTS = 12,
  BOOK_CRITERION_LOTS = 13
} BookCriterionKind;

typedef enum
{
  BOOK_COUNTS_PROTOTYPE = 1,
  BOOK_COUNTS_PILOT = 2
} BookCountsFrom;

typedef enum
{
  BOOK_OPINION_AGREE = 1,
  BOOK_OPINION_AGREE_WITH_CONDITIONS = 2,
  BOOK_OPINION_DISAGREE = 3
} BookOpinion;

typedef enum
{
  BOOK_DECISION_RELEASE = 1,
  BOOK_DECISION_RELEASE_AT_MOST = 2,
  BOOK_DECISION_RELEASE_WITH_CONDITIONS = 3,
  BOOK_DECISION_ANOTHER_ROUND = 4,
  BOOK_DECISION_STOP = 5
} BookDecisionVerdict;

typedef enum
{
  BOOK_DOCUMENT_DRAWING = 1,
  BOOK_DOCUMENT_INSTRUCTIONS = 2,
  BOOK_DOCUMENT_MARKING = 3,
  BOOK_DOCUMENT_CERTIFICATE = 4,
  BOOK_DOCUMENT_LABORATORY_REPORT = 5
} BookDocumentKind;

typedef enum
{
  BOOK_DOCUMENT_WANTED = 1,
  BOOK_DOCUMENT_DRAFT = 2,
  BOOK_DOCUMENT_APPROVED = 3
} BookDocumentState;

typedef enum
{
  BOOK_ATTACHMENT_PHOTOGRAPH = 1,
  BOOK_ATTACHMENT_DRAWING = 2,
  BOOK_ATTACHMENT_REPORT = 3,
  BOOK_ATTACHMENT_CERTIFICATE = 4,
  BOOK_ATTACHMENT_OTHER = 5
} BookAttachmentKind;

extern const BookChoice book_roles[];
extern const BookChoice book_sources[];
extern const BookChoice book_revision_states[];
extern const BookChoice book_lot_verdicts[];
extern const BookChoice book_characteristic_kinds[];
extern const BookChoice book_classes[];
extern const BookChoice book_per_units[];
extern const BookChoice book_shapes[];
extern const BookChoice book_step_kinds[];
extern const BookChoice book_round_kinds[];
extern const BookChoice book_round_verdicts[];
extern const BookChoice book_wait_reasons[];
extern const BookChoice book_event_kinds[];
extern const BookChoice book_marks[];
extern const BookChoice book_verdict_marks[];
extern const BookChoice book_cause_bases[];
extern const BookChoice book_issue_outcomes[];
extern const BookChoice book_dispositions[];
extern const BookChoice book_effects[];
extern const BookChoice book_life_ends[];
extern const BookChoice book_criterion_kinds[];
extern const BookChoice book_counts_from[];
extern const BookChoice book_opinions[];
extern const BookChoice book_decision_verdicts[];
extern const BookChoice book_document_kinds[];
extern const BookChoice book_document_states[];
extern const BookChoice book_attachment_kinds[];

const BookChoice *book_choice_by_code (const BookChoice *choices, gint64 code);
const BookChoice *book_choice_by_text (const BookChoice *choices, const char *text);
const char       *book_choice_label   (const BookChoice *choice);

G_END_DECLS
