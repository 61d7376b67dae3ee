/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The keys of a grid. After Enter the next cell is current and not typed into yet: typing writes over it, so a caliper
 * that sends a value and Enter fills a column, while arrows, Delete and undo mean the grid at once.
 */
#include "config.h"

#include "table-private.h"

static guint
n_columns_of (FettleTable *self)
{
  guint n;

  fettle_table_source_columns (self->source, &n);
  return n;
}

/* Goes to a cell, which never lies in the columns that stay at the left; with @extend what is selected grows to there. */
void
fettle_table_grid_go (FettleTable *self, guint row, guint column, gboolean extend)
{
  guint anchor_row = self->anchor_row, anchor_column = self->anchor_column, n = n_columns_of (self);

  if (n <= self->n_frozen)
    return;
  fettle_table_go_to (self, row, CLAMP (column, self->n_frozen, n - 1));
  if (extend)
    {
      self->anchor_row = anchor_row;
      self->anchor_column = anchor_column;
    }
}

static void
move (FettleTable *self, int rows, int columns, gboolean extend)
{
  gint64 last = (gint64) fettle_table_n_rows (self) - 1;

  fettle_table_grid_go (self, (guint) CLAMP ((gint64) self->row + rows, 0, MAX (0, last)),
                        (guint) MAX ((int) self->n_frozen, (int) self->column + columns), extend);
}

/*
 * The next cell that can be typed into, down or along the row, and from its end on to the next column or row. FALSE when
 * there is none: the last of all is filled in.
 */
static gboolean
advance (FettleTable *self, gboolean along, int step)
{
  gint64 rows = fettle_table_n_rows (self), n = n_columns_of (self), row = self->row, column = self->column;
  const gint64 first = self->n_frozen;

  for (gint64 tries = rows * n; tries > 0; tries--)
    {
      if (along)
        column += step;
      else
        row += step;
      if (along && (column < first || column >= n))
        {
          row += step;
          column = step > 0 ? first : n - 1;
        }
      if (!along && (row < 0 || row >= rows))
        {
          column += step;
          row = step > 0 ? 0 : rows - 1;
        }
      if (row < 0 || row >= rows || column < first || column >= n)
        return FALSE;
      if (fettle_table_source_editable (self->source, (guint) row, (guint) column))
        {
          fettle_table_grid_go (self, (guint) row, (guint) column, FALSE);
          return TRUE;
        }
    }
  return FALSE;
}

/* Enter and Tab: the same while a cell is typed into and while moving. */
static gboolean
key_of_both (FettleTable *self, guint key, GdkModifierType state)
{
  int step = (state & GDK_SHIFT_MASK) != 0 ? -1 : 1;

  switch (key)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (fettle_table_take (self))
        advance (self, self->rightward, step);
      return TRUE;
    case GDK_KEY_Tab:
    case GDK_KEY_ISO_Left_Tab:
      if ((state & GDK_CONTROL_MASK) != 0)
        return FALSE;
      return !fettle_table_take (self) || advance (self, TRUE, key == GDK_KEY_ISO_Left_Tab ? -1 : step);
    case GDK_KEY_Page_Up:
      if ((state & GDK_CONTROL_MASK) == 0 && fettle_table_take (self))
        move (self, -(int) fettle_table_page_rows (self), 0, (state & GDK_SHIFT_MASK) != 0);
      return (state & GDK_CONTROL_MASK) == 0;
    case GDK_KEY_Page_Down:
      if ((state & GDK_CONTROL_MASK) == 0 && fettle_table_take (self))
        move (self, (int) fettle_table_page_rows (self), 0, (state & GDK_SHIFT_MASK) != 0);
      return (state & GDK_CONTROL_MASK) == 0;
    default:
      return FALSE;
    }
}

static gboolean
is_enter (guint key)
{
  return key == GDK_KEY_Return || key == GDK_KEY_KP_Enter;
}

/* What is typed goes into all that is selected. */
static void
fill_with_typed (FettleTable *self)
{
  g_autofree char *typed = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->text)));
  guint top, left, rows, columns;

  fettle_table_get_block (self, &top, &left, &rows, &columns);
  if (rows * columns < 2)
    {
      fettle_table_take (self);
      return;
    }
  fettle_table_take_back (self);
  fettle_table_fill_with (self, typed);
}

