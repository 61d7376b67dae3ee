/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reveal.h"

#define MARGIN 12.0

typedef struct
{
  guint    ticks;
  gboolean late; /* only what begins in the lower half */
} Reveal;

/* A tick comes before the layout of its frame: the second one sees the sizes of the first. */
static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  GtkWidget *scrolled = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);
  Reveal *reveal = user_data;
  GtkAdjustment *adjustment;
  graphene_rect_t bounds;
  double top, bottom, value, page;

  if (scrolled == NULL)
    return G_SOURCE_REMOVE;
  if (reveal->ticks++ < 1 || !gtk_widget_compute_bounds (widget, scrolled, &bounds))
    return G_SOURCE_CONTINUE;

  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled));
  value = gtk_adjustment_get_value (adjustment);
  page = gtk_adjustment_get_page_size (adjustment);
  if (reveal->late && bounds.origin.y >= 0.0 && bounds.origin.y < page / 2.0)
    return G_SOURCE_REMOVE;
  top = value + bounds.origin.y - MARGIN;
  bottom = value + bounds.origin.y + bounds.size.height + MARGIN;
  if (bottom > value + page)
    value = bottom - page;
  if (top < value)
    value = top;
  gtk_adjustment_set_value (adjustment, value);
  return G_SOURCE_REMOVE;
}

void
fettle_reveal (GtkWidget *widget)
{
  gtk_widget_add_tick_callback (widget, on_tick, g_new0 (Reveal, 1), g_free);
}

void
fettle_reveal_late (GtkWidget *widget)
{
  Reveal *reveal = g_new0 (Reveal, 1);

  reveal->late = TRUE;
  gtk_widget_add_tick_callback (widget, on_tick, reveal, g_free);
}
