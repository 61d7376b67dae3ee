/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The book is asked for some dozens of records that match what is typed, each time that changes; an answer to an older
 * question is dropped by its cancellable.
 */
#include "config.h"

#include "reference-editor.h"

#include <glib/gi18n.h>

#include "book-form.h"
#include "closed-list.h"
#include "record-form.h"
#include "tip.h"
#include "unparent.h"

#define MOST_ROWS 60
#define LIST_HEIGHT 260
#define LIST_WIDTH 260

struct _FettleReferenceEditor
{
  GtkWidget parent_instance;

  const BookField *field;
  FettleSitting   *sitting;
  gint64           model;
  gint64           within;
  char            *text; /* "": none */
  GCancellable    *asking;
  gboolean         is_listed;  /* the list shows what matches what is typed now */
  gboolean         take_first; /* Enter was pressed before it did */

  GtkWidget     *button;
  GtkLabel      *label;
  GtkWidget     *popover; /* NULL until opened, as all in it */
  GtkWidget     *search;
  GtkListBox    *list;
  GtkLabel      *more;
  GtkWidget     *form; /* of a new one, below; NULL: none */
};

static void fettle_reference_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleReferenceEditor, fettle_reference_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_reference_editor_editor_init))

static void
show_label (FettleReferenceEditor *self, const char *label)
{
  const char *shown = label[0] != '\0' ? label : self->text[0] != '\0' ? self->text : self->field->required ? _("choose") : _("none");

  fettle_closed_list_show (self->button, self->label, book_field_label (self->field), shown, self->text[0] == '\0');
}

static void
set (FettleReferenceEditor *self, const char *text, const char *label)
{
  g_free (self->text);
  self->text = g_strdup (text);
  show_label (self, label);
}

/* ---- the list ---- */

static gboolean can_add (const BookField *field);

typedef struct
{
  const BookRecord *record;
  gint64            model;
  gint64            within;
  char             *words;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->words);
  g_free (ask);
}

static gpointer
list_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Ask *ask = data;

  return book_options_list (db, ask->record, ask->model, ask->within, ask->words, MOST_ROWS + 1, error);
}

static void
add_row (FettleReferenceEditor *self, const char *text, const char *label)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *words = g_object_new (GTK_TYPE_LABEL, "label", label, "xalign", 0.0f, "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  fettle_tip_set (words, label);
  if (text[0] == '\0')
    gtk_widget_add_css_class (words, "dim");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), words);
  g_object_set_data_full (G_OBJECT (row), "text", g_strdup (text), g_free);
  g_object_set_data_full (G_OBJECT (row), "label", g_strdup (text[0] != '\0' ? label : ""), g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_list_box_append (self->list, row);
  if (g_str_equal (text, self->text))
    gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (row));
}

/* What is not in the list yet is made without leaving the form. */
static void
add_new_row (FettleReferenceEditor *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  /* Translators: adds a record that cannot be chosen yet, called as was typed: 'Add a new one: Turner' */
  g_autofree char *words = typed[0] != '\0' ? g_strdup_printf (_("Add a new one: %s"), typed) : g_strdup (_("Add a new one…"));
  GtkListBoxRow *row;
  int last = 0;

  add_row (self, "", words);
  while (gtk_list_box_get_row_at_index (self->list, last + 1) != NULL)
    last++;
  row = gtk_list_box_get_row_at_index (self->list, last);
  gtk_widget_set_name (GTK_WIDGET (row), "reference-add");
  g_object_set_data (G_OBJECT (row), "adds", GINT_TO_POINTER (TRUE));
  gtk_list_box_unselect_row (self->list, row);
}

static void
fill (FettleReferenceEditor *self, GPtrArray *options)
{
  gboolean searched = gtk_editable_get_text (GTK_EDITABLE (self->search))[0] != '\0';
  const char *more = "";
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  if (!self->field->required && !searched)
    add_row (self, "", _("none"));
  for (guint i = 0; i < MIN (options->len, MOST_ROWS); i++)
    {
      const BookOption *option = g_ptr_array_index (options, i);

      add_row (self, option->text, option->label);
    }
  if (can_add (self->field))
    add_new_row (self);
  if (options->len == 0)
    more = searched ? _("Nothing in the book is called so.") : _("There is nothing to choose from yet.");
  else if (options->len > MOST_ROWS)
    more = _("There are more: type a part of the name.");
  gtk_label_set_label (self->more, more);
  gtk_widget_set_visible (GTK_WIDGET (self->more), more[0] != '\0');
}

