/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-item-form.h"

#include <glib/gi18n.h>

#include "book-change.h"
#include "change-items.h"
#include "early-key.h"
#include "tip.h"
#include "unparent.h"
#include "words.h"

struct _FettleChangeItemForm
{
  GtkWidget parent_instance;

  FettleSitting       *sitting;
  FettleChangesAnswer *answer;
  gint64               change;
  gboolean             storing;

  FettleChangeItems *items;
  GtkLabel          *said;
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleChangeItemForm, fettle_change_item_form, GTK_TYPE_WIDGET)

static void
tell (FettleChangeItemForm *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

static void
leave (FettleChangeItemForm *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleChangeItemForm) self = data;
  g_autoptr(GError) error = NULL;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  self->storing = FALSE;
  if (self->items == NULL)
    return;
  if (stored)
    {
      fettle_change_items_clear (self->items);
      leave (self);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    tell (self, error->message);
}

/**
 * fettle_change_item_form_save:
 * @self: a form
 *
 * Stores the line and closes the form; what is wrong with it is said.
 */
void
fettle_change_item_form_save (FettleChangeItemForm *self)
{
  guint n;
  g_autofree FettleChangeItem *items = NULL;
  const char *const *fields;
  g_auto (GStrv) texts = NULL;

  g_return_if_fail (FETTLE_IS_CHANGE_ITEM_FORM (self));

  items = fettle_change_items_list (self->items, &n);
  if (self->storing || !fettle_change_items_check (self->items))
    return;
  if (n == 0)
    {
      tell (self, _("Choose first what is changed."));
      return;
    }
  tell (self, NULL);
  texts = fettle_change_item_texts (&items[0], self->answer->texts, &fields);
  self->storing = TRUE;
  fettle_sitting_edit (self->sitting, book_change_add_item (self->change, fields, (const char *const *) texts), on_stored,
                       g_object_ref (self));
}

static gboolean
on_save_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_change_item_form_save (FETTLE_CHANGE_ITEM_FORM (widget));
  return TRUE;
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  leave (FETTLE_CHANGE_ITEM_FORM (widget));
  return TRUE;
}

/**
 * fettle_change_item_form_begin:
 * @self: a form that is on the screen
 *
 * Puts back what was typed before, and gives the line the keyboard.
 */
void
fettle_change_item_form_begin (FettleChangeItemForm *self)
{
  g_autofree char *place = g_strdup_printf ("change-%" G_GINT64_FORMAT, self->change);

  g_return_if_fail (FETTLE_IS_CHANGE_ITEM_FORM (self));

  fettle_change_items_begin (self->items, place, self->answer->changes);
  gtk_widget_child_focus (GTK_WIDGET (self->items), GTK_DIR_TAB_FORWARD);
}

static void
fettle_change_item_form_dispose (GObject *object)
{
  FettleChangeItemForm *self = FETTLE_CHANGE_ITEM_FORM (object);

  self->items = NULL;
  fettle_unparent_children (object);
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_change_item_form_parent_class)->dispose (object);
}

static void
fettle_change_item_form_class_init (FettleChangeItemFormClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_change_item_form_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_change_item_form_init (FettleChangeItemForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form");
  gtk_widget_set_name (GTK_WIDGET (self), "change-item-form");
  fettle_early_key (GTK_WIDGET (self), "<Control>Return|<Control>KP_Enter", on_save_key);
}

/**
 * fettle_change_item_form_new:
 * @sitting: the window's
 * @answer: what there is to choose from
 * @change: key of the change
 *
 * Returns: (transfer floating): a form; to be begun when it is on the screen
 */
GtkWidget *
fettle_change_item_form_new (FettleSitting *sitting, FettleChangesAnswer *answer, gint64 change)
{
  FettleChangeItemForm *self = g_object_new (FETTLE_TYPE_CHANGE_ITEM_FORM, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *add = g_object_new (GTK_TYPE_BUTTON, "label", _("Add"), "name", "add-item", "css-classes",
                                 (const char *[]){ "primary", NULL }, NULL);
  GtkWidget *cancel = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave"), "name", "leave", "css-classes",
                                    (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (add, _("Store it in the book (Ctrl+Return)"));
  self->sitting = g_object_ref (sitting);
  self->answer = fettle_changes_answer_ref (answer);
  self->change = change;
  self->items = FETTLE_CHANGE_ITEMS (fettle_change_items_new (sitting));
  fettle_change_items_set_single (self->items);
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 20, "max-width-chars", 90,
                             "visible", FALSE, "css-classes", (const char *[]){ "open", NULL }, NULL);
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (fettle_change_item_form_save), self);
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (leave), self);
  gtk_box_append (GTK_BOX (line), add);
  gtk_box_append (GTK_BOX (line), cancel);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->said));
  gtk_widget_set_parent (GTK_WIDGET (self->items), GTK_WIDGET (self));
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
