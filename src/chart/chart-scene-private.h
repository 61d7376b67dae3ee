/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a drawing consists of, after layout and before ink: a list of items in the order in which they are
 * painted, and the spots where a pointer finds marks. Kinds of charts only fill a scene; chart-ink.c alone
 * paints one.
 */

#include <cairo.h>
#include <pango/pango.h>

#include "chart-hatch.h"
#include "chart-marks.h"
#include "chart-scale.h"
#include "chart-text.h"
#include "chart-theme.h"

G_BEGIN_DECLS

typedef enum
{
  CHART_TONE_INK,
  CHART_TONE_FAINT,
  CHART_TONE_RULE,
  CHART_TONE_COPPER,
  CHART_TONE_SHEET
} ChartTone;

typedef enum
{
  CHART_ITEM_LINE,    /* points; width, dash */
  CHART_ITEM_BOX,     /* a filled box; with width > 0 its outline, drawn inside */
  CHART_ITEM_HATCH,   /* a box */
  CHART_ITEM_MARK,    /* x, y the middle, w the radius */
  CHART_ITEM_DENSITY, /* a box, a mask of cells */
  CHART_ITEM_TEXT     /* a box, a layout */
} ChartItemKind;

typedef enum
{
  CHART_DASH_NONE,
  CHART_DASH_LONG,
  CHART_DASH_SHORT,
  CHART_DASH_DOTS,
  CHART_DASH_MIXED
} ChartDash;
#define CHART_N_DASHES 5

typedef struct
{
  ChartItemKind    kind;
  ChartTone        tone;
  double           alpha;
  double           x, y, w, h;
  double           width;
  ChartDash        dash;
  ChartHatch       hatch;
  ChartShape       shape;
  guint            first_point, n_points;
  const char      *role; /* static: what the item is, for dumps and tests */
  PangoLayout     *layout;
  cairo_surface_t *mask;
} ChartItem;

/* Where a mark is found: a point, or a block with half its width and height. NAN: it is not to be seen. */
typedef struct
{
  float x, y, half_width, half_height;
} ChartSpot;

typedef struct
{
  double            width, height;
  const ChartTheme *theme;   /* while it is laid out */
  PangoContext     *context;
  GArray           *items;
  GArray           *points;  /* x and y in turn */
  ChartSpot        *spots;
  guint             n_spots;
  gboolean          blocks;  /* spots are blocks: the focus is drawn around them, a hit must lie inside */
  double            plot_x, plot_y, plot_w, plot_h;
  ChartTicks        ticks;
} ChartScene;

ChartScene  *chart_scene_new     (double            width,
                                  double            height,
                                  const ChartTheme *theme,
                                  guint             n_spots);
void         chart_scene_free    (ChartScene       *scene);
ChartItem   *chart_scene_line    (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  double            width,
                                  double            x0,
                                  double            y0,
                                  double            x1,
                                  double            y1);
ChartItem   *chart_scene_path    (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  double            width);
void         chart_scene_point   (ChartScene       *scene,
                                  double            x,
                                  double            y);
ChartItem   *chart_scene_box     (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  double            x,
                                  double            y,
                                  double            w,
                                  double            h);
ChartItem   *chart_scene_hatch   (ChartScene       *scene,
                                  const char       *role,
                                  ChartHatch        hatch,
                                  double            x,
                                  double            y,
                                  double            w,
                                  double            h);
ChartItem   *chart_scene_mark    (ChartScene       *scene,
                                  const char       *role,
                                  ChartShape        shape,
                                  ChartTone         tone,
                                  double            x,
                                  double            y,
                                  double            radius);
ChartItem   *chart_scene_density (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  double            x,
                                  double            y,
                                  double            w,
                                  double            h,
                                  cairo_surface_t  *mask);
PangoLayout *chart_scene_layout  (ChartScene       *scene,
                                  ChartTextStyle    style,
                                  const char       *text);
ChartItem   *chart_scene_text    (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  PangoLayout      *layout,
                                  double            x,
                                  double            y);
double       chart_scene_text_width (ChartScene     *scene,
                                  ChartTextStyle    style,
                                  const char       *text);
double       chart_scene_fit_text (ChartScene       *scene,
                                  const char       *role,
                                  ChartTone         tone,
                                  ChartTextStyle    style,
                                  const char       *text,
                                  double            x,
                                  double            y,
                                  double            room);
void         chart_scene_say     (ChartScene       *scene,
                                  const char       *sentence);
void         chart_scene_spot    (ChartScene       *scene,
                                  guint             mark,
                                  double            x,
                                  double            y,
                                  double            half_width,
                                  double            half_height);
double       chart_scene_lines   (ChartScene       *scene,
                                  ChartTextStyle    style);
char        *chart_scene_dump    (const ChartScene *scene) G_GNUC_WARN_UNUSED_RESULT;

void         chart_ink_paint     (const ChartScene *scene,
                                  cairo_t          *cr,
                                  const ChartTheme *theme);
void         chart_ink_choice    (const ChartScene *scene,
                                  cairo_t          *cr,
                                  const ChartTheme *theme,
                                  const guint8     *chosen);
void         chart_ink_focus     (const ChartScene *scene,
                                  cairo_t          *cr,
                                  const ChartTheme *theme,
                                  guint             mark);

/* A hair line of one dot lies on the dots when its middle does. */
static inline double
chart_crisp (double at)
{
  return __builtin_floor (at) + 0.5;
}

G_END_DECLS
