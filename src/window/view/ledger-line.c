/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "ledger-line.h"

#include "unparent.h"

#define GAP 24          /* between columns */
#define LEAST_GAP 10     /* where even without the lesser columns there is no room */
#define LEAST_EXPAND 112 /* of the column that takes the rest */
#define EXPAND_CHARS 34

struct _FettleLedgerLine
{
  GtkWidget parent_instance;

  GArray *shared;
};

G_DEFINE_FINAL_TYPE (FettleLedgerLine, fettle_ledger_line, GTK_TYPE_WIDGET)

static FettleLedgerShared *
column_at (FettleLedgerLine *self, guint column)
{
  return &g_array_index (self->shared, FettleLedgerShared, column);
}

/* Columns that are always shown may stand closer together before they would be cut. */
static int
closer (FettleLedgerLine *self, int width, guint limit)
{
  int n = 0, wanted = 0;

  for (guint i = 0; i < self->shared->len; i++)
    if (column_at (self, i)->weight < limit)
      {
        wanted += column_at (self, i)->expand ? LEAST_EXPAND : column_at (self, i)->width;
        n++;
      }
  return n > 1 ? CLAMP ((width - wanted) / (n - 1), LEAST_GAP, GAP) : GAP;
}

/* Which columns fit into @width: those of greatest weight go first. Returns what is left for the expanding column. */
static int
fit (FettleLedgerLine *self, int width, guint *heaviest, int *gap)
{
  guint limit = G_MAXUINT;

  for (;;)
    {
      guint next = 0;
      int left = width;

      for (guint i = 0; i < self->shared->len; i++)
        {
          const FettleLedgerShared *column = column_at (self, i);

          if (column->weight >= limit)
            continue;
          if (!column->expand)
            left -= column->width;
          if (i > 0)
            left -= GAP;
          next = MAX (next, column->weight);
        }
      if (left >= LEAST_EXPAND || next == 0)
        {
          *heaviest = limit;
          *gap = left >= LEAST_EXPAND ? GAP : closer (self, width, limit);
          return MAX (left, LEAST_EXPAND);
        }
      limit = next;
    }
}

static void
fettle_ledger_line_measure (GtkWidget     *widget,
                            GtkOrientation orientation,
                            int            for_size,
                            int           *minimum,
                            int           *natural,
                            int           *minimum_baseline,
                            int           *natural_baseline)
{
  FettleLedgerLine *self = FETTLE_LEDGER_LINE (widget);
  guint i = 0, heaviest = G_MAXUINT;
  int expanded = 0, gap;

  *minimum = *natural = 0;
  if (orientation == GTK_ORIENTATION_VERTICAL && for_size >= 0)
    expanded = fit (self, for_size, &heaviest, &gap);
  for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL; cell = gtk_widget_get_next_sibling (cell), i++)
    {
      const FettleLedgerShared *column = column_at (self, i);
      int cell_minimum, cell_natural;

      if (orientation == GTK_ORIENTATION_HORIZONTAL)
        {
          gtk_widget_measure (cell, orientation, -1, &cell_minimum, &cell_natural, NULL, NULL);
          if (column->weight == 0)
            *minimum += (column->expand ? LEAST_EXPAND : column->width) + (i > 0 ? LEAST_GAP : 0);
          *natural += (column->expand ? cell_natural : column->width) + (i > 0 ? GAP : 0);
        }
      else if (column->weight < heaviest)
        {
          gtk_widget_measure (cell, orientation, column->expand && expanded > 0 ? expanded : column->width, &cell_minimum,
                              &cell_natural, NULL, NULL);
          *minimum = MAX (*minimum, cell_minimum);
          *natural = MAX (*natural, cell_natural);
        }
    }
  *natural = MAX (*natural, *minimum);
}

static void
fettle_ledger_line_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleLedgerLine *self = FETTLE_LEDGER_LINE (widget);
  gboolean rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  guint i = 0, heaviest;
  int x = 0, gap, expanded = fit (self, width, &heaviest, &gap);

  for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL; cell = gtk_widget_get_next_sibling (cell), i++)
    {
      const FettleLedgerShared *column = column_at (self, i);
      gboolean shown = column->weight < heaviest;
      int cell_width = column->expand ? expanded : column->width;

      gtk_widget_set_child_visible (cell, shown);
      if (!shown)
        continue;
      gtk_widget_size_allocate (cell, &(GtkAllocation){ rtl ? width - x - cell_width : x, 0, cell_width, height }, -1);
      x += cell_width + gap;
    }
}

static GtkSizeRequestMode
fettle_ledger_line_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_ledger_line_dispose (GObject *object)
{
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_ledger_line_parent_class)->dispose (object);
}

static void
fettle_ledger_line_finalize (GObject *object)
{
  g_clear_pointer (&FETTLE_LEDGER_LINE (object)->shared, g_array_unref);
  G_OBJECT_CLASS (fettle_ledger_line_parent_class)->finalize (object);
}

static void
fettle_ledger_line_class_init (FettleLedgerLineClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_ledger_line_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_ledger_line_finalize;
  widget_class->measure = fettle_ledger_line_measure;
  widget_class->size_allocate = fettle_ledger_line_size_allocate;
  widget_class->get_request_mode = fettle_ledger_line_get_request_mode;
}

static void
fettle_ledger_line_init (FettleLedgerLine *self)
{
}

/**
 * fettle_ledger_line_new:
 * @shared: (element-type FettleLedgerShared): columns of the table; grown where a cell is wider
 * @cells: one text for each column
 *
 * Returns: a line; the table queues a resize of the others
 */
GtkWidget *
fettle_ledger_line_new (GArray *shared, const char *const *cells)
{
  FettleLedgerLine *self = g_object_new (FETTLE_TYPE_LEDGER_LINE, NULL);

  self->shared = g_array_ref (shared);
  for (guint i = 0; i < shared->len; i++)
    {
      FettleLedgerShared *column = column_at (self, i);
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", cells[i], "xalign", column->figures ? 1.0f : 0.0f,
                                       "yalign", 0.0f, NULL);

      if (column->figures)
        gtk_widget_add_css_class (label, "num");
      if (column->expand)
        g_object_set (label, "wrap", TRUE, "max-width-chars", EXPAND_CHARS, "natural-wrap-mode", GTK_NATURAL_WRAP_NONE, NULL);
      gtk_widget_set_parent (label, GTK_WIDGET (self));
    }
  return GTK_WIDGET (self);
}

/**
 * fettle_ledger_line_cell:
 * @self: a line
 * @column: index
 *
 * Returns: (transfer none): the label of a column
 */
GtkWidget *
fettle_ledger_line_cell (FettleLedgerLine *self, guint column)
{
  GtkWidget *cell = gtk_widget_get_first_child (GTK_WIDGET (self));

  while (cell != NULL && column-- > 0)
    cell = gtk_widget_get_next_sibling (cell);
  return cell;
}
