/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page lays out what src/present says. Each answer brings new words; which rows are there follows from the search and
 * the choices above the table. The detail of the selected issue outlives all of that, since a form may be open in it: where
 * the same rows are shown only their cells are written anew, else it is moved into its new row.
 */
#include "config.h"

#include "issues-page.h"

#include <glib/gi18n.h>

#include "chart-view.h"
#include "choice.h"
#include "issue-detail.h"
#include "issue-filter.h"
#include "issue-raise.h"
#include "issues-answer.h"
#include "keyboard.h"
#include "ledger.h"
#include "record-form.h"
#include "sentence.h"
#include "unparent.h"
#include "words.h"

#define CHART_HEIGHT 240

struct _FettleIssuesPage
{
  GtkWidget parent_instance;

  GtkWidget       *scroll;
  GtkWidget       *content;
  GtkWidget       *raise;
  GtkLabel        *headline;
  GtkWidget       *kept_line;
  GtkBox          *raise_place;
  GtkWidget       *empty;
  GtkWidget       *filters;
  GtkEditable     *search;
  GtkDropDown     *state;
  GtkDropDown     *klass;
  GtkDropDown     *order;
  GtkLabel        *nothing;
  GtkBox          *table;
  GtkWidget       *chart_heading;
  GtkWidget       *chart_sheet;
  FettleChartView *chart;
  GtkBox          *days;
  GtkLabel        *caution;
  FettleLedger    *ledger;

  FettleSitting      *sitting;
  FettleSpan          span;
  FettleIssuesAnswer *answer; /* shown */
  GCancellable       *asking;
  GArray             *rows;   /* keys of the issues in the table, in its order */
  FettleIssueDetail  *detail; /* of the selected issue; NULL: none */
  FettleIssueRaise   *raising;
  gint64              open;   /* key of the issue to be selected with the next answer; 0: none */
  gboolean            is_finding; /* @open is the key of one of its findings */
  gboolean            focus_open;
  gboolean            filling; /* rows come and go: selections mean nothing */
};

enum { SHOWN, N_SIGNALS };
static guint signals[N_SIGNALS];

static void fettle_issues_page_page_init (FettlePageInterface *iface);
static void ask (FettleIssuesPage *self);
static void show_kept (FettleIssuesPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleIssuesPage, fettle_issues_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_issues_page_page_init))

/* ---- which rows ---- */

static GPtrArray *
list_rows (FettleIssuesPage *self)
{
  const FettleIssueFilter filter = { gtk_editable_get_text (self->search), gtk_drop_down_get_selected (self->state),
                                     gtk_drop_down_get_selected (self->klass), gtk_drop_down_get_selected (self->order) };

  return fettle_issue_filter_list (&filter, self->answer->issues);
}

static int
find_row (FettleIssuesPage *self, gint64 issue)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (g_array_index (self->rows, gint64, i) == issue)
      return (int) i;
  return -1;
}

static gboolean
same_rows (FettleIssuesPage *self, GPtrArray *rows)
{
  if (rows->len != self->rows->len)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    if (((PresentIssueRow *) g_ptr_array_index (rows, i))->data->id != g_array_index (self->rows, gint64, i))
      return FALSE;
  return TRUE;
}

/* ---- table ---- */

static void
drop_detail (FettleIssuesPage *self)
{
  g_clear_object (&self->detail);
}

static GtkWidget *
make_detail (guint row, gpointer user_data)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (user_data);
  gint64 key = g_array_index (self->rows, gint64, row);

  if (self->detail != NULL && fettle_issue_detail_get_id (self->detail) == key)
    return GTK_WIDGET (self->detail);
  drop_detail (self);
  self->detail = g_object_ref_sink (FETTLE_ISSUE_DETAIL (
    fettle_issue_detail_new (self->sitting, self->span.model, insight_issues_find (self->answer->issues->data, key))));
  return GTK_WIDGET (self->detail);
}

static void
on_row_activated (FettleIssuesPage *self, guint row)
{
  if (self->detail != NULL)
    gtk_widget_child_focus (GTK_WIDGET (self->detail), GTK_DIR_TAB_FORWARD);
}

static void
fill_cells (const PresentIssueRow *row, const char *cells[6], char **title, char **state)
{
  *title = row->recurring[0] != '\0' ? g_strdup_printf ("%s (%s)", row->title, row->recurring) : g_strdup (row->title);
  *state = g_strdup_printf ("%s %s", row->mark, row->state);
  cells[0] = row->no;
  cells[1] = *title;
  cells[2] = row->klass;
  cells[3] = row->found_round;
  cells[4] = row->age;
  cells[5] = *state;
}

