/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "life-page.h"

#include <glib/gi18n.h>

#include "book-edit.h"
#include "chart-view.h"
#include "choice.h"
#include "life-answer.h"
#include "pair.h"
#include "sentence.h"
#include "sheet-view.h"
#include "table.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"
#include "words.h"

#define CHART_HEIGHT     260
#define CHART_WORDS      28 /* height of the line below the drawing */
#define PAIR_LEAST       380 /* of each drawing, where two stand side by side */

/* The tables, from above. */
enum { MODES, PLAN_UNITS, PLAN_CYCLES, ROUNDS, N_SHEETS };

struct _FettleLifePage
{
  GtkBox parent_instance;

  FettleSitting      *sitting;
  FettleSpan          span;
  FettleRecordSource *source;
  FettleDrafts       *drafts;
  FettleLifeAnswer   *answer;
  GCancellable       *asking;
  gint64              characteristic; /* 0: the one with most tests */
  gint64              wanted;         /* a test to be brought into view */
  gint64              stored;         /* a test that was stored and not asked for since */
  gint64              expected;       /* one that the next answer has, unless it lies outside the rounds */
  char               *place;          /* of the characteristic, in the names of drafts */
  gboolean            filling;

  GtkLabel        *title;
  GtkDropDown     *choice;
  GtkLabel        *lead;
  GtkLabel        *figures;
  GtkBox          *charts;
  GtkWidget       *chart_sheet;
  FettleChartView *chart;
  GtkWidget       *growth_sheet;
  FettleChartView *growth;
  GtkLabel        *growth_words;
  GtkBox          *remarks;
  GtkLabel        *plan;
  GtkBox          *sheets_box;
  FettleSheetView *sheets[N_SHEETS];
  GtkLabel        *method;
  GtkLabel        *caution;
  GtkLabel        *state;
  GtkLabel        *said;
  GtkWidget       *unit;
  GtkWidget       *issue;
  GtkWidget       *remove;
  FettleTable     *table;
};

static void fettle_life_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleLifePage, fettle_life_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_life_page_page_init))

/* ---- the answer ---- */

static void
fill_choice (FettleLifePage *self)
{
  const InsightLife *life = self->answer->data;
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < life->choices->len; i++)
    {
      const InsightLifeChoice *choice = life->choices->pdata[i];
      g_autofree char *name = g_strdup_printf ("%s %s", choice->code, choice->name);

      gtk_string_list_append (names, name);
      if (choice->id == life->characteristic)
        selected = i;
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->choice, names, selected);
  self->filling = FALSE;
  fettle_table_set_placeholder (self->table, life->choices->len > 0 ? _("Choose above what is cycled: then its tests are entered here.")
                                                                    : _("Once the model has a characteristic, its tests are entered here."));
}

static void
show_results (FettleLifePage *self)
{
  const PresentLife *words = self->answer->words;
  const InsightLife *life = self->answer->data;
  const PresentSheet *const sheets[N_SHEETS] = { words->modes, words->plan_units, words->plan_cycles, words->rounds };

  fettle_words_show (self->lead, words->headline);
  fettle_words_show (self->figures, words->figures);
  gtk_widget_set_visible (self->chart_sheet, life->n > 0);
  gtk_widget_set_visible (self->growth_sheet, life->growth.n > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->charts), life->n > 0 || life->growth.n > 0);
  fettle_chart_view_set_words (self->chart, _("Weibull paper"), words->headline);
  fettle_chart_view_take_chart (self->chart, g_steal_pointer (&self->answer->chart));
  fettle_chart_view_set_words (self->growth, _("Growth"), words->growth);
  fettle_chart_view_take_chart (self->growth, g_steal_pointer (&self->answer->growth));
  fettle_words_show (self->growth_words, life->n_tests > 0 ? words->growth : "");
  fettle_sentences_show (self->remarks, words->remarks, NULL);
  fettle_words_show (self->plan, words->plan);
  for (guint i = 0; i < N_SHEETS; i++)
    fettle_sheet_view_set (self->sheets[i], sheets[i]);
  fettle_words_show (self->method, life->n_tests > 0 ? words->method : "");
  fettle_words_show (self->caution, words->caution);
}

