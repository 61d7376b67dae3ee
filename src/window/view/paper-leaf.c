/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-leaf.h"

#define LEAST_WIDTH 320
#define MOST_WIDTH  820 /* at which it can be read without leaning forward */

/*
 * Method. What was drawn is painted into a picture by a thread when the page comes near what is seen, and the picture is let go when
 * it is far again: a whole document takes tens of megabytes. (Painted as it is into what GTK records, cairo 1.16 would copy it when
 * it is let go, and reads beyond its end then.)
 */

struct _FettlePaperLeaf
{
  GtkWidget parent_instance;

  cairo_surface_t *sheet;
  double           width; /* points */
  double           height;
  GdkTexture      *picture; /* NULL: far, or on its way */
  int              dots;    /* width of the picture that is there or on its way; 0: none */
  gboolean         near;
};

G_DEFINE_FINAL_TYPE (FettlePaperLeaf, fettle_paper_leaf, GTK_TYPE_WIDGET)

/* ---- painting, in a thread ---- */

typedef struct
{
  cairo_surface_t *sheet;
  double           scale;
  int              width; /* dots */
  int              height;
} Painting;

static void
painting_free (gpointer data)
{
  Painting *painting = data;

  cairo_surface_destroy (painting->sheet);
  g_free (painting);
}

static void
paint (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Painting *painting = data;
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, painting->width, painting->height);
  cairo_t *cr = cairo_create (image);
  g_autoptr(GBytes) bytes = NULL;

  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_paint (cr);
  cairo_scale (cr, painting->scale, painting->scale);
  cairo_set_source_surface (cr, painting->sheet, 0.0, 0.0);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (image),
                                      (gsize) cairo_image_surface_get_stride (image) * (gsize) painting->height,
                                      (GDestroyNotify) cairo_surface_destroy, image);
  g_task_return_pointer (task,
                         gdk_memory_texture_new (painting->width, painting->height, GDK_MEMORY_DEFAULT, bytes,
                                                 (gsize) cairo_image_surface_get_stride (image)),
                         g_object_unref);
}

static void
on_painted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  FettlePaperLeaf *self = FETTLE_PAPER_LEAF (source);
  g_autoptr(GdkTexture) picture = g_task_propagate_pointer (G_TASK (result), NULL);

  if (!self->near || gdk_texture_get_width (picture) != self->dots) /* far, or of another size by now */
    return;
  g_set_object (&self->picture, picture);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
follow (FettlePaperLeaf *self)
{
  const int width = gtk_widget_get_width (GTK_WIDGET (self)) * gtk_widget_get_scale_factor (GTK_WIDGET (self));
  g_autoptr(GTask) task = NULL;
  Painting *painting;

  if (!self->near || width <= 0 || width == self->dots)
    return;
  self->dots = width;
  painting = g_new0 (Painting, 1);
  painting->sheet = cairo_surface_reference (self->sheet);
  painting->scale = width / self->width;
  painting->width = width;
  painting->height = (int) (self->height * painting->scale + 0.5);
  task = g_task_new (self, NULL, on_painted, NULL);
  g_task_set_source_tag (task, follow);
  g_task_set_task_data (task, painting, painting_free);
  g_task_run_in_thread (task, paint);
}

/**
 * fettle_paper_leaf_set_near:
 * @self: a page
 * @near: whether it is seen, or soon will be
 */
void
fettle_paper_leaf_set_near (FettlePaperLeaf *self, gboolean near)
{
  g_return_if_fail (FETTLE_IS_PAPER_LEAF (self));

  if (self->near == near)
    return;
  self->near = near;
  if (!near)
    {
      g_clear_object (&self->picture);
      self->dots = 0;
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
  follow (self);
}

gboolean
fettle_paper_leaf_is_painted (FettlePaperLeaf *self)
{
  g_return_val_if_fail (FETTLE_IS_PAPER_LEAF (self), FALSE);

  return self->picture != NULL;
}

/* ---- as a widget ---- */

static void
fettle_paper_leaf_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  FettlePaperLeaf *self = FETTLE_PAPER_LEAF (widget);
  const graphene_rect_t all
      = GRAPHENE_RECT_INIT (0.0f, 0.0f, (float) gtk_widget_get_width (widget), (float) gtk_widget_get_height (widget));

  gtk_snapshot_append_color (snapshot, &(GdkRGBA){ 1.0f, 1.0f, 1.0f, 1.0f }, &all);
  if (self->picture != NULL)
    gtk_snapshot_append_texture (snapshot, self->picture, &all);
}

static void
fettle_paper_leaf_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  follow (FETTLE_PAPER_LEAF (widget));
}

static GtkSizeRequestMode
fettle_paper_leaf_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_paper_leaf_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *least, int *natural, int *least_baseline,
                           int *natural_baseline)
{
  const FettlePaperLeaf *self = FETTLE_PAPER_LEAF (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *least = LEAST_WIDTH;
      *natural = MOST_WIDTH;
    }
  else
    *least = *natural = (int) ((for_size > 0 ? for_size : MOST_WIDTH) * self->height / self->width + 0.5);
}

static void
fettle_paper_leaf_finalize (GObject *object)
{
  FettlePaperLeaf *self = FETTLE_PAPER_LEAF (object);

  g_clear_object (&self->picture);
  cairo_surface_destroy (self->sheet);
  G_OBJECT_CLASS (fettle_paper_leaf_parent_class)->finalize (object);
}

static void
fettle_paper_leaf_class_init (FettlePaperLeafClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = fettle_paper_leaf_finalize;
  widget_class->snapshot = fettle_paper_leaf_snapshot;
  widget_class->size_allocate = fettle_paper_leaf_size_allocate;
  widget_class->measure = fettle_paper_leaf_measure;
  widget_class->get_request_mode = fettle_paper_leaf_get_request_mode;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "leaf");
}

static void
fettle_paper_leaf_init (FettlePaperLeaf *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE); /* so that keys go from page to page */
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}

GtkWidget *
fettle_paper_leaf_new (cairo_surface_t *sheet, double width, double height, const char *label)
{
  FettlePaperLeaf *self = g_object_new (FETTLE_TYPE_PAPER_LEAF, NULL);

  self->sheet = cairo_surface_reference (sheet);
  self->width = width;
  self->height = height;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (self);
}
