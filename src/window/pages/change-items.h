/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a change takes from old to new, line by line: a part, a setting or limits chosen from what the model has, the old
 * filled in as it stands today, the new proposed or typed. What is typed is kept among the drafts.
 */

#include <gtk/gtk.h>

#include "changes-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_ITEMS (fettle_change_items_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeItems, fettle_change_items, FETTLE, CHANGE_ITEMS, GtkWidget)

/**
 * FettleChangeItem:
 * @kind: what is changed
 * @key: of the part, step or characteristic
 * @setting: name of the setting, else ""
 * @revision: key of the revision as it is now, 0 for none
 * @old: as it is now, in words
 * @new: as it was typed: a label, a number or limits
 * @words: what was written beside it
 *
 * One line as a person filled it in; texts belong to the widget.
 */
typedef struct
{
  InsightSubjectKind kind;
  gint64             key;
  const char        *setting;
  gint64             revision;
  const char        *old;
  const char        *new;
  const char        *words;
} FettleChangeItem;

GtkWidget        *fettle_change_items_new   (FettleSitting        *sitting) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_change_items_begin (FettleChangeItems    *self,
                                             const char           *place,
                                             const InsightChanges *changes);
/* Only one line, for adding to a change that is there. */
void              fettle_change_items_set_single (FettleChangeItems *self);
gboolean          fettle_change_items_clear (FettleChangeItems    *self);
void              fettle_change_items_add   (FettleChangeItems    *self,
                                             gboolean              focus);
FettleChangeItem *fettle_change_items_list  (FettleChangeItems    *self,
                                             guint                *n) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_change_items_tell  (FettleChangeItems    *self,
                                             guint                 item,
                                             const char           *sentence);
/* Says beside its line what cannot be read; FALSE when there is something. */
gboolean          fettle_change_items_check (FettleChangeItems    *self);

/* An item as book_change_propose_item() takes it; @keys: exact key texts by key. */
char            **fettle_change_item_texts  (const FettleChangeItem   *item,
                                             GHashTable               *keys,
                                             const char *const       **fields) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
