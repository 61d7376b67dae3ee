/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "application.h"
#include "beside.h"
#include "keyboard.h"
#include "roles.h"
#include "welcome-page.h"

#define NARROW_BELOW 1000 /* pixels: the page list takes less room */
#define SIDE_WIDTH 178
#define SIDE_WIDTH_NARROW 116

G_DEFINE_FINAL_TYPE (FettleWindow, fettle_window, GTK_TYPE_APPLICATION_WINDOW)

/* ---- pages ---- */

static GtkWidget *
page_at (FettleWindow *self, int kind)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  if (self->pages[kind] == NULL)
    {
      self->pages[kind] = kinds[kind].make (self->sitting);
      gtk_widget_set_name (self->pages[kind], kinds[kind].name);
      fettle_keyboard_name_pane (self->pages[kind], _(kinds[kind].title));
      gtk_stack_add_named (self->stack, self->pages[kind], kinds[kind].name);
      self->stale[kind] = FALSE;
      fettle_page_set_span (FETTLE_PAGE (self->pages[kind]), &self->span);
    }
  return self->pages[kind];
}

/*
 * Shows a page of the table; -1: the first page. Pages of the list need a model to speak about; a sheet does not, nor does
 * Set-up, where the first one is made.
 */
void
fettle_window_show_page (FettleWindow *self, int kind)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);
  GtkListBoxRow *row;

  if (kind < 0 || self->sitting == NULL || (kinds[kind].in_list && !self->span_known && kind != fettle_page_kind_find ("setup")))
    {
      if (self->welcome == NULL)
        {
          self->welcome = fettle_welcome_page_new ();
          gtk_stack_add_named (self->stack, self->welcome, "welcome");
        }
      fettle_welcome_page_set_has_book (FETTLE_WELCOME_PAGE (self->welcome), self->sitting != NULL);
      gtk_stack_set_visible_child (self->stack, self->welcome);
      self->page = -1;
      fettle_window_show_frame (self);
      return;
    }

  if (kind != self->page)
    {
      fettle_window_leave_place (self);
      fettle_message_bar_go_on (self->message_bar);
    }
  self->page = kind;
  gtk_stack_set_visible_child (self->stack, page_at (self, kind));
  if (self->stale[kind])
    {
      self->stale[kind] = FALSE;
      fettle_page_set_span (FETTLE_PAGE (self->pages[kind]), &self->span);
      fettle_page_refresh (FETTLE_PAGE (self->pages[kind]));
    }

  self->rebuilding = TRUE;
  gtk_list_box_select_row (self->page_list, NULL);
  for (int i = 0; (row = gtk_list_box_get_row_at_index (self->page_list, i)) != NULL; i++)
    if (GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "kind")) == kind)
      gtk_list_box_select_row (self->page_list, row);
  self->rebuilding = FALSE;
  if (kinds[kind].in_list)
    g_settings_set_string (fettle_application_get_settings (FETTLE_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)))),
                           "page", kinds[kind].name);
  fettle_window_show_frame (self);
}

/* The span has changed: the page in view hears at once, the others when they come into view. */
void
fettle_window_tell_pages (FettleWindow *self)
{
  guint n;

  fettle_page_kinds (&n);
  for (guint i = 0; i < n; i++)
    self->stale[i] = self->pages[i] != NULL && (int) i != self->page;
  if (self->page >= 0 && self->pages[self->page] != NULL)
    fettle_page_set_span (FETTLE_PAGE (self->pages[self->page]), &self->span);
}

void
fettle_window_refresh_pages (FettleWindow *self)
{
  guint n;

  fettle_page_kinds (&n);
  for (guint i = 0; i < n; i++)
    self->stale[i] = self->pages[i] != NULL && (int) i != self->page;
  if (self->page >= 0 && self->pages[self->page] != NULL)
    fettle_page_refresh (FETTLE_PAGE (self->pages[self->page]));
}

