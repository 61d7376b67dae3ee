/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench-book scan BOOK: moments and extremes of all readings, by characteristic and round, through the store and the
 * numbers, against the sum and the count of their values by SQLite on the same connection.
 * bench-book standing BOOK: the standing of the book's only model from its records, against the same.
 * bench-book undo BOOK SHEET: undoing the paste of a measuring sheet against pasting it.
 * bench-book search BOOK: the slowest of a dozen searches after 20,000 notes were written into the book, against the
 * calibration loop.
 * bench-book whatif BOOK: a rate with one figure set otherwise, and what is said of it, against the calibration loop;
 * whatif-interval also draws its interval.
 * bench-book plan BOOK: what one more typed number of units can prove, and all that is said of it, against the same.
 */
#include "bench-pairs.h"

#include "book-evidence.h"
#include "book-models.h"
#include "book-record.h"
#include "book-search.h"
#include "exchange-sheet-store.h"
#include "insight-memo.h"
#include "insight-plan.h"
#include "insight-rate.h"
#include "insight-standing.h"
#include "num-describe.h"
#include "present-pilot.h"
#include "present-plan.h"
#include "store-undo.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TODAY "2026-07-01"
#define WHAT_IF_TODAY "2026-11-25" /* of the demo */

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

/* Readings by group: a characteristic in a round. */
typedef struct
{
  GHashTable *rounds; /* of units: key to key */
  GHashTable *groups; /* Group to itself */
  GArray     *numbers; /* guint: group of each value */
  GArray     *values;
} Scan;

typedef struct
{
  gint64 characteristic, round;
  guint  number;
  guint  count;
} Group;

static guint
hash_group (gconstpointer data)
{
  const Group *group = data;

  return (guint) group->characteristic * 31 + (guint) group->round;
}

static gboolean
same_group (gconstpointer a, gconstpointer b)
{
  const Group *x = a, *y = b;

  return x->characteristic == y->characteristic && x->round == y->round;
}

static void
read_rounds (StoreDb *db, Scan *scan)
{
  static const char sql[] = "SELECT id, round FROM unit";
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, &error);
  gboolean ok = statement != NULL, row;

  while (ok && (ok = store_db_next (db, statement, "The units were not read", &row, &error)) && row)
    {
      gint64 pair[2] = { sqlite3_column_int64 (statement, 0), sqlite3_column_int64 (statement, 1) };

      g_hash_table_add (scan->rounds, g_memdup2 (pair, sizeof pair));
    }
  hold (ok, error);
}

static Group *
find_group (Scan *scan, gint64 characteristic, gint64 round)
{
  Group wanted = { characteristic, round, g_hash_table_size (scan->groups), 0 };
  Group *group = g_hash_table_lookup (scan->groups, &wanted);

  if (group == NULL)
    {
      group = g_memdup2 (&wanted, sizeof wanted);
      g_hash_table_add (scan->groups, group);
    }
  return group;
}

/* Each value with the number of its group; as a rule the next reading is of the same unit, often of the same group. */
static void
read_values (StoreDb *db, Scan *scan)
{
  static const char sql[] = "SELECT unit, characteristic, value FROM reading WHERE value IS NOT NULL AND NOT voided";
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, &error);
  gboolean ok = statement != NULL, row;
  gint64 unit = 0, round = 0;
  Group *group = NULL;

  while (ok && (ok = store_db_next (db, statement, "The readings were not read", &row, &error)) && row)
    {
      gint64 its = sqlite3_column_int64 (statement, 0), characteristic = sqlite3_column_int64 (statement, 1);
      double value = sqlite3_column_double (statement, 2);

      if (its != unit)
        {
          unit = its;
          round = ((gint64 *) g_hash_table_lookup (scan->rounds, &unit))[1];
        }
      if (group == NULL || group->characteristic != characteristic || group->round != round)
        group = find_group (scan, characteristic, round);
      group->count++;
      g_array_append_val (scan->numbers, group->number);
      g_array_append_val (scan->values, value);
    }
  hold (ok, error);
}

