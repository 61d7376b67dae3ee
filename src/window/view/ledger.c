/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Head and rows are lines that share the columns' widths. The list box gives selection, keyboard
 * and a row role for screen readers; each row is named by one sentence, so that nobody has to hear cell by cell.
 */
#include "config.h"

#include "ledger.h"

#include "keyboard.h"
#include "ledger-line.h"
#include "reveal.h"

struct _FettleLedger
{
  GtkWidget parent_instance;

  GtkWidget          *box;
  GtkWidget          *head;
  gboolean            is_page;   /* the page selects, and nobody asked for that row */
  gboolean            forgotten; /* all sizes, since they were last measured */
  GtkListBox         *list;
  GArray             *shared; /* FettleLedgerShared */
  FettleLedgerDetail  make;
  gpointer            user_data;
  GtkWidget          *detail; /* of the selected row */
};

enum { ACTIVATED, SELECTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleLedger, fettle_ledger, GTK_TYPE_WIDGET)

/* Widths are known once the labels have their style, so they are asked when the table is first measured. */
static void
share_widths (FettleLedger *self)
{
  for (guint i = 0; i < self->shared->len; i++)
    {
      FettleLedgerShared *column = &g_array_index (self->shared, FettleLedgerShared, i);
      GtkListBoxRow *row;
      int width, row_width;

      gtk_widget_measure (fettle_ledger_line_cell (FETTLE_LEDGER_LINE (self->head), i), GTK_ORIENTATION_HORIZONTAL, -1, NULL,
                          &width, NULL, NULL);
      for (int at = 0; (row = gtk_list_box_get_row_at_index (self->list, at)) != NULL; at++)
        {
          GtkWidget *line = gtk_widget_get_first_child (gtk_list_box_row_get_child (row));

          gtk_widget_measure (fettle_ledger_line_cell (FETTLE_LEDGER_LINE (line), i), GTK_ORIENTATION_HORIZONTAL, -1, NULL,
                              &row_width, NULL, NULL);
          width = MAX (width, row_width);
        }
      column->width = width;
    }
}

/* Other cells may make other widths, which head and all rows share: none may keep the size it was measured to. */
static void
forget_sizes (FettleLedger *self)
{
  GtkListBoxRow *row;

  if (self->forgotten)
    return;
  self->forgotten = TRUE;
  gtk_widget_queue_resize (self->head);
  for (int at = 0; (row = gtk_list_box_get_row_at_index (self->list, at)) != NULL; at++)
    gtk_widget_queue_resize (gtk_widget_get_first_child (gtk_list_box_row_get_child (row)));
}

static void
drop_detail (FettleLedger *self)
{
  GtkWidget *parent;

  if (self->detail == NULL)
    return;

  parent = gtk_widget_get_parent (self->detail);
  if (parent != NULL)
    gtk_box_remove (GTK_BOX (parent), self->detail);
  self->detail = NULL;
}

static void
show_detail (FettleLedger *self, GtkListBoxRow *row)
{
  self->detail = self->make ((guint) gtk_list_box_row_get_index (row), self->user_data);
  if (self->detail != NULL)
    {
      gtk_widget_add_css_class (self->detail, "detail");
      gtk_box_append (GTK_BOX (gtk_list_box_row_get_child (row)), self->detail);
      if (self->is_page)
        fettle_reveal_late (GTK_WIDGET (row));
      else
        fettle_reveal (GTK_WIDGET (row));
    }
}

static void
on_row_selected (FettleLedger *self, GtkListBoxRow *row)
{
  drop_detail (self);
  if (row != NULL && self->make != NULL)
    show_detail (self, row);
  g_signal_emit (self, signals[SELECTED], 0);
}

static void
on_row_activated (FettleLedger *self, GtkListBoxRow *row)
{
  g_signal_emit (self, signals[ACTIVATED], 0, (guint) gtk_list_box_row_get_index (row));
}

static gboolean
on_key (FettleLedger *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  if (keyval != GDK_KEY_Escape || gtk_list_box_get_selected_row (self->list) == NULL)
    return GDK_EVENT_PROPAGATE;

  gtk_list_box_unselect_all (self->list);
  return GDK_EVENT_STOP;
}

static void
fettle_ledger_dispose (GObject *object)
{
  FettleLedger *self = FETTLE_LEDGER (object);

  if (self->list != NULL)
    g_signal_handlers_disconnect_by_func (self->list, on_row_selected, self);
  self->list = NULL;
  self->detail = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_ledger_parent_class)->dispose (object);
}

