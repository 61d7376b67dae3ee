/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Choosing marks of a chart on the screen: what the keys and the pointer do to its choice (chart-choice.h). */

#include <gtk/gtk.h>

#include "chart.h"

G_BEGIN_DECLS

typedef struct _FettleChartChooser FettleChartChooser;

/* What the chooser asks and tells its owner. @changed: the choice is another; @focus: the mark that has the keyboard now. */
typedef struct
{
  Chart *(*get_chart) (gpointer owner);
  void (*changed) (gpointer owner, int focus);
} FettleChartChooserCalls;

FettleChartChooser *fettle_chart_chooser_new      (GtkWidget                     *area,
                                                   const FettleChartChooserCalls *calls,
                                                   gpointer                       owner) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_chart_chooser_free     (FettleChartChooser            *self);
void                fettle_chart_chooser_snapshot (FettleChartChooser            *self,
                                                   GtkSnapshot                   *snapshot);
gboolean            fettle_chart_chooser_key      (FettleChartChooser            *self,
                                                   guint                          keyval,
                                                   GdkModifierType                modifiers);
void                fettle_chart_chooser_extend   (FettleChartChooser            *self,
                                                   int                            to);
gboolean            fettle_chart_chooser_click    (FettleChartChooser            *self,
                                                   int                            mark,
                                                   GdkModifierType                modifiers);
void                fettle_chart_chooser_forget   (FettleChartChooser            *self);

G_END_DECLS
