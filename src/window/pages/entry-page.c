/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "entry-page.h"

#include <glib/gi18n.h>

#include "application.h"
#include "choice.h"
#include "early-key.h"
#include "entry-answer.h"
#include "entry-source.h"
#include "table.h"
#include "tip.h"
#include "today.h"
#include "typed.h"
#include "words.h"

struct _FettleEntryPage
{
  GtkBox parent_instance;

  FettleSitting     *sitting;
  FettleSpan         span;
  FettleEntrySource *source;
  GSettings         *settings;
  GCancellable      *asking;
  GArray            *gauges; /* keys, in the order of the choice after 'the usual' */
  gint64             gauge;  /* chosen for this sitting; 0: the usual one of each characteristic */
  gboolean           filling;
  GArray            *to_void; /* keys of readings */
  gint64             raise_unit; /* an issue is raised as soon as what was typed here is in the book; 0: none */
  guint              raise_column;

  GtkLabel        *title;
  GtkCheckButton  *rightward;
  GtkDropDown     *gauge_choice;
  GtkSpinButton   *attempt;
  GtkSpinButton   *repeat;
  GtkLabel        *missing;
  FettleTable     *table;
  GtkWidget       *void_form;
  GtkLabel        *void_what;
  GtkEntry        *void_reason;
  GtkWidget       *question_box;
  GtkLabel        *question;
  GtkButton       *other;
  GtkLabel        *who;
  GtkLabel        *said;
  GtkLabel        *words;
  GtkLabel        *warning;
};

static void fettle_entry_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleEntryPage, fettle_entry_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_entry_page_page_init))

/* ---- what is said ---- */

/* The current cell in words, what is missing, and whether its gauge counts. */
static void
show_cell (FettleEntryPage *self)
{
  guint row, column;
  gboolean there = fettle_table_get_cell (self->table, &row, &column);
  g_autofree char *words = there ? fettle_table_source_describe (FETTLE_TABLE_SOURCE (self->source), row, column) : NULL;
  g_autofree char *warning = there ? fettle_entry_source_dup_warning (self->source, column) : NULL;
  g_autofree char *missing = fettle_entry_source_get_entry (self->source) != NULL
                               ? fettle_entry_source_dup_missing (self->source, there ? row : G_MAXUINT, column) : NULL;

  gtk_label_set_label (self->words, words != NULL ? words : "");
  gtk_label_set_label (self->missing, missing != NULL ? missing : "");
  fettle_tip_set (GTK_WIDGET (self->missing), missing);
  gtk_widget_set_visible (GTK_WIDGET (self->who), missing != NULL && fettle_sitting_get_person (self->sitting) == 0);
  fettle_words_show (self->warning, warning);
}

static void
show_question (FettleEntryPage *self)
{
  g_autofree char *other = NULL;
  g_autofree char *question = fettle_entry_source_dup_question (self->source, &other);
  g_autofree char *label = question != NULL ? g_strdup_printf (_("Take %s"), other) : NULL;

  gtk_widget_set_visible (self->question_box, question != NULL);
  if (question == NULL)
    return;
  gtk_label_set_label (self->question, question);
  gtk_button_set_label (self->other, label);
}

static void
on_moved (FettleEntryPage *self, guint row, FettleTable *table)
{
  show_cell (self);
}

