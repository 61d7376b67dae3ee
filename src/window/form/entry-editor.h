/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One line of text, or a number with its unit beside it.
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ENTRY_EDITOR (fettle_entry_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleEntryEditor, fettle_entry_editor, FETTLE, ENTRY_EDITOR, GtkWidget)

GtkWidget *fettle_entry_editor_new (const BookField *field) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
