/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-scene-private.h"

#include <math.h>

#define LEAST_TEXT 16.0 /* a text is not cut to less */

static void
item_clear (gpointer data)
{
  ChartItem *item = data;

  g_clear_object (&item->layout);
  g_clear_pointer (&item->mask, cairo_surface_destroy);
}

/* An empty scene of a size, with @n_spots spots that are not to be seen yet. */
ChartScene *
chart_scene_new (double width, double height, const ChartTheme *theme, guint n_spots)
{
  ChartScene *scene = g_new0 (ChartScene, 1);

  scene->width = width;
  scene->height = height;
  scene->theme = theme;
  scene->context = chart_text_context ();
  scene->items = g_array_new (FALSE, TRUE, sizeof (ChartItem));
  g_array_set_clear_func (scene->items, item_clear);
  scene->points = g_array_new (FALSE, FALSE, sizeof (double));
  scene->spots = g_new (ChartSpot, MAX (n_spots, 1));
  scene->n_spots = n_spots;
  for (guint i = 0; i < n_spots; i++)
    scene->spots[i] = (ChartSpot){ NAN, NAN, 0.0f, 0.0f };
  return scene;
}

void
chart_scene_free (ChartScene *scene)
{
  if (scene == NULL)
    return;
  g_array_unref (scene->items);
  g_array_unref (scene->points);
  g_object_unref (scene->context);
  g_free (scene->spots);
  g_free (scene);
}

/* The item is the caller's to adjust until the next one is added. */
static ChartItem *
add (ChartScene *scene,
     ChartItemKind kind,
     const char *role,
     ChartTone tone,
     double x,
     double y,
     double w,
     double h)
{
  ChartItem item = { .kind = kind, .role = role, .tone = tone, .alpha = 1.0, .x = x, .y = y, .w = w, .h = h };

  g_array_append_val (scene->items, item);
  return &g_array_index (scene->items, ChartItem, scene->items->len - 1);
}

ChartItem *
chart_scene_path (ChartScene *scene, const char *role, ChartTone tone, double width)
{
  ChartItem *item = add (scene, CHART_ITEM_LINE, role, tone, 0.0, 0.0, 0.0, 0.0);

  item->width = width;
  item->first_point = scene->points->len / 2;
  return item;
}

/* Adds a point to the path that was begun last. */
void
chart_scene_point (ChartScene *scene, double x, double y)
{
  g_array_append_val (scene->points, x);
  g_array_append_val (scene->points, y);
  g_array_index (scene->items, ChartItem, scene->items->len - 1).n_points++;
}

ChartItem *
chart_scene_line (ChartScene *scene,
                  const char *role,
                  ChartTone tone,
                  double width,
                  double x0,
                  double y0,
                  double x1,
                  double y1)
{
  ChartItem *item = chart_scene_path (scene, role, tone, width);

  chart_scene_point (scene, x0, y0);
  chart_scene_point (scene, x1, y1);
  return item;
}

ChartItem *
chart_scene_box (ChartScene *scene, const char *role, ChartTone tone, double x, double y, double w, double h)
{
  return add (scene, CHART_ITEM_BOX, role, tone, x, y, w, h);
}

ChartItem *
chart_scene_hatch (ChartScene *scene,
                   const char *role,
                   ChartHatch hatch,
                   double x,
                   double y,
                   double w,
                   double h)
{
  ChartItem *item = add (scene, CHART_ITEM_HATCH, role, CHART_TONE_INK, x, y, w, h);

  item->hatch = hatch;
  return item;
}

ChartItem *
chart_scene_mark (ChartScene *scene,
                  const char *role,
                  ChartShape shape,
                  ChartTone tone,
                  double x,
                  double y,
                  double radius)
{
  ChartItem *item = add (scene, CHART_ITEM_MARK, role, tone, x, y, radius, radius);

  item->shape = shape;
  return item;
}

/* Takes over the reference to @mask, an A8 picture that is stretched over the box. */
ChartItem *
chart_scene_density (ChartScene *scene,
                     const char *role,
                     ChartTone tone,
                     double x,
                     double y,
                     double w,
                     double h,
                     cairo_surface_t *mask)
{
  ChartItem *item = add (scene, CHART_ITEM_DENSITY, role, tone, x, y, w, h);

  item->mask = mask;
  return item;
}

PangoLayout *
chart_scene_layout (ChartScene *scene, ChartTextStyle style, const char *text)
{
  return chart_text_new (scene->context, scene->theme, style, text);
}

/* Takes over the reference to @layout; @x and @y are the left and top of its box. */
ChartItem *
chart_scene_text (ChartScene *scene, const char *role, ChartTone tone, PangoLayout *layout, double x, double y)
{
  ChartItem *item;
  double width, height;

  chart_text_size (layout, &width, &height);
  item = add (scene, CHART_ITEM_TEXT, role, tone, x, y, width, height);
  item->layout = layout;
  return item;
}

