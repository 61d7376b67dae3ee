/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A chart into a file: PNG, SVG or PDF by the file's ending.
 */

#include "chart.h"

G_BEGIN_DECLS

#define CHART_OUTPUT_ERROR (chart_output_error_quark ())

/**
 * ChartOutputError:
 * @CHART_OUTPUT_ERROR_KIND: the ending is none of .png, .svg, .pdf
 * @CHART_OUTPUT_ERROR_SIZE: the size cannot be drawn
 * @CHART_OUTPUT_ERROR_DRAW: the drawing library refused
 *
 * Errors while storing the file are those of #G_FILE_ERROR.
 */
typedef enum
{
  CHART_OUTPUT_ERROR_KIND,
  CHART_OUTPUT_ERROR_SIZE,
  CHART_OUTPUT_ERROR_DRAW
} ChartOutputError;

GQuark   chart_output_error_quark (void);
void     chart_set_document       (Chart       *chart,
                                   const char  *title,
                                   const char  *created);
gboolean chart_write              (Chart       *chart,
                                   const char  *path,
                                   double       width,
                                   double       height,
                                   ChartLook    look,
                                   GError     **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
