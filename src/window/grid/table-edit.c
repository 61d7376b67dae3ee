/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Typing into a cell. One entry stands over the cell; what is typed is handed to the source at each keystroke, which
 * keeps it until it is stored or taken back, so that neither a refresh nor the row's going away loses it.
 */
#include "config.h"

#include "table-private.h"

#include <glib/gi18n.h>

#include "keyboard.h"
#include "typed.h"

static char *
held_text (FettleTable *self)
{
  return fettle_table_source_dup_edit (self->source, self->row, self->column);
}

/* What the cell holds in the book; NULL while what was typed into it before is on its way there. */
static char *
stored_text (FettleTable *self)
{
  FettleTableTone tone;
  gboolean pending = FALSE;

  g_free (fettle_table_source_dup_text (self->source, self->row, self->column, &tone, &pending)); /* only whether it is on its way */
  return pending ? NULL : held_text (self); /* as it is typed: with its note */
}

static void
fill_text (FettleTable *self, const char *text)
{
  self->filling = TRUE;
  fettle_typed_set (GTK_EDITABLE (self->text), text);
  self->filling = FALSE;
}

static void
take_base (FettleTable *self, char *stored)
{
  g_free (self->base);
  self->base = stored;
}

/* Both values, and which key takes which. */
static void
tell_both (FettleTable *self, const char *stored, const char *typed)
{
  g_autofree char *words = stored[0] != '\0'
                             ? g_strdup_printf (_("Somebody else wrote '%s' here meanwhile, you typed '%s': Enter stores yours, Escape "
                                                  "leaves theirs."), stored, typed)
                             : g_strdup_printf (_("Somebody else emptied this cell meanwhile, you typed '%s': Enter stores yours, Escape "
                                                  "leaves it empty."), typed);

  self->meanwhile = TRUE;
  gtk_widget_add_css_class (self->text, "wrong");
  fettle_table_tell_refused (self, words);
}

/*
 * The rows were read anew while a cell is typed into. Where somebody else changed it and nothing was typed yet, it shows
 * theirs; where something was, both are told.
 */
void
fettle_table_look_again (FettleTable *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->text));
  g_autofree char *stored = NULL;

  if (!self->editing || self->row >= fettle_table_n_rows (self))
    return;
  stored = stored_text (self);
  if (stored == NULL || g_strcmp0 (stored, self->base) == 0)
    return;
  if (self->base != NULL && g_strcmp0 (typed, stored) != 0)
    {
      if (g_strcmp0 (typed, self->base) != 0)
        tell_both (self, stored, typed);
      else
        {
          fill_text (self, stored);
          gtk_editable_select_region (GTK_EDITABLE (self->text), 0, -1);
        }
    }
  take_base (self, g_steal_pointer (&stored));
}

/* Ends typing; what the source kept stays kept. */
void
fettle_table_stop (FettleTable *self)
{
  gboolean focused = (gtk_widget_get_state_flags (self->text) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;

  if (!self->editing)
    return;
  self->editing = FALSE;
  self->meanwhile = FALSE;
  take_base (self, NULL);
  gtk_widget_remove_css_class (self->text, "wrong");
  if (focused)
    gtk_widget_grab_focus (GTK_WIDGET (self)); /* before the entry goes: hidden with the keyboard it would go on blinking */
  gtk_widget_set_visible (self->text, FALSE);
  fettle_table_tell_refused (self, NULL);
  fettle_table_redraw (self);
}

/* Ends typing, and the cell is as it was before. */
void
fettle_table_take_back (FettleTable *self)
{
  if (!self->editing)
    return;
  fettle_table_source_keep_typed (self->source, self->key, self->column, NULL);
  fettle_table_stop (self);
  fettle_table_tell_position (self);
}

/* Takes back what was typed into the current row before and could not be stored; FALSE when there is nothing. */
gboolean
fettle_table_take_back_kept (FettleTable *self)
{
  guint n;

  fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *kept = fettle_table_source_dup_typed (self->source, self->key, i);

      if (kept == NULL)
        continue;
      fettle_table_source_keep_typed (self->source, self->key, i, NULL);
      fettle_table_tell_position (self);
      fettle_table_redraw (self);
      return TRUE;
    }
  return FALSE;
}

