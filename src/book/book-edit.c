/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-edit.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"
#include "book-record.h"

/*
 * Each command owns what it needs, so that it can run in the writer thread long after the widget that asked is gone.
 */

typedef gboolean (*EditWork) (BookEdit *edit, StoreAction *action, GError **error);

struct _BookEdit
{
  EditWork    work;
  const char *message; /* static */
  gint64      unit;
  gint64      characteristic;
  guint       attempt;
  guint       n;
  BookTyped   typed;
  char       *text;  /* reason, serial, initials, value of a field */
  char       *more;  /* name of a person, name of a field, moment */
  gint64      other; /* round and part, role */
  BookRecordId record;
  gint64      id; /* in or out: of the record that is edited */

  /* Of commands in other files: */
  BookEditWork   outer;
  gpointer       data;
  GDestroyNotify free_data;
};

static BookEdit *
edit_new (EditWork work, const char *message)
{
  BookEdit *edit = g_new0 (BookEdit, 1);

  edit->work = work;
  edit->message = message;
  return edit;
}

/**
 * book_edit_free:
 * @edit: (transfer full) (nullable): a command that was not run
 */
void
book_edit_free (BookEdit *edit)
{
  if (edit == NULL)
    return;
  g_free (edit->text);
  g_free (edit->more);
  if (edit->free_data != NULL)
    edit->free_data (edit->data);
  g_free (edit);
}

static gboolean
run_outer (BookEdit *edit, StoreAction *action, GError **error)
{
  return edit->outer (action, edit->data, &edit->id, error);
}

BookEdit *
book_edit_new (BookEditWork work, const char *message, gpointer data, GDestroyNotify free_data)
{
  BookEdit *edit = edit_new (run_outer, message);

  edit->outer = work;
  edit->data = data;
  edit->free_data = free_data;
  return edit;
}

static void
fill (const BookRecord *record, BookValue *values, BookValue value)
{
  for (guint i = 0; i < record->n_fields; i++)
    values[i] = value;
}

static void
set (const BookRecord *record, BookValue *values, const char *field, BookValue value)
{
  int i = book_field_index (record, field);

  g_assert (i >= 0);
  values[i] = value;
}

static void
fill_with_fallbacks (const BookRecord *record, BookValue *values)
{
  for (guint i = 0; i < record->n_fields; i++)
    values[i] = book_value_fallback (&record->fields[i]);
}

void
book_edit_tell (StoreAction *action, const char *message, BookRecordId record, gint64 id)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", book_record (record)->name, id);
  store_action_message (action, message, g_variant_builder_end (&builder));
}

static BookValue
person_of (StoreAction *action)
{
  gint64 person = store_action_get_person (action);

  return person > 0 ? book_value_integer (person) : BOOK_VALUE_EMPTY;
}

static gboolean
set_reading (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  const BookValue key[] = { book_value_integer (edit->unit), book_value_integer (edit->characteristic),
                            book_value_integer (edit->attempt), book_value_integer (edit->n) };
  BookValue values[BOOK_MAX_FIELDS];
  gboolean changed;

  if (!book_record_find_id (store_action_db (action), record, key, &edit->id, error))
    return FALSE;
  changed = edit->id != 0;
  if (changed)
    {
      g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, edit->id, error);

      if (row == NULL)
        return FALSE;
      if (book_row_get (row, "voided")->integer != 0)
        {
          g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED,
                               _("The reading is voided, so its value stays as it is: undo the void first."));
          return FALSE;
        }
      fill (record, values, BOOK_VALUE_UNCHANGED);
    }
  else
    {
      fill_with_fallbacks (record, values);
      for (guint i = 0; i < G_N_ELEMENTS (key); i++)
        set (record, values, record->key[i], key[i]);
    }
  set (record, values, "value", edit->typed.has_value ? book_value_real (edit->typed.value) : BOOK_VALUE_EMPTY);
  set (record, values, "mark", book_value_integer (edit->typed.mark));
  if (!changed || edit->more != NULL)
    set (record, values, "taken", book_value_text (edit->more, -1));
  if (!changed)
    set (record, values, "person", person_of (action));

  if (!(changed ? book_record_update (action, record, edit->id, values, error)
                : book_record_insert (action, record, values, &edit->id, error)))
    return FALSE;
  book_edit_tell (action, changed ? "reading-changed" : "reading-typed", BOOK_RECORD_READING, edit->id);
  return TRUE;
}

