/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch history: the journal, action by action and field by field, newest first. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "book-history.h"
#include "book-models.h"
#include "book-record.h"
#include "present-history.h"
#include "present-json.h"

#include <glib/gi18n.h>
#include <string.h>

#define RECORDS_IN_TEXT 20
#define RECORDS_IN_JSON 1000

static char *record_name;
static char *from;
static char *to;
static int   records_most = -1;
static gboolean compare;
static char *by;
static char *round_label;

static const GOptionEntry options[] = {
  { "record", 'r', 0, G_OPTION_ARG_STRING, &record_name, N_("Only this kind of record, or this one record, as in unit/HF/B/B-08"), N_("RECORD[/KEY]") },
  { "from", 0, 0, G_OPTION_ARG_STRING, &from, N_("Only what was done on this day or later"), N_("DATE") },
  { "to", 0, 0, G_OPTION_ARG_STRING, &to, N_("Only what was done up to this day, which is included"), N_("DATE") },
  { "records", 0, 0, G_OPTION_ARG_INT, &records_most, N_("Show at most this many records of one action; 0 shows all"), N_("NUMBER") },
  { "by", 0, 0, G_OPTION_ARG_STRING, &by, N_("Only what this person did"), N_("INITIALS") },
  { "round", 0, 0, G_OPTION_ARG_STRING, &round_label, N_("Only what was done from the first day of this round to its decision, or of two"), N_("LABEL[..LABEL]") },
  { "compare", 0, 0, G_OPTION_ARG_NONE, &compare, N_("Instead of actions, what the records differ by between the beginning of the one day and the end of the other"), NULL },
  G_OPTION_ENTRY_NULL
};

typedef struct
{
  const BookRecord *record; /* NULL: all */
  gint64            id;     /* 0: all of the kind */
} Wanted;

/* 'unit' or 'unit/HF/B/B-08'. A record that is gone has no visible key any more; its kind still finds it. */
static gboolean
find_wanted (BatchCall *call, StoreDb *db, Wanted *wanted, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *name = NULL;
  const char *slash;

  *wanted = (Wanted) { NULL, 0 };
  if (record_name == NULL)
    return TRUE;
  slash = strchr (record_name, '/');
  name = slash == NULL ? g_strdup (record_name) : g_strndup (record_name, (gsize) (slash - record_name));
  wanted->record = batch_record (call, name, status);
  if (wanted->record == NULL)
    return FALSE;
  if (slash == NULL)
    return TRUE;
  if (book_record_find_text (db, wanted->record, slash + 1, &wanted->id, &error) && wanted->id != 0)
    return TRUE;
  if (error != NULL && error->domain != BOOK_ERROR)
    *status = batch_fail (call, error);
  else
    *status = batch_usage (call, _("The book has no %s '%s': its key is written with slashes, as in unit/HF/B/B-08."), name, slash + 1);
  return FALSE;
}

static gboolean
check_moment (BatchCall *call, const char *text, BatchStatus *status)
{
  if (text == NULL || batch_is_moment (text))
    return TRUE;
  *status = batch_usage (call, _("'%s' is not a date: write it as year-month-day, as in 2026-03-01."), text);
  return FALSE;
}

static gboolean
find_person (BatchCall *call, StoreDb *db, gint64 *person, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;

  *person = 0;
  if (by == NULL)
    return TRUE;
  if (!book_record_find_text (db, book_record (BOOK_RECORD_PERSON), by, person, &error))
    *status = batch_fail (call, error);
  else if (*person == 0)
    *status = batch_usage (call, _("The book has no person '%s': 'export' writes all of them into person.csv."), by);
  return *person > 0;
}

static const BookRound *
find_round (BatchCall *call, GPtrArray *rounds, const char *label, BatchStatus *status)
{
  for (guint i = 0; i < rounds->len; i++)
    if (g_str_equal (((BookRound *) rounds->pdata[i])->label, label))
      return rounds->pdata[i];
  *status = batch_usage (call, _("The model has no round '%s'."), label);
  return NULL;
}

