/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The choice is kept as two marks: the anchor, where it began, and the head, which moves. While the newest round is
 * chosen alone, a round that comes later is followed: who looks at 'now' goes on looking at now.
 */
#include "config.h"

#include "round-strip.h"

#include <glib/gi18n.h>

#include "look.h"

#define LEAST_WIDTH 200
#define NATURAL_WIDTH 600
#define SCROLL_STEP 60.0

struct _FettleRoundStrip
{
  GtkWidget parent_instance;

  Chart   *chart;
  int      anchor; /* mark; -1: no round */
  int      head;
  gboolean legend;
  gboolean shift_held; /* of the press under way */
};

enum { PROP_LEGEND = 1, N_PROPS };
static GParamSpec *properties[N_PROPS];

enum { SPAN_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleRoundStrip, fettle_round_strip, GTK_TYPE_WIDGET)

static int
newest (FettleRoundStrip *self)
{
  return self->chart == NULL ? -1 : (int) chart_count_marks (self->chart) - 1;
}

static char *
mark_words (FettleRoundStrip *self, int mark)
{
  const char *text = chart_mark_text (self->chart, mark);

  return text != NULL ? g_strdup (text) : g_strdup_printf (_("round %d"), mark + 1);
}

/* A screen reader hears what is chosen; the marks' words say the rest. */
static void
tell (FettleRoundStrip *self)
{
  g_autofree char *label = NULL, *description = NULL;

  if (self->head < 0)
    {
      label = g_strdup (_("Rounds: there is none yet"));
      description = g_strdup ("");
    }
  else if (self->anchor == self->head)
    {
      g_autofree char *words = mark_words (self, self->head);

      label = g_strdup_printf (_("Rounds, one chosen: %s"), words);
      description = g_strdup (_("Left and Right choose another round; with Shift, a span of rounds"));
    }
  else
    {
      g_autofree char *from = mark_words (self, MIN (self->anchor, self->head));
      g_autofree char *to = mark_words (self, MAX (self->anchor, self->head));

      label = g_strdup_printf (_("Rounds, a span chosen, from: %s; to: %s"), from, to);
      description = g_strdup (_("Shift with Left and Right moves the end of the span"));
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}

static void
show_choice (FettleRoundStrip *self)
{
  if (self->chart != NULL)
    {
      chart_strip_set_selection (self->chart, MIN (self->anchor, self->head), MAX (self->anchor, self->head));
      if (self->head >= 0)
        chart_strip_reveal (self->chart, self->head);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
  tell (self);
}

static void
choose (FettleRoundStrip *self, int anchor, int head)
{
  if (head < 0 || (anchor == self->anchor && head == self->head))
    return;

  self->anchor = anchor;
  self->head = head;
  show_choice (self);
  g_signal_emit (self, signals[SPAN_CHANGED], 0);
}

static gboolean
on_key (FettleRoundStrip *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  int head = self->head;

  modifiers &= gtk_accelerator_get_default_mod_mask ();
  if (self->chart == NULL || head < 0 || (modifiers & ~GDK_SHIFT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;

  switch (keyval)
    {
    case GDK_KEY_Left: head = MAX (head - 1, 0); break;
    case GDK_KEY_Right: head = MIN (head + 1, newest (self)); break;
    case GDK_KEY_Home: head = 0; break;
    case GDK_KEY_End: head = newest (self); break;
    case GDK_KEY_Escape: choose (self, newest (self), newest (self)); return GDK_EVENT_STOP;
    default: return GDK_EVENT_PROPAGATE;
    }

  choose (self, modifiers == GDK_SHIFT_MASK ? self->anchor : head, head);
  return GDK_EVENT_STOP;
}

static void
on_drag_begin (FettleRoundStrip *self, double x, double y, GtkGestureDrag *drag)
{
  GdkModifierType modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (drag));
  int mark;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->chart == NULL)
    return;

  mark = chart_hit (self->chart, x, y);
  self->shift_held = (modifiers & GDK_SHIFT_MASK) != 0;
  choose (self, self->shift_held ? self->anchor : mark, mark);
}

static void
on_drag_update (FettleRoundStrip *self, double dx, double dy, GtkGestureDrag *drag)
{
  double x, y;

  if (self->chart != NULL && gtk_gesture_drag_get_start_point (drag, &x, &y))
    choose (self, self->anchor, chart_hit (self->chart, x + dx, y));
}

static gboolean
on_scroll (FettleRoundStrip *self, double dx, double dy)
{
  double step = (dx != 0.0 ? dx : dy) * SCROLL_STEP, most;

  if (self->chart == NULL || (most = chart_strip_scroll_most (self->chart)) <= 0.0)
    return GDK_EVENT_PROPAGATE;

  chart_strip_set_scroll (self->chart, CLAMP (chart_strip_get_scroll (self->chart) + step, 0.0, most));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return GDK_EVENT_STOP;
}

static gboolean
on_query_tooltip (FettleRoundStrip *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  int mark;
  const char *text;

  if (self->chart == NULL)
    return FALSE;

  mark = keyboard ? self->head : chart_hit (self->chart, x, y);
  text = mark < 0 ? NULL : chart_mark_text (self->chart, mark);
  gtk_tooltip_set_text (tooltip, text);
  return text != NULL;
}

static void
fettle_round_strip_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  fettle_look_draw (widget, snapshot, FETTLE_ROUND_STRIP (widget)->chart);
}

static void
fettle_round_strip_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleRoundStrip *self = FETTLE_ROUND_STRIP (widget);

  if (self->chart == NULL)
    return;

  /* The chosen round stays in view when the window narrows. */
  chart_layout (self->chart, width, height, chart_theme (fettle_look_chart ()));
  if (self->head >= 0)
    chart_strip_reveal (self->chart, self->head);
}

