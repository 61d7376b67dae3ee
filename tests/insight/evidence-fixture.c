/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "evidence-fixture.h"

#include <stdlib.h>
#include <string.h>

#define TODAY "2027-01-01"

static gpointer
grown (gpointer array, guint n, gsize size)
{
  array = g_realloc_n (array, n + 1, size);
  memset ((char *) array + n * size, 0, size);
  return array;
}
#define ADD(f, name) ((f)->e->name = grown ((f)->e->name, (f)->e->n_##name, sizeof *(f)->e->name), &(f)->e->name[(f)->e->n_##name++])
#define INDEX(f, name) ((int) (f)->e->n_##name - 1)

static const char *
keep (Fixture *f, const char *text)
{
  return g_string_chunk_insert_const (f->e->strings, text);
}

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

Fixture *
fixture_new (void)
{
  Fixture *f = g_new0 (Fixture, 1);

  f->e = book_evidence_new ();
  f->e->model_id = 77;
  f->e->code = "M";
  f->e->name = "Model";
  f->reading_characteristics = g_array_new (FALSE, FALSE, sizeof (int));
  fixture_gate (f, "Release");
  return f;
}

void
fixture_free (Fixture *f)
{
  book_evidence_free (f->e);
  g_array_unref (f->reading_characteristics);
  g_free (f);
}

int
fixture_person (Fixture *f, const char *initials, BookRole role)
{
  *ADD (f, persons) = (BookEvidencePerson){ ++f->last_id, keep (f, initials), role };
  return INDEX (f, persons);
}

int
fixture_round (Fixture *f, const char *label, BookRoundKind kind, const char *opened, gboolean decided)
{
  BookEvidenceRound *round = ADD (f, rounds);

  round->id = ++f->last_id;
  round->label = keep (f, label);
  round->question = "";
  round->kind = kind;
  round->opened = day (opened);
  round->design_fixed = round->opened + 10;
  round->built = round->opened + 20;
  round->tested = round->opened + 30;
  round->decided = decided ? round->opened + 40 : 0;
  round->cost = NAN;
  return INDEX (f, rounds);
}

int
fixture_part (Fixture *f, const char *number)
{
  *ADD (f, parts) = (BookEvidencePart){ .id = ++f->last_id, .number = keep (f, number), .name = keep (f, number),
                                        .source = BOOK_SOURCE_MADE, .supplier = -1, .lead_days = NAN, .quantity = 1,
                                        .price = NAN };
  return INDEX (f, parts);
}

int
fixture_revision (Fixture *f, int part, const char *label, const char *date)
{
  *ADD (f, revisions) = (BookEvidenceRevision){ ++f->last_id, part, keep (f, label), BOOK_REVISION_RELEASED, day (date) };
  return INDEX (f, revisions);
}

int
fixture_lot (Fixture *f, int part, const char *number)
{
  *ADD (f, lots) = (BookEvidenceLot){ .id = ++f->last_id, .part = part, .step = -1, .number = keep (f, number),
                                      .verdict = BOOK_LOT_ACCEPTED, .supplier = -1, .quantity = NAN };
  return INDEX (f, lots);
}

int
fixture_step (Fixture *f, const char *name)
{
  *ADD (f, steps) = (BookEvidenceStep){ .id = ++f->last_id, .position = (int) f->e->n_steps * 10, .name = keep (f, name),
                                        .kind = BOOK_STEP_OWN, .bench = -1, .setup_min = NAN, .cycle_min = NAN,
                                        .rework_min = NAN, .queue_days = NAN, .price = NAN };
  return INDEX (f, steps);
}

void
fixture_setting (Fixture *f, int step, const char *from, double value, int change)
{
  *ADD (f, settings) = (BookEvidenceSetting){ .step = step, .name = "temperature", .from = day (from),
                                              .value = value, .change = change, .unit = "°C" };
}

int
fixture_plan (Fixture *f, int round, int part, int revision, int lot, const char *first_serial)
{
  *ADD (f, plans) = (BookEvidencePlan){ round, part, -1, revision, lot, 0, keep (f, first_serial), ++f->last_id };
  return INDEX (f, plans);
}

