/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A measuring sheet in words: what was understood, what is to be looked at, what was stored. */

#include "exchange-sheet-store.h"
#include "exchange-sheet.h"

G_BEGIN_DECLS

char *exchange_words_understood (const ExchangeSheet       *sheet) G_GNUC_WARN_UNUSED_RESULT;
char *exchange_words_remark     (const ExchangeSheetRemark *remark) G_GNUC_WARN_UNUSED_RESULT;
char *exchange_words_store      (const ExchangeSheet       *sheet) G_GNUC_WARN_UNUSED_RESULT;
char *exchange_words_stored     (const ExchangeSheetStored *stored) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
