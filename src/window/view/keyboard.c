/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "keyboard.h"

/**
 * fettle_keyboard_focus:
 * @widget: in a window, or in none
 *
 * Returns: (nullable): what has the keyboard in the window of @widget; %NULL while it goes from one widget to another
 */
GtkWidget *
fettle_keyboard_focus (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);

  return root != NULL ? gtk_root_get_focus (root) : NULL;
}

/**
 * fettle_keyboard_comes_back:
 * @widget: that was just told that the keyboard has left it
 *
 * GTK says the same when a person turns to another window, to look something up or to copy it. What is typed is not finished by that.
 *
 * Returns: whether the keyboard is in @widget again as soon as its window is turned to
 */
gboolean
fettle_keyboard_comes_back (GtkWidget *widget)
{
  GtkWidget *focus = fettle_keyboard_focus (widget);

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

/**
 * fettle_keyboard_is_in:
 * @widget: a page, or a part of one
 *
 * Returns: whether something in @widget has the keyboard that one can see; a pane that only scrolls does not count
 */
gboolean
fettle_keyboard_is_in (GtkWidget *widget)
{
  GtkWidget *focus = fettle_keyboard_focus (widget);

  return focus != NULL && gtk_widget_is_ancestor (focus, widget) && gtk_widget_get_mapped (focus) && !GTK_IS_SCROLLED_WINDOW (focus);
}

/**
 * fettle_keyboard_begin:
 * @page: a page in view
 *
 * Gives the keyboard to the first control of @page, unless something there has it already.
 *
 * Returns: whether @page has it now; %FALSE while it shows nothing yet
 */
gboolean
fettle_keyboard_begin (GtkWidget *page)
{
  GtkWidget *focus = fettle_keyboard_focus (page);

  if (fettle_keyboard_is_in (page))
    return TRUE;
  if (focus != NULL && gtk_widget_is_ancestor (focus, page))
    gtk_root_set_focus (gtk_widget_get_root (page), NULL); /* a pane leads out of itself, never in */
  gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
  return fettle_keyboard_is_in (page);
}

/* ---- where it is seen ---- */

/**
 * fettle_keyboard_pane:
 * @page: a page
 *
 * Returns: (nullable): the pane that scrolls all of it
 */
GtkWidget *
fettle_keyboard_pane (GtkWidget *page)
{
  GtkWidget *first = gtk_widget_get_first_child (page);

  return GTK_IS_SCROLLED_WINDOW (first) ? first : NULL;
}

/* A tick comes before the layout of its frame: the second one sees the sizes of the first. */
static gboolean
on_settled (GtkWidget *page, GdkFrameClock *clock, gpointer user_data)
{
  guint *ticks = user_data;
  GtkWidget *pane = fettle_keyboard_pane (page);
  GtkWidget *focus = fettle_keyboard_focus (page);
  graphene_rect_t bounds;

  if (pane == NULL || focus == NULL || focus == pane || !gtk_widget_is_ancestor (focus, pane) || !gtk_widget_get_mapped (page))
    return G_SOURCE_REMOVE;
  if ((*ticks)++ < 1)
    return G_SOURCE_CONTINUE;
  if (gtk_widget_compute_bounds (focus, pane, &bounds)
      && (bounds.origin.y + bounds.size.height <= 0.0f || bounds.origin.y >= (float) gtk_widget_get_height (pane)))
    gtk_widget_grab_focus (pane);
  return G_SOURCE_REMOVE;
}

/**
 * fettle_keyboard_settle:
 * @page: a page that was just gone to, and has the keyboard
 *
 * Nobody sees what has the keyboard below the end of the window: then the pane has it that scrolls the page, until Tab.
 */
void
fettle_keyboard_settle (GtkWidget *page)
{
  gtk_widget_add_tick_callback (page, on_settled, g_new0 (guint, 1), g_free);
}

static gboolean
on_pane_key (GtkWidget *pane, guint keyval, guint keycode, GdkModifierType state)
{
  if ((keyval != GDK_KEY_Tab && keyval != GDK_KEY_KP_Tab) || !gtk_widget_is_focus (pane)
      || (state & (GDK_CONTROL_MASK | GDK_SHIFT_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  return gtk_widget_child_focus (gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (pane)), GTK_DIR_TAB_FORWARD);
}

/**
 * fettle_keyboard_name_pane:
 * @page: a page that was just made
 * @name: of its pane for a reader
 *
 * The pane that scrolls a page has the keyboard where that shows nothing else to press, and leads in by Tab: GTK's own leads
 * only out.
 */
void
fettle_keyboard_name_pane (GtkWidget *page, const char *name)
{
  GtkWidget *pane = fettle_keyboard_pane (page);
  GtkEventController *key;

  if (pane == NULL)
    return;
  gtk_accessible_update_property (GTK_ACCESSIBLE (pane), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  key = gtk_event_controller_key_new ();
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_pane_key), pane);
  gtk_widget_add_controller (pane, key);
}
