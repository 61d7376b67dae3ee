/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "camera-folder.h"

#include <glib/gi18n.h>

#include "exchange-watch.h"
#include "thumbnail.h"
#include "unparent.h"

#define MOST_PICTURES 12
#define KEY "picture-folder"

struct _FettleCameraFolder
{
  GtkWidget parent_instance;

  FettleSitting        *sitting;
  GSettings            *settings;
  ExchangeWatch        *watch;
  GPtrArray            *files; /* GFile, in the order shown */
  GtkLabel             *words;
  GtkFlowBox           *flow;
  GtkFileChooserNative *chooser;
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleCameraFolder, fettle_camera_folder, GTK_TYPE_WIDGET)

static void
tell (FettleCameraFolder *self, const char *words)
{
  gtk_label_set_label (self->words, words);
}

static void
on_found (GPtrArray *found, const GError *error, gpointer data)
{
  FettleCameraFolder *self = FETTLE_CAMERA_FOLDER (data);
  GtkWidget *child;

  while ((child = GTK_WIDGET (gtk_flow_box_get_child_at_index (self->flow, 0))) != NULL)
    gtk_flow_box_remove (self->flow, child);
  g_ptr_array_set_size (self->files, 0);
  gtk_widget_set_visible (GTK_WIDGET (self->flow), found != NULL && found->len > 0);
  if (found == NULL)
    {
      tell (self, error->message);
      return;
    }
  for (guint i = 0; i < found->len; i++)
    {
      const ExchangeFound *picture = g_ptr_array_index (found, i);

      g_ptr_array_add (self->files, g_object_ref (picture->file));
      gtk_flow_box_append (self->flow, fettle_thumbnail_new_of_file (picture));
      child = GTK_WIDGET (gtk_flow_box_get_child_at_index (self->flow, (int) i));
      gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, picture->name, -1);
    }
  tell (self, found->len > 0 ? _("Newest first. Enter or a click attaches one.") : _("No picture lies in this folder yet."));
}

static void
watch (FettleCameraFolder *self)
{
  g_autofree char *path = g_settings_get_string (self->settings, KEY);
  const char *place = path[0] != '\0' ? path : g_get_user_special_dir (G_USER_DIRECTORY_PICTURES);
  g_autoptr(GFile) folder = place != NULL ? g_file_new_for_path (place) : NULL;

  g_clear_pointer (&self->watch, exchange_watch_free);
  if (folder == NULL)
    tell (self, _("Choose the folder into which the camera puts its pictures."));
  else
    self->watch = exchange_watch_new (folder, MOST_PICTURES, on_found, self);
}

static void
on_activated (FettleCameraFolder *self, GtkFlowBoxChild *child)
{
  g_signal_emit (self, signals[CHOSEN], 0, g_ptr_array_index (self->files, (guint) gtk_flow_box_child_get_index (child)));
}

static void
on_response (FettleCameraFolder *self, int response)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr(GFile) folder = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
      g_autofree char *path = g_file_get_path (folder);

      g_settings_set_string (self->settings, KEY, path != NULL ? path : "");
      watch (self);
    }
  g_clear_object (&self->chooser);
}

static void
on_choose (FettleCameraFolder *self)
{
  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (_("Folder of the Camera"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                                               GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("_Choose"), _("_Cancel"));
  g_signal_connect_swapped (self->chooser, "response", G_CALLBACK (on_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static void
fettle_camera_folder_dispose (GObject *object)
{
  FettleCameraFolder *self = FETTLE_CAMERA_FOLDER (object);

  g_clear_pointer (&self->watch, exchange_watch_free);
  if (self->chooser != NULL)
    g_signal_handlers_disconnect_by_data (self->chooser, self);
  g_clear_object (&self->chooser);
  fettle_unparent_children (object);
  g_clear_object (&self->settings);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->files, g_ptr_array_unref);
  G_OBJECT_CLASS (fettle_camera_folder_parent_class)->dispose (object);
}

static void
fettle_camera_folder_class_init (FettleCameraFolderClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_camera_folder_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                  G_TYPE_FILE);
}

static void
fettle_camera_folder_init (FettleCameraFolder *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *choose = g_object_new (GTK_TYPE_BUTTON, "label", _("Other Folder…"), "name", "camera-choose", "valign", GTK_ALIGN_CENTER,
                                    "css-classes", (const char *[]){ "plain", NULL }, NULL);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  gtk_widget_set_name (GTK_WIDGET (self), "camera");
  self->files = g_ptr_array_new_with_free_func (g_object_unref);
  self->settings = g_settings_new (FETTLE_APP_ID);
  self->words = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 18, "max-width-chars", 60,
                              "css-classes", (const char *[]){ "dim", NULL }, NULL);
  self->flow = g_object_new (GTK_TYPE_FLOW_BOX, "selection-mode", GTK_SELECTION_NONE, "column-spacing", 8, "row-spacing", 6,
                             "max-children-per-line", 12, "homogeneous", TRUE, "activate-on-single-click", TRUE, "visible", FALSE,
                             "halign", GTK_ALIGN_START, "name", "camera-pictures", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->flow), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Pictures of the camera"), -1);
  g_signal_connect_swapped (self->flow, "child-activated", G_CALLBACK (on_activated), self);
  g_signal_connect_swapped (choose, "clicked", G_CALLBACK (on_choose), self);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->words));
  gtk_box_append (GTK_BOX (line), choose);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->flow), GTK_WIDGET (self));
}

/**
 * fettle_camera_folder_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the pictures of the folder, watched as long as this lives
 */
GtkWidget *
fettle_camera_folder_new (FettleSitting *sitting)
{
  FettleCameraFolder *self = g_object_new (FETTLE_TYPE_CAMERA_FOLDER, NULL);

  self->sitting = g_object_ref (sitting);
  watch (self);
  return GTK_WIDGET (self);
}
