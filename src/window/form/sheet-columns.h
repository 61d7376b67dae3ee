/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What each column of a measuring sheet was taken for, and the fields in which that is corrected. */

#include <gtk/gtk.h>

#include "exchange-sheet.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SHEET_COLUMNS (fettle_sheet_columns_get_type ())
G_DECLARE_FINAL_TYPE (FettleSheetColumns, fettle_sheet_columns, FETTLE, SHEET_COLUMNS, GtkWidget)

/**
 * FettleSheetColumns::corrected:
 *
 * Something was set otherwise, and the sheet has been understood anew.
 */

/**
 * FettleSheetColumns::refused:
 * @sentence: (nullable): why what was typed cannot be taken; %NULL: the matter is settled
 */

void     fettle_sheet_columns_set_sheet  (FettleSheetColumns *self,
                                          ExchangeSheet      *sheet);
void     fettle_sheet_columns_understood (FettleSheetColumns *self);
gboolean fettle_sheet_columns_finish     (FettleSheetColumns *self);

G_END_DECLS
