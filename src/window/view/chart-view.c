/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The widget is a drawing with a status line below: the drawing takes the focus and the pointer, the line tells in
 * words what the drawing shows at its focused mark. A screen reader hears the same line as the drawing's description, and
 * the chart's summary while no mark has the focus. In place of the drawing its data can stand as a table.
 */
#include "config.h"

#include "chart-view.h"

#include <glib/gi18n.h>

#include "chart-area.h"
#include "chart-choice.h"
#include "chart-copies.h"
#include "chart-table.h"
#include "data-table.h"
#include "keyboard.h"
#include "look.h"
#include "unparent.h"

struct _FettleChartView
{
  GtkWidget parent_instance;

  FettleChartArea     *area;
  GtkLabel            *status;
  GtkWidget           *table; /* in place of the drawing; NULL: the drawing is shown */
  GtkWidget           *menu; /* made when first asked for */
  FettleChartCopies   *copies;
  char                *label;
  char                *description;
  char                *chosen_words; /* NULL: their number is told */
};

enum { MARK_ACTIVATED, CHOICE_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleChartView, fettle_chart_view, GTK_TYPE_WIDGET)

/* What the focused mark is, and what is chosen: their number on the line, the words for it where they are heard only. */
static char *
tell_both (FettleChartView *self, const char *mark_words, gboolean heard)
{
  Chart *chart = self->area->chart;
  guint n = chart == NULL ? 0 : chart_choice_count (chart);
  g_autofree char *count = NULL;

  if (n == 0)
    return g_strdup (mark_words != NULL ? mark_words : "");
  count = heard && self->chosen_words != NULL ? g_strdup (self->chosen_words)
                                              : g_strdup_printf (ngettext ("%u chosen.", "%u chosen.", n), n);
  if (mark_words == NULL)
    return g_steal_pointer (&count);
  return g_strdup_printf (chart_choice_has (chart, chart_get_focus (chart)) ? _("%s (chosen). %s") : _("%s. %s"), mark_words, count);
}

static void
tell (FettleChartView *self)
{
  Chart *chart = self->area->chart;
  int mark = chart == NULL ? -1 : chart_get_focus (chart);
  const char *words = mark < 0 ? NULL : chart_mark_text (chart, mark);
  const char *summary = chart == NULL ? NULL : chart_get_summary (chart);
  g_autofree char *line = tell_both (self, words, FALSE), *heard = tell_both (self, words, TRUE);

  summary = summary != NULL ? summary : self->description;
  gtk_label_set_label (self->status, line);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->area),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, self->label == NULL ? _("Chart") : self->label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, *heard == '\0' && summary != NULL ? summary : heard, -1);
}

static void
focus_mark (FettleChartView *self, int mark)
{
  chart_set_focus (self->area->chart, mark);
  gtk_widget_queue_draw (GTK_WIDGET (self->area));
  tell (self);
}

static Chart *
get_chart (gpointer data)
{
  return FETTLE_CHART_VIEW (data)->area->chart;
}

/* The words said before were of another choice. */
static void
on_choice_changed (gpointer data, int focus)
{
  FettleChartView *self = data;

  g_clear_pointer (&self->chosen_words, g_free);
  focus_mark (self, focus);
  g_signal_emit (self, signals[CHOICE_CHANGED], 0);
}

static const FettleChartChooserCalls chooser_calls = { get_chart, on_choice_changed };

static void
activate (FettleChartView *self, int mark)
{
  if (mark >= 0)
    g_signal_emit (self, signals[MARK_ACTIVATED], 0, chart_mark_key (self->area->chart, mark));
}

