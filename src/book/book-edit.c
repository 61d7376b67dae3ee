/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-edit-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-rules.h"

/* Running commands, and what all of them share. */

BookEdit *
book_edit_new_dated (BookEditDatedWork work, const char *message, gpointer data, GDestroyNotify free_data)
{
  BookEdit *edit = g_new0 (BookEdit, 1);

  edit->work = work;
  edit->message = message;
  edit->data = data;
  edit->free_data = free_data;
  return edit;
}

static gboolean
run_plain (BookEdit *edit, StoreAction *action, GError **error)
{
  return edit->plain (action, edit->data, &edit->id, error);
}

BookEdit *
book_edit_new (BookEditWork work, const char *message, gpointer data, GDestroyNotify free_data)
{
  BookEdit *edit = book_edit_new_dated (run_plain, message, data, free_data);

  edit->plain = work;
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
  if (edit->free_data != NULL)
    edit->free_data (edit->data);
  g_free (edit->today);
  g_free (edit);
}

/**
 * book_edit_set_today:
 * @edit: a command that was not run yet
 * @today: ISO 8601
 *
 * Says which day it is, so that what happened is not dated later. Without it, the day of this machine.
 */
void
book_edit_set_today (BookEdit *edit, const char *today)
{
  char *copy = g_strdup (today);

  g_free (edit->today);
  edit->today = copy;
}

void
book_values_fill (const BookRecord *record, BookValue *values, BookValue value)
{
  for (guint i = 0; i < record->n_fields; i++)
    values[i] = value;
}

void
book_values_set (const BookRecord *record, BookValue *values, const char *field, BookValue value)
{
  int i = book_field_index (record, field);

  g_assert (i >= 0);
  values[i] = value;
}

void
book_values_begin (const BookRecord *record, BookValue *values)
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

void
book_edit_tell_field (StoreAction *action, BookRecordId record, gint64 id, guint field)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", book_record (record)->name, id);
  g_variant_builder_add (&builder, "(sx)", "count", (gint64) field + 1);
  store_action_message (action, "field-set", g_variant_builder_end (&builder));
}

BookValue
book_edit_person (StoreAction *action)
{
  gint64 person = store_action_get_person (action);

  return person > 0 ? book_value_integer (person) : BOOK_VALUE_EMPTY;
}

gboolean
book_edit_text (const BookRecord *record, const char *field, const char *text, BookValue *value, GError **error)
{
  const BookField *described = book_field_find (record, field);
  GError *problem = NULL;

  if (book_value_parse (described, text != NULL ? text : "", -1, TRUE, value, &problem))
    return TRUE;
  book_error_blame (problem, described);
  g_propagate_error (error, problem);
  return FALSE;
}

gboolean
book_edit_day (BookEdit *edit, const BookRecord *record, const char *field, const char *on, BookValue *day, GError **error)
{
  const char *text = on != NULL && *on != '\0' ? on : edit->today;

  if (!book_edit_text (record, field, text, day, error))
    return FALSE;
  if (memcmp (day->text, edit->today, 10) > 0)
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (record, field),
                              _("The day has not come yet: write today's or an earlier one."));
  return TRUE;
}

gboolean
book_edit_name (StoreAction *action, const BookRecord *record, const char *field, gint64 person, const char *sentence,
                BookValue *value, GError **error)
{
  *value = person > 0 ? book_value_integer (person) : book_edit_person (action);
  return !book_value_is_empty (value)
         || book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (record, field), sentence);
}

/* A key that another record has is found here, where the field can be named, rather than at the commit. */
static gboolean
check_key (StoreDb *db, const BookRecord *record, gint64 id, const BookValue *values, GError **error)
{
  BookValue key[BOOK_MAX_KEY];
  g_autofree char *text = NULL;
  g_autofree char *sentence = NULL;
  gint64 other;

  if (record->n_key == 0)
    return TRUE;
  for (guint i = 0; i < record->n_key; i++)
    key[i] = values[book_field_index (record, record->key[i])];
  if (!book_record_find_id (db, record, key, &other, error))
    return FALSE;
  if (other == 0 || other == id)
    return TRUE;
  text = book_record_key_text_of (db, record, values, BOOK_KEY_TEXT_SHOWN, error);
  if (text == NULL)
    return FALSE;
  sentence = g_strdup_printf (_("%s '%s' is there already: choose another, or change that one."), book_record_label (record),
                              text);
  return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (record, record->key[record->n_key - 1]), sentence);
}

static gboolean
fill_ordinal (StoreDb *db, const BookRecord *record, BookValue *values, GError **error)
{
  BookValue key[BOOK_MAX_KEY];
  gint64 ordinal;
  int place;

  if (record->ordinal == NULL)
    return TRUE;
  place = book_field_index (record, record->ordinal);
  if (!book_value_is_empty (&values[place]))
    return TRUE;
  for (guint i = 0; i < record->n_key; i++)
    key[i] = values[book_field_index (record, record->key[i])];
  if (!book_record_next_ordinal (db, record, key, &ordinal, error))
    return FALSE;
  values[place] = book_value_integer (ordinal);
  return TRUE;
}

