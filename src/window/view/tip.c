/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tip.h"

static const char tip[] = "fettle-tip";

static gboolean
on_query (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  gtk_tooltip_set_text (tooltip, fettle_tip_get (widget));
  return TRUE;
}

/**
 * fettle_tip_set:
 * @widget: any, but one that answers to 'query-tooltip' itself
 * @text: (nullable): %NULL or "": none
 *
 * Shows @text where the pointer rests on @widget. A reader of the screen is told it, too, as what the widget is for; but not of a
 * label whose tip only repeats what is cut of it.
 */
void
fettle_tip_set (GtkWidget *widget, const char *text)
{
  const char *before, *now = text != NULL ? text : "";

  g_return_if_fail (GTK_IS_WIDGET (widget));

  before = g_object_get_data (G_OBJECT (widget), tip);
  if (g_str_equal (before != NULL ? before : "", now))
    return;
  if (before == NULL)
    g_signal_connect (widget, "query-tooltip", G_CALLBACK (on_query), NULL);
  g_object_set_data_full (G_OBJECT (widget), tip, g_strdup (now), g_free);
  gtk_widget_set_has_tooltip (widget, *now != '\0');
  if (!GTK_IS_LABEL (widget) || !g_str_equal (now, gtk_label_get_label (GTK_LABEL (widget))))
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, now, -1);
  if ((gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_PRELIGHT) != 0)
    gtk_widget_trigger_tooltip_query (widget); /* it may be shown just now */
}

/* NULL: none. */
const char *
fettle_tip_get (GtkWidget *widget)
{
  const char *text;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), NULL);

  text = g_object_get_data (G_OBJECT (widget), tip);
  return text != NULL && *text != '\0' ? text : NULL;
}
