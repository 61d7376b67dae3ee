/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The control in which one field of a record is typed or chosen. Whatever the kind of field, what stands in it is one
 * text, as book_edit_record() reads it, so that a form need not know what it is made of. An editor says nothing about
 * right and wrong: the form's field does (form-field.h).
 */

#include <gtk/gtk.h>

#include "book-fields.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_EDITOR (fettle_editor_get_type ())
G_DECLARE_INTERFACE (FettleEditor, fettle_editor, FETTLE, EDITOR, GtkWidget)

/**
 * FettleEditor::changed:
 *
 * A person typed or chose something else. Not told of fettle_editor_set_text().
 */

/**
 * FettleEditor::chosen:
 *
 * What was done is complete, as if the field were left: something was picked from a list or a calendar.
 */

/**
 * FettleEditor::entered:
 *
 * Enter was pressed in a line.
 */

/**
 * FettleEditorInterface:
 * @dup_text: what stands in it
 * @set_text: shows another text; @shown as people read it, "" for unknown
 * @get_control: the widget inside that has the keyboard, the name for screen readers, and the mark of an error
 * @tidy: (nullable): the field is left: writes what was typed as the book would (a date in the order of the country)
 * @dup_shown: (nullable): what stands in it as people read it, where that is not the text
 * @set_offer: (nullable): offers records of a model (0: all), and below a parent (0: all)
 */
struct _FettleEditorInterface
{
  GTypeInterface parent_iface;

  char      *(*dup_text)    (FettleEditor *self);
  void       (*set_text)    (FettleEditor *self,
                             const char   *text,
                             const char   *shown);
  GtkWidget *(*get_control) (FettleEditor *self);
  void       (*tidy)        (FettleEditor *self);
  char      *(*dup_shown)   (FettleEditor *self);
  void       (*set_offer)   (FettleEditor *self,
                             gint64        model,
                             gint64        within);
};

GtkWidget *fettle_editor_new         (const BookField *field,
                                      FettleSitting   *sitting) G_GNUC_WARN_UNUSED_RESULT;
char      *fettle_editor_dup_text    (FettleEditor    *self) G_GNUC_WARN_UNUSED_RESULT;
char      *fettle_editor_dup_shown   (FettleEditor    *self) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_editor_set_text    (FettleEditor    *self,
                                      const char      *text,
                                      const char      *shown);
GtkWidget *fettle_editor_get_control (FettleEditor    *self);
void       fettle_editor_tidy        (FettleEditor    *self);
void       fettle_editor_set_offer   (FettleEditor    *self,
                                      gint64           model,
                                      gint64           within);

/* For editors: tell what a person did. */
void       fettle_editor_tell_changed (FettleEditor   *self);
void       fettle_editor_tell_chosen  (FettleEditor   *self);
void       fettle_editor_tell_entered (FettleEditor   *self);

G_END_DECLS
