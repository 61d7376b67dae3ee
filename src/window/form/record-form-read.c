/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The form asks the book for the record when it is shown and after each change of the book; fields decide what to do
 * with an answer (form-field.h).
 */
#include "config.h"

#include "record-form-private.h"

typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            parent;
  GArray           *presets;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_array_unref (ask->presets);
  g_free (ask);
}

static gboolean
set_preset (BookForm *form, StoreDb *db, const FettlePreset *preset, GError **error)
{
  const BookField *field = book_field_find (form->record, preset->field);
  BookValue value;

  if (preset->text == NULL)
    value = book_value_integer (preset->key);
  else if (preset->text[0] == '\0')
    value = BOOK_VALUE_EMPTY;
  else if (!book_value_parse (field, preset->text, -1, TRUE, &value, error))
    return FALSE;
  return book_form_set (form, db, preset->field, &value, error);
}

static gpointer
read_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Ask *ask = data;
  g_autoptr(BookForm) form = ask->id != 0 ? book_form_read (db, ask->record, ask->id, error)
                                          : book_form_new (db, ask->record, ask->parent, error);

  for (guint i = 0; form != NULL && ask->id == 0 && i < ask->presets->len; i++)
    if (!set_preset (form, db, &g_array_index (ask->presets, FettlePreset, i), error))
      return NULL;
  return g_steal_pointer (&form);
}

void
fettle_record_form_focus_wanted (FettleRecordForm *self)
{
  FettleFormField *field = fettle_record_form_find (self, self->focus);

  for (guint i = 0; field == NULL && self->id == 0 && i < self->fields->len; i++)
    {
      FettleFormField *each = g_ptr_array_index (self->fields, i);
      g_autofree char *text = fettle_form_field_dup_text (each);

      if (fettle_form_field_get_field (each)->required && text[0] == '\0')
        field = each;
    }
  if (field == NULL && self->fields->len > 0)
    field = g_ptr_array_index (self->fields, 0);
  if (field != NULL)
    fettle_form_field_focus (field);
  g_clear_pointer (&self->focus, g_free);
}

/* What an earlier form of this record kept. */
void
fettle_record_form_restore (FettleRecordForm *self)
{
  gboolean restored = FALSE;

  for (guint i = 0; i < self->fields->len; i++)
    if (fettle_form_field_restore (g_ptr_array_index (self->fields, i)))
      restored = TRUE;
  if (restored)
    gtk_widget_set_visible (self->restored, TRUE);
}

static void
take_form (FettleRecordForm *self)
{
  g_autofree char *place = fettle_record_form_place (self->record, self->id, self->parent);

  for (guint i = 0; i < self->fields->len; i++)
    {
      FettleFormField *field = g_ptr_array_index (self->fields, i);
      const char *name = fettle_form_field_get_field (field)->name;
      const BookFormField *read = book_form_find (self->form, name);
      const gint64 *within = g_hash_table_lookup (self->within, name);

      fettle_form_field_set_offer (field, self->form->model != 0 ? self->form->model : self->model, within != NULL ? *within : 0);
      fettle_form_field_take (field, read->text, read->shown);
      if (self->is_fresh)
        fettle_form_field_set_place (field, place);
    }
  if (self->is_fresh)
    fettle_record_form_restore (self);
  for (guint i = 0; self->is_fresh && i < self->proposals->len; i++)
    {
      const FettlePreset *proposal = &g_array_index (self->proposals, FettlePreset, i);

      fettle_form_field_propose (fettle_record_form_find (self, proposal->field), proposal->text);
    }
  self->is_fresh = FALSE;
  if (self->focus != NULL)
    fettle_record_form_focus_wanted (self);
}

/*
 * The record cannot be read, most often since it was taken back. That is news only to whoever types into it; and what they
 * type on must not land on the buttons of the window, where GTK takes a keyboard whose widget goes.
 */
static void
lose (FettleRecordForm *self, const GError *error)
{
  if (!g_error_matches (error, BOOK_ERROR, BOOK_ERROR_MISSING) || (self->form != NULL && fettle_record_form_has_changes (self)))
    fettle_sitting_say (self->sitting, error->message, NULL, NULL);
  if ((gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.keyboard-to-page", NULL);
  fettle_record_form_close (self);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleRecordForm) self = data;
  g_autoptr(GError) error = NULL;
  BookForm *form = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (self->grid == NULL || !self->is_open)
    {
      book_form_free (form);
      return;
    }
  if (form == NULL)
    {
      if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        return;
      lose (self, error);
      return;
    }
  g_clear_pointer (&self->form, book_form_free);
  self->form = form;
  take_form (self);
}

void
fettle_record_form_ask (FettleRecordForm *self)
{
  Ask *question = g_new0 (Ask, 1);

  question->record = self->record;
  question->id = self->id;
  question->parent = self->parent;
  question->presets = g_array_ref (self->presets);
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, read_work, question, ask_free, (GDestroyNotify) book_form_free, self->asking, on_read,
                      g_object_ref (self));
}
