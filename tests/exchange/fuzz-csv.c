/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libFuzzer: any bytes given to the CSV reader end in rows or in one sentence with its place. */
#include "exchange-csv.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeCsv) csv = exchange_csv_open_text ("fuzz.csv", (const char *) data, size, &error);
  const ExchangeCsvRow *row;

  while (csv != NULL && exchange_csv_next (csv, &row, &error) && row != NULL)
    for (guint i = 0; i < row->n_fields; i++)
      if (strlen (row->fields[i].text) != row->fields[i].length || !g_utf8_validate (row->fields[i].text, -1, NULL))
        abort ();
  if (error != NULL && !g_str_has_prefix (error->message, "fuzz.csv:"))
    abort ();
  return 0;
}
