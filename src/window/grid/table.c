/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One widget draws all visible cells, and one GtkText stands over the cell that is typed into. A list widget would make
 * a widget a cell, has no focused cell, and takes the edited cell away when it scrolls out of view.
 */
#include "config.h"

#include "table.h"
#include "table-private.h"

#include <glib/gi18n.h>

#define WHEEL_ROWS 3

enum
{
  PROP_HADJUSTMENT = 1,
  PROP_VADJUSTMENT,
  PROP_HSCROLL_POLICY,
  PROP_VSCROLL_POLICY
};

enum
{
  SIGNAL_MOVED,
  SIGNAL_REFUSED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleTable, fettle_table, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL))

static void
update_adjustments (FettleTable *self)
{
  int height = gtk_widget_get_height (GTK_WIDGET (self)), width = gtk_widget_get_width (GTK_WIDGET (self));
  double content = (double) fettle_table_n_rows (self) * TABLE_ROW_HEIGHT + TABLE_HEAD_HEIGHT;

  if (self->vadjustment != NULL)
    gtk_adjustment_configure (self->vadjustment, CLAMP (fettle_table_scrolled (self), 0.0, MAX (0.0, content - height)), 0.0,
                              MAX (content, height), TABLE_ROW_HEIGHT * WHEEL_ROWS, MAX (TABLE_ROW_HEIGHT, height - TABLE_HEAD_HEIGHT),
                              height);
  if (self->hadjustment != NULL)
    {
      double wide = MAX (width, fettle_table_content_width (self));

      gtk_adjustment_configure (self->hadjustment,
                                CLAMP (gtk_adjustment_get_value (self->hadjustment), 0.0, wide - width), 0.0, wide, 60.0,
                                width, width);
    }
}

/* ---- where one is ---- */

static void
tell_position (FettleTable *self)
{
  g_autofree char *words = NULL;

  if (self->source != NULL && self->row < fettle_table_n_rows (self))
    words = fettle_table_source_describe (self->source, self->row, self->column);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  words != NULL ? words : _("Table without rows"), -1);
  if (words != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

static void
bring_into_view (FettleTable *self)
{
  double top = (double) self->row * TABLE_ROW_HEIGHT;

  if (self->vadjustment != NULL)
    gtk_adjustment_clamp_page (self->vadjustment, top, top + TABLE_ROW_HEIGHT + TABLE_HEAD_HEIGHT);
  if (self->hadjustment != NULL && self->source != NULL)
    {
      int left, width;

      fettle_table_place_column (self, self->column, &left, &width);
      left += (int) gtk_adjustment_get_value (self->hadjustment);
      gtk_adjustment_clamp_page (self->hadjustment, left, left + width);
    }
}

static void
redraw (FettleTable *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

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
go_to (FettleTable *self, guint row, guint column)
{
  guint rows = fettle_table_n_rows (self);

  if (rows == 0)
    return;
  self->row = MIN (row, rows - 1);
  self->column = column;
  bring_into_view (self);
  tell_position (self);
  redraw (self);
  g_signal_emit (self, signals[SIGNAL_MOVED], 0, self->row);
}

/* ---- typing into a cell ---- */

static void
stop_editing (FettleTable *self)
{
  gboolean focused = gtk_widget_has_focus (self->text);

  if (!self->editing)
    return;
  self->editing = FALSE;
  gtk_widget_remove_css_class (self->text, "wrong");
  gtk_widget_set_visible (self->text, FALSE);
  if (focused)
    gtk_widget_grab_focus (GTK_WIDGET (self));
  g_signal_emit (self, signals[SIGNAL_REFUSED], 0, NULL);
  redraw (self);
}

/* Begins with what the cell holds, or with @typed in its place. */
static gboolean
begin_editing (FettleTable *self, const char *typed)
{
  FettleTableTone tone;
  gboolean pending;
  g_autofree char *held = NULL;

  if (self->row >= fettle_table_n_rows (self) || !fettle_table_source_editable (self->source, self->row, self->column))
    return FALSE;

  held = fettle_table_source_dup_text (self->source, self->row, self->column, &tone, &pending);
  self->editing = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->text), typed != NULL ? typed : held);
  gtk_widget_set_visible (self->text, TRUE);
  tell_position (self);
  redraw (self);
  gtk_widget_grab_focus (self->text);
  if (typed != NULL)
    gtk_editable_set_position (GTK_EDITABLE (self->text), -1);
  else
    gtk_editable_select_region (GTK_EDITABLE (self->text), 0, -1);
  return TRUE;
}

