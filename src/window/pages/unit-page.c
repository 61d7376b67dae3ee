/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "unit-page.h"

#include <glib/gi18n.h>

#include "ledger.h"
#include "present-unit.h"
#include "reveal.h"
#include "today.h"
#include "unit-answer.h"
#include "unit-form.h"
#include "unparent.h"

#define COLUMNS_MOST 8

/* The page's tables, in their order. */
typedef enum
{
  TABLE_HOLDERS,
  TABLE_ISSUES,
  TABLE_PARTS,
  TABLE_EVENTS,
  TABLE_READINGS,
  N_TABLES
} Table;

struct _FettleUnitPage
{
  GtkBox parent_instance;

  FettleSitting    *sitting;
  FettleSpan        span;
  FettleUnitAsk     wanted; /* its model and today are put in with each question */
  FettleUnitAnswer *answer; /* shown */
  GCancellable     *asking;
  gboolean          focus_wanted; /* with the next answer */
  GtkWidget        *form;         /* NULL: none is open */
  GtkToggleButton  *form_button;  /* that opened it */

  GtkLabel        *title;
  GtkLabel        *words;
  GtkWidget       *history;
  GtkWidget       *to_readings;
  GtkToggleButton *built;
  GtkToggleButton *event;
  GtkToggleButton *aside;
  GtkToggleButton *serial;
  GtkWidget       *form_place;
  GtkWidget       *sections;
  GtkWidget       *headings[N_TABLES];
  FettleLedger    *tables[N_TABLES];
};

static void fettle_unit_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleUnitPage, fettle_unit_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_unit_page_page_init))

/* ---- the answer ---- */

static GPtrArray *
rows_of (const FettleUnitAnswer *answer, Table table)
{
  switch (table)
    {
    case TABLE_HOLDERS:
      return answer->holders;
    case TABLE_ISSUES:
      return answer->issues;
    case TABLE_PARTS:
      return answer->parts;
    case TABLE_EVENTS:
      return answer->events;
    case TABLE_READINGS:
      return answer->readings;
    case N_TABLES:
      break;
    }
  g_return_val_if_reached (NULL);
}

static void
show_table (FettleUnitPage *self, Table table)
{
  GPtrArray *rows = rows_of (self->answer, table);

  fettle_ledger_clear (self->tables[table]);
  for (guint i = 0; i < rows->len; i++)
    {
      const FettleUnitRow *row = g_ptr_array_index (rows, i);
      g_autofree char *words = g_strjoinv (", ", row->cells);

      fettle_ledger_add (self->tables[table], (const char *const *) row->cells, words, row->open ? "open" : NULL);
    }
  gtk_widget_set_visible (self->headings[table], rows->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->tables[table]), rows->len > 0);
}

static void
show_buttons (FettleUnitPage *self)
{
  gboolean is_unit = self->answer->unit != 0;

  gtk_widget_set_visible (self->history, TRUE);
  gtk_widget_set_visible (self->to_readings, self->answer->readings->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->built), is_unit && self->answer->parts->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->event), is_unit);
  gtk_widget_set_visible (GTK_WIDGET (self->aside), is_unit);
  gtk_widget_set_visible (GTK_WIDGET (self->serial), is_unit);
}

static void
show_answer (FettleUnitPage *self, FettleUnitAnswer *answer)
{
  int part = fettle_ledger_get_selected (self->tables[TABLE_PARTS]);

  g_clear_pointer (&self->answer, fettle_unit_answer_free);
  self->answer = answer;
  gtk_label_set_label (self->title, answer->title);
  gtk_label_set_label (self->words, answer->words);
  show_buttons (self);
  for (guint i = 0; i < N_TABLES; i++)
    show_table (self, (Table) i);
  if (part >= 0 && (guint) part < answer->parts->len)
    fettle_ledger_select (self->tables[TABLE_PARTS], part, FALSE);
  if (self->focus_wanted)
    gtk_widget_grab_focus (self->history);
  self->focus_wanted = FALSE;
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleUnitPage) self = data;
  g_autoptr(GError) error = NULL;
  FettleUnitAnswer *answer;

  if (self->sitting == NULL)
    return;
  answer = fettle_sitting_ask_finish (self->sitting, result, &error);
  if (answer != NULL)
    show_answer (self, answer);
  else
    fettle_sitting_say_error (self->sitting, error);
}

static void
ask (FettleUnitPage *self)
{
  FettleUnitAsk *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0 || (self->wanted.unit == 0 && self->wanted.lot == 0 && self->wanted.revision == 0))
    return;
  self->asking = g_cancellable_new ();
  question = g_memdup2 (&self->wanted, sizeof self->wanted);
  question->model = self->span.model;
  question->today = fettle_today ();
  fettle_sitting_ask (self->sitting, fettle_unit_answer_read, question, fettle_unit_ask_free, fettle_unit_answer_free,
                      self->asking, on_answer, g_object_ref (self));
}

/* ---- forms: one at a time, above the tables ---- */

