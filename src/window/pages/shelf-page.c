/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shelf-page.h"

#include <glib/gi18n.h>

#include "chart-rows.h"
#include "chart-theme.h"
#include "chart-view.h"
#include "choice.h"
#include "look.h"
#include "present-shelf.h"
#include "sentence.h"
#include "sheet-view.h"
#include "shelf-answer.h"
#include "unparent.h"
#include "wrap.h"

#define CHART_WORDS      28 /* height of the line below the drawing */

/*
 * One model is asked after the other, with one question waiting behind, so that another page waits for two at most; each
 * answer stands at its place at once. What was shown before a refresh stays until its model's new answer is there.
 */
struct _FettleShelfPage
{
  GtkWidget parent_instance;

  GtkWidget       *content;
  GtkLabel        *lead;
  GtkLabel        *progress;
  FettleSheetView *models;
  GtkWidget       *courses;
  GtkDropDown     *one;
  GtkWidget       *beside;
  GtkDropDown     *other;
  GtkCheckButton  *by_days;
  GtkWidget       *chart_sheet;
  FettleChartView *chart;
  GtkBox          *notes;

  FettleSitting *sitting;
  FettleSpan     span;
  GCancellable  *asking;
  GArray        *keys;    /* gint64: the models there are */
  GHashTable    *shelves; /* key: InsightShelf */
  guint          next;    /* in @keys: is asked next */
  gint64         first;   /* key of the model that is asked with the list */
  guint          pending; /* questions about models without an answer */
  guint          taken;   /* answers about models */
  gboolean       asked;   /* since the page is there */
  gboolean       listed;  /* @keys are known */
  gint64         chosen[2];
  gboolean       filling; /* the lists of models */
};

static void fettle_shelf_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleShelfPage, fettle_shelf_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_shelf_page_page_init))

static void ask_next (FettleShelfPage *self);

/* Whether every model has been read. */
gboolean
fettle_shelf_page_is_shown (FettleShelfPage *self)
{
  return self->asked && self->listed && self->pending == 0 && self->next >= self->keys->len;
}

static InsightShelf *
shelf_of (FettleShelfPage *self, gint64 key)
{
  return g_hash_table_lookup (self->shelves, &key);
}

/* Those that are known, in the order of the models. */
static GPtrArray *
known_shelves (FettleShelfPage *self)
{
  GPtrArray *known = g_ptr_array_new ();

  for (guint i = 0; i < self->keys->len; i++)
    {
      InsightShelf *shelf = shelf_of (self, g_array_index (self->keys, gint64, i));

      if (shelf != NULL)
        g_ptr_array_add (known, shelf);
    }
  return known;
}

static void
show_chart (FettleShelfPage *self)
{
  InsightShelf *one = shelf_of (self, self->chosen[0]), *other = shelf_of (self, self->chosen[1]);
  g_autofree char *label = NULL;
  Chart *chart;
  int height;

  /* One alone is a course beside another one as soon as that is read. */
  gtk_widget_set_visible (self->courses, one != NULL && (other != NULL || fettle_shelf_page_is_shown (self)));
  if (one == NULL)
    return;
  chart = present_chart_courses (one, other != one ? other : NULL, gtk_check_button_get_active (self->by_days), FALSE);
  label = other == NULL || other == one ? g_strdup (one->name) : g_strdup_printf (_("%s and %s"), one->name, other->name);
  height = (int) chart_rows_height (chart, chart_theme (fettle_look_chart ()));
  gtk_widget_set_size_request (GTK_WIDGET (self->chart), -1, height + CHART_WORDS);
  fettle_chart_view_set_height (self->chart, height);
  fettle_chart_view_set_words (self->chart, _("Models, round by round"), label);
  fettle_chart_view_take_chart (self->chart, chart);
}

static void
fill_list (FettleShelfPage *self, GtkDropDown *list, gint64 chosen, GPtrArray *known)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  guint at = 0;

  for (guint i = 0; i < known->len; i++)
    {
      const InsightShelf *shelf = g_ptr_array_index (known, i);

      gtk_string_list_take (names, present_shelf_name (shelf));
      if (shelf->model == chosen)
        at = i;
    }
  self->filling = TRUE;
  fettle_choice_show_names (list, names, at);
  self->filling = FALSE;
}

/* The model of the window beside the one that was there before it, until somebody chooses otherwise. */
static void
choose_courses (FettleShelfPage *self, GPtrArray *known)
{
  if (known->len == 0)
    return;
  if (shelf_of (self, self->chosen[0]) == NULL)
    self->chosen[0] = self->span.model;
  if (shelf_of (self, self->chosen[1]) == NULL)
    {
      const InsightShelf *longest = NULL; /* a course of many rounds tells most */

      for (guint i = 0; i < known->len; i++)
        {
          const InsightShelf *shelf = g_ptr_array_index (known, i);

          if (shelf->model != self->chosen[0] && (longest == NULL || shelf->n_rounds > longest->n_rounds))
            longest = shelf;
        }
      self->chosen[1] = longest != NULL ? longest->model : 0;
    }
}

static void
show_progress (FettleShelfPage *self)
{
  gboolean done = fettle_shelf_page_is_shown (self);
  g_autofree char *words = g_strdup_printf (_("%u of %u models are read."), MIN (self->taken, self->keys->len), self->keys->len);

  gtk_label_set_label (self->progress, done ? "" : words);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), !done);
}

