/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Some lines of text. Tab goes on to the next field; a tabulator has no place in these texts.
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_LONG_TEXT_EDITOR (fettle_long_text_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleLongTextEditor, fettle_long_text_editor, FETTLE, LONG_TEXT_EDITOR, GtkWidget)

GtkWidget *fettle_long_text_editor_new (const BookField *field) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
