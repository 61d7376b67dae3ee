/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "record-form-private.h"

#include <glib/gi18n.h>

#include "early-key.h"
#include "field-grid.h"
#include "restored-line.h"
#include "tip.h"
#include "unparent.h"
#include "words.h"

#define WIDE_LENGTH 60 /* a longer line of text takes a whole row */

enum { SAVED, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleRecordForm, fettle_record_form, GTK_TYPE_WIDGET)

static void
preset_clear (gpointer data)
{
  FettlePreset *preset = data;

  g_free (preset->field);
  g_free (preset->text);
}

FettleFormField *
fettle_record_form_find (FettleRecordForm *self, const char *name)
{
  for (guint i = 0; name != NULL && i < self->fields->len; i++)
    if (g_str_equal (fettle_form_field_get_field (g_ptr_array_index (self->fields, i))->name, name))
      return g_ptr_array_index (self->fields, i);
  return NULL;
}

char *
fettle_record_form_place (const BookRecord *record, gint64 id, gint64 parent)
{
  return id != 0 ? g_strdup_printf ("%s-%" G_GINT64_FORMAT, record->name, id)
                 : g_strdup_printf ("%s-new-%" G_GINT64_FORMAT, record->name, parent);
}

void
fettle_record_form_tell (FettleRecordForm *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

void
fettle_record_form_tell_saved (FettleRecordForm *self, gint64 id)
{
  g_signal_emit (self, signals[SAVED], 0, id);
}

void
fettle_record_form_close (FettleRecordForm *self)
{
  if (!self->is_open)
    return;
  self->is_open = FALSE;
  g_cancellable_cancel (self->asking);
  g_signal_emit (self, signals[CLOSED], 0);
}

/* ---- what happens around it ---- */

/* The drafts are read from the disk after the form was shown. */
static void
on_restored (FettleRecordForm *self)
{
  if (self->is_open && self->form != NULL && !self->is_fresh)
    fettle_record_form_restore (self);
}

static void
on_book_changed (FettleRecordForm *self)
{
  if (self->is_open && self->id != 0)
    fettle_record_form_ask (self);
}

/* ---- what a person does ---- */

static void
on_store (FettleRecordForm *self)
{
  fettle_record_form_save (self);
}

static gboolean
on_store_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_record_form_save (FETTLE_RECORD_FORM (widget));
  return TRUE;
}

static FettleFormField *
focused_field (FettleRecordForm *self)
{
  for (guint i = 0; i < self->fields->len; i++)
    if ((gtk_widget_get_state_flags (g_ptr_array_index (self->fields, i)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
      return g_ptr_array_index (self->fields, i);
  return NULL;
}

/* In a record that is there: first what is typed in the field. A new one is left as it is, and kept. */
static void
give_up (FettleRecordForm *self)
{
  FettleFormField *field = focused_field (self);

  if (self->id != 0 && !self->is_whole && field != NULL && (fettle_form_field_is_changed (field) || fettle_form_field_is_asking (field)))
    {
      fettle_form_field_revert (field);
      return;
    }
  fettle_record_form_close (self);
}

static void
on_cancel (FettleRecordForm *self)
{
  fettle_record_form_close (self);
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  give_up (FETTLE_RECORD_FORM (widget));
  return TRUE;
}

static void
on_forget (FettleRecordForm *self)
{
  for (guint i = 0; i < self->fields->len; i++)
    fettle_form_field_revert (g_ptr_array_index (self->fields, i));
  gtk_widget_set_visible (self->restored, FALSE);
  fettle_record_form_focus (self, NULL);
}

static void
on_field_reached (FettleRecordForm *self, FettleFormField *field)
{
  if (self->help != NULL) /* else the form is going, and the keyboard with it */
    gtk_label_set_label (self->help, book_field_help (fettle_form_field_get_field (field)));
}

/* ---- as an object ---- */

static void
fettle_record_form_dispose (GObject *object)
{
  FettleRecordForm *self = FETTLE_RECORD_FORM (object);

  self->is_open = FALSE;
  self->grid = NULL;
  self->help = NULL;
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->sitting != NULL)
    g_signal_handlers_disconnect_by_data (self->sitting, self);
  g_clear_object (&self->sitting);
  g_ptr_array_set_size (self->fields, 0);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_record_form_parent_class)->dispose (object);
}

static void
fettle_record_form_finalize (GObject *object)
{
  FettleRecordForm *self = FETTLE_RECORD_FORM (object);

  g_clear_pointer (&self->form, book_form_free);
  g_array_unref (self->presets);
  g_array_unref (self->proposals);
  g_free (self->label);
  g_hash_table_unref (self->within);
  g_ptr_array_unref (self->fields);
  g_free (self->focus);
  G_OBJECT_CLASS (fettle_record_form_parent_class)->finalize (object);
}

static void
fettle_record_form_class_init (FettleRecordFormClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GType type = G_TYPE_FROM_CLASS (class);

  object_class->dispose = fettle_record_form_dispose;
  object_class->finalize = fettle_record_form_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_FORM);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[SAVED] = g_signal_new ("saved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CLOSED] = g_signal_new ("closed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
make_foot (FettleRecordForm *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->help = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 20, "max-width-chars", 90,
                             "lines", 2, "ellipsize", PANGO_ELLIPSIZE_END, "name", "help",
                             "css-classes", (const char *[]){ "dim", "small", NULL }, NULL);
  self->cancel = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave"), "name", "leave", "valign", GTK_ALIGN_CENTER,
                               "css-classes", (const char *[]){ "plain", NULL }, NULL);
  fettle_tip_set (self->cancel, _("Close the form; what is typed is kept for the next time (Escape)"));
  self->store = g_object_new (GTK_TYPE_BUTTON, "label", _("Add"), "name", "store", "valign", GTK_ALIGN_CENTER,
                              "css-classes", (const char *[]){ "primary", NULL }, NULL);
  g_signal_connect_swapped (self->cancel, "clicked", G_CALLBACK (on_cancel), self);
  g_signal_connect_swapped (self->store, "clicked", G_CALLBACK (on_store), self);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->help));
  gtk_box_append (GTK_BOX (line), self->cancel);
  gtk_box_append (GTK_BOX (line), self->store);
  return line;
}

