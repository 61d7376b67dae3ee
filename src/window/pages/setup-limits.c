/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-limits.h"

#include <glib/gi18n.h>

#include "book-limit.h"
#include "exchange-limit-typed.h"
#include "present-setup.h"
#include "tip.h"
#include "today.h"
#include "typed.h"
#include "unparent.h"

struct _FettleSetupLimits
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  gint64         characteristic;
  BookLimitNow  *now; /* NULL until the book has answered */
  GCancellable  *asking;
  gboolean       filling;
  GtkLabel      *heading;
  GtkLabel      *words;
  GtkEntry      *entry;
  GtkWidget     *store;
  GtkLabel      *echo;
};

G_DEFINE_FINAL_TYPE (FettleSetupLimits, fettle_setup_limits, GTK_TYPE_WIDGET)

static char *
draft_name (FettleSetupLimits *self)
{
  return g_strdup_printf ("setup-limits-%" G_GINT64_FORMAT, self->characteristic);
}

static void
say (FettleSetupLimits *self, const char *sentence, gboolean wrong)
{
  gtk_label_set_label (self->echo, sentence);
  if (wrong)
    {
      gtk_widget_add_css_class (GTK_WIDGET (self->echo), "open");
      gtk_widget_add_css_class (GTK_WIDGET (self->entry), "wrong");
    }
  else
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self->echo), "open");
      gtk_widget_remove_css_class (GTK_WIDGET (self->entry), "wrong");
    }
}

static const char *
typed (FettleSetupLimits *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

/* How what stands in the field is understood; while typing nothing is called wrong yet. */
static gboolean
understand (FettleSetupLimits *self, gboolean is_done, ExchangeLimit *limit)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *words = NULL, *said = NULL;

  if (self->now == NULL)
    return FALSE;
  if (!exchange_limit_type (typed (self), self->now->unit, limit, &error))
    {
      say (self, is_done ? error->message : _("As on the drawing: 12.5 ±0.1, 12.5 +0.1 -0.05, 12.4..12.6, >= 30, max 5, 12 H7."), is_done);
      return FALSE;
    }
  words = present_setup_limits (limit->nominal, limit->lower, limit->upper, MAX (self->now->decimals, 0), self->now->unit);
  said = limit->is_turned ? g_strdup_printf ("%s %s", words, _("The larger number was typed first.")) : g_steal_pointer (&words);
  say (self, said, FALSE);
  return TRUE;
}

static void
on_changed (FettleSetupLimits *self)
{
  g_autofree char *name = draft_name (self);
  ExchangeLimit limit;

  if (self->filling || self->characteristic == 0)
    return;
  fettle_drafts_keep (fettle_sitting_get_drafts (self->sitting), name, *typed (self) != '\0' ? typed (self) : NULL);
  gtk_widget_set_sensitive (self->store, understand (self, FALSE, &limit));
}

typedef struct
{
  FettleSetupLimits *self;
  char              *draft;
  char              *text;
} Storing;

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Storing *storing = data;
  g_autoptr(FettleSetupLimits) self = storing->self;
  g_autofree char *draft = storing->draft;
  g_autofree char *text = storing->text;
  g_autofree char *current = self->sitting != NULL ? draft_name (self) : NULL;
  g_autoptr(GError) error = NULL;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  if (stored)
    fettle_drafts_keep (fettle_sitting_get_drafts (FETTLE_SITTING (source)), draft, NULL);
  if (current == NULL || !g_str_equal (current, draft) || self->entry == NULL)
    return;
  if (stored && g_str_equal (typed (self), text))
    fettle_typed_set (GTK_EDITABLE (self->entry), "");
  else if (!stored && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    say (self, error->message, TRUE);
}

static void
on_store (FettleSetupLimits *self)
{
  ExchangeLimit limit;
  Storing *storing;

  if (self->now == NULL || !understand (self, TRUE, &limit))
    return;
  storing = g_new (Storing, 1);
  *storing = (Storing){ g_object_ref (self), draft_name (self), g_strdup (typed (self)) };
  fettle_sitting_edit (self->sitting, book_limit_set (self->characteristic, NULL, limit.nominal, limit.lower, limit.upper),
                       on_stored, storing);
}

/* ---- what the book has ---- */

typedef struct
{
  gint64 characteristic;
  char  *today;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static gpointer
work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Ask *ask = data;

  return book_limit_now (db, ask->characteristic, ask->today, error);
}

