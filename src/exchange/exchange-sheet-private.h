/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Method. Understanding a sheet goes in five passes over the cells, each in its own file, each obeying what the caller
 * set: the decimal sign and the cells; the role of each row; the role of each column; the head of each column (name,
 * unit, limits); the rows of readings (serial, attempt, repeat). Last the title lines. Every guess is listed as a remark.
 * Nothing is kept between two runs but the cells and what the caller set.
 */

#include "exchange-cell.h"
#include "exchange-grid-private.h"
#include "exchange-sheet.h"
#include "exchange-words-private.h"

G_BEGIN_DECLS

/* What the caller set for a column; NULL, NAN and FALSE where nothing was set. */
typedef struct
{
  gboolean           has_role;
  ExchangeColumnRole role;
  char              *name;
  char              *unit;
  char              *class_word;
  gboolean           has_limits;
  double             nominal;
  double             lower;
  double             upper;
} ExchangeColumnSetting;

typedef struct
{
  gboolean        has_role;
  ExchangeRowRole role;
} ExchangeRowSetting;

struct _ExchangeSheet
{
  char         *name;
  ExchangeGrid *grid;

  ExchangeColumnSetting *column_settings;
  ExchangeRowSetting    *row_settings;
  char                   set_decimal_sign; /* 0: found */
  gboolean               has_again;
  ExchangeAgain          set_again;

  /* What was understood; made anew by exchange_sheet_understand(). */
  GStringChunk        *texts; /* owns every text below */
  char                 decimal_sign;
  ExchangeDateOrder    date_order;
  ExchangeAgain        again;
  ExchangeCell        *cells;
  ExchangeSheetColumn *columns;
  ExchangeSheetRow    *rows;
  int                  serial_column; /* -1: none */
  int                  first_data;    /* -1: none */
  GArray              *remarks;       /* of ExchangeSheetRemark */
  ExchangeSheetTitle   title;
  guint                n_readings;
  guint                n_units;
};

void exchange_sheet_understand (ExchangeSheet *sheet);

void exchange_sheet_find_rows (ExchangeSheet *sheet);
void exchange_sheet_find_columns (ExchangeSheet *sheet);
void exchange_sheet_find_heads (ExchangeSheet *sheet);
void exchange_sheet_find_readings (ExchangeSheet *sheet);
void exchange_sheet_find_title (ExchangeSheet *sheet);

/* For a guess or problem: @row and @column may be -1. */
void exchange_sheet_remark (ExchangeSheet *sheet, ExchangeRemarkKind kind, int row, int column, const char *format, ...)
    G_GNUC_PRINTF (5, 6);
const char *exchange_sheet_keep (ExchangeSheet *sheet, const char *text);
const char *exchange_sheet_keep_printf (ExchangeSheet *sheet, const char *format, ...) G_GNUC_PRINTF (2, 3);

static inline const char *
exchange_sheet_text (const ExchangeSheet *sheet, guint row, guint column)
{
  return exchange_grid_cell (sheet->grid, row, column);
}

static inline const ExchangeCell *
exchange_sheet_cell (const ExchangeSheet *sheet, guint row, guint column)
{
  return &sheet->cells[row * sheet->grid->n_columns + column];
}

gboolean exchange_text_is_date (const char *text, ExchangeDateOrder order, char iso[17], gboolean *is_doubtful);
const char *exchange_text_class (const char *text);
char *exchange_text_without_brackets (const char *text);

G_END_DECLS
