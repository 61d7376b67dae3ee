/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-order.h"

#include "book-order.h"

#define SOURCE "fettle-setup-drag"

/**
 * fettle_setup_order_has:
 * @kind: of the rows
 *
 * Returns: whether they can be moved
 */
gboolean
fettle_setup_order_has (BookRecordId kind)
{
  return kind == BOOK_RECORD_STEP || kind == BOOK_RECORD_GATE;
}

static void
on_moved (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

/**
 * fettle_setup_order_move:
 * @sitting: whose book
 * @kind: of the row, one that has an order
 * @key: of the row
 * @by: by how many places, down when positive
 */
void
fettle_setup_order_move (FettleSitting *sitting, BookRecordId kind, gint64 key, int by)
{
  fettle_sitting_edit (sitting, book_order_move (kind, key, by), on_moved, NULL);
}

/* ---- dragging ---- */

static GdkContentProvider *
on_prepare (GtkDragSource *source, double x, double y, FettleTable *table)
{
  guint row;

  if (fettle_table_is_editing (table) || !fettle_table_row_at (table, y, &row))
    return NULL;
  return gdk_content_provider_new_typed (G_TYPE_UINT, row);
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, FettleTable *table)
{
  guint from = g_value_get_uint (value), to;

  if (!fettle_table_row_at (table, y, &to) || to == from)
    return FALSE;
  fettle_table_go (table, from);
  gtk_widget_activate_action (GTK_WIDGET (table), "setup.move", "i", (int) to - (int) from);
  return TRUE;
}

/* For the life of the table; nothing is dragged until it is enabled. */
void
fettle_setup_order_set_up (FettleTable *table)
{
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_UINT, GDK_ACTION_MOVE);

  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect_object (source, "prepare", G_CALLBACK (on_prepare), table, 0);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop), table, 0);
  gtk_widget_add_controller (GTK_WIDGET (table), GTK_EVENT_CONTROLLER (source));
  gtk_widget_add_controller (GTK_WIDGET (table), GTK_EVENT_CONTROLLER (target));
  g_object_set_data (G_OBJECT (table), SOURCE, source);
  fettle_setup_order_enable (table, FALSE);
}

void
fettle_setup_order_enable (FettleTable *table, gboolean enable)
{
  GtkEventController *source = g_object_get_data (G_OBJECT (table), SOURCE);

  gtk_event_controller_set_propagation_phase (source, enable ? GTK_PHASE_BUBBLE : GTK_PHASE_NONE);
}
