/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "readings-page.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "reading-charts.h"
#include "reading-source.h"
#include "reading-void.h"
#include "readings-answer.h"
#include "table.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"

struct _FettleReadingsPage
{
  GtkBox parent_instance;

  FettleSitting       *sitting;
  FettleSpan           span;
  FettleReadingSource *source;
  FettleDrafts        *drafts;
  GCancellable        *asking;
  GArray              *choices;        /* keys of these characteristics */
  gint64               characteristic; /* 0: every one; -1: none yet */
  gboolean             is_chosen;      /* by a person: otherwise it follows the rounds */
  gint64               wanted_unit;    /* to be brought into view with the next answer */
  gint64               wanted_reading;
  gboolean             restoring; /* @wanted_reading has a draft that the last window left */
  gboolean             chart_wanted; /* takes the keyboard once it is drawn, unless that is elsewhere by then */
  gboolean             filling; /* controls are being filled: their signals are ours */

  GtkLabel        *title;
  GtkDropDown     *choice;
  GtkDropDown     *view;
  GtkWidget       *rules;
  FettleReadingCharts *charts;
  GtkWidget       *deeds;
  GtkWidget       *rows;
  GtkWidget       *line; /* makes room for the form while that is open */
  GtkLabel        *count;
  GtkLabel        *said;
  GtkWidget       *unit;
  GtkWidget       *edit;
  GtkWidget       *raise;
  GtkToggleButton *void_open;
  FettleReadingVoid *void_form;
  FettleTable     *table;
};

static void fettle_readings_page_page_init (FettlePageInterface *iface);
static void ask (FettleReadingsPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleReadingsPage, fettle_readings_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_readings_page_page_init))

/* ---- the answer ---- */

static void
fill_choice (FettleReadingsPage *self, FettleReadingsAnswer *answer)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = 0;

  gtk_string_list_append (names, _("Every characteristic"));
  for (guint i = 0; i < answer->names->len; i++)
    gtk_string_list_append (names, g_ptr_array_index (answer->names, i));
  g_clear_pointer (&self->choices, g_array_unref);
  self->choices = g_array_ref (answer->choices);
  for (guint i = 0; i < self->choices->len; i++)
    if (g_array_index (self->choices, gint64, i) == answer->characteristic)
      selected = i + 1;
  self->filling = TRUE;
  fettle_choice_show_names (self->choice, names, selected);
  self->filling = FALSE;
}

static void
show_row_state (FettleReadingsPage *self)
{
  guint row;
  gboolean there = fettle_table_get_row (self->table, &row);
  gboolean open = there && !fettle_reading_source_is_voided (self->source, row);
  g_autofree char *words = there ? fettle_reading_source_dup_words (self->source, row) : NULL;

  gtk_widget_set_sensitive (self->unit, there);
  gtk_widget_set_sensitive (self->edit, open);
  gtk_widget_set_sensitive (self->raise, open);
  fettle_reading_void_set_reading (self->void_form, open ? fettle_reading_source_get_key (self->source, row) : 0, words);
}

/* Brings into view what was asked for; in other rounds than those looked at, these are chosen first, and it is asked again. */
static void
show_wanted (FettleReadingsPage *self, FettleReadingsAnswer *answer)
{
  gboolean restoring = self->restoring;
  guint row;

  if (answer->wanted_round != 0)
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.round-on-the-way", "x", answer->wanted_round);
      return;
    }
  self->wanted_reading = 0;
  self->wanted_unit = 0;
  self->restoring = FALSE;
  if (answer->missing != NULL)
    fettle_sitting_say (self->sitting, answer->missing, NULL, NULL);
  if (answer->wanted == 0 || !fettle_reading_source_find (self->source, answer->wanted, &row))
    return;
  fettle_table_go (self->table, row);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  if (!restoring)
    return;
  fettle_table_edit (self->table);
  if (fettle_table_is_editing (self->table)) /* not when it was voided meanwhile: then the row itself tells */
    fettle_sitting_say (self->sitting,
                      _("What was typed before the program ended is still in its cell: Enter stores it, Escape takes it back."),
                      NULL, NULL);
}

static void
show_count (FettleReadingsPage *self, guint n)
{
  g_autofree char *count = g_strdup_printf (ngettext ("%u reading", "%u readings", n), n);

  gtk_label_set_label (self->count, count);
  fettle_table_set_placeholder (self->table, self->characteristic != 0
                                                 ? _("In these rounds nobody has measured it: choose others above, or another characteristic.")
                                                 : _("In these rounds nothing was measured yet."));
}