static gboolean
on_key (FettleChartView *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  static const struct { guint keyval; gboolean control; ChartStep step; } keys[] = {
    { GDK_KEY_Right, FALSE, CHART_STEP_NEXT },
    { GDK_KEY_Left, FALSE, CHART_STEP_PREVIOUS },
    { GDK_KEY_Right, TRUE, CHART_STEP_NEXT_ROUND },
    { GDK_KEY_Left, TRUE, CHART_STEP_PREVIOUS_ROUND },
    { GDK_KEY_Down, FALSE, CHART_STEP_NEXT_ROUND },
    { GDK_KEY_Up, FALSE, CHART_STEP_PREVIOUS_ROUND },
    { GDK_KEY_Home, FALSE, CHART_STEP_FIRST },
    { GDK_KEY_End, FALSE, CHART_STEP_LAST },
  };
  Chart *chart = self->area->chart;
  gboolean extend;
  int mark;

  modifiers &= gtk_accelerator_get_default_mod_mask ();
  extend = chart != NULL && self->area->chooser != NULL && (modifiers & GDK_SHIFT_MASK) != 0;
  if (extend)
    modifiers &= ~GDK_SHIFT_MASK;
  if (chart == NULL || (modifiers & ~GDK_CONTROL_MASK) != 0)
    return GDK_EVENT_PROPAGATE;

  mark = chart_get_focus (chart);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (keys[i].keyval == keyval && keys[i].control == ((modifiers & GDK_CONTROL_MASK) != 0))
      {
        int to = chart_step (chart, mark, keys[i].step);

        if (extend)
          fettle_chart_chooser_extend (self->area->chooser, to);
        else
          focus_mark (self, to);
        return GDK_EVENT_STOP;
      }
  if (extend)
    return GDK_EVENT_PROPAGATE;
  if (self->area->chooser != NULL && fettle_chart_chooser_key (self->area->chooser, keyval, modifiers))
    return GDK_EVENT_STOP;

  if (mark >= 0 && modifiers == 0 && (keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter))
    {
      activate (self, mark);
      return GDK_EVENT_STOP;
    }
  if (mark >= 0 && keyval == GDK_KEY_Escape)
    {
      focus_mark (self, -1);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

static void
on_released (FettleChartView *self, int n_press, double x, double y, GtkGesture *click)
{
  GdkModifierType modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (click));
  int mark;

  if (self->area->chart == NULL)
    return;

  gtk_widget_grab_focus (GTK_WIDGET (self->area));
  mark = chart_hit (self->area->chart, x, y);
  if (self->area->chooser != NULL && fettle_chart_chooser_click (self->area->chooser, mark, modifiers))
    return;
  focus_mark (self, mark);
  activate (self, mark);
}

static gboolean
on_query_tooltip (FettleChartView *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  Chart *chart = self->area->chart;
  int mark;
  double mark_x, mark_y;

  if (chart == NULL)
    return FALSE;

  mark = keyboard ? chart_get_focus (chart) : chart_hit (chart, x, y);
  if (mark < 0 || chart_mark_text (chart, mark) == NULL || !chart_mark_position (chart, mark, &mark_x, &mark_y))
    return FALSE;

  gtk_tooltip_set_text (tooltip, chart_mark_text (chart, mark));
  gtk_tooltip_set_tip_area (tooltip, &(GdkRectangle){ (int) mark_x - 6, (int) mark_y - 6, 12, 12 });
  return TRUE;
}

static void
open_menu (FettleChartView *self, double x, double y)
{
  if (self->area->chart == NULL)
    return;

  if (self->menu == NULL)
    {
      g_autoptr(GMenu) model = g_menu_new ();

      g_menu_append (model, _("_Copy Picture"), "chart.copy");
      g_menu_append (model, _("Copy as _Table"), "chart.copy-table");
      g_menu_append (model, _("Show as Table or as _Drawing"), "chart.table");
      g_menu_append (model, _("_Save as PNG, SVG or PDF…"), "chart.save");
      self->menu = gtk_popover_menu_new_from_model (G_MENU_MODEL (model));
      gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
      gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
      gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
    }
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

static void
on_pressed_secondary (FettleChartView *self, int n_press, double x, double y)
{
  open_menu (self, x, y);
}

static void
on_menu_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  open_menu (FETTLE_CHART_VIEW (widget), gtk_widget_get_width (widget) / 2.0, 24.0);
}

static void
on_copy_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  fettle_chart_copies_picture (FETTLE_CHART_VIEW (widget)->copies);
}

