/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Changes page asks the book, in the reader thread: the changes of a model, what follows from them, and the keys
 * that its forms need, since a form writes a reference as a text and some commands take it by its key.
 */

#include "book-form.h"
#include "present-change.h"
#include "store-reader.h"

G_BEGIN_DECLS

/**
 * FettleChangesAnswer:
 * @changes: what became of each change
 * @standing: where the issues stand that they answer
 * @persons: (element-type BookOption): all persons
 * @rounds: (element-type BookOption): rounds of the model
 * @issues: (element-type BookOption): issues of the model
 * @texts: exact key texts of parts, steps and characteristics, by key
 */
typedef struct
{
  InsightChanges *changes;
  PresentIssues  *standing;
  GPtrArray      *persons;
  GPtrArray      *rounds;
  GPtrArray      *issues;
  GHashTable     *texts;
} FettleChangesAnswer;

typedef struct _FettleChangesAsk FettleChangesAsk;

/* A question about a model and its work for fettle_sitting_ask(): a FettleChangesAnswer, shared by its forms. */
FettleChangesAsk    *fettle_changes_ask_new      (gint64               model) G_GNUC_WARN_UNUSED_RESULT;
void                 fettle_changes_ask_free     (gpointer             ask);
gpointer             fettle_changes_ask_work     (StoreDb             *db,
                                                  gpointer             ask,
                                                  GCancellable        *cancellable,
                                                  GError             **error);
FettleChangesAnswer *fettle_changes_answer_ref   (FettleChangesAnswer *answer);
void                 fettle_changes_answer_unref (gpointer             answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleChangesAnswer, fettle_changes_answer_unref)

/* The change of an index; (nullable) what it means for the readings of one characteristic. */
const InsightChange *fettle_changes_answer_get  (FettleChangesAnswer *answer,
                                                 guint                index);
const InsightChangeTouch *fettle_changes_answer_find_touch (FettleChangesAnswer *answer,
                                                            guint                index,
                                                            gint64               characteristic);

/* Of options: the key whose exact text @text is, 0 for none; the option of a key, NULL for none. */
gint64               fettle_options_find         (GPtrArray           *options,
                                                  const char          *text);
const BookOption    *fettle_options_get          (GPtrArray           *options,
                                                  gint64               id);

G_END_DECLS