static void
on_page_row_selected (FettleWindow *self, GtkListBoxRow *row)
{
  if (row != NULL && !self->rebuilding)
    fettle_window_show_page (self, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "kind")));
}

static void
add_page (FettleWindow *self, int kind, gboolean is_other)
{
  const char *title = _(fettle_page_kinds (&(guint){ 0 })[kind].title);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  g_object_set_data (G_OBJECT (row), "kind", GINT_TO_POINTER (kind));
  g_object_set_data (G_OBJECT (row), "other", GINT_TO_POINTER (is_other));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_list_box_append (self->page_list, row);
  if (kind == self->page)
    gtk_list_box_select_row (self->page_list, GTK_LIST_BOX_ROW (row));
}

/* A thin line parts what the role begins with from all the others. */
static void
set_page_header (GtkListBoxRow *row, GtkListBoxRow *before, gpointer user_data)
{
  gboolean begins = before != NULL && g_object_get_data (G_OBJECT (row), "other") != NULL
                    && g_object_get_data (G_OBJECT (before), "other") == NULL;

  if (begins && gtk_list_box_row_get_header (row) == NULL)
    gtk_list_box_row_set_header (row, gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  else if (!begins)
    gtk_list_box_row_set_header (row, NULL);
}

/* The pages of whoever is there first. The list is made anew only where that changes, so that it keeps the keyboard. */
void
fettle_window_fill_page_list (FettleWindow *self)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);
  const FettlePerson *person = fettle_window_get_person (self);
  const char *const *first = fettle_role_pages (person != NULL ? person->role_code : 0);
  GtkListBoxRow *row;

  if (self->first_pages == first)
    return;
  self->first_pages = first;
  self->rebuilding = TRUE;
  while ((row = gtk_list_box_get_row_at_index (self->page_list, 0)) != NULL)
    gtk_list_box_remove (self->page_list, GTK_WIDGET (row));
  for (guint i = 0; first[i] != NULL; i++)
    if (fettle_page_kind_find (first[i]) >= 0)
      add_page (self, fettle_page_kind_find (first[i]), FALSE);
  for (guint i = 0; i < n; i++)
    if (kinds[i].in_list && !g_strv_contains (first, kinds[i].name))
      add_page (self, (int) i, TRUE);
  self->rebuilding = FALSE;
}

/* ---- frame ---- */

/* Page list and strip are there when there is something to list. */
void
fettle_window_show_frame (FettleWindow *self)
{
  gboolean has_model = self->sitting != NULL && self->span_known && self->span.model != 0;

  /* Without a model there is no page to go to, but somebody writes. */
  gtk_widget_set_visible (self->side, self->sitting != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->page_list), has_model);
  gtk_widget_set_vexpand (GTK_WIDGET (self->person_button), !has_model);
  gtk_widget_set_visible (self->strip_box, has_model && self->span.to != 0);
  gtk_widget_set_visible (GTK_WIDGET (self->find_entry), self->sitting != NULL);
  gtk_widget_set_visible (self->undo_button, self->sitting != NULL);
  gtk_widget_set_visible (self->redo_button, self->sitting != NULL);
  fettle_window_show_title (self);
  fettle_window_update_actions (self);
}

