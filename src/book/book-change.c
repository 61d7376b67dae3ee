/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-change.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-attach-private.h"
#include "book-change-old-private.h"
#include "book-edit-private.h"
#include "book-texts-private.h"

/* Proposing, agreeing, withdrawing; what carrying out writes is in book-change-carry.c. */

typedef struct
{
  gint64          model;
  gint64          change; /* of an item that is added */
  BookTexts      *texts;
  GPtrArray      *items;  /* BookTexts */
  GArray         *issues; /* gint64 */
  BookAttachable *files; /* what it came with */
  guint           n_files;
} Proposal;

static void
proposal_free (gpointer data)
{
  Proposal *proposal = data;

  book_texts_free (proposal->texts);
  g_ptr_array_unref (proposal->items);
  g_array_unref (proposal->issues);
  book_attachables_free (proposal->files, proposal->n_files);
  g_free (proposal);
}

static Proposal *
proposal_new (void)
{
  Proposal *proposal = g_new0 (Proposal, 1);

  proposal->items = g_ptr_array_new_with_free_func ((GDestroyNotify) book_texts_free);
  proposal->issues = g_array_new (FALSE, FALSE, sizeof (gint64));
  return proposal;
}

static BookValue *
value_of (const BookRecord *record, BookValue *values, const char *field)
{
  return &values[book_field_index (record, field)];
}

/* Where an item gives numbers only, they are the words too. */
static void
fill_new (BookValue *item, const BookValue *unit, char **text)
{
  const BookRecord *items = book_record (BOOK_RECORD_CHANGE_ITEM);
  const BookValue *value = value_of (items, item, "value");
  const BookValue *lower = value_of (items, item, "lower");
  const BookValue *upper = value_of (items, item, "upper");

  if (!book_value_is_empty (value_of (items, item, "new")))
    return;
  if (!book_value_is_empty (value))
    *text = book_setting_words (value, unit);
  else if (!book_value_is_empty (lower) || !book_value_is_empty (upper))
    *text = book_limits_words (lower, upper, unit);
  if (*text != NULL)
    *value_of (items, item, "new") = book_value_text (*text, -1);
}

/* The unit of what an item changes; @row keeps its text. */
static gboolean
unit_of_item (StoreDb *db, BookValue *item, const char *today, BookRow **row, BookValue *unit, GError **error)
{
  const BookRecord *items = book_record (BOOK_RECORD_CHANGE_ITEM);
  const BookValue *step = value_of (items, item, "step");
  const BookValue *setting = value_of (items, item, "setting");
  const BookValue *characteristic = value_of (items, item, "characteristic");
  BookRecordId owner = BOOK_RECORD_CHARACTERISTIC;
  gint64 id = 0;

  *unit = BOOK_VALUE_EMPTY;
  if (characteristic->type == SQLITE_INTEGER)
    id = characteristic->integer;
  else if (step->type == SQLITE_INTEGER && setting->type == SQLITE_TEXT)
    {
      owner = BOOK_RECORD_STEP_SETTING;
      if (!book_setting_in_force (db, step->integer, setting->text, setting->length, today, &id, error))
        return FALSE;
    }
  if (id == 0)
    return TRUE;
  *row = book_record_read (db, book_record (owner), id, error);
  if (*row == NULL)
    return FALSE;
  *unit = *book_row_get (*row, "unit");
  return TRUE;
}

static gboolean
store_item (BookEdit *edit, StoreAction *action, gint64 change, BookTexts *texts, GError **error)
{
  const BookRecord *items = book_record (BOOK_RECORD_CHANGE_ITEM);
  StoreDb *db = store_action_db (action);
  BookValue values[BOOK_MAX_FIELDS];
  g_autoptr(BookRow) owner = NULL;
  g_autofree char *old = NULL;
  g_autofree char *new = NULL;
  BookValue unit;
  gint64 id = 0;

  book_values_begin (items, values);
  book_values_set (items, values, "change", book_value_integer (change));
  if (!book_texts_take (texts, db, 0, edit->today, values, error) || !book_change_old (db, edit->today, values, &old, error)
      || !unit_of_item (db, values, edit->today, &owner, &unit, error))
    return FALSE;
  fill_new (values, &unit, &new);
  return book_edit_store (action, items, values, &id, error);
}

