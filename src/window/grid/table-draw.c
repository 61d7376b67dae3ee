/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing of a table. */
#include "config.h"

#include "table-private.h"

#define MARK_SIDE 5    /* left of the sign of a cell */
#define MOST_LAID 1500 /* layouts that are kept: some screens full */

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
  GHashTable  *laid_out; /* NULL: the words of a heading, which are few */
} Pens;

/* ---- what was laid out before ---- */

typedef struct
{
  char *words;
  int   width; /* in pixels */
} Laid;

static guint
laid_hash (gconstpointer key)
{
  const Laid *laid = key;

  return g_str_hash (laid->words) * 31u + (guint) laid->width;
}

static gboolean
laid_equal (gconstpointer a, gconstpointer b)
{
  const Laid *first = a, *second = b;

  return first->width == second->width && g_str_equal (first->words, second->words);
}

static void
laid_free (gpointer key)
{
  Laid *laid = key;

  g_free (laid->words);
  g_free (laid);
}

static void
lay (PangoLayout *layout, const char *words, int width)
{
  pango_layout_set_text (layout, words, -1);
  pango_layout_set_width (layout, width * PANGO_SCALE);
}

/* Layouts of one pango context follow it by themselves when its font changes. */
static PangoLayout *
laid_out (Pens *pens, const char *words, int width)
{
  const Laid wanted = { (char *) words, width };
  PangoLayout *layout;
  Laid *key;

  if (pens->laid_out == NULL)
    {
      lay (pens->layout, words, width);
      return pens->layout;
    }
  layout = g_hash_table_lookup (pens->laid_out, &wanted);
  if (layout != NULL)
    return layout;
  if (g_hash_table_size (pens->laid_out) >= MOST_LAID)
    g_hash_table_remove_all (pens->laid_out);
  layout = pango_layout_copy (pens->layout);
  lay (layout, words, width);
  key = g_new (Laid, 1);
  *key = (Laid){ g_strdup (words), width };
  g_hash_table_insert (pens->laid_out, key, layout);
  return layout;
}

/* ---- cells ---- */

/* Returns how wide they are, in pixels. */
static int
draw_words (Pens *pens, GtkSnapshot *snapshot, const char *words, const GdkRectangle *place, gboolean number, const GdkRGBA *colour)
{
  PangoLayout *layout = laid_out (pens, words, MAX (0, place->width - 2 * TABLE_CELL_SIDE));
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) (number ? place->x + place->width - TABLE_CELL_SIDE - width : place->x + TABLE_CELL_SIDE),
                                                (float) (place->y + (place->height - height) / 2)));
  gtk_snapshot_append_layout (snapshot, layout, colour);
  gtk_snapshot_restore (snapshot);
  return width;
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

/* Below or through words of a width. */
static void
draw_line (GtkSnapshot *snapshot, const GdkRectangle *place, gboolean number, int width, float y, const GdkRGBA *colour)
{
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

/* The sign before the words: it says by its shape what the tone says by colour. */
static void
draw_mark (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, guint row, guint column, const GdkRectangle *place)
{
  g_autofree char *mark = fettle_table_source_dup_mark (self->source, row, column);
  int height;

  if (mark == NULL)
    return;
  pango_layout_set_width (pens->layout, -1);
  pango_layout_set_text (pens->layout, mark, -1);
  pango_layout_get_pixel_size (pens->layout, NULL, &height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) (place->x + MARK_SIDE), (float) (place->y + (place->height - height) / 2)));
  gtk_snapshot_append_layout (snapshot, pens->layout, &pens->copper);
  gtk_snapshot_restore (snapshot);
}

static void
draw_cell (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, guint row, guint column, const FettleTableColumn *kind)
{
  GdkRectangle place;
  FettleTableTone tone;
  gboolean pending;
  g_autofree char *words = NULL;
  const GdkRGBA *colour;
  int wide;

  fettle_table_place_cell (self, row, column, &place);
  if (place.width == 0 || place.x + place.width <= 0 || place.x >= gtk_widget_get_width (GTK_WIDGET (self))
      || (self->editing && row == self->row && column == self->column))
    return;
  if (self->grid && fettle_table_is_selected (self, row, column))
    {
      GdkRGBA wash = pens->copper;

      wash.alpha *= 0.14f;
      gtk_snapshot_append_color (snapshot, &wash, &GRAPHENE_RECT_INIT ((float) place.x, (float) place.y, (float) place.width, (float) place.height));
    }
  draw_mark (self, pens, snapshot, row, column, &place);
  words = cell_words (self, row, column, &tone, &pending);
  if (words == NULL || words[0] == '\0')
    return;
  if (!kind->number && !self->grid)
    spill (self, pens, row, column, words, &place);
  colour = tone == FETTLE_TONE_OPEN || tone == FETTLE_TONE_TYPED ? &pens->copper
           : tone == FETTLE_TONE_INK && !pending               ? &pens->ink
                                                               : &pens->faint;
  wide = draw_words (pens, snapshot, words, &place, kind->number, colour);
  if (tone == FETTLE_TONE_STRUCK)
    draw_line (snapshot, &place, kind->number, wide, (float) (place.y + place.height / 2), colour);
  else if (tone == FETTLE_TONE_TYPED)
    draw_line (snapshot, &place, kind->number, wide, (float) (place.y + place.height - 7), colour);
}

