/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gauge-checks.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "table.h"
#include "today.h"
#include "words.h"

#define TABLE_HEIGHT   210
#define TEXT_MOST_CHARS 100

struct _FettleGaugeChecks
{
  GtkBox parent_instance;

  FettleSitting      *sitting;
  FettleRecordSource *source;
  FettleTable        *table;
  GtkDropDown        *choice;
  GtkLabel           *state;
  GtkLabel           *said;
  GArray             *checks; /* of keys, in the order of the choice */
  gint64              check;
  gint64              person; /* whose rows are shown */
  gboolean            filling;
};

G_DEFINE_FINAL_TYPE (FettleGaugeChecks, fettle_gauge_checks, GTK_TYPE_BOX)

static guint chosen_signal;

static void
on_chosen (FettleGaugeChecks *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice);

  if (self->filling || selected >= self->checks->len)
    return;
  self->check = g_array_index (self->checks, gint64, selected);
  g_signal_emit (self, chosen_signal, 0);
}

static void
on_refused (FettleGaugeChecks *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* The next trial: its piece first. */
static void
on_stored (FettleGaugeChecks *self, gint64 key, FettleRecordSource *source)
{
  guint n = fettle_table_source_n_rows (FETTLE_TABLE_SOURCE (source)), row;

  if (n > 0 && fettle_table_get_row (self->table, &row) && row == n - 1 && !fettle_table_is_editing (self->table))
    fettle_table_go_to_cell (self->table, row, FETTLE_GAUGE_PIECE);
}

static GtkLabel *
add_label (FettleGaugeChecks *self, const char *name, const char *words, const char *class)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "name", name, "label", words, "xalign", 0.0f, "wrap", TRUE, "max-width-chars",
                                   TEXT_MOST_CHARS, "css-classes", (const char *[]){ class, NULL }, NULL);

  gtk_box_append (GTK_BOX (self), label);
  return GTK_LABEL (label);
}

static void
fettle_gauge_checks_dispose (GObject *object)
{
  FettleGaugeChecks *self = FETTLE_GAUGE_CHECKS (object);

  if (self->table != NULL)
    fettle_table_set_source (self->table, NULL);
  self->table = NULL;
  g_clear_object (&self->source);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->checks, g_array_unref);
  G_OBJECT_CLASS (fettle_gauge_checks_parent_class)->dispose (object);
}

static void
fettle_gauge_checks_class_init (FettleGaugeChecksClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_gauge_checks_dispose;
  chosen_signal = g_signal_new ("chosen", FETTLE_TYPE_GAUGE_CHECKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_gauge_checks_init (FettleGaugeChecks *self)
{
  GtkWidget *sheet = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkLabel *heading;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 4);
  self->checks = g_array_new (FALSE, FALSE, sizeof (gint64));
  heading = add_label (self, "checks-heading", _("Your trials of a check on pieces known to be good or bad"), "section");
  gtk_widget_add_css_class (GTK_WIDGET (heading), "spaced");
  self->choice = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_widget_set_name (GTK_WIDGET (self->choice), "check-choice");
  gtk_widget_set_halign (GTK_WIDGET (self->choice), GTK_ALIGN_START);
  gtk_drop_down_set_enable_search (self->choice, TRUE);
  fettle_choice_set_up (self->choice, _("Check that is tried"));
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (on_chosen), self);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->choice));
  self->state = add_label (self, "check-state", "", "dim");
  self->said = add_label (self, "check-said", "", "open");
  gtk_widget_set_visible (GTK_WIDGET (self->said), FALSE);

  self->table = FETTLE_TABLE (fettle_table_new ());
  gtk_widget_set_name (GTK_WIDGET (self->table), "check-table");
  gtk_widget_set_vexpand (GTK_WIDGET (self->table), TRUE);
  gtk_widget_add_css_class (sheet, "sheet");
  gtk_widget_set_size_request (sheet, -1, TABLE_HEIGHT);
  gtk_box_append (GTK_BOX (sheet), g_object_new (GTK_TYPE_SCROLLED_WINDOW, "child", self->table, "hscrollbar-policy", GTK_POLICY_AUTOMATIC,
                                                 "vexpand", TRUE, NULL));
  gtk_box_append (GTK_BOX (self), sheet);
  g_object_bind_property (self->table, "visible", sheet, "visible", G_BINDING_SYNC_CREATE);
  g_signal_connect_swapped (self->table, "refused", G_CALLBACK (on_refused), self);
}

/**
 * fettle_gauge_checks_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the table of trials, empty
 */
GtkWidget *
fettle_gauge_checks_new (FettleSitting *sitting)
{
  FettleGaugeChecks *self = g_object_new (FETTLE_TYPE_GAUGE_CHECKS, NULL);

  self->sitting = g_object_ref (sitting);
  self->source = fettle_record_source_new (sitting, BOOK_RECORD_GAUGE_TRIAL, fettle_gauge_columns, FETTLE_GAUGE_N_COLUMNS);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  g_signal_connect_object (self->source, "stored", G_CALLBACK (on_stored), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

static void
show_choices (FettleGaugeChecks *self, const GArray *checks)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = GTK_INVALID_LIST_POSITION;

  g_array_set_size (self->checks, 0);
  for (guint i = 0; i < checks->len; i++)
    {
      const FettleGaugeChoice *check = &g_array_index (checks, FettleGaugeChoice, i);

      gtk_string_list_append (names, check->name);
      g_array_append_val (self->checks, check->id);
      if (check->id == self->check)
        selected = i;
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->choice, names, selected);
  self->filling = FALSE;
}

void
fettle_gauge_checks_take (FettleGaugeChecks *self, FettleGaugeAnswer *answer)
{
  gint64 person = fettle_sitting_get_person (self->sitting);
  gboolean can = answer->check_gauge != 0 && person != 0 && answer->rows != NULL;
  gboolean other = answer->check != self->check || person != self->person;
  g_autofree char *place = g_strdup_printf ("%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT, answer->check, person);
  g_autofree char *today = fettle_today ();

  self->check = answer->check;
  self->person = person;
  show_choices (self, answer->checks);
  gtk_label_set_label (self->state, answer->check == 0         ? _("There is no check yet: a characteristic that is looked at rather than measured.")
                                    : answer->check_gauge == 0 ? _("The check names no gauge: give it one, then its trials can be entered here.")
                                    : person == 0              ? _("Choose who checks: at the lower left, or Ctrl+P.")
                                                               : _("Good and bad pieces go through the check mixed, without a hint. A bad piece that failed was found; the row is stored with its verdict."));
  gtk_widget_set_visible (GTK_WIDGET (self), answer->checks->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->table), can);
  if (!can)
    return;
  fettle_record_source_refer (self->source, "gauge", answer->check_gauge);
  fettle_record_source_refer (self->source, "characteristic", answer->check);
  fettle_record_source_refer (self->source, "person", person);
  fettle_record_source_preset (self->source, "known_bad", "no");
  fettle_record_source_preset (self->source, "trial", "1");
  fettle_record_source_preset (self->source, "date", today);
  fettle_record_source_take (self->source, place, g_steal_pointer (&answer->rows));
  if (other)
    fettle_table_go_to_cell (self->table, fettle_table_source_n_rows (FETTLE_TABLE_SOURCE (self->source)) - 1, FETTLE_GAUGE_PIECE);
}

gint64
fettle_gauge_checks_get_check (FettleGaugeChecks *self)
{
  return self->check;
}
