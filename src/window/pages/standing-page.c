/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page only lays out what src/present says. It asks once for a span and once more after each change; an answer to
 * an older question is dropped by its cancellable. The table is filled anew with each answer; which criterion was open
 * is remembered by key.
 */
#include "config.h"

#include "standing-page.h"

#include <glib/gi18n.h>

#include "beside.h"
#include "chart-view.h"
#include "criterion-detail.h"
#include "ledger.h"
#include "pair.h"
#include "standing-answer.h"
#include "unparent.h"
#include "words.h"

#define SCORE_HEIGHT 220
#define COLUMN_WIDTH 380 /* least width of a column of sentences */

/* Both bounds make a long sentence cheap to measure: without them GTK searches for its best width. */
#define TEXT_LEAST_CHARS 24
#define TEXT_MOST_CHARS 60

struct _FettleStandingPage
{
  GtkWidget parent_instance;

  GtkWidget       *content;
  GtkLabel        *headline;
  GtkLabel        *lead;
  GtkBox          *sections;
  GtkWidget       *table_heading;
  GtkBox          *table;
  GtkWidget       *score_heading;
  GtkWidget       *score_sheet;
  FettleChartView *score;
  GtkLabel        *caution;
  FettleLedger    *ledger;

  FettleSitting        *sitting;
  FettleSpan            span;
  FettleStandingAnswer *answer; /* shown */
  GCancellable         *asking;
  gint64                open; /* key of the open criterion, 0: none */
};

enum { SHOWN, N_SIGNALS };
static guint signals[N_SIGNALS];

static void fettle_standing_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleStandingPage, fettle_standing_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_standing_page_page_init))

static const PresentCriterion *
criterion_at (FettleStandingPage *self, guint row)
{
  return g_ptr_array_index (self->answer->standing->criteria, row);
}

static int
find_row (FettleStandingPage *self, gint64 criterion)
{
  for (guint i = 0; self->answer != NULL && i < self->answer->standing->criteria->len; i++)
    if (criterion_at (self, i)->data->id == criterion)
      return (int) i;
  return -1;
}

/* ---- sentences ---- */

static void
on_line_activated (FettleStandingPage *self, GtkListBoxRow *row)
{
  const PresentLine *line = g_object_get_data (G_OBJECT (row), "line");

  if (line->criterion >= 0)
    {
      for (guint i = 0; i < self->answer->standing->criteria->len; i++)
        if (criterion_at (self, i)->index == (guint) line->criterion)
          fettle_ledger_select (self->ledger, (int) i, TRUE);
    }
  else if (line->characteristic != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "characteristic", line->characteristic);
  else if (line->record != NULL && line->id != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", line->record, line->id);
}

/* The sentence with the criterion's name standing out, where it begins with it. */
static GtkWidget *
make_text (const char *text, const PresentCriterion *criterion)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "yalign", 0.0f, "wrap", TRUE,
                                   "hexpand", TRUE, "width-chars", TEXT_LEAST_CHARS, "max-width-chars", TEXT_MOST_CHARS,
                                   NULL);

  if (criterion != NULL && g_str_has_prefix (text, criterion->name))
    {
      g_autoptr(PangoAttrList) attributes = pango_attr_list_new ();
      PangoAttribute *weight = pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD);

      weight->end_index = (guint) strlen (criterion->name);
      pango_attr_list_insert (attributes, weight);
      gtk_label_set_attributes (GTK_LABEL (label), attributes);
    }
  return label;
}

static const PresentCriterion *
criterion_of (FettleStandingPage *self, const PresentLine *line)
{
  for (guint i = 0; line->criterion >= 0 && i < self->answer->standing->criteria->len; i++)
    if (criterion_at (self, i)->index == (guint) line->criterion)
      return criterion_at (self, i);
  return NULL;
}

