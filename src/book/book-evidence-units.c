/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Units, what was built into them, what happened to them, and their readings.
 */

static const char units_sql[] = "SELECT u.id, u.round, u.serial, u.part, u.assembled_on, u.assembled_at FROM round r"
                                " JOIN unit u ON u.round = r.id WHERE r.model = ?1";
static void
add_unit (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceUnit *unit = book_loader_add (loader->e, units);
  const char *serial = (const char *) sqlite3_column_text (statement, 2);

  unit->id = sqlite3_column_int64 (statement, 0);
  unit->round = book_column_ref (statement, 1, &loader->rounds);
  unit->serial = serial != NULL ? g_string_chunk_insert (loader->e->strings, serial) : "";
  unit->part = book_column_ref (statement, 3, &loader->parts);
  unit->assembled = book_column_day (statement, 4);
  unit->assembled_at = book_column_ref (statement, 5, &loader->benches);
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
  "SELECT p.unit, p.part, p.step, p.revision, p.lot, p.id FROM round r JOIN unit u ON u.round = r.id"
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
  row->id = sqlite3_column_int64 (statement, 5);
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
  "SELECT v.unit, v.date, v.step, v.kind, v.issue, v.person, v.reason, v.no, v.minutes, v.back_to FROM round r JOIN unit u ON u.round = r.id"
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
  event->minutes = book_column_real (statement, 8, NAN);
  event->back_to = book_column_ref (statement, 9, &loader->steps);
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
  "SELECT f.issue, f.unit, f.disposition, f.date, f.excused, f.person, f.reason, f.id, f.no, f.lot, f.affected,"
  " f.inspected, f.found_at, f.caused_at, f.in_field FROM issue i"
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
  finding->id = sqlite3_column_int64 (statement, 7);
  finding->no = sqlite3_column_int (statement, 8);
  finding->lot = book_column_ref (statement, 9, &loader->lots);
  finding->affected = sqlite3_column_int (statement, 10);
  finding->inspected = sqlite3_column_int (statement, 11);
  finding->found_at = book_column_ref (statement, 12, &loader->steps);
  finding->caused_at = book_column_ref (statement, 13, &loader->steps);
  finding->in_field = sqlite3_column_int (statement, 14) != 0;
}

static const char life_tests_sql[] = "SELECT id, no, date, unit, characteristic, load, cycles, ended, issue FROM life_test"
                                     " WHERE model = ?1 ORDER BY date, no";
static void
add_life_test (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceLifeTest *test = book_loader_add (loader->e, life_tests);

  test->id = sqlite3_column_int64 (statement, 0);
  test->no = sqlite3_column_int (statement, 1);
  test->day = book_column_day (statement, 2);
  test->unit = book_column_ref (statement, 3, &loader->units);
  test->characteristic = book_column_ref (statement, 4, &loader->characteristics);
  test->load = book_column_real (statement, 5, NAN);
  test->cycles = sqlite3_column_double (statement, 6);
  test->ended = (BookLifeEnd) sqlite3_column_int (statement, 7);
  test->issue = book_column_ref (statement, 8, &loader->issues);
}

static const char tests_sql[] =
  "SELECT t.round, t.serial, t.characteristic, t.load, t.cycles, t.destroyed, t.lent, u.id FROM round r"
  " JOIN round_test t ON t.round = r.id LEFT JOIN unit u ON u.round = t.round AND u.serial = t.serial WHERE r.model = ?1";
static void
add_test (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceTest *test = book_loader_add (loader->e, tests);

  test->round = book_column_ref (statement, 0, &loader->rounds);
  test->serial = book_column_text (loader, statement, 1);
  test->characteristic = book_column_ref (statement, 2, &loader->characteristics);
  test->load = book_column_real (statement, 3, NAN);
  test->cycles = book_column_real (statement, 4, NAN);
  test->destroyed = sqlite3_column_int (statement, 5) != 0;
  test->lent = sqlite3_column_int (statement, 6) != 0;
  test->unit = book_column_ref (statement, 7, &loader->units);
}

