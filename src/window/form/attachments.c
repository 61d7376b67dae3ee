/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "attachments.h"

#include <glib/gi18n.h>

#include "book-attach.h"
#include "camera-folder.h"
#include "exchange-picture.h"
#include "thumbnail.h"
#include "tip.h"
#include "unparent.h"
#include "wrap.h"

#define LOOK_WIDTH 640 /* of a closer look */
#define LOOK_HEIGHT 460

struct _FettleAttachments
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  BookRecordId   record;
  gint64         owner;
  GPtrArray     *shown; /* BookAttachment; NULL: not asked yet */
  GCancellable  *asking;

  GtkFlowBox           *flow;
  GtkLabel             *empty;
  GtkWidget            *original; /* a check: keep originals */
  GtkWidget            *folder_open;
  GtkWidget            *folder; /* FettleCameraFolder; NULL until opened */
  GtkFileChooserNative *chooser;
};

static void ask (FettleAttachments *self);

G_DEFINE_FINAL_TYPE (FettleAttachments, fettle_attachments, GTK_TYPE_WIDGET)

static void
say_error (FettleAttachments *self, const GError *error)
{
  if (self->sitting != NULL)
    fettle_sitting_say_error (self->sitting, error);
}

/* ---- what is there ---- */

static const BookAttachment *
attachment_of (FettleAttachments *self, GtkFlowBoxChild *child)
{
  return g_ptr_array_index (self->shown, (guint) gtk_flow_box_child_get_index (child));
}

static void
on_detached (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    say_error (self, error);
  else if (self->sitting != NULL)
    fettle_sitting_say (self->sitting, _("The file is no longer attached."), _("Undo"), "win.undo-book");
}

static gboolean
on_key (FettleAttachments *self, guint keyval)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self->flow));

  if ((keyval != GDK_KEY_Delete && keyval != GDK_KEY_KP_Delete) || focus == NULL)
    return GDK_EVENT_PROPAGATE;
  fettle_sitting_edit (self->sitting, book_edit_detach (attachment_of (self, GTK_FLOW_BOX_CHILD (focus))->id), on_detached,
                       g_object_ref (self));
  return GDK_EVENT_STOP;
}

static void
on_look_closed (GtkWidget *popover)
{
  gtk_widget_unparent (popover);
}

/* A closer look; what is no picture has none. */
static void
on_activated (FettleAttachments *self, GtkFlowBoxChild *child)
{
  FettleThumbnail *thumbnail = FETTLE_THUMBNAIL (gtk_flow_box_child_get_child (child));
  GdkPaintable *paintable = fettle_thumbnail_get_picture (thumbnail);
  GtkWidget *popover, *picture;
  graphene_rect_t bounds;
  double scale;

  if (paintable == NULL)
    return;
  scale = MIN (1.0, MIN ((double) LOOK_WIDTH / gdk_paintable_get_intrinsic_width (paintable),
                         (double) LOOK_HEIGHT / gdk_paintable_get_intrinsic_height (paintable)));
  picture = gtk_picture_new_for_paintable (paintable);
  gtk_widget_set_size_request (picture, (int) (scale * gdk_paintable_get_intrinsic_width (paintable)),
                               (int) (scale * gdk_paintable_get_intrinsic_height (paintable)));
  gtk_accessible_update_property (GTK_ACCESSIBLE (picture), GTK_ACCESSIBLE_PROPERTY_LABEL, attachment_of (self, child)->name, -1);
  popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), picture);
  gtk_widget_set_parent (popover, GTK_WIDGET (self));
  if (gtk_widget_compute_bounds (GTK_WIDGET (child), GTK_WIDGET (self), &bounds))
    gtk_popover_set_pointing_to (GTK_POPOVER (popover), &(GdkRectangle){ (int) bounds.origin.x, (int) bounds.origin.y,
                                                                         (int) bounds.size.width, (int) bounds.size.height });
  g_signal_connect (popover, "closed", G_CALLBACK (on_look_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}

static gboolean
is_same (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (((BookAttachment *) g_ptr_array_index (a, i))->id != ((BookAttachment *) g_ptr_array_index (b, i))->id)
      return FALSE;
  return TRUE;
}

static void
show_attachments (FettleAttachments *self)
{
  GtkWidget *child;

  while ((child = GTK_WIDGET (gtk_flow_box_get_child_at_index (self->flow, 0))) != NULL)
    gtk_flow_box_remove (self->flow, child);
  for (guint i = 0; i < self->shown->len; i++)
    {
      const BookAttachment *attachment = g_ptr_array_index (self->shown, i);

      gtk_flow_box_append (self->flow, fettle_thumbnail_new_of_book (self->sitting, attachment));
      child = GTK_WIDGET (gtk_flow_box_get_child_at_index (self->flow, (int) i));
      fettle_tip_set (child, _("Enter shows it larger, Delete takes it away"));
      gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, attachment->name, -1);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->flow), self->shown->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->empty), self->shown->len == 0);
}

