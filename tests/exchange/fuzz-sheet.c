/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libFuzzer: any bytes given as a measuring sheet are understood in some way or refused, and every part can be asked for. */
#include "exchange-sheet.h"

#include <stdint.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

static void
ask_all (const ExchangeSheet *sheet)
{
  for (guint c = 0; c < exchange_sheet_count_columns (sheet); c++)
    for (guint r = 0; r < exchange_sheet_count_rows (sheet); r++)
      exchange_sheet_get_reading (sheet, r, c);
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    g_assert (g_utf8_validate (exchange_sheet_get_remark (sheet, i)->text, -1, NULL));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr(ExchangeSheet) sheet = NULL;

  if (size < 2)
    return 0;
  sheet = exchange_sheet_read_text ("fuzz", (const char *) data + 2, size - 2, NULL);
  if (sheet == NULL)
    return 0;
  ask_all (sheet);
  /* The first two bytes set something. */
  exchange_sheet_set_column_role (sheet, data[0] % exchange_sheet_count_columns (sheet),
                                  (ExchangeColumnRole) (data[1] % EXCHANGE_N_COLUMN_ROLES));
  exchange_sheet_set_row_role (sheet, data[1] % exchange_sheet_count_rows (sheet),
                               (ExchangeRowRole) (data[0] % EXCHANGE_N_ROW_ROLES));
  ask_all (sheet);
  return 0;
}
