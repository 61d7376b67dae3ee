/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "criterion-detail.h"

#include <glib/gi18n.h>

#include "chart-view.h"
#include "standing-answer.h"

#define CHART_HEIGHT 210
#define LEAST_CHARS 24
#define MOST_CHARS 100 /* a longer line is hard to read */

struct _FettleCriterionDetail
{
  GtkWidget parent_instance;

  GtkWidget       *box;
  FettleChartView *chart; /* NULL for what has no characteristic */
  GCancellable    *asking;
};

G_DEFINE_FINAL_TYPE (FettleCriterionDetail, fettle_criterion_detail, GTK_TYPE_WIDGET)

static GtkWidget *
add_text (FettleCriterionDetail *self, const char *text, const char *const *classes)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "wrap", TRUE, "selectable", TRUE,
                                   "can-focus", FALSE, "width-chars", LEAST_CHARS, "max-width-chars", MOST_CHARS,
                                   "halign", GTK_ALIGN_START,
                                   "css-classes", classes, NULL);

  gtk_box_append (GTK_BOX (self->box), label);
  return label;
}

static void
on_series (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleCriterionDetail) self = FETTLE_CRITERION_DETAIL (user_data);
  g_autoptr(FettleSeriesAnswer) answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL);

  /* A failure is said by the page that asks the same evidence; here the room for the chart stays empty. */
  if (answer == NULL || self->chart == NULL)
    return;

  fettle_chart_view_set_words (self->chart, answer->name, answer->words);
  fettle_chart_view_take_chart (self->chart, g_steal_pointer (&answer->chart));
}

static void
on_mark_activated (FettleCriterionDetail *self, gint64 reading)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "reading", reading);
}

static void
add_chart (FettleCriterionDetail *self, FettleSitting *sitting, const FettleSpan *span, gint64 characteristic)
{
  FettleSeriesAsk *ask = fettle_series_ask_new (span->model, characteristic, span->to);

  self->chart = FETTLE_CHART_VIEW (fettle_chart_view_new ());
  fettle_chart_view_set_height (self->chart, CHART_HEIGHT);
  gtk_widget_set_margin_top (GTK_WIDGET (self->chart), 6);
  g_signal_connect_object (self->chart, "mark-activated", G_CALLBACK (on_mark_activated), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->chart));
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (sitting, fettle_series_ask_work, ask, fettle_series_ask_free, fettle_series_answer_free,
                      self->asking, on_series, g_object_ref (self));
}

static void
add_links (FettleCriterionDetail *self, const PresentCriterion *criterion)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *method, *toggle;

  gtk_widget_set_margin_top (line, 4);
  if (criterion->data->characteristic != 0)
    {
      GtkWidget *units = g_object_new (GTK_TYPE_BUTTON, "label", _("Its units"), "name", "units",
                                       "action-name", "win.show-record",
                                       "action-target", g_variant_new ("(sx)", "characteristic", criterion->data->characteristic),
                                       "css-classes", (const char *[]){ "plain", NULL }, NULL);

      gtk_box_append (GTK_BOX (line), units);
    }
  gtk_box_append (GTK_BOX (self->box), line);
  if (criterion->method == NULL || criterion->method[0] == '\0')
    return;

  method = add_text (self, criterion->method, (const char *[]){ "dim", NULL });
  toggle = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "label", _("How it is computed"), "name", "method",
                         "css-classes", (const char *[]){ "plain", NULL }, NULL);
  g_object_bind_property (toggle, "active", method, "visible", G_BINDING_SYNC_CREATE);
  gtk_box_append (GTK_BOX (line), toggle);
}

static void
fettle_criterion_detail_dispose (GObject *object)
{
  FettleCriterionDetail *self = FETTLE_CRITERION_DETAIL (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->chart = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_criterion_detail_parent_class)->dispose (object);
}

static void
fettle_criterion_detail_class_init (FettleCriterionDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_criterion_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_criterion_detail_init (FettleCriterionDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

/**
 * fettle_criterion_detail_new:
 * @sitting: to be asked for the drawing
 * @span: model and rounds
 * @criterion: what to tell; not kept
 *
 * Returns: what a selected row of the criteria shows below its cells
 */
GtkWidget *
fettle_criterion_detail_new (FettleSitting *sitting, const FettleSpan *span, const PresentCriterion *criterion)
{
  FettleCriterionDetail *self = g_object_new (FETTLE_TYPE_CRITERION_DETAIL, NULL);

  add_text (self, criterion->sentence, (const char *[]){ "lead", NULL });
  if (criterion->figures != NULL && criterion->figures[0] != '\0')
    add_text (self, criterion->figures, (const char *[]){ "num", "dim", NULL });
  add_links (self, criterion);
  if (criterion->data->characteristic != 0)
    add_chart (self, sitting, span, criterion->data->characteristic);
  for (guint i = 0; i < criterion->remarks->len; i++)
    add_text (self, g_ptr_array_index (criterion->remarks, i), (const char *[]){ "dim", NULL });
  return GTK_WIDGET (self);
}
