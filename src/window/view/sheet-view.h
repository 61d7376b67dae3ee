/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table in words (present-sheet.h) as a ledger below its title. Enter, or two clicks, goes to the record of a row.
 * A selected row whose figures are made of several records shows these below its cells, each as a button that leads to one;
 * Enter on a row that leads nowhere else gives them the keyboard. Without rows it hides itself.
 */

#include <gtk/gtk.h>

#include "present-sheet.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SHEET_VIEW (fettle_sheet_view_get_type ())
G_DECLARE_FINAL_TYPE (FettleSheetView, fettle_sheet_view, FETTLE, SHEET_VIEW, GtkWidget)

/**
 * FettleSheetView::selected:
 * @item: of the row that is selected now (present-sheet.h); 0: of none, or of one without
 */

GtkWidget          *fettle_sheet_view_new   (const char         *name) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_sheet_view_set   (FettleSheetView    *self,
                                             const PresentSheet *sheet);
void                fettle_sheet_view_focus (FettleSheetView    *self);

void                fettle_sheet_view_select (FettleSheetView   *self,
                                              gint64             item);

/* Told of the record of a row on which Enter was pressed, or that was clicked twice. */
typedef void (*FettleSheetLead)              (const char        *record,
                                              gint64             key,
                                              gpointer           user_data);
void                fettle_sheet_view_set_lead (FettleSheetView *self,
                                                FettleSheetLead  lead,
                                                gpointer         user_data);

G_END_DECLS
