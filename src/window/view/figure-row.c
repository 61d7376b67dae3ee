/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "figure-row.h"

#include <glib/gi18n.h>
#include <math.h>

#define SLIDER_WIDTH 80 /* at least */
#define WORDS_CHARS  40

typedef struct
{
  const PresentFigure *figure;
  guint                number;
  FettleFigureMoved    moved;
  gpointer             user_data;
} Moving;

static void
free_moving (gpointer moving, GClosure *closure)
{
  g_free (moving);
}

static void
on_moved (GtkAdjustment *adjustment, Moving *moving)
{
  moving->moved (moving->number, present_figure_read (moving->figure, gtk_adjustment_get_value (adjustment)), moving->user_data);
}

/* A page is scrolled with the pointer wherever it is: a figure under it must not change by that. */
static void
leave_scrolling (GtkWidget *widget)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr(GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
        gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_NONE);
    }
}

static void
name_it (GtkWidget *widget, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  leave_scrolling (widget);
}

static GtkWidget *
text (const char *words, gboolean figures)
{
  return g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", figures ? 1.0f : 0.0f, "wrap", TRUE, "max-width-chars", WORDS_CHARS,
                       "natural-wrap-mode", GTK_NATURAL_WRAP_NONE, "justify", figures ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT, "css-classes",
                       (const char *[]){ "num", figures ? "dim" : NULL, NULL }, NULL);
}

/**
 * fettle_figure_row_attach:
 * @grid: of four columns
 * @row: which of its rows
 * @figure: (not nullable): how it is shown; a constant
 * @name: of its entry, for tests
 * @now: as it is set; NAN: not known
 * @records: what the records say
 * @number: handed to @moved
 * @moved: called for each move
 * @user_data: for @moved; as long as the widgets live
 */
void
fettle_figure_row_attach (GtkGrid *grid, int row, const PresentFigure *figure, const char *name, double now, const char *records,
                          guint number, FettleFigureMoved moved, gpointer user_data)
{
  double shown = isnan (now) ? figure->low : now * figure->factor;
  GtkAdjustment *adjustment = gtk_adjustment_new (shown, MIN (figure->low, shown), MAX (figure->high, 2.0 * shown), figure->step,
                                                  10.0 * figure->step, 0.0);
  GtkWidget *slider, *entry;
  Moving *moving = g_new (Moving, 1);

  *moving = (Moving){ figure, number, moved, user_data };
  if (g_str_equal (figure->unit, "%"))
    gtk_adjustment_set_upper (adjustment, 100.0);
  slider = gtk_scale_new (GTK_ORIENTATION_HORIZONTAL, adjustment);
  entry = gtk_spin_button_new (adjustment, figure->step, figure->digits);
  gtk_scale_set_draw_value (GTK_SCALE (slider), FALSE);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1.0f);
  gtk_widget_add_css_class (entry, "num");
  gtk_widget_set_hexpand (slider, TRUE);
  gtk_widget_set_size_request (slider, SLIDER_WIDTH, -1);
  gtk_widget_set_name (entry, name);
  name_it (slider, _(figure->label));
  name_it (entry, _(figure->label));
  gtk_grid_attach (grid, text (_(figure->label), FALSE), 0, row, 1, 1);
  gtk_grid_attach (grid, slider, 1, row, 1, 1);
  gtk_grid_attach (grid, entry, 2, row, 1, 1);
  gtk_grid_attach (grid, text (records, TRUE), 3, row, 1, 1);
  g_signal_connect_data (adjustment, "value-changed", G_CALLBACK (on_moved), moving, free_moving, 0);
}