static void
on_refused (FettleEntryPage *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* Whoever begins to write is not told any longer that nothing is stored. */
static void
on_reading_changed (FettleEntryPage *self)
{
  fettle_words_show (self->said, NULL);
}

static void
on_left (FettleEntryPage *self)
{
  fettle_entry_source_leave (self->source);
}

static void
on_other (FettleEntryPage *self)
{
  fettle_entry_source_answer (self->source, FALSE);
}

static void
on_right (FettleEntryPage *self)
{
  fettle_entry_source_answer (self->source, TRUE);
}

/* ---- an issue ---- */

/* From what the cell shows to be wrong, else from scratch: of what is inside its limits no issue says that it is outside. */
static void
raise_from_cell (FettleEntryPage *self, guint row, guint column)
{
  gboolean waits;
  gint64 reading = fettle_entry_source_get_outside (self->source, row, column, &waits);

  self->raise_unit = waits ? fettle_table_source_get_key (FETTLE_TABLE_SOURCE (self->source), row) : 0;
  self->raise_column = column;
  if (!waits)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.raise-from", "x", reading);
}

static void
on_raise (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (widget);
  guint row, column;

  if (fettle_table_finish (self->table) && fettle_table_get_cell (self->table, &row, &column))
    raise_from_cell (self, row, column);
  else
    gtk_widget_activate_action (widget, "win.raise-from", "x", G_GINT64_CONSTANT (0));
}

static void
on_rows_changed (FettleEntryPage *self)
{
  gint64 unit = self->raise_unit;
  guint row;

  show_cell (self);
  self->raise_unit = 0;
  if (unit != 0 && fettle_table_source_find (FETTLE_TABLE_SOURCE (self->source), unit, &row))
    raise_from_cell (self, row, self->raise_column);
}

/* ---- the answer ---- */

static void
show_gauges (FettleEntryPage *self, const InsightEntry *entry) /* NULL: there is no round */
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = 0;

  gtk_string_list_append (names, _("The usual gauges"));
  g_array_set_size (self->gauges, 0);
  for (guint i = 0; entry != NULL && i < entry->n_gauges; i++)
    {
      g_autofree char *name = entry->gauges[i].out ? g_strdup_printf ("◆ %s", entry->gauges[i].name) : g_strdup (entry->gauges[i].name);

      gtk_string_list_append (names, name);
      g_array_append_val (self->gauges, entry->gauges[i].id);
      if (entry->gauges[i].id == self->gauge)
        selected = i + 1;
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->gauge_choice, names, selected);
  self->filling = FALSE;
}

/* Not what another model had, either: what is typed would go there. */
static void
show_nothing (FettleEntryPage *self)
{
  gtk_widget_set_visible (self->void_form, FALSE);
  gtk_label_set_label (self->title, _("Enter readings"));
  show_gauges (self, NULL);
  fettle_table_set_placeholder (self->table, _("The model has no round yet: plan one on the Rounds page (Ctrl+B)."));
  fettle_entry_source_take (self->source, NULL, NULL);
  show_cell (self);
  show_question (self);
}

/* Whether a place in the grid is about another reading than before. */
static gboolean
is_elsewhere (const InsightEntry *before, const InsightEntry *now)
{
  gboolean same = before != NULL && before->n_units == now->n_units && before->n_columns == now->n_columns
                  && before->attempt == now->attempt && before->repeat == now->repeat;

  for (guint i = 0; same && i < now->n_units; i++)
    same = before->units[i].id == now->units[i].id;
  for (guint i = 0; same && i < now->n_columns; i++)
    same = before->columns[i].id == now->columns[i].id;
  return !same;
}

static void
close_void (FettleEntryPage *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->table)); /* before the entry goes */
  gtk_widget_set_visible (self->void_form, FALSE);
  fettle_typed_set (GTK_EDITABLE (self->void_reason), "");
  fettle_words_show (self->said, NULL);
}

static void
show_answer (FettleEntryPage *self, FettleEntryAnswer *answer)
{
  const InsightEntry *entry = answer->entry;
  g_autofree char *title = g_strdup_printf (_("Enter readings: %s"), entry->label);

  if (gtk_widget_get_visible (self->void_form) && is_elsewhere (fettle_entry_source_get_entry (self->source), entry))
    {
      close_void (self);
      fettle_words_show (self->said, _("Nothing was voided: the grid shows other readings now. Choose them again."));
    }
  gtk_label_set_label (self->title, title);
  show_gauges (self, entry);
  fettle_table_set_placeholder (self->table, entry->n_columns == 0 ? _("The model has no characteristics yet: set them up first.")
                                                                   : _("The round has no units yet: plan them on the Rounds page."));
  fettle_entry_source_take (self->source, g_steal_pointer (&answer->entry), g_steal_pointer (&answer->notes));
  show_cell (self);
  show_question (self);
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleEntryPage) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleEntryAnswer) answer = fettle_sitting_ask_finish (FETTLE_SITTING (object), result, &error);

  if (self->sitting == NULL)
    return;
  if (answer != NULL)
    show_answer (self, answer);
  else
    fettle_sitting_say_error (self->sitting, error);
}

