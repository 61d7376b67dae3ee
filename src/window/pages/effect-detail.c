/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "effect-detail.h"
#include "sentence.h"

#include <glib/gi18n.h>

struct _FettleEffectDetail
{
  GtkWidget parent_instance;

  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (FettleEffectDetail, fettle_effect_detail, GTK_TYPE_WIDGET)

static GtkWidget *
add_text (FettleEffectDetail *self, const char *text, const char *classes)
{
  GtkWidget *label = fettle_sentence_new (text, classes);

  gtk_box_append (GTK_BOX (self->box), label);
  return label;
}

static void
add_method (FettleEffectDetail *self, const PresentEffect *effect)
{
  GtkWidget *toggle, *method;

  if (effect->method == NULL || effect->method[0] == '\0')
    return;
  toggle = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "label", _("How It Is Computed"), "name", "method", "halign", GTK_ALIGN_START,
                         "css-classes", (const char *[]){ "plain", NULL }, NULL);
  gtk_box_append (GTK_BOX (self->box), toggle);
  method = add_text (self, effect->method, "dim");
  g_object_bind_property (toggle, "active", method, "visible", G_BINDING_SYNC_CREATE);
}

static void
fettle_effect_detail_dispose (GObject *object)
{
  g_clear_pointer (&FETTLE_EFFECT_DETAIL (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_effect_detail_parent_class)->dispose (object);
}

static void
fettle_effect_detail_class_init (FettleEffectDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_effect_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_effect_detail_init (FettleEffectDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

/**
 * fettle_effect_detail_new:
 * @effect: what to tell; not kept
 *
 * Returns: what a selected row of the effects shows below its cells
 */
GtkWidget *
fettle_effect_detail_new (const PresentEffect *effect)
{
  FettleEffectDetail *self = g_object_new (FETTLE_TYPE_EFFECT_DETAIL, NULL);

  add_text (self, effect->sentence, "lead");
  add_text (self, effect->way, "dim");
  for (guint i = 0; i < effect->remarks->len; i++)
    add_text (self, g_ptr_array_index (effect->remarks, i), "dim");
  add_method (self, effect);
  return GTK_WIDGET (self);
}
