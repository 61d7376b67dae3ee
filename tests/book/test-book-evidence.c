/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading everything that evidence about a model is made from, out of a real book. */
#include "config.h"

#include "evidence-shelf.h"

#include <math.h>
#include <string.h>

static BookDay
day (const char *text)
{
  return book_day_parse (text, NULL);
}

static void
check_readings (const BookEvidence *e)
{
  const BookEvidenceCharacteristic *force = &e->characteristics[0], *stick = &e->characteristics[1];
  const BookEvidenceReading *r = e->readings + force->first_reading;

  g_assert_cmpuint (e->n_readings, ==, 6);
  g_assert_cmpuint (force->end_reading - force->first_reading, ==, 5);
  /* by the order of build, attempt, n */
  g_assert_cmpuint (r[0].unit, ==, 0);
  g_assert_cmpfloat (r[0].value, ==, 310.0);
  g_assert_cmpuint (r[1].unit, ==, 1);
  g_assert_cmpuint (r[1].attempt, ==, 1);
  g_assert_cmpuint (r[1].n, ==, 1);
  g_assert_true (r[1].voided);
  g_assert_cmpint (r[1].day, ==, day ("2026-01-22"));
  g_assert_cmpint (r[1].second, ==, -1);
  g_assert_cmpint (r[1].gauge, ==, -1);
  g_assert_cmpuint (r[2].n, ==, 2);
  g_assert_cmpuint (r[2].mark, ==, BOOK_MARK_ABOVE);
  g_assert_cmpint (r[2].second, ==, (14 * 60 + 5) * 60 + 7);
  g_assert_cmpint (r[2].gauge, ==, 0);
  g_assert_cmpint (r[2].step, ==, 0);
  g_assert_cmpuint (r[3].attempt, ==, 2);
  g_assert_cmpint (r[3].day, ==, 0);
  g_assert_cmpuint (r[4].unit, ==, 2);
  g_assert_cmpuint (e->readings[stick->first_reading].mark, ==, BOOK_MARK_FAILED);
  g_assert_true (isnan (e->readings[stick->first_reading].value));
}

static void
check_story (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_rounds, ==, 2);
  g_assert_cmpstr (e->rounds[0].label, ==, "P9"); /* opened first */
  g_assert_cmpint (e->rounds[0].verdict, ==, BOOK_VERDICT_GO_ON);
  g_assert_cmpint (e->rounds[0].tested, ==, day ("2026-01-30"));
  g_assert_cmpint (e->rounds[1].decided, ==, 0);
  g_assert_cmpuint (e->n_waits, ==, 1);
  g_assert_cmpuint (e->n_parts, ==, 1); /* the other part belongs to the other model */
  g_assert_cmpuint (e->n_revisions, ==, 2);
  g_assert_cmpuint (e->n_lots, ==, 2);
  g_assert_cmpint (e->lots[1].step, ==, 0);
  g_assert_cmpuint (e->n_plans, ==, 2);
  g_assert_cmpstr (e->plans[0].first_serial, ==, "9-1");
  g_assert_cmpint (e->plans[1].lot, ==, 0);
  g_assert_cmpuint (e->n_units, ==, 3);
  g_assert_cmpstr (e->units[0].serial, ==, "9-2"); /* digits as numbers */
  g_assert_cmpstr (e->units[1].serial, ==, "9-10");
  g_assert_cmpint (e->units[2].assembled, ==, 0);
  g_assert_cmpint (e->unit_parts[0].unit, ==, 0);
  g_assert_cmpstr (e->revisions[e->unit_parts[0].revision].label, ==, "B");
  g_assert_cmpint (e->events[0].kind, ==, BOOK_EVENT_ALTERED);
  g_assert_cmpint (e->events[0].second, ==, (9 * 60 + 30) * 60);
  g_assert_cmpint (e->events[0].issue, ==, 0);
  g_assert_cmpstr (e->persons[e->events[0].person].initials, ==, "EH");
  g_assert_cmpuint (e->n_trials, ==, 2);
  g_assert_cmpint (e->trials[0].day, ==, day ("2026-02-03")); /* by day */
  g_assert_cmpint (e->trials[0].person_id, ==, e->persons[e->events[0].person].id);
  g_assert_cmpstr (e->characteristics[e->trials[1].characteristic].code, ==, "FORCE");
  g_assert_cmpstr (e->gauges[e->trials[1].gauge].name, ==, "Caliper 3");
  g_assert_cmpstr (e->trials[1].piece, ==, "S1");
  g_assert_cmpint (e->trials[1].trial, ==, 1);
  g_assert_cmpfloat (e->trials[1].value, ==, 301.5);
  g_assert_cmpuint (e->n_bad_trials, ==, 1);
  g_assert_true (e->bad_trials[0].caught);
  g_assert_cmpint (e->findings[0].unit, ==, 1);
  g_assert_true (e->findings[0].excused);
  g_assert_cmpint (e->findings[0].disposition, ==, BOOK_DISPOSITION_SCRAP);
}

