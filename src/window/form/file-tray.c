/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whatever comes in is read and made smaller in a thread (exchange-picture.h); what cannot be taken is said in the tray
 * and leaves the rest alone. Text that is pasted while the keyboard is in the tray is kept as a mail.
 */
#include "config.h"

#include "file-tray.h"

#include <glib/gi18n.h>
#include <string.h>

#include "exchange-picture.h"
#include "unparent.h"
#include "words.h"

#define SAID_CHARS 30

struct _FettleFileTray
{
  GtkWidget parent_instance;

  FettleSitting        *sitting;
  BookAttachmentKind    kind;
  GPtrArray            *pictures; /* ExchangePicture */
  GCancellable         *taking;
  guint                 n_taking;
  GtkFileChooserNative *chooser;

  GtkWidget *choose;
  GtkBox    *names;
  GtkLabel  *said;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleFileTray, fettle_file_tray, GTK_TYPE_WIDGET)

static void
tell (FettleFileTray *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* ---- the list ---- */

static void show_names (FettleFileTray *self);

static void
on_remove (GtkButton *button, FettleFileTray *self)
{
  gtk_widget_grab_focus (self->choose); /* before the button goes */
  g_ptr_array_remove (self->pictures, g_object_get_data (G_OBJECT (button), "picture"));
  show_names (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static GtkWidget *
make_name (FettleFileTray *self, ExchangePicture *picture)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  g_autofree char *size = g_format_size (g_bytes_get_size (picture->bytes));
  /* Translators: a file's name and its size */
  g_autofree char *words = g_strdup_printf (_("%s (%s)"), picture->name, size);
  g_autofree char *what = g_strdup_printf (_("Leave out %s"), picture->name);
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0f, "ellipsize", PANGO_ELLIPSIZE_MIDDLE,
                                  "name", "file-name", NULL);
  GtkWidget *remove = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave Out"), "css-classes",
                                    (const char *[]){ "quiet", NULL }, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  g_object_set_data (G_OBJECT (remove), "picture", picture);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), self);
  gtk_box_append (GTK_BOX (line), name);
  gtk_box_append (GTK_BOX (line), remove);
  return line;
}

static void
show_names (FettleFileTray *self)
{
  fettle_unparent_children (self->names);
  for (guint i = 0; i < self->pictures->len; i++)
    gtk_box_append (self->names, make_name (self, g_ptr_array_index (self->pictures, i)));
}

/* ---- taking in ---- */

static void
on_taken (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleFileTray) self = data;
  g_autoptr(GError) error = NULL;
  ExchangePicture *picture = exchange_picture_take_finish (result, &error);

  if (self->names == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_clear_pointer (&picture, exchange_picture_free);
      return;
    }
  self->n_taking--;
  if (picture != NULL)
    g_ptr_array_add (self->pictures, picture);
  tell (self, error != NULL ? error->message : NULL);
  show_names (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/**
 * fettle_file_tray_take:
 * @self: a tray
 * @file: what is to be attached
 *
 * Reads a file in a thread and lists it; what cannot be taken is said in the tray.
 */
void
fettle_file_tray_take (FettleFileTray *self, GFile *file)
{
  g_return_if_fail (FETTLE_IS_FILE_TRAY (self));

  self->n_taking++;
  exchange_picture_take_file_async (file, EXCHANGE_TAKE_ANY, self->taking, on_taken, g_object_ref (self));
}

static void
take_bytes (FettleFileTray *self, GBytes *bytes, const char *name)
{
  self->n_taking++;
  exchange_picture_take_bytes_async (bytes, name, EXCHANGE_TAKE_ANY, self->taking, on_taken, g_object_ref (self));
}

static void
take_value (FettleFileTray *self, const GValue *value)
{
  if (G_VALUE_HOLDS (value, G_TYPE_FILE))
    fettle_file_tray_take (self, g_value_get_object (value));
  else if (G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    for (GSList *item = g_value_get_boxed (value); item != NULL; item = item->next)
      fettle_file_tray_take (self, item->data);
  else if (G_VALUE_HOLDS (value, GDK_TYPE_TEXTURE) && g_value_get_object (value) != NULL)
    {
      g_autoptr(GBytes) bytes = gdk_texture_save_to_png_bytes (g_value_get_object (value));

      /* Translators: name of a file that a pasted picture becomes */
      take_bytes (self, bytes, _("pasted.png"));
    }
  else if (G_VALUE_HOLDS_STRING (value) && g_value_get_string (value) != NULL)
    {
      g_autoptr(GBytes) bytes = g_bytes_new (g_value_get_string (value), strlen (g_value_get_string (value)));

      /* Translators: name of a file that the pasted text of a mail becomes */
      take_bytes (self, bytes, _("mail.txt"));
    }
}

static gboolean
on_drop (FettleFileTray *self, const GValue *value, double x, double y)
{
  take_value (self, value);
  return TRUE;
}

static void
on_pasted (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleFileTray) self = data;
  g_autoptr(GError) error = NULL;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, &error);

  if (self->names == NULL)
    return;
  if (value != NULL)
    take_value (self, value);
  else
    tell (self, _("What was copied cannot be read: copy it once more, or choose the file."));
}

