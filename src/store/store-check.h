/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Does the file hold together? Every check that can be made without a copy kept elsewhere.
 */

#include "store-write.h"

G_BEGIN_DECLS

typedef enum
{
  STORE_CHECK_SQLITE,  /* integrity_check */
  STORE_CHECK_KEYS,    /* foreign keys */
  STORE_CHECK_SCHEMA,  /* tables and indexes as the migrations make them, no trigger, no view */
  STORE_CHECK_CHAIN,   /* digests of entries and places */
  STORE_CHECK_CONTENT, /* content against its SHA-256 */
  STORE_CHECK_RULES,   /* the profile's hooks on every row */
  STORE_CHECK_DERIVED, /* derived tables against rebuilt ones */
  STORE_CHECK_REPLAY   /* the whole journal against the records */
} StoreCheckKind;

/**
 * StoreFinding:
 * @kind: which check
 * @table: (nullable): name of the table
 * @id: key of the row, place of the entry; 0: none
 * @column: (nullable): name of the column
 * @sentence: what does not hold, translated
 *
 * One thing that does not hold.
 */
typedef struct
{
  StoreCheckKind kind;
  char          *table;
  gint64         id;
  char          *column;
  char          *sentence;
} StoreFinding;

void store_finding_free (StoreFinding *finding);

/* An untranslated short word: 'sqlite', 'keys', … */
const char *store_check_name (StoreCheckKind kind);

/**
 * store_check:
 * @store: a store
 * @replay: also apply the whole journal to an empty file and compare every journaled table
 * @findings: (out) (transfer full) (element-type StoreFinding): what does not hold, at most a thousand; empty: all holds
 * @progress: (nullable): called in the writer thread, out of 1000
 * @progress_data: for @progress
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Runs all checks in the writer thread, within one transaction that stores nothing, and waits for them: never from the
 * main thread of a window. Shows accident and casual editing; only a head kept elsewhere shows a rewritten file.
 *
 * Returns: whether all checks could be made, whatever they found
 */
gboolean store_check (Store         *store,
                      gboolean       replay,
                      GPtrArray    **findings,
                      StoreProgress  progress,
                      gpointer       progress_data,
                      GCancellable  *cancellable,
                      GError       **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
