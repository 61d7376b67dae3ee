/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "editor.h"

#include "check-editor.h"
#include "choice-editor.h"
#include "date-editor.h"
#include "entry-editor.h"
#include "long-text-editor.h"
#include "reference-editor.h"

enum { CHANGED, CHOSEN, ENTERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_INTERFACE (FettleEditor, fettle_editor, GTK_TYPE_WIDGET)

static void
fettle_editor_default_init (FettleEditorInterface *iface)
{
  GType type = G_TYPE_FROM_INTERFACE (iface);

  signals[CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHOSEN] = g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ENTERED] = g_signal_new ("entered", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

/**
 * fettle_editor_new:
 * @field: a field of a description; not one that hangs on the field before it, nor a digest
 * @sitting: whose book a reference is chosen from
 *
 * Returns: (transfer floating): the control for this kind of field
 */
GtkWidget *
fettle_editor_new (const BookField *field, FettleSitting *sitting)
{
  switch (field->kind)
    {
    case BOOK_KIND_LONG_TEXT:
      return fettle_long_text_editor_new (field);
    case BOOK_KIND_DATE:
      return fettle_date_editor_new (FALSE);
    case BOOK_KIND_MOMENT:
      return fettle_date_editor_new (TRUE);
    case BOOK_KIND_BOOLEAN:
      return field->required ? fettle_check_editor_new (field) : fettle_choice_editor_new (field);
    case BOOK_KIND_CHOICE:
      return fettle_choice_editor_new (field);
    case BOOK_KIND_REFERENCE:
      return fettle_reference_editor_new (field, sitting);
    default:
      return fettle_entry_editor_new (field);
    }
}

char *
fettle_editor_dup_text (FettleEditor *self)
{
  g_return_val_if_fail (FETTLE_IS_EDITOR (self), NULL);

  return FETTLE_EDITOR_GET_IFACE (self)->dup_text (self);
}

/* As people read it; the text itself where that is the same. */
char *
fettle_editor_dup_shown (FettleEditor *self)
{
  g_return_val_if_fail (FETTLE_IS_EDITOR (self), NULL);

  return FETTLE_EDITOR_GET_IFACE (self)->dup_shown != NULL ? FETTLE_EDITOR_GET_IFACE (self)->dup_shown (self)
                                                           : fettle_editor_dup_text (self);
}

void
fettle_editor_set_text (FettleEditor *self, const char *text, const char *shown)
{
  g_return_if_fail (FETTLE_IS_EDITOR (self));

  FETTLE_EDITOR_GET_IFACE (self)->set_text (self, text != NULL ? text : "", shown != NULL ? shown : "");
}

GtkWidget *
fettle_editor_get_control (FettleEditor *self)
{
  g_return_val_if_fail (FETTLE_IS_EDITOR (self), NULL);

  return FETTLE_EDITOR_GET_IFACE (self)->get_control (self);
}

void
fettle_editor_tidy (FettleEditor *self)
{
  g_return_if_fail (FETTLE_IS_EDITOR (self));

  if (FETTLE_EDITOR_GET_IFACE (self)->tidy != NULL)
    FETTLE_EDITOR_GET_IFACE (self)->tidy (self);
}

void
fettle_editor_set_offer (FettleEditor *self, gint64 model, gint64 within)
{
  g_return_if_fail (FETTLE_IS_EDITOR (self));

  if (FETTLE_EDITOR_GET_IFACE (self)->set_offer != NULL)
    FETTLE_EDITOR_GET_IFACE (self)->set_offer (self, model, within);
}

void
fettle_editor_tell_changed (FettleEditor *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

void
fettle_editor_tell_chosen (FettleEditor *self)
{
  g_signal_emit (self, signals[CHOSEN], 0);
}

void
fettle_editor_tell_entered (FettleEditor *self)
{
  g_signal_emit (self, signals[ENTERED], 0);
}
