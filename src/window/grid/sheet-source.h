/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A measuring sheet as it stands, for a FettleTable: what is left out is faint, what was not understood stands out. */

#include "exchange-sheet.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SHEET_SOURCE (fettle_sheet_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleSheetSource, fettle_sheet_source, FETTLE, SHEET_SOURCE, GObject)

FettleSheetSource *fettle_sheet_source_new (ExchangeSheet *sheet) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_sheet_source_understood (FettleSheetSource *self);
char              *fettle_sheet_letter (guint column) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
