/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "large-key.h"

#include <glib/gi18n.h>

#include "tip.h"
#include "words.h"

struct _FettleLargeKey
{
  GtkButton parent_instance;

  GtkLabel *label;
  GtkLabel *key;
  GtkLabel *figure;
};

G_DEFINE_FINAL_TYPE (FettleLargeKey, fettle_large_key, GTK_TYPE_BUTTON)

/* Heard as one: what it does, and the figure that it shows. */
static void
name (FettleLargeKey *self)
{
  const char *figure = gtk_label_get_label (self->figure);
  g_autofree char *words = *figure != '\0' ? g_strdup_printf ("%s, %s", gtk_label_get_label (self->label), figure)
                                           : g_strdup (gtk_label_get_label (self->label));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

static void
fettle_large_key_class_init (FettleLargeKeyClass *class)
{
}

static void
fettle_large_key_init (FettleLargeKey *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "hexpand", TRUE, "wrap", TRUE, "lines", 2, "ellipsize",
                              PANGO_ELLIPSIZE_END, "width-chars", 8, "max-width-chars", 22, NULL);
  self->key = g_object_new (GTK_TYPE_LABEL, "valign", GTK_ALIGN_START, "css-classes", (const char *[]){ "dim", NULL }, NULL);
  self->figure = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "visible", FALSE, "css-classes",
                               (const char *[]){ "figure", "num", NULL }, NULL);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->label));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->key));
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->figure));
  gtk_button_set_child (GTK_BUTTON (self), box);
  gtk_widget_set_size_request (GTK_WIDGET (self), 2 * FETTLE_LARGE_KEY_LEAST, FETTLE_LARGE_KEY_LEAST);
  gtk_widget_add_css_class (GTK_WIDGET (self), "plain");
  gtk_widget_add_css_class (GTK_WIDGET (self), "large-key");
}

/**
 * fettle_large_key_new:
 * @label: what it does
 * @key: of the keyboard, shown in a corner
 *
 * Returns: (transfer floating): the key, without a figure
 */
GtkWidget *
fettle_large_key_new (const char *label, const char *key)
{
  FettleLargeKey *self = g_object_new (FETTLE_TYPE_LARGE_KEY, NULL);

  gtk_label_set_label (self->key, key);
  fettle_large_key_set_label (self, label);
  return GTK_WIDGET (self);
}

void
fettle_large_key_set_label (FettleLargeKey *self, const char *label)
{
  g_return_if_fail (FETTLE_IS_LARGE_KEY (self));

  gtk_label_set_label (self->label, label);
  fettle_tip_set (GTK_WIDGET (self), label);
  name (self);
}

/* @figure "": none */
void
fettle_large_key_set_figure (FettleLargeKey *self, const char *figure)
{
  g_return_if_fail (FETTLE_IS_LARGE_KEY (self));

  fettle_words_show (self->figure, figure);
  name (self);
}