static void
show_row (FettleIssuesPage *self, const PresentIssueRow *row, int at)
{
  g_autofree char *title = NULL, *state = NULL, *words = NULL;
  const char *cells[6], *css_class;

  fill_cells (row, cells, &title, &state);
  words = g_strdup_printf ("%s %s, %s, %s", row->no, title, row->klass, row->state);
  css_class = insight_issue_is_closed (row->data) ? "dim" : row->data->state == INSIGHT_ISSUE_PROVEN ? NULL : "open";
  if (at >= 0)
    fettle_ledger_change (self->ledger, (guint) at, cells, words, css_class);
  else
    fettle_ledger_add (self->ledger, cells, words, css_class);
}

/* Other rows than before: the open detail moves along, and with it the keyboard. */
static void
rebuild_table (FettleIssuesPage *self, GPtrArray *rows)
{
  gint64 selected = self->detail != NULL ? fettle_issue_detail_get_id (self->detail) : 0;
  GtkWidget *focus = fettle_keyboard_focus (GTK_WIDGET (self));
  g_autoptr(GtkWidget) kept = focus != NULL && self->detail != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->detail))
                                  ? g_object_ref (focus) : NULL;

  self->filling = TRUE;
  fettle_ledger_clear (self->ledger);
  g_array_set_size (self->rows, 0);
  for (guint i = 0; i < rows->len; i++)
    {
      const PresentIssueRow *row = g_ptr_array_index (rows, i);

      g_array_append_val (self->rows, row->data->id);
      show_row (self, row, -1);
    }
  if (selected != 0 && find_row (self, selected) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, selected), FALSE);
  else
    drop_detail (self);
  self->filling = FALSE;
  if (kept != NULL && gtk_widget_get_root (kept) == gtk_widget_get_root (GTK_WIDGET (self)))
    gtk_widget_grab_focus (kept);
}

static void
show_table (FettleIssuesPage *self)
{
  g_autoptr(GPtrArray) rows = list_rows (self);

  if (same_rows (self, rows))
    for (guint i = 0; i < rows->len; i++)
      show_row (self, g_ptr_array_index (rows, i), (int) i);
  else
    rebuild_table (self, rows);
  gtk_widget_set_visible (GTK_WIDGET (self->nothing), rows->len == 0 && self->answer->issues->rows->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->table), rows->len > 0);
}

static void
on_filter (FettleIssuesPage *self)
{
  if (self->answer != NULL && self->ledger != NULL)
    show_table (self);
}

static gint64
issue_of (FettleIssuesPage *self, gint64 finding)
{
  const GPtrArray *issues = self->answer->issues->data->issues;

  for (guint i = 0; i < issues->len; i++)
    {
      const InsightIssue *issue = g_ptr_array_index (issues, i);

      for (guint j = 0; j < issue->findings->len; j++)
        if (((InsightIssueFinding *) g_ptr_array_index (issue->findings, j))->id == finding)
          return issue->id;
    }
  return 0;
}

/* What was asked for stands in the table, whatever the choices above it say. */
static void
show_wanted (FettleIssuesPage *self)
{
  gint64 open = self->is_finding ? issue_of (self, self->open) : self->open;

  if (open == 0 || insight_issues_find (self->answer->issues->data, open) == NULL)
    return;
  if (find_row (self, open) < 0)
    {
      gtk_editable_set_text (self->search, "");
      gtk_drop_down_set_selected (self->state, FETTLE_ISSUE_STATE_ALL);
      gtk_drop_down_set_selected (self->klass, 0);
    }
  self->open = 0;
  fettle_ledger_select (self->ledger, find_row (self, open), self->focus_open);
  self->focus_open = FALSE;
}

/* ---- asking and showing ---- */

static void
show_days (FettleIssuesPage *self)
{
  fettle_unparent_children (self->days);
  for (int i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    {
      const char *words = self->answer->issues->days[i];

      if (words != NULL && words[0] != '\0')
        gtk_box_append (self->days, fettle_sentence_new (words, NULL));
    }
}

static void
show_answer (FettleIssuesPage *self)
{
  const PresentIssues *issues = self->answer->issues;
  gboolean any = issues->rows->len > 0;
  const InsightIssue *detailed = self->detail != NULL
                                     ? insight_issues_find (issues->data, fettle_issue_detail_get_id (self->detail)) : NULL;

  gtk_label_set_label (self->headline, issues->headline);
  gtk_widget_set_visible (GTK_WIDGET (self->headline), any);
  show_table (self);
  if (detailed != NULL)
    fettle_issue_detail_take (self->detail, detailed);
  show_wanted (self);
  if (self->answer->chart != NULL)
    {
      fettle_chart_view_take_chart (self->chart, g_steal_pointer (&self->answer->chart));
      fettle_chart_view_set_words (self->chart, _("Issues found and solved"), issues->headline);
    }
  show_days (self);
  gtk_widget_set_visible (self->chart_heading, any);
  gtk_widget_set_visible (self->chart_sheet, any);
  gtk_widget_set_visible (GTK_WIDGET (self->days), any);
  gtk_widget_set_visible (self->filters, any);
  show_kept (self);
  fettle_words_show (self->caution, issues->caution);
  gtk_widget_set_visible (self->content, TRUE);
  g_signal_emit (self, signals[SHOWN], 0);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleIssuesPage) self = FETTLE_ISSUES_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleIssuesAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_issues_answer_free (answer);
      return;
    }
  fettle_issues_answer_free (self->answer); /* nothing that is shown points into it */
  self->answer = answer;
  show_answer (self);
}

