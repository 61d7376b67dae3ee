/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet-view.h"

#include "ledger.h"
#include "unparent.h"

struct _FettleSheetView
{
  GtkWidget parent_instance;

  GtkLabel     *heading;
  GtkWidget    *frame;
  FettleLedger *ledger; /* NULL until it is shown first; made anew for other columns */
  char         *name;
  char         *columns; /* heads of those shown */
  GArray       *records; /* Leads */
  gint64        item;    /* of the selected row */
  gboolean      setting;

  FettleSheetLead lead; /* NULL: a row leads to its record */
  gpointer        user_data;
};

enum { SELECTED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Where a row leads. */
typedef struct
{
  const char *record;
  gint64      key;
  gint64      item;
} Leads;

G_DEFINE_FINAL_TYPE (FettleSheetView, fettle_sheet_view, GTK_TYPE_WIDGET)

static void
on_activated (FettleSheetView *self, guint row)
{
  const Leads *leads = row < self->records->len ? &g_array_index (self->records, Leads, row) : NULL;

  if (leads == NULL || leads->record == NULL || leads->key == 0)
    return;
  if (self->lead != NULL)
    self->lead (leads->record, leads->key, self->user_data);
  else if (g_str_equal (leads->record, "unit")) /* as it was built, not its readings */
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "x", leads->key);
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", leads->record, leads->key);
}

/* Rows come and go while a table is set: only what is selected in the end counts. */
static void
on_selected (FettleSheetView *self)
{
  int row = self->setting || self->ledger == NULL ? -1 : fettle_ledger_get_selected (self->ledger);
  gint64 item = row >= 0 && (guint) row < self->records->len ? g_array_index (self->records, Leads, row).item : 0;

  if (self->setting || item == self->item)
    return;
  self->item = item;
  g_signal_emit (self, signals[SELECTED], 0, item);
}

static void
make_ledger (FettleSheetView *self, const PresentSheet *sheet)
{
  g_autofree FettleLedgerColumn *columns = g_new0 (FettleLedgerColumn, sheet->columns->len + 1);
  g_autoptr(GString) heads = g_string_new (NULL);

  for (guint i = 0; i < sheet->columns->len; i++)
    {
      const PresentSheetColumn *column = &g_array_index (sheet->columns, PresentSheetColumn, i);

      columns[i] = (FettleLedgerColumn){ column->head, column->figures, column->expand, column->weight };
      g_string_append_printf (heads, "%s\n", column->head);
    }
  if (self->ledger != NULL && g_strcmp0 (self->columns, heads->str) == 0)
    return;
  fettle_unparent_children (self->frame);
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, sheet->columns->len, sheet->title));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), self->name);
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  g_signal_connect_object (self->ledger, "activated", G_CALLBACK (on_activated), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->ledger, "selected", G_CALLBACK (on_selected), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->frame), GTK_WIDGET (self->ledger));
  g_free (self->columns);
  self->columns = g_strdup (heads->str);
}

static int
find_row (FettleSheetView *self, const Leads *wanted)
{
  for (guint i = 0; wanted->key != 0 && i < self->records->len; i++)
    {
      const Leads *row = &g_array_index (self->records, Leads, i);

      if (row->key == wanted->key && row->item == wanted->item && g_strcmp0 (row->record, wanted->record) == 0)
        return (int) i;
    }
  return -1;
}

/**
 * fettle_sheet_view_set:
 * @self: the view
 * @sheet: what is shown from now on; copied
 *
 * The row that was selected stays so, wherever it is now.
 */