/* Deals the values out by group and describes each. */
static void
describe_groups (const Scan *scan)
{
  guint n_groups = g_hash_table_size (scan->groups);
  g_autofree guint *from = g_new0 (guint, n_groups + 1), *at = g_new (guint, n_groups + 1);
  g_autofree double *dealt = g_new (double, scan->values->len + 1);
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, scan->groups);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    from[((Group *) key)->number + 1] = ((Group *) key)->count;
  for (guint i = 0; i < n_groups; i++)
    from[i + 1] += from[i];
  memcpy (at, from, sizeof *at * (n_groups + 1));
  for (guint i = 0; i < scan->values->len; i++)
    dealt[at[g_array_index (scan->numbers, guint, i)]++] = g_array_index (scan->values, double, i);
  for (guint i = 0; i < n_groups; i++)
    {
      NumMoments moments;

      if (num_moments (dealt + from[i], from[i + 1] - from[i], &moments) != NUM_OK)
        g_error ("a characteristic has no moments in a round");
      bench_use (moments.mean + moments.sd + moments.min + moments.max);
    }
}

static void
scan (gpointer data)
{
  const Bench *bench = data;
  Scan all = { g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL),
               g_hash_table_new_full (hash_group, same_group, g_free, NULL),
               g_array_new (FALSE, FALSE, sizeof (guint)), g_array_new (FALSE, FALSE, sizeof (double)) };

  read_rounds (bench->db, &all);
  read_values (bench->db, &all);
  describe_groups (&all);
  g_hash_table_unref (all.rounds);
  g_hash_table_unref (all.groups);
  g_array_unref (all.numbers);
  g_array_unref (all.values);
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

/* ---- what if ---- */

#define DRAWS 4000 /* as the window takes them */

typedef struct
{
  InsightRateInput *input;
  guint             times;
  guint             draws;
} WhatIf;

/* One figure set otherwise, and the rate with all it says; with @draws also its interval. */
static void
what_if (gpointer data)
{
  WhatIf *what_if = data;
  g_autoptr(InsightRate) rate = NULL;
  g_autoptr(PresentRate) words = NULL;

  if (!insight_rate_set (what_if->input, 0, INSIGHT_RATE_UPTIME, what_if->times++ % 2 == 0 ? 0.8 : 0.9))
    g_error ("the book has no bench");
  rate = insight_rate (what_if->input);
  insight_memo_forget (); /* else only the first two would be drawn */
  if (what_if->draws > 0 && !insight_rate_draw (rate, what_if->input, what_if->draws, NAN, NULL, NULL, NULL))
    g_error ("the book has too few run days");
  words = present_rate_new (what_if->input, rate);
  bench_use (rate->month);
}

static void
print_what_if (Bench *bench, guint draws)
{
  const InsightSpan span = { 0, WHAT_IF_TODAY };
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) e = NULL;
  g_autoptr(InsightPilot) pilot = NULL;
  WhatIf what = { NULL, 0, draws };
  gint64 model;

  hold (book_model_find (bench->db, "HF", &model, &error), error);
  e = book_evidence_load_parts (bench->db, model, BOOK_EVIDENCE_RECORDS, &error);
  hold (e != NULL, error);
  pilot = insight_pilot (e, &span, &error);
  hold (pilot != NULL, error);
  what.input = insight_rate_input (e, pilot);
  bench_pairs (what_if, draws > 0 ? 1 : 20, bench_calibration, 1, &what);
  insight_rate_input_free (what.input);
}

/* ---- a plan ---- */

typedef struct
{
  InsightPlan *plan;
  guint        times;
} Planning;

/* Another number of units is typed; what depends on the book alone was prepared before. */
static void
type_units (gpointer data)
{
  static const guint numbers[] = { 12, 13, 30, 31, 120 };
  Planning *planning = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightPlanAnswer) answer = insight_plan_prove (planning->plan, numbers[planning->times++ % G_N_ELEMENTS (numbers)], NULL, &error);
  g_autoptr(PresentPlan) words = NULL;

  hold (answer != NULL, error);
  words = present_plan_new (planning->plan, answer);
  bench_use (words->rows->len);
}

