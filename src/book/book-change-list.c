/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-change-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book-evidence-private.h"

/* All queries go by an index from the model's changes down. ?1 is the model. */

static const char changes_sql[] =
  "SELECT c.id, c.no, c.title, c.reason, c.expected_effect, p.initials, c.proposed_on, e.initials, a.initials, c.agreed_on,"
  " c.from_round, r.label, c.from_serial, c.withdrawn, c.withdrawn_reason, c.carried_out"
  " FROM change c LEFT JOIN person p ON p.id = c.proposed_by LEFT JOIN person e ON e.id = c.entered_by"
  " LEFT JOIN person a ON a.id = c.agreed_by LEFT JOIN round r ON r.id = c.from_round"
  " WHERE c.model = ?1 ORDER BY c.no";

/* A revision is carried out where it is planned or built; a setting or limit where the change has written it. */
static const char items_sql[] =
  "SELECT i.id, i.change, i.no, i.part, i.step, i.characteristic, i.old_revision, i.new_revision,"
  " coalesce (p.number, q.code, CAST (s.position AS TEXT)), coalesce (p.name, q.name, s.name), i.setting, o.label,"
  " coalesce (n.label, i.new_label), i.old, i.new, i.value, i.nominal, i.lower, i.upper,"
  " coalesce (q.unit, (SELECT t.unit FROM step_setting t WHERE t.step = i.step AND t.name = i.setting"
  "                    ORDER BY t.from_date DESC LIMIT 1)), coalesce (q.decimals, -1),"
  " CASE WHEN i.part IS NOT NULL THEN i.new_revision IS NOT NULL AND"
  "  (EXISTS (SELECT 1 FROM round r JOIN round_part t ON t.round = r.id"
  "           WHERE r.model = ?1 AND t.part = i.part AND t.revision = i.new_revision)"
  "   OR EXISTS (SELECT 1 FROM round r JOIN unit u ON u.round = r.id JOIN unit_part t ON t.unit = u.id"
  "              WHERE r.model = ?1 AND t.part = i.part AND t.revision = i.new_revision))"
  " WHEN i.step IS NOT NULL THEN"
  "  EXISTS (SELECT 1 FROM step_setting t WHERE t.step = i.step AND t.name = i.setting AND t.change = i.change)"
  " ELSE EXISTS (SELECT 1 FROM \"limit\" l WHERE l.characteristic = i.characteristic AND l.change = i.change) END"
  " FROM change c JOIN change_item i ON i.change = c.id LEFT JOIN part p ON p.id = i.part LEFT JOIN step s ON s.id = i.step"
  " LEFT JOIN characteristic q ON q.id = i.characteristic LEFT JOIN revision o ON o.id = i.old_revision"
  " LEFT JOIN revision n ON n.id = i.new_revision WHERE c.model = ?1 ORDER BY c.no, i.no";

static const char issues_sql[] =
  "SELECT i.change, i.issue, s.no, s.title FROM change c JOIN change_issue i ON i.change = c.id JOIN issue s ON s.id = i.issue"
  " WHERE c.model = ?1 ORDER BY c.no, s.no";

static const char effects_sql[] =
  "SELECT f.change, f.characteristic, f.effect, f.reason, p.initials, s.initials FROM change c"
  " JOIN change_effect f ON f.change = c.id JOIN characteristic q ON q.id = f.characteristic"
  " LEFT JOIN person p ON p.id = f.person LEFT JOIN person s ON s.id = f.second_person"
  " WHERE c.model = ?1 ORDER BY c.no, q.code";

/* ?2 is the code of the record 'change'. */
static const char attachments_sql[] =
  "SELECT a.owner, a.id, a.name, a.mime_type, a.sha256, a.link FROM change c"
  " JOIN attachment a ON a.owner_record = ?2 AND a.owner = c.id WHERE c.model = ?1 ORDER BY c.no, a.no";