/* ---- a new one ---- */

/* Not what is told of other records: only what stands by itself and has a name. */
static gboolean
can_add (const BookField *field)
{
  const BookRecord *record = book_record (field->refers);

  return record->n_key > 0 && record->ordinal == NULL && !record->lasting
         && book_field_find (record, record->key[record->n_key - 1])->kind == BOOK_KIND_TEXT;
}

static void
drop_form (gpointer data)
{
  g_autoptr(FettleReferenceEditor) self = data;

  g_clear_pointer (&self->form, gtk_widget_unparent);
}

static void
end_form (FettleReferenceEditor *self)
{
  if (self->form == NULL || !gtk_widget_get_visible (self->form) || self->button == NULL)
    return;
  gtk_widget_grab_focus (self->button);
  gtk_widget_set_visible (self->form, FALSE);
  g_idle_add_once (drop_form, g_object_ref (self)); /* it is telling of this just now */
}

typedef struct
{
  const BookRecord *record;
  gint64            id;
} Made;

static gpointer
made_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Made *made = data;
  BookOption *option = g_new0 (BookOption, 1);

  option->id = made->id;
  option->text = book_record_key_text (db, made->record, made->id, BOOK_KEY_TEXT_EXACT, error);
  option->label = option->text != NULL ? book_record_key_text (db, made->record, made->id, BOOK_KEY_TEXT_SHORT, error) : NULL;
  if (option->label != NULL)
    return option;
  book_option_free (option);
  return NULL;
}

static void
on_made_read (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleReferenceEditor) self = data;
  g_autoptr(GError) error = NULL;
  BookOption *option = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (option == NULL)
    return;
  if (self->button != NULL)
    {
      set (self, option->text, option->label);
      fettle_editor_tell_changed (FETTLE_EDITOR (self));
      fettle_editor_tell_chosen (FETTLE_EDITOR (self));
    }
  book_option_free (option);
}

static void
on_made (FettleReferenceEditor *self, gint64 id)
{
  Made *made = g_new0 (Made, 1);
  g_autoptr(GCancellable) never = g_cancellable_new ();

  made->record = book_record (self->field->refers);
  made->id = id;
  fettle_sitting_ask (self->sitting, made_work, made, g_free, (GDestroyNotify) book_option_free, never, on_made_read, g_object_ref (self));
}

/* What must be filled in, what it is called, and what it belongs to where that is not known. */
static char **
fields_of_new (FettleReferenceEditor *self, gint64 *parent)
{
  const BookRecord *record = book_record (self->field->refers);
  const BookField *above = record->parent != NULL ? book_field_find (record, record->parent) : NULL;
  g_autoptr(GStrvBuilder) names = g_strv_builder_new ();

  *parent = above == NULL ? 0 : above->refers == BOOK_RECORD_MODEL ? self->model : self->within;
  for (guint i = 0; i < record->n_fields; i++)
    {
      const BookField *field = &record->fields[i];

      if (field == above ? *parent == 0
                         : (field->required && field->fallback == NULL) || g_str_equal (field->name, "name")
                               || book_record_has_in_key (record, field))
        g_strv_builder_add (names, field->name);
    }
  if (record->kept != NULL)
    g_strv_builder_add (names, record->kept->name);
  return g_strv_builder_end (names);
}

