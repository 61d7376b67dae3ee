/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-detail.h"

#include <glib/gi18n.h>

#include "beside.h"
#include "present-change.h"
#include "unparent.h"

#define LEAST_CHARS 24
#define MOST_CHARS  100 /* a longer line is hard to read */
#define ITEM_CHARS  34

struct _FettleChangeDetail
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  FettleSpan     span;
  gint64         change;
  GtkWidget     *box;
};

G_DEFINE_FINAL_TYPE (FettleChangeDetail, fettle_change_detail, GTK_TYPE_WIDGET)

static GtkWidget *
make_text (const char *text, const char *const *classes)
{
  return g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "wrap", TRUE, "selectable", TRUE, "focusable", FALSE,
                       "width-chars", LEAST_CHARS, "max-width-chars", MOST_CHARS, "halign", GTK_ALIGN_START, "css-classes",
                       classes, NULL);
}

static void
add_text (FettleChangeDetail *self, const char *text, const char *const *classes)
{
  gtk_box_append (GTK_BOX (self->box), make_text (text, classes));
}

static void
add_story (FettleChangeDetail *self, const InsightChanges *changes, guint index)
{
  g_autoptr(GPtrArray) story = present_change_story (changes, index);

  for (guint i = 0; i < story->len; i++)
    add_text (self, g_ptr_array_index (story, i), (const char *[]){ NULL });
}

/* ---- from old to new ---- */

static void
attach (GtkGrid *grid, int column, int row, const char *text, const char *const *classes)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "yalign", 0.0f, "wrap", TRUE,
                                   "max-width-chars", ITEM_CHARS, "css-classes", classes, NULL);

  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
add_items (FettleChangeDetail *self, const InsightChanges *changes, const InsightChange *change)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 18, "row-spacing", 2, "margin-top", 6, "margin-bottom", 4,
                                  "name", "items", NULL);

  for (guint i = 0; i < change->n_items; i++)
    {
      const BookChangeListItem *item = &changes->list->items[change->items + i];
      g_autofree char *name = present_item_name (item);
      g_autofree char *labels = present_item_labels (item);
      g_autofree char *words = present_item_words (item);
      int row = (int) i;

      attach (GTK_GRID (grid), 0, row, name, (const char *[]){ "strong", NULL });
      attach (GTK_GRID (grid), 1, row, labels, (const char *[]){ "num", NULL });
      attach (GTK_GRID (grid), 2, row, words, (const char *[]){ "dim", NULL });
    }
  if (change->n_items > 0)
    gtk_box_append (GTK_BOX (self->box), grid);
  else
    g_object_unref (g_object_ref_sink (grid));
}

/* ---- what becomes of the readings ---- */

static const char *
sign_of (InsightChangeTouchKind kind)
{
  switch (kind)
    {
    case INSIGHT_TOUCH_AGAIN:
      return "○";
    case INSIGHT_TOUCH_CARRIED:
      return "●";
    case INSIGHT_TOUCH_LACKS_SECOND:
      return "◐";
    case INSIGHT_TOUCH_JUDGED_ANEW:
      return "◇";
    }
  return "";
}

static GtkWidget *
make_touch (const InsightChange *change, const InsightChangeTouch *touch)
{
  g_autofree char *text = present_change_touch (touch, change->state);
  GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", sign_of (touch->kind), "yalign", 0.0f, "width-request", 16,
                                  "css-classes", (const char *[]){ touch->kind == INSIGHT_TOUCH_LACKS_SECOND ? "open" : "dim", NULL },
                                  NULL);

  return fettle_beside_new (sign, make_text (text, (const char *[]){ NULL }), 8);
}

static void
add_touches (FettleChangeDetail *self, const InsightChange *change)
{
  g_autofree char *lead = present_change_touch_lead (change);
  GtkWidget *list = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 2, "name", "touches", NULL);

  add_text (self, lead, (const char *[]){ "strong", NULL });
  for (guint i = 0; i < change->touches->len; i++)
    gtk_box_append (GTK_BOX (list), make_touch (change, &g_array_index (change->touches, InsightChangeTouch, i)));
  gtk_box_append (GTK_BOX (self->box), list);
}

/* ---- as a widget ---- */

static void
fettle_change_detail_dispose (GObject *object)
{
  FettleChangeDetail *self = FETTLE_CHANGE_DETAIL (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_change_detail_parent_class)->dispose (object);
}

static void
fettle_change_detail_class_init (FettleChangeDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_change_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_change_detail_init (FettleChangeDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_name (GTK_WIDGET (self), "change-detail");
}

/**
 * fettle_change_detail_new:
 * @sitting: to be asked, and to write
 * @span: model and rounds
 * @changes: the changes of the model; not kept
 * @index: of the change
 *
 * Returns: what a selected row of the changes shows below its cells
 */
GtkWidget *
fettle_change_detail_new (FettleSitting *sitting, const FettleSpan *span, const InsightChanges *changes, guint index)
{
  FettleChangeDetail *self = g_object_new (FETTLE_TYPE_CHANGE_DETAIL, NULL);
  const InsightChange *change = &g_array_index (changes->changes, InsightChange, index);

  self->sitting = g_object_ref (sitting);
  self->span = *span;
  self->change = change->data->id;
  add_items (self, changes, change);
  add_story (self, changes, index);
  add_touches (self, change);
  return GTK_WIDGET (self);
}