static void
ask (FettleIssuesPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_issues_ask_work, fettle_issues_ask_new (self->span.model, self->span.to),
                      fettle_issues_ask_free, fettle_issues_answer_free, self->asking, on_answer, g_object_ref (self));
}

/* ---- a new issue ---- */

static void
show_kept (FettleIssuesPage *self)
{
  gboolean open = fettle_issue_raise_is_open (self->raising);

  gtk_widget_set_visible (self->kept_line, !open && self->span.model != 0
                                               && fettle_record_form_has_draft (self->sitting, BOOK_RECORD_ISSUE, self->span.model));
  gtk_widget_set_visible (self->empty, !open && self->answer != NULL && self->answer->issues->rows->len == 0);
}

static void
on_raise_closing (FettleIssuesPage *self)
{
  if ((gtk_widget_get_state_flags (GTK_WIDGET (self->raising)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_grab_focus (self->raise);
}

static void
on_raised (FettleIssuesPage *self, gint64 issue)
{
  self->open = issue;
  self->is_finding = FALSE;
  self->focus_open = TRUE;
}

static void
on_raise (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (widget);

  fettle_issue_raise_begin (self->raising, &self->span);
}

static void
on_raise_from (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (widget);

  fettle_issue_raise_from (self->raising, &self->span, g_variant_get_int64 (parameter));
}

static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (widget);

  if (self->detail != NULL)
    fettle_issue_detail_act (self->detail, g_variant_get_string (parameter, NULL));
  else
    fettle_sitting_say (self->sitting, _("Choose an issue in the list first."), NULL, NULL);
}

/* ---- as a page ---- */

static void
fettle_issues_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (page);
  gboolean other = self->span.model != span->model;

  if (!other && self->span.to == span->to)
    {
      self->span = *span;
      return;
    }
  if (other)
    {
      fettle_issue_raise_close (self->raising);
      self->open = 0;
    }
  self->span = *span;
  show_kept (self);
  ask (self);
}

static void
fettle_issues_page_refresh (FettlePage *page)
{
  ask (FETTLE_ISSUES_PAGE (page));
}

static gboolean
fettle_issues_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (page);

  if (!g_str_equal (record, "issue") && !g_str_equal (record, "finding"))
    return FALSE;
  self->open = key; /* opened with the next answer, if it is not there yet */
  self->is_finding = g_str_equal (record, "finding");
  self->focus_open = TRUE;
  if (self->answer != NULL)
    show_wanted (self);
  return TRUE;
}

static gboolean
fettle_issues_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (page);
  int row = fettle_ledger_get_selected (self->ledger);

  if (row < 0 || (guint) row >= self->rows->len)
    return FALSE;
  *record = "issue";
  *key = g_array_index (self->rows, gint64, row);
  return TRUE;
}

static void
fettle_issues_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_issues_page_set_span;
  iface->refresh = fettle_issues_page_refresh;
  iface->show_record = fettle_issues_page_show_record;
  iface->get_place = fettle_issues_page_get_place;
}

/* One goes on with the list. */
static gboolean
fettle_issues_page_grab_focus (GtkWidget *widget)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (widget);

  return self->ledger != NULL && fettle_ledger_begin (self->ledger, widget);
}

static void
fettle_issues_page_dispose (GObject *object)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->raising != NULL)
    g_signal_handlers_disconnect_by_data (self->raising, self);
  self->raising = NULL;
  if (self->sitting != NULL)
    g_signal_handlers_disconnect_by_data (fettle_sitting_get_drafts (self->sitting), self);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_ISSUES_PAGE);
  fettle_unparent_children (self);
  self->ledger = NULL;
  drop_detail (self);
  g_clear_pointer (&self->answer, fettle_issues_answer_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_issues_page_parent_class)->dispose (object);
}

