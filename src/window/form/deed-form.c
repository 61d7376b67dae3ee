/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "deed-form.h"

#include <glib/gi18n.h>

#include "early-key.h"
#include "field-grid.h"
#include "form-field.h"
#include "tip.h"
#include "unparent.h"
#include "words.h"

#define WIDE_LENGTH 60 /* a longer line of text takes a whole row */

struct _FettleDeedForm
{
  GtkWidget parent_instance;

  FettleSitting    *sitting;
  const BookRecord *record;
  FettleDeedMake    make;
  gpointer          user_data;
  GPtrArray        *fields; /* FettleFormField, owned by the grid */
  gboolean          is_doing;

  GtkWidget *grid;
  GtkLabel  *hint;
  GtkLabel  *said;
  GtkWidget *button;
};

enum { DONE, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleDeedForm, fettle_deed_form, GTK_TYPE_WIDGET)

static FettleFormField *
find_field (FettleDeedForm *self, const char *name)
{
  for (guint i = 0; name != NULL && i < self->fields->len; i++)
    if (g_str_equal (fettle_form_field_get_field (g_ptr_array_index (self->fields, i))->name, name))
      return g_ptr_array_index (self->fields, i);
  return NULL;
}

static void
tell (FettleDeedForm *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* ---- doing it ---- */

static void
tell_error (FettleDeedForm *self, const GError *error)
{
  FettleFormField *field = find_field (self, book_error_field (error));

  if (field == NULL)
    {
      tell (self, error->message);
      return;
    }
  fettle_form_field_tell (field, error->message);
  fettle_form_field_focus (field);
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleDeedForm) self = data;
  g_autoptr(GError) error = NULL;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  self->is_doing = FALSE;
  if (self->grid == NULL)
    return;
  if (!stored)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        tell_error (self, error);
      return;
    }
  for (guint i = 0; i < self->fields->len; i++)
    fettle_form_field_revert (g_ptr_array_index (self->fields, i)); /* the drafts go */
  g_signal_emit (self, signals[DONE], 0);
  g_signal_emit (self, signals[CLOSED], 0);
}

/**
 * fettle_deed_form_do:
 * @self: a form
 *
 * Does the deed; with a wrong field the form stays, with the keyboard there.
 */
void
fettle_deed_form_do (FettleDeedForm *self)
{
  FettleFormField *wrong = NULL;
  BookEdit *edit;

  g_return_if_fail (FETTLE_IS_DEED_FORM (self));

  if (self->is_doing)
    return;
  for (guint i = self->fields->len; i-- > 0;)
    if (!fettle_form_field_check (g_ptr_array_index (self->fields, i)))
      wrong = g_ptr_array_index (self->fields, i);
  if (wrong != NULL)
    {
      fettle_form_field_focus (wrong);
      return;
    }
  tell (self, NULL);
  edit = self->make (self, self->user_data);
  if (edit == NULL)
    return;
  self->is_doing = TRUE;
  fettle_sitting_edit (self->sitting, edit, on_done, g_object_ref (self));
}

static gboolean
on_do_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_deed_form_do (FETTLE_DEED_FORM (widget));
  return TRUE;
}

static void
on_cancel (FettleDeedForm *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  on_cancel (FETTLE_DEED_FORM (widget));
  return TRUE;
}

/* ---- what is filled in ---- */

/**
 * fettle_deed_form_preset:
 * @self: a form
 * @field: name of a field it shows
 * @text: as files carry it; of a reference the exact key
 * @shown: as people read it
 *
 * What the field begins with.
 */
void
fettle_deed_form_preset (FettleDeedForm *self, const char *field, const char *text, const char *shown)
{
  FettleFormField *found;

  g_return_if_fail (FETTLE_IS_DEED_FORM (self));

  found = find_field (self, field);
  g_return_if_fail (found != NULL);
  fettle_form_field_take (found, text, shown);
}

/**
 * fettle_deed_form_say:
 * @self: a form
 * @sentence: what has to be known before
 *
 * Says it above the fields.
 */
void
fettle_deed_form_say (FettleDeedForm *self, const char *sentence)
{
  g_return_if_fail (FETTLE_IS_DEED_FORM (self));

  gtk_label_set_label (self->hint, sentence);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), TRUE);
}

/**
 * fettle_deed_form_begin:
 * @self: a form
 * @place: names its drafts ('agree-4711')
 * @model: whose records are offered
 *
 * Puts back what was typed before and gives the first empty field the keyboard, else the first, else the button.
 */
void
fettle_deed_form_begin (FettleDeedForm *self, const char *place, gint64 model)
{
  FettleFormField *first = NULL;

  g_return_if_fail (FETTLE_IS_DEED_FORM (self));

  for (guint i = 0; i < self->fields->len; i++)
    {
      FettleFormField *field = g_ptr_array_index (self->fields, i);
      g_autofree char *text = NULL;

      fettle_form_field_set_offer (field, model, 0);
      fettle_form_field_set_place (field, place);
      fettle_form_field_restore (field);
      text = fettle_form_field_dup_text (field);
      if (first == NULL && text[0] == '\0')
        first = field;
    }
  if (first == NULL && self->fields->len > 0)
    first = g_ptr_array_index (self->fields, 0);
  if (first != NULL)
    fettle_form_field_focus (first);
  else
    gtk_widget_grab_focus (self->button);
}