void
fettle_window_show_title (FettleWindow *self)
{
  const FettleModel *model = fettle_window_get_model (self);
  g_autofree char *book = self->path == NULL ? NULL : g_filename_display_basename (self->path);
  g_autofree char *title = NULL, *name = NULL, *where = NULL;
  g_autofree char *state = self->sitting == NULL ? NULL : fettle_window_dup_state (self);

  if (book != NULL && g_str_has_suffix (book, ".fettle"))
    book[strlen (book) - strlen (".fettle")] = '\0';

  if (model == NULL)
    name = g_strdup (book != NULL ? book : "Fettle");
  else if (self->facts->n_models > 1)
    name = g_strdup_printf ("%s ▾", model->name[0] != '\0' ? model->name : model->code);
  else
    name = g_strdup (model->name[0] != '\0' ? model->name : model->code);
  gtk_label_set_label (self->model_label, name);
  where = book == NULL || state == NULL ? g_strdup (book != NULL ? book : "") : g_strdup_printf ("%s · %s", book, state);
  gtk_label_set_label (self->where_label, model == NULL ? "" : where);
  gtk_widget_set_visible (GTK_WIDGET (self->where_label), model != NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->model_button), model != NULL && self->facts->n_models > 1);

  if (book == NULL)
    title = g_strdup ("Fettle");
  else if (model == NULL)
    title = g_strdup_printf ("%s – Fettle", book);
  else
    title = g_strdup_printf ("%s – %s – Fettle", model->name[0] != '\0' ? model->name : model->code, book);
  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
on_span_changed (FettleWindow *self)
{
  fettle_window_leave_rounds (self);
  self->span.from = fettle_round_strip_get_from (self->strip);
  self->span.to = fettle_round_strip_get_to (self->strip);
  fettle_window_tell_pages (self);
}

/* Told by the surface before the frame is laid out, so that no frame is drawn twice. */
static void
on_layout (FettleWindow *self, int width, int height)
{
  gboolean narrow = width < NARROW_BELOW;

  if (narrow == self->narrow)
    return;

  self->narrow = narrow;
  gtk_widget_set_size_request (self->side, narrow ? SIDE_WIDTH_NARROW : SIDE_WIDTH, -1);
  if (narrow)
    gtk_widget_add_css_class (GTK_WIDGET (self), "narrow");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "narrow");
}

static void
fettle_window_realize (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (fettle_window_parent_class)->realize (widget);
  g_signal_connect_object (gtk_native_get_surface (GTK_NATIVE (widget)), "layout", G_CALLBACK (on_layout), widget,
                           G_CONNECT_SWAPPED);
}

static void
keep_size (FettleWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));
  GSettings *settings = FETTLE_IS_APPLICATION (application)
                            ? fettle_application_get_settings (FETTLE_APPLICATION (application))
                            : NULL;
  int width, height;

  if (settings == NULL)
    return;

  gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  g_settings_set_boolean (settings, "maximized", gtk_window_is_maximized (GTK_WINDOW (self)));
  if (!gtk_window_is_maximized (GTK_WINDOW (self)) && width >= 480 && height >= 360)
    {
      g_settings_set_int (settings, "width", width);
      g_settings_set_int (settings, "height", height);
    }
}

static void
fettle_window_unrealize (GtkWidget *widget)
{
  keep_size (FETTLE_WINDOW (widget));
  GTK_WIDGET_CLASS (fettle_window_parent_class)->unrealize (widget);
}

static void
fettle_window_dispose (GObject *object)
{
  FettleWindow *self = FETTLE_WINDOW (object);

  fettle_window_end_find (self);
  fettle_window_leave_book (self);
  fettle_window_end_places (self);
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->paper, g_free);
  g_clear_weak_pointer (&self->menu_back);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_WINDOW);

  G_OBJECT_CLASS (fettle_window_parent_class)->dispose (object);
}

static void
fettle_window_finalize (GObject *object)
{
  FettleWindow *self = FETTLE_WINDOW (object);

  g_free (self->path);
  g_free (self->wish_model);
  g_free (self->wish_page);
  g_free (self->wish_person);
  g_free (self->pages);
  g_free (self->stale);
  G_OBJECT_CLASS (fettle_window_parent_class)->finalize (object);
}

