/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Marks that somebody picks out of a drawing: one by one, all between two in order of build, or all within a box. They are
 * framed on the screen; a picture or a paper made of the drawing shows the frames too.
 */

#include "chart.h"

G_BEGIN_DECLS

gboolean chart_choice_has     (Chart  *chart,
                               int     mark);
guint    chart_choice_count   (Chart  *chart);
void     chart_choice_set     (Chart  *chart,
                               int     mark,
                               gboolean chosen);
gboolean chart_choice_clear   (Chart  *chart);
void     chart_choice_between (Chart  *chart,
                               int     from,
                               int     to);
guint    chart_choice_box     (Chart  *chart,
                               double  x0,
                               double  y0,
                               double  x1,
                               double  y1);
GArray  *chart_choice_keys    (Chart  *chart) G_GNUC_WARN_UNUSED_RESULT;
void     chart_choice_take    (Chart  *chart,
                               Chart  *from);

G_END_DECLS
