/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-record.h"

#include <glib/gi18n-lib.h>

#include "book-record-private.h"
#include "book-sql-private.h"

/*
 * Deleting: a record takes with it what belongs to it (rows whose visible key begins with it, and attachments). It is
 * refused where others refer to any of these, where evidence would vanish, and where a record is lasting. An undo is
 * another matter: it takes back what was entered, and the journal keeps both.
 */

typedef struct
{
  const BookRecord *record;
  gint64            id;
} Doomed;

typedef struct
{
  StoreDb    *db;
  GArray     *rows; /* Doomed, each after what it belongs to */
  GHashTable *ids;  /* gint64 * of the rows: keys are unique in a book */
} Removal;

static gboolean
removal_has (Removal *removal, gint64 id)
{
  return g_hash_table_contains (removal->ids, &id);
}

static gboolean
list_children (StoreDb *db, const BookRecord *child, guint field, gint64 id, GArray *children, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, book_sql_children (child, field), error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  return store_db_add_integers (db, statement, _("The records could not be read"), children, error);
}

static gboolean
list_attached (StoreDb *db, const BookRecord *owner, gint64 id, const char *sql, GArray *ids, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, (int) owner->id);
  sqlite3_bind_int64 (statement, 2, id);
  return store_db_add_integers (db, statement, _("The records could not be read"), ids, error);
}