gboolean
book_load_units (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = {
    { units_sql, add_unit, sort_units },
    { unit_parts_sql, add_unit_part, sort_unit_parts },
    { events_sql, add_event, sort_events },
    { findings_sql, add_finding, NULL },
    { life_tests_sql, add_life_test, NULL },
    { tests_sql, add_test, NULL },
  };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}

/*
 * Readings are taken over inside the query, by an aggregate function of ours: stepping out of SQLite for each of them
 * takes longer than reading it. When the book holds one model the table is read from front to back, else by unit.
 */
#define COLLECT "SELECT collect_reading (id, unit, characteristic, attempt, n, step, value, mark, voided, taken, gauge)"
static const char all_readings_sql[] = COLLECT " FROM reading";
static const char unit_readings_sql[] = COLLECT " FROM reading WHERE unit = ?1";

/* Readings as they come, each with its characteristic. */
typedef struct
{
  BookLoader          *loader;
  BookEvidenceReading *readings;
  guint               *characteristics;
  guint                n;
  guint                room;
} Pile;

/* Where the function puts them: a query runs to its end in the thread that began it. */
static _Thread_local Pile *pile_now;

/* Of an empty reference the number is 0, which is no key. */
static int
ref_of (sqlite3_value *value, const BookKeyMap *map)
{
  gint64 key = sqlite3_value_int64 (value);

  return key == 0 ? -1 : book_key_map_find (map, key);
}

static void
make_room (Pile *pile)
{
  if (pile->n < pile->room)
    return;
  pile->room = MAX (8192, pile->room * 2);
  pile->readings = g_renew (BookEvidenceReading, pile->readings, pile->room);
  pile->characteristics = g_renew (guint, pile->characteristics, pile->room);
}

static void
collect_reading (sqlite3_context *context, int n_values, sqlite3_value **values)
{
  Pile *pile = pile_now;
  int unit, characteristic;
  BookEvidenceReading *reading;

  if (pile == NULL)
    return;
  unit = book_key_map_find (&pile->loader->units, sqlite3_value_int64 (values[1]));
  characteristic = book_key_map_find (&pile->loader->characteristics, sqlite3_value_int64 (values[2]));
  if (unit < 0 || characteristic < 0)
    return;
  make_room (pile);
  pile->characteristics[pile->n] = (guint) characteristic;
  reading = &pile->readings[pile->n++];
  reading->id = sqlite3_value_int64 (values[0]);
  reading->unit = (guint32) unit;
  reading->attempt = (guint16) sqlite3_value_int (values[3]);
  reading->n = (guint16) sqlite3_value_int (values[4]);
  reading->step = (gint16) ref_of (values[5], &pile->loader->steps);
  reading->value = sqlite3_value_type (values[6]) == SQLITE_NULL ? NAN : sqlite3_value_double (values[6]);
  reading->mark = (guint8) sqlite3_value_int (values[7]);
  reading->voided = sqlite3_value_int (values[8]) != 0;
  reading->day = book_day_parse ((const char *) sqlite3_value_text (values[9]), &reading->second);
  reading->gauge = (gint16) ref_of (values[10], &pile->loader->gauges);
}

static void
end_collecting (sqlite3_context *context)
{
  sqlite3_result_null (context);
}

static StoreStatement *
collecting_statement (Pile *pile, const char *sql, GError **error)
{
  StoreDb *db = pile->loader->db;

  if (!store_db_is_prepared (db, all_readings_sql) && !store_db_is_prepared (db, unit_readings_sql)
      && sqlite3_create_function (store_db_handle (db), "collect_reading", 11, SQLITE_UTF8 | SQLITE_DIRECTONLY, NULL, NULL,
                                  collect_reading, end_collecting) != SQLITE_OK)
    {
      store_db_fail (db, pile->loader->what, error);
      return NULL;
    }
  return store_db_statement (db, sql, error);
}