static gboolean
store_issue (StoreAction *action, gint64 change, gint64 issue, GError **error)
{
  const BookRecord *answers = book_record (BOOK_RECORD_CHANGE_ISSUE);
  BookValue values[BOOK_MAX_FIELDS];
  gint64 id = 0;

  book_values_begin (answers, values);
  book_values_set (answers, values, "change", book_value_integer (change));
  book_values_set (answers, values, "issue", book_value_integer (issue));
  return book_edit_store (action, answers, values, &id, error);
}

static gboolean
propose (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  Proposal *proposal = edit->data;
  BookValue values[BOOK_MAX_FIELDS];
  const BookValue writer = book_edit_person (action);

  book_values_begin (changes, values);
  book_values_set (changes, values, "model", book_value_integer (proposal->model));
  if (!book_texts_take (proposal->texts, store_action_db (action), 0, edit->today, values, error))
    return FALSE;
  if (book_value_is_empty (value_of (changes, values, "proposed_on")))
    book_values_set (changes, values, "proposed_on", book_value_text (edit->today, -1));
  if (book_value_is_empty (value_of (changes, values, "proposed_by")))
    book_values_set (changes, values, "proposed_by", writer);
  else if (book_value_is_empty (value_of (changes, values, "entered_by"))
           && !store_value_equal (&writer, value_of (changes, values, "proposed_by")))
    book_values_set (changes, values, "entered_by", writer);

  edit->id = 0;
  if (!book_edit_store (action, changes, values, &edit->id, error))
    return FALSE;
  for (guint i = 0; i < proposal->items->len; i++)
    if (!store_item (edit, action, edit->id, proposal->items->pdata[i], error))
      return FALSE;
  for (guint i = 0; i < proposal->issues->len; i++)
    if (!store_issue (action, edit->id, g_array_index (proposal->issues, gint64, i), error))
      return FALSE;
  for (guint i = 0; i < proposal->n_files; i++)
    if (!book_attach (action, BOOK_RECORD_CHANGE, edit->id, &proposal->files[i], NULL, error))
      return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, edit->id);
  return TRUE;
}

/**
 * book_change_propose:
 * @model: of which model
 * @fields: (array zero-terminated=1): title, reason, who proposed it and when, what is expected of it, …
 * @texts: for each of @fields
 *
 * Proposes a change, with all that book_change_propose_item() and book_change_propose_issue() add, in one action. It was
 * proposed today by who writes, if nothing else is said; where somebody else proposed it, who writes has entered it.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_propose (gint64 model, const char *const *fields, const char *const *texts)
{
  Proposal *proposal = proposal_new ();

  proposal->model = model;
  proposal->texts = book_texts_new (BOOK_RECORD_CHANGE, fields, texts, NULL);
  return book_edit_new_dated (propose, "change-proposed", proposal, proposal_free);
}

/**
 * book_change_propose_item:
 * @edit: from book_change_propose()
 * @fields: (array zero-terminated=1): part with new_label (or new_revision), step with setting and value, or characteristic
 *   with its new limits; and words
 * @texts: for each of @fields
 *
 * Adds an old-to-new. What it starts from is filled in from the book.
 */
void
book_change_propose_item (BookEdit *edit, const char *const *fields, const char *const *texts)
{
  Proposal *proposal = edit->data;

  g_return_if_fail (edit->work == propose);

  g_ptr_array_add (proposal->items, book_texts_new (BOOK_RECORD_CHANGE_ITEM, fields, texts, NULL));
}

/**
 * book_change_propose_issue:
 * @edit: from book_change_propose()
 * @issue: an issue that the change should solve
 */
void
book_change_propose_issue (BookEdit *edit, gint64 issue)
{
  Proposal *proposal = edit->data;

  g_return_if_fail (edit->work == propose);

  g_array_append_val (proposal->issues, issue);
}

/**
 * book_change_propose_attach:
 * @edit: from book_change_propose()
 * @what: (array length=n): the drawing or mail that it came with; copied, bytes are referred to
 * @n: how many
 *
 * Attaches files in the same action. What an earlier call gave is replaced.
 */
