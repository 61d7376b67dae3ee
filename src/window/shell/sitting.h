/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One person in one open window: the book, its reader thread, its watch, who writes, and undo. All disk work of a
 * window goes through here and off the main thread: questions to the reader thread, changes to the writer's queue.
 */

#include <gio/gio.h>

#include "book.h"
#include "book-edit.h"
#include "drafts.h"
#include "store-reader.h"
#include "store-write.h"
#include "visit.h"

G_BEGIN_DECLS


#define FETTLE_TYPE_SITTING (fettle_sitting_get_type ())
G_DECLARE_FINAL_TYPE (FettleSitting, fettle_sitting, FETTLE, SITTING, GObject)

/**
 * FettleSitting::changed:
 *
 * Somebody committed: this window, another one or another program. The window refreshes the page in view.
 */

/**
 * FettleSitting::undo-changed:
 *
 * fettle_sitting_can_undo() or fettle_sitting_can_redo() answer otherwise than before, or something else would be taken.
 */

/**
 * FettleSitting::person-changed:
 *
 * Another person writes from now on.
 */

/**
 * FettleSitting::reading-changed:
 *
 * This window began to read, or to write.
 */

/**
 * FettleSitting::person-wanted:
 *
 * Something needs a name: the window opens the choice of person.
 */

/**
 * FettleSitting::answered:
 *
 * All that was asked of the book is answered, and whoever asked was told.
 */

/**
 * FettleSitting::stored:
 *
 * An edit of this window is in the book: undo takes that one from now on, and not what the message bar may speak about.
 */

/**
 * FettleSitting::say:
 * @sentence: whole, for the message bar
 * @label: (nullable): of the bar's button
 * @action: (nullable): detailed action of that button ("win.choose-person")
 */

/* Opens or makes a book in a thread; finish gives the sitting, or the sentence why not. */
void           fettle_sitting_open_async    (const char          *path,
                                             gboolean             create,
                                             GCancellable        *cancellable,
                                             GAsyncReadyCallback  done,
                                             gpointer             user_data);
/* A sitting's last reference ends reader and watch, and a thread leaves one file; the program stays until then. */
FettleSitting *fettle_sitting_open_finish   (GAsyncResult        *result,
                                             GError             **error) G_GNUC_WARN_UNUSED_RESULT;

/* Tells whether anything was committed since; what the watch and every write of the window do by themselves. */
void           fettle_sitting_look          (FettleSitting       *self);

Book          *fettle_sitting_get_book      (FettleSitting       *self);
const char    *fettle_sitting_get_path      (FettleSitting       *self);
/* What is typed in this window and not stored yet; read from the disk when it is first asked for. */
FettleDrafts  *fettle_sitting_get_drafts    (FettleSitting       *self);
/* The key of the sitting in the journal, for commands that write by themselves. */
gint64         fettle_sitting_get_key       (FettleSitting       *self);
/* Who writes from now on; 0: nobody by name. */
gint64         fettle_sitting_get_person    (FettleSitting       *self);
void           fettle_sitting_set_person    (FettleSitting       *self,
                                             gint64               person);

/**
 * fettle_sitting_need_person:
 * @self: a sitting
 *
 * For what must carry a name (voiding): opens the choice of person when nobody was chosen yet.
 *
 * Returns: whether a person is chosen
 */
gboolean       fettle_sitting_need_person   (FettleSitting       *self);

/* Whether this window only reads: nothing that is done in it is stored, and what is typed stays typed. */
gboolean       fettle_sitting_is_reading    (FettleSitting       *self);
void           fettle_sitting_set_reading   (FettleSitting       *self,
                                             gboolean             reading);

/**
 * fettle_sitting_may_write:
 * @self: a sitting
 *
 * For what does not go through fettle_sitting_edit(): says how to begin to write where one only reads.
 *
 * Returns: whether it may be done
 */
gboolean       fettle_sitting_may_write     (FettleSitting       *self);

/* Says a sentence in the message bar, with a button if @label is given. */
void           fettle_sitting_say           (FettleSitting       *self,
                                             const char          *sentence,
                                             const char          *label,
                                             const char          *action);

/* Says what went wrong with a question or an edit; nothing of NULL, or of one that was cancelled. */
void           fettle_sitting_say_error     (FettleSitting       *self,
                                             const GError        *error);

