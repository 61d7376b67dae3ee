/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-evidence-private.h"

#include <math.h>

/*
 * A model's rounds, route, parts, characteristics, issues and changes.
 */

MAP_AFTER (rounds)
MAP_AFTER (steps)
MAP_AFTER (parts)
MAP_AFTER (revisions)
MAP_AFTER (lots)
MAP_AFTER (characteristics)
MAP_AFTER (changes)
MAP_AFTER (issues)

static const char rounds_sql[] =
  "SELECT id, label, question, kind, verdict, planned_units, opened, design_fixed, parts_ready, built, tested, decided,"
  " planned_design_fixed, planned_parts_ready, planned_built, planned_tested, planned_decided, cost FROM round WHERE model = ?1"
  " ORDER BY coalesce (opened, design_fixed, parts_ready, built, tested, decided, '9999-12-31'), id";
static void
add_round (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceRound *round = book_loader_add (loader->e, rounds);

  round->id = sqlite3_column_int64 (statement, 0);
  round->label = book_column_text (loader, statement, 1);
  round->question = book_column_text (loader, statement, 2);
  round->kind = (BookRoundKind) sqlite3_column_int (statement, 3);
  round->verdict = (BookRoundVerdict) sqlite3_column_int (statement, 4);
  round->planned_units = sqlite3_column_int (statement, 5);
  round->opened = book_column_day (statement, 6);
  round->design_fixed = book_column_day (statement, 7);
  round->parts_ready = book_column_day (statement, 8);
  round->built = book_column_day (statement, 9);
  round->tested = book_column_day (statement, 10);
  round->decided = book_column_day (statement, 11);
  round->planned_design_fixed = book_column_day (statement, 12);
  round->planned_parts_ready = book_column_day (statement, 13);
  round->planned_built = book_column_day (statement, 14);
  round->planned_tested = book_column_day (statement, 15);
  round->planned_decided = book_column_day (statement, 16);
  round->cost = book_column_real (statement, 17, NAN);
}

static const char waits_sql[] =
  "SELECT w.round, w.from_date, w.to_date, w.id, w.no, w.reason, w.what, w.supplier FROM round r"
  " JOIN wait w ON w.round = r.id WHERE r.model = ?1 ORDER BY r.id, w.no";
static void
add_wait (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceWait *wait = book_loader_add (loader->e, waits);

  wait->round = book_column_ref (statement, 0, &loader->rounds);
  wait->from = book_column_day (statement, 1);
  wait->to = book_column_day (statement, 2);
  wait->id = sqlite3_column_int64 (statement, 3);
  wait->no = sqlite3_column_int (statement, 4);
  wait->reason = (BookWaitReason) sqlite3_column_int (statement, 5);
  wait->what = book_column_text (loader, statement, 6);
  wait->supplier = book_column_ref (statement, 7, &loader->suppliers);
}

static const char steps_sql[] =
  "SELECT id, position, name, kind, bench, batch, setup_min, cycle_min, rework_min, queue_days, price FROM step"
  " WHERE model = ?1 ORDER BY position";
static void
add_step (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceStep *step = book_loader_add (loader->e, steps);

  step->id = sqlite3_column_int64 (statement, 0);
  step->position = sqlite3_column_int (statement, 1);
  step->name = book_column_text (loader, statement, 2);
  step->kind = (BookStepKind) sqlite3_column_int (statement, 3);
  step->bench = book_column_ref (statement, 4, &loader->benches);
  step->batch = sqlite3_column_int (statement, 5);
  step->setup_min = book_column_real (statement, 6, NAN);
  step->cycle_min = book_column_real (statement, 7, NAN);
  step->rework_min = book_column_real (statement, 8, NAN);
  step->queue_days = book_column_real (statement, 9, NAN);
  step->price = book_column_real (statement, 10, NAN);
}

/* A shop's models share parts: only those that this model's plans, units and characteristics name are its own. */
static const char parts_sql[] =
  "WITH named (part) AS ("
  " SELECT p.part FROM round r JOIN round_part p ON p.round = r.id WHERE r.model = ?1"
  " UNION SELECT p.part FROM round r JOIN unit u ON u.round = r.id JOIN unit_part p ON p.unit = u.id WHERE r.model = ?1"
  " UNION SELECT u.part FROM round r JOIN unit u ON u.round = r.id WHERE r.model = ?1"
  " UNION SELECT d.part FROM characteristic c JOIN depends d ON d.characteristic = c.id WHERE c.model = ?1)"
  " SELECT part.id, part.number, part.name, part.source, part.supplier, part.lead_days, part.quantity, part.price"
  " FROM named CROSS JOIN part ON part.id = named.part ORDER BY part.number";