static gboolean
collect (Removal *removal, const BookRecord *record, gint64 id, GError **error)
{
  static const char attachments[] = "SELECT id FROM attachment WHERE owner_record = ?1 AND owner = ?2";
  const Doomed doomed = { record, id };
  g_autoptr(GArray) attached = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (removal_has (removal, id))
    return TRUE;
  g_array_append_val (removal->rows, doomed);
  g_hash_table_add (removal->ids, g_memdup2 (&id, sizeof id));

  for (guint child_id = 1; child_id <= BOOK_N_RECORDS; child_id++)
    {
      const BookRecord *child = book_record (child_id);
      const BookField *first = book_field_find (child, child->key[0]);
      g_autoptr(GArray) children = NULL;

      if (first->kind != BOOK_KIND_REFERENCE || first->refers != record->id)
        continue;
      children = g_array_new (FALSE, FALSE, sizeof (gint64));
      if (!list_children (removal->db, child, (guint) book_field_index (child, first->name), id, children, error))
        return FALSE;
      for (guint i = 0; i < children->len; i++)
        if (!collect (removal, child, g_array_index (children, gint64, i), error))
          return FALSE;
    }

  if (!list_attached (removal->db, record, id, attachments, attached, error))
    return FALSE;
  for (guint i = 0; i < attached->len; i++)
    if (!collect (removal, book_record (BOOK_RECORD_ATTACHMENT), g_array_index (attached, gint64, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
refuse (Removal *removal, const Doomed *doomed, const char *sentence, GError **error)
{
  g_autofree char *key = book_record_key_text (removal->db, doomed->record, doomed->id, BOOK_KEY_TEXT_SHOWN, error);

  if (key != NULL)
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_REFUSED, "%s '%s': %s", book_record_label (doomed->record), key, sentence);
  return FALSE;
}

/* Outside limits that it was ever held to, or failed; voided ones too: a voided failure is still one that was seen. */
#define READING_FAILED                                                                        \
  "(r.mark = 5 OR EXISTS (SELECT 1 FROM \"limit\" AS l WHERE l.characteristic = r.characteristic" \
  " AND (r.value < l.lower OR r.value > l.upper)))"

static gboolean
ask (Removal *removal, const Doomed *doomed, const char *sql, gboolean *found, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (removal->db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, doomed->id);
  return store_db_next (removal->db, statement, _("The record could not be read"), found, error);
}

static gboolean
check_reading (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 FROM reading AS r WHERE r.id = ?1 AND " READING_FAILED;
  gboolean failed;

  G_STATIC_ASSERT (BOOK_MARK_FAILED == 5);
  if (!ask (removal, doomed, sql, &failed, error))
    return FALSE;
  return !failed
         || refuse (removal, doomed, _("it failed, and evidence of a failure is not deleted: void it with a reason, "
                                       "or set the unit aside."), error);
}

static gboolean
check_unit (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 WHERE EXISTS (SELECT 1 FROM finding WHERE unit = ?1)"
                            " OR EXISTS (SELECT 1 FROM life_test WHERE unit = ?1 AND ended = 1)"
                            " OR EXISTS (SELECT 1 FROM reading AS r WHERE r.unit = ?1 AND " READING_FAILED ")";
  gboolean failed;

  G_STATIC_ASSERT (BOOK_LIFE_FAILED == 1);
  if (!ask (removal, doomed, sql, &failed, error))
    return FALSE;
  return !failed
         || refuse (removal, doomed, _("it failed, and evidence of a failure is not deleted: set the unit aside with a reason."),
                    error);
}

static gboolean
check_finding (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 FROM finding WHERE id = ?1 AND coalesce (affected, 1) > 0";
  gboolean seen;

  if (!ask (removal, doomed, sql, &seen, error))
    return FALSE;
  return !seen
         || refuse (removal, doomed, _("what was found is not deleted: excuse it by name and with a reason, or undo the action "
                                       "that entered it."), error);
}

static gboolean
check_life_test (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 FROM life_test WHERE id = ?1 AND ended = 1";
  gboolean failed;

  if (!ask (removal, doomed, sql, &failed, error))
    return FALSE;
  return !failed
         || refuse (removal, doomed, _("it failed, and evidence of a failure is not deleted: set the unit aside with a reason."),
                    error);
}

/* Deleting the worst day would raise every yield. */
static gboolean
check_tally (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 FROM tally WHERE id = ?1 AND reworked_good + waiting + scrapped > 0";
  gboolean lost;

  if (!ask (removal, doomed, sql, &lost, error))
    return FALSE;
  return !lost
         || refuse (removal, doomed, _("it counts pieces that were not good, and these are not deleted: correct its figures, or undo "
                                       "the action that entered it."), error);
}

static gboolean
check_event (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char sql[] = "SELECT 1 FROM unit_event WHERE id = ?1 AND kind IN (3, 6)";
  gboolean lost;

  G_STATIC_ASSERT (BOOK_EVENT_SENT_BACK == 3 && BOOK_EVENT_SCRAPPED == 6);
  if (!ask (removal, doomed, sql, &lost, error))
    return FALSE;
  return !lost
         || refuse (removal, doomed, _("that a unit was sent back or scrapped is not deleted: undo the action that entered it, or set "
                                       "the unit aside with a reason."), error);
}

/* Others built and decided by it. */
static gboolean
check_change (Removal *removal, const Doomed *doomed, GError **error)
{
  static const char agreed[] = "SELECT 1 FROM change WHERE id = ?1 AND agreed_on IS NOT NULL";
  static const char carried_out[] = "SELECT 1 FROM change WHERE id = ?1 AND carried_out IS NOT NULL";
  gboolean found;

  if (!ask (removal, doomed, carried_out, &found, error))
    return FALSE;
  if (found)
    return refuse (removal, doomed, _("it is carried out, so it stays: propose another one that goes on from it."), error);
  if (!ask (removal, doomed, agreed, &found, error))
    return FALSE;
  return !found || refuse (removal, doomed, _("it is agreed, so it stays: withdraw it with a reason."), error);
}

/* What showed a failure stays, and is taken out only by name and with a reason; so does what was agreed. */
static gboolean
check_evidence (Removal *removal, const Doomed *doomed, GError **error)
{
  switch (doomed->record->id)
    {
    case BOOK_RECORD_UNIT:
      return check_unit (removal, doomed, error);
    case BOOK_RECORD_READING:
      return check_reading (removal, doomed, error);
    case BOOK_RECORD_FINDING:
      return check_finding (removal, doomed, error);
    case BOOK_RECORD_CHANGE:
      return check_change (removal, doomed, error);
    case BOOK_RECORD_LIFE_TEST:
      return check_life_test (removal, doomed, error);
    case BOOK_RECORD_TALLY:
      return check_tally (removal, doomed, error);
    case BOOK_RECORD_UNIT_EVENT:
      return check_event (removal, doomed, error);
    default:
      return TRUE;
    }
}

static gboolean
check_not_referred_to (Removal *removal, const Doomed *doomed, GError **error)
{
  for (guint child_id = 1; child_id <= BOOK_N_RECORDS; child_id++)
    {
      const BookRecord *child = book_record (child_id);

      for (guint field = 0; field < child->n_fields; field++)
        {
          g_autoptr(GArray) children = NULL;
          gint64 first = 0;
          guint n = 0;

          if (child->fields[field].kind != BOOK_KIND_REFERENCE || child->fields[field].refers != doomed->record->id)
            continue;
          children = g_array_new (FALSE, FALSE, sizeof (gint64));
          if (!list_children (removal->db, child, field, doomed->id, children, error))
            return FALSE;
          for (guint i = children->len; i-- > 0;)
            if (!removal_has (removal, g_array_index (children, gint64, i)))
              {
                first = g_array_index (children, gint64, i);
                n++;
              }
          if (n > 0)
            {
              g_autofree char *key = book_record_key_text (removal->db, child, first, BOOK_KEY_TEXT_SHOWN, error), *sentence = NULL;

              if (key == NULL)
                return FALSE;
              if (n == 1)
                /* Translators: a kind of record, and which: "Issue 'M1/7'" */
                sentence = g_strdup_printf (_("%s '%s' refers to it: delete that first."), book_record_label (child), key);
              else
                sentence = g_strdup_printf (ngettext ("%s '%s' and %u other refer to it: delete these first.",
                                                      "%s '%s' and %u others refer to it: delete these first.", n - 1),
                                            book_record_label (child), key, n - 1);
              return refuse (removal, doomed, sentence, error);
            }
        }
    }
  return TRUE;
}

/* Of a whole model, that one row deep within stays is no help by itself: it says what can be done with the model. */
static void
advise (Removal *removal, GError **error)
{
  const Doomed *model = &g_array_index (removal->rows, Doomed, 0);
  g_autofree char *key = NULL;

  if (model->record->id != BOOK_RECORD_MODEL || error == NULL || !g_error_matches (*error, BOOK_ERROR, BOOK_ERROR_REFUSED))
    return;
  key = book_record_key_text (removal->db, model->record, model->id, BOOK_KEY_TEXT_SHOWN, NULL);
  g_prefix_error (error, _("Model '%s' holds what is not deleted; say that it is archived, and it is out of the way. "), key);
}

static gboolean
check_one (Removal *removal, const Doomed *doomed, GError **error)
{
  if (doomed->record->lasting)
    return refuse (removal, doomed, _("it stays for good: withdraw it by a later one."), error);
  return check_evidence (removal, doomed, error) && check_not_referred_to (removal, doomed, error);
}

static gboolean
check (Removal *removal, GError **error)
{
  for (guint i = 0; i < removal->rows->len; i++)
    if (!check_one (removal, &g_array_index (removal->rows, Doomed, i), error))
      {
        if (i > 0)
          advise (removal, error);
        return FALSE;
      }
  return TRUE;
}

/* A thing to do stays when what it was about goes. */
static gboolean
forget_todos (Removal *removal, StoreAction *action, const Doomed *doomed, GError **error)
{
  static const char todos[] = "SELECT id FROM todo WHERE about_record = ?1 AND about = ?2";
  const BookRecord *todo = book_record (BOOK_RECORD_TODO);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  BookValue values[BOOK_MAX_FIELDS];

  if (!list_attached (removal->db, doomed->record, doomed->id, todos, ids, error))
    return FALSE;
  for (guint i = 0; i < todo->n_fields; i++)
    values[i] = BOOK_VALUE_UNCHANGED;
  values[book_field_index (todo, "about_record")] = BOOK_VALUE_EMPTY;
  values[book_field_index (todo, "about")] = BOOK_VALUE_EMPTY;
  for (guint i = 0; i < ids->len; i++)
    if (!removal_has (removal, g_array_index (ids, gint64, i))
        && !book_record_update (action, todo, g_array_index (ids, gint64, i), values, error))
      return FALSE;
  return TRUE;
}

static gboolean
delete_all (Removal *removal, StoreAction *action, GError **error)
{
  /* Units may have gone into one another; at the commit all of them are gone. */
  if (!store_db_exec (removal->db, "PRAGMA defer_foreign_keys = ON", error))
    return FALSE;
  for (guint i = removal->rows->len; i-- > 0;)
    {
      const Doomed *doomed = &g_array_index (removal->rows, Doomed, i);
      g_autoptr(StoreStatement) statement = NULL;

      if (!forget_todos (removal, action, doomed, error))
        return FALSE;
      statement = store_db_statement (removal->db, book_sql (doomed->record, BOOK_SQL_DELETE), error);
      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, doomed->id);
      if (!store_db_run (removal->db, statement, _("The record could not be deleted"), error))
        return FALSE;
    }
  return TRUE;
}

/**
 * book_record_delete:
 * @action: an action
 * @record: what kind
 * @id: which
 * @error: return location
 *
 * Deletes a record and all that belongs to it: those whose visible key begins with it, down to the last, and
 * attachments. Refused with %BOOK_ERROR_REFUSED when others refer to any of them, when one shows a failure (a unit, reading or
 * life test that failed, a finding, a unit sent back or scrapped, a tally of pieces not good), when one is an agreed change, or when one is lasting; nothing is deleted then.
 *
 * Returns: whether it is deleted
 */
gboolean
book_record_delete (StoreAction *action, const BookRecord *record, gint64 id, GError **error)
{
  g_autoptr(GArray) rows = g_array_new (FALSE, FALSE, sizeof (Doomed));
  g_autoptr(GHashTable) ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Removal removal = { store_action_db (action), rows, ids };

  return collect (&removal, record, id, error) && check (&removal, error) && delete_all (&removal, action, error);
}

/**
 * book_record_goes_with:
 * @db: a connection in a read transaction
 * @record: what kind
 * @id: which
 * @counts: (out): by #BookRecordId: how many records book_record_delete() would take away with it, itself left out
 * @error: return location
 *
 * Returns: whether it could be deleted; else @error says why not
 */
gboolean
book_record_goes_with (StoreDb *db, const BookRecord *record, gint64 id, guint counts[BOOK_N_RECORDS + 1], GError **error)
{
  g_autoptr(GArray) rows = g_array_new (FALSE, FALSE, sizeof (Doomed));
  g_autoptr(GHashTable) ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Removal removal = { db, rows, ids };

  for (guint i = 0; i <= BOOK_N_RECORDS; i++)
    counts[i] = 0;
  if (!collect (&removal, record, id, error) || !check (&removal, error))
    return FALSE;
  for (guint i = 1; i < rows->len; i++)
    counts[g_array_index (rows, Doomed, i).record->id]++;
  return TRUE;
}
