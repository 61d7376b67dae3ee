/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What charts through the rounds share: heading, scale at the left, a column a round with its name below, and
 * labels at the right. First laid out (chart_frame_lay()), then added to the scene where its kind wants it,
 * behind the marks.
 */

#include "chart-scene-private.h"

G_BEGIN_DECLS

#define CHART_TICK_GAP 8.0 /* between a tick's label and the plot */
#define CHART_END_GAP 10.0 /* between the plot and a label at the right */

/* A round as a column: @weight is how much of the width it asks for. */
typedef struct
{
  const char *name;
  const char *count;
  const char *short_count;
  gboolean    current;
  double      weight;
} ChartColumn;

/* A label at the right end of a line; the words are cut or, if @short_words fit instead, replaced when there
 * is no room. */
typedef struct
{
  const char    *words;
  const char    *short_words;
  const char    *role;
  ChartTone      tone;
  ChartTextStyle style;
  double         value;
  guint          rank;
} ChartEnd;

typedef struct
{
  const char        *title;
  const char        *scale_words;
  const ChartColumn *columns;
  guint              n_columns;
  double             low, high;   /* of the values to be shown, settled */
  gboolean           as_given;    /* the scale ends at low and high, not at ticks around them */
  gboolean           flush;       /* the plot ends with the last column's middle, labels at the right follow at once */
  double             tick_factor; /* ticks are labelled as this many times their value */
  const ChartEnd    *ends;
  guint              n_ends;
} ChartFrameAsk;

/* A column's slot touches its neighbours; marks stay between left and right. */
typedef struct
{
  double slot_left, slot_right;
  double left, right;
} ChartSlot;

typedef struct
{
  double     x, y, w, h; /* the plot */
  ChartScale scale;
  ChartTicks ticks;
  double     tick_factor;
  ChartSlot *slots;
  guint      n_slots;

  const ChartFrameAsk *ask;
  double     pad;        /* between the edge and what is drawn */
  double     end_room;
  gboolean   short_ends;
  gboolean   two_lines;
  gboolean   flush;
  double     title_y, scale_y, lane_y;
  double     line, name_line; /* heights */
} ChartFrame;

gboolean chart_frame_lay       (ChartFrame          *frame,
                                ChartScene          *scene,
                                const ChartFrameAsk *ask);
gboolean chart_frame_lane      (ChartFrame          *frame,
                                ChartScene          *scene,
                                double               height);
void     chart_frame_clear     (ChartFrame          *frame);
void     chart_frame_behind    (ChartFrame          *frame,
                                ChartScene          *scene,
                                gboolean             grid);
char    *chart_frame_tick_text (const ChartFrame    *frame,
                                guint                i) G_GNUC_WARN_UNUSED_RESULT;
void     chart_frame_labels    (ChartFrame          *frame,
                                ChartScene          *scene);
double   chart_frame_y         (const ChartFrame    *frame,
                                double               value);
double   chart_frame_x         (const ChartFrame    *frame,
                                double               rounds);
void     chart_share_out       (const double        *weights,
                                const double        *least,
                                guint                n,
                                double               total,
                                double               most_per_weight,
                                double              *widths);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (ChartFrame, chart_frame_clear)

G_END_DECLS
