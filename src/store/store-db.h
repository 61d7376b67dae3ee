/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One connection to a journaled file, with its prepared statements. A connection belongs to one thread at a time.
 */

#include <glib.h>
#include <sqlite3.h>

G_BEGIN_DECLS

typedef struct _StoreDb StoreDb;

/* A cached statement in use: g_autoptr(StoreStatement) resets it and clears its bindings on every way out. */
typedef sqlite3_stmt StoreStatement;

void store_statement_done (StoreStatement *statement);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreStatement, store_statement_done)

/**
 * store_db_statement:
 * @db: a connection
 * @sql: a static array: its address is the key of the cache, and no value is ever printed into it
 * @error: return location
 *
 * Prepares @sql once and hands out the same statement ever after. A statement that is still being stepped must not be
 * asked for again: a query that calls itself needs an array of its own.
 *
 * Returns: (transfer none) (nullable): the statement, to be held in a g_autoptr(StoreStatement); %NULL on failure
 */
StoreStatement *store_db_statement (StoreDb    *db,
                                    const char *sql,
                                    GError    **error) G_GNUC_WARN_UNUSED_RESULT;

/* Whether @sql was prepared on this connection before: if not, a function that it calls has to be made first. */
gboolean store_db_is_prepared (StoreDb    *db,
                               const char *sql);

/**
 * store_db_run:
 * @db: a connection
 * @statement: bound, of @db
 * @what: whole words that begin the sentence on failure, as in store_db_fail()
 * @error: return location
 *
 * Steps a statement that returns no rows, once, and resets it; its bindings stay.
 *
 * Returns: whether it ran
 */
gboolean store_db_run (StoreDb        *db,
                       StoreStatement *statement,
                       const char     *what,
                       GError        **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_next:
 * @db: a connection
 * @statement: bound, of @db
 * @what: whole words that begin the sentence on failure, as in store_db_fail()
 * @row: (out): whether a row was reached; %FALSE at the end and on failure
 * @error: return location
 *
 * Steps a query. Use as `while ((ok = store_db_next (db, statement, what, &row, error)) && row)`.
 *
 * Returns: %FALSE only on failure
 */
gboolean store_db_next (StoreDb        *db,
                        StoreStatement *statement,
                        const char     *what,
                        gboolean       *row,
                        GError        **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_ask_integer:
 * @db: a connection
 * @statement: bound, of @db
 * @what: whole words that begin the sentence on failure, as in store_db_fail()
 * @found: (out) (optional): whether there was a row
 * @value: (out): its first column; 0 when there is no row or it holds NULL
 * @error: return location
 *
 * Steps a query that answers with one integer, once.
 *
 * Returns: %FALSE only on failure
 */
gboolean store_db_ask_integer (StoreDb        *db,
                               StoreStatement *statement,
                               const char     *what,
                               gboolean       *found,
                               gint64         *value,
                               GError        **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_add_integers:
 * @db: a connection
 * @statement: bound, of @db
 * @what: whole words that begin the sentence on failure, as in store_db_fail()
 * @values: (element-type gint64): the first column of each row is added
 * @error: return location
 *
 * Steps a query to its end, or to a failure.
 *
 * Returns: %FALSE only on failure
 */
gboolean store_db_add_integers (StoreDb        *db,
                                StoreStatement *statement,
                                const char     *what,
                                GArray         *values,
                                GError        **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_has_texts:
 * @db: a connection
 * @what: whole words that begin the sentence on failure, as in store_db_fail()
 * @error: return location
 *
 * To be asked right after the columns of a row were read when no further step follows: SQLite hands out NULL for a text
 * that memory does not suffice for, and tells why at the next step only.
 *
 * Returns: whether every text of the row could be had
 */
gboolean store_db_has_texts (StoreDb    *db,
                             const char *what,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_exec:
 * @db: a connection
 * @sql: one or more statements without values
 * @error: return location
 *
 * Runs @sql, discarding rows. Meant for schemas and pragmas; nothing is cached.
 *
 * Returns: whether all of it ran
 */
gboolean store_db_exec (StoreDb    *db,
                        const char *sql,
                        GError    **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_db_fail:
 * @db: the connection on which something just failed
 * @what: translated words that begin the sentence, without full stop: 'The readings could not be stored'
 * @error: return location
 *
 * Sets @error from the connection's present SQLite code: %STORE_ERROR, or %G_IO_ERROR_CANCELLED when interrupted.
 * The sentence goes on with where and what to do.
 *
 * Returns: always %FALSE
 */
gboolean store_db_fail (StoreDb    *db,
                        const char *what,
                        GError    **error);

/* The bare connection, for binding, sqlite3_changes64() and the like. Never closed by the caller. */
sqlite3 *store_db_handle (StoreDb *db);

/* Key of the person whose action is under way on this connection; 0: nobody by name; -1: no action, as when replaying. Known in the profile's `finish`. */
gint64 store_db_writer (StoreDb *db);

/* Index of a journaled table in the profile, or -1. */
int store_db_find_table (StoreDb    *db,
                         const char *name);

G_END_DECLS