static void
add_part (BookLoader *loader, StoreStatement *statement)
{
  BookEvidencePart *part = book_loader_add (loader->e, parts);

  part->id = sqlite3_column_int64 (statement, 0);
  part->number = book_column_text (loader, statement, 1);
  part->name = book_column_text (loader, statement, 2);
  part->source = (BookSource) sqlite3_column_int (statement, 3);
  part->supplier = book_column_ref (statement, 4, &loader->suppliers);
  part->lead_days = book_column_real (statement, 5, NAN);
  part->quantity = sqlite3_column_double (statement, 6);
  part->price = book_column_real (statement, 7, NAN);
}

static const char characteristics_sql[] =
  "SELECT id, code, name, unit, kind, class, per_unit, shape, decimals, fitted_at_assembly, destructive, step, gauge"
  " FROM characteristic WHERE model = ?1 ORDER BY code";
static void
add_characteristic (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceCharacteristic *one = book_loader_add (loader->e, characteristics);

  one->id = sqlite3_column_int64 (statement, 0);
  one->code = book_column_text (loader, statement, 1);
  one->name = book_column_text (loader, statement, 2);
  one->unit = book_column_text (loader, statement, 3);
  one->kind = (BookCharacteristicKind) sqlite3_column_int (statement, 4);
  one->klass = (BookClass) sqlite3_column_int (statement, 5);
  one->per_unit = (BookPerUnit) sqlite3_column_int (statement, 6);
  one->shape = (BookShape) sqlite3_column_int (statement, 7);
  one->decimals = sqlite3_column_int (statement, 8);
  one->fitted = sqlite3_column_int (statement, 9) != 0;
  one->destructive = sqlite3_column_int (statement, 10) != 0;
  one->step = book_column_ref (statement, 11, &loader->steps);
  one->gauge = book_column_ref (statement, 12, &loader->gauges);
}

static const char depends_sql[] = "SELECT d.characteristic, d.part, d.step FROM characteristic c"
                                  " JOIN depends d ON d.characteristic = c.id WHERE c.model = ?1";
static void
add_depends (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceDepends *depends = book_loader_add (loader->e, depends);

  depends->characteristic = book_column_ref (statement, 0, &loader->characteristics);
  depends->part = book_column_ref (statement, 1, &loader->parts);
  depends->step = book_column_ref (statement, 2, &loader->steps);
}

static const char issues_sql[] =
  "SELECT id, no, title, class, found_round, found_on, characteristic, seen_in_life_test, tolerated_share, closed, outcome,"
  " outcome_by, found_step, seen_load, seen_cycles, cause, cause_basis, owner, contained, cause_known FROM issue WHERE model = ?1 ORDER BY no";
static void
add_issue (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceIssue *issue = book_loader_add (loader->e, issues);

  issue->id = sqlite3_column_int64 (statement, 0);
  issue->no = sqlite3_column_int (statement, 1);
  issue->title = book_column_text (loader, statement, 2);
  issue->klass = (BookClass) sqlite3_column_int (statement, 3);
  issue->found_round = book_column_ref (statement, 4, &loader->rounds);
  issue->found = book_column_day (statement, 5);
  issue->seen_by = book_column_ref (statement, 6, &loader->characteristics);
  issue->seen_in_life_test = sqlite3_column_int (statement, 7) != 0;
  issue->tolerated = book_column_real (statement, 8, NAN);
  issue->closed = book_column_day (statement, 9);
  issue->outcome = (BookIssueOutcome) sqlite3_column_int (statement, 10);
  issue->outcome_by = book_column_ref (statement, 11, &loader->persons);
  issue->found_step = book_column_ref (statement, 12, &loader->steps);
  issue->seen_load = book_column_real (statement, 13, NAN);
  issue->seen_cycles = book_column_real (statement, 14, NAN);
  issue->cause = book_column_text (loader, statement, 15);
  issue->cause_basis = (BookCauseBasis) sqlite3_column_int (statement, 16);
  issue->owner = book_column_ref (statement, 17, &loader->persons);
  issue->contained = book_column_day (statement, 18);
  issue->cause_known = book_column_day (statement, 19);
}

static const char changes_sql[] =
  "SELECT id, no, title, coalesce (agreed_on, proposed_on), withdrawn, proposed_on, agreed_on, reason, expected_effect,"
  " from_serial, proposed_by, agreed_by, from_round, withdrawn_reason FROM change WHERE model = ?1 ORDER BY no";