static gboolean
check_row (StoreDb *db, const BookRecord *record, gint64 id, const BookValue *values, GError **error)
{
  g_autoptr(BookRules) rules = book_rules_new (db);
  const BookField *field = NULL;
  GError *problem = NULL;

  if (book_rules_check (rules, record, values, &field, &problem) && check_key (db, record, id, values, &problem))
    return TRUE;
  if (field != NULL)
    book_error_blame (problem, field);
  g_propagate_error (error, problem);
  return FALSE;
}

gboolean
book_edit_store (StoreAction *action, const BookRecord *record, BookValue *values, gint64 *id, GError **error)
{
  StoreDb *db = store_action_db (action);
  g_autoptr(BookRow) row = NULL;

  if (*id == 0)
    return fill_ordinal (db, record, values, error) && check_row (db, record, 0, values, error)
           && book_record_insert (action, record, values, id, error);

  row = book_record_read (db, record, *id, error);
  if (row == NULL)
    return FALSE;
  for (guint i = 0; i < record->n_fields; i++)
    if (values[i].type == STORE_UNCHANGED)
      values[i] = row->values[i];
  /* A lasting record is refused at the commit, which says so. */
  return check_row (db, record, *id, values, error) && book_record_update (action, record, *id, values, error);
}

static gboolean
work (StoreAction *action, gpointer data, GError **error)
{
  BookEdit *edit = data;

  if (edit->today == NULL)
    {
      g_autoptr(GDateTime) now = g_date_time_new_now_local ();

      edit->today = g_date_time_format (now, "%Y-%m-%d");
    }
  return edit->work (edit, action, error);
}

static gboolean
refuse_work (StoreAction *action, gpointer data, gint64 *id, GError **error)
{
  g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, data);
  return FALSE;
}

/**
 * book_edit_refused:
 * @sentence: why
 *
 * A command in place of one that must not be done now: whoever waits for that hears why, and keeps what is typed.
 *
 * Returns: (transfer full): a command that stores nothing
 */
BookEdit *
book_edit_refused (const char *sentence)
{
  return book_edit_new (refuse_work, "refused", g_strdup (sentence), g_free);
}

typedef struct
{
  BookRecordId about;
  gint64       id;
  GPtrArray   *edits;
} Several;

static void
several_free (gpointer data)
{
  Several *several = data;

  g_ptr_array_unref (several->edits);
  g_free (several);
}

static gboolean
do_several (BookEdit *edit, StoreAction *action, GError **error)
{
  const Several *several = edit->data;
  GVariantBuilder builder;

  for (guint i = 0; i < several->edits->len; i++)
    {
      BookEdit *one = several->edits->pdata[i];

      book_edit_set_today (one, edit->today);
      if (!one->work (one, action, error))
        return FALSE;
    }
  /* After the commands, which told each of itself: the last message counts. */
  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", book_record (several->about)->name, several->id);
  g_variant_builder_add (&builder, "(sx)", "count", (gint64) several->edits->len);
  store_action_message (action, edit->message, g_variant_builder_end (&builder));
  return TRUE;
}

/**
 * book_edit_several:
 * @message: (transfer none): of the journal, static, that tells of a count and a record: "readings-typed", "trials-typed"
 * @about: what kind of record the sentence is about
 * @id: which
 * @edits: (transfer full) (element-type BookEdit): commands; the array frees them
 *
 * All of them or, if one is refused, none.
 *
 * Returns: (transfer full): one command, and so one action
 */
BookEdit *
book_edit_several (const char *message, BookRecordId about, gint64 id, GPtrArray *edits)
{
  Several *several = g_new0 (Several, 1);

  *several = (Several){ about, id, edits };
  return book_edit_new_dated (do_several, message, several, several_free);
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
  BookEdit    *edit; /* freed by the task, after the writer is done with it; NULL: taken back */
  StoreReceipt receipt;
  GError      *failure; /* NULL: none */
} Running;

static void
running_free (gpointer data)
{
  Running *running = data;

  book_edit_free (running->edit);
  g_clear_error (&running->failure);
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
    {
      running->failure = g_error_copy (error);
      g_task_return_error (task, error);
    }
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
 * book_edit_run_receipt:
 * @result: what @done was given
 * @receipt: (out): what was stored; all 0: nothing
 *
 * For who looks on beside the one that finishes.
 */
void
book_edit_run_receipt (GAsyncResult *result, StoreReceipt *receipt)
{
  const Running *running = g_task_get_task_data (G_TASK (result));

  *receipt = running->receipt;
}

/**
 * book_edit_run_error:
 * @result: what @done was given
 *
 * Returns: (nullable): why it was not stored, before it is finished
 */
const GError *
book_edit_run_error (GAsyncResult *result)
{
  const Running *running = g_task_get_task_data (G_TASK (result));

  return running->failure;
}

/**
 * book_edit_run_take_back:
 * @result: what @done was given of a command that was not stored
 *
 * Returns: (transfer full): the command, to be run again
 */
BookEdit *
book_edit_run_take_back (GAsyncResult *result)
{
  Running *running = g_task_get_task_data (G_TASK (result));

  return g_steal_pointer (&running->edit);
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