static int
add_characteristic (Fixture *f, const char *code, BookCharacteristicKind kind, BookClass klass, BookShape shape)
{
  BookEvidenceCharacteristic *one = ADD (f, characteristics);

  one->id = ++f->last_id;
  one->code = one->name = keep (f, code);
  one->unit = kind == BOOK_CHARACTERISTIC_MEASURED ? "mm" : "";
  one->kind = kind;
  one->klass = klass;
  one->per_unit = BOOK_PER_UNIT_MEAN;
  one->shape = shape;
  one->decimals = 2;
  one->step = one->gauge = -1;
  return INDEX (f, characteristics);
}

int
fixture_checked (Fixture *f, const char *code, BookClass klass)
{
  return add_characteristic (f, code, BOOK_CHARACTERISTIC_CHECKED, klass, BOOK_SHAPE_UNKNOWN);
}

int
fixture_measured (Fixture *f, const char *code, BookClass klass, BookShape shape)
{
  return add_characteristic (f, code, BOOK_CHARACTERISTIC_MEASURED, klass, shape);
}

void
fixture_limit (Fixture *f, int characteristic, const char *from, double lower, double upper)
{
  *ADD (f, limits) = (BookEvidenceLimit){ ++f->last_id, characteristic, day (from), NAN, lower, upper, -1, 0 };
}

void
fixture_depends (Fixture *f, int characteristic, int part, int step)
{
  *ADD (f, depends) = (BookEvidenceDepends){ characteristic, part, step };
}

int
fixture_unit (Fixture *f, int round, const char *serial)
{
  const BookEvidenceUnit *before = f->e->n_units > 0 ? &f->e->units[f->e->n_units - 1] : NULL;

  g_assert_true (before == NULL || before->round < round
                 || (before->round == round && book_serial_compare (before->serial, serial) < 0));
  *ADD (f, units) = (BookEvidenceUnit){ ++f->last_id, round, keep (f, serial), -1, f->e->rounds[round].built, -1 };
  return INDEX (f, units);
}

int
fixture_units (Fixture *f, int round, guint n)
{
  int first = (int) f->e->n_units;

  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *serial = g_strdup_printf ("%s-%03u", f->e->rounds[round].label, i);

      fixture_unit (f, round, serial);
    }
  return first;
}

int
fixture_checked_units (Fixture *f, int round, guint n, int characteristic, guint failing)
{
  int first = fixture_units (f, round, n);

  for (guint i = 0; i < n; i++)
    fixture_check (f, first + (int) i, characteristic, i >= failing);
  return first;
}

void
fixture_unit_part (Fixture *f, int unit, int part, int revision, int lot)
{
  *ADD (f, unit_parts) = (BookEvidenceUnitPart){ unit, part, -1, revision, lot, ++f->last_id };
}

void
fixture_event (Fixture *f, int unit, BookEventKind kind, const char *date, int step, int issue)
{
  BookEvidenceEvent *event = ADD (f, events);

  event->unit = unit;
  event->no = (int) f->e->n_events;
  event->day = book_day_parse (date, &event->second);
  event->step = step;
  event->kind = kind;
  event->issue = issue;
  event->person = f->e->n_persons > 0 ? 0 : -1;
  event->reason = "as said";
  event->minutes = NAN;
  event->back_to = -1;
}

int
fixture_reading (Fixture *f, int unit, int characteristic, guint attempt, guint n, BookMark mark, double value, const char *taken)
{
  BookEvidenceReading *reading = ADD (f, readings);

  reading->id = ++f->last_id;
  reading->unit = (guint32) unit;
  reading->attempt = (guint16) attempt;
  reading->n = (guint16) n;
  reading->mark = (guint8) mark;
  reading->value = value;
  reading->step = reading->gauge = -1;
  reading->day = book_day_parse (taken, &reading->second);
  g_array_append_val (f->reading_characteristics, characteristic);
  return INDEX (f, readings);
}

static int
add_at_build (Fixture *f, int unit, int characteristic, BookMark mark, double value)
{
  g_autofree char *built = book_day_format (f->e->units[unit].assembled);

  return fixture_reading (f, unit, characteristic, 1, 1, mark, value, built);
}