static void
begin_new (FettleReferenceEditor *self)
{
  const BookRecord *record = book_record (self->field->refers);
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  gint64 parent;
  g_auto (GStrv) names = fields_of_new (self, &parent);

  g_clear_pointer (&self->form, gtk_widget_unparent);
  self->form = fettle_record_form_new (self->sitting, record->id, (const char *const *) names);
  gtk_widget_add_css_class (self->form, "form-place");
  gtk_widget_set_parent (self->form, GTK_WIDGET (self));
  g_signal_connect_object (self->form, "saved", G_CALLBACK (on_made), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->form, "closed", G_CALLBACK (end_form), self, G_CONNECT_SWAPPED);
  if (typed[0] != '\0')
    fettle_record_form_preset (FETTLE_RECORD_FORM (self->form), record->key[record->n_key - 1], typed);
  fettle_record_form_begin (FETTLE_RECORD_FORM (self->form), parent);
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  fettle_record_form_focus (FETTLE_RECORD_FORM (self->form), NULL);
}

static void
pick (FettleReferenceEditor *self, GtkListBoxRow *row)
{
  const char *text = g_object_get_data (G_OBJECT (row), "text");
  gboolean same = g_str_equal (text, self->text);

  if (g_object_get_data (G_OBJECT (row), "adds") != NULL)
    {
      begin_new (self);
      return;
    }
  set (self, text, g_object_get_data (G_OBJECT (row), "label"));
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  if (same)
    return;
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

static void
pick_first (FettleReferenceEditor *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0);

  self->take_first = FALSE;
  if (row != NULL && gtk_editable_get_text (GTK_EDITABLE (self->search))[0] != '\0')
    pick (self, row);
}

static void
on_listed (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleReferenceEditor) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) options = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (options != NULL && self->list != NULL)
    {
      fill (self, options);
      self->is_listed = TRUE;
      if (self->take_first)
        pick_first (self);
    }
  else if (options == NULL)
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

static void
ask (FettleReferenceEditor *self)
{
  Ask *question = g_new0 (Ask, 1);

  question->record = book_record (self->field->refers);
  question->model = self->model;
  question->within = self->within;
  question->words = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->search)));
  self->is_listed = FALSE;
  self->take_first = FALSE;
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, list_work, question, ask_free, (GDestroyNotify) g_ptr_array_unref, self->asking,
                      on_listed, g_object_ref (self));
}

/* Enter in the search takes the first that is found, as soon as it is. */
static void
on_search_activate (FettleReferenceEditor *self)
{
  if (self->is_listed)
    pick_first (self);
  else
    self->take_first = TRUE;
}

static gboolean
on_search_key (FettleReferenceEditor *self, guint keyval)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0);

  if ((keyval != GDK_KEY_Down && keyval != GDK_KEY_KP_Down) || row == NULL)
    return GDK_EVENT_PROPAGATE;
  gtk_widget_grab_focus (GTK_WIDGET (row));
  return GDK_EVENT_STOP;
}

static void
on_closed (FettleReferenceEditor *self)
{
  g_cancellable_cancel (self->asking);
  gtk_widget_grab_focus (self->button);
}

static void
focus_search (gpointer data)
{
  g_autoptr(GtkWidget) search = data;

  if (gtk_widget_get_mapped (search))
    gtk_widget_grab_focus (search);
}

static void
on_search_mapped (GtkWidget *search)
{
  g_idle_add_once (focus_search, g_object_ref (search));
}

static void
make_popover (FettleReferenceEditor *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER,
                                    "propagate-natural-height", TRUE, "max-content-height", LIST_HEIGHT,
                                    "min-content-width", LIST_WIDTH, NULL);
  GtkEventController *key = gtk_event_controller_key_new ();
  g_autofree char *what = g_strdup_printf (_("Find: %s"), book_field_label (self->field));

  self->search = g_object_new (GTK_TYPE_ENTRY, "placeholder-text", _("Type a part of its name"), "name", "reference-search", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_search_key), self);
  gtk_widget_add_controller (self->search, key);
  g_signal_connect_swapped (self->search, "changed", G_CALLBACK (ask), self);
  g_signal_connect_swapped (self->search, "activate", G_CALLBACK (on_search_activate), self);
  g_signal_connect (self->search, "map", G_CALLBACK (on_search_mapped), NULL);
  self->list = g_object_new (GTK_TYPE_LIST_BOX, "name", "references", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, book_field_label (self->field), -1);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (pick), self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), GTK_WIDGET (self->list));
  self->more = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "max-width-chars", 34, "css-classes",
                             (const char *[]){ "dim", "small", NULL }, NULL);
  gtk_box_append (GTK_BOX (box), self->search);
  gtk_box_append (GTK_BOX (box), scroll);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->more));
  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), box);
  g_signal_connect_swapped (self->popover, "closed", G_CALLBACK (on_closed), self);
  gtk_widget_set_parent (self->popover, self->button);
}

