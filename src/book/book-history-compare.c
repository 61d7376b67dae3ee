/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history.h"

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

static Net *
net_of (GHashTable *found, GPtrArray *order, BookHistoryLine *line)
{
  Net *net = g_hash_table_lookup (found, &line->id);

  if (net == NULL)
    {
      net = g_new0 (Net, 1);
      net->record = line->record;
      net->id = line->id;
      net->first = line->op;
      net->fields = g_new0 (BookHistoryLine *, line->record->n_fields);
      g_hash_table_insert (found, &net->id, net);
      g_ptr_array_add (order, net);
    }
  net->last = line->op;
  g_free (net->key);
  net->key = g_strdup (line->key);
  return net;
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
take_action (StoreDb *db, const BookHistoryAction *action, const BookRecord *record, gint64 id, guint most, GHashTable *found,
             GPtrArray *order, guint64 *left_out, GError **error)
{
  g_autoptr(GPtrArray) lines = NULL;
  guint64 n_records = 0;
  guint told = most - MIN (most, order->len);

  if (action->erased)
    return TRUE; /* what it changed nobody knows any more */
  lines = book_history_lines (db, action->id, record, id, told, &n_records, error);
  if (lines == NULL)
    return FALSE;
  *left_out += n_records - MIN (n_records, told);
  for (guint i = 0; i < lines->len; i++)
    {
      BookHistoryLine *line = lines->pdata[i];

      lines->pdata[i] = NULL;
      if (line->field != NULL)
        take_line (net_of (found, order, line), line);
      else
        book_history_line_free (line);
    }
  return TRUE;
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
 * @most_records: how many records are compared field by field; the rest are counted once for each action
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
  g_autoptr(GPtrArray) order = g_ptr_array_new_with_free_func (net_free);
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) book_history_line_free);
  g_autoptr(GPtrArray) actions = NULL;
  guint64 n = 0;

  if (record != NULL && id != 0)
    {
      query.table = (int) book_table_of_record (record);
      query.id = id;
    }
  actions = book_history_list (db, &query, error);
  if (actions == NULL)
    return NULL;
  for (guint i = actions->len; i > 0; i--)
    if (g_cancellable_set_error_if_cancelled (cancellable, error)
        || !take_action (db, actions->pdata[i - 1], record, id, most_records, found, order, &n, error))
      return NULL;
  for (guint i = 0; i < order->len; i++)
    n += tell (order->pdata[i], lines);
  if (n_records != NULL)
    *n_records = n;
  return g_steal_pointer (&lines);
}
