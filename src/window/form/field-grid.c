/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "field-grid.h"

#include "unparent.h"

#define COLUMN_WIDTH 190 /* the least one; a field that needs more widens all */
#define COLUMN_GAP 16
#define ROW_GAP 8
#define MOST_COLUMNS 4

struct _FettleFieldGrid
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (FettleFieldGrid, fettle_field_grid, GTK_TYPE_WIDGET)

static const char wide[] = "wide";

static gboolean
is_wide (GtkWidget *child)
{
  return g_object_get_data (G_OBJECT (child), wide) != NULL;
}

static int
least_column (FettleFieldGrid *self)
{
  int least = COLUMN_WIDTH;

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      {
        int minimum;

        gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
        least = MAX (least, minimum);
      }
  return least;
}

static int
count_columns (FettleFieldGrid *self, int width)
{
  return CLAMP ((width + COLUMN_GAP) / (least_column (self) + COLUMN_GAP), 1, MOST_COLUMNS);
}

static int
height_of (GtkWidget *child, int width, gboolean least)
{
  int minimum, natural;

  gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, width, &minimum, &natural, NULL, NULL);
  return least ? minimum : natural;
}

typedef struct
{
  int      columns;
  int      column_width;
  int      width;
  gboolean rtl;
  gboolean least; /* heights */
} Layout;

static GtkWidget *
next_shown (GtkWidget *child)
{
  while (child != NULL && !gtk_widget_should_layout (child))
    child = gtk_widget_get_next_sibling (child);
  return child;
}

/* The first field of the row after that which begins with @child. */
static GtkWidget *
end_of_row (const Layout *layout, GtkWidget *child)
{
  GtkWidget *end = next_shown (gtk_widget_get_next_sibling (child));

  if (is_wide (child))
    return end;
  for (int column = 1; column < layout->columns && end != NULL && !is_wide (end); column++)
    end = next_shown (gtk_widget_get_next_sibling (end));
  return end;
}

static int
row_height (const Layout *layout, GtkWidget *child, GtkWidget *end)
{
  int height = 0;

  for (; child != end; child = next_shown (gtk_widget_get_next_sibling (child)))
    height = MAX (height, height_of (child, is_wide (child) ? layout->width : layout->column_width, layout->least));
  return height;
}

/* All of a row are equally high: GTK's Tab key goes by the middles of what stands beside each other. */
static void
allocate_row (const Layout *layout, GtkWidget *child, GtkWidget *end, int y, int height)
{
  int x = 0;

  for (; child != end; child = next_shown (gtk_widget_get_next_sibling (child)))
    {
      int width = is_wide (child) ? layout->width : layout->column_width;

      gtk_widget_size_allocate (child, &(GtkAllocation){ layout->rtl ? layout->width - x - width : x, y, width, height }, -1);
      x += width + COLUMN_GAP;
    }
}

/* Lays the fields out for a width; gives them their places if @allocate. Returns the height. */
static int
lay (FettleFieldGrid *self, int width, gboolean allocate, gboolean least)
{
  Layout layout = { .columns = count_columns (self, width), .width = width, .least = least,
                    .rtl = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL };
  int y = 0;

  layout.column_width = (width - (layout.columns - 1) * COLUMN_GAP) / layout.columns;
  for (GtkWidget *child = next_shown (gtk_widget_get_first_child (GTK_WIDGET (self))), *end; child != NULL; child = end)
    {
      int height;

      end = end_of_row (&layout, child);
      height = row_height (&layout, child, end);
      if (allocate)
        allocate_row (&layout, child, end, y, height);
      y += height + (end != NULL ? ROW_GAP : 0);
    }
  return y;
}

static void
fettle_field_grid_measure (GtkWidget     *widget,
                           GtkOrientation orientation,
                           int            for_size,
                           int           *minimum,
                           int           *natural,
                           int           *minimum_baseline,
                           int           *natural_baseline)
{
  FettleFieldGrid *self = FETTLE_FIELD_GRID (widget);
  int column = least_column (self);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = column;
      *natural = 3 * column + 2 * COLUMN_GAP;
      return;
    }
  *minimum = lay (self, for_size < 0 ? column : for_size, FALSE, TRUE);
  *natural = lay (self, for_size < 0 ? column : for_size, FALSE, FALSE);
}

static void
fettle_field_grid_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleFieldGrid *self = FETTLE_FIELD_GRID (widget);

  lay (self, width, TRUE, lay (self, width, FALSE, FALSE) > height);
}

static GtkSizeRequestMode
fettle_field_grid_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_field_grid_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_field_grid_parent_class)->dispose (object);
}

static void
fettle_field_grid_class_init (FettleFieldGridClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_field_grid_dispose;
  widget_class->measure = fettle_field_grid_measure;
  widget_class->size_allocate = fettle_field_grid_size_allocate;
  widget_class->get_request_mode = fettle_field_grid_get_request_mode;
}

static void
fettle_field_grid_init (FettleFieldGrid *self)
{
}

GtkWidget *
fettle_field_grid_new (void)
{
  return g_object_new (FETTLE_TYPE_FIELD_GRID, NULL);
}

/**
 * fettle_field_grid_add:
 * @self: a grid
 * @child: a field
 * @is_wide: takes a whole row
 *
 * Adds a field at the end.
 */
void
fettle_field_grid_add (FettleFieldGrid *self, GtkWidget *child, gboolean whole)
{
  g_return_if_fail (FETTLE_IS_FIELD_GRID (self));

  if (whole)
    g_object_set_data (G_OBJECT (child), wide, child);
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}
