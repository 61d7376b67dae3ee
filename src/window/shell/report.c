/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "report.h"

#include "standing-page.h"

static void
on_after_paint (GtkWindow *window, GdkFrameClock *clock)
{
  GApplication *application = G_APPLICATION (gtk_window_get_application (window));

  g_signal_handlers_disconnect_by_func (clock, on_after_paint, window);
  g_print ("shown\n");
  g_application_quit (application);
}

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  FettlePage *page = fettle_window_get_page (FETTLE_WINDOW (widget));

  if (page == NULL || (FETTLE_IS_STANDING_PAGE (page) && !fettle_standing_page_is_shown (FETTLE_STANDING_PAGE (page))))
    return G_SOURCE_CONTINUE;
  g_signal_connect_object (clock, "after-paint", G_CALLBACK (on_after_paint), widget, G_CONNECT_SWAPPED);
  return G_SOURCE_REMOVE;
}

void
fettle_report_watch (FettleWindow *window)
{
  if (g_strcmp0 (g_getenv ("FETTLE_REPORT"), "shown") == 0)
    gtk_widget_add_tick_callback (GTK_WIDGET (window), on_tick, NULL, NULL);
}
