/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history-private.h"

/*
 * Method. Actions between the two days are read from the oldest on. Of each field the first value before and the last one
 * after are kept; what is the same in the end, and what came and went in between, is left out. An undo is an action like
 * any other, so what it took back vanishes by itself.
 */

/* A record that something happened to, and its fields in the order of the description. */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  char             *key;
  StoreOp           first, last;
  BookHistoryLine **fields; /* record->n_fields, NULL where nothing happened */
} Net;

static void
net_free (gpointer data)
{
  Net *net = data;

  for (guint i = 0; i < net->record->n_fields; i++)
    book_history_line_free (net->fields[i]);
  g_free (net->fields);
  g_free (net->key);
  g_free (net);
}

/* What happened first and last to a record that is counted only. */
typedef struct
{
  StoreOp first, last;
} Passing;

typedef struct
{
  GHashTable *found;  /* gint64 * to Net: those compared field by field, the first that come */
  GPtrArray  *order;  /* the same Nets */
  GHashTable *others; /* gint64 * to Passing */
  guint       most;
} Comparison;

static BookHistoryChoice
note_record (const BookRecord *record, gint64 id, StoreOp op, gpointer data)
{
  Comparison *comparison = data;
  Net *net = g_hash_table_lookup (comparison->found, &id);
  Passing *passing;

  if (net == NULL && comparison->order->len < comparison->most && !g_hash_table_contains (comparison->others, &id))
    {
      net = g_new0 (Net, 1);
      net->record = record;
      net->id = id;
      net->first = op;
      net->fields = g_new0 (BookHistoryLine *, record->n_fields);
      g_hash_table_insert (comparison->found, &net->id, net);
      g_ptr_array_add (comparison->order, net);
    }
  if (net != NULL)
    {
      net->last = op;
      return BOOK_HISTORY_TELL;
    }
  passing = g_hash_table_lookup (comparison->others, &id);
  if (passing == NULL)
    {
      passing = g_new (Passing, 1);
      passing->first = op;
      g_hash_table_insert (comparison->others, g_memdup2 (&id, sizeof id), passing);
    }
  passing->last = op;
  return BOOK_HISTORY_SKIP;
}

/* Takes @line: before stays as it was first, after becomes what it is now. */
static void
take_line (Net *net, BookHistoryLine *line)
{
  BookHistoryLine **field = &net->fields[line->field - net->record->fields];

  if (*field == NULL)
    {
      *field = line;
      return;
    }
  g_free ((*field)->after);
  (*field)->after = g_steal_pointer (&line->after);
  book_history_line_free (line);
}

static gboolean
take_action (StoreDb *db, const BookHistoryAction *action, const BookRecord *record, gint64 id, Comparison *comparison,
             GError **error)
{
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);

  if (action->erased)
    return TRUE; /* what it changed nobody knows any more */
  if (!book_history_add_lines (db, action->id, record, id, note_record, comparison, lines, error))
    return FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      BookHistoryLine *line = lines->pdata[i];
      Net *net = g_hash_table_lookup (comparison->found, &line->id);

      lines->pdata[i] = NULL;
      g_free (net->key);
      net->key = g_strdup (line->key);
      take_line (net, line);
    }
  return TRUE;
}

static guint64
count_others (const Comparison *comparison)
{
  GHashTableIter iter;
  gpointer passing;
  guint64 n = 0;

  g_hash_table_iter_init (&iter, comparison->others);
  while (g_hash_table_iter_next (&iter, NULL, &passing))
    n += ((Passing *) passing)->first != STORE_INSERT || ((Passing *) passing)->last != STORE_DELETE;
  return n;
}

/* Moves a record's differences into @lines; says whether it has any. */
static gboolean
tell (Net *net, GPtrArray *lines)
{
  gboolean was = net->first != STORE_INSERT, is = net->last != STORE_DELETE, any = FALSE;

  for (guint i = 0; i < net->record->n_fields && (was || is); i++)
    {
      BookHistoryLine *line = net->fields[i];

      if (line == NULL)
        continue;
      if (!was)
        g_clear_pointer (&line->before, g_free);
      if (!is)
        g_clear_pointer (&line->after, g_free);
      if (g_strcmp0 (line->before, line->after) == 0)
        continue;
      line->op = !was ? STORE_INSERT : !is ? STORE_DELETE : STORE_UPDATE;
      g_free (line->key);
      line->key = g_strdup (net->key);
      net->fields[i] = NULL;
      g_ptr_array_add (lines, line);
      any = TRUE;
    }
  return any;
}

/**
 * book_history_compare:
 * @db: any connection
 * @from: (nullable): ISO 8601 day, from its beginning; %NULL: the book's
 * @to: (nullable): ISO 8601 day, to its end; %NULL: today's
 * @record: (nullable): only records of this kind; %NULL: all
 * @id: with @record, only this one; 0: all
 * @most_records: how many records are compared field by field; of the rest it is only counted how many were touched
 * @n_records: (out) (optional): how many records differ
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * What the book's records differ by between two days, whatever happened in between.
 *
 * Returns: (transfer full) (element-type BookHistoryLine) (nullable): field by field, a record's fields together
 */
GPtrArray *
book_history_compare (StoreDb *db, const char *from, const char *to, const BookRecord *record, gint64 id, guint most_records,
                      guint64 *n_records, GCancellable *cancellable, GError **error)
{
  StoreHistoryQuery query = { .table = -1, .from = from, .to = to };
  g_autoptr(GHashTable) found = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr(GHashTable) others = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr(GPtrArray) order = g_ptr_array_new_with_free_func (net_free);
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);
  g_autoptr(GPtrArray) actions = NULL;
  Comparison comparison = { found, order, others, most_records };
  guint64 n;

  if (record != NULL)
    {
      query.table = (int) book_table_of_record (record);
      query.id = id;
    }
  actions = book_history_list (db, &query, error);
  if (actions == NULL)
    return NULL;
  for (guint i = actions->len; i > 0; i--)
    if (g_cancellable_set_error_if_cancelled (cancellable, error)
        || !take_action (db, actions->pdata[i - 1], record, id, &comparison, error))
      return NULL;
  n = count_others (&comparison);
  for (guint i = 0; i < order->len; i++)
    n += tell (order->pdata[i], lines);
  if (n_records != NULL)
    *n_records = n;
  return g_steal_pointer (&lines);
}
