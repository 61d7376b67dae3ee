/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Another record, chosen from a list below that is searched by typing. Its text is the record's exact key text (book-record.h).
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_REFERENCE_EDITOR (fettle_reference_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleReferenceEditor, fettle_reference_editor, FETTLE, REFERENCE_EDITOR, GtkWidget)

GtkWidget *fettle_reference_editor_new (const BookField *field,
                                        FettleSitting   *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
