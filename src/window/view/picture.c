/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * GtkPicture wants as much room as its picture has dots, or none at all; here a picture has the height that it is given
 * and the width that follows from it, and gives way where there is less.
 */
#include "config.h"

#include "picture.h"

#include <glib/gi18n.h>

#include "reveal.h"
#include "tip.h"
#include "unparent.h"

#define LARGE 620 /* height of a picture that was made large; never more than it has dots */

/* ---- the picture itself ---- */

#define FETTLE_TYPE_PICTURE_AREA (fettle_picture_area_get_type ())
G_DECLARE_FINAL_TYPE (FettlePictureArea, fettle_picture_area, FETTLE, PICTURE_AREA, GtkWidget)

struct _FettlePictureArea
{
  GtkWidget parent_instance;

  GdkPaintable *paintable;
  int           height;
};

G_DEFINE_FINAL_TYPE (FettlePictureArea, fettle_picture_area, GTK_TYPE_WIDGET)

static double
ratio_of (FettlePictureArea *self)
{
  double ratio = gdk_paintable_get_intrinsic_aspect_ratio (self->paintable);

  return ratio > 0 ? ratio : 1;
}

static GtkSizeRequestMode
fettle_picture_area_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_picture_area_measure (GtkWidget      *widget,
                             GtkOrientation  orientation,
                             int             for_size,
                             int            *minimum,
                             int            *natural,
                             int            *minimum_baseline,
                             int            *natural_baseline)
{
  FettlePictureArea *self = FETTLE_PICTURE_AREA (widget);
  int width = (int) (self->height * ratio_of (self));

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = MIN (width, 80);
      *natural = width;
    }
  else
    *minimum = *natural = for_size >= 0 && for_size < width ? (int) (for_size / ratio_of (self)) : self->height;
}

static void
fettle_picture_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  FettlePictureArea *self = FETTLE_PICTURE_AREA (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double shown = MIN (width, height * ratio_of (self));

  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) (width - shown) / 2, 0));
  gdk_paintable_snapshot (self->paintable, snapshot, shown, shown / ratio_of (self));
  gtk_snapshot_restore (snapshot);
}

static void
fettle_picture_area_finalize (GObject *object)
{
  g_clear_object (&FETTLE_PICTURE_AREA (object)->paintable);
  G_OBJECT_CLASS (fettle_picture_area_parent_class)->finalize (object);
}

static void
fettle_picture_area_class_init (FettlePictureAreaClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = fettle_picture_area_finalize;
  widget_class->get_request_mode = fettle_picture_area_get_request_mode;
  widget_class->measure = fettle_picture_area_measure;
  widget_class->snapshot = fettle_picture_area_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fettle_picture_area_init (FettlePictureArea *self)
{
}

/* ---- the button around it ---- */

struct _FettlePicture
{
  GtkWidget parent_instance;

  FettlePictureArea *area;
  int                small; /* height */
};

G_DEFINE_FINAL_TYPE (FettlePicture, fettle_picture, GTK_TYPE_WIDGET)

static void
on_toggled (FettlePicture *self, GtkToggleButton *button)
{
  gboolean large = gtk_toggle_button_get_active (button);

  self->area->height = MIN (large ? LARGE : self->small, gdk_paintable_get_intrinsic_height (self->area->paintable));
  gtk_widget_queue_resize (GTK_WIDGET (self->area));
  fettle_reveal (GTK_WIDGET (self));
}

static void
fettle_picture_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_picture_parent_class)->dispose (object);
}

static void
fettle_picture_class_init (FettlePictureClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_picture_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_picture_init (FettlePicture *self)
{
}

/**
 * fettle_picture_new:
 * @paintable: what is shown
 * @name: of the file, for a screen reader and as a tooltip
 * @small: height at first
 *
 * Returns: (transfer floating): the picture
 */
GtkWidget *
fettle_picture_new (GdkPaintable *paintable, const char *name, int small)
{
  FettlePicture *self = g_object_new (FETTLE_TYPE_PICTURE, NULL);
  /* Translators: %s is the name of a file */
  g_autofree char *words = g_strdup_printf (_("Picture %s"), name);
  GtkWidget *button;

  self->small = small;
  self->area = g_object_new (FETTLE_TYPE_PICTURE_AREA, NULL);
  self->area->paintable = g_object_ref (paintable);
  self->area->height = MIN (small, gdk_paintable_get_intrinsic_height (paintable));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->area), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  button = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "child", self->area, "halign", GTK_ALIGN_START, "valign",
                         GTK_ALIGN_START, "name", "picture", "css-classes", (const char *[]){ "picture", NULL }, NULL);
  fettle_tip_set (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _("Shows it large, or small again"), -1);
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (on_toggled), self);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