int
fixture_value (Fixture *f, int unit, int characteristic, double value)
{
  return add_at_build (f, unit, characteristic, BOOK_MARK_MEASURED, value);
}

int
fixture_check (Fixture *f, int unit, int characteristic, gboolean passed)
{
  return add_at_build (f, unit, characteristic, passed ? BOOK_MARK_PASSED : BOOK_MARK_FAILED, NAN);
}

int
fixture_bench (Fixture *f, const char *name, int machines, double people, double hours_week, double uptime, double share_free)
{
  *ADD (f, benches) = (BookEvidenceBench){ ++f->last_id, keep (f, name), machines, people, hours_week, uptime, share_free };
  return INDEX (f, benches);
}

int
fixture_supplier (Fixture *f, const char *name)
{
  *ADD (f, suppliers) = (BookEvidenceSupplier){ ++f->last_id, keep (f, name) };
  return INDEX (f, suppliers);
}

int
fixture_wait (Fixture *f, int round, BookWaitReason reason, int supplier, const char *from, const char *to)
{
  *ADD (f, waits) = (BookEvidenceWait){ ++f->last_id, round, (int) f->e->n_waits, reason, "", supplier, day (from), day (to) };
  return INDEX (f, waits);
}

int
fixture_tally (Fixture *f, int step, int round, const char *date, int in, int good_first, int reworked_good, int waiting, int scrapped)
{
  *ADD (f, tallies) = (BookEvidenceTally){ ++f->last_id, step, round, (int) f->e->n_tallies, day (date), in, good_first,
                                           reworked_good, waiting, scrapped, NAN, NAN, NAN, 0 };
  return INDEX (f, tallies);
}

void
fixture_loss (Fixture *f, int tally, int issue, int units)
{
  *ADD (f, tally_losses) = (BookEvidenceTallyLoss){ tally, issue, units };
}

int
fixture_gauge (Fixture *f, const char *name, double resolution)
{
  *ADD (f, gauges) = (BookEvidenceGauge){ ++f->last_id, keep (f, name), resolution };
  return INDEX (f, gauges);
}

void
fixture_calibration (Fixture *f, int gauge, const char *date, const char *due, gboolean in_order)
{
  *ADD (f, calibrations) = (BookEvidenceCalibration){ gauge, day (date), day (due), in_order, -1, 0, "" };
}

void
fixture_trial (Fixture *f, int gauge, int characteristic, int person, const char *piece, int trial, const char *date, double value)
{
  *ADD (f, trials) = (BookEvidenceTrial){ characteristic, gauge, f->e->persons[person].id, keep (f, piece), trial, day (date),
                                          value, ++f->last_id };
}

int
fixture_gate (Fixture *f, const char *name)
{
  BookEvidenceGate *gate = ADD (f, gates);

  gate->id = ++f->last_id;
  gate->position = (int) f->e->n_gates;
  gate->name = keep (f, name);
  return INDEX (f, gates);
}

int
fixture_criterion (Fixture *f, const char *code, BookCriterionKind kind, int characteristic)
{
  BookEvidenceCriterion *criterion = ADD (f, criteria);

  criterion->id = ++f->last_id;
  criterion->code = keep (f, code);
  criterion->kind = kind;
  criterion->characteristic = characteristic;
  criterion->issue = -1;
  criterion->blocking = TRUE;
  criterion->klass = characteristic >= 0 ? f->e->characteristics[characteristic].klass : BOOK_CLASS_FUNCTION;
  criterion->strict = criterion->klass == BOOK_CLASS_SAFETY;
  criterion->counts_from = criterion->klass == BOOK_CLASS_SAFETY ? BOOK_COUNTS_PILOT : BOOK_COUNTS_PROTOTYPE;
  criterion->not_looked_at = "";
  return INDEX (f, criteria);
}

int
fixture_term (Fixture *f, int criterion, const char *from, double share, double confidence)
{
  BookEvidenceTerm *term = ADD (f, terms);

  term->id = ++f->last_id;
  term->criterion = criterion;
  term->from = day (from);
  term->share = share;
  term->confidence = confidence;
  term->target = term->cycles = term->load = term->shape_low = term->shape_high = NAN;
  term->person = -1;
  return INDEX (f, terms);
}

