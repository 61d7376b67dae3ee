/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page lays out what src/present says about the comparison, asks once more for the pictures of the revisions that
 * differ, and puts them beside one another when they come.
 */
#include "config.h"

#include "compare-page.h"

#include <glib/gi18n.h>

#include "chart-effect.h"
#include "chart-theme.h"
#include "chart-view.h"
#include "compare-answer.h"
#include "effect-detail.h"
#include "ledger.h"
#include "look.h"
#include "pair.h"
#include "picture.h"
#include "pictures-answer.h"
#include "sentence.h"
#include "unparent.h"
#include "words.h"

#define VALUE_CHARS      30
#define CHART_WORDS      28  /* height of the line below the drawing */
#define PICTURE_HEIGHT   150
#define PICTURE_SIDE     1200 /* dots of a picture as it is read; large enough when it is made large */
#define PICTURE_COLUMN   240

struct _FettleComparePage
{
  GtkWidget parent_instance;

  GtkWidget    *content;
  GtkLabel     *title;
  GtkLabel     *lead;
  GtkLabel     *how;
  GtkBox       *differences;
  GtkWidget    *effects_heading;
  GtkWidget    *chart_sheet;
  FettleChartView *chart;
  GtkBox       *effects;
  GtkBox       *notes;
  GtkLabel     *caution;
  FettleLedger *ledger;

  FettleSitting       *sitting;
  FettleSpan           span;
  FettleCompareAnswer *answer; /* shown */
  GHashTable          *places; /* key of a revision -> GtkBox for its pictures */
  GCancellable        *asking;
  gint64               open;   /* characteristic whose effect is open, 0: none */
};

static void fettle_compare_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleComparePage, fettle_compare_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_compare_page_page_init))

/* ---- pictures ---- */

static void
on_pictures (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleComparePage) self = FETTLE_COMPARE_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) pictures = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (pictures == NULL)
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
  for (guint i = 0; pictures != NULL && self->places != NULL && i < pictures->len; i++)
    {
      const FettleAttached *attached = g_ptr_array_index (pictures, i);
      GtkBox *place = g_hash_table_lookup (self->places, &attached->owner);

      if (place == NULL || attached->texture == NULL)
        continue;
      gtk_box_append (place, fettle_picture_new (GDK_PAINTABLE (attached->texture), attached->name, PICTURE_HEIGHT));
      gtk_widget_set_visible (GTK_WIDGET (place), TRUE);
    }
}

static void
ask_pictures (FettleComparePage *self)
{
  g_autoptr(GArray) owners = g_array_new (FALSE, FALSE, sizeof (gint64));
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, self->places);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    g_array_append_vals (owners, key, 1);
  if (owners->len == 0)
    return;
  fettle_sitting_ask (self->sitting, fettle_pictures_ask_work,
                      fettle_pictures_ask_new (BOOK_RECORD_REVISION, (const gint64 *) (void *) owners->data, owners->len,
                                               PICTURE_SIDE),
                      fettle_pictures_ask_free, (GDestroyNotify) g_ptr_array_unref, self->asking, on_pictures,
                      g_object_ref (self));
}

/* Where the pictures of one side's revisions go; hidden until there is one. */
static GtkWidget *
make_side (FettleComparePage *self, const InsightCompareSide *side, const char *head)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  guint n = side->n_built > 0 ? side->n_built : side->n_planned;
  const InsightCompareState *states = side->n_built > 0 ? side->built : side->planned;

  for (guint i = 0; i < n; i++)
    {
      GtkWidget *place;
      g_autofree char *words = NULL;

      if (states[i].id == 0 || g_hash_table_contains (self->places, &states[i].id))
        continue;
      place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
      /* Translators: which side ('round P2') and a revision */
      words = g_strdup_printf (_("%s: %s"), head, states[i].label);
      gtk_widget_set_visible (place, FALSE);
      gtk_box_append (GTK_BOX (place), fettle_sentence_new (words, "small dim"));
      g_hash_table_insert (self->places, g_memdup2 (&states[i].id, sizeof states[i].id), place);
      gtk_box_append (GTK_BOX (box), place);
    }
  return box;
}