static gboolean
collect_all (Pile *pile, GError **error)
{
  g_autoptr(StoreStatement) statement = collecting_statement (pile, all_readings_sql, error);
  gboolean ok = statement != NULL;

  while (ok && book_loader_next (pile->loader, statement, &ok, error))
    ;
  return ok;
}

static gboolean
collect_by_unit (Pile *pile, GError **error)
{
  const BookEvidence *e = pile->loader->e;
  gboolean ok = TRUE;

  for (guint i = 0; ok && i < e->n_units; i++)
    {
      g_autoptr(StoreStatement) statement = collecting_statement (pile, unit_readings_sql, error);

      ok = statement != NULL;
      if (ok)
        sqlite3_bind_int64 (statement, 1, e->units[i].id);
      while (ok && book_loader_next (pile->loader, statement, &ok, error))
        ;
    }
  return ok;
}

static gboolean
is_only_model (BookLoader *loader, gboolean *only, GError **error)
{
  static const char sql[] = "SELECT 1 FROM model WHERE id <> ?1 LIMIT 1";
  g_autoptr(StoreStatement) statement = book_loader_query (loader, sql, error);
  gboolean ok = statement != NULL;

  *only = ok && !book_loader_next (loader, statement, &ok, error);
  return ok;
}

/* Within a unit and characteristic by attempt and n: as the index gives them, mostly also as they were entered. */
static void
order_repeats (BookEvidenceReading *readings, guint n)
{
  for (guint i = 1; i < n; i++)
    for (guint k = i; k > 0 && readings[k].unit == readings[k - 1].unit
                      && (readings[k].attempt < readings[k - 1].attempt
                          || (readings[k].attempt == readings[k - 1].attempt && readings[k].n < readings[k - 1].n)); k--)
      {
        BookEvidenceReading other = readings[k];

        readings[k] = readings[k - 1];
        readings[k - 1] = other;
      }
}

/* By unit: a counting sort, left out where units come in order. */
static guint *
order_by_unit (const BookEvidence *e, const Pile *pile)
{
  g_autofree guint *place = NULL;
  guint *order = NULL;
  guint i = 1;

  while (i < pile->n && pile->readings[i - 1].unit <= pile->readings[i].unit)
    i++;
  if (i >= pile->n)
    return NULL;

  place = g_new0 (guint, e->n_units + 1);
  order = g_new (guint, pile->n);
  for (i = 0; i < pile->n; i++)
    place[pile->readings[i].unit + 1]++;
  for (i = 0; i < e->n_units; i++)
    place[i + 1] += place[i];
  for (i = 0; i < pile->n; i++)
    order[place[pile->readings[i].unit]++] = i;
  return order;
}

/* By unit and then, stable, by characteristic. */
static void
deal_out (BookEvidence *e, Pile *pile)
{
  g_autofree guint *place = g_new0 (guint, e->n_characteristics + 1);
  g_autofree guint *order = order_by_unit (e, pile);

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
    {
      guint from = order != NULL ? order[i] : i;

      e->readings[place[pile->characteristics[from]]++] = pile->readings[from];
    }
  for (guint i = 0; i < e->n_characteristics; i++)
    order_repeats (e->readings + e->characteristics[i].first_reading,
                   e->characteristics[i].end_reading - e->characteristics[i].first_reading);
}

gboolean
book_load_readings (BookLoader *loader, GError **error)
{
  Pile pile = { .loader = loader };
  gboolean only;
  gboolean ok = is_only_model (loader, &only, error);

  pile_now = &pile;
  ok = ok && (only ? collect_all (&pile, error) : collect_by_unit (&pile, error));
  pile_now = NULL;
  if (ok)
    deal_out (loader->e, &pile);
  g_free (pile.readings);
  g_free (pile.characteristics);
  return ok;
}
