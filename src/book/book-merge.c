/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-order.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"
#include "book-sql-private.h"

/*
 * Method. All that refers to the one that goes is made to refer to the one that is kept. Where both have a row of the same
 * key below them (revision A of both parts), these two are made one in the same way, but only if they say the same: what
 * the one leaves empty the other fills in, and what they say differently is refused, so that nothing said is lost. A person
 * stays in the book and is put away, since the journal names who wrote.
 */

typedef struct
{
  const BookRecord *record;
  gint64            keep;
  gint64            other;
} Merge;

typedef struct
{
  StoreAction *action;
  StoreDb     *db;
} Merging;

static gboolean merge_two (Merging          *merging,
                           const BookRecord *record,
                           gint64            keep,
                           gint64            other,
                           gboolean          alike,
                           GError          **error);

static gboolean
refuse (Merging *merging, const BookRecord *record, gint64 id, const char *sentence, GError **error)
{
  g_autofree char *key = book_record_key_text (merging->db, record, id, BOOK_KEY_TEXT_SHOWN, error);

  if (key != NULL)
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_REFUSED, "%s '%s': %s", book_record_label (record), key, sentence);
  return FALSE;
}

/* Fills in what the kept one leaves empty. With @alike, what is said differently is refused. */
static gboolean
fill_in (Merging *merging, const BookRecord *record, gint64 keep, gint64 other, gboolean alike, GError **error)
{
  g_autoptr(BookRow) kept = book_record_read (merging->db, record, keep, error);
  g_autoptr(BookRow) gone = kept != NULL ? book_record_read (merging->db, record, other, error) : NULL;
  BookValue values[BOOK_MAX_FIELDS];
  gboolean any = FALSE;

  if (gone == NULL)
    return FALSE;
  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  for (guint i = 0; i < record->n_fields; i++)
    {
      if (book_value_is_empty (&gone->values[i]))
        continue;
      if (book_value_is_empty (&kept->values[i]))
        {
          values[i] = gone->values[i];
          any = TRUE;
        }
      else if (alike && !book_record_has_in_key (record, &record->fields[i])
               && !store_value_equal (&kept->values[i], &gone->values[i]))
        return refuse (merging, record, other, _("both have it and say something different: make them alike, or take one of them away first."),
                       error);
    }
  return !any || book_edit_store (merging->action, record, values, &keep, error);
}

/* Makes one row refer to the kept record; where a row of the new key is there, both are made one. */
static gboolean
turn_row (Merging *merging, const BookRecord *child, guint field, gint64 id, gint64 keep, GError **error)
{
  g_autoptr(BookRow) row = NULL;
  BookValue values[BOOK_MAX_FIELDS], key[BOOK_MAX_KEY];
  gint64 there = 0;

  if (child->lasting)
    return refuse (merging, child, id, _("it names the one that would go, and stays for good."), error);
  row = book_record_read (merging->db, child, id, error);
  if (row == NULL)
    return FALSE;
  for (guint i = 0; i < child->n_fields; i++)
    values[i] = row->values[i];
  values[field] = book_value_integer (keep);
  if (book_record_has_in_key (child, &child->fields[field]))
    {
      for (guint i = 0; i < child->n_key; i++)
        key[i] = values[book_field_index (child, child->key[i])];
      if (!book_record_find_id (merging->db, child, key, &there, error))
        return FALSE;
    }
  /* A revision or lot stays with its part or step: another one takes its place. */
  if (there == 0 && (child->id == BOOK_RECORD_REVISION || child->id == BOOK_RECORD_LOT) && book_record_has_in_key (child, &child->fields[field])
      && !book_edit_store (merging->action, child, values, &there, error))
    return FALSE;
  if (there != 0 && there != id)
    return merge_two (merging, child, there, id, TRUE, error) && book_record_delete (merging->action, child, id, error);
  /* A row that names a part and its revision is at odds with itself until both are turned: the commit judges it. */
  return book_record_update (merging->action, child, id, values, error);
}

static gboolean
turn_references (Merging *merging, const BookRecord *record, gint64 keep, gint64 other, GError **error)
{
  for (guint child_id = 1; child_id <= BOOK_N_RECORDS; child_id++)
    {
      const BookRecord *child = book_record (child_id);

      for (guint field = 0; field < child->n_fields; field++)
        {
          g_autoptr(StoreStatement) statement = NULL;
          g_autoptr(GArray) ids = NULL;

          if (child->fields[field].kind != BOOK_KIND_REFERENCE || child->fields[field].refers != record->id)
            continue;
          statement = store_db_statement (merging->db, book_sql_children (child, field), error);
          if (statement == NULL)
            return FALSE;
          sqlite3_bind_int64 (statement, 1, other);
          ids = g_array_new (FALSE, FALSE, sizeof (gint64));
          if (!store_db_add_integers (merging->db, statement, _("The records could not be read"), ids, error))
            return FALSE;
          g_clear_pointer (&statement, store_statement_done);
          for (guint i = 0; i < ids->len; i++)
            if (!turn_row (merging, child, field, g_array_index (ids, gint64, i), keep, error))
              return FALSE;
        }
    }
  return TRUE;
}

