/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-change.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

#include "book-change-carry-private.h"
#include "book-change-old-private.h"
#include "book-edit-private.h"

/*
 * Method. Carrying out writes, item by item, the revision, setting or limits that the change agreed on, and puts a new
 * revision into the plan of the round that it names, all in one action. A round that is built already is left as it is:
 * its plan says what went in, and a change that is written down afterwards does not rewrite that.
 */

typedef struct
{
  StoreAction  *action;
  StoreDb      *db;
  const BookRow *change;
  const char   *day;
  gboolean      plan; /* the round is there and not built yet */
  gboolean      whole; /* all units of the round get it, whatever serial the change names */
  gboolean      only_plan; /* settings and limits are written already */
  gint64        round;
} Carry;

static gboolean
refuse_item (const BookRow *item, const char *field, const char *sentence, GError **error)
{
  g_autofree char *with_number = NULL;

  /* Translators: the number of a change item, and a sentence about it */
  with_number = g_strdup_printf (_("Item %" PRId64 ": %s"), book_row_get (item, "no")->integer, sentence);
  return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (item->record, field), with_number);
}

static gboolean
find_revision (Carry *carry, const BookRow *item, gint64 *id, GError **error)
{
  const BookRecord *revisions = book_record (BOOK_RECORD_REVISION);
  const BookValue key[] = { *book_row_get (item, "part"), *book_row_get (item, "new_label") };
  BookValue values[BOOK_MAX_FIELDS];

  if (!book_value_is_empty (book_row_get (item, "new_revision")))
    {
      *id = book_row_get (item, "new_revision")->integer;
      return TRUE;
    }
  if (book_value_is_empty (&key[1]))
    return refuse_item (item, "new_label", _("it names no new revision: write its label."), error);
  if (!book_record_find_id (carry->db, revisions, key, id, error))
    return FALSE;
  if (*id != 0)
    return TRUE;
  book_values_begin (revisions, values);
  book_values_set (revisions, values, "part", key[0]);
  book_values_set (revisions, values, "label", key[1]);
  book_values_set (revisions, values, "date", book_value_text (carry->day, 10));
  book_values_set (revisions, values, "note",
                   *book_row_get (book_value_is_empty (book_row_get (item, "new")) ? carry->change : item,
                                  book_value_is_empty (book_row_get (item, "new")) ? "title" : "new"));
  return book_edit_store (carry->action, revisions, values, id, error);
}

/* Rows of the round's plan for a part: (element-type gint64). */
static GArray *
list_plan (Carry *carry, gint64 part, GError **error)
{
  static const char sql[] = "SELECT id FROM round_part WHERE round = ?1 AND part = ?2 ORDER BY first_serial IS NOT NULL, id";
  g_autoptr(StoreStatement) statement = store_db_statement (carry->db, sql, error);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, carry->round);
  sqlite3_bind_int64 (statement, 2, part);
  return store_db_add_integers (carry->db, statement, _("The plan of the round could not be read"), ids, error) ? g_steal_pointer (&ids) : NULL;
}

/* Whether a row of the plan takes @revision already. */
static gboolean
is_planned (Carry *carry, const GArray *ids, gint64 revision, gboolean *planned, GError **error)
{
  *planned = FALSE;
  for (guint i = 0; i < ids->len && !*planned; i++)
    {
      g_autoptr(BookRow) row = book_record_read (carry->db, book_record (BOOK_RECORD_ROUND_PART), g_array_index (ids, gint64, i), error);

      if (row == NULL)
        return FALSE;
      *planned = book_row_get (row, "revision")->integer == revision;
    }
  return TRUE;
}

/*
 * From a serial on, the round is split: the old rows stay and another one is added. Else the whole round takes the new
 * revision, of a lot that is not known yet.
 */
