/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What keys and the mouse do in a table. */
#include "config.h"

#include "table-private.h"

static guint
next_column (FettleTable *self, guint from, int step)
{
  guint n;

  fettle_table_source_columns (self->source, &n);
  for (int i = (int) from + step; i >= 0 && i < (int) n; i += step)
    if (fettle_table_column_shown (self, (guint) i))
      return (guint) i;
  return from;
}

static void
step_and_edit (FettleTable *self, int rows, int columns)
{
  guint row, column;

  if (!fettle_table_take (self))
    return;
  row = (guint) CLAMP ((gint64) self->row + rows, 0, (gint64) fettle_table_n_rows (self) - 1);
  column = columns != 0 ? next_column (self, self->column, columns) : self->column;
  if (row == self->row && column == self->column)
    return;
  fettle_table_go_to (self, row, column);
  fettle_table_begin (self, NULL);
}

static void
copy_row (FettleTable *self)
{
  guint n;
  g_autoptr(GString) line = g_string_new (NULL);

  if (self->row >= fettle_table_n_rows (self))
    return;
  fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    {
      FettleTableTone tone;
      gboolean pending;
      g_autofree char *cell = fettle_table_source_dup_text (self->source, self->row, i, &tone, &pending);

      g_string_append_printf (line, "%s%s", i > 0 ? "\t" : "", cell);
    }
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), line->str);
}

static gboolean
key_while_editing (FettleTable *self, guint key, GdkModifierType state)
{
  switch (key)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      step_and_edit (self, (state & GDK_SHIFT_MASK) != 0 ? -1 : 1, 0);
      return TRUE;
    case GDK_KEY_Up:
      step_and_edit (self, -1, 0);
      return TRUE;
    case GDK_KEY_Down:
      step_and_edit (self, 1, 0);
      return TRUE;
    case GDK_KEY_Tab:
      if ((state & GDK_CONTROL_MASK) != 0)
        return FALSE;
      step_and_edit (self, 0, 1);
      return TRUE;
    case GDK_KEY_ISO_Left_Tab:
      if ((state & GDK_CONTROL_MASK) != 0)
        return FALSE;
      step_and_edit (self, 0, -1);
      return TRUE;
    case GDK_KEY_Escape:
      fettle_table_take_back (self);
      return TRUE;
    default:
      return FALSE;
    }
}

/* Rows that Page Up and Page Down go by: one row of the last view stays in view. */
guint
fettle_table_page_rows (FettleTable *self)
{
  int line = fettle_table_line (self);

  return (guint) MAX (1, (gtk_widget_get_height (GTK_WIDGET (self)) - fettle_table_head (self)) / line - 1);
}

gboolean
fettle_table_begin_with_letter (FettleTable *self, guint key, GdkModifierType state)
{
  gunichar letter = gdk_keyval_to_unicode (key);
  char typed[7] = { 0 };

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0 || letter <= ' ' || letter == 0x7f)
    return FALSE;
  g_unichar_to_utf8 (letter, typed);
  return self->grid ? fettle_table_begin (self, typed) : fettle_table_begin_in_row (self, typed);
}

static gboolean
key_while_moving (FettleTable *self, guint key, GdkModifierType state)
{
  guint rows = fettle_table_n_rows (self), row = self->row;

  if (rows == 0 || (state & GDK_ALT_MASK) != 0)
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Up:
      fettle_table_go_to (self, row > 0 ? row - 1 : 0, self->column);
      return TRUE;
    case GDK_KEY_Down:
      fettle_table_go_to (self, row + 1, self->column);
      return TRUE;
    case GDK_KEY_Left:
      fettle_table_go_to (self, row, next_column (self, self->column, -1));
      return TRUE;
    case GDK_KEY_Right:
      fettle_table_go_to (self, row, next_column (self, self->column, 1));
      return TRUE;
    case GDK_KEY_Page_Up:
      fettle_table_go_to (self, row > fettle_table_page_rows (self) ? row - fettle_table_page_rows (self) : 0, self->column);
      return TRUE;
    case GDK_KEY_Page_Down:
      fettle_table_go_to (self, row + fettle_table_page_rows (self), self->column);
      return TRUE;
    case GDK_KEY_Home:
      fettle_table_go_to (self, 0, self->column);
      return TRUE;
    case GDK_KEY_End:
      fettle_table_go_to (self, rows - 1, self->column);
      return TRUE;
    case GDK_KEY_F2:
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return fettle_table_begin_in_row (self, NULL);
    case GDK_KEY_Escape:
      return fettle_table_take_back_kept (self);
    case GDK_KEY_c:
      if (state != GDK_CONTROL_MASK)
        break;
      copy_row (self);
      return TRUE;
    default:
      break;
    }
  return fettle_table_begin_with_letter (self, key, state);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, FettleTable *self)
{
  state &= gtk_accelerator_get_default_mod_mask ();
  if (self->grid && self->source != NULL)
    return fettle_table_grid_key (self, key, state);
  return self->editing ? key_while_editing (self, key, state) : key_while_moving (self, key, state);
}

/* With Shift, what is selected grows to there. */
static void
go_by_mouse (FettleTable *self, GtkGestureClick *gesture, guint row, guint column)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (self->grid)
    fettle_table_grid_go (self, row, column, (state & GDK_SHIFT_MASK) != 0);
  else
    fettle_table_go_to (self, row, column);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, FettleTable *self)
{
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  int line = fettle_table_line (self);
  double down = y - fettle_table_head (self) + fettle_table_scrolled (self);
  guint n;

  if (hit != NULL && (hit == self->text || gtk_widget_is_ancestor (hit, self->text)))
    return;
  if (!fettle_table_take (self))
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (y < fettle_table_head (self) || down < 0 || down / line >= fettle_table_n_rows (self))
    return;
  fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    {
      int left, width;

      fettle_table_place_column (self, i, &left, &width);
      if (x >= left && x < left + width)
        {
          go_by_mouse (self, gesture, (guint) (down / line), i);
          break;
        }
    }
  if (n_press == 2)
    fettle_table_begin (self, NULL);
}

void
fettle_table_set_up_keys (FettleTable *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  /* Before the text, which would take Enter and the arrows for itself. */
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}