/* Other readings: who looked at a unit goes on looking at it. */
static void
take_rows (FettleReadingsPage *self, GArray *keys, InsightSeries *series)
{
  guint row;
  gboolean was_editing = fettle_table_is_editing (self->table);
  gboolean there = fettle_table_get_row (self->table, &row);
  gint64 key = there ? fettle_reading_source_get_key (self->source, row) : 0;
  gint64 unit = there ? fettle_reading_source_get_unit (self->source, row) : 0;

  fettle_reading_source_take (self->source, keys, series);
  if (unit != 0 && !fettle_reading_source_find (self->source, key, &row)
      && fettle_reading_source_find_unit (self->source, unit, &row))
    fettle_table_go (self->table, row);
  if (was_editing && !fettle_table_is_editing (self->table) && fettle_reading_source_find_typed (self->source) != 0)
    fettle_sitting_say (self->sitting,
                        _("What was typed and not stored is kept: it stands in its cell when that is shown again."), NULL, NULL);
}

/* The wall takes the whole page: what is said of single readings waits behind it. */
static void
show_charts (FettleReadingsPage *self, FettleReadingsAnswer *answer, const InsightSeries *series)
{
  gboolean is_wall = answer->view == FETTLE_READINGS_WALL;
  const char *name = series != NULL ? series->name : _("Readings");

  gtk_label_set_label (self->title, is_wall ? _("All characteristics") : name);
  gtk_widget_set_visible (self->rules, answer->view == FETTLE_READINGS_SINGLE && series != NULL);
  gtk_widget_set_visible (self->deeds, !is_wall);
  gtk_widget_set_visible (self->rows, !is_wall);
  if (is_wall)
    fettle_reading_charts_show_wall (self->charts, g_steal_pointer (&answer->chart), answer->words);
  else
    fettle_reading_charts_show (self->charts, g_steal_pointer (&answer->chart), name, answer->words);
}

static void
show_answer (FettleReadingsPage *self, FettleReadingsAnswer *answer)
{
  InsightSeries *series = g_steal_pointer (&answer->series);

  self->characteristic = answer->characteristic;
  fill_choice (self, answer);
  fettle_reading_charts_look_at (self->charts, self->span.model, answer->characteristic, self->span.to);
  show_charts (self, answer, series);
  if (self->chart_wanted && gtk_widget_get_focus_child (GTK_WIDGET (self->view)) != NULL)
    fettle_reading_charts_focus (self->charts);
  self->chart_wanted = FALSE;

  show_count (self, answer->keys->len);
  take_rows (self, g_steal_pointer (&answer->keys), series);
  show_wanted (self, answer);
  show_row_state (self);
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleReadingsPage) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleReadingsAnswer) answer = NULL;

  if (self->sitting == NULL)
    return;
  answer = fettle_sitting_ask_finish (self->sitting, result, &error);
  if (answer != NULL)
    show_answer (self, answer);
  else
    fettle_sitting_say_error (self->sitting, error);
}

static void
ask (FettleReadingsPage *self)
{
  FettleReadingsAsk *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  question = g_new0 (FettleReadingsAsk, 1);
  question->model = self->span.model;
  question->characteristic = self->characteristic;
  question->from = self->span.from;
  question->to = self->span.to;
  question->is_chosen = self->is_chosen;
  question->wanted_unit = self->wanted_unit;
  question->wanted_reading = self->wanted_reading;
  question->view = gtk_drop_down_get_selected (self->view);
  question->rules = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->rules));
  question->today = fettle_today ();
  fettle_sitting_ask (self->sitting, fettle_readings_answer_read, question, (GDestroyNotify) fettle_readings_ask_free,
                      (GDestroyNotify) fettle_readings_answer_free, self->asking, on_answer, g_object_ref (self));
}

/* ---- what a person does ---- */

static void
on_chosen (FettleReadingsPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice);

  if (self->filling || self->choices == NULL || selected == GTK_INVALID_LIST_POSITION)
    return;
  self->is_chosen = TRUE;
  self->characteristic = selected == 0 ? 0 : g_array_index (self->choices, gint64, selected - 1);
  if (gtk_drop_down_get_selected (self->view) == FETTLE_READINGS_WALL)
    gtk_drop_down_set_selected (self->view, FETTLE_READINGS_SINGLE); /* which asks */
  else
  ask (self);
}