static void
fettle_record_form_init (FettleRecordForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  fettle_early_key (GTK_WIDGET (self), "<Control>Return|<Control>KP_Enter", on_store_key);
  self->presets = g_array_new (FALSE, TRUE, sizeof (FettlePreset));
  g_array_set_clear_func (self->presets, preset_clear);
  self->proposals = g_array_new (FALSE, TRUE, sizeof (FettlePreset));
  g_array_set_clear_func (self->proposals, preset_clear);
  self->within = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->fields = g_ptr_array_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form");
  self->restored = fettle_restored_line_new (G_CALLBACK (on_forget), self);
  gtk_widget_set_parent (self->restored, GTK_WIDGET (self));
  self->grid = fettle_field_grid_new ();
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "name", "said",
                             "visible", FALSE, "css-classes", (const char *[]){ "open", NULL }, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->said), GTK_WIDGET (self));
  gtk_widget_set_parent (make_foot (self), GTK_WIDGET (self));
}

static void
add_field (FettleRecordForm *self, const BookField *field)
{
  GtkWidget *made = fettle_form_field_new (self->sitting, field);
  gboolean is_wide = field->kind == BOOK_KIND_LONG_TEXT || (field->kind == BOOK_KIND_TEXT && field->max_length > WIDE_LENGTH);

  g_signal_connect_swapped (made, "reached", G_CALLBACK (on_field_reached), self);
  g_signal_connect_swapped (made, "left", G_CALLBACK (fettle_record_form_left), self);
  g_signal_connect_swapped (made, "entered", G_CALLBACK (fettle_record_form_entered), self);
  g_ptr_array_add (self->fields, made);
  fettle_field_grid_add (FETTLE_FIELD_GRID (self->grid), made, is_wide);
}

/**
 * fettle_record_form_new:
 * @sitting: the window's
 * @record: what kind
 * @fields: (nullable) (array zero-terminated=1): names of the fields to show, in order; %NULL: all that a person can type,
 *   without the running number and what it belongs to
 *
 * Returns: (transfer floating): a form; empty until it is begun or shown
 */
GtkWidget *
fettle_record_form_new (FettleSitting *sitting, BookRecordId record, const char *const *fields)
{
  FettleRecordForm *self = g_object_new (FETTLE_TYPE_RECORD_FORM, NULL);

  self->sitting = g_object_ref (sitting);
  self->record = book_record (record);
  gtk_widget_set_name (GTK_WIDGET (self), self->record->name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, book_record_label (self->record), -1);
  for (guint i = 0; fields != NULL && fields[i] != NULL; i++)
    {
      const BookField *field = self->record->kept != NULL && g_str_equal (self->record->kept->name, fields[i])
                                   ? self->record->kept : book_field_find (self->record, fields[i]);

      g_return_val_if_fail (field != NULL, NULL);
      add_field (self, field);
    }
  for (guint i = 0; fields == NULL && i < self->record->n_fields; i++)
    {
      const BookField *field = &self->record->fields[i];

      if (g_strcmp0 (field->name, self->record->ordinal) != 0 && g_strcmp0 (field->name, self->record->parent) != 0
          && field->kind != BOOK_KIND_RECORD && field->kind != BOOK_KIND_ANY && field->kind != BOOK_KIND_CONTENT)
        add_field (self, field);
    }
  if (fields == NULL && self->record->kept != NULL)
    add_field (self, self->record->kept);
  g_signal_connect_swapped (sitting, "changed", G_CALLBACK (on_book_changed), self);
  g_signal_connect_object (fettle_sitting_get_drafts (sitting), "restored", G_CALLBACK (on_restored), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

static void
add_preset (FettleRecordForm *self, const char *field, const char *text, gint64 key)
{
  FettlePreset preset = { g_strdup (field), g_strdup (text), key };

  for (guint i = 0; i < self->presets->len; i++)
    if (g_str_equal (g_array_index (self->presets, FettlePreset, i).field, field))
      {
        g_array_remove_index (self->presets, i);
        break;
      }
  g_array_append_val (self->presets, preset);
}

/**
 * fettle_record_form_preset:
 * @self: a form
 * @field: name of a field that is no reference
 * @text: as files carry it
 *
 * What a new record begins with. It counts for all that are begun until it is set to something else.
 */
void
fettle_record_form_preset (FettleRecordForm *self, const char *field, const char *text)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));
  g_return_if_fail (book_field_find (self->record, field) != NULL);

  add_preset (self, field, text, 0);
}