/**
 * fettle_deed_form_dup_text:
 * @self: a form
 * @field: name of a field it shows
 *
 * Returns: (transfer full): what stands in it, as files carry it
 */
char *
fettle_deed_form_dup_text (FettleDeedForm *self, const char *field)
{
  FettleFormField *found;

  g_return_val_if_fail (FETTLE_IS_DEED_FORM (self), NULL);

  found = find_field (self, field);
  g_return_val_if_fail (found != NULL, NULL);
  return fettle_form_field_dup_text (found);
}

/**
 * fettle_deed_form_focus:
 * @self: a form
 * @field: name of a field it shows
 *
 * Gives a field the keyboard.
 */
void
fettle_deed_form_focus (FettleDeedForm *self, const char *field)
{
  g_return_if_fail (FETTLE_IS_DEED_FORM (self));

  if (find_field (self, field) != NULL)
    fettle_form_field_focus (find_field (self, field));
}

/* ---- as a widget ---- */

static void
fettle_deed_form_dispose (GObject *object)
{
  FettleDeedForm *self = FETTLE_DEED_FORM (object);

  self->grid = NULL;
  g_ptr_array_set_size (self->fields, 0);
  fettle_unparent_children (object);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_deed_form_parent_class)->dispose (object);
}

static void
fettle_deed_form_finalize (GObject *object)
{
  g_ptr_array_unref (FETTLE_DEED_FORM (object)->fields);
  G_OBJECT_CLASS (fettle_deed_form_parent_class)->finalize (object);
}

static void
fettle_deed_form_class_init (FettleDeedFormClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GType type = G_TYPE_FROM_CLASS (class);

  object_class->dispose = fettle_deed_form_dispose;
  object_class->finalize = fettle_deed_form_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[DONE] = g_signal_new ("done", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CLOSED] = g_signal_new ("closed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_deed_form_init (FettleDeedForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  fettle_early_key (GTK_WIDGET (self), "<Control>Return|<Control>KP_Enter", on_do_key);
  self->fields = g_ptr_array_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form");
}

static void
connect_entries (FettleDeedForm *self, GtkWidget *widget)
{
  if (GTK_IS_ENTRY (widget))
    g_signal_connect_object (widget, "activate", G_CALLBACK (fettle_deed_form_do), self, G_CONNECT_SWAPPED);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    connect_entries (self, child);
}

static void
add_field (FettleDeedForm *self, const BookField *field)
{
  GtkWidget *made = fettle_form_field_new (self->sitting, field);
  gboolean is_wide = field->kind == BOOK_KIND_LONG_TEXT || (field->kind == BOOK_KIND_TEXT && field->max_length > WIDE_LENGTH);

  g_ptr_array_add (self->fields, made);
  fettle_field_grid_add (FETTLE_FIELD_GRID (self->grid), made, is_wide);
  connect_entries (self, made);
}

static GtkWidget *
make_foot (FettleDeedForm *self, const char *label)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *cancel = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave"), "name", "leave", "valign", GTK_ALIGN_CENTER,
                                    "css-classes", (const char *[]){ "plain", NULL }, NULL);
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", label, "name", "do", "valign", GTK_ALIGN_CENTER, "css-classes",
                                    (const char *[]){ "primary", NULL }, NULL);

  fettle_tip_set (button, _("Store it in the book (Ctrl+Return)"));
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "name",
                             "said", "visible", FALSE, "hexpand", TRUE, "css-classes", (const char *[]){ "open", NULL }, NULL);
  self->button = button;
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (on_cancel), self);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (fettle_deed_form_do), self);
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (line), cancel);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->said));
  return line;
}

/**
 * fettle_deed_form_new:
 * @sitting: the window's
 * @record: whose fields
 * @fields: (array zero-terminated=1): names of the fields to fill in, in order
 * @label: of the button
 * @make: makes the command
 * @user_data: for @make
 *
 * Returns: (transfer floating): a form; to be begun when it is on the screen
 */
GtkWidget *
fettle_deed_form_new (FettleSitting     *sitting,
                      BookRecordId       record,
                      const char *const *fields,
                      const char        *label,
                      FettleDeedMake     make,
                      gpointer           user_data)
{
  FettleDeedForm *self = g_object_new (FETTLE_TYPE_DEED_FORM, NULL);

  self->sitting = g_object_ref (sitting);
  self->record = book_record (record);
  self->make = make;
  self->user_data = user_data;
  self->hint = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "halign",
                             GTK_ALIGN_START, "visible", FALSE, "css-classes", (const char *[]){ "dim", NULL }, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->hint), GTK_WIDGET (self));
  self->grid = fettle_field_grid_new ();
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  for (guint i = 0; fields[i] != NULL; i++)
    add_field (self, book_field_find (self->record, fields[i]));
  gtk_widget_set_parent (make_foot (self, label), GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (self);
}
