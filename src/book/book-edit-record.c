/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-edit-private.h"

#include "book-texts-private.h"

/* Any record from the texts of a form, and away with it. */

typedef struct
{
  const BookRecord *record;
  BookTexts        *texts; /* NULL: delete it */
} Work;

static void
work_free (gpointer data)
{
  Work *work = data;

  book_texts_free (work->texts);
  g_free (work);
}

/* Where one field alone was changed, the journal says which. */
static void
tell (StoreAction *action, const BookRecord *record, gint64 id, const BookRow *before, const BookValue *values)
{
  guint changed = 0, field = 0;

  for (guint i = 0; before != NULL && i < record->n_fields; i++)
    if (!store_value_equal (&before->values[i], &values[i]))
      {
        changed++;
        field = i;
      }
  if (changed == 1)
    book_edit_tell_field (action, record->id, id, field);
  else
    book_edit_tell (action, before == NULL ? "record-added" : "record-changed", record->id, id);
}

static gboolean
save (BookEdit *edit, StoreAction *action, GError **error)
{
  Work *work = edit->data;
  StoreDb *db = store_action_db (action);
  const char *kept = book_texts_kept (work->texts);
  const gboolean is_new = edit->id == 0;
  g_autoptr(BookRow) row = NULL;
  BookValue values[BOOK_MAX_FIELDS];

  if (is_new)
    book_values_begin (work->record, values);
  else
    {
      row = book_record_read (db, work->record, edit->id, error);
      if (row == NULL)
        return FALSE;
      for (guint i = 0; i < work->record->n_fields; i++)
        values[i] = row->values[i];
    }
  if (!book_texts_take (work->texts, db, edit->id, edit->today, values, error)
      || !book_edit_store (action, work->record, values, &edit->id, error))
    return FALSE;
  tell (action, work->record, edit->id, row, values);
  if (is_new && kept != NULL && kept[0] == '\0')
    return TRUE; /* nobody must give a name */
  return kept == NULL || book_person_name_set (action, edit->id, kept, error);
}

/**
 * book_edit_record:
 * @record: what kind
 * @id: which; 0: a new one
 * @fields: (array zero-terminated=1): names of fields
 * @texts: for each of them what it is to hold, as #BookFormField has it; %NULL or "": empty, or its fallback. A reference
 *   may be an exact key text or one as people write it, without the model: 'P3-04', 'EH'
 * @expected: (nullable): for each of them the text that the form had read; %NULL: whatever it holds
 *
 * Creates or changes a record. Fields that are not named are left alone, or get what stands in a new record; an empty
 * running number is filled in. A field of which the text is still the expected one is left alone too; one that somebody
 * else changed meanwhile is refused with %BOOK_ERROR_CHANGED. Of any error, book_error_field() tells the field.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_record (BookRecordId record, gint64 id, const char *const *fields, const char *const *texts,
                  const char *const *expected)
{
  Work *work = g_new0 (Work, 1);
  BookEdit *edit = book_edit_new_dated (save, id == 0 ? "record-added" : "record-changed", work, work_free);

  work->record = book_record (record);
  work->texts = book_texts_new (record, fields, texts, expected);
  edit->id = id;
  return edit;
}

/**
 * book_edit_record_refer:
 * @edit: from book_edit_record()
 * @field: name of a reference
 * @id: what it is to refer to; 0: nothing
 *
 * Sets a reference of which the key is known, such as the model of a new issue.
 */
void
book_edit_record_refer (BookEdit *edit, const char *field, gint64 id)
{
  Work *work = edit->data;

  g_return_if_fail (edit->work == save);

  book_texts_refer (work->texts, field, id);
}

static gboolean
remove_record (BookEdit *edit, StoreAction *action, GError **error)
{
  Work *work = edit->data;

  /* Told before it goes: history names a row that is gone by the key it had last. */
  book_edit_tell (action, edit->message, work->record->id, edit->id);
  return book_record_delete (action, work->record, edit->id, error);
}

/**
 * book_edit_delete:
 * @record: what kind
 * @id: which
 *
 * Deletes a record and all that belongs to it; what is refused is told by book_record_delete().
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_delete (BookRecordId record, gint64 id)
{
  Work *work = g_new0 (Work, 1);
  BookEdit *edit = book_edit_new_dated (remove_record, "record-deleted", work, work_free);

  work->record = book_record (record);
  edit->id = id;
  return edit;
}
