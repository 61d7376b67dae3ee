/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One of the choices of a field, or none where it may be empty: closed until it is opened, and light until then.
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHOICE_EDITOR (fettle_choice_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleChoiceEditor, fettle_choice_editor, FETTLE, CHOICE_EDITOR, GtkWidget)

GtkWidget *fettle_choice_editor_new          (const BookField    *field) G_GNUC_WARN_UNUSED_RESULT;
guint      fettle_choice_editor_get_selected (FettleChoiceEditor *self);
void       fettle_choice_editor_choose       (FettleChoiceEditor *self,
                                              guint               selected);

G_END_DECLS
