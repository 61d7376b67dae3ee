/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the cells of a table lie. */
#include "config.h"

#include "table-private.h"

#define LEAST_LINE 30 /* height of a row where the font is not larger than usual */
#define LINE_SIDES 11 /* above and below the words together */
#define NOTE_LESS  3  /* a line of smaller words */

guint
fettle_table_n_rows (FettleTable *self)
{
  return self->source != NULL ? fettle_table_source_n_rows (self->source) : 0;
}

double
fettle_table_scrolled (FettleTable *self)
{
  return self->vadjustment != NULL ? gtk_adjustment_get_value (self->vadjustment) : 0.0;
}

/* ---- geometry ---- */

static void
measure_font (FettleTable *self)
{
  if (self->letter == 0)
    {
      g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), "0000000000");
      int width, height;

      pango_layout_get_pixel_size (layout, &width, &height);
      self->letter = MAX (1, (width + 9) / 10);
      self->line = MAX (LEAST_LINE, height + LINE_SIDES);
    }
}

/* Width of a figure. */
int
fettle_table_letter (FettleTable *self)
{
  measure_font (self);
  return self->letter;
}

/* Height of a row, and of the heading: it follows the font. */
int
fettle_table_line (FettleTable *self)
{
  measure_font (self);
  return self->line;
}

/* Height of the heading: as a row, and a smaller line for each note below it. */
int
fettle_table_head (FettleTable *self)
{
  guint notes = self->source != NULL ? fettle_table_source_n_head_notes (self->source) : 0;

  return fettle_table_line (self) + (int) notes * (fettle_table_line (self) - LINE_SIDES - NOTE_LESS);
}

/* Another font, or other columns: all is measured again. */
void
fettle_table_forget_widths (FettleTable *self)
{
  self->letter = 0;
  if (self->titles != NULL)
    g_array_set_size (self->titles, 0);
  if (self->lefts != NULL)
    g_array_set_size (self->lefts, 0);
}

void
fettle_table_set_head_font (PangoLayout *layout)
{
  g_autoptr(PangoAttrList) small = pango_attr_list_new ();

  pango_attr_list_insert (small, pango_attr_scale_new (0.85));
  pango_attr_list_insert (small, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD));
  pango_layout_set_attributes (layout, small);
}

/* What a column asks for: its figures, and its heading, which another language makes longer. */
static int
column_width (FettleTable *self, const FettleTableColumn *columns, guint n, guint at)
{
  if (self->titles->len != n)
    {
      g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), NULL);

      g_array_set_size (self->titles, 0);
      fettle_table_set_head_font (layout);
      for (guint i = 0; i < n; i++)
        {
          int width;

          pango_layout_set_text (layout, columns[i].title, -1);
          pango_layout_get_pixel_size (layout, &width, NULL);
          if (fettle_table_source_n_head_notes (self->source) > 0)
            {
              int note;

              pango_layout_set_text (layout, fettle_table_source_head_note (self->source, i, 0), -1);
              pango_layout_get_pixel_size (layout, &note, NULL);
              width = MAX (width, note);
            }
          g_array_append_val (self->titles, width);
        }
    }
  return MAX ((int) columns[at].letters * fettle_table_letter (self), g_array_index (self->titles, int, at) + 1) + 2 * TABLE_CELL_SIDE;
}

/* A narrow table leaves out the columns that say so. */
gboolean
fettle_table_column_shown (FettleTable *self, guint column)
{
  guint n;
  const FettleTableColumn *columns = fettle_table_source_columns (self->source, &n);

  return columns[column].least_width == 0 || gtk_widget_get_width (GTK_WIDGET (self)) >= columns[column].least_width;
}

/* What all columns that are shown ask for. */
int
fettle_table_content_width (FettleTable *self)
{
  guint n = 0;
  const FettleTableColumn *columns = self->source != NULL ? fettle_table_source_columns (self->source, &n) : NULL;
  int all = 0;

  for (guint i = 0; i < n; i++)
    if (fettle_table_column_shown (self, i))
      all += column_width (self, columns, n, i);
  return all;
}

/* Where the columns lie, once for a width: a grid asks for it with every cell. */
static void
place_columns (FettleTable *self, const FettleTableColumn *columns, guint n)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self)), x = 0, spare;

  if (self->lefts->len == n + 1 && self->placed_for == width)
    return;
  g_array_set_size (self->lefts, 0);
  self->placed_for = width;
  spare = MAX (0, width - fettle_table_content_width (self));
  for (guint i = 0; i < n; i++)
    {
      g_array_append_val (self->lefts, x);
      if (fettle_table_column_shown (self, i))
        x += column_width (self, columns, n, i) + (columns[i].grows ? spare : 0);
    }
  g_array_append_val (self->lefts, x);
}

/* Left edge and width of a column as it is scrolled now; a column that is left out has no width. */
void
fettle_table_place_column (FettleTable *self, guint at, int *left, int *width)
{
  guint n;
  const FettleTableColumn *columns = fettle_table_source_columns (self->source, &n);
  int scrolled = self->hadjustment != NULL ? (int) gtk_adjustment_get_value (self->hadjustment) : 0;

  place_columns (self, columns, n);
  *left = g_array_index (self->lefts, int, MIN (at, n));
  *width = at < n ? g_array_index (self->lefts, int, at + 1) - *left : 0;
  if (at >= self->n_frozen)
    *left -= scrolled;
}

/* Width of the columns that stay at the left. */
int
fettle_table_frozen_width (FettleTable *self)
{
  guint n;
  const FettleTableColumn *columns = fettle_table_source_columns (self->source, &n);

  if (self->n_frozen == 0)
    return 0;
  place_columns (self, columns, n);
  return g_array_index (self->lefts, int, MIN (self->n_frozen, n));
}

void
fettle_table_place_cell (FettleTable *self, guint row, guint column, GdkRectangle *place)
{
  fettle_table_place_column (self, column, &place->x, &place->width);
  place->y = (int) ((double) row * fettle_table_line (self) + fettle_table_head (self) - fettle_table_scrolled (self));
  place->height = fettle_table_line (self);
}

/* ---- the view ---- */

/* Whether the current row stands in the view as it was last laid out. */
gboolean
fettle_table_row_in_view (FettleTable *self)
{
  int line = fettle_table_line (self);
  double top = (double) self->row * line - fettle_table_scrolled (self);

  return self->vadjustment != NULL && top >= 0.0
         && top + line + fettle_table_head (self) <= gtk_adjustment_get_page_size (self->vadjustment);
}

/* The current row, and nothing sideways. */
void
fettle_table_bring_row_into_view (FettleTable *self)
{
  int line = fettle_table_line (self);
  double top = (double) self->row * line;

  if (self->vadjustment != NULL)
    gtk_adjustment_clamp_page (self->vadjustment, top, top + line + fettle_table_head (self));
}

/* The current cell. */
void
fettle_table_bring_into_view (FettleTable *self)
{
  fettle_table_bring_row_into_view (self);
  if (self->hadjustment != NULL && self->source != NULL && self->column >= self->n_frozen)
    {
      int left, width;

      fettle_table_place_column (self, self->column, &left, &width);
      left += (int) gtk_adjustment_get_value (self->hadjustment);
      gtk_adjustment_clamp_page (self->hadjustment, left - fettle_table_frozen_width (self), left + width);
    }
}
