/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "closed-list.h"

#include <glib/gi18n.h>

/**
 * fettle_closed_list_new:
 * @label: (out) (transfer none): where what is chosen is written
 *
 * Returns: (transfer floating): a button; without a name until something is shown in it
 */
GtkWidget *
fettle_closed_list_new (GtkLabel **label)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *arrow, *button;

  *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
  arrow = g_object_new (GTK_TYPE_IMAGE, "icon-name", "pan-down-symbolic", "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (*label));
  gtk_box_append (GTK_BOX (box), arrow);
  button = g_object_new (GTK_TYPE_BUTTON, "child", box, "hexpand", TRUE, "css-classes", (const char *[]){ "plain", NULL }, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_HAS_POPUP, TRUE, -1);
  return button;
}

/**
 * fettle_closed_list_show:
 * @button: a closed list
 * @label: its label
 * @name: of what is chosen with it
 * @chosen: what is, or a hint
 * @is_none: whether it is a hint
 *
 * Writes what is chosen, which is also part of the button's name.
 */
void
fettle_closed_list_show (GtkWidget *button, GtkLabel *label, const char *name, const char *chosen, gboolean is_none)
{
  g_autofree char *words = NULL;

  if (g_str_equal (gtk_label_get_label (label), chosen) && gtk_widget_has_css_class (GTK_WIDGET (label), "dim") == is_none)
    return;
  /* Translators: name of a control and what is chosen in it: 'Characteristic: Opening force' */
  words = g_strdup_printf (_("%s: %s"), name, chosen);
  gtk_label_set_label (label, chosen);
  if (is_none)
    gtk_widget_add_css_class (GTK_WIDGET (label), "dim");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (label), "dim");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

/* Below the button, as wide as it at least. */
void
fettle_closed_list_open (GtkWidget *button, GtkPopover *popover)
{
  gtk_widget_set_size_request (GTK_WIDGET (popover), gtk_widget_get_width (button), -1);
  gtk_popover_popup (popover);
}
