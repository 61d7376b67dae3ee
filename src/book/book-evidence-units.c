/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Units, what was built into them, what happened to them, and their readings. A model has up to a hundred thousand
 * readings, so these come unit by unit in the order of build and are then dealt out by characteristic: no sorting, no
 * hashing, and a binary search only where the characteristic is not the one after the last.
 */

static const char units_sql[] = "SELECT u.id, u.round, u.serial, u.part, u.assembled_on FROM round r"
                                " JOIN unit u ON u.round = r.id WHERE r.model = ?1";
static void
add_unit (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceUnit *unit = book_loader_add (loader->e, units);

  unit->id = sqlite3_column_int64 (statement, 0);
  unit->round = book_column_ref (statement, 1, &loader->rounds);
  unit->serial = g_string_chunk_insert (loader->e->strings, (const char *) sqlite3_column_text (statement, 2));
  unit->part = book_column_ref (statement, 3, &loader->parts);
  unit->assembled = book_column_day (statement, 4);
}

static int
compare_units (gconstpointer a, gconstpointer b)
{
  const BookEvidenceUnit *first = a, *second = b;
  int order;

  if (first->round != second->round)
    return first->round < second->round ? -1 : 1;
  order = book_serial_compare (first->serial, second->serial);
  if (order != 0)
    return order;
  return (first->id > second->id) - (first->id < second->id);
}

static void
sort_units (BookLoader *loader)
{
  if (loader->e->n_units > 0)
    qsort (loader->e->units, loader->e->n_units, sizeof *loader->e->units, compare_units);
  book_key_map_fill (&loader->units, loader->e->units, loader->e->n_units);
}

static const char unit_parts_sql[] =
  "SELECT p.unit, p.part, p.step, p.revision, p.lot FROM round r JOIN unit u ON u.round = r.id"
  " JOIN unit_part p ON p.unit = u.id WHERE r.model = ?1";
static void
add_unit_part (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceUnitPart *row = book_loader_add (loader->e, unit_parts);

  row->unit = book_column_ref (statement, 0, &loader->units);
  row->part = book_column_ref (statement, 1, &loader->parts);
  row->step = book_column_ref (statement, 2, &loader->steps);
  row->revision = book_column_ref (statement, 3, &loader->revisions);
  row->lot = book_column_ref (statement, 4, &loader->lots);
}

static int
compare_unit_parts (gconstpointer a, gconstpointer b)
{
  const BookEvidenceUnitPart *first = a, *second = b;

  if (first->unit != second->unit)
    return first->unit < second->unit ? -1 : 1;
  if (first->part != second->part)
    return first->part < second->part ? -1 : 1;
  return (first->step > second->step) - (first->step < second->step);
}

static void
sort_unit_parts (BookLoader *loader)
{
  if (loader->e->n_unit_parts > 0)
    qsort (loader->e->unit_parts, loader->e->n_unit_parts, sizeof *loader->e->unit_parts, compare_unit_parts);
}

static const char events_sql[] =
  "SELECT v.unit, v.date, v.step, v.kind, v.issue, v.person, v.reason, v.no FROM round r JOIN unit u ON u.round = r.id"
  " JOIN unit_event v ON v.unit = u.id WHERE r.model = ?1";
static void
add_event (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceEvent *event = book_loader_add (loader->e, events);

  event->unit = book_column_ref (statement, 0, &loader->units);
  event->day = book_day_parse ((const char *) sqlite3_column_text (statement, 1), &event->second);
  event->step = book_column_ref (statement, 2, &loader->steps);
  event->kind = (BookEventKind) sqlite3_column_int (statement, 3);
  event->issue = book_column_ref (statement, 4, &loader->issues);
  event->person = book_column_ref (statement, 5, &loader->persons);
  event->reason = book_column_text (loader, statement, 6);
  event->no = sqlite3_column_int (statement, 7);
}

static int
compare_events (gconstpointer a, gconstpointer b)
{
  const BookEvidenceEvent *first = a, *second = b;

  if (first->unit != second->unit)
    return first->unit < second->unit ? -1 : 1;
  return (first->no > second->no) - (first->no < second->no);
}

static void
sort_events (BookLoader *loader)
{
  if (loader->e->n_events > 0)
    qsort (loader->e->events, loader->e->n_events, sizeof *loader->e->events, compare_events);
}

static const char findings_sql[] =
  "SELECT f.issue, f.unit, f.disposition, f.date, f.excused, f.person, f.reason FROM issue i"
  " JOIN finding f ON f.issue = i.id WHERE i.model = ?1 ORDER BY i.no, f.no";
static void
add_finding (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceFinding *finding = book_loader_add (loader->e, findings);

  finding->issue = book_column_ref (statement, 0, &loader->issues);
  finding->unit = book_column_ref (statement, 1, &loader->units);
  finding->disposition = (BookDisposition) sqlite3_column_int (statement, 2);
  finding->day = book_column_day (statement, 3);
  finding->excused = sqlite3_column_int (statement, 4) != 0;
  finding->person = book_column_ref (statement, 5, &loader->persons);
  finding->reason = book_column_text (loader, statement, 6);
}