static void
add_pictures (FettleComparePage *self, GtkBox *box, const PresentDifference *difference)
{
  const PresentComparison *comparison = self->answer->comparison;
  GtkWidget *before, *after;

  if (difference->data->kind != INSIGHT_DIFFERS_REVISION)
    return;
  before = make_side (self, &difference->data->before, comparison->before_head);
  after = make_side (self, &difference->data->after, comparison->after_head);
  gtk_box_append (box, fettle_pair_new (before, after, PICTURE_COLUMN));
}

/* ---- what differs ---- */

static void
attach (GtkGrid *grid, int column, int row, const char *text, const char *const *classes)
{
  gtk_grid_attach (grid, g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "yalign", 0.0f, "wrap", TRUE,
                                       "max-width-chars", VALUE_CHARS, "css-classes", classes, NULL),
                   column, row, 1, 1);
}

static void
add_change (GtkBox *box, const PresentCompareChange *change)
{
  GtkWidget *line = fettle_sentence_new (change->line_by, NULL);
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "halign", GTK_ALIGN_START, "child", line, "action-name", "win.show-record",
                                    "action-target", g_variant_new ("(sx)", "change", change->data->id), "css-classes",
                                    (const char *[]){ "words", NULL }, NULL);

  gtk_label_set_selectable (GTK_LABEL (line), FALSE); /* else it takes the click from its button */
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, change->line_by, -1);
  gtk_box_append (box, button);
  if (change->reason[0] != '\0')
    gtk_box_append (box, fettle_sentence_new (change->reason, NULL));
  fettle_sentences_add (box, change->remarks, "dim");
}

static void
add_difference (FettleComparePage *self, GtkBox *box, const PresentDifference *difference)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 14, "row-spacing", 2, NULL);
  g_autofree char *words = g_strdup_printf (_("%s, %s: %s, then %s."), difference->group, difference->what, difference->before,
                                            difference->after);
  gboolean open = difference->data->explained != INSIGHT_EXPLAINED || difference->data->widened;

  attach (GTK_GRID (grid), 0, 0, difference->what, (const char *[]){ "dim", NULL });
  attach (GTK_GRID (grid), 1, 0, difference->before, (const char *[]){ "num", NULL });
  attach (GTK_GRID (grid), 2, 0, "→", (const char *[]){ "dim", NULL });
  attach (GTK_GRID (grid), 3, 0, difference->after, (const char *[]){ "num", "strong", NULL });
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_box_append (box, grid);
  for (guint i = 0; i < difference->changes->len; i++)
    add_change (box, g_ptr_array_index (difference->changes, i));
  fettle_sentences_add (box, difference->remarks, open ? "open" : "dim");
  add_pictures (self, box, difference);
}

static GtkBox *
add_group (FettleComparePage *self, const char *heading)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  gtk_box_append (self->differences, g_object_new (GTK_TYPE_LABEL, "label", heading, "xalign", 0.0f, "wrap", TRUE, "css-classes",
                                                   (const char *[]){ "section", "spaced", NULL }, NULL));
  gtk_box_append (self->differences, box);
  return GTK_BOX (box);
}

static void
show_differences (FettleComparePage *self)
{
  const PresentComparison *comparison = self->answer->comparison;
  GtkBox *box = NULL;

  g_hash_table_remove_all (self->places);
  fettle_unparent_children (self->differences);
  for (guint i = 0; i < comparison->differences->len; i++)
    {
      const PresentDifference *difference = g_ptr_array_index (comparison->differences, i);

      if (difference->first || box == NULL)
        box = add_group (self, difference->group);
      add_difference (self, box, difference);
    }
  if (comparison->unseen->len > 0)
    {
      box = add_group (self, _("Said to begin here, but not seen on the units"));
      for (guint i = 0; i < comparison->unseen->len; i++)
        add_change (box, g_ptr_array_index (comparison->unseen, i));
    }
}

/* ---- what the readings say ---- */

static const PresentEffect *
effect_at (FettleComparePage *self, guint row)
{
  return g_ptr_array_index (self->answer->comparison->effects, row);
}

