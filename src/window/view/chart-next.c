/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts stand behind rows of controls, many Tabs away; one key goes from each to the next. */
#include "config.h"
#include "chart-next.h"

#include "chart-view.h"
#include "keyboard.h"

/* The views below @widget that are shown, in the order in which Tab comes to them. */
static void
collect (GtkWidget *widget, GPtrArray *charts)
{
  if (!gtk_widget_get_mapped (widget) || !gtk_widget_get_child_visible (widget))
    return;
  if (FETTLE_IS_CHART_VIEW (widget) && fettle_chart_view_has_chart (FETTLE_CHART_VIEW (widget)))
    {
      g_ptr_array_add (charts, widget);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    collect (child, charts);
}

/**
 * fettle_chart_next_focus:
 * @page: a page in view
 *
 * Gives the keyboard to the chart behind the one that has it; after the last, and from elsewhere, to the first; from a button
 * beside a chart to that one.
 *
 * Returns: %FALSE when the page shows no chart now
 */
gboolean
fettle_chart_next_focus (GtkWidget *page)
{
  g_autoptr(GPtrArray) charts = g_ptr_array_new ();
  GtkWidget *focus = fettle_keyboard_focus (page);
  guint next = 0;

  collect (page, charts);
  if (charts->len == 0)
    return FALSE;
  for (guint i = 0; i < charts->len; i++)
    if (focus != NULL && gtk_widget_is_ancestor (focus, charts->pdata[i]))
      next = fettle_chart_view_is_focus (charts->pdata[i]) ? i + 1 : i;
  return fettle_chart_view_focus (charts->pdata[next % charts->len]);
}
