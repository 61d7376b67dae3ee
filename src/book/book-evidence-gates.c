/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>

/*
 * What must be shown: gates, criteria, their terms, waivers, opinions, documents, hazards.
 */

static const char gates_sql[] = "SELECT id, position, name FROM gate WHERE model = ?1 ORDER BY position";
static void
add_gate (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceGate *gate = book_loader_add (loader->e, gates);

  gate->id = sqlite3_column_int64 (statement, 0);
  gate->position = sqlite3_column_int (statement, 1);
  gate->name = book_column_text (loader, statement, 2);
}

static void
map_gates (BookLoader *loader)
{
  book_key_map_fill (&loader->gates, loader->e->gates, loader->e->n_gates);
}

static const char criteria_sql[] =
  "SELECT id, code, gate, kind, characteristic, issue, blocking, strict, counts_from, not_looked_at FROM criterion"
  " WHERE model = ?1";
static void
add_criterion (BookLoader *loader, StoreStatement *statement)
{
  BookEvidence *e = loader->e;
  BookEvidenceCriterion *criterion = book_loader_add (e, criteria);
  gboolean late;

  criterion->id = sqlite3_column_int64 (statement, 0);
  criterion->code = book_column_text (loader, statement, 1);
  criterion->gate = book_column_ref (statement, 2, &loader->gates);
  criterion->kind = (BookCriterionKind) sqlite3_column_int (statement, 3);
  criterion->characteristic = book_column_ref (statement, 4, &loader->characteristics);
  criterion->issue = book_column_ref (statement, 5, &loader->issues);
  criterion->blocking = sqlite3_column_int (statement, 6) != 0;
  criterion->not_looked_at = book_column_text (loader, statement, 9);

  criterion->klass = BOOK_CLASS_FUNCTION;
  if (criterion->characteristic >= 0)
    criterion->klass = e->characteristics[criterion->characteristic].klass;
  else if (criterion->issue >= 0)
    criterion->klass = e->issues[criterion->issue].klass;

  criterion->strict = sqlite3_column_type (statement, 7) == SQLITE_NULL ? criterion->klass == BOOK_CLASS_SAFETY
                                                                        : sqlite3_column_int (statement, 7) != 0;
  late = criterion->klass == BOOK_CLASS_SAFETY || criterion->kind == BOOK_CRITERION_YIELD
         || criterion->kind == BOOK_CRITERION_RATE;
  criterion->counts_from = sqlite3_column_type (statement, 8) != SQLITE_NULL
                             ? (BookCountsFrom) sqlite3_column_int (statement, 8)
                             : late ? BOOK_COUNTS_PILOT : BOOK_COUNTS_PROTOTYPE;
}

static int
compare_criteria (gconstpointer a, gconstpointer b)
{
  const BookEvidenceCriterion *first = a, *second = b;

  if (first->gate != second->gate)
    return first->gate < second->gate ? -1 : 1;
  return book_serial_compare (first->code, second->code);
}

static void
sort_criteria (BookLoader *loader)
{
  if (loader->e->n_criteria > 0)
    qsort (loader->e->criteria, loader->e->n_criteria, sizeof *loader->e->criteria, compare_criteria);
  book_key_map_fill (&loader->criteria, loader->e->criteria, loader->e->n_criteria);
}

static const char terms_sql[] =
  "SELECT t.id, t.criterion, t.from_date, t.share, t.target, t.confidence, t.plan_units, t.plan_failures, t.person,"
  " t.cycles, t.load, t.shape_low, t.shape_high"
  " FROM criterion c JOIN criterion_term t ON t.criterion = c.id WHERE c.model = ?1 ORDER BY t.criterion, t.from_date";
static void
add_term (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceTerm *term = book_loader_add (loader->e, terms);

  term->id = sqlite3_column_int64 (statement, 0);
  term->criterion = book_column_ref (statement, 1, &loader->criteria);
  term->from = book_column_day (statement, 2);
  term->share = book_column_real (statement, 3, NAN);
  term->target = book_column_real (statement, 4, NAN);
  term->confidence = book_column_real (statement, 5, NAN);
  term->plan_units = sqlite3_column_int (statement, 6);
  term->plan_failures = sqlite3_column_int (statement, 7);
  term->cycles = book_column_real (statement, 9, NAN);
  term->load = book_column_real (statement, 10, NAN);
  term->shape_low = book_column_real (statement, 11, NAN);
  term->shape_high = book_column_real (statement, 12, NAN);
  term->person = book_column_ref (statement, 8, &loader->persons);
}

static const char waivers_sql[] =
  "SELECT w.criterion, w.date, w.until, w.person, w.reason FROM criterion c JOIN waiver w ON w.criterion = c.id"
  " WHERE c.model = ?1 AND w.withdraws IS NULL"
  " AND NOT EXISTS (SELECT 1 FROM waiver x WHERE x.criterion = w.criterion AND x.withdraws = w.id)";
static void
add_waiver (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceWaiver *waiver = book_loader_add (loader->e, waivers);

  waiver->criterion = book_column_ref (statement, 0, &loader->criteria);
  waiver->day = book_column_day (statement, 1);
  waiver->until = book_column_day (statement, 2);
  waiver->person = book_column_ref (statement, 3, &loader->persons);
  waiver->reason = book_column_text (loader, statement, 4);
}

/* The newest opinion of each person that was not taken back. */
static const char signoffs_sql[] =
  "SELECT s.gate, s.person, s.opinion, s.date FROM gate g JOIN signoff s ON s.gate = g.id"
  " WHERE g.model = ?1 AND s.opinion IS NOT NULL"
  " AND NOT EXISTS (SELECT 1 FROM signoff x WHERE x.gate = s.gate AND x.withdraws = s.id) ORDER BY s.gate, s.person, s.no";
static void
add_signoff (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceSignoff *signoff = book_loader_add (loader->e, signoffs);

  signoff->gate = book_column_ref (statement, 0, &loader->gates);
  signoff->person = book_column_ref (statement, 1, &loader->persons);
  signoff->opinion = (BookOpinion) sqlite3_column_int (statement, 2);
  signoff->day = book_column_day (statement, 3);
}

static const char documents_sql[] = "SELECT id, no, title, state, date FROM document WHERE model = ?1 ORDER BY no";
static void
add_document (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceDocument *document = book_loader_add (loader->e, documents);

  document->id = sqlite3_column_int64 (statement, 0);
  document->no = sqlite3_column_int (statement, 1);
  document->title = book_column_text (loader, statement, 2);
  document->state = (BookDocumentState) sqlite3_column_int (statement, 3);
  document->day = book_column_day (statement, 4);
}

static const char hazards_sql[] = "SELECT id, no, what, characteristic, document FROM hazard WHERE model = ?1 ORDER BY no";
static void
add_hazard (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceHazard *hazard = book_loader_add (loader->e, hazards);

  hazard->id = sqlite3_column_int64 (statement, 0);
  hazard->no = sqlite3_column_int (statement, 1);
  hazard->what = book_column_text (loader, statement, 2);
  hazard->characteristic = book_column_ref (statement, 3, &loader->characteristics);
  hazard->has_document = sqlite3_column_type (statement, 4) != SQLITE_NULL;
}

gboolean
book_load_gates (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = {
    { gates_sql, add_gate, map_gates },    { criteria_sql, add_criterion, sort_criteria },
    { terms_sql, add_term, NULL },         { waivers_sql, add_waiver, NULL },
    { signoffs_sql, add_signoff, NULL },   { documents_sql, add_document, NULL },
    { hazards_sql, add_hazard, NULL },
  };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}