static GtkWidget *
make_section (FettleStandingPage *self, const PresentSection *section)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", section->heading, "xalign", 0.0f,
                                     "css-classes", (const char *[]){ "section", "spaced", NULL }, NULL);
  GtkListBox *list = g_object_new (GTK_TYPE_LIST_BOX, "selection-mode", GTK_SELECTION_NONE,
                                   "css-classes", (const char *[]){ "points", NULL }, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, section->heading, -1);
  g_signal_connect_swapped (list, "row-activated", G_CALLBACK (on_line_activated), self);
  for (guint i = 0; i < section->lines->len; i++)
    {
      PresentLine *line = g_ptr_array_index (section->lines, i);
      GtkWidget *row = gtk_list_box_row_new ();
      const PresentCriterion *criterion = criterion_of (self, line);
      gboolean states = section->kind == PRESENT_SECTION_BLOCKS || section->kind == PRESENT_SECTION_OPEN;
      const char *shape = states && criterion != NULL ? criterion->sign : section->kind == PRESENT_SECTION_NEXT ? "→" : "○";
      GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", shape, "yalign", 0.0f, "width-request", 16, "css-classes",
                                      (const char *[]){ section->kind == PRESENT_SECTION_BLOCKS ? "open" : "dim", NULL }, NULL);
      GtkWidget *text = make_text (line->text, criterion);

      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), fettle_beside_new (sign, text, 8));
      g_object_set_data (G_OBJECT (row), "line", line); /* lives as long as the answer shown */
      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), line->criterion >= 0 || line->characteristic != 0
                                                                       || (line->record != NULL && line->id != 0));
      gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, line->text, -1);
      gtk_list_box_append (list, row);
    }
  gtk_box_append (GTK_BOX (box), heading);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (list));
  return box;
}

/* What blocks on the left; what to do and what nobody looked at on the right. What is met stands in the table. */
static void
show_sections (FettleStandingPage *self)
{
  GtkWidget *columns[2] = { gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), gtk_box_new (GTK_ORIENTATION_VERTICAL, 0) };

  fettle_unparent_children (self->sections);
  for (guint i = 0; i < self->answer->standing->sections->len; i++)
    {
      const PresentSection *section = g_ptr_array_index (self->answer->standing->sections, i);
      int column = section->kind == PRESENT_SECTION_BLOCKS || section->kind == PRESENT_SECTION_OPEN ? 0 : 1;

      if (section->kind != PRESENT_SECTION_MET)
        gtk_box_append (GTK_BOX (columns[column]), make_section (self, section));
    }
  for (int i = 0; i < 2; i++)
    gtk_widget_set_visible (columns[i], gtk_widget_get_first_child (columns[i]) != NULL);
  gtk_box_append (self->sections, fettle_pair_new (columns[0], columns[1], COLUMN_WIDTH));
}

/* ---- table ---- */

static GtkWidget *
make_detail (guint row, gpointer user_data)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (user_data);

  self->open = criterion_at (self, row)->data->id;
  return fettle_criterion_detail_new (self->sitting, &self->span, criterion_at (self, row));
}

static void
on_criterion_activated (FettleStandingPage *self, guint row)
{
  fettle_criterion_go (GTK_WIDGET (self), criterion_at (self, row));
}

static void
show_table (FettleStandingPage *self)
{
  gint64 open = self->open;

  fettle_ledger_clear (self->ledger);
  for (guint i = 0; i < self->answer->standing->criteria->len; i++)
    {
      const PresentCriterion *criterion = criterion_at (self, i);
      g_autofree char *state = g_strdup_printf ("%s %s", criterion->sign, criterion->state);
      const char *cells[] = { criterion->name, criterion->limits, criterion->n, criterion->result, criterion->confidence,
                              criterion->wanted, state };

      fettle_ledger_add (self->ledger, cells, criterion->sentence,
                         criterion->data->blocks ? "open" : criterion->data->state == INSIGHT_MET ? NULL : "dim");
    }
  self->open = 0;
  if (open != 0 && find_row (self, open) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, open), FALSE);
}

/* ---- asking and showing ---- */

static void
show_lead (FettleStandingPage *self)
{
  const PresentStanding *standing = self->answer->standing;
  g_autofree char *since = present_standing_since (standing, self->span.from);
  g_autofree char *lead = g_strjoin ("\n", standing->span, standing->score, since, NULL);

  gtk_label_set_label (self->lead, lead);
}

static void
show_answer (FettleStandingPage *self)
{
  const PresentStanding *standing = self->answer->standing;
  GtkWidget *tables[] = { self->table_heading, GTK_WIDGET (self->table), self->score_heading, self->score_sheet };

  gtk_label_set_label (self->headline, standing->headline);
  show_lead (self);
  show_sections (self);
  show_table (self);
  fettle_chart_view_set_words (self->score, _("Evidence gathered through the rounds"), standing->score);
  fettle_chart_view_take_chart (self->score, g_steal_pointer (&self->answer->score));
  fettle_words_show (self->caution, standing->caution);
  /* Without a criterion the sentences say all there is. */
  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    gtk_widget_set_visible (tables[i], standing->criteria->len > 0);
  gtk_widget_set_visible (self->content, TRUE);
  g_signal_emit (self, signals[SHOWN], 0);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleStandingPage) self = FETTLE_STANDING_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleStandingAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  FettleStandingAnswer *before;

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }

  before = self->answer;
  self->answer = answer;
  show_answer (self);
  fettle_standing_answer_free (before); /* the rows that pointed into it are gone now */
}