static void
on_view (FettleReadingsPage *self)
{
  ask (self);
}

static gboolean
on_view_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  gtk_drop_down_set_selected (FETTLE_READINGS_PAGE (widget)->view, (guint) g_variant_get_int32 (arguments));
  return TRUE;
}

/* A small chart of the wall: its single values are shown large, with the keyboard; one comes back to it as from another page. */
static void
on_opened (FettleReadingsPage *self, gint64 key, FettleReadingCharts *charts)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.leave", NULL);
  self->is_chosen = TRUE;
  self->characteristic = key;
  self->chart_wanted = TRUE;
  gtk_widget_grab_focus (GTK_WIDGET (self->view)); /* before the wall goes */
  gtk_drop_down_set_selected (self->view, FETTLE_READINGS_SINGLE);
}

static void
on_mark (FettleReadingsPage *self, gint64 key, FettleReadingCharts *charts)
{
  guint row;

  if (fettle_reading_source_find (self->source, key, &row))
    {
      fettle_table_go (self->table, row);
      gtk_widget_grab_focus (GTK_WIDGET (self->table));
    }
}

static void
on_moved (FettleReadingsPage *self, guint row, FettleTable *table)
{
  show_row_state (self);
}

static void
on_refused (FettleReadingsPage *self, const char *sentence, FettleTable *table)
{
  gtk_label_set_label (self->said, sentence != NULL ? sentence : "");
  fettle_tip_set (GTK_WIDGET (self->said), sentence);
}

static void
on_unit (FettleReadingsPage *self)
{
  guint row;

  if (fettle_table_get_row (self->table, &row))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "x", fettle_reading_source_get_unit (self->source, row));
}

static gboolean
on_unit_shortcut (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  on_unit (FETTLE_READINGS_PAGE (widget));
  return TRUE;
}

static void
on_edit (FettleReadingsPage *self)
{
  fettle_table_edit (self->table);
}

static void
on_void_left (FettleReadingsPage *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static gboolean
on_void_shortcut (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (widget);

  if (gtk_widget_is_sensitive (GTK_WIDGET (self->void_open)))
    gtk_toggle_button_set_active (self->void_open, !gtk_toggle_button_get_active (self->void_open));
  return TRUE;
}

/* The page of issues takes unit, characteristic and step from the reading; without one that counts it begins from scratch. */
static void
on_raise (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (widget);
  guint row;
  gboolean counts = fettle_table_get_row (self->table, &row) && !fettle_reading_source_is_voided (self->source, row);

  gtk_widget_activate_action (widget, "win.raise-from", "x", counts ? fettle_reading_source_get_key (self->source, row) : 0);
}

static void
on_raise_clicked (FettleReadingsPage *self)
{
  on_raise (GTK_WIDGET (self), NULL, NULL);
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (widget);

  if (!gtk_widget_get_visible (GTK_WIDGET (self->void_form)))
    return FALSE;
  gtk_toggle_button_set_active (self->void_open, FALSE);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  return TRUE;
}

/* ---- as a page ---- */

static void
fettle_readings_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (page);

  if (span->model != self->span.model)
    {
      self->characteristic = -1;
      self->is_chosen = FALSE;
    }
  self->span = *span;
  ask (self);
}

static void
fettle_readings_page_refresh (FettlePage *page)
{
  ask (FETTLE_READINGS_PAGE (page));
}

static gboolean
fettle_readings_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (page);

  self->wanted_unit = 0;
  self->wanted_reading = 0;
  self->restoring = FALSE;
  if (gtk_drop_down_get_selected (self->view) == FETTLE_READINGS_WALL) /* which shows no reading of its own */
    gtk_drop_down_set_selected (self->view, FETTLE_READINGS_ROUNDS);
  if (g_strcmp0 (record, "characteristic") == 0)
    {
      self->characteristic = key;
      self->is_chosen = TRUE;
    }
  else if (g_strcmp0 (record, "unit") == 0)
    self->wanted_unit = key;
  else if (g_strcmp0 (record, "reading") == 0)
    self->wanted_reading = key;
  else
    return FALSE;
  ask (self);
  return TRUE;
}

