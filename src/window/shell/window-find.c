/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Search across the book: asked in the reader thread after a pause in typing, shown in a panel under the header that
 * leaves the page as it is. The keyboard stays in the entry: arrows choose, Enter goes, Escape gives it back to where it
 * was.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "find-hits.h"

#define FIND_PAUSE_MS 100
#define LIST_HEIGHT 430
#define PANEL_WIDTH 600
#define PAGE_ROWS 8
#define FEW_OF_A_KIND 6

static const char found_key[] = "found", rest_key[] = "rest";

static void list_hits (FettleWindow *self, guint choose);

static FettleFound *
found_of (GtkListBoxRow *row)
{
  return row == NULL ? NULL : g_object_get_data (G_OBJECT (row), found_key);
}

static gboolean
is_open (FettleWindow *self)
{
  return gtk_widget_get_visible (self->find_panel);
}

static void
stop_finding (FettleWindow *self)
{
  g_clear_handle_id (&self->find_wait, g_source_remove);
  g_cancellable_cancel (self->finding);
  g_clear_object (&self->finding); /* while there is one, its answer is to come */
  self->find_go = FALSE;
}

static void
clear_rows (FettleWindow *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->find_list, 0)) != NULL)
    gtk_list_box_remove (self->find_list, GTK_WIDGET (row));
}

/* The rows belong to the finding, so they go first. */
static void
clear_hits (FettleWindow *self)
{
  clear_rows (self);
  self->find_whole = NULL;
  g_clear_pointer (&self->find_finding, fettle_finding_free);
}

static void
close_panel (FettleWindow *self)
{
  stop_finding (self);
  gtk_widget_set_visible (self->find_panel, FALSE);
  clear_hits (self);
  if (gtk_editable_get_text (GTK_EDITABLE (self->find_entry))[0] != '\0')
    gtk_editable_set_text (GTK_EDITABLE (self->find_entry), "");
}

static void
remember_focus (FettleWindow *self, GtkWidget *focus)
{
  if (self->find_back != NULL)
    g_object_remove_weak_pointer (G_OBJECT (self->find_back), (gpointer *) &self->find_back);
  self->find_back = focus;
  if (focus != NULL)
    g_object_add_weak_pointer (G_OBJECT (focus), (gpointer *) &self->find_back);
}

static void
give_focus_back (FettleWindow *self)
{
  GtkWidget *back = self->find_back;

  remember_focus (self, NULL);
  if (back == NULL || !gtk_widget_get_mapped (back) || !gtk_widget_grab_focus (back))
    gtk_widget_child_focus (GTK_WIDGET (self->stack), GTK_DIR_TAB_FORWARD);
}

/* ---- going there ---- */

static void
go (FettleWindow *self, const FettleFound *found)
{
  const FettlePlace place = { .kind = g_str_equal (found->record, "model") ? fettle_page_kind_find ("standing") : -1,
                              .span = { .model = found->hit->model },
                              .record = g_str_equal (found->record, "model") ? NULL : found->record,
                              .key = found->id,
                              .in_history = found->in_history };

  fettle_window_leave_place (self);
  remember_focus (self, NULL);
  close_panel (self);
  fettle_window_go (self, &place);
}

/* The row below a few of a kind lists the others. */
static void
on_hit_activated (FettleWindow *self, GtkListBoxRow *row)
{
  if (row == NULL || found_of (row) == NULL)
    return;
  if (g_object_get_data (G_OBJECT (row), rest_key) == NULL)
    go (self, found_of (row));
  else
    {
      self->find_whole = found_of (row)->hit->record;
      list_hits (self, (guint) gtk_list_box_row_get_index (row));
    }
}

/* ---- what is shown ---- */

static GtkWidget *
words_new (const char *words, const char *class, gboolean expand)
{
  return g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0f, "hexpand", expand, "ellipsize", PANGO_ELLIPSIZE_END,
                       "css-classes", (const char *[]){ class, NULL }, NULL);
}