static void
fettle_round_strip_measure (GtkWidget     *widget,
                            GtkOrientation orientation,
                            int            for_size,
                            int           *minimum,
                            int           *natural,
                            int           *minimum_baseline,
                            int           *natural_baseline)
{
  FettleRoundStrip *self = FETTLE_ROUND_STRIP (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = LEAST_WIDTH;
      *natural = NATURAL_WIDTH;
      return;
    }
  *minimum = self->chart == NULL
                 ? 0
                 : (int) (chart_strip_height (self->chart, chart_theme (fettle_look_chart ())) + 0.999);
  *natural = *minimum;
}

static void
fettle_round_strip_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_LEGEND)
    g_value_set_boolean (value, FETTLE_ROUND_STRIP (object)->legend);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
fettle_round_strip_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_LEGEND)
    fettle_round_strip_set_legend (FETTLE_ROUND_STRIP (object), g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
fettle_round_strip_finalize (GObject *object)
{
  FettleRoundStrip *self = FETTLE_ROUND_STRIP (object);

  g_clear_pointer (&self->chart, chart_free);
  G_OBJECT_CLASS (fettle_round_strip_parent_class)->finalize (object);
}

static void
fettle_round_strip_class_init (FettleRoundStripClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->get_property = fettle_round_strip_get_property;
  object_class->set_property = fettle_round_strip_set_property;
  object_class->finalize = fettle_round_strip_finalize;
  widget_class->snapshot = fettle_round_strip_snapshot;
  widget_class->size_allocate = fettle_round_strip_size_allocate;
  widget_class->measure = fettle_round_strip_measure;

  /* FettleRoundStrip:legend: whether the patterns are explained. */
  properties[PROP_LEGEND] = g_param_spec_boolean ("legend", NULL, NULL, FALSE,
                                                  G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[SPAN_CHANGED] = g_signal_new ("span-changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                        NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "roundstrip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fettle_round_strip_init (FettleRoundStrip *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->anchor = self->head = -1;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  g_signal_connect_swapped (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
  fettle_look_redraw (GTK_WIDGET (self));
  tell (self);
}

/**
 * fettle_round_strip_new:
 *
 * Returns: a strip without rounds
 */
GtkWidget *
fettle_round_strip_new (void)
{
  return g_object_new (FETTLE_TYPE_ROUND_STRIP, NULL);
}

/**
 * fettle_round_strip_take_chart:
 * @self: a strip
 * @chart: (transfer full) (nullable): of chart_strip_new(); the marks' keys are the rounds' keys
 *
 * Shows the rounds of @chart. What was chosen stays chosen by key; the newest round when nothing was, when it is gone,
 * or when the newest was chosen before and a newer one has come.
 */
void
fettle_round_strip_take_chart (FettleRoundStrip *self, Chart *chart)
{
  gint64 from = 0, to = 0;
  gboolean followed;

  g_return_if_fail (FETTLE_IS_ROUND_STRIP (self));

  followed = self->head == newest (self) && self->anchor == self->head;
  from = fettle_round_strip_get_from (self);
  to = fettle_round_strip_get_to (self);
  g_clear_pointer (&self->chart, chart_free);
  self->chart = chart;
  if (chart != NULL)
    chart_strip_set_legend (chart, self->legend);
  self->anchor = self->head = newest (self);
  if (followed)
    show_choice (self);
  else
    fettle_round_strip_set_span (self, from, to);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * fettle_round_strip_set_span:
 * @self: a strip
 * @from: key of the first round
 * @to: key of the last round
 *
 * Chooses rounds; those that are not there become the newest.
 */
void
fettle_round_strip_set_span (FettleRoundStrip *self, gint64 from, gint64 to)
{
  g_return_if_fail (FETTLE_IS_ROUND_STRIP (self));

  self->anchor = self->chart == NULL ? -1 : chart_find_key (self->chart, from);
  self->head = self->chart == NULL ? -1 : chart_find_key (self->chart, to);
  if (self->head < 0)
    self->anchor = self->head = newest (self);
  if (self->anchor < 0)
    self->anchor = self->head;
  show_choice (self);
}

static gint64
key_of (FettleRoundStrip *self, int mark)
{
  return self->chart == NULL || mark < 0 ? 0 : chart_mark_key (self->chart, mark);
}

/**
 * fettle_round_strip_get_from:
 * @self: a strip
 *
 * Returns: key of the first chosen round; 0 when there is no round
 */
gint64
fettle_round_strip_get_from (FettleRoundStrip *self)
{
  g_return_val_if_fail (FETTLE_IS_ROUND_STRIP (self), 0);

  return key_of (self, MIN (self->anchor, self->head));
}

/**
 * fettle_round_strip_get_to:
 * @self: a strip
 *
 * Returns: key of the last chosen round; 0 when there is no round
 */
gint64
fettle_round_strip_get_to (FettleRoundStrip *self)
{
  g_return_val_if_fail (FETTLE_IS_ROUND_STRIP (self), 0);

  return key_of (self, MAX (self->anchor, self->head));
}

/**
 * fettle_round_strip_set_legend:
 * @self: a strip
 * @shown: whether the patterns are explained
 *
 * Shows or hides the line that explains the patterns.
 */
void
fettle_round_strip_set_legend (FettleRoundStrip *self, gboolean shown)
{
  g_return_if_fail (FETTLE_IS_ROUND_STRIP (self));

  if (self->legend == shown)
    return;

  self->legend = shown;
  if (self->chart != NULL)
    chart_strip_set_legend (self->chart, shown);
  gtk_widget_queue_resize (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LEGEND]);
}