static gboolean
key_while_editing (FettleTable *self, guint key, GdkModifierType state)
{
  if (is_enter (key) && (state & GDK_CONTROL_MASK) != 0)
    {
      fill_with_typed (self);
      return TRUE;
    }
  if (key_of_both (self, key, state))
    return TRUE;
  switch (key)
    {
    case GDK_KEY_Escape:
      fettle_table_take_back (self);
      return TRUE;
    case GDK_KEY_F2: /* the arrows move within the cell from now on */
      self->over = FALSE;
      return TRUE;
    case GDK_KEY_Up:
    case GDK_KEY_Down:
      break;
    case GDK_KEY_Left:
    case GDK_KEY_Right:
    case GDK_KEY_Home:
    case GDK_KEY_End:
      if (!self->over || state != 0)
        return FALSE;
      break;
    default:
      return FALSE;
    }
  if (fettle_table_take (self))
    fettle_table_grid_key (self, key, state & ~(guint) GDK_SHIFT_MASK);
  return TRUE;
}

/* Arrows by one; with Ctrl to the edge. */
static gboolean
key_that_moves (FettleTable *self, guint key, GdkModifierType state)
{
  gboolean extend = (state & GDK_SHIFT_MASK) != 0, far = (state & GDK_CONTROL_MASK) != 0;
  int rows = (int) fettle_table_n_rows (self), columns = (int) n_columns_of (self);

  switch (key)
    {
    case GDK_KEY_Up:
      move (self, far ? -rows : -1, 0, extend);
      return TRUE;
    case GDK_KEY_Down:
      move (self, far ? rows : 1, 0, extend);
      return TRUE;
    case GDK_KEY_Left:
      move (self, 0, far ? -columns : -1, extend);
      return TRUE;
    case GDK_KEY_Right:
      move (self, 0, far ? columns : 1, extend);
      return TRUE;
    case GDK_KEY_Home:
      move (self, far ? -rows : 0, -columns, extend);
      return TRUE;
    case GDK_KEY_End:
      move (self, far ? rows : 0, columns, extend);
      return TRUE;
    default:
      return key_of_both (self, key, state);
    }
}

static gboolean
key_of_block (FettleTable *self, guint key, GdkModifierType state)
{
  guint last = fettle_table_n_rows (self) - 1, n = n_columns_of (self);

  if (state != GDK_CONTROL_MASK)
    return FALSE;
  switch (key)
    {
    case GDK_KEY_a:
      fettle_table_grid_go (self, 0, self->n_frozen, FALSE);
      self->anchor_row = last;
      self->anchor_column = n - 1;
      fettle_table_redraw (self);
      return TRUE;
    case GDK_KEY_c:
      fettle_table_copy_block (self);
      return TRUE;
    case GDK_KEY_v:
      fettle_table_paste (self);
      return TRUE;
    case GDK_KEY_d:
      fettle_table_fill_down (self);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_while_moving (FettleTable *self, guint key, GdkModifierType state)
{
  if (fettle_table_n_rows (self) == 0 || (state & GDK_ALT_MASK) != 0)
    return FALSE;
  if (key_that_moves (self, key, state) || key_of_block (self, key, state))
    return TRUE;
  switch (key)
    {
    case GDK_KEY_F2:
      return fettle_table_begin (self, NULL);
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
    case GDK_KEY_BackSpace:
      fettle_table_clear_block (self);
      return TRUE;
    case GDK_KEY_Escape:
      if (fettle_table_take_back_kept (self))
        return TRUE;
      if (self->anchor_row == self->row && self->anchor_column == self->column)
        return FALSE;
      fettle_table_grid_go (self, self->row, self->column, FALSE);
      return TRUE;
    default:
      return fettle_table_begin_with_letter (self, key, state);
    }
}

/* FALSE when the key means nothing here. */
gboolean
fettle_table_grid_key (FettleTable *self, guint key, GdkModifierType state)
{
  return self->editing ? key_while_editing (self, key, state) : key_while_moving (self, key, state);
}
