/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Method. The number of columns is the one that makes the small charts largest. Each has a scale of its own, from its limits
 * and what counts: they are for seeing which one to open, not for comparing heights. Many values become a picture of cells.
 */
#include "chart-wall.h"

#include "chart-density-private.h"
#include "chart-private.h"
#include "chart-rounds-private.h"

#include <math.h>

#define PAD       10.0
#define GAP       14.0
#define SHAPE     1.9 /* how much wider than high a small chart looks best */
#define SINGLES   150 /* values of a small chart that are drawn one by one */
#define STAND_OUT 60  /* failing ones and signals among more */
#define RADIUS    2.0
#define LEAST_NAME 24.0 /* a chart this narrow has no name */
#define BARE_WIDTH 80.0

typedef struct
{
  ChartWallCell  *cells;
  guint           n_cells;
  const char     *title, *empty;
} Data;

typedef struct
{
  double x, y, w, h;
} Box;

typedef struct
{
  guint  columns, rows;
  double x, y, w, h; /* of the first small chart, without the gap */
} Grid;

static void
choose_grid (Grid *grid, guint n, double width, double height)
{
  double best = -INFINITY;

  for (guint columns = 1; columns <= n; columns++)
    {
      guint rows = (n + columns - 1) / columns;
      double w = (width - (columns - 1) * GAP) / columns, h = (height - (rows - 1) * GAP) / rows;
      double size = MIN (w / SHAPE, h);

      if (size <= best)
        continue;
      best = size;
      grid->columns = columns;
      grid->rows = rows;
      grid->w = MAX (w, 1.0);
      grid->h = MAX (h, 1.0);
    }
}

static gboolean
has_names (const Grid *grid, double line)
{
  return grid->h >= 3.0 * line && grid->w >= LEAST_NAME;
}

/* Name and figure above the small chart, as many as leave half of its height; returns what is left. */
static Box
add_head (const ChartWallCell *cell, ChartScene *scene, Box box, gboolean named)
{
  double line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  guint lines = 0;

  if (named)
    {
      chart_scene_fit_text (scene, "name", CHART_TONE_INK, CHART_TEXT_STRONG, cell->name, box.x, box.y, box.w);
      lines = 1;
    }
  if (named && box.h >= 5.0 * line && cell->figure != NULL)
    {
      chart_scene_fit_text (scene, "figure", cell->open ? CHART_TONE_COPPER : CHART_TONE_FAINT, CHART_TEXT_LABEL, cell->figure, box.x,
                box.y + line, box.w);
      lines = 2;
    }
  if (lines > 0)
    {
      box.y += lines * line + 3.0;
      box.h -= lines * line + 3.0;
    }
  return box;
}

static gboolean
is_measure (const ChartWallCell *cell, const ChartWallValue *value)
{
  return !(value->flags & CHART_READING_VOID) && (cell->checked || isfinite (value->value));
}

static void
cell_scale (const ChartWallCell *cell, Box box, ChartScale *scale)
{
  double low, high;

  chart_range_init (&low, &high);
  for (guint i = 0; !cell->checked && i < cell->n_values; i++)
    if (is_measure (cell, &cell->values[i]))
      chart_range_take (&low, &high, cell->values[i].value);
  chart_range_take (&low, &high, cell->lower);
  chart_range_take (&low, &high, cell->upper);
  chart_range_settle (&low, &high);
  if (cell->checked)
    {
      low = -0.5;
      high = 1.5;
    }
  chart_scale_init (scale, low, high, box.y + box.h - RADIUS - 1.0, box.y + RADIUS + 1.0);
}

static double
place_y (const ChartWallCell *cell, const ChartScale *scale, Box box, const ChartWallValue *value)
{
  double at = chart_scale_at (scale, cell->checked ? (value->flags & CHART_READING_FAILED ? 1.0 : 0.0) : value->value);

  return CLAMP (at, box.y + RADIUS, box.y + box.h - RADIUS);
}

