/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-test.h"

#include <gdk/x11/gdkx.h>
#include <string.h>
#include <unistd.h>

#include "choice-editor.h"
#include "table.h"
#include "window-book.h"
#include "window-private.h"
#include "window-quarks.h"

#define PATIENCE_SECONDS 30

/* GTK and fontconfig leave libraries loaded that a leak check could no longer name. */
int dlclose (void *handle);
int
dlclose (void *handle)
{
  return 0;
}

/* The library of distributions warns on standard output, where only the results of the tests belong. */
static int results = STDOUT_FILENO;

static void
print_result (const char *text)
{
  for (gsize left = strlen (text); left > 0;)
    {
      gssize written = write (results, text, left);

      if (written <= 0)
        return;
      text += written;
      left -= (gsize) written;
    }
}

/*
 * Moves the display's pointer into its last corner, which no window reaches: over a window it would bring up tooltips and
 * light up rows by itself.
 */
static void
put_pointer_aside (void)
{
  GdkDisplay *display = gdk_display_get_default ();

  if (GDK_IS_X11_DISPLAY (display))
    {
      Display *x11 = gdk_x11_display_get_xdisplay (display);
      int screen = DefaultScreen (x11);

      XWarpPointer (x11, None, RootWindow (x11, screen), 0, 0, 0, 0, DisplayWidth (x11, screen) - 1,
                    DisplayHeight (x11, screen) - 1);
      XSync (x11, False);
    }
}

void
window_test_init (int *argc, char ***argv)
{
  window_quarks_forgive ();
  results = dup (STDOUT_FILENO);
  dup2 (STDERR_FILENO, STDOUT_FILENO);
  g_set_print_handler (print_result);
  gtk_test_init (argc, argv, NULL);
  put_pointer_aside ();
  g_object_set (gtk_settings_get_default (), "gtk-recent-files-enabled", FALSE, NULL);
  g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  g_setenv ("FETTLE_TODAY", "2026-11-25", TRUE);
}

/* Where the drafts go of those that are apart. */
static char *state_folder;

void
window_test_init_apart (int *argc, char ***argv)
{
  g_autoptr(GError) error = NULL;

  state_folder = g_dir_make_tmp ("fettle-state-XXXXXX", &error);
  g_assert_no_error (error);
  g_setenv ("XDG_STATE_HOME", state_folder, TRUE); /* GLib reads it once */
  window_test_init (argc, argv);
}

int
window_test_run_apart (void)
{
  int status = g_test_run ();

  window_test_remove (state_folder);
  g_clear_pointer (&state_folder, g_free);
  return status;
}

GtkApplication *
window_test_program (void)
{
  static GtkApplication *program;
  g_autoptr(GError) error = NULL;

  if (program == NULL)
    {
      program = fettle_application_new (G_APPLICATION_HANDLES_COMMAND_LINE | G_APPLICATION_NON_UNIQUE);
      g_application_register (G_APPLICATION (program), NULL, &error);
      g_assert_no_error (error);
      g_application_set_default (G_APPLICATION (program));
      g_application_hold (G_APPLICATION (program));
    }
  return program;
}

void
window_test_settle (void)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_SECONDS * G_TIME_SPAN_SECOND;

  for (int quiet = 0; quiet < 4 && g_get_monotonic_time () < end;)
    if (g_main_context_iteration (NULL, FALSE))
      quiet = 0;
    else
      {
        quiet++;
        g_usleep (4000);
      }
}

void
window_test_wait (WindowTestMet met, gpointer data, const char *what)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_SECONDS * G_TIME_SPAN_SECOND;

  while (!met (data))
    {
      if (g_get_monotonic_time () > end)
        g_error ("waited in vain for: %s", what);
      if (!g_main_context_iteration (NULL, FALSE))
        g_usleep (2000);
    }
}

static gboolean
is_shown (gpointer data)
{
  GtkWidget *welcome = window_test_find (data, "welcome");

  return fettle_window_get_page (data) != NULL
         || (fettle_window_get_path (data) == NULL && welcome != NULL && gtk_widget_get_mapped (welcome));
}

static gboolean
has_headline (gpointer data)
{
  GtkWidget *headline = window_test_find (data, "headline");

  return headline != NULL && gtk_label_get_label (GTK_LABEL (headline))[0] != '\0';
}

void
window_test_wait_standing (FettleWindow *window)
{
  window_test_wait (is_shown, window, "a page");
  if (window_test_find (GTK_WIDGET (window), "standing") != NULL)
    window_test_wait (has_headline, window, "the standing");
  window_test_settle ();
}