/* The row that is current, as the answer has it; NULL: the last, empty one, or none. */
static const InsightLifeTest *
current_test (FettleLifePage *self)
{
  guint row;

  if (self->answer == NULL || !fettle_table_get_row (self->table, &row) || row >= self->answer->data->n_tests)
    return NULL;
  return &self->answer->data->tests[row];
}

static void
show_row_state (FettleLifePage *self)
{
  const InsightLifeTest *test = current_test (self);
  guint row;
  g_autofree char *words = NULL;

  if (test != NULL)
    {
      const PresentSheetRow *shown
          = &g_array_index (self->answer->words->tests->rows, PresentSheetRow, (guint) (test - self->answer->data->tests));

      words = g_strdup_printf ("%s: %s", test->serial, shown->cells[g_strv_length (shown->cells) - 1]);
    }
  else if (fettle_table_get_row (self->table, &row))
    words = g_strdup (_("The last row takes the next test."));
  gtk_label_set_label (self->state, words != NULL ? words : "");
  gtk_widget_set_sensitive (self->unit, test != NULL);
  gtk_widget_set_sensitive (self->issue, test != NULL && test->issue != 0);
  gtk_widget_set_sensitive (self->remove, test != NULL);
}

static void
fill_grid (FettleLifePage *self)
{
  FettleLifeAnswer *answer = self->answer;
  g_autofree char *today = fettle_today ();
  g_autofree char *place = g_strdup_printf ("%" G_GINT64_FORMAT, answer->data->characteristic);
  gboolean other;
  guint row;

  fettle_record_source_refer (self->source, "model", self->span.model);
  fettle_record_source_refer (self->source, "characteristic", answer->data->characteristic);
  fettle_record_source_preset (self->source, "date", today);
  fettle_record_source_preset (self->source, "load", answer->load);
  fettle_record_source_offer (self->source, "unit", g_steal_pointer (&answer->units));
  fettle_record_source_offer (self->source, "issue", g_steal_pointer (&answer->issues));
  other = g_strcmp0 (place, self->place) != 0;
  g_free (self->place);
  self->place = g_steal_pointer (&place);
  fettle_record_source_take (self->source, self->place, g_steal_pointer (&answer->rows));
  if (self->expected != 0 && !fettle_table_source_find (FETTLE_TABLE_SOURCE (self->source), self->expected, &row))
    fettle_sitting_say (self->sitting, _("The test is stored; it lies outside the rounds looked at, so it is not listed here."), NULL, NULL);
  self->expected = 0;
  if (other && answer->wanted == 0) /* where the next test is typed */
    fettle_table_go_to_cell (self->table, answer->data->n_tests, FETTLE_LIFE_UNIT);
  if (answer->wanted == 0)
    return;
  self->wanted = 0;
  if (fettle_table_source_find (FETTLE_TABLE_SOURCE (self->source), answer->wanted, &row))
    {
      fettle_table_go (self->table, row);
      gtk_widget_grab_focus (GTK_WIDGET (self->table));
    }
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleLifePage) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleLifeAnswer) answer = NULL;

  if (self->sitting == NULL)
    return;
  answer = fettle_sitting_ask_finish (self->sitting, result, &error);
  if (answer == NULL)
    {
      fettle_sitting_say_error (self->sitting, error);
      return;
    }
  g_clear_pointer (&self->answer, fettle_life_answer_free);
  self->answer = g_steal_pointer (&answer);
  self->characteristic = self->answer->data->characteristic;
  fill_choice (self);
  show_results (self);
  fill_grid (self);
  show_row_state (self);
}