static void
fettle_ledger_finalize (GObject *object)
{
  FettleLedger *self = FETTLE_LEDGER (object);

  g_clear_pointer (&self->shared, g_array_unref);
  G_OBJECT_CLASS (fettle_ledger_parent_class)->finalize (object);
}

static void
fettle_ledger_measure (GtkWidget     *widget,
                       GtkOrientation orientation,
                       int            for_size,
                       int           *minimum,
                       int           *natural,
                       int           *minimum_baseline,
                       int           *natural_baseline)
{
  FettleLedger *self = FETTLE_LEDGER (widget);

  self->forgotten = FALSE;
  share_widths (self);
  gtk_widget_measure (self->box, orientation, for_size, minimum, natural, NULL, NULL);
}

static void
fettle_ledger_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  gtk_widget_size_allocate (FETTLE_LEDGER (widget)->box, &(GtkAllocation){ 0, 0, width, height }, -1);
}

static GtkSizeRequestMode
fettle_ledger_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
fettle_ledger_class_init (FettleLedgerClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->dispose = fettle_ledger_dispose;
  object_class->finalize = fettle_ledger_finalize;
  GTK_WIDGET_CLASS (class)->measure = fettle_ledger_measure;
  GTK_WIDGET_CLASS (class)->size_allocate = fettle_ledger_size_allocate;
  GTK_WIDGET_CLASS (class)->get_request_mode = fettle_ledger_get_request_mode;
  signals[ACTIVATED] = g_signal_new ("activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                     G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[SELECTED] = g_signal_new ("selected", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_ledger_init (FettleLedger *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (self->box, "sheet");
  gtk_widget_set_overflow (self->box, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "ledger");
  gtk_list_box_set_activate_on_single_click (self->list, FALSE);
  g_signal_connect_swapped (self->list, "row-selected", G_CALLBACK (on_row_selected), self);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row_activated), self);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), key);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->list));
}

/**
 * fettle_ledger_new:
 * @columns: (array length=n_columns): copied with their texts
 * @n_columns: length of @columns
 * @label: what is listed, for a screen reader
 *
 * Returns: a table without rows
 */
GtkWidget *
fettle_ledger_new (const FettleLedgerColumn *columns, guint n_columns, const char *label)
{
  FettleLedger *self = g_object_new (FETTLE_TYPE_LEDGER, NULL);
  g_autofree const char **heads = g_new0 (const char *, n_columns + 1);

  self->shared = g_array_new (FALSE, TRUE, sizeof (FettleLedgerShared));
  for (guint i = 0; i < n_columns; i++)
    {
      FettleLedgerShared column = { columns[i].figures, columns[i].expand, columns[i].weight, 0 };

      g_array_append_val (self->shared, column);
      heads[i] = columns[i].head;
    }
  self->head = fettle_ledger_line_new (self->shared, heads);
  gtk_widget_add_css_class (self->head, "ledger-head");
  gtk_box_prepend (GTK_BOX (self->box), self->head);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (self);
}

/**
 * fettle_ledger_set_detail:
 * @self: a table
 * @make: makes what a selected row shows below its cells
 * @user_data: for @make
 *
 * Lets the selected row open.
 */
void
fettle_ledger_set_detail (FettleLedger *self, FettleLedgerDetail make, gpointer user_data)
{
  g_return_if_fail (FETTLE_IS_LEDGER (self));

  self->make = make;
  self->user_data = user_data;
}

/**
 * fettle_ledger_clear:
 * @self: a table
 *
 * Takes all rows away.
 */
void
fettle_ledger_clear (FettleLedger *self)
{
  GtkListBoxRow *row;

  g_return_if_fail (FETTLE_IS_LEDGER (self));

  gtk_list_box_unselect_all (self->list);
  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
}

/**
 * fettle_ledger_add:
 * @self: a table
 * @cells: one text for each column
 * @words: the row in one sentence, for a screen reader
 * @css_class: (nullable): of the last cell, the one that says the state
 *
 * Adds a row at the end.
 */
void
fettle_ledger_add (FettleLedger *self, const char *const *cells, const char *words, const char *css_class)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = fettle_ledger_line_new (self->shared, cells);

  gtk_widget_add_css_class (line, "cells");
  if (css_class != NULL)
    gtk_widget_add_css_class (fettle_ledger_line_cell (FETTLE_LEDGER_LINE (line), self->shared->len - 1), css_class);
  gtk_box_append (GTK_BOX (box), line);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  forget_sizes (self);
  gtk_list_box_append (self->list, row);
}

