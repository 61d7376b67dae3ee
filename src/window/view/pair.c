/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pair.h"

#define GAP 40        /* between columns */
#define STACKED_GAP 0 /* between rows: the headings bring their own */

struct _FettlePair
{
  GtkWidget parent_instance;

  GtkWidget *children[2];
  int        least; /* width of one column below which the two are stacked */
};

G_DEFINE_FINAL_TYPE (FettlePair, fettle_pair, GTK_TYPE_WIDGET)

static gboolean
is_stacked (FettlePair *self, int width)
{
  return width >= 0 && width < 2 * self->least + GAP;
}

static gboolean
is_shown (FettlePair *self, int child)
{
  return gtk_widget_should_layout (self->children[child]);
}

static void
fettle_pair_measure (GtkWidget     *widget,
                     GtkOrientation orientation,
                     int            for_size,
                     int           *minimum,
                     int           *natural,
                     int           *minimum_baseline,
                     int           *natural_baseline)
{
  FettlePair *self = FETTLE_PAIR (widget);
  gboolean both = is_shown (self, 0) && is_shown (self, 1);
  gboolean stacked;
  int width;

  /* How high it is for no width in particular is asked often and used for nothing: one answer, without a search. */
  if (orientation == GTK_ORIENTATION_VERTICAL && for_size < 0)
    for_size = 2 * self->least + GAP;
  stacked = both && is_stacked (self, for_size);
  width = both && !stacked && for_size >= 0 ? (for_size - GAP) / 2 : for_size;

  *minimum = *natural = 0;
  for (int i = 0; i < 2; i++)
    {
      int child_minimum, child_natural;

      if (!is_shown (self, i))
        continue;

      gtk_widget_measure (self->children[i], orientation, orientation == GTK_ORIENTATION_VERTICAL ? width : -1,
                          &child_minimum, &child_natural, NULL, NULL);
      if (orientation == GTK_ORIENTATION_VERTICAL && stacked)
        {
          *minimum += child_minimum + (i == 1 ? STACKED_GAP : 0);
          *natural += child_natural + (i == 1 ? STACKED_GAP : 0);
        }
      else
        {
          *minimum = MAX (*minimum, child_minimum);
          *natural = MAX (*natural, child_natural);
        }
    }
  if (orientation == GTK_ORIENTATION_HORIZONTAL && both)
    *natural = 2 * MAX (*natural, self->least) + GAP;
}

static void
fettle_pair_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettlePair *self = FETTLE_PAIR (widget);
  gboolean both = is_shown (self, 0) && is_shown (self, 1);
  int column = (width - GAP) / 2;

  if (!both || is_stacked (self, width))
    {
      int y = 0;

      for (int i = 0; i < 2; i++)
        if (is_shown (self, i))
          {
            int child_height;

            gtk_widget_measure (self->children[i], GTK_ORIENTATION_VERTICAL, width, NULL, &child_height, NULL, NULL);
            gtk_widget_size_allocate (self->children[i], &(GtkAllocation){ 0, y, width, child_height }, -1);
            y += child_height + STACKED_GAP;
          }
      return;
    }

  for (int i = 0; i < 2; i++)
    {
      gboolean right = (i == 1) != (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL);

      gtk_widget_size_allocate (self->children[i],
                                &(GtkAllocation){ right ? width - column : 0, 0, column, height }, -1);
    }
}

static GtkSizeRequestMode
fettle_pair_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_pair_dispose (GObject *object)
{
  FettlePair *self = FETTLE_PAIR (object);

  for (int i = 0; i < 2; i++)
    g_clear_pointer (&self->children[i], gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_pair_parent_class)->dispose (object);
}

static void
fettle_pair_class_init (FettlePairClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_pair_dispose;
  widget_class->measure = fettle_pair_measure;
  widget_class->size_allocate = fettle_pair_size_allocate;
  widget_class->get_request_mode = fettle_pair_get_request_mode;
}

static void
fettle_pair_init (FettlePair *self)
{
}

/**
 * fettle_pair_new:
 * @first: on the left, or above
 * @second: on the right, or below
 * @least: width of one column below which the two are stacked
 *
 * Returns: a container of the two; a hidden one leaves all the room to the other
 */
GtkWidget *
fettle_pair_new (GtkWidget *first, GtkWidget *second, int least)
{
  FettlePair *self = g_object_new (FETTLE_TYPE_PAIR, NULL);

  self->least = least;
  self->children[0] = first;
  self->children[1] = second;
  gtk_widget_set_parent (first, GTK_WIDGET (self));
  gtk_widget_set_parent (second, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
