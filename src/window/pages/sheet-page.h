/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A measuring sheet, pasted or dropped: what it was understood as, what was guessed and what not understood, each
 * corrected in place, then stored in one action. Actions: sheet.paste, and sheet.take-file (s).
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SHEET_PAGE (fettle_sheet_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleSheetPage, fettle_sheet_page, FETTLE, SHEET_PAGE, GtkBox)

GtkWidget *fettle_sheet_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