/* What stands below a heading: it goes on from the heading's own line. */
static void
draw_notes (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, guint column, gboolean number, const GdkRectangle *head)
{
  guint n = fettle_table_source_n_head_notes (self->source);
  int line = fettle_table_line (self), rest = fettle_table_head (self) - line;

  for (guint i = 0; i < n; i++)
    {
      GdkRectangle place = *head;

      place.height = rest / (int) n;
      place.y = line - 6 + (int) i * place.height;
      draw_words (pens, snapshot, fettle_table_source_head_note (self->source, column, i), &place, number, &pens->faint);
    }
}

/* The headings of columns @from to before @to. */
static void
draw_titles (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const FettleTableColumn *columns, guint from, guint to)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));

  for (guint i = from; i < to; i++)
    {
      GdkRectangle place = { 0, 0, 0, fettle_table_line (self) - 1 };

      fettle_table_place_column (self, i, &place.x, &place.width);
      if (place.width == 0 || place.x >= width || place.x + place.width <= 0)
        continue;
      draw_notes (self, pens, snapshot, i, columns[i].number, &place);
      draw_words (pens, snapshot, columns[i].title, &place, columns[i].number,
                  self->grid && i == self->column ? &pens->ink : &pens->faint);
    }
}

static void
draw_head (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const FettleTableColumn *columns, guint n, int width)
{
  int line = fettle_table_head (self), frozen = fettle_table_frozen_width (self);

  gtk_snapshot_append_color (snapshot, &pens->sheet, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) line));
  fettle_table_set_head_font (pens->layout);
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT ((float) frozen, 0, (float) MAX (0, width - frozen), (float) line));
  draw_titles (self, pens, snapshot, columns, MIN (self->n_frozen, n), n);
  gtk_snapshot_pop (snapshot);
  draw_titles (self, pens, snapshot, columns, 0, MIN (self->n_frozen, n));
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

/* The rows in view. */
typedef struct
{
  guint first;
  guint last; /* the one after */
  int   width;
  int   height;
} View;

static void
draw_washes (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const View *view, gboolean focused)
{
  int line = fettle_table_line (self), head = fettle_table_head (self);
  double scrolled = fettle_table_scrolled (self);
  GdkRGBA hair = pens->rule, wash = pens->copper;

  hair.alpha *= 0.7f;
  wash.alpha *= focused ? 0.12f : 0.07f;
  for (guint row = view->first; row < view->last; row++)
    {
      float y = (float) ((double) row * line + head - scrolled);

      if (row == self->row)
        {
          gtk_snapshot_append_color (snapshot, &wash, &GRAPHENE_RECT_INIT (0, y, (float) view->width, (float) line));
          gtk_snapshot_append_color (snapshot, &pens->copper, &GRAPHENE_RECT_INIT (0, y, 3, (float) line));
        }
      gtk_snapshot_append_color (snapshot, &hair, &GRAPHENE_RECT_INIT (0, y + (float) line - 1, (float) view->width, 1));
    }
}

/* Lines between the columns of a grid, so that the eye keeps its column far from the heading. */
static void
draw_rules (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const View *view, guint from, guint to)
{
  int line = fettle_table_line (self);
  double bottom = (double) view->last * line + fettle_table_head (self) - fettle_table_scrolled (self);
  GdkRGBA hair = pens->rule;

  hair.alpha *= 0.45f;
  for (guint i = from; i < to; i++)
    {
      int left, width;

      fettle_table_place_column (self, i, &left, &width);
      if (left + width > 0 && left + width <= view->width)
        gtk_snapshot_append_color (snapshot, &hair, &GRAPHENE_RECT_INIT ((float) (left + width - 1), 0, 1, (float) MIN (bottom, view->height)));
    }
}

