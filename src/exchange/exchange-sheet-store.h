/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Storing a measuring sheet: model, round, units, characteristics, limits, readings and a gate, in one action. */

#include "book.h"
#include "exchange-sheet.h"

G_BEGIN_DECLS

/**
 * ExchangeSheetTarget:
 * @model: code or name of a model; one that the book does not have is made. %NULL: what the title says
 * @round: label of the round; one that the model does not have is made. %NULL: what the title says, else `1`
 * @kind: of a round that is made; 0: prototype
 * @date: (nullable): day of the readings without one of their own, ISO 8601. %NULL: what the title says, else today's
 *   date by @today
 * @today: the day, ISO 8601
 * @person: (nullable): initials of who measured, where the sheet does not say. %NULL: what the title says
 * @writer: key of who stores the sheet; 0: nobody by name
 * @sitting: from store_new_sitting(); 0: none
 * @allow_problems: store what is understood although something is not
 */
typedef struct
{
  const char   *model;
  const char   *round;
  BookRoundKind kind;
  const char   *date;
  const char   *today;
  const char   *person;
  gint64        writer;
  gint64        sitting;
  gboolean      allow_problems;
} ExchangeSheetTarget;

/**
 * ExchangeSheetStored:
 * @model: key of the model
 * @round: key of the round
 * @new_model: the model was made
 * @new_round: the round was made
 * @characteristics: made
 * @limits: made
 * @limits_kept: columns whose limits differ from those in force in the book, which stay
 * @units: made
 * @readings: made
 * @equal: readings that the book has already
 * @criteria: made
 * @people: made
 * @receipt: what was stored
 */
typedef struct
{
  gint64       model;
  gint64       round;
  gboolean     new_model;
  gboolean     new_round;
  guint        characteristics;
  guint        limits;
  guint        limits_kept;
  guint        units;
  guint        readings;
  guint        equal;
  guint        criteria;
  guint        people;
  StoreReceipt receipt;
} ExchangeSheetStored;

gboolean exchange_sheet_store (Book                      *book,
                               ExchangeSheet             *sheet,
                               const ExchangeSheetTarget *target,
                               ExchangeSheetStored       *stored,
                               GCancellable              *cancellable,
                               GError                   **error);

G_END_DECLS