static void
ask (FettleLifePage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  if (self->stored != 0)
    self->expected = self->stored;
  self->stored = 0;
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_life_answer_read, fettle_life_ask_new (&self->span, self->characteristic, self->wanted),
                      fettle_life_ask_free, fettle_life_answer_free, self->asking, on_answer, g_object_ref (self));
}

/* ---- what a person does ---- */

static void
on_chosen (FettleLifePage *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice);

  if (self->filling || self->answer == NULL || selected >= self->answer->data->choices->len)
    return;
  self->characteristic = ((const InsightLifeChoice *) self->answer->data->choices->pdata[selected])->id;
  ask (self);
}

static void
show_unit (FettleLifePage *self, gint64 unit)
{
  if (unit != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "x", unit);
}

static void
on_mark (FettleLifePage *self, gint64 key)
{
  show_unit (self, key);
}

static void
on_moved (FettleLifePage *self, guint row, FettleTable *table)
{
  show_row_state (self);
}

static void
on_refused (FettleLifePage *self, const char *sentence, FettleTable *table)
{
  gtk_label_set_label (self->said, sentence != NULL ? sentence : "");
  fettle_tip_set (GTK_WIDGET (self->said), sentence);
}

static void
on_unit (FettleLifePage *self)
{
  const InsightLifeTest *test = current_test (self);

  show_unit (self, test != NULL ? test->unit : 0);
}

static gboolean
on_unit_shortcut (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  on_unit (FETTLE_LIFE_PAGE (widget));
  return TRUE;
}

static void
on_issue (FettleLifePage *self)
{
  const InsightLifeTest *test = current_test (self);

  if (test != NULL && test->issue != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "issue", test->issue);
}

static void
on_removed (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleLifePage) self = data;
  g_autoptr(GError) error = NULL;

  if (self->sitting != NULL && !fettle_sitting_edit_finish (self->sitting, result, NULL, NULL, &error))
    fettle_sitting_say_error (self->sitting, error);
}

static void
on_remove (FettleLifePage *self)
{
  const InsightLifeTest *test = current_test (self);

  if (test == NULL)
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  fettle_sitting_edit (self->sitting, book_edit_delete (BOOK_RECORD_LIFE_TEST, test->id), on_removed, g_object_ref (self));
}

/* The next test: its unit first, since its day is there already. */
static void
on_stored (FettleLifePage *self, gint64 key, FettleRecordSource *source)
{
  guint n = fettle_table_source_n_rows (FETTLE_TABLE_SOURCE (source)), row;

  self->stored = key;
  if (n > 0 && fettle_table_get_row (self->table, &row) && row == n - 1 && !fettle_table_is_editing (self->table))
    fettle_table_go_to_cell (self->table, row, FETTLE_LIFE_UNIT);
}

static void
on_restored (FettleLifePage *self)
{
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self->source));
}

/* ---- as a page ---- */

static void
fettle_life_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleLifePage *self = FETTLE_LIFE_PAGE (page);

  if (span->model != self->span.model)
    self->characteristic = 0;
  self->span = *span;
  ask (self);
}

static void
fettle_life_page_refresh (FettlePage *page)
{
  ask (FETTLE_LIFE_PAGE (page));
}

static gboolean
fettle_life_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleLifePage *self = FETTLE_LIFE_PAGE (page);

  if (g_strcmp0 (record, "life_test") != 0)
    return FALSE;
  self->wanted = key;
  ask (self);
  return TRUE;
}

static gboolean
fettle_life_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleLifePage *self = FETTLE_LIFE_PAGE (page);
  guint row;

  if (!fettle_table_get_row (self->table, &row) || fettle_record_source_get_key (self->source, row) == 0)
    return FALSE;
  *record = "life_test";
  *key = fettle_record_source_get_key (self->source, row);
  return TRUE;
}