static gboolean
put_into_plan (Carry *carry, gint64 part, gint64 revision, GError **error)
{
  const BookRecord *plans = book_record (BOOK_RECORD_ROUND_PART);
  const BookValue none = BOOK_VALUE_EMPTY;
  const BookValue *serial = carry->whole ? &none : book_row_get (carry->change, "from_serial");
  g_autoptr(GArray) ids = list_plan (carry, part, error);
  BookValue values[BOOK_MAX_FIELDS];
  gboolean planned;
  gint64 id = 0;

  if (ids == NULL || !is_planned (carry, ids, revision, &planned, error))
    return FALSE;
  if (planned && (ids->len == 1 || !book_value_is_empty (serial)))
    return TRUE;
  if (book_value_is_empty (serial))
    {
      for (guint i = 1; i < ids->len; i++)
        if (!book_record_delete (carry->action, plans, g_array_index (ids, gint64, i), error))
          return FALSE;
      id = ids->len > 0 ? g_array_index (ids, gint64, 0) : 0;
    }
  book_values_begin (plans, values);
  book_values_set (plans, values, "round", book_value_integer (carry->round));
  book_values_set (plans, values, "part", book_value_integer (part));
  book_values_set (plans, values, "revision", book_value_integer (revision));
  book_values_set (plans, values, "first_serial", *serial);
  return book_edit_store (carry->action, plans, values, &id, error);
}

static gboolean
carry_part (Carry *carry, const BookRow *item, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];
  gint64 revision = 0;
  gint64 id = item->id;

  if (!find_revision (carry, item, &revision, error))
    return FALSE;
  book_values_fill (item->record, values, BOOK_VALUE_UNCHANGED);
  book_values_set (item->record, values, "new_revision", book_value_integer (revision));
  return book_edit_store (carry->action, item->record, values, &id, error)
         && (!carry->plan || put_into_plan (carry, book_row_get (item, "part")->integer, revision, error));
}

static gboolean
carry_setting (Carry *carry, const BookRow *item, GError **error)
{
  const BookRecord *settings = book_record (BOOK_RECORD_STEP_SETTING);
  const BookValue *name = book_row_get (item, "setting");
  g_autoptr(BookRow) before = NULL;
  BookValue values[BOOK_MAX_FIELDS];
  gint64 id;

  if (book_value_is_empty (book_row_get (item, "value")))
    return refuse_item (item, "value", _("it says no new value of the setting: write it."), error);
  if (!book_setting_in_force (carry->db, book_row_get (item, "step")->integer, name->text, name->length, carry->day, &id, error))
    return FALSE;
  if (id != 0 && (before = book_record_read (carry->db, settings, id, error)) == NULL)
    return FALSE;
  book_values_begin (settings, values);
  book_values_set (settings, values, "step", *book_row_get (item, "step"));
  book_values_set (settings, values, "name", *name);
  book_values_set (settings, values, "from_date", book_value_text (carry->day, 10));
  book_values_set (settings, values, "value", *book_row_get (item, "value"));
  if (before != NULL)
    book_values_set (settings, values, "unit", *book_row_get (before, "unit"));
  book_values_set (settings, values, "change", book_value_integer (carry->change->id));
  id = 0;
  return book_edit_store (carry->action, settings, values, &id, error);
}

static gboolean
carry_limit (Carry *carry, const BookRow *item, GError **error)
{
  static const char *const sides[] = { "nominal", "lower", "upper" };
  const BookRecord *limits = book_record (BOOK_RECORD_LIMIT);
  BookValue values[BOOK_MAX_FIELDS];
  gint64 id = 0;

  if (book_value_is_empty (book_row_get (item, "lower")) && book_value_is_empty (book_row_get (item, "upper")))
    return refuse_item (item, "lower", _("it says no new limit: write the lower, the upper or both."), error);
  book_values_begin (limits, values);
  book_values_set (limits, values, "characteristic", *book_row_get (item, "characteristic"));
  book_values_set (limits, values, "from_date", book_value_text (carry->day, 10));
  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    book_values_set (limits, values, sides[i], *book_row_get (item, sides[i]));
  book_values_set (limits, values, "change", book_value_integer (carry->change->id));
  return book_edit_store (carry->action, limits, values, &id, error);
}