#define ADD(list, name) \
  ((list)->name = book_loader_grow ((list)->name, (list)->n_##name, sizeof *(list)->name), &(list)->name[(list)->n_##name++])

static int
change_at (const BookChangeList *list, StoreStatement *statement, int column)
{
  gint64 key = sqlite3_column_int64 (statement, column);

  for (guint i = list->n_changes; i > 0; i--) /* the rest comes in the order of changes */
    if (list->changes[i - 1].id == key)
      return (int) i - 1;
  return -1;
}

static void
add_change (BookChangeList *list, StoreStatement *statement)
{
  BookChangeListChange *change = ADD (list, changes);

  change->id = sqlite3_column_int64 (statement, 0);
  change->no = sqlite3_column_int (statement, 1);
  change->title = book_column_keep (list->strings, statement, 2);
  change->reason = book_column_keep (list->strings, statement, 3);
  change->expected_effect = book_column_keep (list->strings, statement, 4);
  change->proposed_by = book_column_keep (list->strings, statement, 5);
  change->proposed_on = book_column_keep (list->strings, statement, 6);
  change->entered_by = book_column_keep (list->strings, statement, 7);
  change->agreed_by = book_column_keep (list->strings, statement, 8);
  change->agreed_on = book_column_keep (list->strings, statement, 9);
  change->from_round = sqlite3_column_int64 (statement, 10);
  change->from_label = book_column_keep (list->strings, statement, 11);
  change->from_serial = book_column_keep (list->strings, statement, 12);
  change->withdrawn = book_column_keep (list->strings, statement, 13);
  change->withdrawn_reason = book_column_keep (list->strings, statement, 14);
  change->carried_out = book_column_keep (list->strings, statement, 15);
}

static void
add_item (BookChangeList *list, StoreStatement *statement)
{
  BookChangeListItem *item = ADD (list, items);

  item->id = sqlite3_column_int64 (statement, 0);
  item->change = change_at (list, statement, 1);
  item->no = sqlite3_column_int (statement, 2);
  item->part = sqlite3_column_int64 (statement, 3);
  item->step = sqlite3_column_int64 (statement, 4);
  item->characteristic = sqlite3_column_int64 (statement, 5);
  item->old_revision = sqlite3_column_int64 (statement, 6);
  item->new_revision = sqlite3_column_int64 (statement, 7);
  item->number = book_column_keep (list->strings, statement, 8);
  item->name = book_column_keep (list->strings, statement, 9);
  item->setting = book_column_keep (list->strings, statement, 10);
  item->old_label = book_column_keep (list->strings, statement, 11);
  item->new_label = book_column_keep (list->strings, statement, 12);
  item->old = book_column_keep (list->strings, statement, 13);
  item->new = book_column_keep (list->strings, statement, 14);
  item->value = book_column_real (statement, 15, NAN);
  item->nominal = book_column_real (statement, 16, NAN);
  item->lower = book_column_real (statement, 17, NAN);
  item->upper = book_column_real (statement, 18, NAN);
  item->unit = book_column_keep (list->strings, statement, 19);
  item->decimals = sqlite3_column_int (statement, 20);
  item->carried_out = sqlite3_column_int (statement, 21) != 0;
}

static void
add_issue (BookChangeList *list, StoreStatement *statement)
{
  BookChangeListIssue *issue = ADD (list, issues);

  issue->change = change_at (list, statement, 0);
  issue->issue = sqlite3_column_int64 (statement, 1);
  issue->no = sqlite3_column_int (statement, 2);
  issue->title = book_column_keep (list->strings, statement, 3);
}

static void
add_effect (BookChangeList *list, StoreStatement *statement)
{
  BookChangeListEffect *effect = ADD (list, effects);

  effect->change = change_at (list, statement, 0);
  effect->characteristic = sqlite3_column_int64 (statement, 1);
  effect->carried_over = sqlite3_column_int (statement, 2) == BOOK_EFFECT_CARRIED_OVER;
  effect->reason = book_column_keep (list->strings, statement, 3);
  effect->person = book_column_keep (list->strings, statement, 4);
  effect->second_person = book_column_keep (list->strings, statement, 5);
}

static void
add_attachment (BookChangeList *list, StoreStatement *statement)
{
  BookChangeListAttachment *attachment = ADD (list, attachments);

  attachment->change = change_at (list, statement, 0);
  attachment->id = sqlite3_column_int64 (statement, 1);
  attachment->name = book_column_keep (list->strings, statement, 2);
  attachment->mime_type = book_column_keep (list->strings, statement, 3);
  attachment->sha256 = book_column_keep (list->strings, statement, 4);
  attachment->link = book_column_keep (list->strings, statement, 5);
}

static gboolean
read_rows (BookChangeList *list, StoreDb *db, gint64 model, const char *sql, void (*add) (BookChangeList *, StoreStatement *),
           GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more, ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, model);
  if (sqlite3_bind_parameter_count (statement) > 1)
    sqlite3_bind_int (statement, 2, BOOK_RECORD_CHANGE);
  while ((ok = store_db_next (db, statement, _("The changes could not be read"), &more, error)) && more)
    add (list, statement);
  return ok;
}

/**
 * book_change_list_new:
 *
 * Returns: (transfer full): an empty list, for tests to fill
 */
BookChangeList *
book_change_list_new (void)
{
  BookChangeList *list = g_new0 (BookChangeList, 1);

  list->strings = g_string_chunk_new (1024);
  return list;
}

/**
 * book_change_list_free:
 * @list: (transfer full) (nullable): a list
 */
void
book_change_list_free (BookChangeList *list)
{
  if (list == NULL)
    return;
#define FREE(type, name) g_free (list->name);
  BOOK_CHANGE_LIST_TABLES (FREE)
#undef FREE
  g_string_chunk_free (list->strings);
  g_free (list);
}

/**
 * book_change_list_read:
 * @db: any connection
 * @model: of which model
 * @error: return location
 *
 * Returns: (transfer full) (nullable): its changes with all that belongs to them
 */
BookChangeList *
book_change_list_read (StoreDb *db, gint64 model, GError **error)
{
  g_autoptr(BookChangeList) list = book_change_list_new ();

  if (!read_rows (list, db, model, changes_sql, add_change, error) || !read_rows (list, db, model, items_sql, add_item, error)
      || !read_rows (list, db, model, issues_sql, add_issue, error) || !read_rows (list, db, model, effects_sql, add_effect, error)
      || !read_rows (list, db, model, attachments_sql, add_attachment, error))
    return NULL;
  return g_steal_pointer (&list);
}
