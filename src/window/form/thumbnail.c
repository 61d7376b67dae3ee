/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "thumbnail.h"

#include <glib/gi18n.h>
#include <string.h>

#include "exchange-picture.h"
#include "tip.h"
#include "unparent.h"

#define PICTURE_SIDE 720 /* also enough for a closer look */
#define WIDTH 116
#define HEIGHT 84

struct _FettleThumbnail
{
  GtkWidget parent_instance;

  GtkWidget    *stack;
  GtkWidget    *picture;
  GtkLabel     *ending;
  GdkTexture   *texture;
  GCancellable *asking;
};

G_DEFINE_FINAL_TYPE (FettleThumbnail, fettle_thumbnail, GTK_TYPE_WIDGET)

static void
show_pixbuf (FettleThumbnail *self, GdkPixbuf *pixbuf)
{
  if (pixbuf == NULL || self->picture == NULL)
    return;
  g_clear_object (&self->texture);
  self->texture = gdk_texture_new_for_pixbuf (pixbuf);
  gtk_picture_set_paintable (GTK_PICTURE (self->picture), GDK_PAINTABLE (self->texture));
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->picture);
}

static gpointer
book_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const gint64 *attachment = data;
  g_autofree char *name = NULL;
  g_autoptr(GBytes) bytes = book_attachment_read (db, *attachment, &name, error);

  if (bytes == NULL)
    return NULL;
  store_reader_done_reading (db);
  return exchange_picture_decode (bytes, name, PICTURE_SIDE, cancellable, error);
}

/* What cannot be shown keeps its ending; `fettle-batch check` says what is wrong with it. */
static void
on_book_picture (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleThumbnail) self = data;
  g_autoptr(GdkPixbuf) pixbuf = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL);

  show_pixbuf (self, pixbuf);
}

static void
file_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  g_autoptr(GBytes) bytes = g_file_load_bytes (data, cancellable, NULL, &error);
  g_autofree char *name = g_file_get_basename (data);
  GdkPixbuf *pixbuf = bytes != NULL ? exchange_picture_decode (bytes, name, PICTURE_SIDE, cancellable, &error) : NULL;

  if (pixbuf != NULL)
    g_task_return_pointer (task, pixbuf, g_object_unref);
  else
    g_task_return_error (task, error);
}

static void
on_file_picture (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GdkPixbuf) pixbuf = g_task_propagate_pointer (G_TASK (result), NULL);

  show_pixbuf (FETTLE_THUMBNAIL (source), pixbuf);
}

static void
fettle_thumbnail_dispose (GObject *object)
{
  FettleThumbnail *self = FETTLE_THUMBNAIL (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->picture = NULL;
  g_clear_object (&self->texture);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_thumbnail_parent_class)->dispose (object);
}

/* However large the picture is, and however long its name. */
static void
fettle_thumbnail_measure (GtkWidget     *widget,
                          GtkOrientation orientation,
                          int            for_size,
                          int           *minimum,
                          int           *natural,
                          int           *minimum_baseline,
                          int           *natural_baseline)
{
  int height;

  gtk_widget_measure (gtk_widget_get_last_child (widget), GTK_ORIENTATION_VERTICAL, WIDTH, NULL, &height, NULL, NULL);
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH : HEIGHT + height;
}

static void
fettle_thumbnail_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  int least;

  gtk_widget_measure (FETTLE_THUMBNAIL (widget)->stack, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_size_allocate (FETTLE_THUMBNAIL (widget)->stack, &(GtkAllocation){ 0, 0, MAX (width, least), HEIGHT }, -1);
  gtk_widget_size_allocate (gtk_widget_get_last_child (widget), &(GtkAllocation){ 0, HEIGHT, width, height - HEIGHT }, -1);
}

static void
fettle_thumbnail_class_init (FettleThumbnailClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_thumbnail_dispose;
  widget_class->measure = fettle_thumbnail_measure;
  widget_class->size_allocate = fettle_thumbnail_size_allocate;
}

static void
fettle_thumbnail_init (FettleThumbnail *self)
{
  self->asking = g_cancellable_new ();
  self->stack = gtk_stack_new ();
  gtk_widget_add_css_class (self->stack, "thumbnail");
  self->ending = g_object_new (GTK_TYPE_LABEL, "css-classes", (const char *[]){ "serif", "dim", NULL }, NULL);
  self->picture = gtk_picture_new ();
  gtk_picture_set_can_shrink (GTK_PICTURE (self->picture), TRUE);
  gtk_stack_add_child (GTK_STACK (self->stack), GTK_WIDGET (self->ending));
  gtk_stack_add_child (GTK_STACK (self->stack), self->picture);
  gtk_widget_set_parent (self->stack, GTK_WIDGET (self));
}

static FettleThumbnail *
make (const char *name)
{
  FettleThumbnail *self = g_object_new (FETTLE_TYPE_THUMBNAIL, NULL);
  const char *dot = strrchr (name, '.');
  g_autofree char *ending = g_utf8_strup (dot != NULL && strlen (dot) <= 6 ? dot + 1 : "…", -1);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", name, "ellipsize", PANGO_ELLIPSIZE_MIDDLE, "css-classes",
                                   (const char *[]){ "dim", "small", NULL }, NULL);

  fettle_tip_set (label, name);
  gtk_label_set_label (self->ending, ending);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return self;
}

/**
 * fettle_thumbnail_new_of_book:
 * @sitting: to be asked for the bytes
 * @attachment: not kept
 *
 * Returns: (transfer floating): a small picture
 */
GtkWidget *
fettle_thumbnail_new_of_book (FettleSitting *sitting, const BookAttachment *attachment)
{
  FettleThumbnail *self = make (attachment->name);

  if (attachment->is_picture)
    fettle_sitting_ask (sitting, book_work, g_memdup2 (&attachment->id, sizeof attachment->id), g_free, g_object_unref,
                        self->asking, on_book_picture, g_object_ref (self));
  return GTK_WIDGET (self);
}

/**
 * fettle_thumbnail_new_of_file:
 * @found: not kept
 *
 * Returns: (transfer floating): a small picture
 */
GtkWidget *
fettle_thumbnail_new_of_file (const ExchangeFound *found)
{
  FettleThumbnail *self = make (found->name);
  g_autoptr(GTask) task = g_task_new (self, self->asking, on_file_picture, NULL);

  g_task_set_source_tag (task, fettle_thumbnail_new_of_file);
  g_task_set_task_data (task, g_object_ref (found->file), g_object_unref);
  g_task_run_in_thread (task, file_work);
  return GTK_WIDGET (self);
}

GdkPaintable *
fettle_thumbnail_get_picture (FettleThumbnail *self)
{
  g_return_val_if_fail (FETTLE_IS_THUMBNAIL (self), NULL);

  return (GdkPaintable *) self->texture;
}