static void
print_plan (Bench *bench)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BookEvidence) e = NULL;
  Planning planning = { NULL, 0 };
  gint64 model;

  hold (book_model_find (bench->db, "HF", &model, &error), error);
  e = book_evidence_load (bench->db, model, &error);
  hold (e != NULL, error);
  if (e->n_rounds == 0)
    g_error ("the book has no round");
  planning.plan = insight_plan_new (e, e->rounds[e->n_rounds - 1].id, WHAT_IF_TODAY, NULL, &error);
  hold (planning.plan != NULL, error);
  if (insight_plan_n_criteria (planning.plan) == 0)
    g_error ("the book has no criterion about units");
  bench_pairs (type_units, 1, bench_calibration, 1, &planning);
  insight_plan_unref (planning.plan);
}

/* ---- search ---- */

#define NOTES 20000
#define NOTE_WORDS 18
#define MOST_HITS 60

/* Words of two or three syllables, a few of them in nearly every note, most in few. */
static void
append_word (GString *text, GRand *random)
{
  static const char *const syllables[] = { "ra", "ten", "lo", "mis", "ku", "vel", "dor", "pin", "sha", "gre", "not", "fal",
                                           "bir", "cus", "hem", "jol", "zat", "qui", "wer", "xan" };
  double at = g_rand_double (random);
  guint number = (guint) (at * at * at * 7999);

  for (guint rest = number + 20; rest > 0; rest /= G_N_ELEMENTS (syllables))
    g_string_append (text, syllables[rest % G_N_ELEMENTS (syllables)]);
}

static gboolean
write_notes (StoreAction *action, gpointer data, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_TODO);
  g_autoptr(GRand) random = g_rand_new_with_seed (20000);
  BookValue values[BOOK_MAX_FIELDS] = { { 0 } };

  for (gint64 i = 1; i <= NOTES; i++)
    {
      g_autoptr(GString) text = g_string_new (NULL);

      for (guint word = 0; word < NOTE_WORDS; word++)
        {
          append_word (text, random);
          g_string_append_c (text, ' ');
        }
      if (i == NOTES / 2)
        g_string_append (text, "Hebelöse ");
      for (guint j = 0; j < record->n_fields; j++)
        values[j] = BOOK_VALUE_EMPTY;
      values[book_field_index (record, "no")] = book_value_integer (1000000 + i);
      values[book_field_index (record, "what")] = book_value_text (text->str, (gssize) text->len - 1);
      if (!book_record_insert (action, record, values, NULL, error))
        return FALSE;
    }
  return TRUE;
}

/* One letter, common and rare words, several, keys, fragments, an accent, what is nowhere. */
static double
slowest_search (Bench *bench)
{
  static const char *const typed[] = { "r", "ra", "ratenlo", "mis ku vel", "hebelose", "1010000", "P1-0", "to do 1010000",
                                       "1-01", "ebelo", "nowhere at all", "HF/P1" };
  double slowest = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      double start = bench_now (), took;
      g_autoptr(GError) error = NULL;
      gboolean more;
      g_autoptr(GPtrArray) hits = book_search (bench->db, typed[i], ((BookModel *) bench->models->pdata[0])->id, MOST_HITS, &more,
                                               &error);

      took = bench_now () - start;
      hold (hits != NULL, error);
      if (g_getenv ("FETTLE_BENCH_EACH") != NULL)
        g_printerr ("%-16s %3u %8.3f ms\n", typed[i], hits->len, took * 1000);
      slowest = MAX (slowest, took);
    }
  return slowest;
}

static void
print_search (Bench *bench)
{
  const StoreIntent intent = { .action = "notes" };
  g_autoptr(GError) error = NULL;
  gboolean ok;

  ok = store_write (book_get_store (bench->book), &intent, write_notes, NULL, NULL, NULL, &error);
  hold (ok, error);
  for (int i = -1; i < BENCH_PAIRS; i++)
    {
      double left = slowest_search (bench), start = bench_now (), right;

      bench_calibration (NULL);
      right = bench_now () - start;
      if (i >= 0) /* the first pair only warms up */
        printf ("%.9f %.9f\n", left, right);
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
  else if (strcmp (argv[1], "search") == 0)
    print_search (&bench);
  else if (strcmp (argv[1], "whatif") == 0)
    print_what_if (&bench, 0);
  else if (strcmp (argv[1], "whatif-interval") == 0)
    print_what_if (&bench, DRAWS);
  else if (strcmp (argv[1], "plan") == 0)
    print_plan (&bench);
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