static void
add_line (ChartScene *scene, const char *role, ChartTone tone, ChartDash dash, const ChartScale *scale, Box box, double value)
{
  double y;

  if (!isfinite (value))
    return;
  y = chart_scale_at (scale, value);
  if (y < box.y || y > box.y + box.h)
    return;
  y = chart_crisp (y);
  chart_scene_line (scene, role, tone, 1.0, box.x, y, box.x + box.w, y)->dash = dash;
}

static void
add_values (const ChartWallCell *cell, ChartScene *scene, const ChartScale *scale, Box box)
{
  const gboolean many = cell->n_values > SINGLES;
  double room = MAX (box.w - 2.0 * RADIUS - 4.0, 0.0), step = cell->n_values > 1 ? MIN (room / (cell->n_values - 1), 12.0) : 0.0;
  g_auto(ChartDensity) density = { 0 };
  guint out = 0;

  if (many)
    chart_density_init (&density, floor (box.x), floor (box.y), box.w, box.h, 2.0);
  for (guint i = 0; i < cell->n_values; i++)
    {
      const ChartWallValue *value = &cell->values[i];
      const gboolean stands = (value->flags & (CHART_READING_FAILED | CHART_READING_SIGNAL)) != 0;
      double x = box.x + RADIUS + 2.0 + i * step, y;

      if (!is_measure (cell, value))
        continue;
      y = place_y (cell, scale, box, value);
      if (many)
        chart_density_take (&density, x, y);
      if (many && (!stands || out++ >= STAND_OUT))
        continue;
      chart_scene_mark (scene, "value", chart_reading_shape (value->flags, cell->checked), CHART_TONE_INK, x, y,
                        stands ? RADIUS + 1.0 : RADIUS)->alpha = chart_reading_alpha (value->flags);
      if (value->flags & CHART_READING_SIGNAL)
        chart_scene_mark (scene, "signal", CHART_SHAPE_CIRCLE, CHART_TONE_COPPER, x, y, RADIUS + 3.0);
    }
  if (many)
    {
      cairo_surface_t *mask = chart_density_mask (&density);

      if (mask != NULL)
        chart_scene_density (scene, "values", CHART_TONE_INK, density.x, density.y, density.w, density.h, mask)->alpha = 0.7;
    }
}

static void
add_cell (const ChartWallCell *cell, ChartScene *scene, Box box, gboolean named)
{
  ChartScale scale;

  box = add_head (cell, scene, box, named);
  if (box.h < 3.0 * RADIUS || box.w < 3.0 * RADIUS)
    return;
  chart_scene_line (scene, "ground", CHART_TONE_RULE, 1.0, box.x, chart_crisp (box.y + box.h - 1.0), box.x + box.w,
                    chart_crisp (box.y + box.h - 1.0));
  if (cell->n_values == 0)
    return;
  cell_scale (cell, box, &scale);
  if (!cell->checked)
    {
      add_line (scene, "limit-line", CHART_TONE_INK, CHART_DASH_NONE, &scale, box, cell->lower);
      add_line (scene, "limit-line", CHART_TONE_INK, CHART_DASH_NONE, &scale, box, cell->upper);
      add_line (scene, "control-line", CHART_TONE_COPPER, CHART_DASH_MIXED, &scale, box, cell->control_lower);
      add_line (scene, "control-line", CHART_TONE_COPPER, CHART_DASH_MIXED, &scale, box, cell->control_upper);
    }
  add_values (cell, scene, &scale, box);
}

