/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the files of this folder share: the inside of a connection, a store and an action.
 */

#include "store-write.h"

G_BEGIN_DECLS

#define STORE_DIGEST_LENGTH 32

typedef struct _StoreWriter StoreWriter;

/* A connection. The profile is borrowed; the cancellable, set while a job runs, stops statements and busy waits. */
struct _StoreDb
{
  sqlite3            *handle;
  char               *path;
  char               *shown; /* path in UTF-8, for sentences */
  const StoreProfile *profile;
  GHashTable         *statements; /* const char * (by address) to sqlite3_stmt * */
  GCancellable       *cancellable;
  guint               busy_ms;
  gint64              busy_since; /* monotonic; when the present busy wait began */
  gboolean            may_commit; /* read by the commit hook of the writing connection */
  gint64              writer;     /* person of the action under way; -1: none is */
};

/* An open file. Immutable after opening, except through the writer's queue. */
struct _Store
{
  char               *path;
  const StoreProfile *profile;
  char               *uuid;
  char               *old_copy;
  char               *state_folder;
  char               *vfs;
  guint               busy_ms;
  guint               idle_ms;
  gboolean            remote;
  int                 sole_fd; /* lock of the one writer of a remote file, touched by the writer's thread; -1: not held */
  StoreDb            *front; /* opened on first use */
  StoreWriter        *writer;
};

/* store-db.c */
StoreDb *store_db_open            (const char         *path,
                                   const StoreProfile *profile,
                                   int                 flags,
                                   const char         *vfs,
                                   guint               busy_ms,
                                   GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void     store_db_close           (StoreDb *db);
/* Sentences speak of @path from now on: of what a draft will be. */
void     store_db_show_as         (StoreDb    *db,
                                   const char *path);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreDb, store_db_close)
void     store_db_set_cancellable (StoreDb      *db,
                                   GCancellable *cancellable);
void     store_db_restore_busy    (StoreDb *db);
void     store_db_guard_commits   (StoreDb *db);
gboolean store_db_fail_code       (StoreDb    *db,
                                   int         code,
                                   const char *what,
                                   GError    **error);
gboolean store_db_get_integer     (StoreDb    *db,
                                   const char *sql,
                                   gint64     *value,
                                   GError    **error) G_GNUC_WARN_UNUSED_RESULT;
void     store_db_rollback        (StoreDb *db);

/* A read-only connection of its own to the file of an open store. */
StoreDb *store_open_reading (Store   *store,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* store-sole.c */
gboolean store_sole_take    (Store        *store,
                             GCancellable *cancellable,
                             GError      **error) G_GNUC_WARN_UNUSED_RESULT;
void     store_sole_give_up (Store *store);

/* store-error.c: a sentence for what the file system said about a file or folder. */
gboolean store_fail_errno (int         number,
                           const char *path,
                           GError    **error);

G_END_DECLS
