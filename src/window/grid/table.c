/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One widget draws all visible cells, and one entry stands over the cell that is typed into. A list widget would make
 * a widget a cell, has no focused cell, and takes the edited cell away when it scrolls out of view.
 */
#include "config.h"

#include "table.h"
#include "table-private.h"

#include <glib/gi18n.h>

#define WHEEL_ROWS 3
#define LEAST_WIDTH 240
#define USUAL_WIDTH 720
#define LEAST_ROWS 3
#define USUAL_ROWS 12

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
  SIGNAL_LEFT,
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
  int line = fettle_table_line (self);
  int head = fettle_table_head (self);
  double content = (double) fettle_table_n_rows (self) * line + head;

  if (self->vadjustment != NULL)
    gtk_adjustment_configure (self->vadjustment, CLAMP (fettle_table_scrolled (self), 0.0, MAX (0.0, content - height)), 0.0,
                              MAX (content, height), line * WHEEL_ROWS, MAX (line, height - head), height);
  if (self->hadjustment != NULL)
    {
      double wide = MAX (width, fettle_table_content_width (self));

      gtk_adjustment_configure (self->hadjustment,
                                CLAMP (gtk_adjustment_get_value (self->hadjustment), 0.0, wide - width), 0.0, wide, 60.0,
                                width, width);
    }
}

/* ---- where one is ---- */

static guint
n_columns (FettleTable *self)
{
  guint n;

  fettle_table_source_columns (self->source, &n);
  return n;
}

/* The row and cell in words: with what was typed into it and is not stored. */
static char *
position_words (FettleTable *self)
{
  g_autofree char *words = NULL, *typed = NULL;

  if (self->row >= fettle_table_n_rows (self))
    return g_strdup (self->placeholder != NULL ? self->placeholder : _("Table without rows"));
  words = fettle_table_source_describe (self->source, self->row, self->column);
  for (guint i = 0, n = n_columns (self); i < n && typed == NULL && !self->editing; i++)
    typed = fettle_table_source_dup_typed (self->source, self->key, i);
  if (typed != NULL)
    /* Translators: a reading in words, and what was typed into its cell */
    return g_strdup_printf (_("%s; typed and not stored: %s"), words, typed);
  return g_steal_pointer (&words);
}

void
fettle_table_tell_position (FettleTable *self)
{
  g_autofree char *words = position_words (self);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

void
fettle_table_go_to (FettleTable *self, guint row, guint column)
{
  guint rows = fettle_table_n_rows (self);

  if (rows == 0)
    return;
  self->row = MIN (row, rows - 1);
  self->column = column;
  self->anchor_row = self->row;
  self->anchor_column = column;
  self->key = fettle_table_source_get_key (self->source, self->row);
  fettle_table_bring_into_view (self);
  fettle_table_tell_position (self);
  fettle_table_redraw (self);
  g_signal_emit (self, signals[SIGNAL_MOVED], 0, self->row);
}

void
fettle_table_tell_refused (FettleTable *self, const char *sentence)
{
  g_signal_emit (self, signals[SIGNAL_REFUSED], 0, sentence);
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
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : fettle_table_head (self) + LEAST_ROWS * fettle_table_line (self);
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? USUAL_WIDTH : fettle_table_head (self) + USUAL_ROWS * fettle_table_line (self);
}

static void
fettle_table_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleTable *self = FETTLE_TABLE (widget);
  gboolean in_view = fettle_table_row_in_view (self);

  self->is_drawn = FALSE; /* it may have another size */
  update_adjustments (self);
  if (in_view) /* a form that opens below must not cover the row it is about */
    fettle_table_bring_row_into_view (self);
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
  fettle_table_forget_widths (FETTLE_TABLE (widget));
  fettle_table_forget_drawing (FETTLE_TABLE (widget));
  gtk_widget_queue_resize (widget);
}

/* Where the keyboard is shows. */
static void
fettle_table_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  GTK_WIDGET_CLASS (fettle_table_parent_class)->state_flags_changed (widget, before);
  fettle_table_queue_draw (FETTLE_TABLE (widget));
}