static void
on_copy_table_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  fettle_chart_copies_table (FETTLE_CHART_VIEW (widget)->copies);
}

static void
on_save_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  fettle_chart_copies_save (FETTLE_CHART_VIEW (widget)->copies);
}

/* Takes the table away before its chart goes. */
static void
hide_table (FettleChartView *self)
{
  if (self->table == NULL)
    return;
  gtk_widget_unparent (self->table);
  self->table = NULL;
  gtk_widget_set_visible (GTK_WIDGET (self->area), TRUE);
}

static void
show_table (FettleChartView *self)
{
  self->table = fettle_data_table_new (self->area->chart, self->label == NULL ? _("Chart") : self->label);
  gtk_widget_set_size_request (self->table, -1, MAX (FETTLE_CHART_AREA_LEAST, gtk_widget_get_height (GTK_WIDGET (self->area))));
  gtk_widget_insert_before (self->table, GTK_WIDGET (self), GTK_WIDGET (self->status));
  gtk_widget_set_visible (GTK_WIDGET (self->area), FALSE);
}

static void
on_table_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleChartView *self = FETTLE_CHART_VIEW (widget);

  if (self->table != NULL)
    {
      hide_table (self);
      gtk_widget_grab_focus (GTK_WIDGET (self->area));
    }
  else if (self->area->chart != NULL)
    {
      show_table (self);
      gtk_widget_child_focus (self->table, GTK_DIR_TAB_FORWARD);
    }
}

static void
fettle_chart_view_dispose (GObject *object)
{
  FettleChartView *self = FETTLE_CHART_VIEW (object);

  g_clear_pointer (&self->copies, fettle_chart_copies_free);
  self->menu = NULL;
  self->table = NULL;
  fettle_unparent_children (self);
  self->area = NULL;
  self->status = NULL;

  G_OBJECT_CLASS (fettle_chart_view_parent_class)->dispose (object);
}

static void
fettle_chart_view_finalize (GObject *object)
{
  FettleChartView *self = FETTLE_CHART_VIEW (object);

  g_free (self->label);
  g_free (self->description);
  g_free (self->chosen_words);
  G_OBJECT_CLASS (fettle_chart_view_parent_class)->finalize (object);
}

static void
fettle_chart_view_class_init (FettleChartViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = fettle_chart_view_dispose;
  object_class->finalize = fettle_chart_view_finalize;
  gtk_widget_class_set_css_name (widget_class, "chartview");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_install_action (widget_class, "chart.copy", NULL, on_copy_action);
  gtk_widget_class_install_action (widget_class, "chart.copy-table", NULL, on_copy_table_action);
  gtk_widget_class_install_action (widget_class, "chart.table", NULL, on_table_action);
  gtk_widget_class_install_action (widget_class, "chart.save", NULL, on_save_action);
  gtk_widget_class_install_action (widget_class, "chart.menu", NULL, on_menu_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F10, GDK_SHIFT_MASK, "chart.menu", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Menu, 0, "chart.menu", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK, "chart.copy", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "chart.copy-table", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_t, GDK_CONTROL_MASK, "chart.table", NULL);

  signals[MARK_ACTIVATED] = g_signal_new ("mark-activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                          NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CHOICE_CHANGED] = g_signal_new ("choice-changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                          NULL, G_TYPE_NONE, 0);
}