FettleWindow *
window_test_open_model (const char *path, const char *model, const char *page)
{
  FettleWindow *window = fettle_window_new (window_test_program ());
  FettleWish wish = { model, page, NULL };

  fettle_window_open (window, path, FALSE, &wish);
  gtk_window_present (GTK_WINDOW (window));
  window_test_wait_standing (window);
  return window;
}

FettleWindow *
window_test_open (const char *path, const char *page)
{
  return window_test_open_model (path, NULL, page);
}

/*
 * A tooltip that is due when its window goes makes GTK 4.8 ask a surface that is gone: a popover that closes under a
 * pointer it has grabbed is enough. What is due is kept beside the display under this name, and given up with it.
 */
void
window_test_destroy (GtkWindow *window)
{
  g_object_set_data (G_OBJECT (gtk_widget_get_display (GTK_WIDGET (window))), "gdk-display-current-tooltip", NULL);
  gtk_window_destroy (window);
  window_test_settle ();
}

void
window_test_close (FettleWindow *window)
{
  window_test_destroy (GTK_WINDOW (window));
}

GtkWidget *
window_test_find (GtkWidget *root, const char *name)
{
  GtkWidget *found = NULL;

  if (g_strcmp0 (gtk_widget_get_name (root), name) == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = window_test_find (child, name);
  return found;
}

GtkWidget *
window_test_get (GtkWidget *root, const char *name)
{
  GtkWidget *found = window_test_find (root, name);

  if (found == NULL)
    g_error ("there is no widget '%s'", name);
  return found;
}

void
window_test_each (GtkWidget *root, WindowTestEach each, gpointer data)
{
  each (root, data);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    window_test_each (child, each, data);
}

static void
on_edited (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error));
  g_assert_no_error (error);
  *(gboolean *) data = TRUE;
}

static gboolean
is_done (gpointer done)
{
  return *(gboolean *) done;
}

void
window_test_edit (FettleWindow *window, BookEdit *edit)
{
  gboolean done = FALSE;

  fettle_sitting_edit (fettle_window_get_sitting (window), edit, on_edited, &done);
  window_test_wait (is_done, &done, "the edit");
}

static void
count_named (GtkWidget *widget, gpointer data)
{
  guint *n = data;

  if (!(GTK_IS_ENTRY (widget) || GTK_IS_BUTTON (widget) || GTK_IS_DROP_DOWN (widget) || FETTLE_IS_CHOICE_EDITOR (widget)
        || GTK_IS_SEARCH_ENTRY (widget) || GTK_IS_LIST_BOX (widget) || FETTLE_IS_TABLE (widget)))
    return;
  (*n)++;
  if (GTK_IS_BUTTON (widget) && gtk_button_get_label (GTK_BUTTON (widget)) != NULL)
    return;
  if (!gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL)
      && !gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY))
    g_test_fail_printf ("%s '%s' has no name", G_OBJECT_TYPE_NAME (widget), gtk_widget_get_name (widget));
}

guint
window_test_count_named (GtkWidget *root)
{
  guint n = 0;

  window_test_each (root, count_named, &n);
  return n;
}

/* Gives a key to the widget's own key controllers. */
gboolean
window_test_press (GtkWidget *widget, guint keyval, GdkModifierType modifiers)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr(GObject) controller = g_list_model_get_item (controllers, i);
      gboolean handled = FALSE;

      if (!GTK_IS_EVENT_CONTROLLER_KEY (controller))
        continue;
      g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, modifiers, &handled);
      if (handled)
        return TRUE;
    }
  return FALSE;
}

static gboolean
triggers (GtkShortcutTrigger *trigger, guint keyval, GdkModifierType modifiers)
{
  if (GTK_IS_ALTERNATIVE_TRIGGER (trigger))
    return triggers (gtk_alternative_trigger_get_first (GTK_ALTERNATIVE_TRIGGER (trigger)), keyval, modifiers)
           || triggers (gtk_alternative_trigger_get_second (GTK_ALTERNATIVE_TRIGGER (trigger)), keyval, modifiers);
  return GTK_IS_KEYVAL_TRIGGER (trigger)
         && gtk_keyval_trigger_get_keyval (GTK_KEYVAL_TRIGGER (trigger)) == keyval
         && gtk_keyval_trigger_get_modifiers (GTK_KEYVAL_TRIGGER (trigger)) == modifiers;
}

