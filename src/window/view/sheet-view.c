/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet-view.h"

#include <glib/gi18n.h>

#include "ledger.h"
#include "reveal.h"
#include "tip.h"
#include "unparent.h"
#include "way.h"
#include "wrap.h"

#define SOURCE_GAP   4
#define SOURCE_CHARS 48 /* of a button; the rest is told by its tooltip */
#define FEW_SOURCES  12 /* of more only so many are shown before they are asked for */

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
  char         *unfolded; /* name of the row that shows all its sources; NULL: none */
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
  GArray     *sources; /* (nullable): PresentSheetSource */
  char       *name;    /* of the row: after its record, else its first cell */
} Leads;

G_DEFINE_FINAL_TYPE (FettleSheetView, fettle_sheet_view, GTK_TYPE_WIDGET)

static void
clear_leads (gpointer data)
{
  Leads *leads = data;

  g_clear_pointer (&leads->sources, g_array_unref);
  g_free (leads->name);
}

static void
go (FettleSheetView *self, const char *record, gint64 key)
{
  if (self->lead != NULL)
    self->lead (record, key, self->user_data);
  else if (g_str_equal (record, "unit")) /* as it was built, not its readings */
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "x", key);
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", record, key);
}

static void
on_activated (FettleSheetView *self, guint row)
{
  const Leads *leads = row < self->records->len ? &g_array_index (self->records, Leads, row) : NULL;

  if (leads == NULL)
    return;
  if (leads->record != NULL && leads->key != 0)
    go (self, leads->record, leads->key);
  else if (leads->sources != NULL && leads->sources->len == 1)
    go (self, g_array_index (leads->sources, PresentSheetSource, 0).record, g_array_index (leads->sources, PresentSheetSource, 0).key);
  else if (leads->sources != NULL && fettle_ledger_get_detail (self->ledger) != NULL)
    gtk_widget_child_focus (fettle_ledger_get_detail (self->ledger), GTK_DIR_TAB_FORWARD);
}

static void
on_source (GtkButton *button, FettleSheetView *self)
{
  const PresentSheetSource *source = g_object_get_data (G_OBJECT (button), "source");

  go (self, source->record, source->key);
}

static void
add_source (FettleSheetView *self, GtkWidget *wrap, PresentSheetSource *source)
{
  GtkWidget *button = gtk_button_new (), *label = gtk_label_new (source->words);
  g_autofree char *name = fettle_way_name (source->record, source->key);

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (label), SOURCE_CHARS);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_widget_set_name (button, name);
  gtk_widget_add_css_class (button, "words");
  fettle_tip_set (button, source->words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, source->words, -1);
  g_object_set_data (G_OBJECT (button), "source", source);
  g_signal_connect (button, "clicked", G_CALLBACK (on_source), self);
  fettle_wrap_add (FETTLE_WRAP (wrap), button);
}

/* The others come in place of the button, and the first of them has the keyboard. */
static void
on_all (GtkButton *button, FettleSheetView *self)
{
  const Leads *leads = &g_array_index (self->records, Leads, (guint) fettle_ledger_get_selected (self->ledger));
  GtkWidget *wrap = gtk_widget_get_parent (GTK_WIDGET (button));
  GtkWidget *last = gtk_widget_get_prev_sibling (GTK_WIDGET (button));

  g_free (self->unfolded);
  self->unfolded = g_strdup (leads->name);
  for (guint i = FEW_SOURCES; i < leads->sources->len; i++)
    add_source (self, wrap, &g_array_index (leads->sources, PresentSheetSource, i));
  gtk_widget_grab_focus (gtk_widget_get_next_sibling (GTK_WIDGET (button)));
  gtk_widget_unparent (GTK_WIDGET (button));
  fettle_reveal (last);
}

static void
add_all (FettleSheetView *self, GtkWidget *wrap, guint n)
{
  g_autofree char *words = g_strdup_printf (ngettext ("All %u…", "All %u…", n), n);
  GtkWidget *button = gtk_button_new_with_label (words);

  gtk_widget_set_name (button, "sheet-all-sources");
  gtk_widget_add_css_class (button, "words");
  gtk_widget_add_css_class (button, "open");
  fettle_tip_set (button, _("Shows every record that the figures of this row are made of."));
  g_signal_connect (button, "clicked", G_CALLBACK (on_all), self);
  fettle_wrap_add (FETTLE_WRAP (wrap), button);
}

/*
 * The records that the figures of a row are made of: many of them only when they are asked for. The array outlives the
 * buttons: both belong to the row.
 */