/**
 * book_edit_reading:
 * @unit: a unit
 * @characteristic: a characteristic
 * @attempt: from 1
 * @n: number of the repeat, from 1
 * @typed: what was typed
 * @taken: (nullable): when it was measured
 *
 * Enters a reading, or changes the one that is there; history shows old to new.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_reading (gint64 unit, gint64 characteristic, guint attempt, guint n, const BookTyped *typed, const char *taken)
{
  BookEdit *edit = edit_new (set_reading, "reading-typed");

  edit->unit = unit;
  edit->characteristic = characteristic;
  edit->attempt = attempt;
  edit->n = n;
  edit->typed = *typed;
  edit->more = g_strdup (taken);
  return edit;
}

static gboolean
void_reading (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue reason;

  if (row == NULL || !book_value_parse (book_field_find (record, "reason"), edit->text, -1, FALSE, &reason, error))
    return FALSE;
  if (book_value_is_empty (&reason))
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("A reading is voided only with a reason: write why."));
      return FALSE;
    }
  if (store_action_get_person (action) <= 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED,
                           _("A reading is voided only by name: choose first who writes."));
      return FALSE;
    }
  if (book_row_get (row, "voided")->integer != 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED, _("The reading is voided already."));
      return FALSE;
    }

  fill (record, values, BOOK_VALUE_UNCHANGED);
  set (record, values, "voided", book_value_integer (1));
  set (record, values, "reason", reason);
  /* Who measured stays; who voided is in the journal, and here where nobody was named. */
  if (book_value_is_empty (book_row_get (row, "person")))
    set (record, values, "person", person_of (action));
  book_edit_tell (action, edit->message, BOOK_RECORD_READING, edit->id);
  return book_record_update (action, record, edit->id, values, error);
}

/**
 * book_edit_void:
 * @reading: a reading
 * @reason: why
 *
 * Takes a reading out of the evidence, by name and with a reason; it stays visible.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_void (gint64 reading, const char *reason)
{
  BookEdit *edit = edit_new (void_reading, "reading-voided");

  edit->id = reading;
  edit->text = g_strdup (reason);
  return edit;
}

static gboolean
add_unit (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_UNIT);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue serial;

  if (!book_value_parse (book_field_find (record, "serial"), edit->text, -1, FALSE, &serial, error))
    return FALSE;
  fill_with_fallbacks (record, values);
  set (record, values, "round", book_value_integer (edit->unit));
  set (record, values, "serial", serial);
  if (edit->other != 0)
    set (record, values, "part", book_value_integer (edit->other));
  if (!book_record_insert (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_UNIT, edit->id);
  return TRUE;
}

/**
 * book_edit_add_unit:
 * @round: in which round
 * @serial: its serial or bag number
 * @part: the part that it is; 0: the product
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_add_unit (gint64 round, const char *serial, gint64 part)
{
  BookEdit *edit = edit_new (add_unit, "unit-added");

  edit->unit = round;
  edit->text = g_strdup (serial);
  edit->other = part;
  return edit;
}

static gboolean
add_person (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_PERSON);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue initials;

  if (!book_value_parse (book_field_find (record, "initials"), edit->text, -1, FALSE, &initials, error))
    return FALSE;
  fill_with_fallbacks (record, values);
  set (record, values, "initials", initials);
  set (record, values, "role", book_value_integer (edit->other));
  if (!book_record_insert (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_PERSON, edit->id);
  return edit->more == NULL || *edit->more == '\0' || book_person_name_set (action, edit->id, edit->more, error);
}

/**
 * book_edit_add_person:
 * @initials: short sign
 * @role: what the person does most
 * @name: (nullable): the full name, kept outside the journal
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_add_person (const char *initials, BookRole role, const char *name)
{
  BookEdit *edit = edit_new (add_person, "person-added");

  edit->text = g_strdup (initials);
  edit->other = role;
  edit->more = g_strdup (name);
  return edit;
}

static gboolean
set_field (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *record = book_record (edit->record);
  const BookField *field = book_field_find (record, edit->more);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue value;

  if (!book_value_parse (field, edit->text, -1, TRUE, &value, error))
    return FALSE;
  fill (record, values, BOOK_VALUE_UNCHANGED);
  set (record, values, edit->more, value);
  book_edit_tell (action, edit->message, edit->record, edit->id);
  return book_record_update (action, record, edit->id, values, error);
}

/**
 * book_edit_field:
 * @record: what kind
 * @id: which
 * @field: name of a field that is no reference
 * @text: what was typed
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_field (BookRecordId record, gint64 id, const char *field, const char *text)
{
  BookEdit *edit = edit_new (set_field, "field-changed");

  g_assert (book_field_find (book_record (record), field) != NULL);
  edit->record = record;
  edit->id = id;
  edit->more = g_strdup (field);
  edit->text = g_strdup (text);
  return edit;
}

static gboolean
work (StoreAction *action, gpointer data, GError **error)
{
  BookEdit *edit = data;

  return edit->work (edit, action, error);
}

/**
 * book_edit_run:
 * @book: a book
 * @edit: (transfer full): a command
 * @person: who; 0: nobody by name
 * @sitting: from store_new_sitting(); 0: none
 * @receipt: (out) (optional): what was stored
 * @id: (out) (optional): key of the record that was edited or made
 * @error: return location
 *
 * Runs a command and waits; never in the main thread of a window.
 *
 * Returns: whether it is stored
 */