/*
 * Begins to type into the current cell: with @typed, else with what was typed before and not stored, else with what the
 * cell holds. FALSE when the cell cannot be typed into.
 */
gboolean
fettle_table_begin (FettleTable *self, const char *typed)
{
  g_autofree char *held = NULL, *kept = NULL;

  if (self->row >= fettle_table_n_rows (self) || !fettle_table_source_editable (self->source, self->row, self->column))
    return FALSE;

  held = held_text (self);
  kept = fettle_table_source_dup_typed (self->source, self->key, self->column);
  self->editing = TRUE;
  take_base (self, stored_text (self));
  self->over = typed != NULL;
  fill_text (self, typed != NULL ? typed : kept != NULL ? kept : held);
  gtk_widget_set_visible (self->text, TRUE);
  fettle_table_tell_position (self);
  fettle_table_redraw (self);
  gtk_widget_grab_focus (self->text);
  if (typed != NULL || kept != NULL)
    gtk_editable_set_position (GTK_EDITABLE (self->text), -1);
  else
    gtk_editable_select_region (GTK_EDITABLE (self->text), 0, -1);
  if (typed != NULL)
    fettle_table_source_keep_typed (self->source, self->key, self->column, typed);
  return TRUE;
}

/* As fettle_table_begin(), in the first cell of the row that can be typed into when the current one cannot. */
gboolean
fettle_table_begin_in_row (FettleTable *self, const char *typed)
{
  guint n = 0, was = self->column;

  if (self->source == NULL || self->row >= fettle_table_n_rows (self))
    return FALSE;
  if (fettle_table_begin (self, typed))
    return TRUE;
  fettle_table_source_columns (self->source, &n);
  for (guint i = 0; i < n; i++)
    if (fettle_table_source_editable (self->source, self->row, i))
      {
        self->column = i;
        if (fettle_table_begin (self, typed))
          return TRUE;
      }
  self->column = was;
  return FALSE;
}

/* What was typed stays in the cell, underlined, until it can be taken or is taken back: FALSE while it cannot. */
gboolean
fettle_table_take (FettleTable *self)
{
  g_autofree char *held = NULL, *refused = NULL;
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->text));

  if (!self->editing)
    return TRUE;
  /* Somebody else's value that was not shown yet comes first; what was shown, a key may write over. */
  if (!self->meanwhile)
    {
      fettle_table_look_again (self);
      if (self->meanwhile)
        return FALSE;
    }
  held = held_text (self);
  if (g_strcmp0 (held, typed) != 0)
    refused = fettle_table_source_commit (self->source, self->row, self->column, typed);
  else
    fettle_table_source_keep_typed (self->source, self->key, self->column, NULL);
  if (refused != NULL)
    {
      gtk_widget_add_css_class (self->text, "wrong");
      fettle_table_tell_refused (self, refused);
      return FALSE;
    }
  fettle_table_stop (self);
  return TRUE;
}

static void
on_text_changed (GtkEditable *text, FettleTable *self)
{
  const char *typed = gtk_editable_get_text (text);
  g_autofree char *held = NULL;

  if (!self->editing || self->filling)
    return;
  held = held_text (self);
  fettle_table_source_keep_typed (self->source, self->key, self->column, g_strcmp0 (typed, held) != 0 ? typed : NULL);
}

static void
on_text_left (FettleTable *self)
{
  /* Leaving the cell stores it; what cannot be taken stays where it is, in view, with its reason, and so do two values. */
  if (!self->meanwhile && !fettle_keyboard_comes_back (self->text))
    fettle_table_take (self);
}

void
fettle_table_set_up_text (FettleTable *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  /* Not a bare GtkText: that has neither a role nor a text for those who listen. */
  self->text = g_object_new (GTK_TYPE_ENTRY, "xalign", 1.0f, "has-frame", FALSE, NULL);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->text), 1);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->text), 1);
  gtk_widget_add_css_class (self->text, "cell");
  gtk_widget_set_name (self->text, "cell");
  gtk_widget_set_visible (self->text, FALSE);
  gtk_widget_set_parent (self->text, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Cell"), -1);
  g_signal_connect (self->text, "changed", G_CALLBACK (on_text_changed), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_text_left), self);
  gtk_widget_add_controller (self->text, focus);
}