static void
show_now (FettleSetupLimits *self)
{
  g_autofree char *heading = g_strdup_printf (_("Limits of %s"), self->now->code);
  g_autofree char *words = present_setup_limits_now (self->now);
  ExchangeLimit limit;

  gtk_label_set_label (self->heading, heading);
  gtk_label_set_label (self->words, words);
  gtk_widget_set_visible (GTK_WIDGET (self), self->now->measured);
  gtk_widget_set_sensitive (self->store, understand (self, FALSE, &limit));
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSetupLimits) self = data;
  g_autoptr(GError) error = NULL;
  BookLimitNow *now = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (now == NULL || self->entry == NULL)
    {
      book_limit_now_free (now); /* a characteristic that was deleted meanwhile: the page shows another one */
      return;
    }
  g_clear_pointer (&self->now, book_limit_now_free);
  self->now = now;
  show_now (self);
}

static void
ask (FettleSetupLimits *self)
{
  Ask *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->characteristic == 0)
    return;
  question = g_new (Ask, 1);
  *question = (Ask){ self->characteristic, fettle_today () };
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, work, question, ask_free, (GDestroyNotify) book_limit_now_free, self->asking, on_answer,
                      g_object_ref (self));
}

static void
restore (FettleSetupLimits *self)
{
  g_autofree char *name = draft_name (self);
  const char *kept = fettle_drafts_get (fettle_sitting_get_drafts (self->sitting), name);

  self->filling = TRUE;
  fettle_typed_set (GTK_EDITABLE (self->entry), kept != NULL ? kept : "");
  self->filling = FALSE;
}

void
fettle_setup_limits_show (FettleSetupLimits *self, gint64 characteristic)
{
  g_return_if_fail (FETTLE_IS_SETUP_LIMITS (self));

  if (self->characteristic == characteristic)
    {
      ask (self); /* the page has an answer: somebody may have stored something */
      return;
    }
  self->characteristic = characteristic;
  g_clear_pointer (&self->now, book_limit_now_free);
  gtk_widget_set_sensitive (self->store, FALSE);
  if (characteristic == 0)
    gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  else
    restore (self);
  ask (self);
}

void
fettle_setup_limits_focus (FettleSetupLimits *self)
{
  g_return_if_fail (FETTLE_IS_SETUP_LIMITS (self));

  gtk_widget_grab_focus (GTK_WIDGET (self->entry));
}

/* ---- as an object ---- */

static void
fettle_setup_limits_dispose (GObject *object)
{
  FettleSetupLimits *self = FETTLE_SETUP_LIMITS (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_clear_pointer (&self->now, book_limit_now_free);
  self->entry = NULL;
  g_clear_object (&self->sitting);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_setup_limits_parent_class)->dispose (object);
}

static void
fettle_setup_limits_class_init (FettleSetupLimitsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_setup_limits_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static GtkLabel *
add_label (FettleSetupLimits *self, const char *name, const char *css)
{
  GtkLabel *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "name", name,
                                  "css-classes", (const char *[]){ css, NULL }, NULL);

  gtk_widget_set_parent (GTK_WIDGET (label), GTK_WIDGET (self));
  return label;
}

static void
fettle_setup_limits_init (FettleSetupLimits *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  self->heading = add_label (self, "limit-heading", "field-label");
  self->words = add_label (self, "limit-now", "words");
  self->entry = g_object_new (GTK_TYPE_ENTRY, "name", "limit-text", "hexpand", TRUE, "placeholder-text", _("As on the drawing"), "width-chars", 16,
                              NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _("New limits, as on the drawing"), -1);
  self->store = g_object_new (GTK_TYPE_BUTTON, "label", _("Set from Today"), "name", "limit-store", "valign", GTK_ALIGN_CENTER,
                              "css-classes", (const char *[]){ "plain", NULL }, NULL);
  fettle_tip_set (self->store, _("Store these limits from today on (Enter); earlier ones stay for their days"));
  g_signal_connect_object (self->entry, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->entry, "activate", G_CALLBACK (on_store), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->store, "clicked", G_CALLBACK (on_store), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->entry));
  gtk_box_append (GTK_BOX (line), self->store);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  self->echo = add_label (self, "limit-echo", "dim");
}

GtkWidget *
fettle_setup_limits_new (FettleSitting *sitting)
{
  FettleSetupLimits *self = g_object_new (FETTLE_TYPE_SETUP_LIMITS, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
