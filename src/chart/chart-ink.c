/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Ink: the only place where a scene reaches a cairo surface. It decides nothing about where things are.
 */
#include "chart-scene-private.h"

#include <math.h>

#define CHOICE_HALF 5.0 /* of the frame around a chosen mark */
#define CHOICE_CELL 3.0

static const ChartColour *
tone_colour (const ChartTheme *theme, ChartTone tone)
{
  switch (tone)
    {
    case CHART_TONE_INK:
      return &theme->ink;
    case CHART_TONE_FAINT:
      return &theme->faint;
    case CHART_TONE_RULE:
      return &theme->rule;
    case CHART_TONE_COPPER:
      return &theme->copper;
    case CHART_TONE_SHEET:
      return &theme->sheet;
    }
  g_return_val_if_reached (&theme->ink);
}

static void
set_tone (cairo_t *cr, const ChartTheme *theme, const ChartItem *item)
{
  const ChartColour *colour = tone_colour (theme, item->tone);

  cairo_set_source_rgba (cr, colour->red, colour->green, colour->blue, item->alpha);
}

static void
set_dash (cairo_t *cr, ChartDash dash)
{
  static const double lengths[CHART_N_DASHES][4] = {
    [CHART_DASH_LONG] = { 7.0, 3.0, 7.0, 3.0 },
    [CHART_DASH_SHORT] = { 3.5, 3.0, 3.5, 3.0 },
    [CHART_DASH_DOTS] = { 1.2, 2.6, 1.2, 2.6 },
    [CHART_DASH_MIXED] = { 7.0, 2.6, 1.2, 2.6 },
  };

  cairo_set_dash (cr, lengths[dash], dash == CHART_DASH_NONE ? 0 : 4, 0.0);
}

static void
paint_line (cairo_t *cr, const ChartScene *scene, const ChartItem *item)
{
  cairo_new_path (cr);
  for (guint i = item->first_point; i < item->first_point + item->n_points; i++)
    cairo_line_to (
        cr, g_array_index (scene->points, double, 2 * i), g_array_index (scene->points, double, 2 * i + 1));
  cairo_set_line_width (cr, item->width);
  set_dash (cr, item->dash);
  cairo_stroke (cr);
  set_dash (cr, CHART_DASH_NONE);
}

static void
paint_box (cairo_t *cr, const ChartItem *item)
{
  double inset = item->width / 2.0;

  cairo_new_path (cr);
  cairo_rectangle (
      cr, item->x + inset, item->y + inset, MAX (item->w - item->width, 0.0), MAX (item->h - item->width, 0.0));
  if (item->width <= 0.0)
    {
      cairo_fill (cr);
      return;
    }
  cairo_set_line_width (cr, item->width);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  set_dash (cr, item->dash);
  cairo_stroke (cr);
  set_dash (cr, CHART_DASH_NONE);
}

static void
paint_density (cairo_t *cr, const ChartItem *item)
{
  cairo_save (cr);
  cairo_rectangle (cr, item->x, item->y, item->w, item->h);
  cairo_clip (cr);
  cairo_translate (cr, item->x, item->y);
  cairo_scale (cr,
               item->w / cairo_image_surface_get_width (item->mask),
               item->h / cairo_image_surface_get_height (item->mask));
  {
    cairo_pattern_t *mask = cairo_pattern_create_for_surface (item->mask);

    cairo_pattern_set_filter (mask, CAIRO_FILTER_NEAREST); /* cells stay cells */
    cairo_mask (cr, mask);
    cairo_pattern_destroy (mask);
  }
  cairo_restore (cr);
}