static void
add_change (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceChange *change = book_loader_add (loader->e, changes);

  change->id = sqlite3_column_int64 (statement, 0);
  change->no = sqlite3_column_int (statement, 1);
  change->title = book_column_text (loader, statement, 2);
  change->day = book_column_day (statement, 3);
  change->withdrawn = book_column_day (statement, 4);
  change->proposed = book_column_day (statement, 5);
  change->agreed = book_column_day (statement, 6);
  change->reason = book_column_text (loader, statement, 7);
  change->expected = book_column_text (loader, statement, 8);
  change->from_serial = book_column_text (loader, statement, 9);
  change->proposed_by = book_column_ref (statement, 10, &loader->persons);
  change->agreed_by = book_column_ref (statement, 11, &loader->persons);
  change->from_round = book_column_ref (statement, 12, &loader->rounds);
  change->withdrawn_reason = book_column_text (loader, statement, 13);
}

static const char change_issues_sql[] = "SELECT i.change, i.issue FROM change c JOIN change_issue i ON i.change = c.id"
                                        " WHERE c.model = ?1";
static void
add_change_issue (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceChangeIssue *row = book_loader_add (loader->e, change_issues);

  row->change = book_column_ref (statement, 0, &loader->changes);
  row->issue = book_column_ref (statement, 1, &loader->issues);
}

static const char carries_sql[] =
  "SELECT f.change, f.characteristic, f.reason, f.person, f.second_person, f.effect FROM change c"
  " JOIN change_effect f ON f.change = c.id WHERE c.model = ?1";
static void
add_carry (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceCarry *carry;

  if (sqlite3_column_int (statement, 5) != BOOK_EFFECT_CARRIED_OVER)
    return;
  carry = book_loader_add (loader->e, carries);
  carry->change = book_column_ref (statement, 0, &loader->changes);
  carry->characteristic = book_column_ref (statement, 1, &loader->characteristics);
  carry->reason = book_column_text (loader, statement, 2);
  carry->person = book_column_ref (statement, 3, &loader->persons);
  carry->second_person = book_column_ref (statement, 4, &loader->persons);
}

static const char items_sql[] =
  "SELECT i.change, i.part, i.old_revision, i.new_revision, i.step, i.characteristic, i.setting, i.old, i.new,"
  " i.value, i.lower, i.upper"
  " FROM change c JOIN change_item i ON i.change = c.id WHERE c.model = ?1 ORDER BY c.no, i.no";
static void
add_item (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceItem *item = book_loader_add (loader->e, items);

  item->change = book_column_ref (statement, 0, &loader->changes);
  item->part = book_column_ref (statement, 1, &loader->parts);
  item->old_revision = book_column_ref (statement, 2, &loader->revisions);
  item->new_revision = book_column_ref (statement, 3, &loader->revisions);
  item->step = book_column_ref (statement, 4, &loader->steps);
  item->characteristic = book_column_ref (statement, 5, &loader->characteristics);
  item->setting = book_column_text (loader, statement, 6);
  item->old = book_column_text (loader, statement, 7);
  item->now = book_column_text (loader, statement, 8);
  item->value = book_column_real (statement, 9, NAN);
  item->lower = book_column_real (statement, 10, NAN);
  item->upper = book_column_real (statement, 11, NAN);
}

static const char limits_sql[] =
  "SELECT l.characteristic, l.from_date, l.nominal, l.lower, l.upper, l.change, l.id FROM characteristic c"
  " JOIN \"limit\" l ON l.characteristic = c.id WHERE c.model = ?1 ORDER BY c.code, l.from_date";
static void
add_limit (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceLimit *limit = book_loader_add (loader->e, limits);

  limit->characteristic = book_column_ref (statement, 0, &loader->characteristics);
  limit->from = book_column_day (statement, 1);
  limit->nominal = book_column_real (statement, 2, NAN);
  limit->lower = book_column_real (statement, 3, -INFINITY);
  limit->upper = book_column_real (statement, 4, INFINITY);
  limit->change = book_column_ref (statement, 5, &loader->changes);
  limit->id = sqlite3_column_int64 (statement, 6);
}

static const char settings_sql[] =
  "SELECT t.step, t.name, t.from_date, t.value, t.change, t.unit FROM step s JOIN step_setting t ON t.step = s.id"
  " WHERE s.model = ?1 ORDER BY s.position, t.name, t.from_date";
static void
add_setting (BookLoader *loader, StoreStatement *statement)
{
  BookEvidenceSetting *setting = book_loader_add (loader->e, settings);

  setting->step = book_column_ref (statement, 0, &loader->steps);
  setting->name = book_column_text (loader, statement, 1);
  setting->from = book_column_day (statement, 2);
  setting->value = sqlite3_column_double (statement, 3);
  setting->change = book_column_ref (statement, 4, &loader->changes);
  setting->unit = book_column_text (loader, statement, 5);
}