/* The key need not begin with the model that is open. */
static const char *
short_key (FettleWindow *self, const BookHit *hit)
{
  const FettleModel *model = fettle_window_get_model (self);
  gsize length = model == NULL ? 0 : strlen (model->code);

  if (model != NULL && hit->model == model->key && hit->record->id != BOOK_RECORD_MODEL
      && strncmp (hit->key, model->code, length) == 0 && hit->key[length] == '/')
    return hit->key + length + 1;
  return hit->key;
}

static GtkWidget *
piece_new (const BookHit *hit)
{
  g_autofree char *words = g_strdup_printf ("%s: %s", book_field_label (hit->field), hit->piece);
  gsize before = strlen (words) - strlen (hit->piece);
  PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_BOLD);
  g_autoptr(PangoAttrList) marks = pango_attr_list_new ();
  GtkWidget *label = words_new (words, "dim", FALSE);

  bold->start_index = (guint) (before + hit->mark);
  bold->end_index = (guint) (before + hit->mark + hit->mark_length);
  pango_attr_list_insert (marks, bold);
  gtk_label_set_attributes (GTK_LABEL (label), marks);
  gtk_widget_add_css_class (label, "small");
  return label;
}

static void
add_hit (FettleWindow *self, FettleFound *found)
{
  const BookHit *hit = found->hit;
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  g_autofree char *named = g_strjoin (", ", book_record_label (hit->record), hit->key, hit->title[0] != '\0' ? hit->title : NULL, NULL);
  g_autofree char *said = hit->field == NULL ? g_strdup (named)
                                             : g_strdup_printf ("%s. %s: %s", named, book_field_label (hit->field), hit->piece);

  gtk_box_append (GTK_BOX (line), words_new (short_key (self, hit), "strong", hit->title[0] == '\0'));
  if (hit->title[0] != '\0')
    gtk_box_append (GTK_BOX (line), words_new (hit->title, "title-of-hit", TRUE));
  gtk_box_append (GTK_BOX (box), line);
  if (hit->field != NULL && strcmp (hit->piece, hit->title) != 0)
    gtk_box_append (GTK_BOX (box), piece_new (hit));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), found_key, found);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  gtk_list_box_append (self->find_list, row);
}

/* Stands for the others of the kind of @found. */
static void
add_rest (FettleWindow *self, FettleFound *found, guint n)
{
  GtkWidget *row = gtk_list_box_row_new ();
  g_autofree char *words = g_strdup_printf (ngettext ("%u more", "%u more", n), n);
  GtkWidget *label = words_new (words, "open", FALSE);

  gtk_widget_add_css_class (label, "small");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  g_object_set_data (G_OBJECT (row), found_key, found);
  g_object_set_data (G_OBJECT (row), rest_key, found);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_list_box_append (self->find_list, row);
}

static guint
count_kind (const GPtrArray *found, guint from)
{
  guint n = 1;

  while (from + n < found->len
         && ((FettleFound *) found->pdata[from + n])->hit->record == ((FettleFound *) found->pdata[from])->hit->record)
    n++;
  return n;
}

static void
list_hits (FettleWindow *self, guint choose)
{
  const GPtrArray *found = self->find_finding->found;
  GtkListBoxRow *row;

  clear_rows (self);
  for (guint i = 0, n; i < found->len; i += n)
    {
      FettleFound *first = found->pdata[i];
      guint few;

      n = count_kind (found, i);
      few = n <= FEW_OF_A_KIND + 1 || first->hit->record == self->find_whole ? n : FEW_OF_A_KIND;
      for (guint k = 0; k < few; k++)
        add_hit (self, found->pdata[i + k]);
      if (few < n)
        add_rest (self, first, n - few);
    }
  row = gtk_list_box_get_row_at_index (self->find_list, (int) choose);
  gtk_list_box_select_row (self->find_list, row);
}

/* The name of the kind above the first of it. */
static void
set_header (GtkListBoxRow *row, GtkListBoxRow *before, gpointer user_data)
{
  const BookRecord *kind = found_of (row)->hit->record;

  if (before != NULL && found_of (before)->hit->record == kind)
    gtk_list_box_row_set_header (row, NULL);
  else if (gtk_list_box_row_get_header (row) == NULL)
    gtk_list_box_row_set_header (row, words_new (book_record_plural (kind), "hits-head", FALSE));
}

