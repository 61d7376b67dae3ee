/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "unit-answer.h"

#include <glib/gi18n.h>

#include "book-evidence.h"
#include "book-record.h"
#include "present-unit.h"
#include "store-reader.h"

const PresentReadingColumn fettle_unit_reading_columns[] = {
  PRESENT_READING_CHARACTERISTIC, PRESENT_READING_ATTEMPT, PRESENT_READING_VALUE, PRESENT_READING_TAKEN,
  PRESENT_READING_PERSON,         PRESENT_READING_REMARK,  PRESENT_READING_STATE,
};
const guint fettle_unit_n_reading_columns = G_N_ELEMENTS (fettle_unit_reading_columns);

void
fettle_unit_ask_free (gpointer data)
{
  FettleUnitAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static void
row_free (gpointer data)
{
  g_strfreev (((FettleUnitRow *) data)->cells);
  g_free (data);
}

void
fettle_unit_answer_free (gpointer data)
{
  FettleUnitAnswer *answer = data;

  g_free (answer->title);
  g_free (answer->words);
  g_ptr_array_unref (answer->parts);
  g_ptr_array_unref (answer->events);
  g_ptr_array_unref (answer->issues);
  g_ptr_array_unref (answer->readings);
  g_ptr_array_unref (answer->holders);
  g_free (answer);
}

static FettleUnitRow *
add_row (GPtrArray *rows, guint n_cells, const char *record, gint64 key)
{
  FettleUnitRow *row = g_new0 (FettleUnitRow, 1);

  row->cells = g_new0 (char *, n_cells + 1);
  row->record = record;
  row->key = key;
  g_ptr_array_add (rows, row);
  return row;
}

static void
take_built (FettleUnitAnswer *answer, const InsightAsBuilt *built)
{
  answer->title = present_unit_title (built);
  answer->words = present_unit_words (built);
  answer->unit = built->unit;
  for (guint i = 0; i < built->parts->len; i++)
    {
      const InsightBuiltPart *part = g_ptr_array_index (built->parts, i);
      FettleUnitRow *row = add_row (answer->parts, PRESENT_N_BUILT_COLUMNS, part->lot_id != 0 ? "lot" : part->revision_id != 0 ? "revision" : NULL,
                                    part->lot_id != 0 ? part->lot_id : part->revision_id);

      row->open = part->differs || part->is_split;
      row->row = part->row;
      row->part = part->part;
      row->step = part->step;
      row->revision = part->revision_id;
      row->lot = part->lot_id;
      for (guint c = 0; c < PRESENT_N_BUILT_COLUMNS; c++)
        row->cells[c] = present_built_cell (part, (PresentBuiltColumn) c);
    }
  for (guint i = 0; i < built->events->len; i++)
    {
      const InsightBuiltEvent *event = g_ptr_array_index (built->events, i);
      FettleUnitRow *row = add_row (answer->events, PRESENT_N_EVENT_COLUMNS, event->issue != 0 ? "issue" : NULL, event->issue);

      for (guint c = 0; c < PRESENT_N_EVENT_COLUMNS; c++)
        row->cells[c] = present_event_cell (event, (PresentEventColumn) c);
    }
  for (guint i = 0; i < built->findings->len; i++)
    {
      const InsightBuiltFinding *finding = g_ptr_array_index (built->findings, i);
      FettleUnitRow *row = add_row (answer->issues, 1, "issue", finding->issue);

      row->open = finding->disposition == 0;
      row->cells[0] = present_finding_words (finding);
    }
}

static void
take_holders (FettleUnitAnswer *answer, const GPtrArray *holders)
{
  for (guint i = 0; i < holders->len; i++)
    {
      const InsightHolder *holder = g_ptr_array_index (holders, i);
      FettleUnitRow *row = add_row (answer->holders, PRESENT_N_HOLDER_COLUMNS, "unit", holder->unit);

      row->open = holder->failed;
      for (guint c = 0; c < PRESENT_N_HOLDER_COLUMNS; c++)
        row->cells[c] = present_holder_cell (holder, (PresentHolderColumn) c);
    }
}

/* ---- readings: rows are read while the book may be asked, what they mean is worked out afterwards ---- */

static GPtrArray *
read_rows (StoreDb *db, const FettleUnitAsk *ask, GCancellable *cancellable, GError **error)
{
  BookReadingsAsk which = { .model = ask->model, .unit = ask->unit };
  g_autoptr(GArray) keys = book_readings_keys (db, &which, cancellable, error);
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify) book_reading_row_free);
  g_autofree BookReadingRow **found = NULL;

  if (keys == NULL)
    return NULL;
  found = g_new0 (BookReadingRow *, keys->len + 1);
  if (!book_readings_read (db, (const gint64 *) (void *) keys->data, keys->len, found, error))
    return NULL;
  for (guint i = 0; i < keys->len; i++)
    if (found[i] != NULL)
      g_ptr_array_add (rows, found[i]);
  return g_steal_pointer (&rows);
}