static void
ask (FettleEntryPage *self)
{
  FettleEntryAsk *ask;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0 || self->span.to == 0)
    {
      show_nothing (self);
      return;
    }

  ask = g_new0 (FettleEntryAsk, 1);
  *ask = (FettleEntryAsk){ self->span.model, self->span.to, (guint) gtk_spin_button_get_value_as_int (self->attempt),
                           (guint) gtk_spin_button_get_value_as_int (self->repeat), fettle_today () };
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_entry_ask_work, ask, fettle_entry_ask_free, fettle_entry_answer_free, self->asking, on_answer,
                      g_object_ref (self));
}

/* ---- what a person does ---- */

static void
on_gauge (FettleEntryPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->gauge_choice);

  if (self->filling || selected > self->gauges->len)
    return;
  self->gauge = selected == 0 ? 0 : g_array_index (self->gauges, gint64, selected - 1);
  fettle_entry_source_set_gauge (self->source, self->gauge);
  show_cell (self);
}

/* What is shown of the choices is what the grid shows: one that cannot be left now is chosen again. */
static void
on_which (FettleEntryPage *self)
{
  const InsightEntry *entry = fettle_entry_source_get_entry (self->source);

  if (self->filling)
    return;
  if (fettle_table_finish (self->table))
    {
      ask (self);
      return;
    }
  if (entry == NULL)
    return;
  self->filling = TRUE;
  gtk_spin_button_set_value (self->attempt, entry->attempt);
  gtk_spin_button_set_value (self->repeat, entry->repeat);
  self->filling = FALSE;
}

static void
step_by (GtkSpinButton *spin, int step)
{
  gtk_spin_button_set_value (spin, gtk_spin_button_get_value (spin) + step);
}

static void
on_step_key (GtkWidget *widget, int step, gboolean shift)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (widget);

  step_by (shift ? self->attempt : self->repeat, step);
}

static gboolean
on_answer_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (widget);

  if (!gtk_widget_get_visible (self->question_box))
    return FALSE;
  fettle_entry_source_answer (self->source, g_variant_get_boolean (arguments));
  return TRUE;
}

static gboolean
on_unit_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (widget);
  guint row;

  if (fettle_table_get_row (self->table, &row))
    gtk_widget_activate_action (widget, "win.show-unit", "x", fettle_entry_source_get_entry (self->source)->units[row].id);
  return TRUE;
}

/* A void carries a name and a reason, which is asked for below the grid. */
static void
on_void_wanted (FettleEntryPage *self)
{
  guint row, column, n_rows, n_columns;
  g_autofree char *what = NULL;

  if (!fettle_sitting_need_person (self->sitting))
    return;
  fettle_table_get_block (self->table, &row, &column, &n_rows, &n_columns);
  g_clear_pointer (&self->to_void, g_array_unref);
  self->to_void = fettle_entry_source_dup_stored (self->source, row, column, n_rows, n_columns);
  what = g_strdup_printf (ngettext ("%u reading", "%u readings", self->to_void->len), self->to_void->len);
  gtk_label_set_label (self->void_what, what);
  gtk_widget_set_visible (self->void_form, TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (self->void_reason));
}

static void
on_void (FettleEntryPage *self)
{
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->void_reason))));

  if (*reason == '\0')
    {
      fettle_words_show (self->said, _("A reading is voided only with a reason: write why."));
      return;
    }
  fettle_entry_source_void (self->source, self->to_void, reason);
  close_void (self);
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (widget);

  if (!gtk_widget_get_visible (self->void_form))
    return FALSE;
  close_void (self);
  return TRUE;
}

/* ---- as a page ---- */

static void
fettle_entry_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (page);

  if (self->span.to != span->to)
    {
      self->filling = TRUE;
      gtk_spin_button_set_value (self->attempt, 1);
      gtk_spin_button_set_value (self->repeat, 1);
      self->filling = FALSE;
    }
  self->span = *span;
  ask (self);
}

static void
fettle_entry_page_refresh (FettlePage *page)
{
  ask (FETTLE_ENTRY_PAGE (page));
}

/* A unit: its first cell without a reading. */
static gboolean
fettle_entry_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (page);
  guint row;

  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  if (g_strcmp0 (record, "unit") != 0 || !fettle_table_source_find (FETTLE_TABLE_SOURCE (self->source), key, &row))
    return FALSE;
  fettle_table_go (self->table, row);
  return TRUE;
}