static char *
tell (const FettleFinding *finding)
{
  g_autofree char *words = g_strstrip (g_strdup (finding->words));

  if (finding->found->len == 0)
    return g_strdup_printf (_("Nothing was found for '%s'. Looked for in the keys, names, notes, causes and reasons of all records of "
                              "the book, not in figures or in files."), words);
  if (finding->more)
    return g_strdup_printf (_("The nearest %u for '%s'; there are more: another word narrows them down."), finding->found->len, words);
  return g_strdup_printf (ngettext ("%u record for '%s'.", "%u records for '%s'.", finding->found->len), finding->found->len, words);
}

static void
show_finding (FettleWindow *self, FettleFinding *finding)
{
  g_autofree char *told = tell (finding);
  gboolean wanted = self->find_go;

  clear_hits (self);
  self->find_finding = finding;
  list_hits (self, 0);
  gtk_label_set_label (self->find_told, told);
  gtk_widget_set_visible (self->find_scroll, finding->found->len > 0);
  gtk_widget_set_visible (self->find_panel, TRUE);
  self->find_go = FALSE;
  if (wanted && finding->found->len > 0)
    go (self, finding->found->pdata[0]);
}

/* ---- asking ---- */

static void
on_found (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  FettleFinding *finding = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (finding != NULL)
    {
      g_clear_object (&self->finding);
      show_finding (self, finding);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fettle_window_say (self, error->message, NULL, NULL);
}

static gboolean
on_pause (gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);
  FettleFindAsk *ask;

  self->find_wait = 0;
  if (self->sitting == NULL)
    return G_SOURCE_REMOVE;
  ask = g_new0 (FettleFindAsk, 1);
  ask->words = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->find_entry)));
  ask->model = self->span.model;
  self->finding = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_find_work, ask, fettle_find_ask_free, fettle_finding_free, self->finding, on_found,
                      g_object_ref (self));
  return G_SOURCE_REMOVE;
}

static void
on_find_changed (FettleWindow *self)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->find_entry));

  stop_finding (self);
  if (words[strspn (words, " ")] == '\0')
    {
      gtk_widget_set_visible (self->find_panel, FALSE);
      clear_hits (self);
    }
  else
    self->find_wait = g_timeout_add (FIND_PAUSE_MS, on_pause, self);
}

/* ---- keys ---- */

/* Enter goes to what is chosen; where the answer to the last letter is still to come, as soon as it has. */
static void
on_find_activate (FettleWindow *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->find_list);

  if (self->find_wait != 0)
    {
      g_clear_handle_id (&self->find_wait, g_source_remove);
      on_pause (self);
      self->find_go = TRUE;
    }
  else if (self->finding != NULL)
    self->find_go = TRUE;
  else if (is_open (self))
    on_hit_activated (self, row);
}

static void
scroll_to (FettleWindow *self, GtkWidget *row)
{
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->find_scroll));
  graphene_rect_t bounds;

  if (gtk_widget_compute_bounds (row, GTK_WIDGET (self->find_list), &bounds))
    gtk_adjustment_clamp_page (adjustment, bounds.origin.y - bounds.size.height, bounds.origin.y + 2 * bounds.size.height);
}

static gboolean
choose (FettleWindow *self, int step)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->find_list);
  GtkWidget *last = gtk_widget_get_last_child (GTK_WIDGET (self->find_list));
  int at;

  if (!is_open (self) || row == NULL)
    return GDK_EVENT_PROPAGATE;
  while (!GTK_IS_LIST_BOX_ROW (last)) /* a head */
    last = gtk_widget_get_prev_sibling (last);
  at = CLAMP (gtk_list_box_row_get_index (row) + step, 0, gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (last)));
  row = gtk_list_box_get_row_at_index (self->find_list, at);
  gtk_list_box_select_row (self->find_list, row);
  scroll_to (self, GTK_WIDGET (row));
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->find_entry), GTK_ACCESSIBLE_RELATION_ACTIVE_DESCENDANT, row, -1);
  return GDK_EVENT_STOP;
}

