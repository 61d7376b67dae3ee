/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>
#include <stdlib.h>

/*
 * What tells of ways of working rather than of units: tallies of steps before units have serials, and studies of gauges.
 */

static const char tallies_sql[] =
  "SELECT t.id, t.step, t.round, t.no, t.date, t.units_in, t.good_first, t.reworked_good, t.waiting, t.scrapped, t.minutes,"
  " t.setup_minutes, t.rework_minutes, t.person FROM step s JOIN tally t ON t.step = s.id WHERE s.model = ?1"
  " ORDER BY s.position, t.date, t.no, t.id";
static void
add_tally (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceTally *tally = book_loader_add (loader->e, tallies);

  tally->id = sqlite3_column_int64 (statement, 0);
  tally->step = book_column_ref (statement, 1, &loader->steps);
  tally->round = book_column_ref (statement, 2, &loader->rounds);
  tally->no = sqlite3_column_int (statement, 3);
  tally->day = book_column_day (statement, 4);
  tally->n_in = sqlite3_column_int (statement, 5);
  tally->good_first = sqlite3_column_int (statement, 6);
  tally->reworked_good = sqlite3_column_int (statement, 7);
  tally->waiting = sqlite3_column_int (statement, 8);
  tally->scrapped = sqlite3_column_int (statement, 9);
  tally->minutes = book_column_real (statement, 10, NAN);
  tally->setup_min = book_column_real (statement, 11, NAN);
  tally->rework_min = book_column_real (statement, 12, NAN);
  tally->person = sqlite3_column_int64 (statement, 13);
}

static void
map_tallies (BookLoader *loader)
{
  book_key_map_fill (&loader->tallies, loader->e->tallies, loader->e->n_tallies);
}

static const char losses_sql[] =
  "SELECT l.tally, l.issue, l.units FROM step s JOIN tally t ON t.step = s.id JOIN tally_loss l ON l.tally = t.id"
  " WHERE s.model = ?1 ORDER BY s.position, t.date, t.no, t.id, l.id";
static void
add_loss (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceTallyLoss *loss = book_loader_add (loader->e, tally_losses);

  loss->tally = book_column_ref (statement, 0, &loader->tallies);
  loss->issue = book_column_ref (statement, 1, &loader->issues);
  loss->units = sqlite3_column_int (statement, 2);
}

gboolean
book_load_runs (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = {
    { tallies_sql, add_tally, map_tallies },
    { losses_sql, add_loss, NULL },
  };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}

static const char trials_sql[] =
  "SELECT t.characteristic, t.person, t.date, t.verdict, t.known_bad, t.value, t.gauge, t.piece, t.trial, t.id FROM gauge g CROSS JOIN characteristic c"
  " CROSS JOIN gauge_trial t ON t.gauge = g.id AND t.characteristic = c.id WHERE c.model = ?1";
static void
add_measured_trial (BookLoader *loader, StoreStatement *statement, int characteristic)
{
  BookEvidenceTrial *trial = book_loader_add (loader->e, trials);

  trial->characteristic = characteristic;
  trial->gauge = book_column_ref (statement, 6, &loader->gauges);
  trial->person_id = sqlite3_column_int64 (statement, 1);
  trial->piece = book_column_text (loader, statement, 7);
  trial->trial = sqlite3_column_int (statement, 8);
  trial->day = book_column_day (statement, 2);
  trial->value = sqlite3_column_double (statement, 5);
  trial->id = sqlite3_column_int64 (statement, 9);
}

static void
add_trial (BookLoader *loader, StoreStatement *statement)
{
  int characteristic = book_column_ref (statement, 0, &loader->characteristics);
  BookEvidenceBadTrial *trial;

  if (characteristic < 0)
    return;
  loader->e->characteristics[characteristic].trials++;
  if (sqlite3_column_type (statement, 5) != SQLITE_NULL)
    add_measured_trial (loader, statement, characteristic);
  if (sqlite3_column_int (statement, 4) == 0 || sqlite3_column_type (statement, 3) == SQLITE_NULL)
    return;
  loader->e->characteristics[characteristic].bad_trials++;
  trial = book_loader_add (loader->e, bad_trials);
  trial->characteristic = characteristic;
  trial->person_id = sqlite3_column_int64 (statement, 1);
  trial->day = book_column_day (statement, 2);
  trial->caught = sqlite3_column_int (statement, 3) == BOOK_MARK_FAILED;
  trial->gauge = book_column_ref (statement, 6, &loader->gauges);
  trial->piece = book_column_text (loader, statement, 7);
  trial->trial = sqlite3_column_int (statement, 8);
}

static int
compare_trials (gconstpointer a, gconstpointer b)
{
  const BookEvidenceTrial *first = a, *second = b;

  if (first->characteristic != second->characteristic)
    return first->characteristic < second->characteristic ? -1 : 1;
  if (first->gauge != second->gauge)
    return first->gauge < second->gauge ? -1 : 1;
  return (first->day > second->day) - (first->day < second->day);
}

static void
sort_trials (BookLoader *loader)
{
  if (loader->e->n_trials > 0)
    qsort (loader->e->trials, loader->e->n_trials, sizeof *loader->e->trials, compare_trials);
}

gboolean
book_load_studies (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = { { trials_sql, add_trial, sort_trials } };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}