static void
on_listed (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;
  GPtrArray *found = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  gboolean same;

  if (found == NULL || self->flow == NULL)
    {
      g_clear_pointer (&found, g_ptr_array_unref);
      if (error != NULL)
        say_error (self, error);
      return;
    }
  same = is_same (self->shown, found);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  self->shown = found;
  if (!same)
    show_attachments (self);
}

typedef struct
{
  BookRecordId record;
  gint64       owner;
} Ask;

static gpointer
list_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Ask *ask = data;

  return book_attachments_list (db, ask->record, ask->owner, error);
}

static void
ask (FettleAttachments *self)
{
  Ask question = { self->record, self->owner };

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, list_work, g_memdup2 (&question, sizeof question), g_free,
                      (GDestroyNotify) g_ptr_array_unref, self->asking, on_listed, g_object_ref (self));
}

/* ---- what comes in ---- */

static void
on_attached (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    say_error (self, error);
}

static void
on_taken (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangePicture) picture = exchange_picture_take_finish (result, &error);
  BookAttachable what = { 0 };

  if (picture == NULL)
    {
      say_error (self, error);
      return;
    }
  if (self->sitting == NULL)
    return;
  what.kind = picture->width > 0 ? BOOK_ATTACHMENT_PHOTOGRAPH : BOOK_ATTACHMENT_OTHER;
  what.name = picture->name;
  what.mime_type = picture->mime_type;
  what.bytes = picture->bytes;
  fettle_sitting_edit (self->sitting, book_edit_attach (self->record, self->owner, &what, 1), on_attached, g_object_ref (self));
}

static gboolean
keeps_original (FettleAttachments *self)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (self->original));
}

static gboolean
is_picture (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *type = g_content_type_guess (name, NULL, 0, NULL);

  return g_content_type_is_a (type, "image/*");
}

void
fettle_attachments_take (FettleAttachments *self, GFile *file)
{
  g_return_if_fail (FETTLE_IS_ATTACHMENTS (self));

  exchange_picture_take_file_async (file, keeps_original (self) && is_picture (file) ? EXCHANGE_TAKE_ORIGINAL : EXCHANGE_TAKE_ANY,
                                    NULL, on_taken, g_object_ref (self));
}

static gboolean
on_drop (FettleAttachments *self, const GValue *value)
{
  if (G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    for (GSList *item = g_value_get_boxed (value); item != NULL; item = item->next)
      fettle_attachments_take (self, item->data);
  else if (G_VALUE_HOLDS (value, G_TYPE_FILE))
    fettle_attachments_take (self, g_value_get_object (value));
  else
    return FALSE;
  return TRUE;
}

static void
on_pasted_texture (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(GdkTexture) texture = gdk_clipboard_read_texture_finish (GDK_CLIPBOARD (source), result, &error);
  g_autoptr(GBytes) bytes = NULL;

  if (texture == NULL)
    {
      say_error (self, error);
      return;
    }
  if (self->original == NULL)
    return;
  bytes = gdk_texture_save_to_png_bytes (texture);
  /* Translators: file name of a picture that was pasted */
  exchange_picture_take_bytes_async (bytes, _("pasted.png"), keeps_original (self) ? EXCHANGE_TAKE_ORIGINAL : EXCHANGE_TAKE_PICTURE,
                                     NULL, on_taken, g_object_ref (self));
}

static void
on_pasted_files (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleAttachments) self = data;
  g_autoptr(GError) error = NULL;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, &error);

  if (value == NULL)
    say_error (self, error);
  else if (self->original != NULL)
    on_drop (self, value);
}

void
fettle_attachments_paste (FettleAttachments *self)
{
  GdkClipboard *clipboard;
  GdkContentFormats *formats;

  g_return_if_fail (FETTLE_IS_ATTACHMENTS (self));

  clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self));
  formats = gdk_clipboard_get_formats (clipboard);
  if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST))
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL, on_pasted_files, g_object_ref (self));
  else if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_TEXTURE))
    gdk_clipboard_read_texture_async (clipboard, NULL, on_pasted_texture, g_object_ref (self));
  else
    fettle_sitting_say (self->sitting, _("There is no picture and no file on the clipboard: copy one first."), NULL, NULL);
}

static void
on_response (FettleAttachments *self, int response)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr(GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (self->chooser));

      for (guint i = 0; i < g_list_model_get_n_items (files); i++)
        {
          g_autoptr(GFile) file = g_list_model_get_item (files, i);

          fettle_attachments_take (self, file);
        }
    }
  g_clear_object (&self->chooser);
}