/* What was typed stays in the cell, underlined, until it can be taken or is taken back: FALSE while it cannot. */
static gboolean
take_typed (FettleTable *self)
{
  FettleTableTone tone;
  gboolean pending;
  g_autofree char *held = NULL;
  g_autofree char *refused = NULL;
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->text));

  if (!self->editing)
    return TRUE;
  if (self->row >= fettle_table_n_rows (self))
    {
      stop_editing (self);
      return TRUE;
    }

  held = fettle_table_source_dup_text (self->source, self->row, self->column, &tone, &pending);
  if (g_strcmp0 (held, typed) != 0)
    refused = fettle_table_source_commit (self->source, self->row, self->column, typed);
  if (refused != NULL)
    {
      gtk_widget_add_css_class (self->text, "wrong");
      g_signal_emit (self, signals[SIGNAL_REFUSED], 0, refused);
      return FALSE;
    }
  stop_editing (self);
  return TRUE;
}

static void
step_and_edit (FettleTable *self, int rows, int columns)
{
  gboolean editing = self->editing;
  guint row, column;

  if (!take_typed (self))
    return;
  row = (guint) CLAMP ((gint64) self->row + rows, 0, (gint64) fettle_table_n_rows (self) - 1);
  column = columns != 0 ? next_column (self, self->column, columns) : self->column;
  if (row == self->row && column == self->column)
    return;
  go_to (self, row, column);
  if (editing)
    begin_editing (self, NULL);
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
      if (self->editing && self->row + 1 == fettle_table_n_rows (self) && (state & GDK_SHIFT_MASK) == 0)
        take_typed (self);
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
      step_and_edit (self, 0, -1);
      return TRUE;
    case GDK_KEY_Escape:
      stop_editing (self);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_while_moving (FettleTable *self, guint key, GdkModifierType state)
{
  guint rows = fettle_table_n_rows (self);
  guint page = (guint) MAX (1, (gtk_widget_get_height (GTK_WIDGET (self)) - TABLE_HEAD_HEIGHT) / TABLE_ROW_HEIGHT - 1);
  gunichar letter;

  if (rows == 0 || self->source == NULL)
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Up:
      go_to (self, self->row > 0 ? self->row - 1 : 0, self->column);
      return TRUE;
    case GDK_KEY_Down:
      go_to (self, self->row + 1, self->column);
      return TRUE;
    case GDK_KEY_Left:
      go_to (self, self->row, next_column (self, self->column, -1));
      return TRUE;
    case GDK_KEY_Right:
      go_to (self, self->row, next_column (self, self->column, 1));
      return TRUE;
    case GDK_KEY_Page_Up:
      go_to (self, self->row > page ? self->row - page : 0, self->column);
      return TRUE;
    case GDK_KEY_Page_Down:
      go_to (self, self->row + page, self->column);
      return TRUE;
    case GDK_KEY_Home:
      go_to (self, 0, self->column);
      return TRUE;
    case GDK_KEY_End:
      go_to (self, rows - 1, self->column);
      return TRUE;
    case GDK_KEY_F2:
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return begin_editing (self, NULL);
    case GDK_KEY_c:
      if (state != GDK_CONTROL_MASK)
        break;
      copy_row (self);
      return TRUE;
    default:
      break;
    }

  letter = gdk_keyval_to_unicode (key);
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) == 0 && letter >= ' ' && letter != 0x7f)
    {
      char typed[7] = { 0 };

      g_unichar_to_utf8 (letter, typed);
      return begin_editing (self, typed);
    }
  return FALSE;
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, gpointer user_data)
{
  FettleTable *self = user_data;

  state &= gtk_accelerator_get_default_mod_mask ();
  return self->editing ? key_while_editing (self, key, state) : key_while_moving (self, key, state);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, gpointer user_data)
{
  FettleTable *self = user_data;
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  double down = y - TABLE_HEAD_HEIGHT + fettle_table_scrolled (self);
  guint n;

  if (self->source == NULL || y < TABLE_HEAD_HEIGHT || down < 0 || down / TABLE_ROW_HEIGHT >= fettle_table_n_rows (self) || hit == self->text)
    return;
  if (!take_typed (self))
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    {
      int left, width;

      fettle_table_place_column (self, i, &left, &width);
      if (x >= left && x < left + width)
        {
          go_to (self, (guint) (down / TABLE_ROW_HEIGHT), i);
          break;
        }
    }
  if (n_press == 2)
    begin_editing (self, NULL);
}