static void
paste (FettleFileTray *self, GType type)
{
  gdk_clipboard_read_value_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), type, G_PRIORITY_DEFAULT, self->taking,
                                  on_pasted, g_object_ref (self));
}

/* Files and pictures are for the tray wherever the keyboard is in the form; text only while it is in the tray. */
static gboolean
on_paste_key (GtkWidget *form, GVariant *arguments, gpointer data)
{
  FettleFileTray *self = FETTLE_FILE_TRAY (data);
  GdkContentFormats *formats = gdk_clipboard_get_formats (gtk_widget_get_clipboard (GTK_WIDGET (self)));
  gboolean in_tray = (gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;
  gboolean has_files = gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST)
                       || gdk_content_formats_contain_mime_type (formats, "text/uri-list");
  gboolean has_text = gdk_content_formats_contain_gtype (formats, G_TYPE_STRING)
                      || gdk_content_formats_contain_mime_type (formats, "text/plain;charset=utf-8")
                      || gdk_content_formats_contain_mime_type (formats, "text/plain")
                      || gdk_content_formats_contain_mime_type (formats, "UTF8_STRING");
  gboolean has_picture = gdk_content_formats_contain_gtype (formats, GDK_TYPE_TEXTURE)
                         || gdk_content_formats_contain_mime_type (formats, "image/png");

  if (has_files)
    paste (self, GDK_TYPE_FILE_LIST);
  else if (has_picture && (in_tray || !has_text)) /* a spreadsheet offers its cells as a picture, too */
    paste (self, GDK_TYPE_TEXTURE);
  else if (in_tray && has_text)
    paste (self, G_TYPE_STRING);
  else
    return FALSE;
  return TRUE;
}

/* ---- choosing ---- */

static void
on_response (FettleFileTray *self, int response, GtkFileChooserNative *chooser)
{
  g_autoptr(GListModel) files = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (chooser));
  g_clear_object (&self->chooser);
  for (guint i = 0; files != NULL && i < g_list_model_get_n_items (files); i++)
    {
      g_autoptr(GFile) file = g_list_model_get_item (files, i);

      fettle_file_tray_take (self, file);
    }
}

/**
 * fettle_file_tray_choose:
 * @self: a tray
 *
 * Asks for files.
 */
void
fettle_file_tray_choose (FettleFileTray *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  g_return_if_fail (FETTLE_IS_FILE_TRAY (self));

  if (self->chooser == NULL)
    {
      self->chooser = gtk_file_chooser_native_new (_("Attach Files"), GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                                   GTK_FILE_CHOOSER_ACTION_OPEN, _("_Attach"), _("_Cancel"));
      gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (self->chooser), TRUE);
      gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (self->chooser), TRUE);
      g_signal_connect_object (self->chooser, "response", G_CALLBACK (on_response), self, G_CONNECT_SWAPPED);
    }
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/**
 * fettle_file_tray_clear:
 * @self: a tray
 *
 * Forgets what is listed and what is being read.
 */
void
fettle_file_tray_clear (FettleFileTray *self)
{
  g_return_if_fail (FETTLE_IS_FILE_TRAY (self));

  g_cancellable_cancel (self->taking);
  g_object_unref (self->taking);
  self->taking = g_cancellable_new ();
  self->n_taking = 0;
  g_ptr_array_set_size (self->pictures, 0);
  tell (self, NULL);
  show_names (self);
}

gboolean
fettle_file_tray_is_busy (FettleFileTray *self)
{
  g_return_val_if_fail (FETTLE_IS_FILE_TRAY (self), FALSE);

  return self->n_taking > 0;
}