/**
 * fettle_ledger_name:
 * @self: a table
 * @row: index of a row
 * @name: what it is known by when the rows are made anew (way.h)
 *
 * Names a row.
 */
void
fettle_ledger_name (FettleLedger *self, guint row, const char *name)
{
  g_return_if_fail (FETTLE_IS_LEDGER (self));

  gtk_widget_set_name (GTK_WIDGET (gtk_list_box_get_row_at_index (self->list, (int) row)), name);
}

/**
 * fettle_ledger_change:
 * @self: a table
 * @row: index of a row
 * @cells: as fettle_ledger_add()
 * @words: as fettle_ledger_add()
 * @css_class: (nullable): as fettle_ledger_add()
 *
 * Writes other cells into a row; what it shows below them stays, with what is typed there.
 */
void
fettle_ledger_change (FettleLedger *self, guint row, const char *const *cells, const char *words, const char *css_class)
{
  GtkListBoxRow *found;
  GtkWidget *line, *last;

  g_return_if_fail (FETTLE_IS_LEDGER (self));

  found = gtk_list_box_get_row_at_index (self->list, (int) row);
  g_return_if_fail (found != NULL);

  forget_sizes (self);
  line = gtk_widget_get_first_child (gtk_list_box_row_get_child (found));
  for (guint i = 0; i < self->shared->len; i++)
    gtk_label_set_label (GTK_LABEL (fettle_ledger_line_cell (FETTLE_LEDGER_LINE (line), i)), cells[i]);
  last = fettle_ledger_line_cell (FETTLE_LEDGER_LINE (line), self->shared->len - 1);
  gtk_widget_remove_css_class (last, "open");
  gtk_widget_remove_css_class (last, "dim");
  if (css_class != NULL)
    gtk_widget_add_css_class (last, css_class);
  gtk_accessible_update_property (GTK_ACCESSIBLE (found), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

/**
 * fettle_ledger_get_selected:
 * @self: a table
 *
 * Returns: index of the selected row, -1 for none
 */
int
fettle_ledger_get_selected (FettleLedger *self)
{
  GtkListBoxRow *row;

  g_return_val_if_fail (FETTLE_IS_LEDGER (self), -1);

  row = gtk_list_box_get_selected_row (self->list);
  return row == NULL ? -1 : gtk_list_box_row_get_index (row);
}

/**
 * fettle_ledger_get_detail:
 * @self: a table
 *
 * Returns: (transfer none) (nullable): what the selected row shows below its cells
 */
GtkWidget *
fettle_ledger_get_detail (FettleLedger *self)
{
  g_return_val_if_fail (FETTLE_IS_LEDGER (self), NULL);

  return self->detail;
}

/**
 * fettle_ledger_select:
 * @self: a table
 * @row: index, -1 for none
 * @focus: move the focus to the row, which also brings it into view; else it is brought there unless it begins in the upper
 *   half of what is seen
 *
 * Selects a row and opens it.
 */
void
fettle_ledger_select (FettleLedger *self, int row, gboolean focus)
{
  GtkListBoxRow *found;

  g_return_if_fail (FETTLE_IS_LEDGER (self));

  found = row < 0 ? NULL : gtk_list_box_get_row_at_index (self->list, row);
  self->is_page = !focus;
  gtk_list_box_select_row (self->list, found);
  self->is_page = FALSE;
  if (found != NULL && focus)
    gtk_widget_grab_focus (GTK_WIDGET (found));
}

/**
 * fettle_ledger_begin:
 * @self: a table
 * @page: that it is the list of
 *
 * Gives the keyboard to the selected row, else to the first one, which does not open it: Tab would. What has it on @page
 * keeps it.
 *
 * Returns: whether @page has it; %FALSE when there is no row
 */
gboolean
fettle_ledger_begin (FettleLedger *self, GtkWidget *page)
{
  GtkListBoxRow *row;

  g_return_val_if_fail (FETTLE_IS_LEDGER (self), FALSE);

  if (fettle_keyboard_is_in (page))
    return TRUE;
  row = gtk_list_box_get_selected_row (self->list);
  if (row == NULL)
    row = gtk_list_box_get_row_at_index (self->list, 0);
  return row != NULL && gtk_widget_grab_focus (GTK_WIDGET (row));
}