static GtkWidget *
make_sources (guint row, gpointer data)
{
  FettleSheetView *self = data;
  const Leads *leads = row < self->records->len ? &g_array_index (self->records, Leads, row) : NULL;
  GArray *sources = leads != NULL ? leads->sources : NULL;
  GtkWidget *wrap;
  guint n;

  if (sources == NULL)
    return NULL;
  /* One more than a few would need as much room as the button. */
  n = sources->len <= FEW_SOURCES + 1 || g_strcmp0 (self->unfolded, leads->name) == 0 ? sources->len : FEW_SOURCES;
  wrap = fettle_wrap_new (SOURCE_GAP);
  gtk_widget_set_name (wrap, "sheet-sources");
  fettle_wrap_add (FETTLE_WRAP (wrap), g_object_new (GTK_TYPE_LABEL, "label", _("Made of:"), "css-classes",
                                                     (const char *[]){ "dim", "small", NULL }, NULL));
  for (guint i = 0; i < n; i++)
    add_source (self, wrap, &g_array_index (sources, PresentSheetSource, i));
  if (n < sources->len)
    add_all (self, wrap, sources->len);
  return wrap;
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

/* The source whose button has the keyboard; NULL: none has. */
static const PresentSheetSource *
focused_source (FettleSheetView *self)
{
  GtkWidget *detail = self->ledger != NULL ? fettle_ledger_get_detail (self->ledger) : NULL;
  GtkWidget *button = detail != NULL ? gtk_widget_get_focus_child (detail) : NULL;

  return button != NULL ? g_object_get_data (G_OBJECT (button), "source") : NULL;
}

/* Where the rows were made anew while a source had the keyboard: its button gets it again. */
static void
focus_source (FettleSheetView *self, const char *record, gint64 key)
{
  GtkWidget *detail = fettle_ledger_get_detail (self->ledger);

  for (GtkWidget *each = detail != NULL ? gtk_widget_get_first_child (detail) : NULL; each != NULL;
       each = gtk_widget_get_next_sibling (each))
    {
      const PresentSheetSource *source = g_object_get_data (G_OBJECT (each), "source");

      if (source != NULL && source->key == key && g_str_equal (source->record, record))
        {
          gtk_widget_grab_focus (each);
          return;
        }
    }
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
  fettle_ledger_set_detail (self->ledger, make_sources, self);
  g_signal_connect_object (self->ledger, "activated", G_CALLBACK (on_activated), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->ledger, "selected", G_CALLBACK (on_selected), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->frame), GTK_WIDGET (self->ledger));
  g_free (self->columns);
  self->columns = g_strdup (heads->str);
}

static int
find_row (FettleSheetView *self, const char *name)
{
  for (guint i = 0; name != NULL && i < self->records->len; i++)
    if (g_str_equal (g_array_index (self->records, Leads, i).name, name))
      return (int) i;
  return -1;
}

/* Tells rows apart: after the record and item a row is of; one that leads nowhere by itself after its first cell. */
static char *
name_row (const PresentSheetRow *row)
{
  g_autofree char *record = row->key != 0 ? fettle_way_name (row->record != NULL ? row->record : "", row->key) : g_strdup (row->cells[0]);

  g_strdelimit (record, "\n", ' ');
  return row->item != 0 ? g_strdup_printf ("%s %" G_GINT64_FORMAT, record, row->item) : g_steal_pointer (&record);
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
  g_autofree char *before = NULL;
  gboolean focus;
  const PresentSheetSource *had;
  PresentSheetSource source = { NULL, 0, NULL };

  g_return_if_fail (FETTLE_IS_SHEET_VIEW (self));

  had = focused_source (self);
  if (had != NULL)
    source = (PresentSheetSource){ had->record, had->key, NULL };

  selected = self->ledger != NULL ? fettle_ledger_get_selected (self->ledger) : -1;
  focus = self->ledger != NULL && gtk_widget_get_focus_child (self->frame) != NULL;
  if (selected >= 0 && (guint) selected < self->records->len)
    before = g_strdup (g_array_index (self->records, Leads, selected).name);
  self->setting = TRUE;
  make_ledger (self, sheet);
  gtk_label_set_label (self->heading, sheet->title);
  fettle_ledger_clear (self->ledger);
  g_array_set_size (self->records, 0);
  for (guint i = 0; i < sheet->rows->len; i++)
    {
      const PresentSheetRow *row = &g_array_index (sheet->rows, PresentSheetRow, i);
      Leads leads = { row->record, row->key, row->item, row->sources != NULL ? g_array_ref (row->sources) : NULL,
                      name_row (row) };

      fettle_ledger_add (self->ledger, (const char *const *) row->cells, row->words, row->open ? "open" : NULL);
      fettle_ledger_name (self->ledger, i, leads.name);
      g_array_append_val (self->records, leads);
    }
  if (find_row (self, before) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, before), focus);
  else if (focus && selected >= 0 && sheet->rows->len > 0) /* it is gone: the keyboard stays at its place */
    fettle_ledger_select (self->ledger, MIN (selected, (int) sheet->rows->len - 1), TRUE);
  if (source.record != NULL)
    focus_source (self, source.record, source.key);
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
  g_free (self->unfolded);
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
  g_array_set_clear_func (self->records, clear_leads);
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
