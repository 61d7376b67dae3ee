/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wrap.h"

#include "unparent.h"

#define LINE_GAP 6
#define USUAL_GAP 14

struct _FettleWrap
{
  GtkWidget parent_instance;

  int gap;
};

G_DEFINE_FINAL_TYPE (FettleWrap, fettle_wrap, GTK_TYPE_WIDGET)

static int
width_of (GtkWidget *child, int width)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return MIN (natural, width);
}

/* The height of the line that begins with @child, and what comes @after it: all in a line are as high, so that a label
 * stands in the middle of the button beside it. */
static int
line_from (FettleWrap *self, GtkWidget *child, int width, GtkWidget **after)
{
  int x = 0, line = 0;

  for (; child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int taken, height;

      if (!gtk_widget_should_layout (child))
        continue;
      taken = width_of (child, width);
      if (x > 0 && x + taken > width)
        break;
      gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, taken, NULL, &height, NULL, NULL);
      line = MAX (line, height);
      x += taken + self->gap;
    }
  *after = child;
  return line;
}

/* Lays the children out for a width; gives them their places if @allocate. Returns the height. */
static int
lay (FettleWrap *self, int width, gboolean allocate)
{
  gboolean rtl = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));
  int y = 0;

  while (child != NULL)
    {
      GtkWidget *after;
      int x = 0, line = line_from (self, child, width, &after);

      for (; allocate && child != after; child = gtk_widget_get_next_sibling (child))
        if (gtk_widget_should_layout (child))
          {
            int taken = width_of (child, width);

            gtk_widget_size_allocate (child, &(GtkAllocation){ rtl ? width - x - taken : x, y, taken, line }, -1);
            x += taken + self->gap;
          }
      child = after;
      y += line > 0 ? line + LINE_GAP : 0;
    }
  return MAX (y - LINE_GAP, 0);
}

static void
fettle_wrap_measure (GtkWidget     *widget,
                     GtkOrientation orientation,
                     int            for_size,
                     int           *minimum,
                     int           *natural,
                     int           *minimum_baseline,
                     int           *natural_baseline)
{
  FettleWrap *self = FETTLE_WRAP (widget);

  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      {
        int least, wanted;

        gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, &wanted, NULL, NULL);
        *minimum = MAX (*minimum, least);
        *natural += wanted + (*natural > 0 ? self->gap : 0);
      }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural = lay (self, for_size < 0 ? *natural : for_size, FALSE);
}

static void
fettle_wrap_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  lay (FETTLE_WRAP (widget), width, TRUE);
}

static GtkSizeRequestMode
fettle_wrap_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_wrap_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_wrap_parent_class)->dispose (object);
}

static void
fettle_wrap_class_init (FettleWrapClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_wrap_dispose;
  widget_class->measure = fettle_wrap_measure;
  widget_class->size_allocate = fettle_wrap_size_allocate;
  widget_class->get_request_mode = fettle_wrap_get_request_mode;
}

static void
fettle_wrap_init (FettleWrap *self)
{
  self->gap = USUAL_GAP;
}

/**
 * fettle_wrap_new:
 * @gap: between two in a line, pixels
 *
 * Returns: (transfer floating): an empty container
 */
GtkWidget *
fettle_wrap_new (int gap)
{
  FettleWrap *self = g_object_new (FETTLE_TYPE_WRAP, NULL);

  self->gap = gap;
  return GTK_WIDGET (self);
}

void
fettle_wrap_add (FettleWrap *self, GtkWidget *child)
{
  g_return_if_fail (FETTLE_IS_WRAP (self));

  gtk_widget_set_parent (child, GTK_WIDGET (self));
}