static void
lay (Chart *chart, ChartScene *scene)
{
  const Data *data = chart->data;
  double top = PAD, line = ceil (chart_scene_lines (scene, CHART_TEXT_LABEL));
  gboolean bare, named;
  Grid grid = { .columns = 1, .rows = 1, .x = PAD };

  if (data->n_cells == 0)
    {
      chart_scene_say (scene, data->empty);
      return;
    }
  scene->blocks = TRUE;
  bare = scene->height < 6.0 * line || scene->width < BARE_WIDTH;
  if (data->title != NULL && !bare)
    {
      chart_scene_fit_text (scene, "title", CHART_TONE_INK, CHART_TEXT_TITLE, data->title, PAD, top, scene->width - 2.0 * PAD);
      top += ceil (chart_scene_lines (scene, CHART_TEXT_TITLE)) + 6.0;
    }
  grid.y = top;
  choose_grid (&grid, data->n_cells, MAX (scene->width - 2.0 * PAD, 1.0), MAX (scene->height - top - PAD, 1.0));
  if (!bare && !has_names (&grid, line)) /* then the worst is named above all */
    {
      chart_scene_fit_text (scene, "name", CHART_TONE_INK, CHART_TEXT_STRONG, data->cells[0].name, PAD, top, scene->width - 2.0 * PAD);
      grid.y = top + line + 2.0;
      choose_grid (&grid, data->n_cells, MAX (scene->width - 2.0 * PAD, 1.0), MAX (scene->height - grid.y - PAD, 1.0));
    }
  named = !bare && has_names (&grid, line);
  for (guint i = 0; i < data->n_cells; i++)
    {
      Box box = { grid.x + (i % grid.columns) * (grid.w + GAP), grid.y + (i / grid.columns) * (grid.h + GAP), grid.w, grid.h };

      if (box.x + box.w > scene->width || box.y + box.h > scene->height)
        continue; /* more of them than dots */
      chart->rounds[i] = i / grid.columns; /* a row is what Up and Down go by; the order stays as it is */
      chart_scene_spot (scene, i, box.x + box.w / 2.0, box.y + box.h / 2.0, box.w / 2.0 + GAP / 4.0, box.h / 2.0 + GAP / 4.0);
      add_cell (&data->cells[i], scene, box, named);
    }
}

static void
clear (gpointer pointer)
{
  Data *data = pointer;

  for (guint i = 0; i < data->n_cells; i++)
    g_free ((gpointer) data->cells[i].values);
  g_free (data->cells);
  g_free (data);
}

static const ChartKind kind = { "wall", FALSE, lay, clear };

/**
 * chart_wall_new:
 * @data: what to draw; everything is copied
 *
 * Returns: (transfer full): the drawing; its marks are the small charts
 */
Chart *
chart_wall_new (const ChartWall *data)
{
  Data *own = g_new0 (Data, 1);
  Chart *chart = chart_new (&kind, own, data->n_cells);

  chart->worst_first = TRUE;
  own->title = chart_keep (chart, data->title);
  own->empty = chart_keep (chart, data->empty);
  own->n_cells = data->n_cells;
  own->cells = g_new0 (ChartWallCell, data->n_cells + 1);
  for (guint i = 0; i < data->n_cells; i++)
    {
      ChartWallCell *cell = &own->cells[i];

      *cell = data->cells[i];
      cell->name = chart_keep (chart, data->cells[i].name);
      cell->figure = chart_keep (chart, data->cells[i].figure);
      cell->words = NULL;
      cell->values = g_memdup2 (data->cells[i].values, data->cells[i].n_values * sizeof (ChartWallValue));
      chart_set_mark (chart, i, 0, data->cells[i].key, data->cells[i].words);
    }
  chart_order_marks (chart, 1);
  return chart;
}

/**
 * chart_wall_height:
 * @chart: made by chart_wall_new()
 * @width: it will have
 *
 * Returns: the height at which every small chart can still be read
 */
double
chart_wall_height (Chart *chart, double width)
{
  const Data *data = chart->data;
  guint columns = (guint) MAX ((width - 2.0 * PAD + GAP) / (CHART_WALL_LEAST_WIDTH + GAP), 1.0);
  guint rows = (data->n_cells + columns - 1) / columns;

  return 2.0 * PAD + rows * (CHART_WALL_LEAST_HEIGHT + GAP);
}