/* The cells in view of columns @from to before @to. */
static void
draw_cells (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const View *view, const FettleTableColumn *columns, guint from, guint to)
{
  for (guint column = from; column < to; column++)
    {
      int left, width;

      fettle_table_place_column (self, column, &left, &width);
      if (width == 0 || left >= view->width || left + width <= 0)
        continue;
      for (guint row = view->first; row < view->last; row++)
        draw_cell (self, pens, snapshot, row, column, &columns[column]);
    }
  if (self->grid)
    draw_rules (self, pens, snapshot, view, from, to);
}

static void
draw_rows (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, const FettleTableColumn *columns, guint n, int width, int height)
{
  int line = fettle_table_line (self), frozen = fettle_table_frozen_width (self);
  double scrolled = fettle_table_scrolled (self);
  guint n_frozen = MIN (self->n_frozen, n);
  const View view = { (guint) (scrolled / line),
                      (guint) MIN ((double) fettle_table_n_rows (self), (scrolled + height - fettle_table_head (self)) / line + 1.0), width, height };
  gboolean focused = gtk_widget_has_focus (GTK_WIDGET (self)) || self->editing;

  draw_washes (self, pens, snapshot, &view, focused);
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT ((float) frozen, 0, (float) MAX (0, width - frozen), (float) height));
  draw_cells (self, pens, snapshot, &view, columns, n_frozen, n);
  if (focused && self->row >= view.first && self->row < view.last)
    draw_current (self, pens, snapshot);
  gtk_snapshot_pop (snapshot);
  draw_cells (self, pens, snapshot, &view, columns, 0, n_frozen);
}

static void
draw_placeholder (FettleTable *self, Pens *pens, GtkSnapshot *snapshot, int width)
{
  GdkRectangle place = { 0, fettle_table_head (self), width, fettle_table_line (self) };

  if (self->placeholder != NULL)
    draw_words (pens, snapshot, self->placeholder, &place, FALSE, &pens->faint);
}

static PangoLayout *
make_layout (GtkWidget *widget)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, NULL);
  g_autoptr(PangoAttrList) figures = pango_attr_list_new ();

  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_attr_list_insert (figures, pango_attr_font_features_new ("tnum=1,lnum=1"));
  pango_layout_set_attributes (layout, figures);
  return layout;
}

/* Rows, and the heading, which lies over what scrolled below it. */
static void
draw_anew (FettleTable *self, int width, int height)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkSnapshot *cells = gtk_snapshot_new (), *head = gtk_snapshot_new ();
  g_autoptr(PangoLayout) layout = make_layout (widget);
  Pens pens = { .layout = layout, .laid_out = self->laid_out };
  const FettleTableColumn *columns;
  guint n;

  columns = fettle_table_source_columns (self->source, &n);
  named_colour (widget, "ink", &pens.ink);
  named_colour (widget, "faint", &pens.faint);
  named_colour (widget, "copper", &pens.copper);
  named_colour (widget, "rule", &pens.rule);
  named_colour (widget, "sheet", &pens.sheet);
  draw_rows (self, &pens, cells, columns, n, width, height);
  if (fettle_table_n_rows (self) == 0)
    draw_placeholder (self, &pens, cells, width);
  pens.laid_out = NULL;
  draw_head (self, &pens, head, columns, n, width);
  fettle_table_forget_drawing (self);
  self->cells = gtk_snapshot_free_to_node (cells);
  self->head = gtk_snapshot_free_to_node (head);
  self->is_drawn = TRUE;
}

/* Draws what is in view: rows, the cell that is typed into, and the heading last. */
void
fettle_table_draw (FettleTable *self, GtkSnapshot *snapshot)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (self->source == NULL || width <= 0 || height <= 0)
    return;
  if (!self->is_drawn)
    draw_anew (self, width, height);
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  if (self->cells != NULL)
    gtk_snapshot_append_node (snapshot, self->cells);
  if (self->editing)
    gtk_widget_snapshot_child (widget, self->text, snapshot);
  if (self->head != NULL)
    gtk_snapshot_append_node (snapshot, self->head);
  gtk_snapshot_pop (snapshot);
}

void
fettle_table_forget_drawing (FettleTable *self)
{
  self->is_drawn = FALSE;
  g_clear_pointer (&self->cells, gsk_render_node_unref);
  g_clear_pointer (&self->head, gsk_render_node_unref);
}

/* As it looks, with everything where it was. */
void
fettle_table_queue_draw (FettleTable *self)
{
  self->is_drawn = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
fettle_table_redraw (FettleTable *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  fettle_table_queue_draw (self);
}

void
fettle_table_set_up_drawing (FettleTable *self)
{
  self->laid_out = g_hash_table_new_full (laid_hash, laid_equal, laid_free, g_object_unref);
}
