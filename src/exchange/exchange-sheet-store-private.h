/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the two files that store a sheet share: one makes what a model is set up from, the other units and readings. */

#include "book-record.h"
#include "exchange-sheet-store.h"

G_BEGIN_DECLS

typedef struct
{
  gint64    id; /* of the characteristic; 0 for other columns */
  gboolean  has_limits;
  BookClass class_code;
} ExchangeStoredColumn;

typedef struct
{
  ExchangeSheet             *sheet;
  const ExchangeSheetTarget *target;
  ExchangeSheetStored       *stored;
  const char                *model_text;
  const char                *round_text;
  const char                *date; /* of readings without one */
  char                      *first_date; /* of the sheet: limits and terms hold from it */
  const char                *person_text;
  StoreAction               *action;
  StoreDb                   *db;
  ExchangeStoredColumn      *columns;
  GHashTable                *people; /* initials to id */
  guint                      most_repeats;
  guint                      n_conflicts;
  char                      *conflict; /* the first */
} ExchangeStoring;

/* Values of a new row, by name; what is not set is what the description puts there. */
typedef struct
{
  const BookRecord *record;
  BookValue         values[BOOK_MAX_FIELDS];
} ExchangeNewRow;

void     exchange_new_row_begin (ExchangeNewRow *row, BookRecordId id);
void     exchange_new_row_set (ExchangeNewRow *row, const char *name, BookValue value);
void     exchange_new_row_set_text (ExchangeNewRow *row, const char *name, const char *text);
void     exchange_new_row_set_real (ExchangeNewRow *row, const char *name, double real);
gboolean exchange_new_row_insert (ExchangeStoring *self, ExchangeNewRow *row, gint64 *id, GError **error);

gboolean exchange_sheet_store_setup (ExchangeStoring *self, GError **error);
gboolean exchange_sheet_store_person (ExchangeStoring *self, const char *initials, gint64 *id, GError **error);
gboolean exchange_limits_differ (double a, double b);

G_END_DECLS