static void
on_text_left (GtkEventControllerFocus *controller, gpointer user_data)
{
  FettleTable *self = user_data;

  /* Leaving the cell stores it; what cannot be taken stays where it is, in view, with its reason. */
  take_typed (self);
}

/* ---- the widget ---- */

static void
fettle_table_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  fettle_table_draw (FETTLE_TABLE (widget), snapshot);
}

static void
fettle_table_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  FettleTable *self = FETTLE_TABLE (widget);
  int least, usual;

  gtk_widget_measure (self->text, orientation, -1, &least, &usual, NULL, NULL);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : TABLE_HEAD_HEIGHT + 3 * TABLE_ROW_HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 720 : TABLE_HEAD_HEIGHT + 12 * TABLE_ROW_HEIGHT;
}

static void
fettle_table_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleTable *self = FETTLE_TABLE (widget);

  update_adjustments (self);
  if (self->editing)
    {
      GtkAllocation place;
      int least;

      fettle_table_place_cell (self, self->row, self->column, &place);
      gtk_widget_measure (self->text, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      place.width = MAX (place.width, least);
      gtk_widget_size_allocate (self->text, &place, -1);
    }
}

static void
fettle_table_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (fettle_table_parent_class)->css_changed (widget, change);
  FETTLE_TABLE (widget)->letter = 0;
}

static gboolean
fettle_table_grab_focus (GtkWidget *widget)
{
  FettleTable *self = FETTLE_TABLE (widget);

  if (self->editing)
    return gtk_widget_grab_focus (self->text);
  gtk_root_set_focus (gtk_widget_get_root (widget), widget);
  return TRUE;
}

static void
on_scrolled (GtkAdjustment *adjustment, FettleTable *self)
{
  redraw (self);
}

static void
set_adjustment (FettleTable *self, GtkAdjustment **place, GtkAdjustment *adjustment)
{
  if (*place != NULL)
    g_signal_handlers_disconnect_by_func (*place, on_scrolled, self);
  g_set_object (place, adjustment);
  if (adjustment != NULL)
    g_signal_connect (adjustment, "value-changed", G_CALLBACK (on_scrolled), self);
  update_adjustments (self);
}