static GtkWidget *
make_detail (guint row, gpointer user_data)
{
  FettleComparePage *self = FETTLE_COMPARE_PAGE (user_data);

  self->open = effect_at (self, row)->data->characteristic;
  return fettle_effect_detail_new (effect_at (self, row));
}

static void
on_effect_activated (FettleComparePage *self, guint row)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "characteristic",
                              effect_at (self, row)->data->characteristic);
}

/* The difference of a characteristic opens its row; a unit leads to its reading. */
static void
on_mark_activated (FettleComparePage *self, gint64 key)
{
  const GPtrArray *effects = self->answer->comparison->effects;

  for (guint i = 0; i < effects->len; i++)
    if (effect_at (self, i)->data->characteristic == key)
      {
        fettle_ledger_select (self->ledger, (int) i, TRUE);
        return;
      }
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "reading", key);
}

static void
show_chart (FettleComparePage *self)
{
  gboolean any = self->answer->chart != NULL;
  int height;

  gtk_widget_set_visible (self->chart_sheet, any);
  if (!any)
    return;
  height = (int) chart_effect_height (self->answer->chart, chart_theme (fettle_look_chart ()));
  gtk_widget_set_size_request (GTK_WIDGET (self->chart), -1, height + CHART_WORDS); /* it does not give way here */
  fettle_chart_view_set_height (self->chart, height);
  fettle_chart_view_set_words (self->chart, _("What the readings say"), self->answer->comparison->headline);
  fettle_chart_view_take_chart (self->chart, g_steal_pointer (&self->answer->chart));
}

static void
show_effects (FettleComparePage *self)
{
  const GPtrArray *effects = self->answer->comparison->effects;
  gint64 open = self->open;

  fettle_ledger_clear (self->ledger);
  for (guint i = 0; i < effects->len; i++)
    {
      const PresentEffect *effect = effect_at (self, i);
      g_autofree char *told = g_strdup_printf ("%s %s", effect->sign, effect->told);
      const char *cells[] = { effect->name, effect->before, effect->after, effect->difference, effect->interval, told };

      fettle_ledger_add (self->ledger, cells, effect->sentence, effect->data->told_apart ? "strong" : "dim");
    }
  self->open = 0;
  for (guint i = 0; open != 0 && i < effects->len; i++)
    if (effect_at (self, i)->data->characteristic == open)
      fettle_ledger_select (self->ledger, (int) i, FALSE);
  show_chart (self);
  gtk_widget_set_visible (self->effects_heading, effects->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->effects), effects->len > 0);
}

/* ---- asking and showing ---- */

static void
show_nothing (FettleComparePage *self)
{
  gtk_label_set_label (self->title, _("Compare rounds"));
  gtk_label_set_label (self->lead, _("Here stands everything that differs between two rounds: revisions, lots, settings and "
                                     "limits, old beside new, with the reason and the pictures of both, and what the readings "
                                     "say about it."));
  gtk_label_set_label (self->how, _("There are no two rounds yet. Once there are, choose from and to on the rounds above: "
                                    "Ctrl+R, then Shift and an arrow key."));
  fettle_unparent_children (self->differences);
  fettle_unparent_children (self->notes);
  fettle_ledger_clear (self->ledger);
  gtk_widget_set_visible (self->effects_heading, FALSE);
  gtk_widget_set_visible (self->chart_sheet, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->effects), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->caution), FALSE);
}

static void
show_comparison (FettleComparePage *self)
{
  const PresentComparison *comparison = self->answer->comparison;

  gtk_label_set_label (self->title, comparison->title);
  gtk_label_set_label (self->lead, comparison->headline);
  gtk_label_set_label (self->how, self->answer->is_one
                                    ? _("Choose other rounds above: Ctrl+R, then Shift and an arrow key for from and to.") : "");
  gtk_widget_set_visible (GTK_WIDGET (self->how), self->answer->is_one);
  show_differences (self);
  show_effects (self);
  fettle_sentences_show (self->notes, comparison->notes, "dim");
  fettle_words_show (self->caution, comparison->caution);
  ask_pictures (self);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleComparePage) self = FETTLE_COMPARE_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleCompareAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  FettleCompareAnswer *before;

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_compare_answer_free (answer);
      return;
    }
  before = self->answer;
  self->answer = answer;
  if (answer->comparison != NULL)
    show_comparison (self);
  else
    show_nothing (self);
  gtk_widget_set_visible (self->content, TRUE);
  fettle_compare_answer_free (before);
}