/**
 * fettle_sitting_ask:
 * @self: a sitting
 * @work: runs in the reader thread (store-reader.h)
 * @data: (transfer full): for @work
 * @free_data: (nullable): frees @data
 * @free_answer: (nullable): frees an answer that nobody took
 * @cancellable: the page's: cancel it in dispose and before asking anew
 * @done: on the main thread
 * @user_data: for @done
 *
 * Asks the book. Answers come in the order of the questions.
 */
void           fettle_sitting_ask           (FettleSitting       *self,
                                             StoreReadWork        work,
                                             gpointer             data,
                                             GDestroyNotify       free_data,
                                             GDestroyNotify       free_answer,
                                             GCancellable        *cancellable,
                                             GAsyncReadyCallback  done,
                                             gpointer             user_data);
gpointer       fettle_sitting_ask_finish    (FettleSitting       *self,
                                             GAsyncResult        *result,
                                             GError             **error) G_GNUC_WARN_UNUSED_RESULT;

/* Whether a question of this window has no answer yet: the page in view is not complete. */
gboolean       fettle_sitting_is_asking     (FettleSitting       *self);

/**
 * fettle_sitting_edit:
 * @self: a sitting
 * @edit: (transfer full): what is done (book-edit.h)
 * @done: (nullable): on the main thread, after which 'changed' is emitted
 * @user_data: for @done
 *
 * Queues a command of the book by the sitting's person.
 */
void           fettle_sitting_edit          (FettleSitting       *self,
                                             BookEdit            *edit,
                                             GAsyncReadyCallback  done,
                                             gpointer             user_data);
/* The same, as @n values of a visit; an edit outside of it, or another person, ends the visit. */
void           fettle_sitting_edit_in       (FettleSitting       *self,
                                             FettleVisit         *visit,
                                             BookEdit            *edit,
                                             guint                n,
                                             GAsyncReadyCallback  done,
                                             gpointer             user_data);
gboolean       fettle_sitting_edit_finish   (FettleSitting       *self,
                                             GAsyncResult        *result,
                                             StoreReceipt        *receipt,
                                             gint64              *id,
                                             GError             **error);

/* What could not be stored because the book could not be written waits and is tried again by itself: now, or never more. */
void           fettle_sitting_try_again     (FettleSitting       *self);
void           fettle_sitting_give_up       (FettleSitting       *self);

/* Undo and redo of this sitting's own actions; what was undone, or what is in the way, is said in the bar. */
void           fettle_sitting_undo          (FettleSitting       *self);
void           fettle_sitting_redo          (FettleSitting       *self);
/* The last action alone, also where it is one of a visit that is over. */
void           fettle_sitting_undo_one      (FettleSitting       *self);
/* Takes back any actions of the journal, newest first, each by a new one; says what was done or what is in the way. */
void           fettle_sitting_take_back_all (FettleSitting       *self,
                                             GArray              *actions,
                                             const char          *sentence);
/* The same of one. */
void           fettle_sitting_take_back     (FettleSitting       *self,
                                             gint64               action);
/* What the next undo or redo takes, as in '24 readings in P3', without full stop; NULL: nothing yet. */
char          *fettle_sitting_dup_undo_words (FettleSitting      *self,
                                             gboolean             redo) G_GNUC_WARN_UNUSED_RESULT;

/* A visit belongs to the sitting. It goes on until it is ended here, or by an edit that is none of it. */
FettleVisit   *fettle_sitting_begin_visit   (FettleSitting       *self,
                                             FettleVisitWords     words,
                                             const char          *where);
void           fettle_sitting_end_visit     (FettleSitting       *self,
                                             FettleVisit         *visit);
/* Key of the action that undo would take; 0: none, or not known yet. */
gint64         fettle_sitting_get_undo      (FettleSitting       *self);
/* Why the last action cannot be undone, and nothing before it by the same key; NULL: it can, or there is none. */
char          *fettle_sitting_dup_undo_bar  (FettleSitting       *self) G_GNUC_WARN_UNUSED_RESULT;
gboolean       fettle_sitting_can_undo      (FettleSitting       *self);
gboolean       fettle_sitting_can_redo      (FettleSitting       *self);
/* Something else would be taken: emits 'undo-changed'. Pages say so of what they hold themselves. */
void           fettle_sitting_tell_undo_changed (FettleSitting   *self);

G_END_DECLS
