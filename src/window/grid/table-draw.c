/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the cells of a table lie, and their drawing. */
#include "config.h"

#include "table-private.h"

#define LEAST_LINE 30 /* height of a row where the font is not larger than usual */
#define LINE_SIDES 11 /* above and below the words together */

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

static int
letter_width (FettleTable *self)
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

/* Another font, or other columns: all is measured again. */
void
fettle_table_forget_widths (FettleTable *self)
{
  self->letter = 0;
  if (self->titles != NULL)
    g_array_set_size (self->titles, 0);
}

static void
set_head_font (PangoLayout *layout)
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
      set_head_font (layout);
      for (guint i = 0; i < n; i++)
        {
          int width;

          pango_layout_set_text (layout, columns[i].title, -1);
          pango_layout_get_pixel_size (layout, &width, NULL);
          g_array_append_val (self->titles, width);
        }
    }
  return MAX ((int) columns[at].letters * letter_width (self), g_array_index (self->titles, int, at) + 1) + 2 * TABLE_CELL_SIDE;
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

/* Left edge and width of a column as it is scrolled now; a column that is left out has no width. */
void
fettle_table_place_column (FettleTable *self, guint at, int *left, int *width)
{
  guint n;
  const FettleTableColumn *columns = fettle_table_source_columns (self->source, &n);
  int spare = MAX (0, gtk_widget_get_width (GTK_WIDGET (self)) - fettle_table_content_width (self));
  int x = self->hadjustment != NULL ? -(int) gtk_adjustment_get_value (self->hadjustment) : 0;

  *left = x;
  *width = 0;
  for (guint i = 0; i <= at && i < n; i++)
    {
      *left = x;
      *width = 0;
      if (fettle_table_column_shown (self, i))
        *width = column_width (self, columns, n, i) + (columns[i].grows ? spare : 0);
      x += *width;
    }
}

void
fettle_table_place_cell (FettleTable *self, guint row, guint column, GdkRectangle *place)
{
  fettle_table_place_column (self, column, &place->x, &place->width);
  place->y = (int) ((double) row * fettle_table_line (self) + fettle_table_line (self) - fettle_table_scrolled (self));
  place->height = fettle_table_line (self);
}

/* ---- drawing ---- */

static void
named_colour (GtkWidget *widget, const char *name, GdkRGBA *colour)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  if (!gtk_style_context_lookup_color (style, name, colour))
    gtk_style_context_get_color (style, colour);
}

typedef struct
{
  GdkRGBA      ink;
  GdkRGBA      faint;
  GdkRGBA      copper;
  GdkRGBA      rule;
  GdkRGBA      sheet;
  PangoLayout *layout;
} Pens;

static void
draw_words (Pens *pens, GtkSnapshot *snapshot, const char *words, const GdkRectangle *place, gboolean number, const GdkRGBA *colour)
{
  int width, height;

  pango_layout_set_text (pens->layout, words, -1);
  pango_layout_set_width (pens->layout, MAX (0, place->width - 2 * TABLE_CELL_SIDE) * PANGO_SCALE);
  pango_layout_get_pixel_size (pens->layout, &width, &height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) (number ? place->x + place->width - TABLE_CELL_SIDE - width : place->x + TABLE_CELL_SIDE),
                                                (float) (place->y + (place->height - height) / 2)));
  gtk_snapshot_append_layout (snapshot, pens->layout, colour);
  gtk_snapshot_restore (snapshot);
}

/* The text of a cell: what is typed and not stored stands before what the book holds. */
static char *
cell_words (FettleTable *self, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  g_autofree char *words = fettle_table_source_dup_text (self->source, row, column, tone, pending);
  g_autofree char *typed = NULL;

  if (!*pending)
    typed = fettle_table_source_dup_typed (self->source, fettle_table_source_get_key (self->source, row), column);
  if (typed == NULL)
    return g_steal_pointer (&words);
  *tone = FETTLE_TONE_TYPED;
  return g_steal_pointer (&typed);
}

static void
draw_line (Pens *pens, GtkSnapshot *snapshot, const GdkRectangle *place, gboolean number, float y, const GdkRGBA *colour)
{
  int width;

  pango_layout_get_pixel_size (pens->layout, &width, NULL);
  gtk_snapshot_append_color (snapshot, colour,
                             &GRAPHENE_RECT_INIT ((float) (number ? place->x + place->width - TABLE_CELL_SIDE - width : place->x + TABLE_CELL_SIDE),
                                                  y, (float) width, 1));
}

/* Words that are longer than their cell go on over empty cells beside it. */
static void
spill (FettleTable *self, Pens *pens, guint row, guint column, const char *words, GdkRectangle *place)
{
  guint n;
  int wanted;

  pango_layout_set_width (pens->layout, -1);
  pango_layout_set_text (pens->layout, words, -1);
  pango_layout_get_pixel_size (pens->layout, &wanted, NULL);
  fettle_table_source_columns (self->source, &n);
  for (guint next = column + 1; next < n && wanted + 2 * TABLE_CELL_SIDE > place->width; next++)
    {
      int left, width;
      FettleTableTone tone;
      gboolean pending;
      g_autofree char *beside = cell_words (self, row, next, &tone, &pending);

      if (beside == NULL || beside[0] != '\0')
        return;
      fettle_table_place_column (self, next, &left, &width);
      place->width += width;
    }
}

