/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench-book scan BOOK: moments and extremes of all readings, by characteristic and round, against the sum and the count
 * of their values by SQLite on the same connection.
 * bench-book standing BOOK: the standing of the book's only model from its records, against the same.
 * bench-book undo BOOK SHEET: undoing the paste of a measuring sheet against pasting it.
 */
#include "bench-pairs.h"

#include "book-evidence.h"
#include "book-models.h"
#include "exchange-sheet-store.h"
#include "insight-standing.h"
#include "num-describe.h"
#include "store-undo.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TODAY "2026-07-01"

typedef struct
{
  Book      *book;
  StoreDb   *db;
  GPtrArray *models;
  char      *sheet;
  gsize      sheet_length;
} Bench;

static void
hold (gboolean ok, const GError *error)
{
  if (!ok)
    g_error ("%s", error->message);
}

/* ---- what SQLite does ---- */

static void
sql_sum (gpointer data)
{
  static const char sql[] = "SELECT sum(value), count(*) FROM reading";
  const Bench *bench = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreStatement) statement = store_db_statement (bench->db, sql, &error);
  gboolean row;

  hold (statement != NULL && store_db_next (bench->db, statement, "The sum failed", &row, &error), error);
  bench_use (sqlite3_column_double (statement, 0) + (double) sqlite3_column_int64 (statement, 1));
}

/* ---- scan ---- */

/* A stretch of readings of one characteristic, whose units come round by round. */
static void
moments_by_round (const BookEvidence *e, guint from, guint to, double *values)
{
  for (guint i = from; i < to;)
    {
      int round = e->units[e->readings[i].unit].round;
      NumMoments moments;
      guint n = 0;

      for (; i < to && e->units[e->readings[i].unit].round == round; i++)
        if (!e->readings[i].voided && isfinite (e->readings[i].value))
          values[n++] = e->readings[i].value;
      if (n > 0 && num_moments (values, n, &moments) != NUM_OK)
        g_error ("a round has no moments");
      bench_use (n > 0 ? moments.mean + moments.sd + moments.min + moments.max : 0.0);
    }
}

static void
scan (gpointer data)
{
  const Bench *bench = data;

  for (guint m = 0; m < bench->models->len; m++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(BookEvidence) e = book_evidence_load (bench->db, ((BookModel *) bench->models->pdata[m])->id, &error);
      g_autofree double *values = NULL;

      hold (e != NULL, error);
      values = g_new (double, e->n_readings);
      for (guint i = 0; i < e->n_characteristics; i++)
        moments_by_round (e, e->characteristics[i].first_reading, e->characteristics[i].end_reading, values);
    }
}

/* ---- standing ---- */

static void
standing (gpointer data)
{
  const Bench *bench = data;
  const BookModel *model = bench->models->pdata[0];
  const InsightSpan span = { 0, TODAY };
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) e = book_evidence_load (bench->db, model->id, &error);
  g_autoptr(InsightStanding) answer = NULL;

  hold (e != NULL, error);
  answer = insight_standing (e, &span, NULL, &error);
  hold (answer != NULL, error);
  bench_use (answer->score.score);
}

/* ---- undo ---- */

static void
paste (Bench *bench)
{
  const ExchangeSheetTarget target = { .model = "PASTE", .round = "P1", .kind = BOOK_ROUND_PROTOTYPE, .date = TODAY, .today = TODAY };
  g_autoptr(GError) error = NULL;
  g_autoptr(ExchangeSheet) sheet = exchange_sheet_read_text ("paste", bench->sheet, bench->sheet_length, &error);
  ExchangeSheetStored stored = { 0 };

  hold (sheet != NULL, error);
  hold (exchange_sheet_store (bench->book, sheet, &target, &stored, NULL, &error), error);
  if (exchange_sheet_count_readings (sheet) != 10000)
    g_error ("the sheet has %u readings instead of 10,000", exchange_sheet_count_readings (sheet));
}

static void
undo (Bench *bench)
{
  const StoreIntent intent = { .action = "undo" };
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt = { 0 };

  hold (store_undo (book_get_store (bench->book), &intent, 0, &receipt, NULL, NULL, &error), error);
  if (receipt.deleted < 10000)
    g_error ("only %u rows were taken back", (guint) receipt.deleted);
}

static void
print_undo (Bench *bench)
{
  for (int i = -1; i < BENCH_PAIRS; i++)
    {
      double start = bench_now (), middle;

      paste (bench);
      middle = bench_now ();
      undo (bench);
      if (i >= 0) /* the first pair only warms up */
        printf ("%.9f %.9f\n", bench_now () - middle, middle - start);
    }
}

int
main (int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  Bench bench = { NULL };

  if (argc < 3)
    {
      fprintf (stderr, "bench-book needs a case and a book: scan BOOK, standing BOOK, undo BOOK SHEET\n");
      return 2;
    }
  bench.book = book_open (argv[2], NULL, &error);
  hold (bench.book != NULL, error);
  bench.db = store_front_db (book_get_store (bench.book), &error);
  hold (bench.db != NULL, error);
  bench.models = book_models_list (bench.db, &error);
  hold (bench.models != NULL, error);
  if (strcmp (argv[1], "scan") == 0)
    bench_pairs (scan, 1, sql_sum, 1, &bench);
  else if (strcmp (argv[1], "standing") == 0)
    bench_pairs (standing, 1, sql_sum, 1, &bench);
  else if (strcmp (argv[1], "undo") == 0 && argc == 4)
    {
      hold (g_file_get_contents (argv[3], &bench.sheet, &bench.sheet_length, &error), error);
      print_undo (&bench);
      g_free (bench.sheet);
    }
  g_ptr_array_unref (bench.models);
  hold (book_close (bench.book, &error), error);
  return 0;
}