static const char plans_sql[] =
  "SELECT p.round, p.part, p.step, p.revision, p.lot, p.units, p.first_serial, p.id FROM round r"
  " JOIN round_part p ON p.round = r.id WHERE r.model = ?1 ORDER BY p.id";
static void
add_plan (BookLoader *loader, StoreStatement *statement)
{
  BookEvidencePlan *plan = book_loader_add (loader->e, plans);

  plan->round = book_column_ref (statement, 0, &loader->rounds);
  plan->part = book_column_ref (statement, 1, &loader->parts);
  plan->step = book_column_ref (statement, 2, &loader->steps);
  plan->revision = book_column_ref (statement, 3, &loader->revisions);
  plan->lot = book_column_ref (statement, 4, &loader->lots);
  plan->units = sqlite3_column_int (statement, 5);
  plan->first_serial = book_column_text (loader, statement, 6);
  plan->id = sqlite3_column_int64 (statement, 7);
}

/* Of one part, bound as the second parameter. */
static const char revisions_sql[] = "SELECT id, label, state, date FROM revision WHERE part = ?2 ORDER BY label";
static const char part_lots_sql[] = "SELECT id, number, verdict, supplier, received, quantity FROM lot WHERE part = ?2";
/* Of one step; the index of lots begins with the part, which is empty there. */
static const char step_lots_sql[] = "SELECT id, number, verdict, supplier, received, quantity FROM lot WHERE part IS NULL AND step = ?2";

static void
add_revision (BookLoader *loader, StoreStatement *statement, int part)
{
  BookEvidenceRevision *revision = book_loader_add (loader->e, revisions);

  revision->id = sqlite3_column_int64 (statement, 0);
  revision->part = part;
  revision->label = book_column_text (loader, statement, 1);
  revision->state = (BookRevisionState) sqlite3_column_int (statement, 2);
  revision->date = book_column_day (statement, 3);
}

static void
add_part_lot (BookLoader *loader, StoreStatement *statement, int part)
{
  BookEvidenceLot *lot = book_loader_add (loader->e, lots);

  lot->id = sqlite3_column_int64 (statement, 0);
  lot->part = part;
  lot->step = -1;
  lot->number = book_column_text (loader, statement, 1);
  lot->verdict = (BookLotVerdict) sqlite3_column_int (statement, 2);
  lot->supplier = book_column_ref (statement, 3, &loader->suppliers);
  lot->received = book_column_day (statement, 4);
  lot->quantity = book_column_real (statement, 5, NAN);
}

static void
add_step_lot (BookLoader *loader, StoreStatement *statement, int step)
{
  BookEvidenceLot *lot;

  add_part_lot (loader, statement, -1);
  lot = &loader->e->lots[loader->e->n_lots - 1];
  lot->step = step;
}

static gboolean
load_of_each (BookLoader *loader, const char *sql, const BookKeyMap *map,
              void (*row) (BookLoader *, StoreStatement *, int), GError **error)
{
  for (guint i = 0; i < map->n; i++)
    {
      g_autoptr(StoreStatement) statement = book_loader_query (loader, sql, error);
      gboolean ok;

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 2, map->keys[i]);
      while (book_loader_next (loader, statement, &ok, error))
        row (loader, statement, map->indices[i]);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

gboolean
book_load_rounds (BookLoader *loader, GError **error)
{
  static const BookQuery queries[] = { { rounds_sql, add_round, map_rounds }, { waits_sql, add_wait, NULL } };

  return book_loader_run (loader, queries, G_N_ELEMENTS (queries), error);
}

gboolean
book_load_design (BookLoader *loader, GError **error)
{
  static const BookQuery before[] = { { steps_sql, add_step, map_steps }, { parts_sql, add_part, map_parts } };
  static const BookQuery after[] = {
    { characteristics_sql, add_characteristic, map_characteristics },
    { depends_sql, add_depends, NULL },
    { issues_sql, add_issue, map_issues },
    { changes_sql, add_change, map_changes },
    { change_issues_sql, add_change_issue, NULL },
    { carries_sql, add_carry, NULL },
    { items_sql, add_item, NULL },
    { limits_sql, add_limit, NULL },
    { settings_sql, add_setting, NULL },
    { plans_sql, add_plan, NULL },
  };

  if (!book_loader_run (loader, before, G_N_ELEMENTS (before), error)
      || !load_of_each (loader, revisions_sql, &loader->parts, add_revision, error))
    return FALSE;
  map_revisions (loader);
  if (!load_of_each (loader, part_lots_sql, &loader->parts, add_part_lot, error)
      || !load_of_each (loader, step_lots_sql, &loader->steps, add_step_lot, error))
    return FALSE;
  map_lots (loader);
  return book_loader_run (loader, after, G_N_ELEMENTS (after), error);
}
