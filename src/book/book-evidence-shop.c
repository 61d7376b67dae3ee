/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>

/*
 * What all models of the shop share: people, suppliers, benches, gauges, the working week.
 */

MAP_AFTER (persons)
MAP_AFTER (suppliers)
MAP_AFTER (benches)
MAP_AFTER (gauges)

static const char persons_sql[] = "SELECT id, initials, role FROM person";
static void
add_person (BookLoader *loader, StoreStatement *statement)
{
  BookEvidencePerson *person = book_loader_add (loader->e, persons);

  person->id = sqlite3_column_int64 (statement, 0);
  person->initials = book_column_text (loader, statement, 1);
  person->role = (BookRole) sqlite3_column_int (statement, 2);
}

static const char suppliers_sql[] = "SELECT id, name FROM supplier ORDER BY name";
static void
add_supplier (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceSupplier *supplier = book_loader_add (loader->e, suppliers);

  supplier->id = sqlite3_column_int64 (statement, 0);
  supplier->name = book_column_text (loader, statement, 1);
}

static const char benches_sql[] =
  "SELECT id, name, machines, people, hours_week, uptime, share_free FROM bench ORDER BY name";
static void
add_bench (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceBench *bench = book_loader_add (loader->e, benches);

  bench->id = sqlite3_column_int64 (statement, 0);
  bench->name = book_column_text (loader, statement, 1);
  bench->machines = sqlite3_column_int (statement, 2);
  bench->people = sqlite3_column_double (statement, 3);
  bench->hours_week = book_column_real (statement, 4, NAN);
  bench->uptime = sqlite3_column_double (statement, 5);
  bench->share_free = sqlite3_column_double (statement, 6);
}

static const char gauges_sql[] = "SELECT id, name, resolution FROM gauge";
static void
add_gauge (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceGauge *gauge = book_loader_add (loader->e, gauges);

  gauge->id = sqlite3_column_int64 (statement, 0);
  gauge->name = book_column_text (loader, statement, 1);
  gauge->resolution = book_column_real (statement, 2, NAN);
}

static const char calibrations_sql[] =
  "SELECT gauge, date, due, in_order, excused_by, excused_on, reason FROM gauge_calibration ORDER BY gauge, date";
static void
add_calibration (BookLoader *loader, StoreStatement *statement)
{
  int gauge = book_column_ref (statement, 0, &loader->gauges);
  BookEvidenceCalibration *calibration;

  if (gauge < 0)
    return;
  calibration = book_loader_add (loader->e, calibrations);
  calibration->gauge = gauge;
  calibration->day = book_column_day (statement, 1);
  calibration->due = book_column_day (statement, 2);
  calibration->in_order = sqlite3_column_int (statement, 3) != 0;
  calibration->excused_by = book_column_ref (statement, 4, &loader->persons);
  calibration->excused_on = book_column_day (statement, 5);
  calibration->reason = book_column_text (loader, statement, 6);
}

static const char holidays_sql[] = "SELECT date FROM holiday ORDER BY date";
static void
add_holiday (BookLoader *loader, StoreStatement *statement)
{
  BookDay *day = book_loader_add (loader->e, holidays);

  *day = book_column_day (statement, 0);
}

static const char week_sql[] = "SELECT value FROM setting WHERE name = 'working week'";
static void
set_week (BookLoader *loader, StoreStatement *statement)
{
  const char *text = (const char *) sqlite3_column_text (statement, 0);
  double week[7] = { 0 };

  for (guint i = 0; text != NULL && i < 7; i++)
    {
      char *end;

      week[i] = g_ascii_strtod (text, &end);
      if (end == text || week[i] < 0 || week[i] > 24)
        return; /* not a week: the usual one stays */
      text = end;
    }
  for (guint i = 0; text != NULL && i < 7; i++)
    loader->e->week[i] = week[i];
}

static const char hourly_cost_sql[] = "SELECT value FROM setting WHERE name = 'hourly cost'";
static void
set_hourly_cost (BookLoader *loader, StoreStatement *statement)
{
  const char *text = (const char *) sqlite3_column_text (statement, 0);
  char *end = NULL;
  double cost = text != NULL ? g_ascii_strtod (text, &end) : NAN;

  if (text != NULL && end != text && isfinite (cost) && cost >= 0)
    loader->e->hourly_cost = cost;
}

gboolean
book_load_shop (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = {
    { persons_sql, add_person, map_persons },
    { suppliers_sql, add_supplier, map_suppliers },
    { benches_sql, add_bench, map_benches },
    { gauges_sql, add_gauge, map_gauges },
    { calibrations_sql, add_calibration, NULL },
    { holidays_sql, add_holiday, NULL },
    { week_sql, set_week, NULL },
    { hourly_cost_sql, set_hourly_cost, NULL },
  };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}