static void
ask (FettleStandingPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_standing_ask_work,
                      fettle_standing_ask_new (fettle_sitting_get_book (self->sitting), self->span.model, self->span.to),
                      fettle_standing_ask_free, fettle_standing_answer_free, self->asking, on_answer, g_object_ref (self));
}

static void
fettle_standing_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.to == span->to;

  self->span = *span;
  if (!same)
    ask (self);
  else if (self->answer != NULL)
    show_lead (self);
}

static void
fettle_standing_page_refresh (FettlePage *page)
{
  ask (FETTLE_STANDING_PAGE (page));
}

static gboolean
fettle_standing_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (page);

  if (!g_str_equal (record, "criterion"))
    return FALSE;

  self->open = key; /* opened with the next answer, if it is not there yet */
  if (find_row (self, key) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, key), TRUE);
  return TRUE;
}

static gboolean
fettle_standing_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (page);
  int row = self->answer == NULL ? -1 : fettle_ledger_get_selected (self->ledger);

  if (row < 0)
    return FALSE;
  *record = "criterion";
  *key = criterion_at (self, (guint) row)->data->id;
  return TRUE;
}

static void
fettle_standing_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_standing_page_set_span;
  iface->refresh = fettle_standing_page_refresh;
  iface->show_record = fettle_standing_page_show_record;
  iface->get_place = fettle_standing_page_get_place;
}

static void
on_round_activated (FettleStandingPage *self, gint64 round)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.round", "x", round);
}

/* One goes on with the list. */
static gboolean
fettle_standing_page_grab_focus (GtkWidget *widget)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (widget);

  return self->ledger != NULL && fettle_ledger_begin (self->ledger, widget);
}

static void
fettle_standing_page_dispose (GObject *object)
{
  FettleStandingPage *self = FETTLE_STANDING_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_STANDING_PAGE);
  fettle_unparent_children (self);
  self->ledger = NULL;
  g_clear_pointer (&self->answer, fettle_standing_answer_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_standing_page_parent_class)->dispose (object);
}

static void
fettle_standing_page_class_init (FettleStandingPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_standing_page_dispose;
  widget_class->grab_focus = fettle_standing_page_grab_focus;
  signals[SHOWN] = g_signal_new ("shown", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/standing-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, headline);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, sections);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, table_heading);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, score_heading);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, score_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, score);
  gtk_widget_class_bind_template_child (widget_class, FettleStandingPage, caution);
  gtk_widget_class_bind_template_callback (widget_class, on_round_activated);
}

static void
fettle_standing_page_init (FettleStandingPage *self)
{
  const FettleLedgerColumn columns[] = {
    { _("Criterion"), FALSE, TRUE, 0 },
    { _("Limits"), TRUE, FALSE, 2 },
    { _("n"), TRUE, FALSE, 0 },
    { _("Result"), TRUE, FALSE, 1 },
    { _("Confidence"), TRUE, FALSE, 0 },
    { _("Wanted"), TRUE, FALSE, 3 },
    { _("Evidence"), FALSE, FALSE, 0 },
  };

  gtk_widget_init_template (GTK_WIDGET (self));
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, G_N_ELEMENTS (columns), _("What must be shown")));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), "criteria");
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  gtk_box_append (self->table, GTK_WIDGET (self->ledger));
  fettle_ledger_set_detail (self->ledger, make_detail, self);
  g_signal_connect_swapped (self->ledger, "activated", G_CALLBACK (on_criterion_activated), self);
  fettle_chart_view_set_height (self->score, SCORE_HEIGHT);
}

/**
 * fettle_standing_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_standing_page_new (FettleSitting *sitting)
{
  FettleStandingPage *self = g_object_new (FETTLE_TYPE_STANDING_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}

/**
 * fettle_standing_page_is_shown:
 * @self: the page
 *
 * Returns: whether an answer is on the page
 */
gboolean
fettle_standing_page_is_shown (FettleStandingPage *self)
{
  g_return_val_if_fail (FETTLE_IS_STANDING_PAGE (self), FALSE);

  return self->answer != NULL;
}