void
fettle_attachments_choose (FettleAttachments *self)
{
  g_return_if_fail (FETTLE_IS_ATTACHMENTS (self));

  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (_("Attach Files"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                                               GTK_FILE_CHOOSER_ACTION_OPEN, _("_Attach"), _("_Cancel"));
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (self->chooser), TRUE);
  g_signal_connect_swapped (self->chooser, "response", G_CALLBACK (on_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
fettle_attachments_drop_on (FettleAttachments *self, GtkWidget *area)
{
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY);

  g_return_if_fail (FETTLE_IS_ATTACHMENTS (self));

  gtk_drop_target_set_gtypes (target, (GType[]){ GDK_TYPE_FILE_LIST, G_TYPE_FILE }, 2);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (area, GTK_EVENT_CONTROLLER (target));
}

static void
on_folder_toggled (FettleAttachments *self)
{
  gboolean open = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->folder_open));

  if (open && self->folder == NULL)
    {
      self->folder = fettle_camera_folder_new (self->sitting);
      g_signal_connect_swapped (self->folder, "chosen", G_CALLBACK (fettle_attachments_take), self);
      gtk_widget_insert_before (self->folder, GTK_WIDGET (self), NULL);
    }
  if (self->folder != NULL)
    gtk_widget_set_visible (self->folder, open);
  if (open)
    gtk_widget_child_focus (self->folder, GTK_DIR_TAB_FORWARD);
}

/* ---- as a widget ---- */

static void
fettle_attachments_dispose (GObject *object)
{
  FettleAttachments *self = FETTLE_ATTACHMENTS (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->chooser != NULL)
    g_signal_handlers_disconnect_by_data (self->chooser, self);
  g_clear_object (&self->chooser);
  if (self->sitting != NULL)
    g_signal_handlers_disconnect_by_data (self->sitting, self);
  g_clear_object (&self->sitting);
  self->flow = NULL;
  self->original = NULL;
  self->folder = NULL;
  fettle_unparent_children (object);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  G_OBJECT_CLASS (fettle_attachments_parent_class)->dispose (object);
}

static void
fettle_attachments_class_init (FettleAttachmentsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_attachments_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static GtkWidget *
make_button (FettleAttachments *self, const char *label, const char *name, const char *tooltip, GCallback clicked)
{
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", label, "name", name, "css-classes",
                                    (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (button, tooltip);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static GtkWidget *
make_buttons (FettleAttachments *self)
{
  GtkWidget *line = fettle_wrap_new (8);
  GtkWidget *buttons[4];

  buttons[0] = make_button (self, _("Attach a File…"), "attach", _("Choose photographs or files (F8)"),
                            G_CALLBACK (fettle_attachments_choose));
  buttons[1] = make_button (self, _("Paste"), "attach-paste", _("Attach the picture or files on the clipboard (Ctrl+V)"),
                            G_CALLBACK (fettle_attachments_paste));
  buttons[2] = self->folder_open = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "label", _("From the Camera"), "name", "attach-folder",
                                                 "css-classes", (const char *[]){ "plain", NULL }, NULL);
  fettle_tip_set (buttons[2], _("Pictures in the folder where your camera puts them, newest first"));
  buttons[3] = self->original = gtk_check_button_new_with_label (_("Keep originals"));
  gtk_widget_set_name (self->original, "attach-original");
  fettle_tip_set (self->original, _("Otherwise pictures are stored smaller, which is enough to see what is meant"));
  g_signal_connect_swapped (self->folder_open, "toggled", G_CALLBACK (on_folder_toggled), self);
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    fettle_wrap_add (FETTLE_WRAP (line), buttons[i]);
  return line;
}

static void
fettle_attachments_init (FettleAttachments *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkEventController *key = gtk_event_controller_key_new ();

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  gtk_widget_set_name (GTK_WIDGET (self), "attachments");
  self->flow = g_object_new (GTK_TYPE_FLOW_BOX, "selection-mode", GTK_SELECTION_NONE, "column-spacing", 8, "row-spacing", 6,
                             "max-children-per-line", 12, "homogeneous", TRUE, "name", "thumbnails", "visible", FALSE,
                             "activate-on-single-click", TRUE, "halign", GTK_ALIGN_START, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->flow), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Photographs and files"), -1);
  g_signal_connect_swapped (self->flow, "child-activated", G_CALLBACK (on_activated), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->flow), key);
  self->empty = g_object_new (GTK_TYPE_LABEL, "label", _("None yet. A photograph of what is wrong tells more than words: drop it here, or paste it."),
                              "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 60, "css-classes",
                              (const char *[]){ "dim", NULL }, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->flow), GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->empty), GTK_WIDGET (self));
  gtk_widget_set_parent (make_buttons (self), GTK_WIDGET (self));
}

/**
 * fettle_attachments_new:
 * @sitting: whose book
 * @record: kind of the record
 * @owner: its key
 *
 * Returns: (transfer floating): what is attached to the record
 */
GtkWidget *
fettle_attachments_new (FettleSitting *sitting, BookRecordId record, gint64 owner)
{
  FettleAttachments *self = g_object_new (FETTLE_TYPE_ATTACHMENTS, NULL);

  self->sitting = g_object_ref (sitting);
  self->record = record;
  self->owner = owner;
  if (record != BOOK_RECORD_ISSUE)
    gtk_label_set_label (self->empty, _("None yet. Drop a drawing, a mail or a picture here, or paste it."));
  g_signal_connect_swapped (sitting, "changed", G_CALLBACK (ask), self);
  fettle_attachments_drop_on (self, GTK_WIDGET (self));
  ask (self);
  return GTK_WIDGET (self);
}