static void
check_issues (const BookEvidence *e)
{
  const BookEvidenceIssue *issue = &e->issues[0];

  g_assert_cmpuint (e->n_issues, ==, 2);
  g_assert_cmpfloat (issue->seen_load, ==, 120.0);
  g_assert_cmpfloat (issue->seen_cycles, ==, 200.0);
  g_assert_cmpint (issue->found_step, ==, 0);
  g_assert_cmpstr (issue->cause, ==, "too flat");
  g_assert_cmpint (issue->cause_basis, ==, BOOK_CAUSE_SEEN);
  g_assert_cmpstr (e->persons[issue->owner].initials, ==, "EH");
  g_assert_cmpstr (e->persons[issue->outcome_by].initials, ==, "MO");
  g_assert_cmpint (issue->contained, ==, day ("2026-01-23"));
  g_assert_cmpint (issue->cause_known, ==, day ("2026-01-24"));
  g_assert_true (isnan (e->issues[1].seen_load) && isnan (e->issues[1].seen_cycles));
  g_assert_cmpint (e->issues[1].owner, ==, -1);

  g_assert_cmpuint (e->n_findings, ==, 3);
  g_assert_cmpint (e->findings[0].lot, ==, -1);
  g_assert_cmpint (e->findings[1].no, ==, 2);
  g_assert_cmpint (e->findings[1].unit, ==, -1);
  g_assert_cmpstr (e->lots[e->findings[1].lot].number, ==, "K-7");
  g_assert_cmpint (e->findings[2].affected, ==, 7);
  g_assert_cmpint (e->findings[2].inspected, ==, 20);
  g_assert_cmpint (e->findings[1].found_at, ==, 0);
  g_assert_cmpint (e->findings[1].caused_at, ==, 0);
  g_assert_true (e->findings[1].in_field);

  g_assert_cmpuint (e->n_tests, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      gboolean built = g_str_equal (e->tests[i].serial, "9-2");

      g_assert_cmpint (e->tests[i].unit, ==, built ? 0 : -1);
      g_assert_true (built ? e->tests[i].load == 130.0 && e->tests[i].cycles == 300.0 && e->tests[i].destroyed
                           : isnan (e->tests[i].load) && isnan (e->tests[i].cycles) && !e->tests[i].destroyed);
    }
  g_assert_cmpuint (e->n_life_tests, ==, 2);
  g_assert_cmpint (e->life_tests[0].no, ==, 1); /* of a day by number */
  g_assert_cmpint (e->life_tests[0].unit, ==, 0);
  g_assert_cmpint (e->life_tests[0].characteristic, ==, 1);
  g_assert_cmpint (e->life_tests[0].ended, ==, BOOK_LIFE_FAILED);
  g_assert_cmpint (e->life_tests[0].issue, ==, 1);
  g_assert_cmpfloat (e->life_tests[0].load, ==, 90.0);
  g_assert_cmpfloat (e->life_tests[1].cycles, ==, 3000.0);
  g_assert_true (isnan (e->life_tests[1].load));
  g_assert_cmpint (e->life_tests[1].issue, ==, -1);
}

