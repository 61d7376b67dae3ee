/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart-chooser.h"

#include <math.h>

#include "chart-choice.h"
#include "look.h"

#define DRAG_LEAST 6.0 /* dots below which a drag is still a click */

struct _FettleChartChooser
{
  GtkWidget              *area;
  FettleChartChooserCalls calls;
  gpointer                owner;
  int                     anchor; /* where Shift begins; -1: at the focused mark */
  gboolean                boxing;
  double                  x0, y0, x1, y1;
};

static void
changed (FettleChartChooser *self, int focus)
{
  gtk_widget_queue_draw (self->area);
  self->calls.changed (self->owner, focus);
}

/* ---- a box drawn by the pointer ---- */

static void
on_drag_begin (FettleChartChooser *self, double x, double y, GtkGesture *drag)
{
  self->boxing = FALSE;
  self->x0 = self->x1 = x;
  self->y0 = self->y1 = y;
}

static void
on_drag_update (FettleChartChooser *self, double dx, double dy, GtkGesture *drag)
{
  if (self->calls.get_chart (self->owner) == NULL)
    return;
  self->x1 = self->x0 + dx;
  self->y1 = self->y0 + dy;
  if (!self->boxing && hypot (dx, dy) >= DRAG_LEAST)
    {
      self->boxing = TRUE;
      gtk_gesture_set_state (drag, GTK_EVENT_SEQUENCE_CLAIMED); /* no longer a click */
    }
  if (self->boxing)
    gtk_widget_queue_draw (self->area);
}

static void
on_drag_end (FettleChartChooser *self, double dx, double dy, GtkGesture *drag)
{
  Chart *chart = self->calls.get_chart (self->owner);
  GdkModifierType modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (drag));

  if (!self->boxing)
    return;
  self->boxing = FALSE;
  self->anchor = -1;
  gtk_widget_queue_draw (self->area);
  if (chart == NULL)
    return;
  gtk_widget_grab_focus (self->area);
  if ((modifiers & (GDK_CONTROL_MASK | GDK_SHIFT_MASK)) == 0)
    chart_choice_clear (chart);
  chart_choice_box (chart, self->x0, self->y0, self->x0 + dx, self->y0 + dy);
  changed (self, chart_get_focus (chart));
}

/**
 * fettle_chart_chooser_snapshot:
 * @self: a chooser
 * @snapshot: of its area
 *
 * Draws the box while the pointer draws it.
 */
void
fettle_chart_chooser_snapshot (FettleChartChooser *self, GtkSnapshot *snapshot)
{
  const ChartColour *ink = &chart_theme (fettle_look_chart ())->ink;
  GdkRGBA fill = { (float) ink->red, (float) ink->green, (float) ink->blue, 0.08f }, line = fill;
  graphene_rect_t box;
  GskRoundedRect outline;

  if (!self->boxing)
    return;
  line.alpha = 0.7f;
  box = GRAPHENE_RECT_INIT ((float) MIN (self->x0, self->x1), (float) MIN (self->y0, self->y1),
                            (float) fabs (self->x1 - self->x0), (float) fabs (self->y1 - self->y0));
  gtk_snapshot_append_color (snapshot, &fill, &box);
  gsk_rounded_rect_init_from_rect (&outline, &box, 0.0f);
  gtk_snapshot_append_border (snapshot, &outline, (const float[4]){ 1, 1, 1, 1 }, (const GdkRGBA[4]){ line, line, line, line });
}

/* ---- keys and clicks ---- */

/**
 * fettle_chart_chooser_key:
 * @self: a chooser
 * @keyval: pressed on the chart
 * @modifiers: that count
 *
 * Space, Ctrl+A and Escape.
 *
 * Returns: whether it was one of them
 */
gboolean
fettle_chart_chooser_key (FettleChartChooser *self, guint keyval, GdkModifierType modifiers)
{
  Chart *chart = self->calls.get_chart (self->owner);
  int focus = chart_get_focus (chart);

  if (modifiers == 0 && (keyval == GDK_KEY_space || keyval == GDK_KEY_KP_Space))
    {
      if (focus < 0)
        focus = chart_step (chart, -1, CHART_STEP_NEXT);
      chart_choice_set (chart, focus, !chart_choice_has (chart, focus));
      self->anchor = focus;
      changed (self, focus);
      return TRUE;
    }
  if (modifiers == GDK_CONTROL_MASK && (keyval == GDK_KEY_a || keyval == GDK_KEY_A))
    {
      chart_choice_between (chart, chart_step (chart, -1, CHART_STEP_FIRST), chart_step (chart, -1, CHART_STEP_LAST));
      changed (self, focus);
      return TRUE;
    }
  if (modifiers == 0 && keyval == GDK_KEY_Escape && chart_choice_clear (chart))
    {
      self->anchor = -1;
      changed (self, focus);
      return TRUE;
    }
  return FALSE;
}

/**
 * fettle_chart_chooser_extend:
 * @self: a chooser
 * @to: a mark
 *
 * Chooses all from where Shift began, or from the focused mark, to @to.
 */
void
fettle_chart_chooser_extend (FettleChartChooser *self, int to)
{
  Chart *chart = self->calls.get_chart (self->owner);

  if (to < 0)
    return;
  if (self->anchor < 0 || (guint) self->anchor >= chart_count_marks (chart) || chart_choice_count (chart) == 0)
    self->anchor = chart_get_focus (chart) >= 0 ? chart_get_focus (chart) : to;
  chart_choice_between (chart, self->anchor, to);
  changed (self, to);
}

/**
 * fettle_chart_chooser_click:
 * @self: a chooser
 * @mark: that was clicked, -1: none
 * @modifiers: held meanwhile
 *
 * With Ctrl the mark is added or taken away, with Shift all up to it are added.
 *
 * Returns: whether the click was about choosing
 */
gboolean
fettle_chart_chooser_click (FettleChartChooser *self, int mark, GdkModifierType modifiers)
{
  Chart *chart = self->calls.get_chart (self->owner);

  if ((modifiers & (GDK_CONTROL_MASK | GDK_SHIFT_MASK)) == 0)
    return FALSE;
  if (mark < 0)
    return TRUE;
  if ((modifiers & GDK_SHIFT_MASK) != 0)
    {
      fettle_chart_chooser_extend (self, mark);
      return TRUE;
    }
  chart_choice_set (chart, mark, !chart_choice_has (chart, mark));
  self->anchor = mark;
  changed (self, mark);
  return TRUE;
}

/* The chart is another one: marks have other numbers. */
void
fettle_chart_chooser_forget (FettleChartChooser *self)
{
  self->anchor = -1;
  self->boxing = FALSE;
}

/**
 * fettle_chart_chooser_new:
 * @area: the widget that shows the drawing; outlives the chooser
 * @calls: (transfer none): copied
 * @owner: for @calls
 *
 * Returns: (transfer full): a chooser
 */
FettleChartChooser *
fettle_chart_chooser_new (GtkWidget *area, const FettleChartChooserCalls *calls, gpointer owner)
{
  FettleChartChooser *self = g_new0 (FettleChartChooser, 1);
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->area = area;
  self->calls = *calls;
  self->owner = owner;
  self->anchor = -1;
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (area, GTK_EVENT_CONTROLLER (drag));
  return self;
}

void
fettle_chart_chooser_free (FettleChartChooser *self)
{
  g_free (self);
}
