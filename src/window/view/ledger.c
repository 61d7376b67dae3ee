/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Head and rows are boxes of labels; a size group a column keeps them aligned. The list box gives selection, keyboard
 * and a row role for screen readers; each row is named by one sentence, so that nobody has to hear cell by cell.
 */
#include "config.h"

#include "ledger.h"

#define CELL_SPACING 24

struct _FettleLedger
{
  GtkWidget parent_instance;

  GtkWidget          *box;
  GtkWidget          *head;
  GtkListBox         *list;
  FettleLedgerColumn *columns;
  guint               n_columns;
  GtkSizeGroup      **groups;
  FettleLedgerDetail  make;
  gpointer            user_data;
  GtkWidget          *detail; /* of the selected row */
};

enum { ACTIVATED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleLedger, fettle_ledger, GTK_TYPE_WIDGET)

static GtkWidget *
make_cell (FettleLedger *self, guint column, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), self->columns[column].figures ? 1.0f : 0.0f);
  gtk_widget_set_valign (label, GTK_ALIGN_BASELINE);
  if (self->columns[column].figures)
    gtk_widget_add_css_class (label, "num");
  if (self->columns[column].expand)
    {
      gtk_widget_set_hexpand (label, TRUE);
      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_width_chars (GTK_LABEL (label), 16);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
    }
  else
    {
      gtk_size_group_add_widget (self->groups[column], label);
    }
  return label;
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
on_row_selected (FettleLedger *self, GtkListBoxRow *row)
{
  drop_detail (self);
  if (row == NULL || self->make == NULL)
    return;

  self->detail = self->make ((guint) gtk_list_box_row_get_index (row), self->user_data);
  if (self->detail != NULL)
    {
      gtk_widget_add_css_class (self->detail, "detail");
      gtk_box_append (GTK_BOX (gtk_list_box_row_get_child (row)), self->detail);
    }
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

  for (guint i = 0; i < self->n_columns; i++)
    g_clear_object (&self->groups[i]);
  g_free (self->groups);
  g_free (self->columns);
  G_OBJECT_CLASS (fettle_ledger_parent_class)->finalize (object);
}

static void
fettle_ledger_class_init (FettleLedgerClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->dispose = fettle_ledger_dispose;
  object_class->finalize = fettle_ledger_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  signals[ACTIVATED] = g_signal_new ("activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                     G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
fettle_ledger_init (FettleLedger *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (self->box, "sheet");
  gtk_widget_set_overflow (self->box, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, CELL_SPACING);
  gtk_widget_add_css_class (self->head, "ledger-head");
  gtk_box_append (GTK_BOX (self->box), self->head);
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
 * @columns: (array length=n_columns): copied; the heads must outlive the call only
 * @n_columns: length of @columns
 * @label: what is listed, for a screen reader
 *
 * Returns: a table without rows
 */
GtkWidget *
fettle_ledger_new (const FettleLedgerColumn *columns, guint n_columns, const char *label)
{
  FettleLedger *self = g_object_new (FETTLE_TYPE_LEDGER, NULL);

  self->columns = g_memdup2 (columns, n_columns * sizeof *columns);
  self->n_columns = n_columns;
  self->groups = g_new0 (GtkSizeGroup *, n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      self->groups[i] = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
      gtk_box_append (GTK_BOX (self->head), make_cell (self, i, columns[i].head));
      self->columns[i].head = NULL;
    }
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
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, CELL_SPACING);
  GtkWidget *cell = NULL;

  g_return_if_fail (FETTLE_IS_LEDGER (self));

  gtk_widget_add_css_class (line, "cells");
  for (guint i = 0; i < self->n_columns; i++)
    {
      cell = make_cell (self, i, cells[i]);
      gtk_box_append (GTK_BOX (line), cell);
    }
  if (css_class != NULL && cell != NULL)
    gtk_widget_add_css_class (cell, css_class);
  gtk_box_append (GTK_BOX (box), line);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_list_box_append (self->list, row);
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
 * fettle_ledger_select:
 * @self: a table
 * @row: index, -1 for none
 * @focus: move the focus to the row, which also brings it into view
 *
 * Selects a row and opens it.
 */
void
fettle_ledger_select (FettleLedger *self, int row, gboolean focus)
{
  GtkListBoxRow *found;

  g_return_if_fail (FETTLE_IS_LEDGER (self));

  found = row < 0 ? NULL : gtk_list_box_get_row_at_index (self->list, row);
  gtk_list_box_select_row (self->list, found);
  if (found != NULL && focus)
    gtk_widget_grab_focus (GTK_WIDGET (found));
}
