/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "warm.h"

#include "chart-theme.h"
#include "look.h"

/* The faces of a page's first sight, the most frequent first, as ui/style.css has them. One too many or too few only costs time. */
static const struct
{
  gboolean    is_serif;
  PangoWeight weight;
  double      points;
} faces[] = {
  { FALSE, PANGO_WEIGHT_NORMAL, 10.0 }, { FALSE, PANGO_WEIGHT_SEMIBOLD, 10.0 }, { FALSE, PANGO_WEIGHT_NORMAL, 8.5 },
  { TRUE, PANGO_WEIGHT_SEMIBOLD, 12.0 }, { TRUE, PANGO_WEIGHT_SEMIBOLD, 18.0 }, { FALSE, PANGO_WEIGHT_SEMIBOLD, 8.5 },
};

/* Letters, figures, and the signs that other fonts must be searched for. */
#define SAMPLE "abcdefghijklmnopqrstuvwxyz ABCDEFGHIJKLMNOPQRSTUVWXYZ 0123456789 .,:;%()'≥≤±−–○●→"

static guint n_warm; /* of the faces; they stay loaded as long as the program */

static gboolean
warm_next (gpointer user_data)
{
  GtkWidget *widget = user_data;
  const ChartTheme *theme = chart_theme (fettle_look_chart ());
  g_autoptr(PangoLayout) layout = NULL;
  PangoFontDescription *font;

  if (n_warm >= G_N_ELEMENTS (faces) || gtk_widget_get_mapped (widget))
    return G_SOURCE_REMOVE;

  font = pango_font_description_new ();
  pango_font_description_set_family_static (font, faces[n_warm].is_serif ? theme->serif : theme->sans);
  pango_font_description_set_weight (font, faces[n_warm].weight);
  pango_font_description_set_size (font, (int) (faces[n_warm].points * PANGO_SCALE));
  layout = gtk_widget_create_pango_layout (widget, SAMPLE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_get_size (layout, NULL, NULL);
  n_warm++;
  return G_SOURCE_CONTINUE;
}

/**
 * fettle_warm_fonts:
 * @widget: not mapped yet
 *
 * Loads the fonts of a page, one after the other, whenever the program has nothing else to do and until @widget is mapped.
 * Done once in a program.
 */
void
fettle_warm_fonts (GtkWidget *widget)
{
  g_return_if_fail (GTK_IS_WIDGET (widget));

  if (n_warm < G_N_ELEMENTS (faces))
    g_idle_add_full (G_PRIORITY_LOW, warm_next, g_object_ref (widget), g_object_unref);
}
