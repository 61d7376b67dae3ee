/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The journal read backwards: actions newest first, each with the rows it changed, field by field.
 */

#include <gio/gio.h>

#include "store-db.h"
#include "store-row.h"

G_BEGIN_DECLS

typedef enum
{
  STORE_DO = 0,
  STORE_UNDO = 1,
  STORE_REDO = 2
} StoreActionKind;

/**
 * StoreActionInfo:
 * @id: key of the action
 * @kind: done, undone, redone
 * @reverses: key of the action that it reverses; 0: none
 * @undone: whether its effect was undone since
 * @sitting: in which; 0: none
 * @person: by whom; 0: nobody by name
 * @time: ISO 8601, UTC, to the second
 * @message: id of the message
 * @arguments: of type %STORE_ARGUMENTS
 * @first_place: place of its first entry in the order of the file, from 1
 * @entries: how many entries
 * @erased: whether its payload was erased
 *
 * One action as history shows it.
 */
typedef struct
{
  gint64          id;
  StoreActionKind kind;
  gint64          reverses;
  gboolean        undone;
  gint64          sitting;
  gint64          person;
  char           *time;
  char           *message;
  GVariant       *arguments;
  gint64          first_place;
  guint           entries;
  gboolean        erased;
} StoreActionInfo;

void store_action_info_free (StoreActionInfo *info);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreActionInfo, store_action_info_free)

/**
 * StoreHistoryQuery:
 * @table: index of a journaled table; -1: any record
 * @id: key of one record of it; 0: any
 * @person: 0: anybody
 * @from: (nullable): ISO 8601 date or time, included
 * @to: (nullable): ISO 8601 date (that day included) or time
 * @sitting: 0: any
 * @before: only actions whose first place is below this, to go on from an earlier page; 0: from the newest
 * @most: how many at most; 0: all
 *
 * Which actions are wanted.
 */
typedef struct
{
  int         table;
  gint64      id;
  gint64      person;
  const char *from;
  const char *to;
  gint64      sitting;
  gint64      before;
  guint       most;
} StoreHistoryQuery;

/**
 * store_history_list:
 * @db: any connection
 * @query: which
 * @error: return location
 *
 * Returns: (transfer full) (element-type StoreActionInfo) (nullable): actions, newest first
 */
GPtrArray *store_history_list (StoreDb                 *db,
                               const StoreHistoryQuery *query,
                               GError                 **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_history_may_have_more:
 * @db: any connection
 * @table: index of a journaled table
 * @id: key of a record that is there
 * @may: (out): %FALSE when only the entry that made it speaks of it
 * @error: return location
 *
 * Whether it is worth asking store_history_list() for what was done to a record since it was made. Opens no entry, so it
 * may say so of a record that only lies among others that were changed.
 *
 * Returns: whether the file could be asked
 */
gboolean store_history_may_have_more (StoreDb  *db,
                                      int       table,
                                      gint64    id,
                                      gboolean *may,
                                      GError  **error) G_GNUC_WARN_UNUSED_RESULT;

/* One action by key; %STORE_ERROR_MISSING when there is none. */
StoreActionInfo *store_history_get (StoreDb *db,
                                    gint64   action,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Called for each changed row; FALSE stops without an error. */
typedef gboolean (*StoreRowFunc) (const StoreRow *row,
                                  gpointer        data);

/**
 * store_history_rows:
 * @db: any connection
 * @action: key of an action
 * @table: index of a journaled table, with @id; -1: all rows
 * @id: key of one record; 0 with @table: all rows of that table
 * @func: called for each row
 * @data: for @func
 * @error: return location
 *
 * The rows an action changed, in the order of its entries.
 *
 * Returns: %FALSE with %STORE_ERROR_ERASED, _MISSING, _DAMAGED
 */
gboolean store_history_rows (StoreDb     *db,
                             gint64       action,
                             int          table,
                             gint64       id,
                             StoreRowFunc func,
                             gpointer     data,
                             GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_history_places:
 * @db: any connection
 * @table: index of a journaled table
 * @older: leave out entries that touched no row of it but those which their own action made
 * @error: return location
 *
 * Opens no entry, so with @older it may name one whose rows only lie among others that were touched.
 *
 * Returns: (transfer full) (element-type gint64) (nullable): places of the entries that touched rows of @table, oldest first
 */
GArray *store_history_places (StoreDb *db,
                              int      table,
                              gboolean older,
                              GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The action that the entry at @place belongs to; %STORE_ERROR_MISSING when there is none. */
StoreActionInfo *store_history_at (StoreDb *db,
                                   gint64   place,
                                   GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* As store_history_rows(), all rows of the one entry at @place. */
gboolean store_history_rows_at (StoreDb     *db,
                                gint64       place,
                                StoreRowFunc func,
                                gpointer     data,
                                GError     **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_history_head:
 * @db: any connection
 * @place: (out) (optional): number of entries
 * @head: (out) (optional): the last place's digest, lower-case hexadecimal; of zeros when empty
 * @error: return location
 *
 * Returns: whether the file could be asked
 */
gboolean store_history_head (StoreDb *db,
                             gint64  *place,
                             char   **head,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * store_history_holds:
 * @db: any connection
 * @place: place of an entry
 * @head: the digest of that place as it was kept elsewhere, lower-case hexadecimal
 * @holds: (out): whether the journal still has it there; if not, it is another journal, or was rewritten before that place
 * @error: return location
 *
 * Returns: whether the file could be asked
 */
gboolean store_history_holds (StoreDb    *db,
                              gint64      place,
                              const char *head,
                              gboolean   *holds,
                              GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