/* A key may mean something else on each page: what is out of force leaves it to the next, as in GTK. */
static gboolean
activate_in (GListModel *shortcuts, GtkWidget *widget, guint keyval, GdkModifierType modifiers)
{
  for (guint i = 0; i < g_list_model_get_n_items (shortcuts); i++)
    {
      g_autoptr(GtkShortcut) shortcut = g_list_model_get_item (shortcuts, i);

      if (triggers (gtk_shortcut_get_trigger (shortcut), keyval, modifiers)
          && gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), GTK_SHORTCUT_ACTION_EXCLUSIVE, widget,
                                           gtk_shortcut_get_arguments (shortcut)))
        return TRUE;
    }
  return FALSE;
}

/* Presses a shortcut where @widget has the focus: its own and its parents' shortcuts are asked, as GTK does. */
gboolean
window_test_shortcut (GtkWidget *widget, guint keyval, GdkModifierType modifiers)
{
  for (; widget != NULL; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
        {
          g_autoptr(GObject) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_SHORTCUT_CONTROLLER (controller) && activate_in (G_LIST_MODEL (controller), widget, keyval, modifiers))
            return TRUE;
        }
    }
  return FALSE;
}

void
window_test_act (FettleWindow *window, const char *action, const char *target)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), action, target != NULL ? "s" : NULL, target));
}

void
window_test_type (GtkWidget *root, const char *field, const char *text)
{
  GtkWidget *control = window_test_get (root, field);

  if (GTK_IS_TEXT_VIEW (control))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (control)), text, -1);
  else
    gtk_editable_set_text (GTK_EDITABLE (control), text);
}

const FettlePerson *
window_test_find_person (FettleWindow *window, const char *initials)
{
  for (guint i = 0; i < window->facts->n_persons; i++)
    if (g_str_equal (window->facts->persons[i].initials, initials))
      return &window->facts->persons[i];
  return NULL;
}

void
window_test_choose_person (FettleWindow *window, const char *initials)
{
  const FettlePerson *person = window_test_find_person (window, initials);

  g_assert_nonnull (person);
  fettle_sitting_set_person (fettle_window_get_sitting (window), person->key);
  window_test_settle ();
}

void
window_test_choose (GtkWidget *control, guint selected)
{
  if (FETTLE_IS_CHOICE_EDITOR (control))
    fettle_choice_editor_choose (FETTLE_CHOICE_EDITOR (control), selected);
  else
    gtk_drop_down_set_selected (GTK_DROP_DOWN (control), selected);
}

void
window_test_choose_reference (GtkWidget *form, const char *field, const char *text)
{
  GtkWidget *button = window_test_get (form, field), *search;

  g_signal_emit_by_name (button, "clicked");
  window_test_settle ();
  search = window_test_get (button, "reference-search");
  gtk_editable_set_text (GTK_EDITABLE (search), text);
  g_signal_emit_by_name (search, "activate");
  window_test_settle ();
}

static void
on_read (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  *(char **) data = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);
}

static gboolean
is_read (gpointer data)
{
  return *(char **) data != NULL;
}

char *
window_test_dup_clipboard (GtkWidget *widget)
{
  char *text = NULL;

  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, on_read, &text);
  window_test_wait (is_read, &text, "the clipboard");
  return text;
}

void
window_test_drop (GtkWidget *widget, const GValue *value, double x, double y)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr(GObject) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        g_signal_emit_by_name (controller, "drop", value, x, y, &taken);
    }
  g_assert_true (taken);
}

void
window_test_drop_file (GtkWidget *widget, const char *path)
{
  g_auto(GValue) value = G_VALUE_INIT;

  g_value_init (&value, G_TYPE_FILE);
  g_value_take_object (&value, g_file_new_for_path (path));
  window_test_drop (widget, &value, 0.0, 0.0);
}

gboolean
window_test_picture (GtkWidget *widget, const char *path)
{
  g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  int width = gdk_paintable_get_intrinsic_width (paintable), height = gdk_paintable_get_intrinsic_height (paintable);
  g_autoptr(GskRenderNode) node = NULL;
  g_autoptr(GdkTexture) texture = NULL;

  gdk_paintable_snapshot (paintable, snapshot, width, height);
  node = gtk_snapshot_free_to_node (snapshot);
  if (node == NULL)
    return FALSE;
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (gtk_widget_get_native (widget)), node,
                                         &GRAPHENE_RECT_INIT (0, 0, width, height));
  return gdk_texture_save_to_png (texture, path);
}
