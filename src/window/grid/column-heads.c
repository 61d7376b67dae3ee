/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "column-heads.h"

#include "table-private.h"
#include "unparent.h"

#define SIDE 3

struct _FettleColumnHeads
{
  GtkWidget parent_instance;

  FettleTable   *table;
  GtkAdjustment *adjustment;
};

G_DEFINE_FINAL_TYPE (FettleColumnHeads, fettle_column_heads, GTK_TYPE_WIDGET)

static guint
column_of (GtkWidget *child)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (child), "column"));
}

static void
fettle_column_heads_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                             int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && orientation == GTK_ORIENTATION_VERTICAL;
       child = gtk_widget_get_next_sibling (child))
    {
      int least;

      gtk_widget_measure (child, orientation, -1, &least, NULL, NULL, NULL);
      *minimum = *natural = MAX (*natural, least);
    }
}

static void
lay (FettleColumnHeads *self, int height)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkAllocation place = { 0, 0, 0, height };
      int least;

      if (self->table == NULL || self->table->source == NULL)
        continue;
      fettle_table_place_column (self->table, column_of (child), &place.x, &place.width);
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      place.x += SIDE;
      place.width = MAX (least, place.width - 2 * SIDE);
      gtk_widget_size_allocate (child, &place, -1);
    }
}

static void
fettle_column_heads_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  lay (FETTLE_COLUMN_HEADS (widget), height);
}

/* The table is laid out after its heads, and tells of it then: too late to ask for another layout. */
static void
on_scrolled (FettleColumnHeads *self)
{
  if (gtk_widget_get_height (GTK_WIDGET (self)) > 0)
    lay (self, gtk_widget_get_height (GTK_WIDGET (self)));
}

static void
on_focus (GtkEventControllerFocus *controller, FettleColumnHeads *self)
{
  GtkWidget *child = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  int left, width;

  if (self->table == NULL || self->table->source == NULL)
    return;
  fettle_table_place_column (self->table, column_of (child), &left, &width);
  left += (int) gtk_adjustment_get_value (self->adjustment);
  gtk_adjustment_clamp_page (self->adjustment, left, left + width);
}

void
fettle_column_heads_add (FettleColumnHeads *self, guint column, GtkWidget *child)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_object_set_data (G_OBJECT (child), "column", GUINT_TO_POINTER (column));
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), self);
  gtk_widget_add_controller (child, focus);
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}

void
fettle_column_heads_clear (FettleColumnHeads *self)
{
  fettle_unparent_children (self);
}

void
fettle_column_heads_set_table (FettleColumnHeads *self, FettleTable *table, GtkAdjustment *adjustment)
{
  self->table = table;
  if (self->adjustment != NULL)
    g_signal_handlers_disconnect_by_data (self->adjustment, self);
  g_set_object (&self->adjustment, adjustment);
  if (adjustment == NULL)
    return;
  g_signal_connect_swapped (adjustment, "value-changed", G_CALLBACK (on_scrolled), self);
  g_signal_connect_swapped (adjustment, "changed", G_CALLBACK (on_scrolled), self);
}

static void
fettle_column_heads_dispose (GObject *object)
{
  FettleColumnHeads *self = FETTLE_COLUMN_HEADS (object);

  fettle_column_heads_set_table (self, NULL, NULL);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_column_heads_parent_class)->dispose (object);
}

static void
fettle_column_heads_class_init (FettleColumnHeadsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_column_heads_dispose;
  widget_class->measure = fettle_column_heads_measure;
  widget_class->size_allocate = fettle_column_heads_size_allocate;
}

static void
fettle_column_heads_init (FettleColumnHeads *self)
{
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}