gboolean
book_edit_run (Book *book, BookEdit *edit, gint64 person, gint64 sitting, StoreReceipt *receipt, gint64 *id, GError **error)
{
  g_autoptr(BookEdit) owned = edit;
  const StoreIntent intent = { .action = owned->message, .person = person, .sitting = sitting };

  if (id != NULL)
    *id = 0;
  if (!store_write (book_get_store (book), &intent, work, owned, receipt, NULL, error))
    return FALSE;
  if (id != NULL)
    *id = owned->id;
  return TRUE;
}

typedef struct
{
  Store       *store;
  BookEdit    *edit; /* freed by the task, after the writer is done with it */
  StoreReceipt receipt;
} Running;

static void
running_free (gpointer data)
{
  Running *running = data;

  book_edit_free (running->edit);
  g_free (running);
}

static void
written (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GTask) task = data;
  Running *running = g_task_get_task_data (task);
  GError *error = NULL;

  if (store_write_finish (running->store, result, &running->receipt, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/**
 * book_edit_run_async:
 * @book: a book, kept open until @done was called
 * @edit: (transfer full): a command
 * @person: who; 0: nobody by name
 * @sitting: from store_new_sitting(); 0: none
 * @cancellable: (nullable): stops it with nothing stored
 * @done: called in the caller's main context
 * @user_data: for @done
 *
 * Queues a command. Commands are done in the order in which they were queued.
 */
void
book_edit_run_async (Book *book, BookEdit *edit, gint64 person, gint64 sitting, GCancellable *cancellable,
                     GAsyncReadyCallback done, gpointer user_data)
{
  const StoreIntent intent = { .action = edit->message, .person = person, .sitting = sitting };
  GTask *task = g_task_new (NULL, NULL, done, user_data);
  Running *running = g_new0 (Running, 1);

  running->store = book_get_store (book);
  running->edit = edit;
  g_task_set_source_tag (task, book_edit_run_async);
  g_task_set_task_data (task, running, running_free);
  store_write_async (running->store, &intent, work, edit, NULL, cancellable, written, task);
}

/**
 * book_edit_run_finish:
 * @book: a book
 * @result: what @done was given
 * @receipt: (out) (optional): what was stored
 * @id: (out) (optional): key of the record that was edited or made
 * @error: return location
 *
 * Returns: whether it is stored
 */
gboolean
book_edit_run_finish (Book *book, GAsyncResult *result, StoreReceipt *receipt, gint64 *id, GError **error)
{
  Running *running = g_task_get_task_data (G_TASK (result));

  if (receipt != NULL)
    *receipt = running->receipt;
  if (id != NULL)
    *id = 0;
  if (!g_task_propagate_boolean (G_TASK (result), error))
    return FALSE;
  if (id != NULL)
    *id = running->edit->id;
  return TRUE;
}
