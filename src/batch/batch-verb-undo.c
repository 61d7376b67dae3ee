/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch undo, redo: reverse an action by a new one. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "book-history.h"
#include "store-undo.h"

#include <errno.h>
#include <glib/gi18n.h>

static char    *action_key;
static gboolean dry_run;

static const GOptionEntry undo_options[] = {
  { "action", 0, 0, G_OPTION_ARG_STRING, &action_key, N_("This action, by its key in the history, instead of the last"), N_("KEY") },
  { "dry-run", 'n', 0, G_OPTION_ARG_NONE, &dry_run, N_("Only say whether it could be undone, and what stands in the way"), NULL },
  G_OPTION_ENTRY_NULL
};

static const GOptionEntry redo_options[] = {
  { "action", 0, 0, G_OPTION_ARG_STRING, &action_key, N_("This action, by its key in the history, instead of the last"), N_("KEY") },
  G_OPTION_ENTRY_NULL
};

typedef gboolean (*Reverse) (Store             *store,
                             const StoreIntent *intent,
                             gint64             action,
                             StoreReceipt      *receipt,
                             StoreBlock       **block,
                             GCancellable      *cancellable,
                             GError           **error);

static gboolean
read_key (BatchCall *call, gint64 *action, BatchStatus *status)
{
  char *end = NULL;

  *action = 0;
  if (action_key == NULL)
    return TRUE;
  errno = 0;
  *action = g_ascii_strtoll (action_key, &end, 10);
  if (errno == 0 && end != action_key && *end == '\0' && *action > 0)
    return TRUE;
  *status = batch_usage (call, _("'%s' is not the key of an action: 'fettle-batch history' shows the keys."), action_key);
  return FALSE;
}

/* One line an action: its key last, so that it can be taken for --action. */
static char *
action_line (StoreDb *db, gint64 action)
{
  g_autoptr(StoreActionInfo) info = store_history_get (db, action, NULL);
  g_autofree char *sentence = info == NULL ? NULL : book_history_sentence (db, info);

  if (info == NULL)
    return g_strdup_printf ("%" G_GINT64_FORMAT, action);
  return g_strdup_printf ("%s  %s  (%" G_GINT64_FORMAT ")", info->time, sentence, action);
}

/* The later actions in the way, newest first: each would have to be undone before. */
static void
say_block (BatchCall *call, StoreDb *db, const StoreBlock *block)
{
  for (guint i = 0; i < block->n_actions; i++)
    {
      g_autofree char *line = action_line (db, block->actions[i]);

      batch_say (call, _("In the way: %s"), line);
    }
}

static BatchStatus
reverse (BatchCall *call, Reverse function, const char *word)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *line = NULL;
  g_autofree char *result = NULL;
  StoreIntent intent;
  StoreReceipt receipt = { 0 };
  BatchStatus status;
  gint64 action;
  StoreDb *db;

  if (!read_key (call, &action, &status) || !batch_book_open (call, &book, &status) ||
      !batch_intent (call, book, word, &intent, &status))
    return status;
  db = store_front_db (book_get_store (book), &error);
  if (db == NULL)
    return batch_fail (call, error);
  if (!function (book_get_store (book), &intent, action, &receipt, &block, call->cancellable, &error))
    {
      status = batch_fail (call, error);
      if (block != NULL)
        say_block (call, db, block);
      return status;
    }
  if (receipt.action == 0) /* tried only */
    {
      batch_write (call, _("Nothing stands in the way.\n"));
      return BATCH_DONE;
    }
  line = action_line (db, receipt.action);
  result = g_strdup_printf ("%s\n", line);
  batch_write (call, result);
  return BATCH_DONE;
}

/* store_undo_try() with the arguments of the others; it has no receipt. */
static gboolean
try_undo (Store *store, const StoreIntent *intent, gint64 action, StoreReceipt *receipt, StoreBlock **block,
          GCancellable *cancellable, GError **error)
{
  return store_undo_try (store, intent, action, block, cancellable, error);
}

static BatchStatus
run_undo (BatchCall *call)
{
  return reverse (call, dry_run ? try_undo : store_undo, "undo");
}

static BatchStatus
run_redo (BatchCall *call)
{
  return reverse (call, store_redo, "redo");
}

const BatchVerb batch_verb_undo = {
  .name = "undo",
  .arguments = "",
  .summary = N_("Undo the last action, or the one named, by a new action."),
  .description = N_("All or nothing: when later actions stand in the way, nothing is changed and they are named."),
  .stops = TRUE,
  .options = undo_options,
  .run = run_undo,
};

const BatchVerb batch_verb_redo = {
  .name = "redo",
  .arguments = "",
  .summary = N_("Do again what the last undo, or the one named, took back."),
  .description = N_("Possible as long as nothing new was done since."),
  .stops = TRUE,
  .options = redo_options,
  .run = run_redo,
};
