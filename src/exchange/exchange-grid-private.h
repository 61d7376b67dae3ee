/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A sheet's text cut into cells, whatever program wrote it. Nothing is understood yet. */

#include <glib.h>

G_BEGIN_DECLS

#define EXCHANGE_GRID_MOST_ROWS 20000 /* of a sheet that is to be understood; rows of records may be more */
#define EXCHANGE_GRID_MOST_COLUMNS 400

/**
 * ExchangeGrid:
 * @cells: n_rows times n_columns texts, row by row, never %NULL, trimmed
 * @lines: the line of the file on which each row begins
 * @separator: what stood between the cells
 * @was_not_utf8: the text was taken for Windows-1252 or was UTF-16
 * @quote_was_open: a quote was opened and not closed, so quotes were taken as characters
 */
typedef struct
{
  guint    n_rows;
  guint    n_columns;
  char   **cells;
  guint   *lines;
  char     separator;
  gboolean was_not_utf8;
  gboolean quote_was_open;
} ExchangeGrid;

ExchangeGrid *exchange_grid_read (const char *name, const char *text, gsize length, guint most_rows,
                                  GError **error) G_GNUC_WARN_UNUSED_RESULT;
void          exchange_grid_free (ExchangeGrid *grid);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeGrid, exchange_grid_free)

static inline const char *
exchange_grid_cell (const ExchangeGrid *grid, guint row, guint column)
{
  return grid->cells[row * grid->n_columns + column];
}

G_END_DECLS