static gboolean
fettle_table_grab_focus (GtkWidget *widget)
{
  FettleTable *self = FETTLE_TABLE (widget);

  if (self->editing)
    return gtk_widget_grab_focus (self->text);
  if (gtk_widget_get_root (widget) == NULL)
    return FALSE;
  gtk_root_set_focus (gtk_widget_get_root (widget), widget);
  return TRUE;
}

static void
on_scrolled (GtkAdjustment *adjustment, FettleTable *self)
{
  fettle_table_redraw (self);
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

/*
 * Rows came or went. The current one stays the same reading wherever it stands now, and where it was on the screen. When
 * it went, typing into it ends; what was typed is with the source.
 */
static void
on_reset (FettleTableSource *source, FettleTable *self)
{
  guint rows = fettle_table_n_rows (self), was = self->row;
  int line = fettle_table_line (self);

  fettle_table_forget_widths (self);
  if (self->key != 0 && fettle_table_source_find (source, self->key, &self->row))
    {
      double top = fettle_table_scrolled (self) + ((double) self->row - was) * line;
      gboolean in_view = (double) was * line >= fettle_table_scrolled (self) - line
                         && (double) was * line < fettle_table_scrolled (self) + gtk_widget_get_height (GTK_WIDGET (self));

      update_adjustments (self);
      if (in_view && self->vadjustment != NULL)
        gtk_adjustment_set_value (self->vadjustment, top);
      fettle_table_look_again (self);
    }
  else
    {
      fettle_table_stop (self);
      self->row = MIN (self->row, MAX (1, rows) - 1);
      self->key = rows > 0 ? fettle_table_source_get_key (source, self->row) : 0;
      update_adjustments (self);
      fettle_table_bring_row_into_view (self);
    }
  self->column = MAX (self->column, self->n_frozen);
  self->anchor_row = self->row;
  self->anchor_column = self->column;
  fettle_table_tell_position (self);
  fettle_table_redraw (self);
}

static void
on_rows_changed (FettleTableSource *source, FettleTable *self)
{
  fettle_table_look_again (self);
  fettle_table_tell_position (self);
  fettle_table_queue_draw (self);
}

/* ---- where the keyboard is ---- */

static void
on_focus (FettleTable *self)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self->watched));
  gboolean within = focus != NULL && (focus == GTK_WIDGET (self) || gtk_widget_is_ancestor (focus, GTK_WIDGET (self)));

  if (self->within && !within)
    {
      self->within = FALSE;
      g_signal_emit (self, signals[SIGNAL_LEFT], 0);
    }
  self->within = within;
}

static void
fettle_table_root (GtkWidget *widget)
{
  FettleTable *self = FETTLE_TABLE (widget);

  GTK_WIDGET_CLASS (fettle_table_parent_class)->root (widget);
  if (!GTK_IS_WINDOW (gtk_widget_get_root (widget)))
    return;
  self->watched = GTK_WIDGET (gtk_widget_get_root (widget));
  g_signal_connect_swapped (self->watched, "notify::focus-widget", G_CALLBACK (on_focus), self);
}

