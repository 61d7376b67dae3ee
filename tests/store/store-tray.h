/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A small journaled file for tests: boxes hold items, items bear tags, seals are never undone. Boxes count their items
 * in a derived table; names of boxes differ; sizes lie between 0 and 1000.
 */

#include "store-write.h"

G_BEGIN_DECLS

enum
{
  TRAY_BOX,
  TRAY_ITEM,
  TRAY_TAG,
  TRAY_SEAL,
  TRAY_TABLES
};

extern const StoreProfile tray_profile;
/* The same kind of file with a second migration, which adds a column `colour` to item. */
extern const StoreProfile tray_profile_2;

/* A fresh folder with a file in it, and a state folder beside. */
typedef struct
{
  char        *folder;
  char        *path;
  char        *state;
  StoreOptions options;
  Store       *store;
} Tray;

/* First thing in main(): trays lie on a disk in memory, if there is one, for tests that wait for thousands of syncs. */
void tray_in_memory (void);
void tray_set_up    (Tray         *tray,
                     gconstpointer unused);
void tray_tear_down (Tray         *tray,
                     gconstpointer unused);
/* Closes and opens again. */
void tray_reopen    (Tray *tray);

/* A g_test_add() with a fresh tray. */
#define tray_test(path, func) g_test_add (path, Tray, NULL, tray_set_up, func, tray_tear_down)

/* Work for store_write(): each runs SQL text, with `%id` replaced by a new key and `%last` by the last one made. */
gboolean tray_run_sql (StoreAction *action,
                       gpointer     sql,
                       GError     **error);

/* Writes, asserting success; gives back the action's key. */
gint64   tray_do      (Store      *store,
                       gint64      sitting,
                       const char *sql);
/* Writes, expecting it to be refused with @code. */
void     tray_refused (Store      *store,
                       const char *sql,
                       StoreError  code);

/* Every journaled row as text, in order of table and key: equal texts mean equal bytes. */
char    *tray_dump    (Store *store);
/* The one integer of a query on a connection of its own. */
gint64   tray_ask     (const char *path,
                       const char *sql);
/* Runs SQL past the journal, on a bare connection. */
void     tray_tamper  (const char *path,
                       const char *sql);

/* Asserts that @error is of @code and reads as one sentence, then frees it. */
void     tray_assert_sentence (GError    **error,
                               StoreError  code);

G_END_DECLS