/**
 * fettle_record_form_preset_key:
 * @self: a form
 * @field: name of a reference
 * @key: of the record it refers to; 0: nothing
 *
 * As fettle_record_form_preset().
 */
void
fettle_record_form_preset_key (FettleRecordForm *self, const char *field, gint64 key)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));
  g_return_if_fail (book_field_find (self->record, field) != NULL);

  add_preset (self, field, key != 0 ? NULL : "", key);
}

void
fettle_record_form_set_model (FettleRecordForm *self, gint64 model)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  self->model = model;
}

void
fettle_record_form_propose (FettleRecordForm *self, const char *field, const char *text)
{
  FettlePreset proposal = { g_strdup (field), g_strdup (text), 0 };

  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  self->is_whole = TRUE;
  if (text != NULL)
    g_array_append_val (self->proposals, proposal);
  else
    g_free (proposal.field);
}

void
fettle_record_form_set_command (FettleRecordForm *self, FettleRecordFormCommand command, gpointer user_data)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  self->command = command;
  self->command_data = user_data;
}

void
fettle_record_form_set_label (FettleRecordForm *self, const char *label)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  g_free (self->label);
  self->label = g_strdup (label);
}

/**
 * fettle_record_form_set_within:
 * @self: a form
 * @field: name of a reference
 * @parent: key of what the offered records belong to (the part of revisions); 0: all
 *
 * Narrows what a reference offers, from the next time the record is read.
 */
void
fettle_record_form_set_within (FettleRecordForm *self, const char *field, gint64 parent)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  g_hash_table_replace (self->within, g_strdup (field), g_memdup2 (&parent, sizeof parent));
}

static void
open_form (FettleRecordForm *self, gint64 id, gint64 parent)
{
  gboolean is_by_field = id != 0 && !self->is_whole;

  self->id = id;
  self->parent = parent;
  self->is_open = TRUE;
  self->is_fresh = TRUE;
  self->close_next = FALSE;
  fettle_record_form_tell (self, NULL);
  gtk_widget_set_visible (self->restored, FALSE);
  gtk_button_set_label (GTK_BUTTON (self->store), self->label != NULL ? self->label : is_by_field ? _("Done") : _("Add"));
  fettle_tip_set (self->store, is_by_field ? _("Each field is stored when it is left; this closes the form (Ctrl+Return)")
                                           : _("Store it in the book (Ctrl+Return)"));
  gtk_widget_set_visible (self->cancel, !is_by_field);
  for (guint i = 0; i < self->fields->len; i++)
    {
      fettle_form_field_set_place (g_ptr_array_index (self->fields, i), NULL);
      fettle_form_field_revert (g_ptr_array_index (self->fields, i));
    }
  fettle_record_form_ask (self);
}

/**
 * fettle_record_form_begin:
 * @self: a form
 * @parent: key of what the new record will belong to; 0: nothing
 *
 * Shows a record that is not in the book yet.
 */
void
fettle_record_form_begin (FettleRecordForm *self, gint64 parent)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  open_form (self, 0, parent);
}

/**
 * fettle_record_form_show:
 * @self: a form
 * @id: key of a record
 *
 * Shows a record of the book.
 */
void
fettle_record_form_show (FettleRecordForm *self, gint64 id)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  open_form (self, id, 0);
}

/* Of the record shown; 0: a new one. */
gint64
fettle_record_form_get_id (FettleRecordForm *self)
{
  g_return_val_if_fail (FETTLE_IS_RECORD_FORM (self), 0);

  return self->id;
}

/**
 * fettle_record_form_focus:
 * @self: a form
 * @field: (nullable): name of a field; %NULL: the first that has to be filled in
 *
 * Gives a field the keyboard, as soon as the book has answered.
 */
void
fettle_record_form_focus (FettleRecordForm *self, const char *field)
{
  g_return_if_fail (FETTLE_IS_RECORD_FORM (self));

  g_free (self->focus);
  self->focus = g_strdup (field != NULL ? field : "");
  if (self->form != NULL && !self->is_fresh)
    fettle_record_form_focus_wanted (self);
}

gboolean
fettle_record_form_has_draft (FettleSitting *sitting, BookRecordId record, gint64 parent)
{
  g_autofree char *place = fettle_record_form_place (book_record (record), 0, parent);
  g_autofree char *begins = g_strdup_printf ("form-%s-", place);
  g_auto (GStrv) fields = fettle_drafts_list (fettle_sitting_get_drafts (sitting));

  g_strdelimit (begins, "_", '-');
  for (guint i = 0; fields[i] != NULL; i++)
    if (g_str_has_prefix (fields[i], begins))
      return TRUE;
  return FALSE;
}
