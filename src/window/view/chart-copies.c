/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart-copies.h"

#include <glib/gi18n.h>

#include "chart-output.h"
#include "chart-table.h"

#define STORED_WIDTH 960.0
#define COPIED_SCALE 2 /* so that a copied picture can be pasted into a document */

struct _FettleChartCopies
{
  GtkWidget            *area;
  FettleChartCopiesGet  get_chart;
  gpointer              owner;
  GtkFileChooserNative *chooser; /* while a file is being named */
};

/**
 * fettle_chart_copies_new:
 * @area: where the chart is drawn; outlives the result
 * @get_chart: gives the chart
 * @owner: handed to @get_chart
 *
 * Returns: (transfer full): for one drawing, whatever chart it shows
 */
FettleChartCopies *
fettle_chart_copies_new (GtkWidget *area, FettleChartCopiesGet get_chart, gpointer owner)
{
  FettleChartCopies *self = g_new0 (FettleChartCopies, 1);

  self->area = area;
  self->get_chart = get_chart;
  self->owner = owner;
  return self;
}

static void
on_response (FettleChartCopies *self, int response)
{
  Chart *chart = self->get_chart (self->owner);
  g_autoptr(GFile) file = NULL;
  g_autofree char *path = NULL;
  g_autoptr(GError) error = NULL;
  double width, height;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  g_clear_object (&self->chooser);
  if (file == NULL || chart == NULL)
    return;

  path = g_file_get_path (file);
  width = MAX (gtk_widget_get_width (self->area), STORED_WIDTH);
  height = width * gtk_widget_get_height (self->area) / MAX (1, gtk_widget_get_width (self->area));
  if (path == NULL)
    gtk_widget_activate_action (self->area, "win.say", "s", _("A chart can only be saved in a folder of this machine: choose another place."));
  else if (!chart_write (chart, path, width, height, CHART_LOOK_PRINT, &error))
    gtk_widget_activate_action (self->area, "win.say", "s", error->message);
  gtk_widget_queue_draw (self->area);
}

void
fettle_chart_copies_free (FettleChartCopies *self)
{
  if (self == NULL)
    return;
  if (self->chooser != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->chooser, self);
      gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
    }
  g_clear_object (&self->chooser);
  g_free (self);
}

/**
 * fettle_chart_copies_picture:
 * @self: the copies
 *
 * Copies the picture as it stands on the screen, in the colours of paper.
 */
void
fettle_chart_copies_picture (FettleChartCopies *self)
{
  Chart *chart = self->get_chart (self->owner);
  const int width = gtk_widget_get_width (self->area), height = gtk_widget_get_height (self->area);
  cairo_surface_t *surface;
  cairo_t *cr;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GdkTexture) texture = NULL;

  if (chart == NULL || width <= 0 || height <= 0)
    return;

  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, COPIED_SCALE * width, COPIED_SCALE * height);
  cr = cairo_create (surface);
  cairo_scale (cr, COPIED_SCALE, COPIED_SCALE);
  chart_draw (chart, cr, width, height, chart_theme (CHART_LOOK_PRINT));
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  bytes = g_bytes_new (cairo_image_surface_get_data (surface),
                       (gsize) cairo_image_surface_get_stride (surface) * (gsize) (COPIED_SCALE * height));
  texture = gdk_memory_texture_new (COPIED_SCALE * width, COPIED_SCALE * height, GDK_MEMORY_DEFAULT, bytes,
                                    (gsize) cairo_image_surface_get_stride (surface));
  cairo_surface_destroy (surface);
  gdk_clipboard_set_texture (gtk_widget_get_clipboard (self->area), texture);
  /* The layout belongs to the size on the screen again with the next draw. */
  gtk_widget_queue_draw (self->area);
}

/**
 * fettle_chart_copies_table:
 * @self: the copies
 *
 * Copies the values as text, with tabs between them.
 */
void
fettle_chart_copies_table (FettleChartCopies *self)
{
  Chart *chart = self->get_chart (self->owner);
  g_autofree char *text = NULL;

  if (chart == NULL)
    return;
  text = chart_table_tabs (chart);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (self->area), text);
}

/**
 * fettle_chart_copies_save:
 * @self: the copies
 *
 * Asks for a file and writes the picture to it; its ending says which kind. A failure is said in the window.
 */
void
fettle_chart_copies_save (FettleChartCopies *self)
{
  GtkRoot *root = gtk_widget_get_root (self->area);

  if (self->chooser != NULL || self->get_chart (self->owner) == NULL)
    return;

  self->chooser = gtk_file_chooser_native_new (_("Save the Chart"), GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                               GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"), _("_Cancel"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), _("chart.png"));
  g_signal_connect_swapped (self->chooser, "response", G_CALLBACK (on_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}
