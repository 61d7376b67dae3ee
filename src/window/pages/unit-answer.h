/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the Unit page asks of the book, in the reader thread, and what it is told: all of it in words. */

#include <gio/gio.h>

#include "book-readings.h"
#include "present-reading.h"
#include "store-db.h"

G_BEGIN_DECLS

/**
 * FettleUnitAsk:
 * @model: key
 * @unit: key of a unit, or 0
 * @lot: key of a lot whose units are asked for, or 0
 * @revision: key of a revision, likewise
 * @today: ISO 8601
 */
typedef struct
{
  gint64 model;
  gint64 unit;
  gint64 lot;
  gint64 revision;
  char  *today;
} FettleUnitAsk;

/* A row of one of the page's tables: cells, and the record that it leads to. */
typedef struct
{
  char      **cells;
  const char *record; /* (nullable) */
  gint64      key;
  gboolean    open; /* needs a person: the last cell stands out */
  gint64      row, part, step, revision, lot; /* of a row as built: what its form begins with */
} FettleUnitRow;

/**
 * FettleUnitAnswer:
 * @title: of the page
 * @words: what has to be known of the unit, or of the lot
 * @unit: key of the unit; 0: a lot or revision was asked for
 * @parts: (element-type FettleUnitRow): as built
 * @events: (element-type FettleUnitRow)
 * @issues: (element-type FettleUnitRow): one cell each
 * @readings: (element-type FettleUnitRow)
 * @holders: (element-type FettleUnitRow): units of a lot or revision
 */
typedef struct
{
  char      *title;
  char      *words;
  gint64     unit;
  GPtrArray *parts;
  GPtrArray *events;
  GPtrArray *issues;
  GPtrArray *readings;
  GPtrArray *holders;
} FettleUnitAnswer;

extern const PresentReadingColumn fettle_unit_reading_columns[];
extern const guint                fettle_unit_n_reading_columns;

void     fettle_unit_ask_free    (gpointer      ask);
void     fettle_unit_answer_free (gpointer      answer);
gpointer fettle_unit_answer_read (StoreDb      *db,
                                  gpointer      ask,
                                  GCancellable *cancellable,
                                  GError      **error);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleUnitAnswer, fettle_unit_answer_free)

G_END_DECLS
