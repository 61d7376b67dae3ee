/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture.h"

#include <glib/gi18n.h>

#include "reveal.h"
#include "unparent.h"

#define LARGE 560 /* height of a picture that was made large; never more than it has dots */

struct _FettlePicture
{
  GtkWidget parent_instance;

  GtkWidget       *button;
  GtkWidget       *picture;
  int              small; /* height */
};

G_DEFINE_FINAL_TYPE (FettlePicture, fettle_picture, GTK_TYPE_WIDGET)

/* Its own size is that of the height asked for: GTK 4.8 would give a picture that may shrink no size at all. */
static void
show_size (FettlePicture *self, gboolean large)
{
  GdkPaintable *paintable = gtk_picture_get_paintable (GTK_PICTURE (self->picture));
  int height = MIN (large ? LARGE : self->small, gdk_paintable_get_intrinsic_height (paintable));
  double ratio = gdk_paintable_get_intrinsic_aspect_ratio (paintable);

  gtk_widget_set_size_request (self->picture, large ? -1 : (int) (height * (ratio > 0 ? ratio : 1)), height);
}

static void
on_toggled (FettlePicture *self, GtkToggleButton *button)
{
  show_size (self, gtk_toggle_button_get_active (button));
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

  self->small = small;
  self->picture = g_object_new (GTK_TYPE_PICTURE, "paintable", paintable, "can-shrink", TRUE, "content-fit",
                                GTK_CONTENT_FIT_CONTAIN, "alternative-text", words, NULL);
  self->button = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "child", self->picture, "tooltip-text", name, "halign", GTK_ALIGN_START,
                               "valign", GTK_ALIGN_START, "name", "picture", "css-classes",
                               (const char *[]){ "picture", NULL }, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _("Shows it large, or small again"), -1);
  g_signal_connect_swapped (self->button, "toggled", G_CALLBACK (on_toggled), self);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  show_size (self, FALSE);
  return GTK_WIDGET (self);
}
