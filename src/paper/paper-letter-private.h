/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A letter is made in two halves: everything that it can say is read and computed (paper-letter-read.c), then as much of it
 * is set on pages as five pages hold (paper-letter.c and its sections).
 */

#include "book-evidence.h"
#include "insight-change.h"
#include "paper-discretion.h"
#include "paper-flow.h"
#include "paper-letter.h"
#include "present-compare.h"
#include "present-issue.h"

G_BEGIN_DECLS

/* An attached picture that may go into the letter. */
typedef struct
{
  BookRecordId       record;
  gint64             owner;
  BookAttachmentKind kind;
  cairo_surface_t   *surface;
} LetterPicture;

typedef struct
{
  const PaperLetterAsk *ask;
  BookEvidence         *evidence;
  PresentComparison    *comparison;
  InsightChanges       *changes;
  PresentIssues        *issues;  /* as they stood at the end of the later round */
  InsightIssues        *by_now;
  PaperDiscretion      *discretion;
  GPtrArray            *asked;   /* of char: things to do that are addressed to a designer */
  GPtrArray            *pictures;
  guint                 n_lost; /* pictures that could not be shown */
} Letter;

/* How much is said; the next step says less, until it fits. */
typedef struct
{
  guint    effects;         /* told in sentences, at most */
  double   picture_height;
  guint    picture_pairs;   /* old and new side by side, at most */
  guint    issue_pictures;
  guint    issues;
  guint    questions;
  guint    answer_lines;
  guint    things;          /* parts, steps and limits in tables of their own; the rest is named */
  guint    letters;         /* of a reason or an expectation, at most; 0: all */
} LetterMeasure;

gboolean letter_read      (StoreDb              *db,
                           const PaperLetterAsk *ask,
                           Letter               *letter,
                           GCancellable         *cancellable,
                           GError              **error) G_GNUC_WARN_UNUSED_RESULT;
void     letter_clear     (Letter               *letter);

/* What people wrote, and sentences of ours that may quote it, as they may leave the shop. (transfer full) */
char    *letter_free_text (const Letter         *letter,
                           const char           *text) G_GNUC_WARN_UNUSED_RESULT;
char    *letter_sentence  (const Letter         *letter,
                           const char           *text) G_GNUC_WARN_UNUSED_RESULT;
char    *letter_shortened (char                 *text,
                           guint                 letters) G_GNUC_WARN_UNUSED_RESULT;
cairo_surface_t *letter_picture (const Letter   *letter,
                           BookRecordId          record,
                           gint64                owner,
                           guint                 which);
GPtrArray *letter_issues  (const Letter         *letter) G_GNUC_WARN_UNUSED_RESULT;

void     letter_set_changes   (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure);
char    *letter_thing         (const PresentDifference *difference) G_GNUC_WARN_UNUSED_RESULT;
void     letter_order_effects (PresentComparison *comparison);
void     letter_set_effects   (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure);
void     letter_set_issues    (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure);
GPtrArray *letter_questions   (const Letter *letter) G_GNUC_WARN_UNUSED_RESULT;
void     letter_set_questions (PaperFlow *flow, GPtrArray *questions, const LetterMeasure *measure);

G_END_DECLS
