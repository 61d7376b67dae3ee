/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reading-chosen.h"

#include "present-chosen.h"
#include "reading-chosen-answer.h"
#include "sheet-view.h"
#include "today.h"
#include "unparent.h"
#include "words.h"

struct _FettleReadingChosen
{
  GtkBox parent_instance;

  FettleSitting *sitting;
  GCancellable  *asking;
  gint64         model;
  gint64         characteristic;
  gint64         to;

  GtkLabel      *summary;
  GtkLabel      *caution;
  GtkWidget     *sheets;
  FettleSheetView *shared;
  FettleSheetView *units;
};

enum { TOLD, CLEAR, LEAVE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleReadingChosen, fettle_reading_chosen, GTK_TYPE_BOX)

static void
show_answer (FettleReadingChosen *self, const PresentChosen *present)
{
  gtk_label_set_label (self->summary, present->summary);
  fettle_words_show (self->caution, present->caution);
  fettle_sheet_view_set (self->shared, present->shared);
  fettle_sheet_view_set (self->units, present->units);
  g_signal_emit (self, signals[TOLD], 0, present->summary);
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleReadingChosen) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(PresentChosen) present = NULL;

  if (self->sitting == NULL)
    return;
  present = fettle_sitting_ask_finish (self->sitting, result, &error);
  if (present != NULL)
    show_answer (self, present);
  else
    fettle_sitting_say_error (self->sitting, error);
}

/**
 * fettle_reading_chosen_show:
 * @self: the view
 * @readings: (transfer full) (element-type gint64): keys of the chosen readings; none hides the view
 *
 * Asks who they are. What was shown before stays until the answer is there.
 */
void
fettle_reading_chosen_show (FettleReadingChosen *self, GArray *readings)
{
  g_autoptr(GArray) keys = readings;
  gboolean any = keys->len > 0 && self->characteristic > 0 && self->sitting != NULL;
  FettleChosenAsk *ask;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (!any && (gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    g_signal_emit (self, signals[LEAVE], 0); /* before what has the keyboard goes */
  gtk_widget_set_visible (GTK_WIDGET (self), any);
  if (!any)
    return;
  self->asking = g_cancellable_new ();
  ask = g_new0 (FettleChosenAsk, 1);
  ask->model = self->model;
  ask->characteristic = self->characteristic;
  ask->to = self->to;
  ask->today = fettle_today ();
  ask->readings = g_steal_pointer (&keys);
  fettle_sitting_ask (self->sitting, fettle_chosen_answer_read, ask, (GDestroyNotify) fettle_chosen_ask_free,
                      (GDestroyNotify) present_chosen_free, self->asking, on_answer, g_object_ref (self));
}

/**
 * fettle_reading_chosen_look_at:
 * @self: the view
 * @model: key
 * @characteristic: key of the one that the chart shows; 0: of none
 * @to: key of the round looked through
 *
 * What the next readings belong to.
 */
void
fettle_reading_chosen_look_at (FettleReadingChosen *self, gint64 model, gint64 characteristic, gint64 to)
{
  self->model = model;
  self->characteristic = characteristic;
  self->to = to;
}

/**
 * fettle_reading_chosen_set_sitting:
 * @self: the view
 * @sitting: the window's
 */
void
fettle_reading_chosen_set_sitting (FettleReadingChosen *self, FettleSitting *sitting)
{
  g_set_object (&self->sitting, sitting);
}

static void
on_clear (FettleReadingChosen *self)
{
  g_signal_emit (self, signals[CLEAR], 0);
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  g_signal_emit (widget, signals[LEAVE], 0);
  return TRUE;
}

static void
fettle_reading_chosen_dispose (GObject *object)
{
  FettleReadingChosen *self = FETTLE_READING_CHOSEN (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_object (&self->sitting);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_READING_CHOSEN);
  fettle_unparent_children (object);

  G_OBJECT_CLASS (fettle_reading_chosen_parent_class)->dispose (object);
}

static void
fettle_reading_chosen_class_init (FettleReadingChosenClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_reading_chosen_dispose;
  signals[TOLD] = g_signal_new ("told", FETTLE_TYPE_READING_CHOSEN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_STRING);
  signals[CLEAR] = g_signal_new ("clear", FETTLE_TYPE_READING_CHOSEN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEAVE] = g_signal_new ("leave", FETTLE_TYPE_READING_CHOSEN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/reading-chosen.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleReadingChosen, summary);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingChosen, caution);
  gtk_widget_class_bind_template_child (widget_class, FettleReadingChosen, sheets);
  gtk_widget_class_bind_template_callback (widget_class, on_clear);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
}

static void
fettle_reading_chosen_init (FettleReadingChosen *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->shared = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("chosen-shared"));
  self->units = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("chosen-units"));
  gtk_box_insert_child_after (GTK_BOX (self->sheets), GTK_WIDGET (self->shared), GTK_WIDGET (self->summary));
  gtk_box_append (GTK_BOX (self->sheets), GTK_WIDGET (self->units));
}