static void
fettle_entry_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_entry_page_set_span;
  iface->refresh = fettle_entry_page_refresh;
  iface->show_record = fettle_entry_page_show_record;
}

static gboolean
fettle_entry_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (FETTLE_ENTRY_PAGE (widget)->table));
}

static void
fettle_entry_page_dispose (GObject *object)
{
  FettleEntryPage *self = FETTLE_ENTRY_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->table != NULL)
    fettle_table_set_source (self->table, NULL);
  if (self->source != NULL)
    g_signal_handlers_disconnect_by_data (self->source, self);
  g_clear_object (&self->source);
  g_clear_object (&self->settings);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->gauges, g_array_unref);
  g_clear_pointer (&self->to_void, g_array_unref);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_ENTRY_PAGE);
  G_OBJECT_CLASS (fettle_entry_page_parent_class)->dispose (object);
}

static void
bind_keys (GtkWidgetClass *widget_class)
{
  gtk_widget_class_add_binding (widget_class, GDK_KEY_period, GDK_CONTROL_MASK, on_answer_key, "b", FALSE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_period, GDK_CONTROL_MASK | GDK_SHIFT_MASK, on_answer_key, "b", TRUE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_u, GDK_CONTROL_MASK, on_unit_key, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
}

static void
fettle_entry_page_class_init (FettleEntryPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_entry_page_dispose;
  widget_class->grab_focus = fettle_entry_page_grab_focus;
  g_type_ensure (FETTLE_TYPE_TABLE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/entry-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, rightward);
  gtk_widget_class_bind_template_child_full (widget_class, "gauge", FALSE, G_STRUCT_OFFSET (FettleEntryPage, gauge_choice));
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, attempt);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, repeat);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, missing);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, who);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, void_form);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, void_what);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, void_reason);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, question_box);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, question);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, other);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, words);
  gtk_widget_class_bind_template_child (widget_class, FettleEntryPage, warning);
  gtk_widget_class_bind_template_callback (widget_class, on_gauge);
  gtk_widget_class_bind_template_callback (widget_class, on_which);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_refused);
  gtk_widget_class_bind_template_callback (widget_class, on_left);
  gtk_widget_class_bind_template_callback (widget_class, on_void);
  gtk_widget_class_bind_template_callback (widget_class, on_other);
  gtk_widget_class_bind_template_callback (widget_class, on_right);
  gtk_widget_class_install_action (widget_class, "reading.raise", NULL, on_raise);
  bind_keys (widget_class);
}

static void
on_rightward (FettleEntryPage *self)
{
  fettle_table_set_rightward (self->table, gtk_check_button_get_active (self->rightward));
}

static void
fettle_entry_page_init (FettleEntryPage *self)
{
  self->gauges = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->settings = g_settings_new (FETTLE_APP_ID);
  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_choice_set_up (self->gauge_choice, _("Gauge"));
  fettle_table_set_grid (self->table, FETTLE_ENTRY_FROZEN);
  fettle_early_step (GTK_WIDGET (self), on_step_key);
  g_signal_connect_swapped (self->rightward, "notify::active", G_CALLBACK (on_rightward), self);
  g_settings_bind (self->settings, "enter-goes-right", self->rightward, "active", G_SETTINGS_BIND_DEFAULT);
  on_rightward (self);
}

/**
 * fettle_entry_page_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the page, empty until its span is set
 */
GtkWidget *
fettle_entry_page_new (FettleSitting *sitting)
{
  FettleEntryPage *self = g_object_new (FETTLE_TYPE_ENTRY_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->source = fettle_entry_source_new (sitting);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  g_signal_connect_swapped (self->source, "refused", G_CALLBACK (on_refused), self);
  g_signal_connect_swapped (self->source, "asked", G_CALLBACK (show_question), self);
  g_signal_connect_swapped (self->source, "void-wanted", G_CALLBACK (on_void_wanted), self);
  g_signal_connect_swapped (self->source, "rows-changed", G_CALLBACK (on_rows_changed), self);
  g_signal_connect_object (sitting, "person-changed", G_CALLBACK (show_cell), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "reading-changed", G_CALLBACK (on_reading_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (fettle_sitting_get_drafts (sitting), "restored", G_CALLBACK (show_cell), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
