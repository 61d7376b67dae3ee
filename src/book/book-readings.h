/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The readings as a list of any length: first the keys in order, then rows by key as they come into view.
 */

#include <gio/gio.h>

#include "book-choices.h"
#include "store-db.h"

G_BEGIN_DECLS

/**
 * BookReadingsAsk:
 * @model: key of the model
 * @characteristic: key; 0: every one
 * @rounds: (array length=n_rounds) (nullable): keys of the rounds, in the order wanted; %NULL: all, by date
 * @n_rounds: length of @rounds
 * @unit: key of one unit; 0: every one
 */
typedef struct
{
  gint64        model;
  gint64        characteristic;
  const gint64 *rounds;
  guint         n_rounds;
  gint64        unit;
} BookReadingsAsk;

/**
 * BookReadingRow:
 * @id: key of the reading
 * @value: NAN when there is none
 * @decimals: of the characteristic
 * @unit_key: key of the unit
 *
 * One reading as people call its parts. Texts are "" where there is none.
 */
typedef struct
{
  gint64                 id;
  gint64                 unit_key;
  gint64                 characteristic_key;
  char                  *round;
  char                  *serial;
  char                  *code;
  char                  *name;
  char                  *unit;
  BookCharacteristicKind kind;
  guint                  decimals;
  guint                  attempt;
  guint                  n;
  double                 value;
  BookMark               mark;
  gboolean               voided;
  char                  *reason;
  char                  *taken;
  char                  *person;
  char                  *gauge;
} BookReadingRow;

void    book_reading_row_free (BookReadingRow        *row);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookReadingRow, book_reading_row_free)

GArray *book_readings_keys    (StoreDb               *db,
                               const BookReadingsAsk *ask,
                               GCancellable          *cancellable,
                               GError               **error) G_GNUC_WARN_UNUSED_RESULT;
GHashTable *book_reading_notes (StoreDb              *db,
                               gint64                 round,
                               GError               **error) G_GNUC_WARN_UNUSED_RESULT;
GArray *book_check_keys       (StoreDb               *db,
                               gint64                 characteristic,
                               gint64                 person,
                               GError               **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_readings_read   (StoreDb               *db,
                               const gint64          *keys,
                               guint                  n_keys,
                               BookReadingRow       **rows,
                               GError               **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
