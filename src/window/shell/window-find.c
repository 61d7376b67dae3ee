/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Search across the book: asked in the reader thread after a pause in typing, shown below the entry. Only what a page
 * can show is listed, so that every hit leads somewhere.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "book-record.h"
#include "book-search.h"

#define FIND_PAUSE_MS 120
#define MOST_HITS 40
#define LIST_HEIGHT 360
#define FIND_GAP 8

/* What was found, with what the record is called beside its visible key. */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            model;
  char             *key;
  char             *name; /* "" where the record has none */
} Hit;

static void
hit_free (gpointer data)
{
  Hit *hit = data;

  g_free (hit->key);
  g_free (hit->name);
  g_free (hit);
}

static const char record_key[] = "record", id_key[] = "id", model_key[] = "model";

static gboolean
can_show (const char *record)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  if (g_str_equal (record, "round") || g_str_equal (record, "model"))
    return TRUE;
  for (guint i = 0; i < n; i++)
    if (kinds[i].records != NULL && g_strv_contains (kinds[i].records, record))
      return TRUE;
  return FALSE;
}

static void
close_popover (FettleWindow *self)
{
  if (self->find_popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (self->find_popover));
}

static void
on_hit_activated (FettleWindow *self, GtkListBoxRow *row)
{
  const char *record = g_object_get_data (G_OBJECT (row), record_key);
  const gint64 *id = g_object_get_data (G_OBJECT (row), id_key);
  const gint64 *model = g_object_get_data (G_OBJECT (row), model_key);

  if (record == NULL)
    return;

  close_popover (self);
  if (*model != 0 && *model != self->span.model)
    fettle_window_choose_model (self, *model);
  if (g_str_equal (record, "round"))
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.round", "x", *id);
      gtk_widget_grab_focus (GTK_WIDGET (self->strip));
    }
  else if (!g_str_equal (record, "model"))
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", record, *id);
      /* Who looks for something goes on with it, not with the search. */
      if (gtk_widget_get_focus_child (GTK_WIDGET (self->stack)) == NULL)
        gtk_widget_child_focus (GTK_WIDGET (self->stack), GTK_DIR_TAB_FORWARD);
    }
}

static void
add_hit (GtkListBox *list, const Hit *hit)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "label", hit->name[0] != '\0' ? hit->name : hit->key, "xalign", 0.0f,
                                  "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_END, "max-width-chars", 40, NULL);
  g_autofree char *kind_words = g_strdup_printf ("%s %s", book_record_label (hit->record), hit->key);
  GtkWidget *kind = g_object_new (GTK_TYPE_LABEL, "label", kind_words, "css-classes", (const char *[]){ "dim", "small", NULL },
                                  NULL);
  g_autofree char *words = g_strdup_printf ("%s, %s", kind_words, hit->name);

  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), kind);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), record_key, (gpointer) hit->record->name);
  g_object_set_data_full (G_OBJECT (row), id_key, g_memdup2 (&hit->id, sizeof hit->id), g_free);
  g_object_set_data_full (G_OBJECT (row), model_key, g_memdup2 (&hit->model, sizeof hit->model), g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_list_box_append (list, row);
}

static GtkListBox *
find_list (FettleWindow *self)
{
  GtkWidget *scroll, *list;

  if (self->find_popover == NULL)
    {
      self->find_popover = gtk_popover_new ();
      gtk_popover_set_autohide (GTK_POPOVER (self->find_popover), FALSE);
      gtk_popover_set_has_arrow (GTK_POPOVER (self->find_popover), FALSE);
      gtk_popover_set_position (GTK_POPOVER (self->find_popover), GTK_POS_BOTTOM);
      gtk_popover_set_offset (GTK_POPOVER (self->find_popover), 0, FIND_GAP);
      gtk_widget_set_parent (self->find_popover, GTK_WIDGET (self->find_entry));
    }
  list = g_object_new (GTK_TYPE_LIST_BOX, "name", "hits", "width-request", 320, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What was found"), -1);
  g_signal_connect_swapped (list, "row-activated", G_CALLBACK (on_hit_activated), self);
  scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "max-content-height", LIST_HEIGHT,
                         "propagate-natural-height", TRUE, "child", list, NULL);
  gtk_popover_set_child (GTK_POPOVER (self->find_popover), scroll);
  return GTK_LIST_BOX (list);
}