static void
open_list (FettleReferenceEditor *self)
{
  if (self->popover == NULL)
    make_popover (self);
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  ask (self);
  fettle_closed_list_open (self->button, GTK_POPOVER (self->popover));
}

/* A letter on the closed button opens the list and begins the search. */
static gboolean
on_key (FettleReferenceEditor *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  gunichar letter = gdk_keyval_to_unicode (keyval);
  char text[7] = "";

  if ((modifiers & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || !g_unichar_isgraph (letter)
      || (self->popover != NULL && gtk_widget_get_visible (self->popover)))
    return GDK_EVENT_PROPAGATE;
  open_list (self);
  text[g_unichar_to_utf8 (letter, text)] = '\0';
  gtk_editable_set_text (GTK_EDITABLE (self->search), text);
  gtk_editable_set_position (GTK_EDITABLE (self->search), -1);
  return GDK_EVENT_STOP;
}

/* ---- as an editor ---- */

static char *
fettle_reference_editor_dup_text (FettleEditor *editor)
{
  return g_strdup (FETTLE_REFERENCE_EDITOR (editor)->text);
}

static char *
fettle_reference_editor_dup_shown (FettleEditor *editor)
{
  FettleReferenceEditor *self = FETTLE_REFERENCE_EDITOR (editor);

  return g_strdup (self->text[0] != '\0' ? gtk_label_get_label (self->label) : "");
}

static void
fettle_reference_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  set (FETTLE_REFERENCE_EDITOR (editor), text, shown);
}

static GtkWidget *
fettle_reference_editor_get_control (FettleEditor *editor)
{
  return FETTLE_REFERENCE_EDITOR (editor)->button;
}

static void
fettle_reference_editor_set_offer (FettleEditor *editor, gint64 model, gint64 within)
{
  FETTLE_REFERENCE_EDITOR (editor)->model = model;
  FETTLE_REFERENCE_EDITOR (editor)->within = within;
}

static void
fettle_reference_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_reference_editor_dup_text;
  iface->set_text = fettle_reference_editor_set_text;
  iface->get_control = fettle_reference_editor_get_control;
  iface->dup_shown = fettle_reference_editor_dup_shown;
  iface->set_offer = fettle_reference_editor_set_offer;
}

static void
fettle_reference_editor_dispose (GObject *object)
{
  FettleReferenceEditor *self = FETTLE_REFERENCE_EDITOR (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->popover != NULL)
    g_signal_handlers_disconnect_by_data (self->popover, self);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  self->list = NULL;
  self->button = NULL;
  self->form = NULL;
  fettle_unparent_children (object);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_reference_editor_parent_class)->dispose (object);
}

static void
fettle_reference_editor_finalize (GObject *object)
{
  g_free (FETTLE_REFERENCE_EDITOR (object)->text);
  G_OBJECT_CLASS (fettle_reference_editor_parent_class)->finalize (object);
}

static void
fettle_reference_editor_class_init (FettleReferenceEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_reference_editor_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_reference_editor_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static void
fettle_reference_editor_init (FettleReferenceEditor *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->button = fettle_closed_list_new (&self->label);
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (open_list), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->button, key);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
}

/**
 * fettle_reference_editor_new:
 * @field: a reference
 * @sitting: whose book it is chosen from
 *
 * Returns: (transfer floating): a button with what is chosen
 */
GtkWidget *
fettle_reference_editor_new (const BookField *field, FettleSitting *sitting)
{
  FettleReferenceEditor *self = g_object_new (FETTLE_TYPE_REFERENCE_EDITOR, NULL);

  self->field = field;
  self->sitting = g_object_ref (sitting);
  set (self, "", "");
  return GTK_WIDGET (self);
}