static void
fettle_chart_view_init (FettleChartView *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkGesture *menu_click = gtk_gesture_click_new ();

  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))),
                                  GTK_ORIENTATION_VERTICAL);

  self->area = g_object_new (FETTLE_TYPE_CHART_AREA, "focusable", TRUE, "hexpand", TRUE, "vexpand", TRUE,
                             "has-tooltip", TRUE, "name", "chart", NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->area), GTK_WIDGET (self));
  self->copies = fettle_chart_copies_new (GTK_WIDGET (self->area), get_chart, self);
  self->status = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "ellipsize", PANGO_ELLIPSIZE_END, "name", "chart-status",
                               "css-classes", (const char *[]){ "dim", "small", "num", NULL }, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->status), GTK_WIDGET (self));

  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->area), key);
  g_signal_connect_swapped (click, "released", G_CALLBACK (on_released), self);
  gtk_widget_add_controller (GTK_WIDGET (self->area), GTK_EVENT_CONTROLLER (click));
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (menu_click), GDK_BUTTON_SECONDARY);
  g_signal_connect_swapped (menu_click, "pressed", G_CALLBACK (on_pressed_secondary), self);
  gtk_widget_add_controller (GTK_WIDGET (self->area), GTK_EVENT_CONTROLLER (menu_click));
  g_signal_connect_swapped (self->area, "query-tooltip", G_CALLBACK (on_query_tooltip), self);
  fettle_look_redraw (GTK_WIDGET (self->area));
  tell (self);
}

/**
 * fettle_chart_view_new:
 *
 * Returns: an empty view
 */
GtkWidget *
fettle_chart_view_new (void)
{
  return g_object_new (FETTLE_TYPE_CHART_VIEW, NULL);
}

/**
 * fettle_chart_view_take_chart:
 * @self: a view
 * @chart: (transfer full) (nullable): the drawing; %NULL shows nothing
 *
 * Shows @chart. When a mark had the focus, the mark of the same key has it afterwards; marks that were chosen stay so by key.
 */
void
fettle_chart_view_take_chart (FettleChartView *self, Chart *chart)
{
  gboolean as_table;
  gboolean had_focus = FALSE;
  gboolean had_choice = FALSE;
  int mark = -1;

  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  as_table = self->table != NULL;
  if (self->area->chart != NULL && chart_get_focus (self->area->chart) >= 0 && chart != NULL)
    mark = chart_find_key (chart, chart_mark_key (self->area->chart, chart_get_focus (self->area->chart)));
  if (as_table)
    {
      had_focus = gtk_widget_get_focus_child (GTK_WIDGET (self)) == self->table;
      hide_table (self);
    }
  if (self->area->chooser != NULL)
    {
      fettle_chart_chooser_forget (self->area->chooser);
      had_choice = self->area->chart != NULL && chart_choice_count (self->area->chart) > 0;
      if (had_choice && chart != NULL)
        chart_choice_take (chart, self->area->chart);
    }
  g_clear_pointer (&self->area->chart, chart_free);
  self->area->chart = chart;
  if (chart != NULL)
    chart_set_focus (chart, mark);
  if (as_table && chart != NULL)
    show_table (self);
  gtk_widget_queue_resize (GTK_WIDGET (self->area)); /* rows may have come or gone */
  if (had_focus)
    gtk_widget_child_focus (self->table != NULL ? self->table : GTK_WIDGET (self->area), GTK_DIR_TAB_FORWARD);
  gtk_widget_queue_draw (GTK_WIDGET (self->area));
  tell (self);
  if (had_choice)
    on_choice_changed (self, mark);
}

/**
 * fettle_chart_view_has_chart:
 * @self: a view
 *
 * Returns: whether something is drawn
 */
gboolean
fettle_chart_view_has_chart (FettleChartView *self)
{
  g_return_val_if_fail (FETTLE_IS_CHART_VIEW (self), FALSE);

  return self->area->chart != NULL;
}

/**
 * fettle_chart_view_focus:
 * @self: a view
 *
 * Gives the keyboard to the drawing, or to the table in its place, and brings it into view.
 *
 * Returns: whether it took it
 */
