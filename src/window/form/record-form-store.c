/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Writes carry what the book held when the field was read, so that nobody's words are overwritten unseen: the command
 * refuses, and the next answer shows both.
 */
#include "config.h"

#include "record-form-private.h"

typedef struct
{
  FettleRecordForm *form;
  gint64            id;    /* 0: a new record */
  char            **names; /* of the fields shown that are stored */
  char            **texts;
  gboolean          is_asked; /* the whole form, by whoever waits for it */
} Storing;

static void
storing_free (Storing *storing)
{
  g_object_unref (storing->form);
  g_strfreev (storing->names);
  g_strfreev (storing->texts);
  g_free (storing);
}

/* A sentence stands beside the field to blame, or below all. */
static void
tell_error (FettleRecordForm *self, const Storing *storing, const GError *error)
{
  FettleFormField *field = fettle_record_form_find (self, book_error_field (error));

  if (g_error_matches (error, BOOK_ERROR, BOOK_ERROR_CHANGED))
    {
      fettle_record_form_ask (self); /* the answer shows both */
      return;
    }
  if (field == NULL && g_strv_length (storing->names) == 1)
    field = fettle_record_form_find (self, storing->names[0]);
  if (field == NULL)
    {
      fettle_record_form_tell (self, error->message);
      return;
    }
  fettle_form_field_tell (field, error->message);
  if (storing->is_asked)
    fettle_form_field_focus (field);
}

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  Storing *storing = data;
  FettleRecordForm *self = storing->form;
  g_autoptr(GError) error = NULL;
  gint64 id = 0;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, &id, &error);
  gboolean is_shown = self->grid != NULL && self->id == storing->id;

  self->storing = FALSE;
  if (stored)
    {
      for (guint i = 0; is_shown && storing->names[i] != NULL; i++)
        {
          FettleFormField *field = fettle_record_form_find (self, storing->names[i]);

          if (field != NULL)
            fettle_form_field_stored (field, storing->texts[i]);
        }
      if (self->grid != NULL)
        fettle_record_form_tell_saved (self, storing->id != 0 ? storing->id : id);
      if (is_shown && (self->close_next || storing->id == 0 || self->is_whole))
        fettle_record_form_close (self);
    }
  else if (is_shown && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    tell_error (self, storing, error);
  self->close_next = FALSE;
  storing_free (storing);
}

/* A new record takes what is preset and not shown, too; a command of its own is told all that is shown. */
static gboolean
is_said (FettleRecordForm *self, const BookFormField *read, FettleFormField *field)
{
  if (self->id == 0)
    return field != NULL || read->text[0] != '\0';
  return field != NULL && (self->command != NULL || fettle_form_field_is_changed (field));
}

static BookEdit *
make_edit (FettleRecordForm *self, GPtrArray *names, GPtrArray *texts, GPtrArray *expected)
{
  const char *const *fields = (const char *const *) names->pdata;
  const char *const *values = (const char *const *) texts->pdata;
  const char *const *before = self->id != 0 ? (const char *const *) expected->pdata : NULL;

  return self->command != NULL ? self->command (self->id, fields, values, before, self->command_data)
                               : book_edit_record (self->record->id, self->id, fields, values, before);
}

static void
store (FettleRecordForm *self, FettleFormField *only)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new (), texts = g_ptr_array_new (), expected = g_ptr_array_new ();
  Storing *storing = g_new0 (Storing, 1);

  for (guint i = 0; i < self->form->n_fields; i++)
    {
      const BookFormField *read = &self->form->fields[i];
      FettleFormField *field = fettle_record_form_find (self, read->field->name);

      if ((only != NULL && field != only) || !is_said (self, read, field))
        continue;
      g_ptr_array_add (names, g_strdup (read->field->name));
      g_ptr_array_add (texts, field != NULL ? fettle_form_field_dup_text (field) : g_strdup (read->text));
      g_ptr_array_add (expected, (char *) (field != NULL ? fettle_form_field_get_base (field) : read->text));
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (texts, NULL);
  g_ptr_array_add (expected, NULL);
  storing->form = g_object_ref (self);
  storing->id = self->id;
  storing->is_asked = only == NULL;
  self->storing = TRUE;
  fettle_record_form_tell (self, NULL);
  fettle_sitting_edit (self->sitting, make_edit (self, names, texts, expected), on_stored, storing);
  storing->names = (char **) g_ptr_array_free (g_steal_pointer (&names), FALSE);
  storing->texts = (char **) g_ptr_array_free (g_steal_pointer (&texts), FALSE);
}

void
fettle_record_form_left (FettleRecordForm *self, FettleFormField *field)
{
  if (!self->is_open || self->form == NULL || fettle_form_field_is_asking (field))
    return;
  if (!fettle_form_field_is_changed (field))
    {
      if (self->id != 0)
        fettle_form_field_tell (field, NULL);
      return;
    }
  if (fettle_form_field_check (field) && self->id != 0 && !self->is_whole)
    store (self, field);
}

/* Enter stores: the field, or what is stored as a whole; in a new record it goes on to the next field. */
void
fettle_record_form_entered (FettleRecordForm *self, FettleFormField *field)
{
  if (self->id == 0)
    gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
  else if (self->is_whole)
    fettle_record_form_save (self);
  else
    fettle_record_form_left (self, field);
}

gboolean
fettle_record_form_has_changes (FettleRecordForm *self)
{
  for (guint i = 0; i < self->fields->len; i++)
    if (fettle_form_field_is_changed (g_ptr_array_index (self->fields, i)))
      return TRUE;
  return FALSE;
}

/**
 * fettle_record_form_save:
 * @self: a form
 *
 * Stores what is typed and closes the form; with a wrong field it stays open, with the keyboard there.
 */
void
fettle_record_form_save (FettleRecordForm *self)
{
  FettleFormField *wrong = NULL;

  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  if (!self->is_open || self->form == NULL || (self->storing && self->id == 0))
    return;
  for (guint i = self->fields->len; i-- > 0;)
    {
      FettleFormField *field = g_ptr_array_index (self->fields, i);

      if ((self->id == 0 || fettle_form_field_is_changed (field)) && (!fettle_form_field_check (field)
                                                                      || fettle_form_field_is_asking (field)))
        wrong = field;
    }
  if (wrong != NULL)
    {
      fettle_form_field_focus (wrong);
      return;
    }
  if (self->id != 0 && !fettle_record_form_has_changes (self))
    {
      fettle_record_form_close (self);
      return;
    }
  self->close_next = TRUE;
  store (self, NULL);
}