static void
close_form (FettleUnitPage *self)
{
  GtkToggleButton *button = self->form_button;

  if (self->form == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->form, self);
  if ((gtk_widget_get_state_flags (self->form) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_grab_focus (GTK_WIDGET (button)); /* before the form goes */
  fettle_unparent_children (self->form_place);
  self->form = NULL;
  self->form_button = NULL;
  gtk_widget_set_visible (self->form_place, FALSE);
  gtk_toggle_button_set_active (button, FALSE);
}

static void
open_form (FettleUnitPage *self, GtkToggleButton *button, GtkWidget *form)
{
  close_form (self);
  self->form = form;
  self->form_button = button;
  gtk_box_append (GTK_BOX (self->form_place), form);
  gtk_widget_set_visible (self->form_place, TRUE);
  g_signal_connect_swapped (form, "closed", G_CALLBACK (close_form), self);
  fettle_record_form_focus (FETTLE_RECORD_FORM (form), NULL);
  fettle_reveal (self->form_place);
}

/* The part that is selected, else the first. */
static GtkWidget *
make_part_form (FettleUnitPage *self)
{
  int selected = fettle_ledger_get_selected (self->tables[TABLE_PARTS]);
  const FettleUnitRow *row = g_ptr_array_index (self->answer->parts, (guint) MAX (selected, 0));

  if (selected < 0)
    fettle_ledger_select (self->tables[TABLE_PARTS], 0, FALSE);
  return fettle_unit_form_part (self->sitting, self->answer->unit, row->row, row->part, row->step, row->revision, row->lot);
}

static void
on_form_button (FettleUnitPage *self, GtkToggleButton *button)
{
  if (!gtk_toggle_button_get_active (button))
    {
      if (button == self->form_button)
        close_form (self);
      return;
    }
  if (!fettle_sitting_need_person (self->sitting)) /* what happened to a unit is said by somebody */
    {
      gtk_toggle_button_set_active (button, FALSE);
      return;
    }
  if (button == self->built)
    open_form (self, button, make_part_form (self));
  else if (button == self->event)
    open_form (self, button, fettle_unit_form_event (self->sitting, self->answer->unit));
  else if (button == self->serial)
    open_form (self, button, fettle_unit_form_serial (self->sitting, self->answer->unit));
  else
    open_form (self, button, fettle_unit_form_aside (self->sitting, self->answer->unit));
}

/* ---- what a person does ---- */

static void
on_row_activated (FettleUnitPage *self, guint row, FettleLedger *ledger)
{
  for (guint i = 0; i < N_TABLES; i++)
    if (self->tables[i] == ledger)
      {
        const FettleUnitRow *leads = g_ptr_array_index (rows_of (self->answer, (Table) i), row);

        if (g_strcmp0 (leads->record, "unit") == 0)
          gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "x", leads->key);
        else if (leads->record != NULL)
          gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", leads->record, leads->key);
        return;
      }
}

static void
on_history (FettleUnitPage *self)
{
  const char *record = self->wanted.unit != 0 ? "unit" : self->wanted.lot != 0 ? "lot" : "revision";
  gint64 key = self->wanted.unit != 0 ? self->wanted.unit : self->wanted.lot != 0 ? self->wanted.lot : self->wanted.revision;

  if (key != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-history", "(sx)", record, key);
}

static void
on_readings (FettleUnitPage *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "unit", self->wanted.unit);
}

/* From the menu: what the button of that name does. */
static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleUnitPage *self = FETTLE_UNIT_PAGE (widget);
  const char *what = g_variant_get_string (parameter, NULL);
  GtkToggleButton *button = g_str_equal (what, "event")    ? self->event
                            : g_str_equal (what, "built")  ? self->built
                            : g_str_equal (what, "aside")  ? self->aside
                            : g_str_equal (what, "serial") ? self->serial
                                                           : NULL;

  if (button != NULL && self->answer != NULL && gtk_widget_get_visible (GTK_WIDGET (button)))
    gtk_toggle_button_set_active (button, !gtk_toggle_button_get_active (button));
}

static gboolean
on_history_shortcut (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  on_history (FETTLE_UNIT_PAGE (widget));
  return TRUE;
}

/* ---- as a page ---- */

static void
fettle_unit_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleUnitPage *self = FETTLE_UNIT_PAGE (page);

  self->span = *span;
  ask (self);
}

static void
fettle_unit_page_refresh (FettlePage *page)
{
  ask (FETTLE_UNIT_PAGE (page));
}

static gboolean
fettle_unit_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleUnitPage *self = FETTLE_UNIT_PAGE (page);
  FettleUnitAsk wanted = { 0 };

  if (g_str_equal (record, "unit"))
    wanted.unit = key;
  else if (g_str_equal (record, "lot"))
    wanted.lot = key;
  else if (g_str_equal (record, "revision"))
    wanted.revision = key;
  else
    return FALSE;
  if (wanted.unit != self->wanted.unit)
    close_form (self); /* what is typed stays among the drafts */
  self->wanted = wanted;
  self->focus_wanted = TRUE;
  ask (self);
  return TRUE;
}

