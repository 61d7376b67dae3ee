/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What evidence knows by the journal alone: which readings came before and after a plan, a wider limit, a decision. */
#include "config.h"

#include "book-edit.h"
#include "evidence-shelf.h"

/* Whether the first reading of FORCE on @unit came after the plan was last written, by the journal. */
static gboolean
is_after_plan (Shelf *shelf, const char *key)
{
  g_autoptr(BookEvidence) e = evidence_shelf_load (shelf);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, key);

  for (guint i = 0; i < e->n_boundaries; i++)
    if (e->boundaries[i].kind == BOOK_BOUNDARY_TERM && book_boundary_is_after (&e->boundaries[i], id))
      return TRUE;
  return FALSE;
}

static void
test_plan_boundary (void)
{
  g_autoptr(GError) error = NULL;
  Shelf shelf;

  evidence_shelf_fill (&shelf, TRUE);
  shelf_write (&shelf, "criterion_term criterion=M/C9 | from_date=2026-01-02 | plan_units=22 | plan_failures=0\n"
                       "unit round=M/P10 | serial=10-2\n"
                       "reading unit=M/P10/10-2 | characteristic=M/FORCE | value=320");
  shelf_write (&shelf, "reading unit=M/P10/10-2 | characteristic=M/FORCE | attempt=2 | value=321");
  g_assert_false (is_after_plan (&shelf, "M/P10/10-1/FORCE/1/1")); /* before it */
  g_assert_false (is_after_plan (&shelf, "M/P10/10-2/FORCE/1/1")); /* in the same action */
  g_assert_true (is_after_plan (&shelf, "M/P10/10-2/FORCE/2/1"));

  /* A plan that is changed afterwards was not declared before. */
  book_edit_run (shelf.book, book_edit_field (BOOK_RECORD_CRITERION_TERM,
                                              shelf_id (&shelf, BOOK_RECORD_CRITERION_TERM, "M/C9/2026-01-02"), "plan_units", "21"),
                 0, 0, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (is_after_plan (&shelf, "M/P10/10-2/FORCE/2/1"));
  shelf_close (&shelf);
}

/* How the reading with that key stands to the points of one kind: -1 before, 1 after, 0 neither. */
static int
side_of (Shelf *shelf, BookBoundaryKind kind, const char *key)
{
  g_autoptr(BookEvidence) e = evidence_shelf_load (shelf);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, key);

  for (guint i = 0; i < e->n_boundaries; i++)
    if (e->boundaries[i].kind == kind && book_boundary_is_before (&e->boundaries[i], id))
      return -1;
    else if (e->boundaries[i].kind == kind && book_boundary_is_after (&e->boundaries[i], id))
      return 1;
  return 0;
}

static char *
today (void)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_utc (); /* as the journal writes */

  return g_date_time_format (now, "%Y-%m-%d");
}

static void
test_limit_boundary (void)
{
  g_autofree char *now = today ();
  Shelf shelf;

  /* Dated before all readings, entered after one and before the other. */
  evidence_shelf_fill (&shelf, FALSE);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-1/FORCE/1/1"), ==, 0);
  shelf_write (&shelf, "limit characteristic=M/FORCE | from_date=2026-02-20 | lower=255 | upper=500\n"
                       "unit round=M/P10 | serial=10-2\n"
                       "reading unit=M/P10/10-2 | characteristic=M/FORCE | value=320");
  shelf_write (&shelf, "reading unit=M/P10/10-2 | characteristic=M/FORCE | attempt=2 | value=321");
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-1/FORCE/1/1"), ==, -1);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/1/1"), ==, 0); /* in the same action */
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/2/1"), ==, 1);
  {
    g_autoptr(BookEvidence) e = evidence_shelf_load (&shelf);
    g_autofree char *entered = book_day_format (e->limits[2].entered);

    g_assert_cmpuint (e->n_limits, ==, 3);
    g_assert_cmpint (e->limits[1].entered, ==, 0); /* narrower: nobody asks */
    g_assert_true (strcmp (entered, now) >= 0);    /* midnight may pass in between */
  }

  /* A row that repeats it does not hide it; one that is changed was entered when it was changed. */
  shelf_write (&shelf, "limit characteristic=M/FORCE | from_date=2026-02-21 | lower=255 | upper=500");
  {
    g_autoptr(BookEvidence) e = evidence_shelf_load (&shelf);

    g_assert_cmpint (e->limits[3].entered, >, 0);
  }
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/P10/10-2/FORCE/1/1"), ==, -1);
  shelf_close (&shelf);
}

static void
set_limit (Shelf *shelf, const char *field, const char *text)
{
  g_autoptr(GError) error = NULL;

  book_edit_run (shelf->book, book_edit_field (BOOK_RECORD_LIMIT, shelf_id (shelf, BOOK_RECORD_LIMIT, "M/GAP/2026-01-01"), field, text),
                 0, 0, NULL, NULL, &error);
  g_assert_no_error (error);
}

