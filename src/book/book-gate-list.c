/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-gate-list.h"

#include <glib/gi18n-lib.h>

#include "book-evidence-private.h"
#include "store-content.h"
#include "store-error.h"

/* ?1 is the model. Who entered a row is told by keys: an action's own key comes just before those of its rows. */
#define ENTERED(alias) \
  "(SELECT i.initials FROM action a LEFT JOIN person i ON i.id = a.person" \
  "  WHERE a.id = (SELECT max (id) FROM action WHERE id < " alias ".id))," \
  " (SELECT time FROM action WHERE id = (SELECT max (id) FROM action WHERE id < " alias ".id))"

static const char gates_sql[] = "SELECT id, position, name FROM gate WHERE model = ?1 ORDER BY position";

static const char signoffs_sql[] =
  "SELECT s.id, s.gate, 0, '', s.no, s.opinion, 0, 0, s.conditions, s.reason, p.initials, n.name, s.date, '', '', s.withdraws, "
  ENTERED ("s")
  " FROM gate g JOIN signoff s ON s.gate = g.id LEFT JOIN person p ON p.id = s.person LEFT JOIN person_name n ON n.person = s.person"
  " WHERE g.model = ?1 ORDER BY g.position, s.date, s.id";

static const char waivers_sql[] =
  "SELECT w.id, c.gate, c.id, c.code, w.no, 0, 0, 0, '', w.reason, p.initials, n.name, w.date, w.until, '', w.withdraws, "
  ENTERED ("w")
  " FROM criterion c JOIN waiver w ON w.criterion = c.id LEFT JOIN person p ON p.id = w.person"
  " LEFT JOIN person_name n ON n.person = w.person WHERE c.model = ?1 ORDER BY c.code, w.date, w.id";

static const char decisions_sql[] =
  "SELECT d.id, d.gate, 0, '', d.no, 0, d.verdict, d.at_most_units, d.conditions, d.reason, p.initials, n.name, d.date, '',"
  " d.evidence, d.withdraws, " ENTERED ("d")
  " FROM gate g JOIN decision d ON d.gate = g.id LEFT JOIN person p ON p.id = d.person"
  " LEFT JOIN person_name n ON n.person = d.person WHERE g.model = ?1 ORDER BY g.position, d.date, d.no";

static void
add_gate (BookGateList *list, StoreStatement *statement, G_GNUC_UNUSED BookRecordId record)
{
  BookGateListGate *gate;

  list->gates = book_loader_grow (list->gates, list->n_gates, sizeof *list->gates);
  gate = &list->gates[list->n_gates++];
  *gate = (BookGateListGate){ sqlite3_column_int64 (statement, 0), sqlite3_column_int (statement, 1), book_column_keep (list->strings, statement, 2) };
}

static void
add_deed (BookGateList *list, StoreStatement *statement, BookRecordId record)
{
  gint64 gate = sqlite3_column_int64 (statement, 1);
  BookGateDeed *deed;

  list->deeds = book_loader_grow (list->deeds, list->n_deeds, sizeof *list->deeds);
  deed = &list->deeds[list->n_deeds++];
  *deed = (BookGateDeed){ .record = record, .gate = -1, .withdrawn = -1, .superseded = -1 };
  for (guint i = 0; i < list->n_gates; i++)
    if (list->gates[i].id == gate)
      deed->gate = (int) i;
  deed->id = sqlite3_column_int64 (statement, 0);
  deed->criterion = sqlite3_column_int64 (statement, 2);
  deed->code = book_column_keep (list->strings, statement, 3);
  deed->no = sqlite3_column_int (statement, 4);
  deed->opinion = (BookOpinion) sqlite3_column_int (statement, 5);
  deed->verdict = (BookDecisionVerdict) sqlite3_column_int (statement, 6);
  deed->at_most = sqlite3_column_int (statement, 7);
  deed->conditions = book_column_keep (list->strings, statement, 8);
  deed->reason = book_column_keep (list->strings, statement, 9);
  deed->person = book_column_keep (list->strings, statement, 10);
  deed->name = book_column_keep (list->strings, statement, 11);
  deed->date = book_column_keep (list->strings, statement, 12);
  deed->until = book_column_keep (list->strings, statement, 13);
  deed->evidence = book_column_keep (list->strings, statement, 14);
  deed->withdraws = sqlite3_column_int64 (statement, 15);
  deed->entered_by = book_column_keep (list->strings, statement, 16);
  deed->entered = book_column_keep (list->strings, statement, 17);
}