static gboolean
fettle_unit_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleUnitPage *self = FETTLE_UNIT_PAGE (page);
  const FettleUnitAsk *wanted = &self->wanted;

  *record = wanted->unit != 0 ? "unit" : wanted->lot != 0 ? "lot" : wanted->revision != 0 ? "revision" : NULL;
  *key = wanted->unit != 0 ? wanted->unit : wanted->lot != 0 ? wanted->lot : wanted->revision;
  return *record != NULL;
}

static void
fettle_unit_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_unit_page_set_span;
  iface->refresh = fettle_unit_page_refresh;
  iface->show_record = fettle_unit_page_show_record;
  iface->get_place = fettle_unit_page_get_place;
}

static void
fettle_unit_page_dispose (GObject *object)
{
  FettleUnitPage *self = FETTLE_UNIT_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->answer, fettle_unit_answer_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_UNIT_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_unit_page_parent_class)->dispose (object);
}

static void
fettle_unit_page_class_init (FettleUnitPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_unit_page_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/unit-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, words);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, history);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, to_readings);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, built);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, event);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, aside);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, serial);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, form_place);
  gtk_widget_class_bind_template_child (widget_class, FettleUnitPage, sections);
  gtk_widget_class_bind_template_callback (widget_class, on_history);
  gtk_widget_class_bind_template_callback (widget_class, on_readings);
  gtk_widget_class_bind_template_callback (widget_class, on_form_button);

  gtk_widget_class_install_action (widget_class, "unit.act", "s", on_act);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_h, GDK_CONTROL_MASK, on_history_shortcut, NULL);
}

static void
add_table (FettleUnitPage *self, Table table, const char *name, const char *heading, const FettleLedgerColumn *columns, guint n)
{
  self->headings[table] = g_object_new (GTK_TYPE_LABEL, "label", heading, "xalign", 0.0f, "visible", FALSE, "css-classes",
                                        (const char *[]){ "section", "spaced", NULL }, NULL);
  self->tables[table] = FETTLE_LEDGER (fettle_ledger_new (columns, n, heading));
  gtk_widget_set_name (GTK_WIDGET (self->tables[table]), name);
  gtk_widget_set_visible (GTK_WIDGET (self->tables[table]), FALSE);
  g_signal_connect_swapped (self->tables[table], "activated", G_CALLBACK (on_row_activated), self);
  gtk_box_append (GTK_BOX (self->sections), self->headings[table]);
  gtk_box_append (GTK_BOX (self->sections), GTK_WIDGET (self->tables[table]));
}

static void
set_up_tables (FettleUnitPage *self)
{
  const FettleLedgerColumn issue_columns[] = { { _("Issue, and what was decided"), FALSE, TRUE, 0 } };
  FettleLedgerColumn columns[COLUMNS_MOST] = { 0 };

  for (guint i = 0; i < PRESENT_N_HOLDER_COLUMNS; i++)
    columns[i] = (FettleLedgerColumn){ present_holder_heading ((PresentHolderColumn) i), FALSE, i == PRESENT_HOLDER_STATE,
                                       i == PRESENT_HOLDER_SOURCE ? 1 : 0 };
  add_table (self, TABLE_HOLDERS, "holders", _("Units"), columns, PRESENT_N_HOLDER_COLUMNS);
  add_table (self, TABLE_ISSUES, "issues", _("Issues found on it"), issue_columns, G_N_ELEMENTS (issue_columns));
  for (guint i = 0; i < PRESENT_N_BUILT_COLUMNS; i++)
    columns[i] = (FettleLedgerColumn){ present_built_heading ((PresentBuiltColumn) i), FALSE, i == PRESENT_BUILT_WHAT, 0 };
  add_table (self, TABLE_PARTS, "parts", _("As built"), columns, PRESENT_N_BUILT_COLUMNS);
  for (guint i = 0; i < PRESENT_N_EVENT_COLUMNS; i++)
    columns[i] = (FettleLedgerColumn){ present_event_heading ((PresentEventColumn) i), FALSE, i == PRESENT_EVENT_WHY,
                                       i == PRESENT_EVENT_PERSON ? 1 : 0 };
  add_table (self, TABLE_EVENTS, "events", _("What happened to it"), columns, PRESENT_N_EVENT_COLUMNS);
  for (guint i = 0; i < fettle_unit_n_reading_columns; i++)
    {
      PresentReadingColumn column = fettle_unit_reading_columns[i];

      columns[i] = (FettleLedgerColumn){ present_reading_heading (column), column == PRESENT_READING_VALUE || column == PRESENT_READING_ATTEMPT,
                                         column == PRESENT_READING_CHARACTERISTIC,
                                         column == PRESENT_READING_PERSON ? 2 : column == PRESENT_READING_TAKEN ? 1 : 0 };
    }
  add_table (self, TABLE_READINGS, "readings", _("Readings"), columns, fettle_unit_n_reading_columns);
}

static void
fettle_unit_page_init (FettleUnitPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  set_up_tables (self);
}

/**
 * fettle_unit_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, empty until a record is shown
 */
GtkWidget *
fettle_unit_page_new (FettleSitting *sitting)
{
  FettleUnitPage *self = g_object_new (FETTLE_TYPE_UNIT_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