/* Takes the days of --round where --from and --to say nothing. @rounds keeps the texts. */
static gboolean
find_days (BatchCall *call, StoreDb *db, StoreHistoryQuery *query, GPtrArray **rounds, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_auto(GStrv) labels = NULL;
  const BookRound *first, *last;
  const char *from_day, *to_day;
  gint64 model;

  query->from = from;
  query->to = to;
  if (round_label == NULL)
    return TRUE;
  if (!batch_model (call, db, &model, status))
    return FALSE;
  *rounds = book_rounds_list (db, model, &error);
  if (*rounds == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  labels = g_strsplit (round_label, "..", 2);
  first = find_round (call, *rounds, labels[0] != NULL ? labels[0] : "", status);
  last = first != NULL && labels[1] != NULL ? find_round (call, *rounds, labels[1], status) : first;
  if (first == NULL || last == NULL)
    return FALSE;
  book_rounds_days (first, last, &from_day, &to_day);
  query->from = from != NULL ? from : from_day;
  query->to = to != NULL ? to : to_day;
  return TRUE;
}

static BatchStatus
run_compare (BatchCall *call, StoreDb *db, const StoreHistoryQuery *query, const Wanted *wanted, guint most)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *text = NULL;
  guint64 n_records;
  g_autoptr(GPtrArray) lines = book_history_compare (db, query->from, query->to, wanted->record, wanted->id, most, &n_records,
                                                     call->cancellable, &error);

  if (lines == NULL)
    return batch_fail (call, error);
  text = present_history_difference (lines, n_records, call->json);
  batch_write (call, text);
  return BATCH_DONE;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(GPtrArray) actions = NULL;
  g_autoptr(GPtrArray) rounds = NULL;
  g_autoptr(PresentHistory) history = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *text = NULL;
  const guint most = records_most > 0 ? (guint) records_most : records_most == 0 ? G_MAXUINT : call->json ? RECORDS_IN_JSON : RECORDS_IN_TEXT;
  StoreHistoryQuery query = { .table = -1 };
  Wanted wanted;
  BatchStatus status;
  StoreDb *db;

  if (!check_moment (call, from, &status) || !check_moment (call, to, &status) || !batch_book_open (call, &book, &status))
    return status;
  db = store_front_db (book_get_store (book), &error);
  if (db == NULL)
    return batch_fail (call, error);
  if (!find_wanted (call, db, &wanted, &status) || !find_person (call, db, &query.person, &status) ||
      !find_days (call, db, &query, &rounds, &status))
    return status;
  if (compare)
    return run_compare (call, db, &query, &wanted, most);
  if (wanted.record != NULL)
    {
      query.table = (int) book_table_of_record (wanted.record);
      query.id = wanted.id;
    }

  actions = book_history_list (db, &query, &error);
  if (actions == NULL)
    return batch_fail (call, error);
  history = present_history_new (call->json);
  for (guint i = 0; i < actions->len; i++)
    {
      const BookHistoryAction *action = actions->pdata[i];
      g_autoptr(GPtrArray) lines = NULL;
      guint64 n_records = 0;

      if (!action->erased)
        {
          lines = book_history_lines (db, action->id, wanted.record, wanted.id, most, G_MAXUINT64, &n_records, &error);
          if (lines == NULL)
            return batch_fail (call, error);
        }
      if (wanted.record == NULL || n_records > 0)
        present_history_add (history, action, lines, n_records);
    }
  text = present_history_end (history);
  batch_write (call, text);
  return BATCH_DONE;
}

const BatchVerb batch_verb_history = {
  .name = "history",
  .arguments = "",
  .summary = N_("Show the journal, newest first, field by field: old, new, who and when."),
  .description = N_("The key in brackets at the end of an action's line is what 'undo --action' takes. Times are UTC."),
  .options = options,
  .run = run,
};
