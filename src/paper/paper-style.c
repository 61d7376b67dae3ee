/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-style.h"

#include "chart-theme.h"

#include <math.h>
#include <pango/pangocairo.h>

#define DOTS_AN_INCH 72.0 /* a point is a unit of the page */
#define LINE_SPACING 1.12f

/**
 * paper_style_context:
 * @letters: how large they are: 1 for what is read at a desk
 *
 * Returns: (transfer full): a context whose measures are those of the page
 */
PangoContext *
paper_style_context (double letters)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, DOTS_AN_INCH * letters);
  pango_context_set_round_glyph_positions (context, FALSE);
  cairo_font_options_destroy (options);
  return context;
}

static PangoFontDescription *
describe (PaperTextStyle style)
{
  static const struct
  {
    double      size;
    gboolean    is_serif;
    PangoWeight weight;
  } styles[] = {
    [PAPER_TEXT_BODY] = { 9.0, FALSE, PANGO_WEIGHT_NORMAL },
    [PAPER_TEXT_STRONG] = { 9.0, FALSE, PANGO_WEIGHT_SEMIBOLD },
    [PAPER_TEXT_SMALL] = { 7.5, FALSE, PANGO_WEIGHT_NORMAL },
    [PAPER_TEXT_TITLE] = { 21.0, TRUE, PANGO_WEIGHT_SEMIBOLD },
    [PAPER_TEXT_HEADING] = { 14.0, TRUE, PANGO_WEIGHT_SEMIBOLD },
    [PAPER_TEXT_SUBHEADING] = { 11.0, TRUE, PANGO_WEIGHT_SEMIBOLD },
  };
  const ChartTheme *theme = chart_theme (CHART_LOOK_PRINT);
  PangoFontDescription *font = pango_font_description_new ();

  pango_font_description_set_family (font, styles[style].is_serif ? theme->serif : theme->sans);
  pango_font_description_set_weight (font, styles[style].weight);
  pango_font_description_set_size (font, (int) round (styles[style].size * PANGO_SCALE));
  return font;
}

/**
 * paper_style_layout:
 * @context: from paper_style_context()
 * @style: which letters
 * @text: (nullable): bytes that are not UTF-8 are shown as such
 * @width: of the column; 0: one line, as long as it is
 *
 * Returns: (transfer full): the text in lines
 */
PangoLayout *
paper_style_layout (PangoContext *context, PaperTextStyle style, const char *text, double width)
{
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = describe (style);
  PangoAttrList *attributes = pango_attr_list_new ();
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);

  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1,lnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width > 0.0)
    pango_layout_set_width (layout, (int) floor (width * PANGO_SCALE));
  pango_layout_set_line_spacing (layout, LINE_SPACING);
  pango_layout_set_text (layout, valid, -1);

  pango_attr_list_unref (attributes);
  pango_font_description_free (font);
  return layout;
}

/* Of all lines, in points. */
double
paper_style_height (PangoLayout *layout)
{
  PangoRectangle box;

  pango_layout_get_extents (layout, NULL, &box);
  return (double) box.height / PANGO_SCALE;
}