void
book_change_propose_attach (BookEdit *edit, const BookAttachable *what, guint n)
{
  Proposal *proposal = edit->data;

  g_return_if_fail (edit->work == propose);

  book_attachables_free (proposal->files, proposal->n_files);
  proposal->files = book_attachables_copy (what, n);
  proposal->n_files = n;
}

/* A change that is still open to what @step says. */
static BookRow *
read_open (StoreAction *action, gint64 change, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), changes, change, error);

  if (row == NULL)
    return NULL;
  if (!book_value_is_empty (book_row_get (row, "withdrawn")))
    book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "withdrawn"),
                       _("The change is withdrawn: propose a new one."));
  else if (!book_value_is_empty (book_row_get (row, "carried_out")))
    book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "carried_out"),
                       _("The change is carried out: propose another one that goes on from it."));
  else
    return g_steal_pointer (&row);
  return NULL;
}

static gboolean
add_item (BookEdit *edit, StoreAction *action, GError **error)
{
  Proposal *proposal = edit->data;
  g_autoptr(BookRow) row = read_open (action, proposal->change, error);

  if (row == NULL)
    return FALSE;
  if (!book_value_is_empty (book_row_get (row, "agreed_on")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (row->record, "agreed_on"),
                              _("The change is agreed as it stands: propose another one."));
  edit->id = proposal->change;
  if (!store_item (edit, action, proposal->change, proposal->items->pdata[0], error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, proposal->change);
  return TRUE;
}

/**
 * book_change_add_item:
 * @change: a change that nobody agreed to yet
 * @fields: (array zero-terminated=1): as in book_change_propose_item()
 * @texts: for each of @fields
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_add_item (gint64 change, const char *const *fields, const char *const *texts)
{
  Proposal *proposal = proposal_new ();

  proposal->change = change;
  g_ptr_array_add (proposal->items, book_texts_new (BOOK_RECORD_CHANGE_ITEM, fields, texts, NULL));
  return book_edit_new_dated (add_item, "change-item-added", proposal, proposal_free);
}

static gboolean
add_issue (BookEdit *edit, StoreAction *action, GError **error)
{
  Proposal *proposal = edit->data;

  edit->id = proposal->change;
  if (!store_issue (action, proposal->change, g_array_index (proposal->issues, gint64, 0), error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, proposal->change);
  return TRUE;
}

/**
 * book_change_add_issue:
 * @change: a change
 * @issue: an issue that it should solve
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_add_issue (gint64 change, gint64 issue)
{
  Proposal *proposal = proposal_new ();

  proposal->change = change;
  g_array_append_val (proposal->issues, issue);
  return book_edit_new_dated (add_issue, "change-issue-added", proposal, proposal_free);
}

/* An effect, an agreement, a withdrawal. */
typedef struct
{
  gint64     change;
  gint64     characteristic;
  BookEffect effect;
  gint64     by;
  gint64     second;
  gint64     round;
  char      *on;
  char      *text; /* reason, serial */
} Deed;

static void
deed_free (gpointer data)
{
  Deed *deed = data;

  g_free (deed->on);
  g_free (deed->text);
  g_free (deed);
}

static BookEdit *
deed_new (BookEditDatedWork work, const char *message, gint64 change, gint64 by, const char *on, const char *text)
{
  Deed *deed = g_new0 (Deed, 1);
  BookEdit *edit = book_edit_new_dated (work, message, deed, deed_free);

  deed->change = change;
  deed->by = by;
  deed->on = g_strdup (on);
  deed->text = g_strdup (text);
  edit->id = change;
  return edit;
}

static gboolean
set_effect (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *effects = book_record (BOOK_RECORD_CHANGE_EFFECT);
  Deed *deed = edit->data;
  const BookValue key[] = { book_value_integer (deed->change), book_value_integer (deed->characteristic) };
  BookValue values[BOOK_MAX_FIELDS];
  gint64 id;

  if (!book_record_find_id (store_action_db (action), effects, key, &id, error))
    return FALSE;
  book_values_begin (effects, values);
  book_values_set (effects, values, "change", key[0]);
  book_values_set (effects, values, "characteristic", key[1]);
  book_values_set (effects, values, "effect", book_value_integer (deed->effect));
  book_values_set (effects, values, "person", deed->by > 0 ? book_value_integer (deed->by) : book_edit_person (action));
  if (deed->second > 0)
    book_values_set (effects, values, "second_person", book_value_integer (deed->second));
  if (!book_edit_text (effects, "reason", deed->text, value_of (effects, values, "reason"), error)
      || !book_edit_store (action, effects, values, &id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, deed->change);
  return TRUE;
}

/**
 * book_change_set_effect:
 * @change: a change
 * @characteristic: a characteristic that it touches
 * @effect: whether it is measured again, or older readings still count
 * @by: who says so
 * @second: who agrees; wanted where older readings of a safety characteristic still count; 0: nobody
 * @reason: (nullable): why; wanted where older readings still count
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_set_effect (gint64 change, gint64 characteristic, BookEffect effect, gint64 by, gint64 second, const char *reason)
{
  BookEdit *edit = deed_new (set_effect, "change-effect-set", change, by, NULL, reason);
  Deed *deed = edit->data;

  deed->characteristic = characteristic;
  deed->effect = effect;
  deed->second = second;
  return edit;
}

static gboolean
has_item (StoreDb *db, gint64 change, gboolean *any, GError **error)
{
  static const char sql[] = "SELECT 1 FROM change_item WHERE change = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, change);
  return store_db_next (db, statement, _("The changes could not be read"), any, error);
}

static gboolean
agree (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  Deed *deed = edit->data;
  g_autoptr(BookRow) row = read_open (action, deed->change, error);
  BookValue values[BOOK_MAX_FIELDS];
  gboolean any;

  if (row == NULL || !has_item (store_action_db (action), deed->change, &any, error))
    return FALSE;
  if (!any)
    return book_error_refuse (error, BOOK_ERROR_REFUSED, NULL,
                              _("The change says nothing that is to be different: add an item first, old and new."));
  if (!book_value_is_empty (book_row_get (row, "agreed_on")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (changes, "agreed_on"),
                              _("The change is agreed already."));
  book_values_fill (changes, values, BOOK_VALUE_UNCHANGED);
  if (!book_edit_day (edit, changes, "agreed_on", deed->on, value_of (changes, values, "agreed_on"), error)
      || !book_edit_name (action, changes, "agreed_by", deed->by, _("A change is agreed only by name: choose first who agrees."),
                          value_of (changes, values, "agreed_by"), error))
    return FALSE;
  if (deed->round != 0)
    book_values_set (changes, values, "from_round", book_value_integer (deed->round));
  if (deed->text != NULL && !book_edit_text (changes, "from_serial", deed->text, value_of (changes, values, "from_serial"), error))
    return FALSE;
  if (!book_edit_store (action, changes, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, edit->id);
  return TRUE;
}

/**
 * book_change_agree:
 * @change: a proposed change
 * @by: who agrees
 * @on: (nullable): the day
 * @from_round: the first round built with it; 0: as proposed
 * @from_serial: (nullable): the first unit built with it, where the round is split; %NULL: as proposed
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_agree (gint64 change, gint64 by, const char *on, gint64 from_round, const char *from_serial)
{
  BookEdit *edit = deed_new (agree, "change-agreed", change, by, on, from_serial);

  ((Deed *) edit->data)->round = from_round;
  return edit;
}

static gboolean
withdraw (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *changes = book_record (BOOK_RECORD_CHANGE);
  Deed *deed = edit->data;
  g_autoptr(BookRow) row = read_open (action, deed->change, error);
  BookValue values[BOOK_MAX_FIELDS];

  if (row == NULL)
    return FALSE;
  book_values_fill (changes, values, BOOK_VALUE_UNCHANGED);
  if (!book_edit_day (edit, changes, "withdrawn", deed->on, value_of (changes, values, "withdrawn"), error)
      || !book_edit_text (changes, "withdrawn_reason", deed->text, value_of (changes, values, "withdrawn_reason"), error)
      || !book_edit_store (action, changes, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_CHANGE, edit->id);
  return TRUE;
}

/**
 * book_change_withdraw:
 * @change: a change that is not carried out
 * @on: (nullable): the day
 * @reason: why it is given up
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_change_withdraw (gint64 change, const char *on, const char *reason)
{
  return deed_new (withdraw, "change-withdrawn", change, 0, on, reason);
}
