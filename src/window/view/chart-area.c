/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart-area.h"

#include <math.h>

#include "look.h"

#define NATURAL_WIDTH 480
#define LEAST_WIDTH 160
#define LEAST_ROWS 420 /* more of its own height than this a chart of rows does not insist on */

G_DEFINE_FINAL_TYPE (FettleChartArea, fettle_chart_area, GTK_TYPE_WIDGET)

static void
fettle_chart_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  FettleChartArea *self = FETTLE_CHART_AREA (widget);

  fettle_look_draw (widget, snapshot, self->chart);
  if (self->chooser != NULL)
    fettle_chart_chooser_snapshot (self->chooser, snapshot);
}

static void
fettle_chart_area_measure (GtkWidget     *widget,
                           GtkOrientation orientation,
                           int            for_size,
                           int           *minimum,
                           int           *natural,
                           int           *minimum_baseline,
                           int           *natural_baseline)
{
  FettleChartArea *self = FETTLE_CHART_AREA (widget);
  int own;

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = LEAST_WIDTH;
      *natural = NATURAL_WIDTH;
      return;
    }

  /* Where there is little room a chart gives way, down to a height at which it can still be read; one of rows keeps them. */
  own = self->chart == NULL ? 0 : (int) ceil (chart_own_height (self->chart, chart_theme (fettle_look_chart ())));
  *minimum = CLAMP (own, FETTLE_CHART_AREA_LEAST, LEAST_ROWS);
  *natural = MAX (FETTLE_CHART_AREA_LEAST, MAX (self->height, own));
}

static void
fettle_chart_area_finalize (GObject *object)
{
  FettleChartArea *self = FETTLE_CHART_AREA (object);

  g_clear_pointer (&self->chart, chart_free);
  g_clear_pointer (&self->chooser, fettle_chart_chooser_free);
  G_OBJECT_CLASS (fettle_chart_area_parent_class)->finalize (object);
}

static void
fettle_chart_area_class_init (FettleChartAreaClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = fettle_chart_area_finalize;
  widget_class->snapshot = fettle_chart_area_snapshot;
  widget_class->measure = fettle_chart_area_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fettle_chart_area_init (FettleChartArea *self)
{
  self->height = FETTLE_CHART_AREA_LEAST;
}