static gboolean
read_rows (BookGateList *list, StoreDb *db, gint64 model, const char *sql, BookRecordId record,
           void (*add) (BookGateList *, StoreStatement *, BookRecordId), GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more, ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, model);
  while ((ok = store_db_next (db, statement, _("What was said about the gates could not be read"), &more, error)) && more)
    add (list, statement, record);
  return ok;
}

static gboolean
replaces (const BookGateDeed *later, const BookGateDeed *earlier)
{
  if (later->record != earlier->record || later->gate != earlier->gate || later->withdraws != 0 || later->withdrawn >= 0)
    return FALSE;
  return earlier->record == BOOK_RECORD_DECISION
         || (earlier->record == BOOK_RECORD_SIGNOFF && g_str_equal (later->person, earlier->person));
}

/* Deeds of one kind and gate stand in the order of their days: what comes later comes after. */
static void
link_deeds (BookGateList *list)
{
  for (guint i = 0; i < list->n_deeds; i++)
    for (guint k = 0; k < list->n_deeds; k++)
      if (list->deeds[k].withdraws == list->deeds[i].id && list->deeds[k].record == list->deeds[i].record)
        list->deeds[i].withdrawn = (int) k;
  for (guint i = 0; i < list->n_deeds; i++)
    for (guint k = i + 1; k < list->n_deeds; k++)
      if (list->deeds[i].withdraws == 0 && replaces (&list->deeds[k], &list->deeds[i]))
        list->deeds[i].superseded = (int) k;
}

/**
 * book_gate_list_read:
 * @db: any connection
 * @model: of which model
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what was said about its gates
 */
BookGateList *
book_gate_list_read (StoreDb *db, gint64 model, GError **error)
{
  g_autoptr(BookGateList) list = g_new0 (BookGateList, 1);

  list->strings = g_string_chunk_new (512);
  if (!read_rows (list, db, model, gates_sql, BOOK_RECORD_GATE, add_gate, error)
      || !read_rows (list, db, model, signoffs_sql, BOOK_RECORD_SIGNOFF, add_deed, error)
      || !read_rows (list, db, model, waivers_sql, BOOK_RECORD_WAIVER, add_deed, error)
      || !read_rows (list, db, model, decisions_sql, BOOK_RECORD_DECISION, add_deed, error))
    return NULL;
  link_deeds (list);
  return g_steal_pointer (&list);
}

void
book_gate_list_free (BookGateList *list)
{
  if (list == NULL)
    return;

  g_free (list->gates);
  g_free (list->deeds);
  g_string_chunk_free (list->strings);
  g_free (list);
}

gboolean
book_gate_deed_stands (const BookGateDeed *deed)
{
  return deed->withdraws == 0 && deed->withdrawn < 0 && deed->superseded < 0;
}

GBytes *
book_gate_deed_evidence (StoreDb *db, const BookGateDeed *deed, GError **error)
{
  g_autoptr(GError) why = NULL;
  GBytes *document = *deed->evidence != '\0' ? store_content_read (db, deed->evidence, &why) : NULL;

  /* It cannot be attached again, as another file can. */
  if (g_error_matches (why, STORE_ERROR, STORE_ERROR_DAMAGED))
    g_set_error_literal (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                         _("What was known at the decision was altered since, past the journal: go by the printed pack, and open a copy of the "
                           "book that holds it."));
  else if (g_error_matches (why, STORE_ERROR, STORE_ERROR_MISSING))
    g_set_error_literal (error, STORE_ERROR, STORE_ERROR_MISSING,
                         _("What was known at the decision is no longer in the book: go by the printed pack, and open a copy of the book that "
                           "holds it."));
  else if (why != NULL)
    g_propagate_error (error, g_steal_pointer (&why));
  return document;
}

/**
 * book_gate_list_decision:
 * @list: what was said
 * @gate: index of a gate
 *
 * Returns: (transfer none) (nullable): the decision that stands; a later one stands in place of an earlier one
 */
const BookGateDeed *
book_gate_list_decision (const BookGateList *list, guint gate)
{
  for (guint i = 0; i < list->n_deeds; i++)
    if (list->deeds[i].record == BOOK_RECORD_DECISION && list->deeds[i].gate == (int) gate && book_gate_deed_stands (&list->deeds[i]))
      return &list->deeds[i];
  return NULL;
}
