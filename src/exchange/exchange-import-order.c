/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In which order the rows of an import are written: that of the file while they are few, else that of their key. */
#include "config.h"

#include "exchange-import-private.h"

#include <stdlib.h>

#define SORT_FROM 10000 /* below that the order of the file is kept; above, the index of the key wants order */

/*
 * Roughly the order of the visible key, in one number: enough for the index of the key to be filled front to back. The
 * first part of the key takes most of it; ids of one import differ in their low bits.
 */
static guint64
order_code (const ExchangeTable *table, guint row)
{
  static const guint bits[] = { 32, 20, 6, 6 };
  guint64 code = 0;

  for (guint k = 0; k < MIN (table->record->n_key, G_N_ELEMENTS (bits)); k++)
    {
      BookValue value = exchange_table_value (table, row, (guint) table->key_fields[k]);
      guint64 part = 0;

      if (value.type == SQLITE_INTEGER)
        part = (guint64) value.integer;
      else if (value.type == SQLITE_TEXT)
        for (gsize i = 0; i < 4; i++)
          part = (part << 8) | (i < value.length ? (guchar) value.text[i] : 0);
      code = (code << bits[k]) | (part & ((G_GUINT64_CONSTANT (1) << bits[k]) - 1));
    }
  return code;
}

typedef struct
{
  guint64 code;
  guint32 row;
} Place;

static int
compare_places (gconstpointer a, gconstpointer b)
{
  const Place *x = a;
  const Place *y = b;

  if (x->code != y->code)
    return x->code < y->code ? -1 : 1;
  return x->row < y->row ? -1 : x->row > y->row;
}

static void
sort_rows (const ExchangeTable *table, guint32 *order, guint n)
{
  g_autofree Place *places = g_new (Place, n);

  for (guint i = 0; i < n; i++)
    places[i] = (Place) { order_code (table, order[i]), order[i] };
  qsort (places, n, sizeof *places, compare_places);
  for (guint i = 0; i < n; i++)
    order[i] = places[i].row;
}

/**
 * exchange_import_order:
 * @table: rows that are resolved and matched
 * @n: (out): how many are to be written
 *
 * Returns: (transfer full): the numbers of these rows, in the order in which they are best written
 */
guint32 *
exchange_import_order (const ExchangeTable *table, guint *n)
{
  guint32 *order = g_new (guint32, MAX (table->n_rows, 1));

  *n = 0;
  for (guint row = 0; row < table->n_rows; row++)
    if (table->states[row] == EXCHANGE_ROW_NEW || table->states[row] == EXCHANGE_ROW_CHANGES)
      order[(*n)++] = row;
  if (*n >= SORT_FROM)
    sort_rows (table, order, *n);
  return order;
}