static void
ask (FettleComparePage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_compare_ask_work, fettle_compare_ask_new (&self->span), fettle_compare_ask_free,
                      fettle_compare_answer_free, self->asking, on_answer, g_object_ref (self));
}

/* ---- as a page ---- */

static void
fettle_compare_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleComparePage *self = FETTLE_COMPARE_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.from == span->from && self->span.to == span->to;

  self->span = *span;
  if (!same)
    ask (self);
}

static void
fettle_compare_page_refresh (FettlePage *page)
{
  ask (FETTLE_COMPARE_PAGE (page));
}

static gboolean
fettle_compare_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleComparePage *self = FETTLE_COMPARE_PAGE (page);

  if (!g_str_equal (record, "characteristic"))
    return FALSE;
  self->open = key; /* opened with the next answer, if it is not there yet */
  for (guint i = 0; self->answer != NULL && i < self->answer->comparison->effects->len; i++)
    if (effect_at (self, i)->data->characteristic == key)
      fettle_ledger_select (self->ledger, (int) i, TRUE);
  return TRUE;
}

static gboolean
fettle_compare_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleComparePage *self = FETTLE_COMPARE_PAGE (page);
  int row = self->answer == NULL ? -1 : fettle_ledger_get_selected (self->ledger);

  if (row < 0 || (guint) row >= self->answer->comparison->effects->len)
    return FALSE;
  *record = "characteristic";
  *key = effect_at (self, (guint) row)->data->characteristic;
  return TRUE;
}

static void
fettle_compare_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_compare_page_set_span;
  iface->refresh = fettle_compare_page_refresh;
  iface->show_record = fettle_compare_page_show_record;
  iface->get_place = fettle_compare_page_get_place;
}

static void
fettle_compare_page_dispose (GObject *object)
{
  FettleComparePage *self = FETTLE_COMPARE_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->places, g_hash_table_unref);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_COMPARE_PAGE);
  fettle_unparent_children (self);
  self->ledger = NULL;
  g_clear_pointer (&self->answer, fettle_compare_answer_free);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_compare_page_parent_class)->dispose (object);
}

static void
fettle_compare_page_class_init (FettleComparePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_compare_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (FETTLE_TYPE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/compare-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, how);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, differences);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, effects_heading);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, chart_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, chart);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, effects);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, notes);
  gtk_widget_class_bind_template_child (widget_class, FettleComparePage, caution);
  gtk_widget_class_bind_template_callback (widget_class, on_mark_activated);
}

static void
fettle_compare_page_init (FettleComparePage *self)
{
  const FettleLedgerColumn columns[] = {
    { _("Characteristic"), FALSE, TRUE, 0 },
    { _("Before"), TRUE, FALSE, 2 },
    { _("After"), TRUE, FALSE, 2 },
    { _("Difference"), TRUE, FALSE, 0 },
    { _("Interval, 95 %"), TRUE, FALSE, 1 },
    { _("Told apart"), FALSE, FALSE, 0 },
  };

  gtk_widget_init_template (GTK_WIDGET (self));
  self->places = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, G_N_ELEMENTS (columns), _("What the readings say")));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), "effects");
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  gtk_box_append (self->effects, GTK_WIDGET (self->ledger));
  fettle_ledger_set_detail (self->ledger, make_detail, self);
  g_signal_connect_swapped (self->ledger, "activated", G_CALLBACK (on_effect_activated), self);
}

/**
 * fettle_compare_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_compare_page_new (FettleSitting *sitting)
{
  FettleComparePage *self = g_object_new (FETTLE_TYPE_COMPARE_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}

/**
 * fettle_compare_page_is_shown:
 * @self: the page
 *
 * Returns: whether an answer is on the page
 */
gboolean
fettle_compare_page_is_shown (FettleComparePage *self)
{
  g_return_val_if_fail (FETTLE_IS_COMPARE_PAGE (self), FALSE);

  return self->answer != NULL;
}