/* The width of @text on one line, rounded up; none of NULL or an empty one. */
double
chart_scene_text_width (ChartScene *scene, ChartTextStyle style, const char *text)
{
  g_autoptr(PangoLayout) layout = NULL;
  double width;

  if (text == NULL || *text == '\0')
    return 0.0;
  layout = chart_scene_layout (scene, style, text);
  chart_text_size (layout, &width, NULL);
  return ceil (width);
}

/* Puts @text on one line of at most @room, cut where it must be, but not to a few letters: then it is left out. Returns
   the width it takes, 0 where there is no text. */
double
chart_scene_fit_text (ChartScene *scene, const char *role, ChartTone tone, ChartTextStyle style, const char *text,
                      double x, double y, double room)
{
  g_autoptr(PangoLayout) layout = NULL;
  double width;

  if (text == NULL || *text == '\0')
    return 0.0;
  layout = chart_scene_layout (scene, style, text);
  chart_text_size (layout, &width, NULL);
  if (width > room && room >= LEAST_TEXT)
    {
      chart_text_cut (layout, room);
      chart_text_size (layout, &width, NULL);
    }
  if (width > room + 0.5)
    return 0.0;
  chart_scene_text (scene, role, tone, g_steal_pointer (&layout), x, y);
  return width;
}

/* Says @sentence in the middle of the plot (all of the drawing while no plot is set). */
void
chart_scene_say (ChartScene *scene, const char *sentence)
{
  PangoLayout *layout;
  PangoRectangle box;
  double x = scene->plot_x, y = scene->plot_y, w = scene->plot_w, h = scene->plot_h;
  double height;

  if (!(w > 0.0 && h > 0.0))
    {
      x = y = 6.0;
      w = scene->width - 12.0;
      h = scene->height - 12.0;
    }
  if (sentence == NULL || sentence[0] == '\0' || w < 40.0 || h < chart_scene_lines (scene, CHART_TEXT_LABEL))
    return;

  layout = chart_scene_layout (scene, CHART_TEXT_LABEL, sentence);
  chart_text_wrap (layout, MIN (w, 420.0), h);
  pango_layout_get_extents (layout, NULL, &box);
  height = (double) box.height / PANGO_SCALE;
  {
    ChartItem *item = chart_scene_text (
        scene, "empty", CHART_TONE_FAINT, layout, x + (w - MIN (w, 420.0)) / 2.0, y + (h - height) / 2.0);

    item->w = MIN (w, 420.0);
  }
}

void
chart_scene_spot (ChartScene *scene, guint mark, double x, double y, double half_width, double half_height)
{
  g_assert (mark < scene->n_spots);
  scene->spots[mark] = (ChartSpot){ (float) x, (float) y, (float) half_width, (float) half_height };
}

/* The height of a line in @style. */
double
chart_scene_lines (ChartScene *scene, ChartTextStyle style)
{
  g_autoptr(PangoLayout) layout = chart_scene_layout (scene, style, "Ag0");
  double height;

  chart_text_size (layout, NULL, &height);
  return height;
}

static void
dump_item (GString *text, const ChartScene *scene, const ChartItem *item)
{
  static const char *const kinds[] = { "line", "box", "hatch", "mark", "density", "text" };

  g_string_append_printf (text, "%s %s", kinds[item->kind], item->role);
  if (item->kind == CHART_ITEM_LINE)
    for (guint i = 0; i < item->n_points; i++)
      g_string_append_printf (text,
                              " %.1f,%.1f",
                              g_array_index (scene->points, double, 2 * (item->first_point + i)),
                              g_array_index (scene->points, double, 2 * (item->first_point + i) + 1));
  else if (item->kind == CHART_ITEM_MARK)
    g_string_append_printf (text, " %s %.1f,%.1f", chart_shape_name (item->shape), item->x, item->y);
  else
    g_string_append_printf (text, " %.1f,%.1f %.1fx%.1f", item->x, item->y, item->w, item->h);
  if (item->kind == CHART_ITEM_TEXT)
    g_string_append_printf (text, " \"%s\"", pango_layout_get_text (item->layout));
  if (item->alpha < 1.0)
    g_string_append (text, " lighter");
  g_string_append_c (text, '\n');
}

char *
chart_scene_dump (const ChartScene *scene)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "size %gx%g\n", scene->width, scene->height);
  if (scene->plot_w > 0.0)
    g_string_append_printf (
        text, "plot %.1f,%.1f %.1fx%.1f\n", scene->plot_x, scene->plot_y, scene->plot_w, scene->plot_h);
  for (guint i = 0; i < scene->items->len; i++)
    dump_item (text, scene, &g_array_index (scene->items, ChartItem, i));
  return g_string_free (text, FALSE);
}