static void
fettle_life_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_life_page_set_span;
  iface->refresh = fettle_life_page_refresh;
  iface->show_record = fettle_life_page_show_record;
  iface->get_place = fettle_life_page_get_place;
}

static void
fettle_life_page_dispose (GObject *object)
{
  FettleLifePage *self = FETTLE_LIFE_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->table != NULL)
    fettle_table_set_source (self->table, NULL);
  if (self->source != NULL)
    g_signal_handlers_disconnect_by_data (self->source, self);
  g_clear_object (&self->source);
  if (self->drafts != NULL)
    g_signal_handlers_disconnect_by_data (self->drafts, self);
  g_clear_object (&self->drafts);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->answer, fettle_life_answer_free);
  g_clear_pointer (&self->place, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_LIFE_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_life_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, choice);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, figures);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, charts);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, growth_words);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, remarks);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, plan);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, sheets_box);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, method);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, caution);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, state);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, unit);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, issue);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, remove);
  gtk_widget_class_bind_template_child (widget_class, FettleLifePage, table);
}

static void
fettle_life_page_class_init (FettleLifePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_life_page_dispose;
  g_type_ensure (FETTLE_TYPE_TABLE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/life-page.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_refused);
  gtk_widget_class_bind_template_callback (widget_class, on_unit);
  gtk_widget_class_bind_template_callback (widget_class, on_issue);
  gtk_widget_class_bind_template_callback (widget_class, on_remove);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_u, GDK_CONTROL_MASK, on_unit_shortcut, NULL);
}

/* A drawing on a sheet of its own. */
static GtkWidget *
make_chart (FettleLifePage *self, FettleChartView **chart, const char *name)
{
  GtkWidget *sheet = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  *chart = FETTLE_CHART_VIEW (fettle_chart_view_new ());
  gtk_widget_add_css_class (sheet, "sheet");
  gtk_widget_add_css_class (sheet, "chart-sheet");
  gtk_widget_set_name (GTK_WIDGET (*chart), name);
  gtk_widget_set_hexpand (GTK_WIDGET (*chart), TRUE);
  fettle_chart_view_set_height (*chart, CHART_HEIGHT);
  gtk_widget_set_size_request (GTK_WIDGET (*chart), -1, CHART_HEIGHT + CHART_WORDS); /* a viewport would press it flat */
  g_signal_connect_object (*chart, "mark-activated", G_CALLBACK (on_mark), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (sheet), GTK_WIDGET (*chart));
  return sheet;
}

static void
fettle_life_page_init (FettleLifePage *self)
{
  static const char *const names[N_SHEETS] = { "life-modes", "life-plan-units", "life-plan-cycles", "life-rounds" };

  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_choice_set_up (self->choice, _("Characteristic"));
  self->chart_sheet = make_chart (self, &self->chart, "life-chart");
  self->growth_sheet = make_chart (self, &self->growth, "growth-chart");
  gtk_box_append (self->charts, fettle_pair_new (self->chart_sheet, self->growth_sheet, PAIR_LEAST));
  for (guint i = 0; i < N_SHEETS; i++)
    {
      self->sheets[i] = FETTLE_SHEET_VIEW (fettle_sheet_view_new (names[i]));
      gtk_box_append (self->sheets_box, GTK_WIDGET (self->sheets[i]));
    }
}

/**
 * fettle_life_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, empty until its span is set
 */
GtkWidget *
fettle_life_page_new (FettleSitting *sitting)
{
  FettleLifePage *self = g_object_new (FETTLE_TYPE_LIFE_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  self->source = fettle_record_source_new (sitting, BOOK_RECORD_LIFE_TEST, fettle_life_columns, FETTLE_LIFE_N_COLUMNS);
  g_signal_connect_swapped (self->source, "stored", G_CALLBACK (on_stored), self);
  g_signal_connect_swapped (self->drafts, "restored", G_CALLBACK (on_restored), self);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  return GTK_WIDGET (self);
}