static void
show_all (FettleShelfPage *self)
{
  g_autoptr(GPtrArray) known = known_shelves (self);
  g_autoptr(PresentShelf) words = present_shelf_new ((const InsightShelf *const *) known->pdata, known->len);

  show_progress (self);
  gtk_label_set_label (self->lead, !fettle_shelf_page_is_shown (self) ? _("Reading the models one after the other.") : words->headline);
  fettle_sheet_view_set (self->models, words->models);
  choose_courses (self, known);
  fill_list (self, self->one, self->chosen[0], known);
  fill_list (self, self->other, self->chosen[1], known);
  /* With one model there is nothing to choose. */
  gtk_widget_set_visible (GTK_WIDGET (self->one), self->keys->len > 1);
  gtk_widget_set_visible (self->beside, self->keys->len > 1);
  gtk_widget_set_visible (GTK_WIDGET (self->other), self->keys->len > 1);
  show_chart (self);
  fettle_sentences_show (self->notes, words->notes, "dim");
  gtk_widget_set_visible (self->content, TRUE);
}

static gboolean
was_cancelled (FettleShelfPage *self, FettleSitting *sitting, const GError *error)
{
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return TRUE;
  if (error != NULL)
    fettle_sitting_say (sitting, error->message, NULL, NULL);
  return self->sitting == NULL;
}

static void
on_model (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleShelfPage) self = FETTLE_SHELF_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightShelf) shelf = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (was_cancelled (self, FETTLE_SITTING (source), error))
    return;
  self->pending--;
  self->taken++;
  if (shelf != NULL)
    {
      g_hash_table_replace (self->shelves, g_memdup2 (&shelf->model, sizeof shelf->model), shelf);
      g_steal_pointer (&shelf);
    }
  ask_next (self);
  show_all (self);
}

static void
ask_model (FettleShelfPage *self, gint64 model)
{
  self->pending++;
  fettle_sitting_ask (self->sitting, fettle_shelf_ask_work,
                      fettle_shelf_ask_new (fettle_sitting_get_book (self->sitting), model), fettle_shelf_ask_free,
                      fettle_shelf_free, self->asking, on_model, g_object_ref (self));
}

static void
ask_next (FettleShelfPage *self)
{
  if (self->next < self->keys->len && g_array_index (self->keys, gint64, self->next) == self->first)
    self->next++; /* was asked with the list */
  if (self->next < self->keys->len)
    ask_model (self, g_array_index (self->keys, gint64, self->next++));
}

static void
on_list (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleShelfPage) self = FETTLE_SHELF_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) models = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (was_cancelled (self, FETTLE_SITTING (source), error) || models == NULL)
    return;
  g_array_set_size (self->keys, 0);
  for (guint i = 0; i < models->len; i++)
    g_array_append_val (self->keys, ((const BookModel *) g_ptr_array_index (models, i))->id);
  self->next = 0;
  self->listed = TRUE;
  ask_next (self);
}

/* The list and the model in view first. */
static void
ask (FettleShelfPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asked = TRUE;
  self->listed = FALSE;
  self->pending = self->taken = 0;
  self->first = self->span.model;
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_shelf_list_work, NULL, NULL, fettle_shelf_list_free, self->asking, on_list,
                      g_object_ref (self));
  ask_model (self, self->first);
}

/* The page speaks about all models, whatever the strip says. */
static void
fettle_shelf_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleShelfPage *self = FETTLE_SHELF_PAGE (page);

  self->span = *span;
  if (!self->asked)
    ask (self);
}

static void
fettle_shelf_page_refresh (FettlePage *page)
{
  ask (FETTLE_SHELF_PAGE (page));
}

static void
fettle_shelf_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_shelf_page_set_span;
  iface->refresh = fettle_shelf_page_refresh;
}

static void
on_chosen (FettleShelfPage *self)
{
  g_autoptr(GPtrArray) known = NULL;
  GtkDropDown *const lists[] = { self->one, self->other };

  if (self->filling)
    return;
  known = known_shelves (self);
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    {
      guint at = gtk_drop_down_get_selected (lists[i]);

      if (at < known->len)
        self->chosen[i] = ((const InsightShelf *) g_ptr_array_index (known, at))->model;
    }
  show_chart (self);
}

static void
on_mark_activated (FettleShelfPage *self, gint64 key)
{
  if (key != 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "model", key);
}

static void
fettle_shelf_page_dispose (GObject *object)
{
  FettleShelfPage *self = FETTLE_SHELF_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_SHELF_PAGE);
  fettle_unparent_children (self);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->keys, g_array_unref);
  g_clear_pointer (&self->shelves, g_hash_table_unref);
  G_OBJECT_CLASS (fettle_shelf_page_parent_class)->dispose (object);
}

static void
fettle_shelf_page_class_init (FettleShelfPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_shelf_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  g_type_ensure (FETTLE_TYPE_WRAP);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/shelf-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, progress);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, courses);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, one);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, beside);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, other);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, by_days);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, chart_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleShelfPage, notes);
  gtk_widget_class_bind_template_callback (widget_class, on_mark_activated);
}

static void
fettle_shelf_page_init (FettleShelfPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  fettle_choice_set_up (self->one, _("A model"));
  fettle_choice_set_up (self->other, _("The model beside it"));
  self->keys = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->shelves = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, fettle_shelf_free);
  self->models = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("shelf-models"));
  gtk_box_insert_child_after (GTK_BOX (self->content), GTK_WIDGET (self->models), GTK_WIDGET (self->progress));
  g_signal_connect_object (self->one, "notify::selected", G_CALLBACK (on_chosen), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->other, "notify::selected", G_CALLBACK (on_chosen), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->by_days, "toggled", G_CALLBACK (show_chart), self, G_CONNECT_SWAPPED);
}

/**
 * fettle_shelf_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_shelf_page_new (FettleSitting *sitting)
{
  FettleShelfPage *self = g_object_new (FETTLE_TYPE_SHELF_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
