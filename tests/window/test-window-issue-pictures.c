/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of an issue: chosen, dropped, pasted, from the folder of a camera, and what is no picture. */
#include "config.h"

#include <string.h>

#include "attachments.h"
#include "window-issues.h"

typedef WindowTestFixture Fixture;

static char *
make_picture (Fixture *fixture)
{
  char *path = g_build_filename (fixture->folder, "slip.png", NULL);
  g_autoptr(GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 60, 40);

  gdk_pixbuf_fill (pixbuf, 0x9c4a1aff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, "png", NULL, NULL));
  return path;
}

static gboolean
has_picture (gpointer data)
{
  GtkWidget *flow = window_test_find (GTK_WIDGET (((Fixture *) data)->window), "thumbnails");

  return flow != NULL && gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (flow), 0) != NULL;
}

static gboolean
has_no_picture (gpointer data)
{
  return !has_picture (data);
}

static void
test_pictures (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = make_picture (fixture);
  g_autoptr(GFile) file = g_file_new_for_path (path);
  GtkWidget *flow;

  window_issues_raise (fixture, "Lock slips", 1);
  fettle_attachments_take (FETTLE_ATTACHMENTS (window_issues_get (fixture, "attachments")), file);
  window_test_wait (has_picture, fixture, "the picture");
  window_test_settle ();
  window_test_wait_seen (fixture->window, "thumbnails", "slip.png");

  /* Delete takes it away, undo brings it back. */
  flow = window_issues_get (fixture, "thumbnails");
  gtk_widget_grab_focus (GTK_WIDGET (gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (flow), 0)));
  g_assert_true (window_test_press (flow, GDK_KEY_Delete, 0));
  window_test_wait (has_no_picture, fixture, "no picture");
  window_test_settle ();
  fettle_sitting_undo (fettle_window_get_sitting (fixture->window));
  window_test_wait (has_picture, fixture, "the picture again");
}

static void
test_dropped (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = make_picture (fixture);
  g_autoptr(GFile) file = g_file_new_for_path (path);
  g_autoptr(GSList) files = g_slist_append (NULL, file);
  g_auto(GValue) value = G_VALUE_INIT;

  window_issues_raise (fixture, "Lock slips", 1);
  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&value, gdk_file_list_new_from_list (files));
  window_test_drop (window_issues_get (fixture, "issue-detail"), &value, 0.0, 0.0);
  window_test_wait (has_picture, fixture, "the dropped picture");
  window_test_settle ();
}

static void
test_pasted (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 60, 40);
  g_autoptr(GdkTexture) texture = NULL;

  gdk_pixbuf_fill (pixbuf, 0x26221cff);
  texture = gdk_texture_new_for_pixbuf (pixbuf);
  window_issues_raise (fixture, "Lock slips", 1);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), "words");
  g_signal_emit_by_name (window_issues_get (fixture, "attach-paste"), "clicked");
  window_test_wait_said (fixture->window, NULL);
  gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), texture);
  window_issues_press (fixture, GDK_KEY_v, GDK_CONTROL_MASK);
  window_test_wait (has_picture, fixture, "the pasted picture");
  window_test_settle ();
}

static gboolean
has_camera_picture (gpointer data)
{
  GtkWidget *flow = window_test_find (GTK_WIDGET (((Fixture *) data)->window), "camera-pictures");

  return flow != NULL && gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (flow), 0) != NULL;
}

/* A picture that a camera puts into its folder while that is shown. */
static void
test_camera (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GSettings) settings = g_settings_new (FETTLE_APP_ID);
  g_autofree char *path = NULL;
  GtkWidget *flow;

  g_settings_set_string (settings, "picture-folder", fixture->folder);
  window_issues_raise (fixture, "Lock slips", 1);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_issues_get (fixture, "attach-folder")), TRUE);
  window_test_wait_seen (fixture->window, "camera", "No picture");
  path = make_picture (fixture);
  window_test_wait (has_camera_picture, fixture, "the picture of the camera");
  window_test_settle ();
  flow = window_issues_get (fixture, "camera-pictures");
  g_signal_emit_by_name (flow, "child-activated", gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (flow), 0));
  window_test_wait (has_picture, fixture, "the attached picture");
  window_test_settle ();
  window_test_wait_seen (fixture->window, "thumbnails", "slip.png");
  g_settings_reset (settings, "picture-folder");
}

/* A file that is no book's business says so in the bar, and nothing is attached. */
static void
test_refused_picture (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "broken.png", NULL);
  g_autoptr(GFile) file = g_file_new_for_path (path);

  g_assert_true (g_file_set_contents (path, "this is no picture", -1, NULL));
  window_issues_raise (fixture, "Lock slips", 1);
  fettle_attachments_take (FETTLE_ATTACHMENTS (window_issues_get (fixture, "attachments")), file);
  window_test_wait_said (fixture->window, NULL);
  g_assert_nonnull (strstr (window_test_said (fixture->window), "broken.png"));
  g_assert_true (has_no_picture (fixture));
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(path, test) \
  g_test_add ("/window/issue-pictures/" path, Fixture, NULL, window_issues_set_up, test, window_test_tear_down)
  ADD ("takes-pictures-and-gives-them-back", test_pictures);
  ADD ("takes-what-is-dropped", test_dropped);
  ADD ("takes-a-pasted-picture", test_pasted);
  ADD ("offers-what-the-camera-puts-into-its-folder", test_camera);
  ADD ("refuses-a-picture-that-is-none", test_refused_picture);
#undef ADD
  return g_test_run ();
}
