/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Yes or no: a check with the field's label beside it.
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHECK_EDITOR (fettle_check_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleCheckEditor, fettle_check_editor, FETTLE, CHECK_EDITOR, GtkWidget)

GtkWidget *fettle_check_editor_new (const BookField *field) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