/**
 * fettle_file_tray_list:
 * @self: a tray
 * @n: (out): how many
 *
 * Returns: (transfer container) (array length=n): what is to be attached; texts and bytes belong to the tray
 */
BookAttachable *
fettle_file_tray_list (FettleFileTray *self, guint *n)
{
  BookAttachable *list;

  *n = 0;
  g_return_val_if_fail (FETTLE_IS_FILE_TRAY (self), NULL);

  list = g_new0 (BookAttachable, self->pictures->len + 1);
  for (guint i = 0; i < self->pictures->len; i++)
    {
      const ExchangePicture *picture = g_ptr_array_index (self->pictures, i);

      list[i] = (BookAttachable){ .kind = self->kind, .name = picture->name, .mime_type = picture->mime_type,
                                  .bytes = picture->bytes };
    }
  *n = self->pictures->len;
  return list;
}

/* ---- as an object ---- */

static void
fettle_file_tray_dispose (GObject *object)
{
  FettleFileTray *self = FETTLE_FILE_TRAY (object);

  g_cancellable_cancel (self->taking);
  self->names = NULL;
  self->choose = NULL;
  fettle_unparent_children (object);
  g_clear_object (&self->chooser);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_file_tray_parent_class)->dispose (object);
}

static void
fettle_file_tray_finalize (GObject *object)
{
  FettleFileTray *self = FETTLE_FILE_TRAY (object);

  g_ptr_array_unref (self->pictures);
  g_clear_object (&self->taking);
  G_OBJECT_CLASS (fettle_file_tray_parent_class)->finalize (object);
}

static void
fettle_file_tray_class_init (FettleFileTrayClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->dispose = fettle_file_tray_dispose;
  object_class->finalize = fettle_file_tray_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_file_tray_init (FettleFileTray *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) exchange_picture_free);
  self->taking = g_cancellable_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 2);
  gtk_widget_add_css_class (GTK_WIDGET (self), "field");
}

/**
 * fettle_file_tray_new:
 * @sitting: the window's
 * @label: what belongs in it ('Drawing, mail or pictures')
 * @kind: of what is attached
 *
 * Returns: (transfer floating): an empty tray
 */
GtkWidget *
fettle_file_tray_new (FettleSitting *sitting, const char *label, BookAttachmentKind kind)
{
  FettleFileTray *self = g_object_new (FETTLE_TYPE_FILE_TRAY, NULL);
  GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", label, "xalign", 0.0f, "css-classes",
                                  (const char *[]){ "small", "dim", NULL }, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *hint = g_object_new (GTK_TYPE_LABEL, "label", _("or drop it here, or paste it"), "xalign", 0.0f, "ellipsize",
                                  PANGO_ELLIPSIZE_END, "css-classes", (const char *[]){ "dim", NULL }, NULL);

  gtk_widget_set_name (GTK_WIDGET (self), "file-tray");
  self->sitting = g_object_ref (sitting);
  self->kind = kind;
  self->choose = g_object_new (GTK_TYPE_BUTTON, "label", _("Choose a File…"), "name", "choose-file", "css-classes",
                               (const char *[]){ "plain", NULL }, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choose), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, label, -1);
  g_signal_connect_swapped (self->choose, "clicked", G_CALLBACK (fettle_file_tray_choose), self);
  self->names = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", SAID_CHARS, "visible", FALSE, "name",
                             "tray-said", "css-classes", (const char *[]){ "open", NULL }, NULL);
  gtk_widget_set_parent (head, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (line), self->choose);
  gtk_box_append (GTK_BOX (line), hint);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->names), GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->said), GTK_WIDGET (self));
  return GTK_WIDGET (self);
}

/**
 * fettle_file_tray_serve:
 * @self: a tray
 * @form: a widget that holds it
 *
 * Takes what is dropped anywhere on @form, and files and pictures that are pasted while the keyboard is in it.
 */
void
fettle_file_tray_serve (FettleFileTray *self, GtkWidget *form)
{
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY);
  GtkEventController *keys = gtk_shortcut_controller_new ();

  g_return_if_fail (FETTLE_IS_FILE_TRAY (self));

  gtk_drop_target_set_gtypes (target, (GType[]){ GDK_TYPE_FILE_LIST, G_TYPE_FILE, GDK_TYPE_TEXTURE }, 3);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (form, GTK_EVENT_CONTROLLER (target));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_v, GDK_CONTROL_MASK),
                                                          gtk_callback_action_new (on_paste_key, self, NULL)));
  gtk_widget_add_controller (form, keys);
}
