/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The changes of a model in words: one row each, its detail in sentences, and what must be measured again before
 * anybody agrees.
 */

#include "insight-change.h"
#include "present-issue.h"

G_BEGIN_DECLS

/**
 * PresentChangeRow:
 * @index: of the change in the answer
 * @id: key of the change
 * @no: '14'
 * @title: what is changed
 * @items: 'Rocker lever C → D; …', "" without items
 * @proposed: 'RB, 2026-10-01'
 * @from: 'B' or 'B from B-31', "" where nothing is said
 * @issues: '1 ◆, 4 ◇', each with where it stands as a shape; "" for none
 * @state: 'proposed', 'agreed', 'carried out', 'withdrawn'
 * @sign: the state as one shape
 * @needs_person: somebody has to do something about it
 * @words: all of it in one sentence, for a screen reader
 */
typedef struct
{
  guint       index;
  gint64      id;
  char       *no;
  char       *title;
  char       *items;
  char       *proposed;
  char       *from;
  char       *issues;
  const char *state;
  const char *sign;
  gboolean    needs_person;
  char       *words;
} PresentChangeRow;

const char *present_change_state_words (InsightChangeState        state);
const char *present_change_state_sign  (InsightChangeState        state);

/* @issues: (nullable): where the issues stand that the changes answer. */
GPtrArray  *present_change_rows        (const InsightChanges     *changes,
                                        const PresentIssues      *issues) G_GNUC_WARN_UNUSED_RESULT;
PresentChangeRow *present_change_row   (const InsightChanges     *changes,
                                        guint                     index,
                                        const PresentIssues      *issues) G_GNUC_WARN_UNUSED_RESULT;
void        present_change_row_free    (PresentChangeRow         *row);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentChangeRow, present_change_row_free)

/* All that is said about the changes, to see whether two answers say the same. */
char       *present_changes_words      (const InsightChanges     *changes,
                                        const PresentIssues      *issues) G_GNUC_WARN_UNUSED_RESULT;

/* Whole sentences, for a person; arrays of texts to be freed by g_ptr_array_unref(). */
char       *present_changes_headline   (const InsightChanges     *changes) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray  *present_change_story       (const InsightChanges     *changes,
                                        guint                     index,
                                        const PresentIssues      *issues) G_GNUC_WARN_UNUSED_RESULT;
char       *present_change_touch       (const InsightChangeTouch *touch,
                                        InsightChangeState        state) G_GNUC_WARN_UNUSED_RESULT;
char       *present_change_touch_lead  (const InsightChange      *change) G_GNUC_WARN_UNUSED_RESULT;
char       *present_unexplained        (const InsightUnexplained *one) G_GNUC_WARN_UNUSED_RESULT;

/* Names of things: 'HF-20 Rocker lever', 'Hardening: tempering temperature', 'OF Opening force: limits'. */
char       *present_item_name          (const BookChangeListItem *item) G_GNUC_WARN_UNUSED_RESULT;
char       *present_item_old           (const BookChangeListItem *item) G_GNUC_WARN_UNUSED_RESULT;
char       *present_item_new           (const BookChangeListItem *item) G_GNUC_WARN_UNUSED_RESULT;
char       *present_item_labels        (const BookChangeListItem *item) G_GNUC_WARN_UNUSED_RESULT;
char       *present_item_words         (const BookChangeListItem *item) G_GNUC_WARN_UNUSED_RESULT;
char       *present_subject_name       (const InsightSubject     *subject) G_GNUC_WARN_UNUSED_RESULT;
char       *present_subject_old        (const InsightSubject     *subject) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