static gboolean
on_find_key (FettleWindow *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  switch (keyval)
    {
    case GDK_KEY_Escape:
      close_panel (self);
      give_focus_back (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return choose (self, 1);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return choose (self, -1);
    case GDK_KEY_Page_Down:
      return choose (self, PAGE_ROWS);
    case GDK_KEY_Page_Up:
      return choose (self, -PAGE_ROWS);
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* Whoever clicks or tabs elsewhere has done with the search. */
static void
on_focus_moved (FettleWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !is_open (self) || gtk_widget_is_ancestor (focus, GTK_WIDGET (self->find_entry))
      || gtk_widget_is_ancestor (focus, self->find_panel))
    return;
  remember_focus (self, NULL);
  close_panel (self);
}

/* ---- the panel ---- */

void
fettle_window_begin_find (FettleWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self->find_entry)))
    remember_focus (self, focus);
  gtk_widget_grab_focus (GTK_WIDGET (self->find_entry));
}

static void
add_key (FettleWindow *self, GtkWidget *widget)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_find_key), self);
  gtk_widget_add_controller (widget, key);
}

/* Lays the panel over all that is below the header. */
static void
add_overlay (FettleWindow *self, GtkWidget *panel)
{
  GtkWidget *overlay = gtk_overlay_new ();
  g_autoptr(GtkWidget) below = g_object_ref (gtk_window_get_child (GTK_WINDOW (self)));

  gtk_window_set_child (GTK_WINDOW (self), NULL);
  gtk_overlay_set_child (GTK_OVERLAY (overlay), below);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), panel);
  gtk_window_set_child (GTK_WINDOW (self), overlay);
}

void
fettle_window_set_up_find (FettleWindow *self)
{
  self->find_told = g_object_new (GTK_TYPE_LABEL, "name", "find-told", "xalign", 0.0f, "wrap", TRUE, "max-width-chars", 60,
                                  "css-classes", (const char *[]){ "dim", "small", NULL }, NULL);
  self->find_list = g_object_new (GTK_TYPE_LIST_BOX, "name", "hits", "selection-mode", GTK_SELECTION_BROWSE, NULL);
  gtk_list_box_set_header_func (self->find_list, set_header, NULL, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->find_list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What was found"), -1);
  g_signal_connect_swapped (self->find_list, "row-activated", G_CALLBACK (on_hit_activated), self);
  self->find_scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "max-content-height", LIST_HEIGHT,
                                    "propagate-natural-height", TRUE, "child", self->find_list, NULL);
  self->find_panel = g_object_new (GTK_TYPE_BOX, "name", "find-panel", "orientation", GTK_ORIENTATION_VERTICAL, "halign", GTK_ALIGN_END,
                                   "valign", GTK_ALIGN_START, "width-request", PANEL_WIDTH, "visible", FALSE, "css-classes",
                                   (const char *[]){ "find-panel", NULL }, NULL);
  gtk_box_append (GTK_BOX (self->find_panel), GTK_WIDGET (self->find_told));
  gtk_box_append (GTK_BOX (self->find_panel), self->find_scroll);
  add_overlay (self, self->find_panel);

  add_key (self, GTK_WIDGET (self->find_entry));
  add_key (self, self->find_panel);
  g_signal_connect_swapped (self->find_entry, "changed", G_CALLBACK (on_find_changed), self);
  g_signal_connect_swapped (self->find_entry, "activate", G_CALLBACK (on_find_activate), self);
  g_signal_connect (self, "notify::focus-widget", G_CALLBACK (on_focus_moved), NULL);
}

void
fettle_window_end_find (FettleWindow *self)
{
  stop_finding (self);
  remember_focus (self, NULL);
  if (self->find_list != NULL)
    clear_hits (self);
  self->find_list = NULL;
}
