/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the checks share. Each returns FALSE only when it could not be made; what it finds goes into the list.
 */

#include "store-action-private.h"
#include "store-check.h"

G_BEGIN_DECLS

typedef struct
{
  StoreAction   *action;
  StoreDb       *db;
  GPtrArray     *findings; /* StoreFinding */
  gboolean       replay;
  StoreProgress  progress;
  gpointer       progress_data;
} StoreCheck;

/* Notes a finding unless there are enough; takes over @sentence. */
void     store_check_add      (StoreCheck    *check,
                               StoreCheckKind kind,
                               const char    *table,
                               gint64         id,
                               const char    *column,
                               char          *sentence);
gboolean store_check_is_full  (StoreCheck *check);
/* Tells how far it is, out of 1000; FALSE when cancelled. */
gboolean store_check_tell     (StoreCheck *check,
                               guint       permille,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* Turns damage that stopped a check into a finding of it. */
gboolean store_check_settle   (StoreCheck    *check,
                               StoreCheckKind kind,
                               gboolean       ok,
                               GError        *local,
                               GError       **error) G_GNUC_WARN_UNUSED_RESULT;

/* store-check-journal.c: chain, touched ranges and, if wanted, replay. */
gboolean store_check_journal  (StoreCheck *check,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* store-check-rules.c */
gboolean store_check_rules    (StoreCheck *check,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean store_check_derived  (StoreCheck *check,
                               GError    **error) G_GNUC_WARN_UNUSED_RESULT;

/* store-replay.c: a scratch file into which the journal is applied. */
typedef struct _StoreReplay StoreReplay;

StoreReplay *store_replay_new     (StoreCheck *check,
                                   GError    **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean     store_replay_apply   (StoreReplay *replay,
                                   gint64       place,
                                   GBytes      *raw,
                                   GError     **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean     store_replay_compare (StoreReplay *replay,
                                   GError     **error) G_GNUC_WARN_UNUSED_RESULT;
void         store_replay_free    (StoreReplay *replay);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreReplay, store_replay_free)

G_END_DECLS
