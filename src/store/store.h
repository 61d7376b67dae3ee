/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A journaled SQLite file: create, open, refuse, close. The store knows no record type: which tables are journaled,
 * which are derived, and what rules hold is said by a profile.
 *
 * Every journaled table is STRICT, has `id INTEGER PRIMARY KEY` as its first column, and has no trigger, cascade,
 * generated column or UNIQUE but that key. No INSERT OR REPLACE. Deletes remove children explicitly.
 */

#include <gio/gio.h>

#include "store-db.h"
#include "store-error.h"
#include "store-row.h"

G_BEGIN_DECLS

typedef struct _Store Store;

/**
 * StoreTable:
 * @name: of the SQL table
 * @never_undo: actions that touched it are never undone (sign-offs, decisions)
 */
typedef struct
{
  const char *name;
  gboolean    never_undo;
} StoreTable;

/**
 * StoreDerived:
 * @name: of a derived table: kept up to date by the `finish` hook, and can be dropped and made again
 * @rebuild: empties and fills it from the journaled tables
 */
typedef struct
{
  const char *name;
  gboolean (*rebuild) (StoreDb *db, gpointer user, GError **error);
} StoreDerived;

/* Told of each journaled row that keeps a stored file. @who: the file and its owner in words, for a sentence. */
typedef void (*StoreContentFunc) (const char *sha256,
                                  const char *who,
                                  const char *table,
                                  gint64      id,
                                  const char *column,
                                  gpointer    data);

/**
 * StoreProfile:
 * @application_id: of the SQLite header
 * @kind: what such a file is called, as in 'a Fettle book'
 * @migrations: SQL texts; the n-th (from 1) makes schema n. Each makes journaled, derived and further kept tables
 * @tables: journaled tables, parents first
 * @derived: derived tables, in the order in which they are rebuilt
 * @begin: (nullable): makes what the other hooks of one commit share; without it they get @user
 * @row: (nullable): called for every changed row of a commit: typed, imported, undone, redone. The database shows the
 *   state after the change. Setting an error refuses the commit
 * @finish: (nullable): called once when all rows were seen: rules across rows, derived tables. Writes no journaled table
 * @end: (nullable): frees what @begin made, after commit or rollback
 * @contents: (nullable): tells of every row that keeps a stored file, for checks
 * @user: given to the hooks; shared by all threads, so constant
 *
 * What the store must know about a kind of file. Borrowed for as long as the store lives: static.
 */
typedef struct
{
  guint32              application_id;
  const char          *kind;
  const char *const   *migrations;
  guint                n_migrations;
  const StoreTable    *tables;
  guint                n_tables;
  const StoreDerived  *derived;
  guint                n_derived;
  gpointer (*begin) (StoreDb *db, gpointer user);
  gboolean (*row) (StoreDb *db, const StoreRow *row, gpointer context, GError **error);
  gboolean (*finish) (StoreDb *db, gpointer context, GError **error);
  void (*end) (gpointer context);
  gboolean (*contents) (StoreDb *db, StoreContentFunc func, gpointer data, GError **error);
  gpointer             user;
} StoreProfile;

/**
 * StoreOptions:
 * @state_folder: (nullable): where origins are remembered; %NULL: `fettle/books` in the user's state folder
 * @vfs: (nullable): SQLite VFS by name
 * @busy_ms: how long to wait for another program that writes; 0: five seconds
 * @idle_ms: quiet time before a checkpoint; 0: two seconds
 * @as_remote: behave as on a file system that is not local
 */
typedef struct
{
  const char *state_folder;
  const char *vfs;
  guint       busy_ms;
  guint       idle_ms;
  gboolean    as_remote;
} StoreOptions;

/**
 * store_create:
 * @path: where; nothing may be there
 * @profile: the kind of file
 * @options: (nullable): %NULL for the defaults
 * @error: return location
 *
 * Makes an empty file and opens it. On failure nothing is left behind.
 *
 * Returns: (transfer full) (nullable): to be closed with store_close()
 */
Store *store_create (const char         *path,
                     const StoreProfile *profile,
                     const StoreOptions *options,
                     GError            **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_open:
 * @path: an existing file
 * @profile: the kind of file
 * @options: (nullable): %NULL for the defaults
 * @error: return location
 *
 * Opens a file, or refuses it with a sentence. A newer schema is not touched; an older one is first copied beside the
 * file (see store_get_old_copy()), then migrated. May be called from any thread.
 *
 * Returns: (transfer full) (nullable): to be closed with store_close()
 */
Store *store_open (const char         *path,
                   const StoreProfile *profile,
                   const StoreOptions *options,
                   GError            **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_close:
 * @store: (transfer full): a store without readers, watches or writes under way
 * @error: return location
 *
 * Ends the writer and leaves one file, unless another program has it open. @store is freed in any case.
 *
 * Returns: whether everything was brought into the one file
 */
gboolean store_close (Store   *store,
                      GError **error);

/* As store_close(), for g_autoptr(): nobody hears of a failed last checkpoint; nothing is lost by it. */
void store_free (Store *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Store, store_free)

/**
 * store_save_copy:
 * @store: a store
 * @path: where; nothing may be there
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Copies the file as it stands, also while it is written to.
 *
 * Returns: whether the copy is complete; otherwise nothing is left behind
 */
gboolean store_save_copy (Store        *store,
                          const char   *path,
                          GCancellable *cancellable,
                          GError      **error) G_GNUC_WARN_UNUSED_RESULT;

const char         *store_get_path     (Store *store);
const char         *store_get_uuid     (Store *store);
/* Where the file of an older schema was copied before it was migrated, or NULL. */
const char         *store_get_old_copy (Store *store);
/* Whether the file lies on a file system that is not local: rollback journal, and the first program that writes is the one
 * writer until it closes the file. */
gboolean            store_is_remote    (Store *store);

/**
 * store_front_db:
 * @store: a store
 *
 * The read-only connection of the thread that first asked for it, the main thread: for small reads by key (at most 128
 * rows), each statement its own read transaction.
 *
 * Returns: (transfer none) (nullable): the connection
 */
StoreDb *store_front_db (Store   *store,
                         GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