static void
draw_cell (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, guint row, guint column, const FettleTableColumn *kind)
{
  GdkRectangle place;
  FettleTableTone tone;
  gboolean pending;
  g_autofree char *words = NULL;
  const GdkRGBA *colour;

  fettle_table_place_cell (self, row, column, &place);
  if (place.width == 0 || place.x + place.width <= 0 || place.x >= gtk_widget_get_width (GTK_WIDGET (self))
      || (self->editing && row == self->row && column == self->column))
    return;
  words = cell_words (self, row, column, &tone, &pending);
  if (words == NULL || words[0] == '\0')
    return;
  if (!kind->number)
    spill (self, pens, row, column, words, &place);
  colour = tone == FETTLE_TONE_OPEN || tone == FETTLE_TONE_TYPED ? &pens->copper
           : tone == FETTLE_TONE_INK && !pending               ? &pens->ink
                                                               : &pens->faint;
  draw_words (pens, snapshot, words, &place, kind->number, colour);
  if (tone == FETTLE_TONE_STRUCK)
    draw_line (pens, snapshot, &place, kind->number, (float) (place.y + place.height / 2), colour);
  else if (tone == FETTLE_TONE_TYPED)
    draw_line (pens, snapshot, &place, kind->number, (float) (place.y + place.height - 7), colour);
}

static void
draw_head (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const FettleTableColumn *columns, guint n, int width)
{
  int line = fettle_table_line (self);

  gtk_snapshot_append_color (snapshot, &pens->sheet, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) line));
  set_head_font (pens->layout);
  for (guint i = 0; i < n; i++)
    {
      GdkRectangle place = { 0, 0, 0, line - 1 };

      fettle_table_place_column (self, i, &place.x, &place.width);
      if (place.width > 0)
        draw_words (pens, snapshot, columns[i].title, &place, columns[i].number, &pens->faint);
    }
  gtk_snapshot_append_color (snapshot, &pens->ink, &GRAPHENE_RECT_INIT (0, (float) line - 1.5f, (float) width, 1.5f));
}

static void
draw_current (FettleTable *self, Pens *pens, GtkSnapshot *snapshot)
{
  GdkRectangle place;
  GskRoundedRect frame;

  fettle_table_place_cell (self, self->row, self->column, &place);
  gsk_rounded_rect_init_from_rect (&frame, &GRAPHENE_RECT_INIT ((float) place.x, (float) place.y, (float) place.width, (float) place.height - 1), 2);
  gtk_snapshot_append_border (snapshot, &frame, (float[4]){ 1.5f, 1.5f, 1.5f, 1.5f },
                              (GdkRGBA[4]){ pens->copper, pens->copper, pens->copper, pens->copper });
}

static void
draw_rows (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const FettleTableColumn *columns, guint n, int width, int height)
{
  guint rows = fettle_table_n_rows (self);
  int line = fettle_table_line (self);
  double scrolled = fettle_table_scrolled (self);
  guint first = (guint) (scrolled / line);
  guint last = (guint) MIN ((double) rows, (scrolled + height - line) / line + 1.0);
  gboolean focused = gtk_widget_has_focus (GTK_WIDGET (self)) || self->editing;
  GdkRGBA hair = pens->rule, wash = pens->copper;

  hair.alpha *= 0.7f;
  wash.alpha *= focused ? 0.12f : 0.07f;
  for (guint row = first; row < last; row++)
    {
      float y = (float) ((double) row * line + line - scrolled);

      if (row == self->row)
        {
          gtk_snapshot_append_color (snapshot, &wash, &GRAPHENE_RECT_INIT (0, y, (float) width, (float) line));
          gtk_snapshot_append_color (snapshot, &pens->copper, &GRAPHENE_RECT_INIT (0, y, 3, (float) line));
        }
      for (guint column = 0; column < n; column++)
        draw_cell (self, pens, snapshot, row, column, &columns[column]);
      gtk_snapshot_append_color (snapshot, &hair, &GRAPHENE_RECT_INIT (0, y + (float) line - 1, (float) width, 1));
    }
  if (focused && self->row >= first && self->row < last)
    draw_current (self, pens, snapshot);
}

static void
draw_placeholder (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, int width)
{
  GdkRectangle place = { 0, fettle_table_line (self), width, fettle_table_line (self) };

  if (self->placeholder != NULL)
    draw_words (pens, snapshot, self->placeholder, &place, FALSE, &pens->faint);
}

/* Draws what is in view: rows, the cell that is typed into, and the heading last, over what scrolled below it. */
void
fettle_table_draw (FettleTable *self, GtkSnapshot *snapshot)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  g_autoptr(PangoLayout) layout = NULL;
  g_autoptr(PangoAttrList) figures = NULL;
  const FettleTableColumn *columns;
  Pens pens;
  guint n;

  if (self->source == NULL || width <= 0 || height <= 0)
    return;
  columns = fettle_table_source_columns (self->source, &n);
  layout = gtk_widget_create_pango_layout (widget, NULL);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  figures = pango_attr_list_new ();
  pango_attr_list_insert (figures, pango_attr_font_features_new ("tnum=1,lnum=1"));
  pango_layout_set_attributes (layout, figures);
  pens.layout = layout;
  named_colour (widget, "ink", &pens.ink);
  named_colour (widget, "faint", &pens.faint);
  named_colour (widget, "copper", &pens.copper);
  named_colour (widget, "rule", &pens.rule);
  named_colour (widget, "sheet", &pens.sheet);

  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  draw_rows (self, &pens, snapshot, columns, n, width, height);
  if (fettle_table_n_rows (self) == 0)
    draw_placeholder (self, &pens, snapshot, width);
  if (self->editing)
    gtk_widget_snapshot_child (widget, self->text, snapshot);
  draw_head (self, &pens, snapshot, columns, n, width);
  gtk_snapshot_pop (snapshot);
}