gboolean
book_load_units (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = {
    { units_sql, add_unit, sort_units },
    { unit_parts_sql, add_unit_part, sort_unit_parts },
    { events_sql, add_event, sort_events },
    { findings_sql, add_finding, NULL },
  };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}

static const char readings_sql[] =
  "SELECT id, characteristic, attempt, n, step, value, mark, voided, taken, gauge FROM reading WHERE unit = ?2"
  " ORDER BY characteristic, attempt, n";

/* Readings as they come, each with its characteristic. */
typedef struct
{
  BookEvidenceReading *readings;
  guint               *characteristics;
  guint                n;
  guint                room;
} Pile;

static void
add_reading (BookLoader *loader, StoreStatement *statement, guint32 unit, Pile *pile, gint64 *key, int *characteristic)
{
  BookEvidenceReading *reading;
  gint64 its = sqlite3_column_int64 (statement, 1);

  if (its != *key)
    {
      *key = its;
      *characteristic = book_key_map_find (&loader->characteristics, its);
    }
  if (*characteristic < 0)
    return;
  if (pile->n == pile->room)
    {
      pile->room = MAX (256, pile->room * 2);
      pile->readings = g_renew (BookEvidenceReading, pile->readings, pile->room);
      pile->characteristics = g_renew (guint, pile->characteristics, pile->room);
    }
  pile->characteristics[pile->n] = (guint) *characteristic;
  reading = &pile->readings[pile->n++];
  reading->id = sqlite3_column_int64 (statement, 0);
  reading->unit = unit;
  reading->attempt = (guint16) sqlite3_column_int (statement, 2);
  reading->n = (guint16) sqlite3_column_int (statement, 3);
  reading->step = (gint16) book_column_ref (statement, 4, &loader->steps);
  reading->value = book_column_real (statement, 5, NAN);
  reading->mark = (guint8) sqlite3_column_int (statement, 6);
  reading->voided = sqlite3_column_int (statement, 7) != 0;
  reading->day = book_day_parse ((const char *) sqlite3_column_text (statement, 8), &reading->second);
  reading->gauge = (gint16) book_column_ref (statement, 9, &loader->gauges);
}

/* Counting sort: stable, so that readings stay by unit, attempt and n within their characteristic. */
static void
deal_out (BookEvidence *e, const Pile *pile)
{
  g_autofree guint *place = g_new0 (guint, e->n_characteristics + 1);

  for (guint i = 0; i < pile->n; i++)
    place[pile->characteristics[i] + 1]++;
  for (guint i = 0; i < e->n_characteristics; i++)
    {
      place[i + 1] += place[i];
      e->characteristics[i].first_reading = place[i];
      e->characteristics[i].end_reading = place[i + 1];
    }
  e->n_readings = pile->n;
  e->readings = g_new (BookEvidenceReading, pile->n + 1);
  for (guint i = 0; i < pile->n; i++)
    e->readings[place[pile->characteristics[i]]++] = pile->readings[i];
}

static const char trials_sql[] =
  "SELECT t.characteristic, t.person, t.date, t.verdict, t.known_bad FROM gauge g"
  " JOIN gauge_trial t ON t.gauge = g.id JOIN characteristic c ON c.id = t.characteristic WHERE c.model = ?1";
static void
add_trial (BookLoader *loader, StoreStatement *statement)
{
  int characteristic = book_column_ref (statement, 0, &loader->characteristics);
  BookEvidenceBadTrial *trial;

  if (characteristic < 0)
    return;
  loader->e->characteristics[characteristic].trials++;
  if (sqlite3_column_int (statement, 4) == 0 || sqlite3_column_type (statement, 3) == SQLITE_NULL)
    return;
  loader->e->characteristics[characteristic].bad_trials++;
  trial = book_loader_add (loader->e, bad_trials);
  trial->characteristic = characteristic;
  trial->person_id = sqlite3_column_int64 (statement, 1);
  trial->day = book_column_day (statement, 2);
  trial->caught = sqlite3_column_int (statement, 3) == BOOK_MARK_FAILED;
}

gboolean
book_load_readings (BookLoader *loader, GError **error)
{
  static const BookQuery trials[] = { { trials_sql, add_trial, NULL } };
  BookEvidence *e = loader->e;
  Pile pile = { NULL, NULL, 0, 0 };
  gboolean ok = TRUE;

  for (guint i = 0; ok && i < e->n_units; i++)
    {
      g_autoptr(StoreStatement) statement = book_loader_query (loader, readings_sql, error);
      gint64 key = 0;
      int characteristic = -1;

      ok = statement != NULL;
      if (!ok)
        break;
      sqlite3_bind_int64 (statement, 2, e->units[i].id);
      while (book_loader_next (loader, statement, &ok, error))
        add_reading (loader, statement, i, &pile, &key, &characteristic);
    }
  if (ok)
    deal_out (e, &pile);
  g_free (pile.readings);
  g_free (pile.characteristics);
  return ok && book_loader_run (loader, trials, G_N_ELEMENTS (trials), error);
}
