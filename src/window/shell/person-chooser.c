/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "person-chooser.h"

#include <glib/gi18n.h>

#include "early-key.h"
#include "keyboard.h"

#define MOST_INITIALS 8

struct _FettlePersonChooser
{
  GtkPopover parent_instance;

  FettleSitting *sitting;
  GtkListBox    *list;
  GtkEntry      *entry;
  GtkWidget     *add;
  GtkWidget     *back; /* what had the keyboard before; weak */
};

G_DEFINE_FINAL_TYPE (FettlePersonChooser, fettle_person_chooser, GTK_TYPE_POPOVER)

/* Only while what had the keyboard can still be asked for it: the popover takes it as soon as it is open. */
static void
fettle_person_chooser_map (GtkWidget *widget)
{
  GtkWidget *focus = fettle_keyboard_focus (widget);

  if (focus == NULL || !gtk_widget_is_ancestor (focus, widget))
    g_set_weak_pointer (&FETTLE_PERSON_CHOOSER (widget)->back, focus);
  GTK_WIDGET_CLASS (fettle_person_chooser_parent_class)->map (widget);
}

/* The keyboard goes back before the popover closes: afterwards GTK would take it to the button, and only with the next frame. */
static void
leave (FettlePersonChooser *self)
{
  if (self->back != NULL && gtk_widget_get_mapped (self->back))
    gtk_widget_grab_focus (self->back);
  gtk_popover_popdown (GTK_POPOVER (self));
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  leave (FETTLE_PERSON_CHOOSER (widget));
  return TRUE;
}

static void
on_row_activated (FettlePersonChooser *self, GtkListBoxRow *row)
{
  const gint64 *key = g_object_get_data (G_OBJECT (row), "key");

  leave (self);
  fettle_sitting_set_person (self->sitting, *key);
}

static void
on_added (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettleSitting *sitting = FETTLE_SITTING (source);
  g_autoptr(GError) error = NULL;
  gint64 person = 0;

  if (!fettle_sitting_edit_finish (sitting, result, NULL, &person, &error))
    fettle_sitting_say (sitting, error->message, NULL, NULL);
  else
    fettle_sitting_set_person (sitting, person);
}

static void
on_add (FettlePersonChooser *self)
{
  g_autofree char *initials = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  FettleSitting *sitting = self->sitting;
  const gboolean is_first = gtk_list_box_get_row_at_index (self->list, 0) == NULL; /* whoever begins a book leads */

  if (initials[0] == '\0')
    return;

  leave (self);
  for (GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, 0); row != NULL;
       row = gtk_list_box_get_row_at_index (self->list, gtk_list_box_row_get_index (row) + 1))
    if (g_ascii_strcasecmp (g_object_get_data (G_OBJECT (row), "initials"), initials) == 0)
      {
        fettle_sitting_set_person (sitting, *(const gint64 *) g_object_get_data (G_OBJECT (row), "key"));
        return;
      }
  fettle_sitting_edit (sitting, book_edit_add_person (initials, is_first ? BOOK_ROLE_LEAD : BOOK_ROLE_MAKER, NULL), on_added, NULL);
}

static void
on_typed (FettlePersonChooser *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  gtk_widget_set_sensitive (self->add, text[strspn (text, " ")] != '\0');
}

/* Initials that are typed where the list has the keyboard go into the field below it. */
static gboolean
on_list_key (FettlePersonChooser *self, guint key, G_GNUC_UNUSED guint code, GdkModifierType state)
{
  const gunichar letter = gdk_keyval_to_unicode (key);
  char text[8] = "";

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || !g_unichar_isalnum (letter))
    return FALSE;
  g_unichar_to_utf8 (letter, text);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_entry_grab_focus_without_selecting (self->entry);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  return TRUE;
}

static void
add_person (FettlePersonChooser *self, const FettlePerson *person)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *initials = g_object_new (GTK_TYPE_LABEL, "label", person->initials, "xalign", 0.0f, "hexpand", TRUE,
                                      "css-classes", (const char *[]){ "strong", NULL }, NULL);
  GtkWidget *role = g_object_new (GTK_TYPE_LABEL, "label", person->role, "css-classes",
                                  (const char *[]){ "dim", "small", NULL }, NULL);
  g_autofree char *words = g_strdup_printf ("%s, %s", person->initials, person->role);

  gtk_box_append (GTK_BOX (box), initials);
  gtk_box_append (GTK_BOX (box), role);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data_full (G_OBJECT (row), "initials", g_strdup (person->initials), g_free);
  g_object_set_data_full (G_OBJECT (row), "key", g_memdup2 (&person->key, sizeof person->key), g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_list_box_append (self->list, row);
  if (person->key == fettle_sitting_get_person (self->sitting))
    gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (row));
}

static void
fettle_person_chooser_dispose (GObject *object)
{
  g_clear_weak_pointer (&FETTLE_PERSON_CHOOSER (object)->back);
  g_clear_object (&FETTLE_PERSON_CHOOSER (object)->sitting);
  G_OBJECT_CLASS (fettle_person_chooser_parent_class)->dispose (object);
}

static void
fettle_person_chooser_class_init (FettlePersonChooserClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_person_chooser_dispose;
  GTK_WIDGET_CLASS (class)->map = fettle_person_chooser_map;
}

static void
fettle_person_chooser_init (FettlePersonChooser *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *scroll = gtk_scrolled_window_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkWidget *words = g_object_new (GTK_TYPE_LABEL, "label", _("Who writes in this window?"), "xalign", 0.0f, NULL);

  fettle_early_key (GTK_WIDGET (self), "Escape", on_escape);
  gtk_box_append (GTK_BOX (box), words);
  self->list = g_object_new (GTK_TYPE_LIST_BOX, "name", "persons", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Persons"), -1);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row_activated), self);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_list_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), keys);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroll), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroll), 320);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), GTK_WIDGET (self->list));
  gtk_box_append (GTK_BOX (box), scroll);

  self->entry = g_object_new (GTK_TYPE_ENTRY, "placeholder-text", _("Other initials"), "max-length", MOST_INITIALS,
                              "width-chars", 12, "hexpand", TRUE, "name", "new-person", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Initials of a person who is not in the list"), -1);
  self->add = g_object_new (GTK_TYPE_BUTTON, "label", _("Add"), "sensitive", FALSE, "name", "add-person",
                            "css-classes", (const char *[]){ "plain", NULL }, NULL);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_add), self);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_typed), self);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (on_add), self);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->entry));
  gtk_box_append (GTK_BOX (line), self->add);
  gtk_box_append (GTK_BOX (box), line);
  gtk_popover_set_child (GTK_POPOVER (self), box);
}

/**
 * fettle_person_chooser_new:
 * @sitting: whose person is chosen
 * @facts: the persons of the book now
 *
 * Returns: a popover that is made anew for each time it opens
 */
GtkWidget *
fettle_person_chooser_new (FettleSitting *sitting, const FettleFacts *facts)
{
  FettlePersonChooser *self = g_object_new (FETTLE_TYPE_PERSON_CHOOSER, NULL);

  self->sitting = g_object_ref (sitting);
  for (guint i = 0; facts != NULL && i < facts->n_persons; i++)
    add_person (self, &facts->persons[i]);
  /* An empty list would take the keyboard and do nothing with it. */
  gtk_widget_set_visible (gtk_widget_get_ancestor (GTK_WIDGET (self->list), GTK_TYPE_SCROLLED_WINDOW), gtk_list_box_get_row_at_index (self->list, 0) != NULL);
  return GTK_WIDGET (self);
}
