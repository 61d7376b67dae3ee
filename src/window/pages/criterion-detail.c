/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "criterion-detail.h"

#include <glib/gi18n.h>

#include "book-record.h"
#include "chart-view.h"
#include "page.h"
#include "sentence.h"
#include "standing-answer.h"
#include "wrap.h"

#define CHART_HEIGHT 210
#define MOST_FAILING 24

struct _FettleCriterionDetail
{
  GtkWidget parent_instance;

  GtkWidget       *box;
  FettleChartView *chart; /* NULL for what has no characteristic */
  GtkWidget       *failing; /* the units that fail, by their serials; NULL: none */
  GCancellable    *asking;
};

G_DEFINE_FINAL_TYPE (FettleCriterionDetail, fettle_criterion_detail, GTK_TYPE_WIDGET)

static GtkWidget *
add_text (FettleCriterionDetail *self, const char *text, const char *classes)
{
  GtkWidget *label = fettle_sentence_new (text, classes);

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
  if (self->asking == NULL)
    self->asking = g_cancellable_new ();
  fettle_sitting_ask (sitting, fettle_series_ask_work, ask, fettle_series_ask_free, fettle_series_answer_free,
                      self->asking, on_series, g_object_ref (self));
}

/* ---- the units that fail ---- */

static void
free_keys (gpointer data)
{
  g_array_unref (data);
}

static gpointer
serials_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const GArray *keys = data;
  GPtrArray *serials = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < keys->len; i++)
    {
      char *serial = book_record_key_text (db, book_record (BOOK_RECORD_UNIT), g_array_index (keys, gint64, i), BOOK_KEY_TEXT_SHORT,
                                           error);

      if (serial == NULL)
        {
          g_ptr_array_unref (serials);
          return NULL;
        }
      g_ptr_array_add (serials, serial);
    }
  return serials;
}

typedef struct
{
  FettleCriterionDetail *self;
  GArray                *keys;
} Naming;

static void
on_serials (GObject *source, GAsyncResult *result, gpointer data)
{
  Naming *naming = data;
  g_autoptr(FettleCriterionDetail) self = naming->self;
  g_autoptr(GArray) keys = naming->keys;
  g_autoptr(GPtrArray) serials = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL);

  g_free (naming);
  for (guint i = 0; serials != NULL && self->failing != NULL && i < serials->len; i++)
    fettle_wrap_add (FETTLE_WRAP (self->failing),
                     g_object_new (GTK_TYPE_BUTTON, "label", serials->pdata[i], "name", "failing-unit", "action-name", "win.show-unit",
                                   "action-target", g_variant_new_int64 (g_array_index (keys, gint64, i)), "css-classes",
                                   (const char *[]){ "words", NULL }, NULL));
}

static void
add_failing (FettleCriterionDetail *self, FettleSitting *sitting, const InsightIds *failing)
{
  const char *words = failing->n > MOST_FAILING ? _("The first of those that fail:") : _("Those that fail:");
  Naming *naming;

  if (failing->n == 0)
    return;
  self->failing = fettle_wrap_new (8);
  fettle_wrap_add (FETTLE_WRAP (self->failing),
                   g_object_new (GTK_TYPE_LABEL, "label", words, "css-classes", (const char *[]){ "dim", NULL }, NULL));
  gtk_box_append (GTK_BOX (self->box), self->failing);
  if (self->asking == NULL)
    self->asking = g_cancellable_new ();
  naming = g_new0 (Naming, 1);
  naming->self = g_object_ref (self);
  naming->keys = g_array_append_vals (g_array_new (FALSE, FALSE, sizeof (gint64)), failing->ids, MIN (failing->n, MOST_FAILING));
  fettle_sitting_ask (sitting, serials_work, g_array_ref (naming->keys), free_keys, (GDestroyNotify) g_ptr_array_unref, self->asking,
                      on_serials, naming);
}