static gboolean
carry_items (Carry *carry, GError **error)
{
  static const char sql[] = "SELECT id FROM change_item WHERE change = ?1 ORDER BY no";
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  gboolean ok;

  {
    g_autoptr(StoreStatement) statement = store_db_statement (carry->db, sql, error);

    if (statement == NULL)
      return FALSE;
    sqlite3_bind_int64 (statement, 1, carry->change->id);
    ok = store_db_add_integers (carry->db, statement, _("The changes could not be read"), ids, error);
  }
  for (guint i = 0; ok && i < ids->len; i++)
    {
      g_autoptr(BookRow) item = book_record_read (carry->db, book_record (BOOK_RECORD_CHANGE_ITEM), g_array_index (ids, gint64, i), error);

      if (item == NULL)
        return FALSE;
      if (!book_value_is_empty (book_row_get (item, "part")))
        ok = carry_part (carry, item, error);
      else if (carry->only_plan)
        continue;
      else if (!book_value_is_empty (book_row_get (item, "step")))
        ok = carry_setting (carry, item, error);
      else
        ok = carry_limit (carry, item, error);
    }
  return ok;
}

/* Whether the round that the change names can still be planned. */
static gboolean
look_at_round (Carry *carry, GError **error)
{
  static const char *const over[] = { "built", "tested", "decided" };
  g_autoptr(BookRow) round = NULL;

  if (book_value_is_empty (book_row_get (carry->change, "from_round")))
    return TRUE;
  carry->round = book_row_get (carry->change, "from_round")->integer;
  round = book_record_read (carry->db, book_record (BOOK_RECORD_ROUND), carry->round, error);
  if (round == NULL)
    return FALSE;
  carry->plan = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (over); i++)
    carry->plan = carry->plan && book_value_is_empty (book_row_get (round, over[i]));
  return TRUE;
}

/* A change that was agreed to and not given up. */
static BookRow *
read_agreed (StoreAction *action, gint64 id, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  g_autoptr(BookRow) change = book_record_read (store_action_db (action), changes, id, error);

  if (change == NULL)
    return NULL;
  if (!book_value_is_empty (book_row_get (change, "withdrawn")))
    book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "withdrawn"),
                       _("The change is withdrawn: propose a new one."));
  else if (book_value_is_empty (book_row_get (change, "agreed_on")))
    book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "agreed_on"),
                       _("Nobody has agreed to the change yet: that comes first."));
  else
    return g_steal_pointer (&change);
  return NULL;
}

static gboolean
carry_out (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  g_autoptr(BookRow) change = read_agreed (action, edit->id, error);
  Carry carry = { .action = action, .db = store_action_db (action), .change = change };
  BookValue values[BOOK_MAX_FIELDS];
  BookValue day;

  if (change == NULL)
    return FALSE;
  if (!book_value_is_empty (book_row_get (change, "carried_out")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "carried_out"),
                              _("The change is carried out already."));
  if (!book_edit_day (edit, changes, "carried_out", edit->data, &day, error))
    return FALSE;
  carry.day = day.text;
  book_values_fill (changes, values, BOOK_VALUE_UNCHANGED);
  book_values_set (changes, values, "carried_out", day);
  if (!look_at_round (&carry, error) || !carry_items (&carry, error)
      || !book_edit_store (action, changes, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, edit->id);
  return TRUE;
}

gboolean
book_change_put_into (BookEdit *edit, StoreAction *action, gint64 id, gint64 round, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  g_autoptr(BookRow) change = read_agreed (action, id, error);
  Carry carry = { .action = action, .db = store_action_db (action), .change = change, .day = edit->today,
                  .plan = TRUE, .whole = TRUE, .round = round };
  BookValue values[BOOK_MAX_FIELDS];

  if (change == NULL)
    return FALSE;
  carry.only_plan = !book_value_is_empty (book_row_get (change, "carried_out"));
  if (!carry_items (&carry, error))
    return FALSE;
  book_values_fill (changes, values, BOOK_VALUE_UNCHANGED);
  if (!carry.only_plan)
    book_values_set (changes, values, "carried_out", book_value_text (edit->today, 10));
  if (book_value_is_empty (book_row_get (change, "from_round")))
    book_values_set (changes, values, "from_round", book_value_integer (round));
  return book_edit_store (action, changes, values, &id, error);
}

/**
 * book_change_carry_out:
 * @change: an agreed change
 * @on: (nullable): the day from which settings and limits hold
 *
 * Writes the new revisions (as drafts), settings and limits, and puts new revisions into the plan of the round that the
 * change names, from its serial on if it names one. The plan of a round that is built already stays.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_carry_out (gint64 change, const char *on)
{
  BookEdit *edit = book_edit_new_dated (carry_out, "change-carried-out", g_strdup (on), g_free);

  edit->id = change;
  return edit;
}