int
fixture_issue (Fixture *f, int seen_by)
{
  BookEvidenceIssue *issue = ADD (f, issues);

  issue->id = ++f->last_id;
  issue->no = (int) f->e->n_issues;
  issue->title = "It slips";
  issue->klass = BOOK_CLASS_FUNCTION;
  issue->found_round = -1;
  issue->seen_by = seen_by;
  issue->tolerated = issue->seen_load = issue->seen_cycles = NAN;
  issue->found_step = issue->outcome_by = issue->owner = -1;
  issue->cause = "";
  return INDEX (f, issues);
}

void
fixture_finding (Fixture *f, int issue, int unit, BookDisposition disposition, gboolean excused, const char *date)
{
  *ADD (f, findings) = (BookEvidenceFinding){ .issue = issue, .unit = unit, .disposition = disposition, .day = day (date),
                                              .excused = excused, .person = f->e->n_persons > 0 ? 0 : -1,
                                              .reason = "as said", .id = ++f->last_id, .no = (int) f->e->n_findings,
                                              .lot = -1, .found_at = -1, .caused_at = -1 };
}

int
fixture_change (Fixture *f, const char *date)
{
  BookEvidenceChange *change = ADD (f, changes);

  change->id = ++f->last_id;
  change->no = (int) f->e->n_changes;
  change->title = "steeper";
  change->day = change->agreed = day (date);
  change->reason = change->expected = change->from_serial = change->withdrawn_reason = "";
  change->proposed_by = change->agreed_by = change->from_round = -1;
  return INDEX (f, changes);
}

void
fixture_change_item (Fixture *f, int change, int part, int old_revision, int new_revision)
{
  *ADD (f, items) = (BookEvidenceItem){ .change = change, .part = part, .old_revision = old_revision,
                                        .new_revision = new_revision, .step = -1, .characteristic = -1,
                                        .setting = "", .old = "", .now = "", .value = NAN, .lower = NAN, .upper = NAN };
}

void
fixture_change_issue (Fixture *f, int change, int issue)
{
  *ADD (f, change_issues) = (BookEvidenceChangeIssue){ change, issue };
}

void
fixture_life_test (Fixture *f, int unit, int characteristic, double cycles, gboolean failed, int issue)
{
  *ADD (f, life_tests) = (BookEvidenceLifeTest){ .id = ++f->last_id, .no = (int) f->e->n_life_tests,
                                                 .day = f->e->units[unit].assembled, .unit = unit,
                                                 .characteristic = characteristic, .load = NAN, .cycles = cycles,
                                                 .ended = failed ? BOOK_LIFE_FAILED : BOOK_LIFE_STOPPED, .issue = issue };
}

void
fixture_planned_test (Fixture *f, int unit, int characteristic, double load, double cycles)
{
  *ADD (f, tests) = (BookEvidenceTest){ .round = f->e->units[unit].round, .serial = f->e->units[unit].serial, .unit = unit,
                                        .characteristic = characteristic, .load = load, .cycles = cycles };
}

void
fixture_planned_for (Fixture *f, int round, const char *serial, int characteristic, gboolean destroyed, gboolean lent)
{
  *ADD (f, tests) = (BookEvidenceTest){ .round = round, .serial = keep (f, serial), .unit = -1, .characteristic = characteristic,
                                        .load = NAN, .cycles = NAN, .destroyed = destroyed, .lent = lent };
}

void
fixture_carry (Fixture *f, int change, int characteristic, int person, int second_person)
{
  *ADD (f, carries) = (BookEvidenceCarry){ change, characteristic, "does not touch it", person, second_person };
}

void
fixture_document (Fixture *f, BookDocumentState state, const char *date)
{
  *ADD (f, documents) = (BookEvidenceDocument){ ++f->last_id, (int) f->e->n_documents, "Drawing", state, day (date) };
}

void
fixture_boundary (Fixture *f, BookBoundaryKind kind, int record, gint64 before, gint64 first)
{
  *ADD (f, boundaries) = (BookEvidenceBoundary){ kind, record, 1, G_MAXINT32, before, first };
}