static gboolean
fettle_readings_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (page);
  guint row;

  if (gtk_drop_down_get_selected (self->view) == FETTLE_READINGS_WALL) /* which keeps its small chart by itself */
    return FALSE;
  if (fettle_table_get_row (self->table, &row))
    {
      *record = "reading";
      *key = fettle_reading_source_get_key (self->source, row);
    }
  else if (self->characteristic > 0)
    {
      *record = "characteristic";
      *key = self->characteristic;
    }
  return *record != NULL;
}

static guint
fettle_readings_page_get_view (FettlePage *page)
{
  return gtk_drop_down_get_selected (FETTLE_READINGS_PAGE (page)->view);
}

static void
fettle_readings_page_set_view (FettlePage *page, guint view)
{
  gtk_drop_down_set_selected (FETTLE_READINGS_PAGE (page)->view, view); /* which asks */
}

static void
fettle_readings_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_readings_page_set_span;
  iface->refresh = fettle_readings_page_refresh;
  iface->show_record = fettle_readings_page_show_record;
  iface->get_place = fettle_readings_page_get_place;
  iface->get_view = fettle_readings_page_get_view;
  iface->set_view = fettle_readings_page_set_view;
}

static void
fettle_readings_page_dispose (GObject *object)
{
  FettleReadingsPage *self = FETTLE_READINGS_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->table != NULL)
    fettle_table_set_source (self->table, NULL);
  g_clear_object (&self->source);
  if (self->drafts != NULL)
    g_signal_handlers_disconnect_by_data (self->drafts, self);
  g_clear_object (&self->drafts);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->choices, g_array_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_READINGS_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_readings_page_parent_class)->dispose (object);
}

static void
fettle_readings_page_class_init (FettleReadingsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_readings_page_dispose;

  g_type_ensure (FETTLE_TYPE_READING_CHARTS);
  g_type_ensure (FETTLE_TYPE_READING_VOID);
  g_type_ensure (FETTLE_TYPE_TABLE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/readings-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, choice);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, view);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, rules);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, charts);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, deeds);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, rows);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, line);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, count);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, edit);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, raise);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, unit);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, void_open);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, void_form);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingsPage, table);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_view);
  gtk_widget_class_bind_template_callback (widget_class, on_opened);
  gtk_widget_class_bind_template_callback (widget_class, on_mark);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_refused);
  gtk_widget_class_bind_template_callback (widget_class, on_edit);
  gtk_widget_class_bind_template_callback (widget_class, on_raise_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_unit);
  gtk_widget_class_bind_template_callback (widget_class, on_void_left);

  gtk_widget_class_add_binding (widget_class, GDK_KEY_u, GDK_CONTROL_MASK, on_unit_shortcut, NULL);
  for (guint i = 0; i < FETTLE_N_READINGS_VIEWS; i++)
    gtk_widget_class_add_binding (widget_class, GDK_KEY_1 + i, GDK_CONTROL_MASK, on_view_key, "i", (int) i);
  gtk_widget_class_install_action (widget_class, "reading.raise", NULL, on_raise);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_d, GDK_CONTROL_MASK, on_void_shortcut, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
}

static void
fettle_readings_page_init (FettleReadingsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->characteristic = -1;
  fettle_choice_set_up (self->choice, _("Characteristic"));
  fettle_choice_set_up (self->view, _("What is drawn"));
}

/* The last window on this book ended while something was typed: it is brought back into its cell. */
static void
on_restored (FettleReadingsPage *self)
{
  if (self->wanted_reading != 0 || self->wanted_unit != 0)
    return;
  self->wanted_reading = fettle_reading_source_find_typed (self->source);
  self->restoring = self->wanted_reading != 0;
  if (self->restoring)
    ask (self);
}

/**
 * fettle_readings_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, empty until its span is set
 */
GtkWidget *
fettle_readings_page_new (FettleSitting *sitting)
{
  FettleReadingsPage *self = g_object_new (FETTLE_TYPE_READINGS_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  fettle_reading_charts_set_sitting (self->charts, sitting);
  fettle_reading_void_set_up (self->void_form, sitting, self->void_open);
  g_object_bind_property (self->void_form, "visible", self->line, "visible", G_BINDING_SYNC_CREATE | G_BINDING_INVERT_BOOLEAN);
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  self->source = fettle_reading_source_new (sitting, self->drafts);
  g_signal_connect_swapped (self->drafts, "restored", G_CALLBACK (on_restored), self);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  if (fettle_drafts_is_restored (self->drafts))
    on_restored (self);
  return GTK_WIDGET (self);
}