static void
fettle_window_class_init (FettleWindowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = fettle_window_dispose;
  object_class->finalize = fettle_window_finalize;
  widget_class->realize = fettle_window_realize;
  widget_class->unrealize = fettle_window_unrealize;

  g_type_ensure (FETTLE_TYPE_BESIDE);
  g_type_ensure (FETTLE_TYPE_MESSAGE_BAR);
  g_type_ensure (FETTLE_TYPE_ROUND_STRIP);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/window.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, undo_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, redo_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, model_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, model_label);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, where_label);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, menu_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, find_entry);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, message_bar);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, side);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, page_list);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, person_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, strip_box);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, strip);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, legend_button);
  gtk_widget_class_bind_template_child (widget_class, FettleWindow, stack);
  gtk_widget_class_bind_template_callback (widget_class, on_page_row_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_span_changed);
  fettle_window_install_actions (widget_class);
}

static void
fettle_window_init (FettleWindow *self)
{
  guint n;

  fettle_page_kinds (&n);
  self->pages = g_new0 (GtkWidget *, n);
  self->stale = g_new0 (gboolean, n);
  self->page = -1;

  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->find_entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Find in this book"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->model_button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Model"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->menu_button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Menu"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->person_button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Who writes"), -1);
  gtk_list_box_set_header_func (self->page_list, set_page_header, NULL, NULL);
  fettle_window_fill_page_list (self);
  fettle_window_set_up_menus (self);
  fettle_window_set_up_find (self);
  fettle_window_set_up_places (self);
  fettle_window_set_up_drop (self);
  fettle_window_set_up_paste (self);
}

/**
 * fettle_window_new:
 * @application: the program, started
 *
 * Returns: (transfer none): a window without a book, owned by GTK
 */
FettleWindow *
fettle_window_new (GtkApplication *application)
{
  GSettings *settings = fettle_application_get_settings (FETTLE_APPLICATION (application));
  FettleWindow *self = g_object_new (FETTLE_TYPE_WINDOW, "application", application,
                                     "default-width", g_settings_get_int (settings, "width"),
                                     "default-height", g_settings_get_int (settings, "height"), NULL);

  g_settings_bind (settings, "legend", self->legend_button, "active", G_SETTINGS_BIND_DEFAULT);
  if (g_settings_get_boolean (settings, "maximized"))
    gtk_window_maximize (GTK_WINDOW (self));
  return self;
}

/**
 * fettle_window_get_path:
 * @self: a window
 *
 * Returns: (nullable): of its book, also while that is being opened
 */
const char *
fettle_window_get_path (FettleWindow *self)
{
  g_return_val_if_fail (FETTLE_IS_WINDOW (self), NULL);

  return self->path;
}

/**
 * fettle_window_get_sitting:
 * @self: a window
 *
 * Returns: (nullable) (transfer none): the book in it, once it is open
 */
FettleSitting *
fettle_window_get_sitting (FettleWindow *self)
{
  g_return_val_if_fail (FETTLE_IS_WINDOW (self), NULL);

  return self->sitting;
}

/**
 * fettle_window_get_span:
 * @self: a window
 *
 * Returns: model and rounds that the pages speak about
 */
const FettleSpan *
fettle_window_get_span (FettleWindow *self)
{
  g_return_val_if_fail (FETTLE_IS_WINDOW (self), NULL);

  return &self->span;
}

/**
 * fettle_window_get_page:
 * @self: a window
 *
 * Returns: (nullable): the page in view; %NULL for the first page
 */
FettlePage *
fettle_window_get_page (FettleWindow *self)
{
  g_return_val_if_fail (FETTLE_IS_WINDOW (self), NULL);

  return self->page < 0 ? NULL : FETTLE_PAGE (self->pages[self->page]);
}

/**
 * fettle_window_say:
 * @self: a window
 * @sentence: whole
 * @label: (nullable): of a button beside it
 * @action: (nullable): detailed action of that button
 *
 * Says something in the message bar.
 */
void
fettle_window_say (FettleWindow *self, const char *sentence, const char *label, const char *action)
{
  g_return_if_fail (FETTLE_IS_WINDOW (self));

  fettle_message_bar_say (self->message_bar, sentence, label, action);
}
