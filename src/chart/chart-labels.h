/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Placing labels so that none lies on another.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * ChartLabel:
 * @wanted: where its middle should be
 * @size: its length along the line
 * @rank: what goes first when there is no room: the highest number; 0 is kept longest
 * @at: (out): where its middle is
 * @placed: (out): whether there was room
 */
typedef struct
{
  double   wanted;
  double   size;
  guint    rank;
  double   at;
  gboolean placed;
} ChartLabel;

void chart_labels_spread (ChartLabel *labels,
                          guint       n,
                          double      low,
                          double      high,
                          double      gap);
void chart_labels_pick   (ChartLabel *labels,
                          guint       n,
                          double      low,
                          double      high,
                          double      gap);
void chart_labels_thin   (ChartLabel *labels,
                          guint       n,
                          double      low,
                          double      high,
                          double      gap,
                          int         keep);

G_END_DECLS
