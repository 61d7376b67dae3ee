/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-effects.h"

#include <glib/gi18n.h>

#include "beside.h"
#include "compare-answer.h"
#include "sentence.h"
#include "unparent.h"

struct _FettleChangeEffects
{
  GtkBox parent_instance;

  FettleChangesAnswer *answer;
  guint                index;
  GCancellable        *asking;
};

G_DEFINE_FINAL_TYPE (FettleChangeEffects, fettle_change_effects, GTK_TYPE_BOX)

static void
add_effect (FettleChangeEffects *self, const PresentEffect *effect)
{
  GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", effect->sign, "yalign", 0.0f, "width-request", 16, "css-classes",
                                  (const char *[]){ "dim", NULL }, NULL);
  /* Translators: name of a characteristic, and what its readings say */
  g_autofree char *words = g_strdup_printf (_("%s: %s"), effect->data->name, effect->sentence);

  gtk_box_append (GTK_BOX (self), fettle_beside_new (sign, fettle_sentence_new (words, NULL), 8));
}

static void
on_compare (FettleChangeEffects *self)
{
  const InsightChange *change = fettle_changes_answer_get (self->answer, self->index);

  gtk_widget_activate_action (GTK_WIDGET (self), "win.round", "x", change->data->from_round);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", "compare");
}

static void
add_compare (FettleChangeEffects *self)
{
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", _("Compare the Rounds"), "name", "compare", "halign", GTK_ALIGN_START,
                                    "css-classes", (const char *[]){ "plain", NULL }, NULL);

  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_compare), self);
  gtk_box_append (GTK_BOX (self), button);
}

static void
on_compared (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleChangeEffects) self = user_data;
  FettleCompareAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL);
  guint n = 0;

  /* A failure is said by the page of the comparison; here the room stays empty. */
  for (guint i = 0; answer != NULL && self->answer != NULL && answer->comparison != NULL && i < answer->comparison->effects->len; i++)
    {
      const PresentEffect *effect = g_ptr_array_index (answer->comparison->effects, i);

      if (fettle_changes_answer_find_touch (self->answer, self->index, effect->data->characteristic) == NULL)
        continue;
      if (n++ == 0)
        gtk_box_append (GTK_BOX (self), fettle_sentence_new (_("What the readings say:"), "strong"));
      add_effect (self, effect);
    }
  if (n > 0)
    add_compare (self);
  fettle_compare_answer_free (answer);
}

static void
fettle_change_effects_dispose (GObject *object)
{
  FettleChangeEffects *self = FETTLE_CHANGE_EFFECTS (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  fettle_unparent_children (self);
  G_OBJECT_CLASS (fettle_change_effects_parent_class)->dispose (object);
}

static void
fettle_change_effects_class_init (FettleChangeEffectsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_change_effects_dispose;
}

static void
fettle_change_effects_init (FettleChangeEffects *self)
{
  g_object_set (self, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 2, "name", "effects-of-change", "margin-top", 4, NULL);
}

/**
 * fettle_change_effects_new:
 * @sitting: to be asked
 * @model: the model
 * @answer: its changes
 * @index: of the change
 *
 * Returns: (transfer floating): what its readings say, asked for when it was carried out
 */
GtkWidget *
fettle_change_effects_new (FettleSitting *sitting, gint64 model, FettleChangesAnswer *answer, guint index)
{
  FettleChangeEffects *self = g_object_new (FETTLE_TYPE_CHANGE_EFFECTS, NULL);
  const InsightChange *change = fettle_changes_answer_get (answer, index);
  FettleSpan span = { model, change->data->from_round, change->data->from_round };

  self->answer = fettle_changes_answer_ref (answer);
  self->index = index;
  if (change->state != INSIGHT_CHANGE_CARRIED_OUT || span.from == 0 || change->touches->len == 0)
    return GTK_WIDGET (self);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (sitting, fettle_compare_ask_work, fettle_compare_ask_new (&span), fettle_compare_ask_free,
                      fettle_compare_answer_free, self->asking, on_compared, g_object_ref (self));
  return GTK_WIDGET (self);
}