static void
check_design (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_characteristics, ==, 2);
  g_assert_cmpint (e->characteristics[0].klass, ==, BOOK_CLASS_SAFETY);
  g_assert_cmpint (e->characteristics[0].per_unit, ==, BOOK_PER_UNIT_WORST);
  g_assert_cmpint (e->characteristics[0].shape, ==, BOOK_SHAPE_NORMAL);
  g_assert_cmpint (e->characteristics[0].step, ==, 0);
  g_assert_cmpuint (e->n_limits, ==, 2);
  g_assert_cmpfloat (e->limits[0].lower, ==, 250.0);
  g_assert_true (isinf (e->limits[0].upper) && e->limits[0].upper > 0);
  g_assert_cmpfloat (e->limits[0].nominal, ==, 300.0);
  g_assert_true (isnan (e->limits[1].nominal));
  g_assert_cmpint (e->limits[1].change, ==, 0);
  g_assert_cmpuint (e->n_carries, ==, 1); /* 'measure again' carries nothing */
  g_assert_cmpint (e->carries[0].characteristic, ==, 1);
  g_assert_cmpint (e->carries[0].second_person, ==, -1);
  g_assert_cmpint (e->changes[0].proposed, ==, day ("2026-01-31"));
  g_assert_cmpint (e->changes[0].agreed, ==, day ("2026-02-01"));
  g_assert_cmpstr (e->persons[e->changes[0].agreed_by].initials, ==, "EH");
  g_assert_cmpstr (e->persons[e->changes[0].proposed_by].initials, ==, "MO");
  g_assert_cmpstr (e->changes[0].reason, ==, "It slips");
  g_assert_cmpstr (e->changes[0].expected, ==, "Holds 300 N");
  g_assert_cmpstr (e->changes[0].from_serial, ==, "10-1");
  g_assert_cmpint (e->changes[0].from_round, ==, 1);
  g_assert_cmpuint (e->n_items, ==, 2);
  g_assert_cmpstr (e->revisions[e->items[0].old_revision].label, ==, "A");
  g_assert_cmpint (e->items[1].part, ==, -1);
  g_assert_cmpint (e->items[1].step, ==, 0);
  g_assert_cmpstr (e->items[1].setting, ==, "speed");
  g_assert_cmpstr (e->items[1].now, ==, "4");
  g_assert_cmpstr (e->settings[0].unit, ==, "mm/s");
  g_assert_cmpuint (e->n_change_issues, ==, 1);
  g_assert_cmpuint (e->n_settings, ==, 1);
  g_assert_cmpuint (e->n_calibrations, ==, 1);
  g_assert_cmpfloat (e->gauges[0].resolution, ==, 0.01);
  g_assert_cmpfloat (e->week[4], ==, 6.0);
  g_assert_cmpfloat (e->week[5], ==, 0.0);
  g_assert_cmpint (e->holidays[0], ==, day ("2026-01-06"));
  g_assert_cmpfloat (e->monthly_demand, ==, 120.0);
}

static void
check_gates (const BookEvidence *e)
{
  g_assert_cmpuint (e->n_criteria, ==, 3);
  g_assert_cmpstr (e->criteria[0].code, ==, "C9"); /* before C10 */
  g_assert_true (e->criteria[0].strict);           /* safety, unless said otherwise */
  g_assert_cmpint (e->criteria[0].counts_from, ==, BOOK_COUNTS_PILOT);
  g_assert_false (e->criteria[1].strict);
  g_assert_cmpint (e->criteria[1].counts_from, ==, BOOK_COUNTS_PROTOTYPE);
  g_assert_true (e->criteria[2].strict);
  g_assert_cmpint (e->criteria[2].counts_from, ==, BOOK_COUNTS_PROTOTYPE);
  g_assert_cmpuint (e->n_terms, ==, 1);
  g_assert_cmpint (e->terms[0].criterion, ==, 0);
  g_assert_cmpint (e->persons[e->terms[0].person].role, ==, BOOK_ROLE_OWNER);
  g_assert_true (isnan (e->terms[0].target));
  for (guint i = 0; i < e->n_boundaries; i++) /* no plan was declared, no limit widened */
    g_assert_cmpint (e->boundaries[i].kind, ==, BOOK_BOUNDARY_ROUND);
  g_assert_cmpuint (e->n_waivers, ==, 1);    /* the other one was taken back */
  g_assert_cmpint (e->waivers[0].criterion, ==, 1);
  g_assert_cmpuint (e->n_signoffs, ==, 1);
  g_assert_cmpint (e->signoffs[0].opinion, ==, BOOK_OPINION_AGREE);
  g_assert_cmpint (e->documents[0].state, ==, BOOK_DOCUMENT_APPROVED);
  g_assert_cmpint (e->hazards[0].characteristic, ==, 0);
}

static void
check_all (Shelf *shelf)
{
  g_autoptr(BookEvidence) e = evidence_shelf_load (shelf);

  check_readings (e);
  check_story (e);
  check_issues (e);
  check_design (e);
  check_gates (e);
}

static void
test_one_model (void)
{
  Shelf shelf;

  evidence_shelf_fill (&shelf, FALSE);
  check_all (&shelf);
  check_all (&shelf); /* with statements that were used before */
  shelf_close (&shelf);
}

