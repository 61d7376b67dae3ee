/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "record-source-private.h"

#include "book-edit.h"

/* ---- drafts ---- */

char *
fettle_record_draft_name (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column)
{
  const char *field = self->shapes[column].field;

  if (row->key != 0)
    return g_strdup_printf ("grid-%s-%" G_GINT64_FORMAT "-%s", self->record->name, row->key, field);
  return g_strdup_printf ("grid-%s-%s-%s-%s-%s", self->record->name, stage, self->place, row->name, field);
}

const char *
fettle_record_kept (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column)
{
  g_autofree char *name = fettle_record_draft_name (self, row, stage, column);

  return fettle_drafts_get (self->drafts, name);
}

void
fettle_record_keep (FettleRecordSource *self, const FettleRecordRow *row, const char *stage, guint column, const char *text)
{
  g_autofree char *name = fettle_record_draft_name (self, row, stage, column);

  fettle_drafts_keep (self->drafts, name, text);
}

/* What a cell of a row that is not in the book holds so far; "" when nothing. */
const char *
fettle_record_new_text (FettleRecordSource *self, const FettleRecordRow *row, guint column)
{
  const char *text = fettle_record_kept (self, row, "new", column);

  if (text != NULL)
    return text;
  if (*row->texts[column] != '\0')
    return row->texts[column];
  text = g_hash_table_lookup (self->presets, self->shapes[column].field);
  return text != NULL ? text : "";
}

/* ---- storing ---- */

typedef struct
{
  FettleRecordSource *self;
  char               *draft; /* of the cell, or name of the new row */
  char               *text;
  char               *place;
} Deed;

static Deed *
deed_new (FettleRecordSource *self, const char *draft, const char *text)
{
  Deed *deed = g_new0 (Deed, 1);

  deed->self = g_object_ref (self);
  deed->draft = g_strdup (draft);
  deed->text = g_strdup (text);
  deed->place = g_strdup (self->place);
  return deed;
}

static void
deed_free (Deed *deed)
{
  g_object_unref (deed->self);
  g_free (deed->draft);
  g_free (deed->text);
  g_free (deed->place);
  g_free (deed);
}

static gboolean
finish (Deed *deed, GAsyncResult *result, gint64 *id)
{
  g_autoptr(GError) error = NULL;

  if (fettle_sitting_edit_finish (deed->self->sitting, result, NULL, id, &error))
    return TRUE;
  fettle_sitting_say_error (deed->self->sitting, error);
  return FALSE;
}

/* What could not be stored stays among the drafts, and so in its cell. */
static void
on_cell_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  Deed *deed = data;
  FettleRecordSource *self = deed->self;
  const char *text = g_hash_table_lookup (self->pending, deed->draft);

  if (finish (deed, result, NULL) && g_strcmp0 (fettle_drafts_get (self->drafts, deed->draft), deed->text) == 0)
    fettle_drafts_keep (self->drafts, deed->draft, NULL);
  if (g_strcmp0 (text, deed->text) == 0)
    g_hash_table_remove (self->pending, deed->draft);
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  deed_free (deed);
}

static void
forget_new (FettleRecordSource *self, const char *place, const char *name)
{
  for (guint i = 0; i < self->n_columns; i++)
    {
      g_autofree char *draft
          = g_strdup_printf ("grid-%s-new-%s-%s-%s", self->record->name, place, name, self->shapes[i].field);

      fettle_drafts_keep (self->drafts, draft, NULL);
    }
}

static void
on_row_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  Deed *deed = data;
  FettleRecordSource *self = deed->self;
  gint64 id = 0;
  gboolean stored = finish (deed, result, &id);

  g_hash_table_remove (self->storing, deed->draft);
  if (stored)
    forget_new (self, deed->place, deed->draft);
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  if (stored)
    g_signal_emit_by_name (self, "stored", id);
  deed_free (deed);
}

static gboolean
is_complete (FettleRecordSource *self, const FettleRecordRow *row)
{
  for (guint i = 0; i < self->n_columns; i++)
    if ((self->fields[i]->required || self->shapes[i].wanted) && *fettle_record_new_text (self, row, i) == '\0')
      return FALSE;
  return TRUE;
}

static void
store_new (FettleRecordSource *self, const FettleRecordRow *row)
{
  g_autoptr(GPtrArray) fields = g_ptr_array_new ();
  g_autoptr(GPtrArray) texts = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer field, value;
  BookEdit *edit;

  for (guint i = 0; i < self->n_columns; i++)
    {
      g_ptr_array_add (fields, (gpointer) self->shapes[i].field);
      g_ptr_array_add (texts, (gpointer) fettle_record_new_text (self, row, i));
    }
  g_hash_table_iter_init (&iter, self->presets);
  while (g_hash_table_iter_next (&iter, &field, &value))
    if (!g_ptr_array_find_with_equal_func (fields, field, g_str_equal, NULL))
      {
        g_ptr_array_add (fields, field);
        g_ptr_array_add (texts, value);
      }
  g_ptr_array_add (fields, NULL);
  g_ptr_array_add (texts, NULL);
  edit = book_edit_record (self->record->id, 0, (const char *const *) fields->pdata, (const char *const *) texts->pdata, NULL);
  g_hash_table_iter_init (&iter, self->refers);
  while (g_hash_table_iter_next (&iter, &field, &value))
    book_edit_record_refer (edit, field, *(gint64 *) value);
  g_hash_table_add (self->storing, g_strdup (row->name));
  fettle_sitting_edit (self->sitting, edit, on_row_stored, deed_new (self, row->name, ""));
}

void
fettle_record_commit_new (FettleRecordSource *self, const FettleRecordRow *row, guint column, const char *text)
{
  fettle_record_keep (self, row, "typed", column, NULL);
  fettle_record_keep (self, row, "new", column, *text != '\0' ? text : NULL);
  if (is_complete (self, row))
    store_new (self, row);
}

void
fettle_record_commit_stored (FettleRecordSource *self, const FettleRecordRow *row, guint column, const char *text)
{
  const char *const fields[] = { self->shapes[column].field, NULL };
  const char *const texts[] = { text, NULL };
  const char *const expected[] = { row->texts[column], NULL };
  g_autofree char *draft = fettle_record_draft_name (self, row, "typed", column);

  if (g_str_equal (text, row->texts[column]))
    {
      fettle_drafts_keep (self->drafts, draft, NULL);
      return;
    }
  fettle_drafts_keep (self->drafts, draft, text); /* until it is stored */
  g_hash_table_insert (self->pending, g_strdup (draft), g_strdup (text));
  fettle_sitting_edit (self->sitting, book_edit_record (self->record->id, row->key, fields, texts, expected), on_cell_stored,
                       deed_new (self, draft, text));
}
