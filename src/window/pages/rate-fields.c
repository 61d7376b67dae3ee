/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "rate-fields.h"

#include <glib/gi18n.h>
#include <math.h>

#include "present-pilot.h"
#include "unparent.h"

#define SLIDER_WIDTH 140

typedef struct
{
  InsightRateField field;
  FettleRateMoved  moved;
  gpointer         user_data;
} Moving;

static void
free_moving (gpointer moving, GClosure *closure)
{
  g_free (moving);
}

static void
on_moved (GtkAdjustment *adjustment, Moving *moving)
{
  moving->moved (moving->field, present_rate_field_read (moving->field, gtk_adjustment_get_value (adjustment)), moving->user_data);
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
  return g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", figures ? 1.0f : 0.0f, "css-classes",
                       (const char *[]){ "num", figures ? "dim" : NULL, NULL }, NULL);
}

static void
add_row (GtkGrid *grid, int row, InsightRateField number, double before, double now, Moving *moving)
{
  const PresentRateField *field = present_rate_field (number);
  double shown = isnan (now) ? field->low : now * field->factor;
  GtkAdjustment *adjustment = gtk_adjustment_new (shown, MIN (field->low, shown), MAX (field->high, 2.0 * shown), field->step,
                                                  10.0 * field->step, 0.0);
  GtkWidget *slider, *entry;
  g_autofree char *as_it_is = present_rate_field_value (number, before), *words = NULL;

  if (g_str_equal (field->unit, "%"))
    gtk_adjustment_set_upper (adjustment, 100.0);
  slider = gtk_scale_new (GTK_ORIENTATION_HORIZONTAL, adjustment);
  entry = gtk_spin_button_new (adjustment, field->step, field->digits);
  gtk_scale_set_draw_value (GTK_SCALE (slider), FALSE);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1.0f);
  gtk_widget_add_css_class (entry, "num");
  gtk_widget_set_hexpand (slider, TRUE);
  gtk_widget_set_size_request (slider, SLIDER_WIDTH, -1);
  gtk_widget_set_name (entry, insight_rate_field_name (number));
  name_it (slider, _(field->label));
  name_it (entry, _(field->label));
  words = g_strdup_printf (_("is %s"), as_it_is);
  gtk_grid_attach (grid, text (_(field->label), FALSE), 0, row, 1, 1);
  gtk_grid_attach (grid, slider, 1, row, 1, 1);
  gtk_grid_attach (grid, entry, 2, row, 1, 1);
  gtk_grid_attach (grid, text (words, TRUE), 3, row, 1, 1);
  g_signal_connect_data (adjustment, "value-changed", G_CALLBACK (on_moved), moving, free_moving, 0);
}

/**
 * fettle_rate_fields_fill:
 * @grid: emptied and filled
 * @before: as it is
 * @now: with what was set
 * @of_bench: whether a bench is shown, else a step
 * @index: which
 * @moved: called for each move
 * @user_data: for @moved; as long as the widgets live
 */
void
fettle_rate_fields_fill (GtkGrid *grid, const InsightRateInput *before, const InsightRateInput *now, gboolean of_bench, guint index,
                         FettleRateMoved moved, gpointer user_data)
{
  int row = 0;

  fettle_unparent_children (grid);
  for (guint f = 0; f < INSIGHT_RATE_N_FIELDS; f++)
    {
      Moving *moving;

      if (!present_rate_field_applies (before, of_bench, index, f))
        continue;
      moving = g_new (Moving, 1);
      *moving = (Moving){ f, moved, user_data };
      add_row (grid, row++, f, insight_rate_get (before, index, f), insight_rate_get (now, index, f), moving);
    }
}