gboolean
fettle_chart_view_focus (FettleChartView *self)
{
  g_return_val_if_fail (FETTLE_IS_CHART_VIEW (self), FALSE);

  return self->table != NULL ? gtk_widget_child_focus (self->table, GTK_DIR_TAB_FORWARD)
                             : gtk_widget_grab_focus (GTK_WIDGET (self->area));
}

/**
 * fettle_chart_view_is_focus:
 * @self: a view
 *
 * Returns: whether the drawing, or the table in its place, has the keyboard; not a button beside it
 */
gboolean
fettle_chart_view_is_focus (FettleChartView *self)
{
  GtkWidget *focus = fettle_keyboard_focus (GTK_WIDGET (self));

  g_return_val_if_fail (FETTLE_IS_CHART_VIEW (self), FALSE);

  return focus != NULL
         && (focus == GTK_WIDGET (self->area) || (self->table != NULL && gtk_widget_is_ancestor (focus, self->table)));
}

/**
 * fettle_chart_view_set_words:
 * @self: a view
 * @label: what the chart is, for a screen reader ('Lock engagement through the rounds')
 * @description: (nullable): what it shows in one sentence, told while no mark has the focus
 *
 * Names the drawing for those who do not see it.
 */
void
fettle_chart_view_set_words (FettleChartView *self, const char *label, const char *description)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  g_free (self->label);
  self->label = g_strdup (label);
  g_free (self->description);
  self->description = g_strdup (description);
  tell (self);
}

/**
 * fettle_chart_view_set_height:
 * @self: a view
 * @height: least height of the drawing in pixels
 *
 * Asks for room; the width is what the page gives.
 */
void
fettle_chart_view_set_height (FettleChartView *self, int height)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  self->area->height = height;
  gtk_widget_queue_resize (GTK_WIDGET (self->area));
}

/**
 * fettle_chart_view_focus_key:
 * @self: a view
 * @key: key of a mark
 *
 * Lets the mark of @key stand out and tells it in the line below; a key that is not drawn takes the focus away.
 */
void
fettle_chart_view_focus_key (FettleChartView *self, gint64 key)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  if (self->area->chart != NULL)
    focus_mark (self, chart_find_key (self->area->chart, key));
}

/**
 * fettle_chart_view_set_choosing:
 * @self: a view
 * @choosing: %TRUE, once
 *
 * Lets marks be chosen from now on.
 */
void
fettle_chart_view_set_choosing (FettleChartView *self, gboolean choosing)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  if (choosing && self->area->chooser == NULL)
    self->area->chooser = fettle_chart_chooser_new (GTK_WIDGET (self->area), &chooser_calls, self);
}

/**
 * fettle_chart_view_get_chosen:
 * @self: a view
 *
 * Returns: (transfer full) (element-type gint64): keys of the chosen marks
 */
GArray *
fettle_chart_view_get_chosen (FettleChartView *self)
{
  g_return_val_if_fail (FETTLE_IS_CHART_VIEW (self), NULL);

  return self->area->chart != NULL ? chart_choice_keys (self->area->chart) : g_array_new (FALSE, FALSE, sizeof (gint64));
}

/**
 * fettle_chart_view_clear_chosen:
 * @self: a view
 *
 * Chooses nothing, as Escape does.
 */
void
fettle_chart_view_clear_chosen (FettleChartView *self)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  if (self->area->chart != NULL && chart_choice_clear (self->area->chart))
    on_choice_changed (self, chart_get_focus (self->area->chart));
}

/**
 * fettle_chart_view_set_chosen_words:
 * @self: a view
 * @words: (nullable): what is chosen, in one sentence
 *
 * Told to a screen reader until the choice is another; the line below tells their number.
 */
void
fettle_chart_view_set_chosen_words (FettleChartView *self, const char *words)
{
  g_return_if_fail (FETTLE_IS_CHART_VIEW (self));

  g_free (self->chosen_words);
  self->chosen_words = g_strdup (words);
  tell (self);
}