static void
show_hits (FettleWindow *self, GPtrArray *hits)
{
  GtkListBox *list = find_list (self);

  for (guint i = 0; i < hits->len; i++)
    add_hit (list, g_ptr_array_index (hits, i));
  if (hits->len == 0)
    {
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", _("Nothing in this book has these words."), "margin-top", 6,
                                       "margin-bottom", 6, "css-classes", (const char *[]){ "dim", NULL }, NULL);

      gtk_list_box_set_placeholder (list, label);
    }
  gtk_popover_popup (GTK_POPOVER (self->find_popover));
}

static void
on_found (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) hits = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (hits != NULL)
    show_hits (self, hits);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_window_say (self, error->message, NULL, NULL);
}

/* The first text of a record outside its visible key: what people call it. */
static char *
read_name (StoreDb *db, const BookHit *hit)
{
  g_autoptr(BookRow) row = book_record_read (db, hit->record, hit->id, NULL);

  for (guint i = 0; row != NULL && i < hit->record->n_fields; i++)
    {
      const BookField *field = &hit->record->fields[i];

      if (field->kind == BOOK_KIND_TEXT && !book_record_has_in_key (hit->record, field)
          && !book_value_is_empty (&row->values[i]))
        return g_strndup (row->values[i].text, row->values[i].length);
    }
  return g_strdup ("");
}

static gpointer
find_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  gboolean more;
  g_autoptr(GPtrArray) found = book_search (db, data, 0, MOST_HITS, &more, error);
  GPtrArray *hits;

  if (found == NULL)
    return NULL;

  hits = g_ptr_array_new_with_free_func (hit_free);
  for (guint i = 0; i < found->len; i++)
    {
      const BookHit *each = g_ptr_array_index (found, i);
      Hit *hit;

      if (!can_show (each->record->name))
        continue;
      hit = g_new0 (Hit, 1);
      hit->record = each->record;
      hit->id = each->id;
      hit->model = each->model;
      hit->key = g_strdup (each->key);
      hit->name = read_name (db, each);
      g_ptr_array_add (hits, hit);
    }
  return hits;
}

static gboolean
on_pause (gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->find_entry));

  self->find_wait = 0;
  if (self->sitting == NULL)
    return G_SOURCE_REMOVE;
  self->finding = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, find_work, g_strdup (words), g_free, (GDestroyNotify) g_ptr_array_unref,
                      self->finding, on_found, g_object_ref (self));
  return G_SOURCE_REMOVE;
}

static void
stop_finding (FettleWindow *self)
{
  g_clear_handle_id (&self->find_wait, g_source_remove);
  g_cancellable_cancel (self->finding);
  g_clear_object (&self->finding);
}

static void
on_find_changed (FettleWindow *self)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->find_entry));

  stop_finding (self);
  if (words[strspn (words, " ")] == '\0')
    close_popover (self);
  else
    self->find_wait = g_timeout_add (FIND_PAUSE_MS, on_pause, self);
}

static GtkListBox *
shown_list (FettleWindow *self)
{
  GtkWidget *scroll, *child;

  if (self->find_popover == NULL || !gtk_widget_get_visible (self->find_popover))
    return NULL;
  scroll = gtk_popover_get_child (GTK_POPOVER (self->find_popover));
  child = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (scroll));
  return GTK_LIST_BOX (GTK_IS_VIEWPORT (child) ? gtk_viewport_get_child (GTK_VIEWPORT (child)) : child);
}

/* Enter takes the first hit. */
static void
on_find_activate (FettleWindow *self)
{
  GtkListBox *list = shown_list (self);
  GtkListBoxRow *row = list == NULL ? NULL : gtk_list_box_get_row_at_index (list, 0);

  if (row != NULL)
    on_hit_activated (self, row);
}

static gboolean
on_find_key (FettleWindow *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  GtkListBox *list = shown_list (self);
  GtkListBoxRow *row;

  if (keyval == GDK_KEY_Escape)
    {
      gtk_editable_set_text (GTK_EDITABLE (self->find_entry), "");
      close_popover (self);
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_Down && list != NULL && (row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
    {
      gtk_widget_grab_focus (GTK_WIDGET (row));
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

void
fettle_window_set_up_find (FettleWindow *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_find_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->find_entry), key);
  g_signal_connect_swapped (self->find_entry, "changed", G_CALLBACK (on_find_changed), self);
  g_signal_connect_swapped (self->find_entry, "activate", G_CALLBACK (on_find_activate), self);
}

void
fettle_window_end_find (FettleWindow *self)
{
  stop_finding (self);
  g_clear_pointer (&self->find_popover, gtk_widget_unparent);
}