/* A row of limits that is changed in place, after the first of two readings. */
static void
test_limit_changed (void)
{
  Shelf shelf;

  shelf_open (&shelf);
  shelf_write (&shelf, "model code=M | name=New\nround model=M | label=A | kind=pilot | opened=2026-02-02\n"
                       "characteristic model=M | code=GAP | name=Gap\nunit round=M/A | serial=1\n"
                       "limit characteristic=M/GAP | from_date=2026-01-01 | lower=1 | upper=2\n"
                       "reading unit=M/A/1 | characteristic=M/GAP | value=2.1");
  set_limit (&shelf, "upper", "1.9"); /* narrower: it judges all readings, and that is all */
  {
    g_autoptr(BookEvidence) e = evidence_shelf_load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 1);
    g_assert_cmpfloat (e->limits[0].upper, ==, 1.9);
  }
  set_limit (&shelf, "upper", "2.2");
  shelf_write (&shelf, "reading unit=M/A/1 | characteristic=M/GAP | attempt=2 | value=2");
  {
    g_autoptr(BookEvidence) e = evidence_shelf_load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 3); /* 1 to 2, 1 to 1.9 and now 1 to 2.2 */
    g_assert_cmpfloat (e->limits[0].upper, ==, 2.0);
    g_assert_cmpfloat (e->limits[1].upper, ==, 1.9);
    g_assert_cmpfloat (e->limits[2].upper, ==, 2.2);
    g_assert_cmpint (e->limits[1].entered, ==, 0);
    g_assert_cmpint (e->limits[2].entered, >, 0);
  }
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/A/1/GAP/1/1"), ==, -1);
  g_assert_cmpint (side_of (&shelf, BOOK_BOUNDARY_LIMIT, "M/A/1/GAP/2/1"), ==, 1);
  set_limit (&shelf, "upper", "1.8"); /* taken back: nothing was widened */
  {
    g_autoptr(BookEvidence) e = evidence_shelf_load (&shelf);

    g_assert_cmpuint (e->n_limits, ==, 1);
  }
  shelf_close (&shelf);
}

#define ROUND_Q "model code=N | name=New\nround model=N | label=Q | kind=pilot | opened=2000-01-03%s\n" \
                "characteristic model=N | code=GAP | name=Gap\nunit round=N/Q | serial=1\n" \
                "reading unit=N/Q/1 | characteristic=N/GAP | value=1"

static void
set_round (Shelf *shelf, const char *field, const char *text)
{
  g_autoptr(GError) error = NULL;

  book_edit_run (shelf->book, book_edit_field (BOOK_RECORD_ROUND, shelf_id (shelf, BOOK_RECORD_ROUND, "N/Q"), field, text), 0, 0,
                 NULL, NULL, &error);
  g_assert_no_error (error);
}

static int
side_of_round (Shelf *shelf, const char *reading)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) e = book_evidence_load (shelf_db (shelf), shelf_id (shelf, BOOK_RECORD_MODEL, "N"), &error);
  gint64 id = shelf_id (shelf, BOOK_RECORD_READING, reading);

  g_assert_no_error (error);
  for (guint i = 0; i < e->n_boundaries; i++)
    if (book_boundary_is_after (&e->boundaries[i], id))
      return 1;
  return 0;
}

static void
test_round_boundary (void)
{
  g_autofree char *all_in_one = g_strdup_printf (ROUND_Q, " | decided=2000-02-01");
  g_autofree char *undecided = g_strdup_printf (ROUND_Q, "");
  g_autofree char *now = NULL;
  Shelf shelf;

  /* Decided long ago: what came with the round is of it, what came afterwards is later. */
  shelf_open (&shelf);
  shelf_write (&shelf, all_in_one);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/1"), ==, 0);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1 | taken=2000-01-20");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/1"), ==, 0);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 1);
  shelf_close (&shelf);

  /* Decided today: the entry of the decision parts them, another change of the round does not. */
  shelf_open (&shelf);
  shelf_write (&shelf, undecided);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  now = today ();
  set_round (&shelf, "decided", now);
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=3 | value=1");
  set_round (&shelf, "question", "Does it hold?");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/3"), ==, 1);
  shelf_close (&shelf);

  /* Decided on a day to come: nothing is later yet. */
  shelf_open (&shelf);
  shelf_write (&shelf, undecided);
  set_round (&shelf, "decided", "2099-01-01");
  shelf_write (&shelf, "reading unit=N/Q/1 | characteristic=N/GAP | n=2 | value=1");
  g_assert_cmpint (side_of_round (&shelf, "N/Q/1/GAP/1/2"), ==, 0);
  shelf_close (&shelf);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/book/evidence/knows-what-came-after-a-plan", test_plan_boundary);
  g_test_add_func ("/book/evidence/knows-what-came-before-a-wider-limit", test_limit_boundary);
  g_test_add_func ("/book/evidence/knows-limits-that-were-changed-in-their-row", test_limit_changed);
  g_test_add_func ("/book/evidence/knows-what-came-after-a-decision", test_round_boundary);
  return g_test_run ();
}
