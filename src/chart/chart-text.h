/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Text as Pango layouts whose measures are the same on the screen, in pictures and on paper: 96 dots an inch,
 * no metric hinting, tabular figures.
 */

#include <pango/pangocairo.h>

#include "chart-theme.h"

G_BEGIN_DECLS

/**
 * ChartTextStyle:
 * @CHART_TEXT_LABEL: ordinary labels and figures
 * @CHART_TEXT_STRONG: the same, semi-bold
 * @CHART_TEXT_SLANTED: the same in italics (verdicts)
 * @CHART_TEXT_ROUND: round names, serif
 * @CHART_TEXT_TITLE: headings, serif
 */
typedef enum
{
  CHART_TEXT_LABEL,
  CHART_TEXT_STRONG,
  CHART_TEXT_SLANTED,
  CHART_TEXT_ROUND,
  CHART_TEXT_TITLE
} ChartTextStyle;

PangoContext *chart_text_context  (void) G_GNUC_WARN_UNUSED_RESULT;
PangoLayout  *chart_text_new      (PangoContext     *context,
                                   const ChartTheme *theme,
                                   ChartTextStyle    style,
                                   const char       *text) G_GNUC_WARN_UNUSED_RESULT;
void          chart_text_size     (PangoLayout      *layout,
                                   double           *width,
                                   double           *height);
double        chart_text_baseline (PangoLayout      *layout);
void          chart_text_cut      (PangoLayout      *layout,
                                   double            width);
void          chart_text_wrap     (PangoLayout      *layout,
                                   double            width,
                                   double            height);

G_END_DECLS