/* Paints @scene; leaves the graphics state of @cr as it was, and its path empty. */
void
chart_ink_paint (const ChartScene *scene, cairo_t *cr, const ChartTheme *theme)
{
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  for (guint i = 0; i < scene->items->len; i++)
    {
      const ChartItem *item = &g_array_index (scene->items, ChartItem, i);

      set_tone (cr, theme, item);
      switch (item->kind)
        {
        case CHART_ITEM_LINE:
          paint_line (cr, scene, item);
          break;
        case CHART_ITEM_BOX:
          paint_box (cr, item);
          break;
        case CHART_ITEM_HATCH:
          chart_hatch_fill (cr, theme, item->hatch, item->x, item->y, item->w, item->h);
          break;
        case CHART_ITEM_MARK:
          chart_mark_draw (
              cr, item->shape, item->x, item->y, item->w, tone_colour (theme, item->tone), NULL, item->alpha);
          break;
        case CHART_ITEM_DENSITY:
          paint_density (cr, item);
          break;
        case CHART_ITEM_TEXT:
          cairo_move_to (cr, item->x, item->y);
          pango_cairo_show_layout (cr, item->layout);
          break;
        }
    }
  cairo_new_path (cr);
  cairo_restore (cr);
}

/* Draws the ring around the mark that has the keyboard's or the pointer's attention. */
void
chart_ink_focus (const ChartScene *scene, cairo_t *cr, const ChartTheme *theme, guint mark)
{
  const ChartSpot *spot = &scene->spots[mark];
  double left, top, right, bottom;

  if (isnan (spot->x))
    return;

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_set_source_rgb (cr, theme->copper.red, theme->copper.green, theme->copper.blue);
  if (scene->blocks)
    {
      const double dash[] = { 3.0, 2.0 };

      left = MAX (spot->x - spot->half_width - 3.0, 0.0);
      top = MAX (spot->y - spot->half_height - 2.0, 0.0);
      right = MIN (spot->x + spot->half_width + 3.0, scene->width);
      bottom = MIN (spot->y + spot->half_height + 2.0, scene->height);
      if (right - left < 4.0) /* scrolled out of view */
        {
          cairo_restore (cr);
          return;
        }
      cairo_set_line_width (cr, 1.0);
      cairo_set_dash (cr, dash, 2, 0.0);
      cairo_rectangle (
          cr, chart_crisp (left), chart_crisp (top), floor (right - left) - 1.0, floor (bottom - top) - 1.0);
    }
  else
    {
      cairo_set_line_width (cr, 2.0);
      cairo_arc (cr, spot->x, spot->y, 7.0, 0.0, 2.0 * G_PI);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

/*
 * Draws a square frame around each chosen mark: another shape than the ring, so that both are told apart in grey. Where marks
 * lie on one another a frame is drawn once for each cell of a few dots.
 */
void
chart_ink_choice (const ChartScene *scene, cairo_t *cr, const ChartTheme *theme, const guint8 *chosen)
{
  const guint columns = (guint) (scene->width / CHOICE_CELL) + 1, rows = (guint) (scene->height / CHOICE_CELL) + 1;
  g_autofree guint8 *taken = g_new0 (guint8, (gsize) columns * rows);

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_set_source_rgb (cr, theme->ink.red, theme->ink.green, theme->ink.blue);
  cairo_set_line_width (cr, 1.5);
  for (guint i = 0; i < scene->n_spots; i++)
    {
      const ChartSpot *spot = &scene->spots[i];
      const double half = scene->blocks ? MAX (spot->half_width, spot->half_height) + 2.0 : CHOICE_HALF;
      guint8 *cell;

      if (!chosen[i] || !(spot->x >= 0.0 && spot->y >= 0.0 && spot->x < scene->width && spot->y < scene->height))
        continue;
      cell = &taken[(gsize) (spot->y / CHOICE_CELL) * columns + (gsize) (spot->x / CHOICE_CELL)];
      if (*cell)
        continue;
      *cell = TRUE;
      cairo_rectangle (cr, floor (spot->x - half) + 0.5, floor (spot->y - half) + 0.5, 2.0 * half, 2.0 * half);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}