/* A mark stands for all repeats of an attempt; a voided reading has one of its own. */
static const InsightMark *
mark_of (const InsightSeries *series, const BookReadingRow *row)
{
  for (guint i = 0; i < series->n_marks; i++)
    {
      const InsightMark *mark = &series->marks[i];

      if (mark->unit == row->unit_key && mark->attempt == row->attempt
          && (row->voided ? mark->reading == row->id : mark->counting != INSIGHT_NOT_VOIDED))
        return mark;
    }
  return NULL;
}

static gboolean
take_readings (FettleUnitAnswer *answer, const BookEvidence *evidence, const FettleUnitAsk *ask, GPtrArray *rows,
               GCancellable *cancellable, GError **error)
{
  InsightSpan span = { evidence->n_rounds > 0 ? evidence->rounds[evidence->n_rounds - 1].id : 0, ask->today };
  g_autoptr(GHashTable) known = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, (GDestroyNotify) insight_series_free);

  for (guint i = 0; i < rows->len; i++)
    {
      const BookReadingRow *reading = g_ptr_array_index (rows, i);
      InsightSeries *series = g_hash_table_lookup (known, &reading->characteristic_key);
      FettleUnitRow *row;

      if (series == NULL)
        {
          series = insight_series (evidence, reading->characteristic_key, &span, cancellable, error);
          if (series == NULL)
            return FALSE;
          g_hash_table_insert (known, (gpointer) &reading->characteristic_key, series);
        }
      row = add_row (answer->readings, fettle_unit_n_reading_columns, "reading", reading->id);
      for (guint c = 0; c < fettle_unit_n_reading_columns; c++)
        {
          PresentWeight weight;

          row->cells[c] = present_reading_cell (reading, mark_of (series, reading), fettle_unit_reading_columns[c], &weight);
          row->open |= weight == PRESENT_WEIGHT_OPEN;
        }
    }
  return TRUE;
}

/* ---- a lot or a revision ---- */

static gboolean
read_held (StoreDb *db, const BookEvidence *evidence, const FettleUnitAsk *ask, FettleUnitAnswer *answer, GError **error)
{
  const BookRecord *record = book_record (ask->lot != 0 ? BOOK_RECORD_LOT : BOOK_RECORD_REVISION);
  g_autoptr(GPtrArray) holders = insight_holders (evidence, ask->lot, ask->revision);
  g_autofree char *key = book_record_key_text (db, record, ask->lot != 0 ? ask->lot : ask->revision, BOOK_KEY_TEXT_SHOWN, error);
  g_autofree char *what = NULL;

  if (key == NULL)
    return FALSE;
  what = g_strdup_printf ("%s %s", book_record_label (record), key);
  answer->title = g_strdup (what);
  answer->words = present_holders_words (holders, what);
  take_holders (answer, holders);
  return TRUE;
}

static GPtrArray *
rows_new (void)
{
  return g_ptr_array_new_with_free_func (row_free);
}

/**
 * fettle_unit_answer_read:
 * @db: the reader's connection
 * @data: a #FettleUnitAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleUnitAnswer
 */
gpointer
fettle_unit_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleUnitAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  g_autoptr(FettleUnitAnswer) answer = g_new0 (FettleUnitAnswer, 1);
  g_autoptr(InsightAsBuilt) built = NULL;
  g_autoptr(GPtrArray) rows = NULL;

  answer->parts = rows_new ();
  answer->events = rows_new ();
  answer->issues = rows_new ();
  answer->readings = rows_new ();
  answer->holders = rows_new ();
  if (evidence == NULL)
    return NULL;
  if (ask->lot != 0 || ask->revision != 0)
    return read_held (db, evidence, ask, answer, error) ? g_steal_pointer (&answer) : NULL;

  rows = read_rows (db, ask, cancellable, error);
  if (rows == NULL)
    return NULL;
  store_reader_done_reading (db);
  built = insight_as_built (evidence, ask->unit);
  if (built == NULL)
    {
      answer->title = g_strdup (_("Unit"));
      answer->words = g_strdup (_("This unit is not in the book, or not of this model: look for it by its serial."));
      return g_steal_pointer (&answer);
    }
  take_built (answer, built);
  return take_readings (answer, evidence, ask, rows, cancellable, error) ? g_steal_pointer (&answer) : NULL;
}