static void
fettle_table_unroot (GtkWidget *widget)
{
  FettleTable *self = FETTLE_TABLE (widget);

  if (self->watched != NULL)
    g_signal_handlers_disconnect_by_func (self->watched, on_focus, self);
  self->watched = NULL;
  GTK_WIDGET_CLASS (fettle_table_parent_class)->unroot (widget);
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
  g_clear_pointer (&self->placeholder, g_free);
  g_clear_pointer (&self->base, g_free);
  g_clear_pointer (&self->titles, g_array_unref);
  g_clear_pointer (&self->lefts, g_array_unref);
  fettle_table_forget_drawing (self);
  g_clear_pointer (&self->laid_out, g_hash_table_unref);

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
  widget_class->state_flags_changed = fettle_table_state_flags_changed;
  widget_class->grab_focus = fettle_table_grab_focus;
  widget_class->root = fettle_table_root;
  widget_class->unroot = fettle_table_unroot;

  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");

  signals[SIGNAL_MOVED] = g_signal_new ("moved", FETTLE_TYPE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[SIGNAL_LEFT] = g_signal_new ("left", FETTLE_TYPE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_REFUSED] = g_signal_new ("refused", FETTLE_TYPE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_css_name (widget_class, "fettletable");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TABLE);
}

static void
fettle_table_init (FettleTable *self)
{
  self->titles = g_array_new (FALSE, FALSE, sizeof (int));
  self->lefts = g_array_new (FALSE, FALSE, sizeof (int));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  fettle_table_set_up_drawing (self);
  fettle_table_set_up_text (self);
  fettle_table_set_up_keys (self);
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

  fettle_table_stop (self);
  fettle_table_forget_widths (self);
  if (self->source != NULL)
    g_signal_handlers_disconnect_by_data (self->source, self);
  g_set_object (&self->source, source);
  self->row = self->anchor_row = 0;
  self->column = self->anchor_column = self->n_frozen;
  self->key = fettle_table_n_rows (self) > 0 ? fettle_table_source_get_key (source, 0) : 0;
  if (source != NULL)
    {
      g_signal_connect (source, "reset", G_CALLBACK (on_reset), self);
      g_signal_connect (source, "rows-changed", G_CALLBACK (on_rows_changed), self);
    }
  update_adjustments (self);
  fettle_table_bring_row_into_view (self);
  fettle_table_tell_position (self);
  fettle_table_redraw (self);
}

FettleTableSource *
fettle_table_get_source (FettleTable *self)
{
  return self->source;
}

/**
 * fettle_table_set_placeholder:
 * @self: a table
 * @words: (nullable): what is said where there are no rows
 */
void
fettle_table_set_placeholder (FettleTable *self, const char *words)
{
  g_return_if_fail (FETTLE_IS_TABLE (self));

  if (g_strcmp0 (self->placeholder, words) == 0)
    return;
  g_free (self->placeholder);
  self->placeholder = g_strdup (words);
  fettle_table_tell_position (self);
  fettle_table_queue_draw (self);
}

gboolean
fettle_table_row_at (FettleTable *self, double y, guint *row)
{
  int line = fettle_table_line (self);
  double down = y - line + fettle_table_scrolled (self);

  g_return_val_if_fail (FETTLE_IS_TABLE (self), FALSE);

  if (y < line || down < 0 || down / line >= fettle_table_n_rows (self))
    return FALSE;
  *row = (guint) (down / line);
  return TRUE;
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
  if (fettle_table_take (self))
    fettle_table_go_to (self, row, self->column);
}

/**
 * fettle_table_go_to_cell:
 * @self: a table
 * @row: which row
 * @column: which of its cells
 *
 * As fettle_table_go(), and makes that cell the one that typing goes into.
 */
void
fettle_table_go_to_cell (FettleTable *self, guint row, guint column)
{
  if (fettle_table_take (self))
    fettle_table_go_to (self, row, column);
}

/**
 * fettle_table_set_grid:
 * @self: a table without a source yet
 * @n_frozen: columns that stay at the left and are never current
 *
 * Makes it a grid to be filled in (see above).
 */
void
fettle_table_set_grid (FettleTable *self, guint n_frozen)
{
  self->grid = TRUE;
  self->n_frozen = n_frozen;
  self->column = self->anchor_column = n_frozen;
}

/* Enter goes right rather than down. */
void
fettle_table_set_rightward (FettleTable *self, gboolean rightward)
{
  self->rightward = rightward;
}

gboolean
fettle_table_get_cell (FettleTable *self, guint *row, guint *column)
{
  *row = self->row;
  *column = self->column;
  return self->row < fettle_table_n_rows (self);
}

/**
 * fettle_table_edit:
 * @self: a table
 *
 * Begins to type into the current cell, or the first of its row that can be typed into.
 */
void
fettle_table_edit (FettleTable *self)
{
  if (!self->editing)
    fettle_table_begin_in_row (self, NULL);
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
  return fettle_table_take (self);
}