/* Files that hang on it get the next numbers of the kept one; so does what is to be done about it. */
static gboolean
turn_hung (Merging *merging, BookRecordId what, const char *sql, const char *owner, const BookRecord *record, gint64 keep,
           gint64 other, GError **error)
{
  const BookRecord *hung = book_record (what);
  g_autoptr(StoreStatement) statement = store_db_statement (merging->db, sql, error);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, (int) record->id);
  sqlite3_bind_int64 (statement, 2, other);
  if (!store_db_add_integers (merging->db, statement, _("The records could not be read"), ids, error))
    return FALSE;
  for (guint i = 0; i < ids->len; i++)
    {
      gint64 id = g_array_index (ids, gint64, i), next;
      g_autoptr(BookRow) row = book_record_read (merging->db, hung, id, error);
      BookValue values[BOOK_MAX_FIELDS], key[BOOK_MAX_KEY];

      if (row == NULL)
        return FALSE;
      book_values_fill (hung, values, BOOK_VALUE_UNCHANGED);
      book_values_set (hung, values, owner, book_value_integer (keep));
      if (book_record_has_in_key (hung, book_field_find (hung, owner)))
        {
          for (guint k = 0; k < hung->n_key; k++)
            key[k] = g_str_equal (hung->key[k], owner) ? book_value_integer (keep) : *book_row_get (row, hung->key[k]);
          if (!book_record_next_ordinal (merging->db, hung, key, &next, error))
            return FALSE;
          book_values_set (hung, values, hung->ordinal, book_value_integer (next));
        }
      if (!book_record_update (merging->action, hung, id, values, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
merge_two (Merging *merging, const BookRecord *record, gint64 keep, gint64 other, gboolean alike, GError **error)
{
  return fill_in (merging, record, keep, other, alike, error) && turn_references (merging, record, keep, other, error)
         && turn_hung (merging, BOOK_RECORD_ATTACHMENT, "SELECT id FROM attachment WHERE owner_record = ?1 AND owner = ?2 ORDER BY no",
                       "owner", record, keep, other, error)
         && turn_hung (merging, BOOK_RECORD_TODO, "SELECT id FROM todo WHERE about_record = ?1 AND about = ?2 ORDER BY no", "about",
                       record, keep, other, error);
}

static gboolean
put_away (StoreAction *action, const BookRecord *record, gint64 person, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];

  book_values_fill (record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (record, values, "active", book_value_integer (0));
  return book_edit_store (action, record, values, &person, error);
}

static gboolean
merge (BookEdit *edit, StoreAction *action, GError **error)
{
  const Merge *work = edit->data;
  Merging merging = { action, store_action_db (action) };
  GVariantBuilder builder;

  if (work->keep == work->other)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (work->record, work->record->key[0]),
                              _("Both are the same one already: choose another one."));
  if (!merge_two (&merging, work->record, work->keep, work->other, FALSE, error))
    return FALSE;
  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", work->record->name, work->keep);
  g_variant_builder_add (&builder, "(sx)", work->record->name, work->other);
  store_action_message (action, edit->message, g_variant_builder_end (&builder));
  edit->id = work->keep;
  return work->record->id == BOOK_RECORD_PERSON ? put_away (action, work->record, work->other, error)
                                                : book_record_delete (action, work->record, work->other, error);
}

/**
 * book_can_merge:
 * @record: a kind of record
 *
 * Returns: whether book_merge() can make one of two of them
 */
gboolean
book_can_merge (BookRecordId record)
{
  return record == BOOK_RECORD_SUPPLIER || record == BOOK_RECORD_PART || record == BOOK_RECORD_PERSON || record == BOOK_RECORD_GAUGE;
}

/**
 * book_merge:
 * @record: supplier, part, person or gauge
 * @keep: the one that stays, with what it says
 * @other: the same once more
 *
 * Makes all that refers to @other refer to @keep, and takes @other away; a person is put away. Refused with
 * %BOOK_ERROR_REFUSED where a lasting record names @other, and where rows of both with the same key say different things.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_merge (BookRecordId record, gint64 keep, gint64 other)
{
  Merge *work = g_new0 (Merge, 1);

  g_return_val_if_fail (book_can_merge (record), NULL);

  *work = (Merge){ book_record (record), keep, other };
  return book_edit_new_dated (merge, "merged", work, g_free);
}
