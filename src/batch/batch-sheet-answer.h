/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was understood of a measuring sheet, and what was stored of it, as text or JSON.
 */

#include "exchange-sheet-store.h"
#include "exchange-sheet.h"

G_BEGIN_DECLS

char *batch_sheet_text         (const ExchangeSheet       *sheet,
                                const ExchangeSheetStored *stored) G_GNUC_WARN_UNUSED_RESULT;
char *batch_sheet_json         (const ExchangeSheet       *sheet,
                                const ExchangeSheetStored *stored) G_GNUC_WARN_UNUSED_RESULT;
void  batch_sheet_say_problems (const ExchangeSheet       *sheet);

G_END_DECLS