typedef struct
{
  BookEvidenceReading reading;
  int                 characteristic;
} Sortable;

static int
compare_readings (gconstpointer a, gconstpointer b)
{
  const Sortable *one = a, *other = b;

  if (one->characteristic != other->characteristic)
    return one->characteristic - other->characteristic;
  if (one->reading.unit != other->reading.unit)
    return one->reading.unit < other->reading.unit ? -1 : 1;
  if (one->reading.attempt != other->reading.attempt)
    return (int) one->reading.attempt - (int) other->reading.attempt;
  return (int) one->reading.n - (int) other->reading.n;
}

#define BY_TWO(type, name, first, second)                                            \
  static int compare_##name (gconstpointer a, gconstpointer b)                       \
  {                                                                                  \
    const type *one = a, *other = b;                                                 \
    return one->first != other->first ? (one->first < other->first ? -1 : 1)         \
                                      : (one->second > other->second) - (one->second < other->second); \
  }
BY_TWO (BookEvidenceLimit, limits, characteristic, from)
BY_TWO (BookEvidenceUnitPart, unit_parts, unit, part)
BY_TWO (BookEvidenceEvent, events, unit, no)
BY_TWO (BookEvidenceTerm, terms, criterion, from)
BY_TWO (BookEvidenceCalibration, calibrations, gauge, day)

static int
compare_trials (gconstpointer a, gconstpointer b)
{
  const BookEvidenceTrial *one = a, *other = b;

  if (one->characteristic != other->characteristic)
    return one->characteristic < other->characteristic ? -1 : 1;
  if (one->gauge != other->gauge)
    return one->gauge < other->gauge ? -1 : 1;
  return (one->day > other->day) - (one->day < other->day);
}

#define SORT(f, name) \
  if ((f)->e->n_##name > 0) \
    qsort ((f)->e->name, (f)->e->n_##name, sizeof *(f)->e->name, compare_##name)

void
fixture_finish (Fixture *f)
{
  BookEvidence *e = f->e;
  g_autofree Sortable *sortable = g_new (Sortable, e->n_readings + 1);
  guint at = 0;

  for (guint i = 0; i < e->n_readings; i++)
    sortable[i] = (Sortable){ e->readings[i], g_array_index (f->reading_characteristics, int, i) };
  qsort (sortable, e->n_readings, sizeof *sortable, compare_readings);
  for (guint i = 0; i < e->n_readings; i++)
    {
      e->readings[i] = sortable[i].reading;
      g_array_index (f->reading_characteristics, int, i) = sortable[i].characteristic;
    }
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      e->characteristics[c].first_reading = at;
      while (at < e->n_readings && sortable[at].characteristic == (int) c)
        at++;
      e->characteristics[c].end_reading = at;
    }
  SORT (f, limits);
  SORT (f, unit_parts);
  SORT (f, events);
  SORT (f, terms);
  SORT (f, calibrations);
  SORT (f, trials);
}

InsightStanding *
fixture_standing (Fixture *f, const char *through)
{
  InsightSpan span = { 0, TODAY };
  g_autoptr(GError) error = NULL;
  InsightStanding *standing;

  fixture_finish (f);
  for (guint i = 0; through != NULL && i < f->e->n_rounds; i++)
    if (g_str_equal (f->e->rounds[i].label, through))
      span.through = f->e->rounds[i].id;
  standing = insight_standing (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  return standing;
}

const InsightCriterion *
fixture_criterion_in (const InsightStanding *standing, const char *code)
{
  for (guint i = 0; i < standing->criteria->len; i++)
    {
      const InsightCriterion *criterion = insight_standing_get_criterion (standing, i);

      if (g_str_equal (criterion->code, code))
        return criterion;
    }
  g_error ("no criterion %s", code);
}

const InsightCriterion *
fixture_judge (Fixture *f, const char *through, InsightStanding **standing)
{
  g_clear_pointer (standing, insight_standing_unref);
  *standing = fixture_standing (f, through);
  return fixture_criterion_in (*standing, "C1");
}
