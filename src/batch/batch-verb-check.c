/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch check: does the book hold together? */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "book-record.h"
#include "present-check.h"
#include "present-json.h"
#include "present-text.h"
#include "store-check.h"
#include "store-history.h"

#include <glib/gi18n.h>

static gboolean replay;

static const GOptionEntry options[] = {
  { "replay", 0, 0, G_OPTION_ARG_NONE, &replay, N_("Also apply the whole journal to an empty book and compare every record"), NULL },
  G_OPTION_ENTRY_NULL
};

/* The row by the key that people know it by; NULL when it is no record, or gone. */
static char *
key_of (StoreDb *db, const StoreFinding *finding)
{
  const BookRecord *record = finding->table != NULL ? book_record_find (finding->table) : NULL;
  g_autofree char *key = NULL;

  if (record == NULL || finding->id == 0)
    return NULL;
  key = book_record_key_text (db, record, finding->id, BOOK_KEY_TEXT_SHOWN, NULL);
  return key == NULL || *key == '\0' ? NULL : g_strdup_printf ("%s %s", book_record_label (record), key);
}

static void
write_json (BatchCall *call, StoreDb *db, GPtrArray *findings, gint64 place, const char *head)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_flag (builder, "holds", findings->len == 0);
  present_json_flag (builder, "replayed", replay);
  present_json_count (builder, "entries", place);
  present_json_text (builder, "head", head);
  present_json_list (builder, "findings");
  for (guint i = 0; i < findings->len; i++)
    {
      const StoreFinding *finding = findings->pdata[i];
      g_autofree char *key = key_of (db, finding);

      json_builder_begin_object (builder);
      present_json_text (builder, "check", store_check_name (finding->kind));
      present_json_text (builder, "table", finding->table);
      present_json_key (builder, "id", finding->id);
      present_json_text (builder, "record", key);
      present_json_text (builder, "column", finding->column);
      present_json_text (builder, "sentence", finding->sentence);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  text = present_json_end (builder);
  batch_write (call, text);
}

static void
write_text (BatchCall *call, StoreDb *db, GPtrArray *findings, gint64 place, const char *head)
{
  g_autofree char *words = present_check_words (findings->len, replay);
  g_autofree char *journal = present_check_journal (place, head);

  for (guint i = 0; i < findings->len; i++)
    {
      const StoreFinding *finding = findings->pdata[i];
      g_autofree char *key = key_of (db, finding);
      /* Translators: the last %s is a record, as in 'Reading HF/P1/P1-03/LE/1/1' */
      g_autofree char *line = key != NULL ? g_strdup_printf (_("%s: %s It is: %s."), store_check_name (finding->kind),
                                                             finding->sentence, key)
                                          : g_strdup_printf ("%s: %s", store_check_name (finding->kind), finding->sentence);
      g_autofree char *wrapped = present_text_wrap (line, PRESENT_TEXT_WIDTH, "", "  ");

      batch_write (call, wrapped);
    }
  if (findings->len == 0)
    {
      batch_write (call, words);
      batch_write (call, "\n");
    }
  batch_write (call, journal);
  batch_write (call, "\n");
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *head = NULL;
  BatchStatus status;
  gint64 place = 0;
  StoreDb *db;

  if (!batch_book_open (call, &book, &status))
    return status;
  if (!store_check (book_get_store (book), replay, &findings, batch_progress, call, call->cancellable, &error))
    return batch_fail (call, error);
  db = store_front_db (book_get_store (book), &error);
  if (db == NULL || !store_history_head (db, &place, &head, &error))
    return batch_fail (call, error);

  if (call->json)
    write_json (call, db, findings, place, head);
  else
    write_text (call, db, findings, place, head);
  return findings->len == 0 ? BATCH_DONE : BATCH_ATTENTION;
}

const BatchVerb batch_verb_check = {
  .name = "check",
  .arguments = "",
  .summary = N_("Check that the book holds together."),
  .description = N_("Looks at the database, the references, the journal's chain, the rules on all records, stored files against their "
                    "digests, and tables that are made from others. Shows accident and casual editing; only a head kept elsewhere shows "
                    "a rewritten book. Exit status 0 only when all holds."),
  .stops = TRUE,
  .options = options,
  .run = run,
};