/* The page with what a criterion counts that no characteristic shows; NULL: its readings do. */
static const char *
page_of (BookCriterionKind kind, const char **label)
{
  switch (kind)
    {
    case BOOK_CRITERION_FIX:
    case BOOK_CRITERION_ISSUES:
      *label = _("Its Issues");
      return "issues";
    case BOOK_CRITERION_YIELD:
    case BOOK_CRITERION_RATE:
      *label = _("Its Run");
      return "pilot";
    case BOOK_CRITERION_LIFE:
      *label = _("Its Life Tests");
      return "life";
    case BOOK_CRITERION_METHOD:
    case BOOK_CRITERION_DETECTION:
      *label = _("Its Study");
      return "gauges";
    case BOOK_CRITERION_REVISIONS:
      *label = _("The Changes");
      return "changes";
    case BOOK_CRITERION_LOTS:
      *label = _("The Rounds");
      return "rounds";
    case BOOK_CRITERION_SIGN_OFFS:
      *label = _("The Release");
      return "release";
    case BOOK_CRITERION_DOCUMENTS:
      *label = _("The Set-up");
      return "setup";
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_MEASURED:
    default:
      return NULL;
    }
}

/**
 * fettle_criterion_go:
 * @widget: within the window
 * @criterion: a criterion
 *
 * Goes to what the criterion counts; where no page shows that, to the history of the criterion.
 */
void
fettle_criterion_go (GtkWidget *widget, const PresentCriterion *criterion)
{
  const char *label = NULL;
  const char *page = page_of (criterion->data->kind, &label);

  if (page != NULL && fettle_page_kind_find (page) >= 0)
    gtk_widget_activate_action (widget, "win.page", "s", page);
  else if (criterion->data->characteristic != 0)
    gtk_widget_activate_action (widget, "win.show-record", "(sx)", "characteristic", criterion->data->characteristic);
  else
    gtk_widget_activate_action (widget, "win.show-history", "(sx)", "criterion", criterion->data->id);
}

static void
add_page_link (GtkBox *line, const InsightCriterion *criterion)
{
  const char *label = NULL;
  const char *page = page_of (criterion->kind, &label);

  if (page != NULL && fettle_page_kind_find (page) >= 0)
    gtk_box_append (line, g_object_new (GTK_TYPE_BUTTON, "label", label, "name", "criterion-page", "action-name", "win.page",
                                        "action-target", g_variant_new_string (page), "css-classes",
                                        (const char *[]){ "plain", NULL }, NULL));
}

static void
add_links (FettleCriterionDetail *self, const PresentCriterion *criterion)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *method, *toggle;

  gtk_widget_set_margin_top (line, 4);
  add_page_link (GTK_BOX (line), criterion->data);
  if (criterion->data->characteristic != 0)
    {
      GtkWidget *units = g_object_new (GTK_TYPE_BUTTON, "label", _("Its Units"), "name", "units",
                                       "action-name", "win.show-record",
                                       "action-target", g_variant_new ("(sx)", "characteristic", criterion->data->characteristic),
                                       "css-classes", (const char *[]){ "plain", NULL }, NULL);

      gtk_box_append (GTK_BOX (line), units);
    }
  gtk_box_append (GTK_BOX (self->box), line);
  if (criterion->method == NULL || criterion->method[0] == '\0')
    return;

  method = add_text (self, criterion->method, "dim");
  toggle = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "label", _("How It Is Computed"), "name", "method",
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
  self->failing = NULL;
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

  add_text (self, criterion->sentence, "lead");
  if (criterion->figures != NULL && criterion->figures[0] != '\0')
    add_text (self, criterion->figures, "num dim");
  add_links (self, criterion);
  add_failing (self, sitting, &criterion->data->failing);
  if (criterion->data->characteristic != 0)
    add_chart (self, sitting, span, criterion->data->characteristic);
  for (guint i = 0; i < criterion->remarks->len; i++)
    add_text (self, g_ptr_array_index (criterion->remarks, i), "dim");
  return GTK_WIDGET (self);
}
