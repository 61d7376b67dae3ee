/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-text.h"

#include <math.h>

#define DOTS_AN_INCH 96.0

/**
 * chart_text_context:
 *
 * A context whose measures do not depend on where the drawing goes, so that one layout serves every surface.
 *
 * Returns: (transfer full): a context for chart_text_new()
 */
PangoContext *
chart_text_context (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_SLIGHT);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, DOTS_AN_INCH);
  pango_context_set_round_glyph_positions (context, FALSE);
  cairo_font_options_destroy (options);
  return context;
}

static PangoFontDescription *
describe (const ChartTheme *theme, ChartTextStyle style)
{
  PangoFontDescription *font = pango_font_description_new ();
  double scale = 1.0;

  pango_font_description_set_family (font, theme->sans);
  switch (style)
    {
    case CHART_TEXT_LABEL:
      break;
    case CHART_TEXT_STRONG:
      pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
      break;
    case CHART_TEXT_SLANTED:
      pango_font_description_set_style (font, PANGO_STYLE_ITALIC);
      break;
    case CHART_TEXT_ROUND:
      pango_font_description_set_family (font, theme->serif);
      pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
      scale = 1.35;
      break;
    case CHART_TEXT_TITLE:
      pango_font_description_set_family (font, theme->serif);
      pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
      scale = 1.5;
      break;
    }
  pango_font_description_set_size (font, (int) round (theme->size * scale * PANGO_SCALE));
  return font;
}

/**
 * chart_text_new:
 * @context: from chart_text_context()
 * @theme: fonts and size
 * @style: which of them
 * @text: (nullable): what it says; bytes that are not UTF-8 are shown as such
 *
 * One line of text.
 *
 * Returns: (transfer full): its layout
 */
PangoLayout *
chart_text_new (PangoContext *context, const ChartTheme *theme, ChartTextStyle style, const char *text)
{
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = describe (theme, style);
  PangoAttrList *attributes = pango_attr_list_new ();
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);

  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1,lnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_text (layout, valid, -1);

  pango_attr_list_unref (attributes);
  pango_font_description_free (font);
  return layout;
}

/**
 * chart_text_size:
 * @layout: a layout
 * @width: (out) (optional): its width
 * @height: (out) (optional): its height
 *
 * Measures by the letters' advance and the line's height, not by the ink.
 */
void
chart_text_size (PangoLayout *layout, double *width, double *height)
{
  PangoRectangle box;

  pango_layout_get_extents (layout, NULL, &box);
  if (width != NULL)
    *width = (double) box.width / PANGO_SCALE;
  if (height != NULL)
    *height = (double) box.height / PANGO_SCALE;
}

/**
 * chart_text_baseline:
 * @layout: a layout
 *
 * Returns: how far below its top the first line stands
 */
double
chart_text_baseline (PangoLayout *layout)
{
  return (double) pango_layout_get_baseline (layout) / PANGO_SCALE;
}

/**
 * chart_text_cut:
 * @layout: a layout of one line
 * @width: room there is
 *
 * Ends the text with an ellipsis when it is wider than @width.
 */
void
chart_text_cut (PangoLayout *layout, double width)
{
  double own;

  chart_text_size (layout, &own, NULL);
  if (own <= width)
    return;
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, (int) floor (MAX (width, 0.0) * PANGO_SCALE));
}

/**
 * chart_text_wrap:
 * @layout: a layout
 * @width: room there is
 * @height: room there is
 *
 * Sets the text in centred lines inside a box, with an ellipsis where it ends.
 */
void
chart_text_wrap (PangoLayout *layout, double width, double height)
{
  pango_layout_set_single_paragraph_mode (layout, FALSE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, (int) floor (MAX (width, 0.0) * PANGO_SCALE));
  pango_layout_set_height (layout, (int) floor (MAX (height, 0.0) * PANGO_SCALE));
}