static void
test_several_models (void)
{
  Shelf shelf;

  evidence_shelf_fill (&shelf, TRUE);
  check_all (&shelf);
  check_all (&shelf);
  shelf_close (&shelf);
}

static void
test_becomes_several (void)
{
  Shelf shelf;

  /* The way by which readings are read changes while the connection stays. */
  evidence_shelf_fill (&shelf, FALSE);
  check_all (&shelf);
  shelf_write (&shelf, "model code=X | name=Other");
  check_all (&shelf);
  shelf_close (&shelf);
}

static void
test_only_indexes (void)
{
  static const char *const large[] = { "unit", "reading", "unit_part", "unit_event", "finding", "limit", "criterion_term" };
  Shelf shelf;

  /* The time must not depend on other models: no table that grows with them is read from end to end. */
  evidence_shelf_fill (&shelf, TRUE);
  check_all (&shelf);
  for (sqlite3_stmt *s = sqlite3_next_stmt (store_db_handle (shelf_db (&shelf)), NULL); s != NULL;
       s = sqlite3_next_stmt (store_db_handle (shelf_db (&shelf)), s))
    for (guint i = 0; i < G_N_ELEMENTS (large); i++)
      {
        g_autofree char *from = g_strdup_printf ("FROM %s ", large[i]), *join = g_strdup_printf ("JOIN %s ", large[i]);

        if (strstr (sqlite3_sql (s), "?1") != NULL && (strstr (sqlite3_sql (s), from) != NULL || strstr (sqlite3_sql (s), join) != NULL)
            && sqlite3_stmt_status (s, SQLITE_STMTSTATUS_FULLSCAN_STEP, 0) != 0)
          g_error ("%s reads a table from end to end", sqlite3_sql (s));
      }
  shelf_close (&shelf);
}

static void
test_no_model (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  shelf_open (&shelf);
  g_assert_null (book_evidence_load (shelf_db (&shelf), 4711, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_MISSING);
  shelf_close (&shelf);
}

static void
test_days (void)
{
  static const struct
  {
    const char *text;
    BookDay day;
    int second;
  } rows[] = {
    /* days by GDate's Julian number, which this is */
    { "0001-01-01", 1, -1 },
    { "1900-03-01", 693655, -1 },
    { "2024-02-29", 738945, -1 },
    { "2026-11-26T23:59:58", 739946, 86398 },
    { "2026-11-26T07:05", 739946, 25500 },
    { "2026-11-26 07:05", 739946, 25500 },
    { "", 0, -1 },
    { "2026-1-26", 0, -1 },
    { "2026-13-01", 0, -1 },
    { "soon", 0, -1 },
    { NULL, 0, -1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int second = 0;

      g_assert_cmpint (book_day_parse (rows[i].text, &second), ==, rows[i].day);
      g_assert_cmpint (second, ==, rows[i].second);
    }
  for (guint32 i = 1; i < 800000; i += 97) /* the same day as GDate's, and there and back again */
    {
      g_autofree char *text = book_day_format ((BookDay) i);
      GDate date;

      g_date_clear (&date, 1);
      g_date_set_julian (&date, i);
      g_assert_cmpint (book_day_parse (text, NULL), ==, (BookDay) i);
      g_assert_cmpint (book_day_weekday ((BookDay) i), ==, (int) g_date_get_weekday (&date) - 1);
    }
}

static void
test_serials (void)
{
  static const char *const rising[] = { "", "9-2", "9-10", "10-1", "A", "P1-002", "P1-2", "P1-10", "P2-1", "p1" };

  for (guint i = 0; i < G_N_ELEMENTS (rising); i++)
    for (guint k = 0; k < G_N_ELEMENTS (rising); k++)
      {
        int order = book_serial_compare (rising[i], rising[k]);

        g_assert_cmpint ((order > 0) - (order < 0), ==, (i > k) - (i < k));
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/evidence/of-the-only-model", test_one_model);
  g_test_add_func ("/book/evidence/of-one-of-several-models", test_several_models);
  g_test_add_func ("/book/evidence/of-the-first-when-a-second-comes", test_becomes_several);
  g_test_add_func ("/book/evidence/goes-by-indexes-alone", test_only_indexes);
  g_test_add_func ("/book/evidence/says-that-a-model-is-gone", test_no_model);
  g_test_add_func ("/book/day/is-the-day-of-the-calendar", test_days);
  g_test_add_func ("/book/serial/digits-count-as-numbers", test_serials);
  return g_test_run ();
}
