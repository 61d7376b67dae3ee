/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * From values to places on the drawing, and round numbers to label them with.
 */

#include <glib.h>

G_BEGIN_DECLS

/* The value @low lies at @at_low, @high at @at_high; @low < @high always, @at_low may be the larger (a scale
 * upwards). */
typedef struct
{
  double low;
  double high;
  double at_low;
  double at_high;
} ChartScale;

/* Tick i has the value (first + i) * step; step is 1, 2 or 5 times a power of ten. */
typedef struct
{
  double first;
  double step;
  guint  n;
  int    decimals;
} ChartTicks;

/* One label of a date scale: a day (as g_date_get_julian() counts) and the text that tells it. */
typedef struct
{
  guint day;
  char  text[16];
} ChartDateTick;

#define CHART_DECIMALS_MOST 12

void       chart_scale_init    (ChartScale       *scale,
                                double            low,
                                double            high,
                                double            at_low,
                                double            at_high);
double     chart_scale_at      (const ChartScale *scale,
                                double            value);
double     chart_scale_value   (const ChartScale *scale,
                                double            at);

void       chart_range_init    (double           *low,
                                double           *high);
void       chart_range_take    (double           *low,
                                double           *high,
                                double            value);
void       chart_range_settle  (double           *low,
                                double           *high);

ChartTicks chart_ticks         (double            low,
                                double            high,
                                guint             most);
ChartTicks chart_ticks_around  (double           *low,
                                double           *high,
                                guint             most);
ChartTicks chart_ticks_close   (double           *low,
                                double           *high,
                                guint             most);
double     chart_ticks_value   (const ChartTicks *ticks,
                                guint             i);
char      *chart_number        (double            value,
                                int               decimals) G_GNUC_WARN_UNUSED_RESULT;
int        chart_decimals      (double            value);

GArray    *chart_date_ticks    (guint             low_day,
                                guint             high_day,
                                guint             most) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