static void
fettle_table_set_property (GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  FettleTable *self = FETTLE_TABLE (object);

  switch (id)
    {
    case PROP_HADJUSTMENT:
      set_adjustment (self, &self->hadjustment, g_value_get_object (value));
      break;
    case PROP_VADJUSTMENT:
      set_adjustment (self, &self->vadjustment, g_value_get_object (value));
      break;
    case PROP_HSCROLL_POLICY:
      self->hpolicy = g_value_get_enum (value);
      break;
    case PROP_VSCROLL_POLICY:
      self->vpolicy = g_value_get_enum (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
fettle_table_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  FettleTable *self = FETTLE_TABLE (object);

  switch (id)
    {
    case PROP_HADJUSTMENT:
      g_value_set_object (value, self->hadjustment);
      break;
    case PROP_VADJUSTMENT:
      g_value_set_object (value, self->vadjustment);
      break;
    case PROP_HSCROLL_POLICY:
      g_value_set_enum (value, self->hpolicy);
      break;
    case PROP_VSCROLL_POLICY:
      g_value_set_enum (value, self->vpolicy);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
on_reset (FettleTableSource *source, FettleTable *self)
{
  self->row = MIN (self->row, MAX (1, fettle_table_n_rows (self)) - 1);
  update_adjustments (self);
  tell_position (self);
  redraw (self);
}

static void
on_rows_changed (FettleTableSource *source, FettleTable *self)
{
  tell_position (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
fettle_table_dispose (GObject *object)
{
  FettleTable *self = FETTLE_TABLE (object);

  if (self->source != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->source, self);
      g_clear_object (&self->source);
    }
  set_adjustment (self, &self->hadjustment, NULL);
  set_adjustment (self, &self->vadjustment, NULL);
  g_clear_pointer (&self->text, gtk_widget_unparent);

  G_OBJECT_CLASS (fettle_table_parent_class)->dispose (object);
}

static void
fettle_table_class_init (FettleTableClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = fettle_table_dispose;
  object_class->set_property = fettle_table_set_property;
  object_class->get_property = fettle_table_get_property;
  widget_class->measure = fettle_table_measure;
  widget_class->size_allocate = fettle_table_size_allocate;
  widget_class->snapshot = fettle_table_snapshot;
  widget_class->css_changed = fettle_table_css_changed;
  widget_class->grab_focus = fettle_table_grab_focus;

  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");

  signals[SIGNAL_MOVED] = g_signal_new ("moved", FETTLE_TYPE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[SIGNAL_REFUSED] = g_signal_new ("refused", FETTLE_TYPE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_css_name (widget_class, "fettletable");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TABLE);
}

static void
fettle_table_init (FettleTable *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);

  self->text = gtk_text_new ();
  g_object_set (self->text, "xalign", 1.0f, NULL);
  gtk_widget_add_css_class (self->text, "cell");
  gtk_widget_set_name (self->text, "cell");
  gtk_widget_set_visible (self->text, FALSE);
  gtk_widget_set_parent (self->text, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Cell"), -1);
  g_signal_connect (focus, "leave", G_CALLBACK (on_text_left), self);
  gtk_widget_add_controller (self->text, focus);

  /* Before the text, which would take Enter and the arrows for itself. */
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

/**
 * fettle_table_new:
 *
 * Returns: (transfer floating): a table without a source
 */
GtkWidget *
fettle_table_new (void)
{
  return g_object_new (FETTLE_TYPE_TABLE, NULL);
}

/**
 * fettle_table_set_source:
 * @self: a table
 * @source: (nullable): what to show
 */
void
fettle_table_set_source (FettleTable *self, FettleTableSource *source)
{
  g_return_if_fail (FETTLE_IS_TABLE (self));

  stop_editing (self);
  if (self->source != NULL)
    g_signal_handlers_disconnect_by_data (self->source, self);
  g_set_object (&self->source, source);
  self->row = 0;
  self->column = 0;
  if (source != NULL)
    {
      g_signal_connect (source, "reset", G_CALLBACK (on_reset), self);
      g_signal_connect (source, "rows-changed", G_CALLBACK (on_rows_changed), self);
    }
  update_adjustments (self);
  tell_position (self);
  redraw (self);
}

/**
 * fettle_table_get_row:
 * @self: a table
 * @row: (out): the current row
 *
 * Returns: whether there is one
 */
gboolean
fettle_table_get_row (FettleTable *self, guint *row)
{
  *row = self->row;
  return self->row < fettle_table_n_rows (self);
}

/**
 * fettle_table_go:
 * @self: a table
 * @row: which row
 *
 * Makes a row current and brings it into view; what was being typed is stored first.
 */
void
fettle_table_go (FettleTable *self, guint row)
{
  if (take_typed (self))
    go_to (self, row, self->column);
}

/**
 * fettle_table_edit:
 * @self: a table
 *
 * Begins to type into the first editable cell of the current row.
 */
void
fettle_table_edit (FettleTable *self)
{
  guint n = 0;

  if (self->source != NULL)
    fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    if (self->row < fettle_table_n_rows (self) && fettle_table_source_editable (self->source, self->row, i))
      {
        self->column = i;
        begin_editing (self, NULL);
        return;
      }
}

gboolean
fettle_table_is_editing (FettleTable *self)
{
  return self->editing;
}

/**
 * fettle_table_finish:
 * @self: a table
 *
 * Stores what is being typed.
 *
 * Returns: %FALSE when it cannot be taken; it stays in the cell
 */
gboolean
fettle_table_finish (FettleTable *self)
{
  return take_typed (self);
}