static void
fettle_issues_page_finalize (GObject *object)
{
  g_array_unref (FETTLE_ISSUES_PAGE (object)->rows);
  G_OBJECT_CLASS (fettle_issues_page_parent_class)->finalize (object);
}

/* Ctrl+V pastes a picture, except where something is typed. */
static gboolean
on_paste_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleIssuesPage *self = FETTLE_ISSUES_PAGE (widget);
  GtkWidget *focus = fettle_keyboard_focus (widget);

  if (self->detail == NULL || GTK_IS_TEXT (focus) || GTK_IS_TEXT_VIEW (focus))
    return FALSE;
  fettle_issue_detail_act (self->detail, "paste");
  return TRUE;
}

static void
fettle_issues_page_class_init (FettleIssuesPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_issues_page_dispose;
  widget_class->grab_focus = fettle_issues_page_grab_focus;
  G_OBJECT_CLASS (class)->finalize = fettle_issues_page_finalize;
  signals[SHOWN] = g_signal_new ("shown", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/issues-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, scroll);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, raise);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, headline);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, kept_line);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, raise_place);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, empty);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, filters);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, search);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, state);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, klass);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, order);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, nothing);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, chart_heading);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, chart_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, days);
  gtk_widget_class_bind_template_child (widget_class, FettleIssuesPage, caution);
  gtk_widget_class_bind_template_callback (widget_class, on_filter);
  gtk_widget_class_install_action (widget_class, "issue.raise", NULL, on_raise);
  gtk_widget_class_install_action (widget_class, "issue.raise-from", "x", on_raise_from);
  gtk_widget_class_install_action (widget_class, "issue.act", "s", on_act);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_v, GDK_CONTROL_MASK, on_paste_key, NULL);
}

static void
set_up_choice (GtkDropDown *choice, const char *label, const char *const *names, guint n)
{
  g_autoptr(GtkStringList) list = gtk_string_list_new (NULL);

  for (guint i = 0; i < n; i++)
    gtk_string_list_append (list, _(names[i]));
  gtk_drop_down_set_model (choice, G_LIST_MODEL (list));
  fettle_choice_set_up (choice, label);
}

static void
fettle_issues_page_init (FettleIssuesPage *self)
{
  const FettleLedgerColumn columns[] = {
    { _("No"), TRUE, FALSE, 0 },      { _("What goes wrong"), FALSE, TRUE, 0 }, { _("Class"), FALSE, FALSE, 2 },
    { _("Found in"), FALSE, FALSE, 3 }, { _("Open for"), TRUE, FALSE, 1 },      { _("State"), FALSE, FALSE, 0 },
  };
  const char *classes[] = { N_("Every class"), book_classes[0].label, book_classes[1].label, book_classes[2].label };

  self->rows = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_widget_init_template (GTK_WIDGET (self));
  set_up_choice (self->state, _("State"), fettle_issue_states, FETTLE_N_ISSUE_STATES);
  set_up_choice (self->klass, _("Class"), classes, G_N_ELEMENTS (classes));
  set_up_choice (self->order, _("Order"), fettle_issue_orders, FETTLE_N_ISSUE_ORDERS);
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, G_N_ELEMENTS (columns), _("Issues")));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), "issues-table");
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  gtk_box_append (self->table, GTK_WIDGET (self->ledger));
  fettle_ledger_set_detail (self->ledger, make_detail, self);
  g_signal_connect_swapped (self->ledger, "activated", G_CALLBACK (on_row_activated), self);
  fettle_chart_view_set_height (self->chart, CHART_HEIGHT);
}

/**
 * fettle_issues_page_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the page, empty until a span is set
 */
GtkWidget *
fettle_issues_page_new (FettleSitting *sitting)
{
  FettleIssuesPage *self = g_object_new (FETTLE_TYPE_ISSUES_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->raising = FETTLE_ISSUE_RAISE (fettle_issue_raise_new (sitting));
  g_signal_connect_swapped (self->raising, "raised", G_CALLBACK (on_raised), self);
  g_signal_connect_swapped (self->raising, "closing", G_CALLBACK (on_raise_closing), self);
  g_signal_connect_swapped (self->raising, "toggled", G_CALLBACK (show_kept), self);
  gtk_box_append (self->raise_place, GTK_WIDGET (self->raising));
  g_signal_connect_swapped (fettle_sitting_get_drafts (sitting), "restored", G_CALLBACK (show_kept), self);
  return GTK_WIDGET (self);
}

/**
 * fettle_issues_page_is_shown:
 * @self: the page
 *
 * Returns: whether an answer is on the page
 */
gboolean
fettle_issues_page_is_shown (FettleIssuesPage *self)
{
  g_return_val_if_fail (FETTLE_IS_ISSUES_PAGE (self), FALSE);

  return self->answer != NULL;
}