void
fettle_sheet_view_set (FettleSheetView *self, const PresentSheet *sheet)
{
  int selected;
  Leads before = { NULL, 0, 0 };
  gboolean focus;

  g_return_if_fail (FETTLE_IS_SHEET_VIEW (self));

  selected = self->ledger != NULL ? fettle_ledger_get_selected (self->ledger) : -1;
  focus = self->ledger != NULL && gtk_widget_get_focus_child (self->frame) != NULL;
  if (selected >= 0 && (guint) selected < self->records->len)
    before = g_array_index (self->records, Leads, selected);
  self->setting = TRUE;
  make_ledger (self, sheet);
  gtk_label_set_label (self->heading, sheet->title);
  fettle_ledger_clear (self->ledger);
  g_array_set_size (self->records, 0);
  for (guint i = 0; i < sheet->rows->len; i++)
    {
      const PresentSheetRow *row = &g_array_index (sheet->rows, PresentSheetRow, i);
      Leads leads = { row->record, row->key, row->item };

      fettle_ledger_add (self->ledger, (const char *const *) row->cells, row->words, row->open ? "open" : NULL);
      g_array_append_val (self->records, leads);
    }
  if (find_row (self, &before) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, &before), focus);
  else if (focus && selected >= 0 && sheet->rows->len > 0) /* it is gone: the keyboard stays at its place */
    fettle_ledger_select (self->ledger, MIN (selected, (int) sheet->rows->len - 1), TRUE);
  self->setting = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self), sheet->rows->len > 0);
  on_selected (self);
}

/**
 * fettle_sheet_view_focus:
 * @self: the view
 *
 * Gives the selected row the keyboard, else the first.
 */
void
fettle_sheet_view_focus (FettleSheetView *self)
{
  g_return_if_fail (FETTLE_IS_SHEET_VIEW (self));

  if (self->ledger != NULL && self->records->len > 0)
    fettle_ledger_select (self->ledger, MAX (fettle_ledger_get_selected (self->ledger), 0), TRUE);
}

/**
 * fettle_sheet_view_select:
 * @self: the view
 * @item: of a row (present-sheet.h); 0, or one that no row has: none
 *
 * Selects a row, with the keyboard where that is in the table already. Nobody is told.
 */
void
fettle_sheet_view_select (FettleSheetView *self, gint64 item)
{
  int row = -1;

  g_return_if_fail (FETTLE_IS_SHEET_VIEW (self));

  for (guint i = 0; item != 0 && i < self->records->len; i++)
    if (g_array_index (self->records, Leads, i).item == item)
      row = (int) i;
  self->item = row >= 0 ? item : 0;
  if (self->ledger == NULL || row == fettle_ledger_get_selected (self->ledger))
    return;
  self->setting = TRUE;
  fettle_ledger_select (self->ledger, row, gtk_widget_get_focus_child (self->frame) != NULL);
  self->setting = FALSE;
}

/**
 * fettle_sheet_view_set_lead:
 * @self: the view
 * @lead: where a row leads, in place of its record
 * @user_data: for @lead
 */
void
fettle_sheet_view_set_lead (FettleSheetView *self, FettleSheetLead lead, gpointer user_data)
{
  g_return_if_fail (FETTLE_IS_SHEET_VIEW (self));

  self->lead = lead;
  self->user_data = user_data;
}

static void
fettle_sheet_view_dispose (GObject *object)
{
  FettleSheetView *self = FETTLE_SHEET_VIEW (object);

  fettle_unparent_children (self);
  self->ledger = NULL;
  G_OBJECT_CLASS (fettle_sheet_view_parent_class)->dispose (object);
}

static void
fettle_sheet_view_finalize (GObject *object)
{
  FettleSheetView *self = FETTLE_SHEET_VIEW (object);

  g_free (self->name);
  g_free (self->columns);
  g_array_unref (self->records);
  G_OBJECT_CLASS (fettle_sheet_view_parent_class)->finalize (object);
}

static void
fettle_sheet_view_class_init (FettleSheetViewClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_sheet_view_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_sheet_view_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[SELECTED] = g_signal_new ("selected", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                    G_TYPE_INT64);
}

static void
fettle_sheet_view_init (FettleSheetView *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  self->records = g_array_new (FALSE, FALSE, sizeof (Leads));
  self->heading = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "css-classes",
                                (const char *[]){ "section", "spaced", NULL }, NULL);
  self->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (GTK_WIDGET (self->heading), GTK_WIDGET (self));
  gtk_widget_set_parent (self->frame, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * fettle_sheet_view_new:
 * @name: of its ledger, for tests
 *
 * Returns: a view of nothing
 */
GtkWidget *
fettle_sheet_view_new (const char *name)
{
  FettleSheetView *self = g_object_new (FETTLE_TYPE_SHEET_VIEW, NULL);

  self->name = g_strdup (name);
  return GTK_WIDGET (self);
}
