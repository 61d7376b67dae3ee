/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The forecast gives back what a made history was drawn with: the share of units that fail, the chance that a fix works, and
 * how long rounds take. Each history is made of records alone and goes through the whole way, from records to the dates.
 *
 * Two questions. Are the dates what they say: of many histories, each with a truth of its own, the present is as often ready by
 * the date at 80 % as 80 % says (S. R. Cook, A. Gelman, D. B. Rubin, Validation of software for Bayesian models using posterior
 * quantiles, Journal of Computational and Graphical Statistics 15, 2006: truth from the prior, data from the truth)? And does
 * a long history tell more than a short one: with one fixed truth, the dates come near those of that truth.
 *
 * Draws are of GLib's generator (Mersenne Twister), with the seeds below; the program draws by another one.
 */
#include "config.h"

#include <math.h>
#include <stdlib.h>

#include "evidence-fixture.h"
#include "insight-forecast.h"

#define SEED_FEW         20260105u
#define SEED_MANY        20260112u
#define SEED_SERIES      20260119u
#define HISTORIES        120 /* FETTLE_STORIES: another number */
#define DRAWS            1000
#define FIXES            4     /* in the history of a calibration */
#define TYPICAL          40.0  /* working days of a round: exp of the mean logarithm */
#define PAIR             2     /* rounds that a fix is told by: before it and after it */

/* What a history is drawn with. */
typedef struct
{
  double share;     /* of units that fail */
  double fix;       /* chance that a fix works */
  double tolerated; /* share */
  guint  rounds;    /* so far */
  guint  units;     /* a round */
  double log_sd;    /* of the rounds' lengths */
  guint  fixes;     /* so far */
} Truth;

typedef struct
{
  Fixture              *f;
  guint                 failed;
  guint                 worked;
  InsightForecastInput *input;
} History;

static void
history_clear (History *history)
{
  g_clear_pointer (&history->input, insight_forecast_input_free);
  g_clear_pointer (&history->f, fixture_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (History, history_clear)

static guint
histories (void)
{
  const char *wish = g_getenv ("FETTLE_STORIES");

  return wish != NULL ? (guint) atoi (wish) : HISTORIES;
}

/* Box and Muller. */
static double
draw_normal (GRand *random)
{
  return sqrt (-2.0 * log (1.0 - g_rand_double (random))) * cos (2.0 * G_PI * g_rand_double (random));
}

static double
draw_length (const Truth *truth, GRand *random)
{
  return TYPICAL * exp (truth->log_sd * draw_normal (random));
}

/* Beta (1/2, 1/2), which is the arcsine distribution. */
static double
draw_arcsine (GRand *random)
{
  double sine = sin (0.5 * G_PI * g_rand_double (random));

  return sine * sine;
}

/* Rounds one after the other, each from a Monday on, of lengths that were drawn and rounded to whole days. */
static BookDay
add_rounds (History *history, const Truth *truth, GRand *random)
{
  BookDay monday = book_day_parse ("2000-01-03", NULL);

  for (guint r = 0; r < truth->rounds; r++)
    {
      g_autofree char *label = g_strdup_printf ("P%03u", r + 1), *opened = book_day_format (monday);
      int days = MAX ((int) lround (draw_length (truth, random)), 5);
      int calendar = days / 5 * 7 + days % 5;
      int index = fixture_round (history->f, label, BOOK_ROUND_PROTOTYPE, opened, TRUE);
      BookEvidenceRound *round = &history->f->e->rounds[index];

      round->design_fixed = monday + 1;
      round->built = monday + 2;
      round->tested = monday + 3;
      round->decided = monday + calendar;
      monday += (calendar + 6) / 7 * 7;
    }
  return monday;
}

/* Issues, each with a lever of its own that was changed between the first two rounds: before it all units showed it. */
static void
add_fixes (History *history, const Truth *truth, const int *first, GRand *random)
{
  Fixture *f = history->f;

  for (guint i = 0; i < truth->fixes; i++)
    {
      g_autofree char *number = g_strdup_printf ("LEVER%u", i), *code = g_strdup_printf ("HOLD%u", i);
      g_autofree char *day = book_day_format (f->e->rounds[1].opened);
      int part = fixture_part (f, number), check = fixture_checked (f, code, BOOK_CLASS_FUNCTION), issue = fixture_issue (f, check);
      int change = fixture_change (f, day), revisions[PAIR];
      gboolean works = g_rand_double (random) < truth->fix;

      f->e->issues[issue].tolerated = 0.10;
      fixture_depends (f, check, part, -1);
      for (int r = 0; r < PAIR; r++)
        {
          revisions[r] = fixture_revision (f, part, r == 0 ? "A" : "B", "2000-01-03");
          fixture_plan (f, r, part, revisions[r], -1, "");
        }
      fixture_change_item (f, change, part, revisions[0], revisions[1]);
      fixture_change_issue (f, change, issue);
      for (int r = 0; r < PAIR; r++)
        for (guint u = 0; u < truth->units; u++)
          fixture_check (f, first[r] + (int) u, check, r == 1 && works);
      history->worked += works;
    }
}

static History
history_new (const Truth *truth, gint64 model, GRand *random)
{
  History history = { .f = fixture_new () };
  g_autofree int *first = g_new (int, truth->rounds);
  Fixture *f = history.f;
  BookDay today;
  int frame = fixture_part (f, "FRAME"), revision = fixture_revision (f, frame, "A", "2000-01-03");
  int lock = fixture_checked (f, "LOCK", BOOK_CLASS_FUNCTION);
  InsightSpan span = { 0, NULL };
  g_autofree char *date = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightIssues) issues = NULL;

  f->e->model_id = model; /* the program's draws are keyed by it */
  fixture_person (f, "EH", BOOK_ROLE_OWNER);
  fixture_depends (f, lock, frame, -1);
  fixture_term (f, fixture_criterion (f, "C1", BOOK_CRITERION_CHECKED, lock), "2000-01-01", 1.0 - truth->tolerated, 0.90);
  today = add_rounds (&history, truth, random);
  for (guint r = 0; r < truth->rounds; r++)
    {
      fixture_plan (f, (int) r, frame, revision, -1, "");
      first[r] = fixture_units (f, (int) r, truth->units);
      for (guint u = 0; u < truth->units; u++)
        {
          gboolean fails = g_rand_double (random) < truth->share;

          fixture_check (f, first[r] + (int) u, lock, !fails);
          history.failed += fails;
        }
    }
  add_fixes (&history, truth, first, random);
  fixture_finish (f);

  span.today = date = book_day_format (today);
  standing = insight_standing (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  issues = insight_issues (f->e, &span, NULL, &error);
  g_assert_no_error (error);
  history.input = insight_forecast_input (f->e, standing, issues, &error);
  g_assert_no_error (error);
  return history;
}

/* What was drawn is what is estimated from: every unit, every fix, every day. */
static void
assert_read (const History *history, const Truth *truth)
{
  const InsightForecastInput *input = history->input;

  g_assert_cmpuint (input->n_lengths, ==, truth->rounds);
  for (guint r = 0; r < truth->rounds; r++)
    {
      const BookEvidenceRound *round = &history->f->e->rounds[r];
      int calendar = round->decided - round->opened;

      g_assert_cmpfloat (input->lengths[r].days, ==, (double) (calendar / 7 * 5 + calendar % 7)); /* from a Monday on */
    }
  g_assert_cmpuint (input->defaults.worked, ==, history->worked);
  g_assert_cmpuint (input->defaults.failed, ==, truth->fixes - history->worked);
  if (input->n_in == 0)
    return;
  g_assert_cmpuint (input->criteria[0].play.n, ==, truth->rounds * truth->units);
  g_assert_cmpuint (input->criteria[0].play.failed, ==, history->failed);
  g_assert_cmpuint (input->criteria[0].play.units_round, ==, truth->units);
  g_assert_cmpfloat_with_epsilon (input->defaults.residual, 0.1 * truth->tolerated, 1e-12);
}

/* P (K <= k) of K of n that are each one with chance p. */
static double
binomial_below (guint k, guint n, double p)
{
  double sum = 0.0;

  for (guint i = 0; i <= k && i <= n; i++)
    sum += exp (lgamma (n + 1.0) - lgamma (i + 1.0) - lgamma (n - i + 1.0) + i * log (p) + (n - i) * log1p (-p));
  return sum;
}

/* Units that meet it with so many failures: the exact binomial (NIST/SEMATECH e-Handbook 7.2.4.1). */
static guint
units_needed (guint failed, double tolerated)
{
  guint n = failed + 1;

  while (binomial_below (failed, n, tolerated) > 0.10)
    n++;
  return n;
}

/* What it takes now, and after a start again. */
typedef struct
{
  guint now;
  guint anew;
} Needs;

static Needs
needs_of (const Truth *truth, guint failed)
{
  return (Needs){ units_needed (failed, truth->tolerated), units_needed (0, truth->tolerated) };
}

/* The future of a truth: working days until the criterion is met; INFINITY as the forecast has it, which looks so far ahead. */
static double
play_truth (const Truth *truth, Needs needs, GRand *random)
{
  guint n = truth->rounds * truth->units;
  double share = truth->share, days = 0.0;

  for (guint r = 0; r < NUM_FORECAST_ROUNDS; r++)
    {
      gboolean fails = FALSE;

      days += draw_length (truth, random);
      for (guint u = 0; u < truth->units; u++)
        fails |= g_rand_double (random) < share;
      n = fails ? 0 : n + truth->units;
      needs.now = fails ? needs.anew : needs.now;
      if (fails && g_rand_double (random) < truth->fix)
        share = MIN (share, 0.1 * truth->tolerated);
      if (!fails && n >= needs.now)
        return days;
    }
  return INFINITY;
}

/* Of @n trials with chance @p so few or so many would come in less than one of 10,000 each way. */
static void
assert_binomial (const char *what, guint k, guint n, double p)
{
  g_test_message ("%s: %u of %u, %.3f, said %.2f", what, k, n, (double) k / n, p);
  g_assert_cmpfloat (binomial_below (k, n, p), >, 1e-4);
  g_assert_cmpfloat (1.0 - (k == 0 ? 0.0 : binomial_below (k - 1, n, p)), >, 1e-4);
}

/* Whether the truth lies below the quantile. All that takes longer than the forecast looks ahead is one point, which is shared
 * out by a draw. */
static gboolean
lies_below (const InsightForecast *forecast, const InsightForecastDate *date, double days, double even)
{
  if (isfinite (days))
    return days <= date->days;
  return 1.0 - forecast->never + even * forecast->never <= date->share;
}

/* Share and fix are drawn as the forecast takes them for possible before it knows anything (Jeffreys), so that its dates hold
 * exactly. Lengths have no such beginning: their spread is small where the rounds are few. */
static void
calibrate (guint seed, guint so_far, guint units, double log_sd)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (seed);
  const guint n = histories ();
  guint below[2] = { 0, 0 }, range[2] = { 0, 0 }, made = 0, finite = 0;

  while (made < n)
    {
      const Truth truth = { draw_arcsine (random), draw_arcsine (random), 0.10, so_far, units, log_sd, FIXES };
      g_auto(History) history = history_new (&truth, 1000 + made, random);
      g_autoptr(InsightForecast) forecast = NULL;
      double days, even = g_rand_double (random);

      assert_read (&history, &truth);
      if (history.input->n_in == 0) /* met already: nothing to forecast */
        {
          g_assert_cmpuint (truth.rounds * truth.units, >=, units_needed (history.failed, truth.tolerated));
          continue;
        }
      made++;
      forecast = insight_forecast (history.input, &history.input->defaults, DRAWS, NULL);
      g_assert_cmpint (forecast->status, ==, NUM_OK);
      days = play_truth (&truth, needs_of (&truth, history.failed), random);
      finite += isfinite (days);
      for (guint i = 0; i < 2; i++)
        {
          below[i] += lies_below (forecast, &forecast->dates[i], days, even);
          range[i] += lies_below (forecast, &forecast->range[i], days, even);
        }
    }
  g_test_message ("%u of %u truths were ready within %u rounds", finite, n, NUM_FORECAST_ROUNDS);
  assert_binomial ("by the date at 50 %", below[0], n, 0.50);
  assert_binomial ("by the date at 80 %", below[1], n, 0.80);
  assert_binomial ("before the range", range[0], n, 0.10);
  assert_binomial ("by the end of the range", range[1], n, 0.90);
}

static void
test_few_rounds (void)
{
  calibrate (SEED_FEW, 4, 8, 0.05);
}

static void
test_many_rounds (void)
{
  calibrate (SEED_MANY, 12, 3, 0.30);
}

static int
compare_days (gconstpointer a, gconstpointer b)
{
  const double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The dates of the truth itself, by as many futures of it as there are runs of a long forecast. */
static void
true_dates (const Truth *truth, guint failed, double dates[2], GRand *random)
{
  const guint count = 4000;
  const Needs needs = needs_of (truth, failed);
  g_autofree double *days = g_new (double, count);

  for (guint i = 0; i < count; i++)
    days[i] = play_truth (truth, needs, random);
  qsort (days, count, sizeof *days, compare_days);
  dates[0] = days[count / 2 - 1];
  dates[1] = days[count * 8 / 10 - 1];
}

/* Root mean square of the logarithm of date over true date, at 50 and at 80 %. */
static void
series_errors (Truth truth, guint n, double errors[2], GRand *random)
{
  errors[0] = errors[1] = 0.0;
  for (guint i = 0; i < n; i++)
    {
      g_auto(History) history = history_new (&truth, 5000 + i, random);
      g_autoptr(InsightForecast) forecast = NULL;
      double dates[2];

      assert_read (&history, &truth);
      g_assert_cmpuint (history.input->n_in, ==, 1);
      forecast = insight_forecast (history.input, &history.input->defaults, DRAWS, NULL);
      true_dates (&truth, history.failed, dates, random);
      for (guint d = 0; d < 2; d++)
        {
          double off = log (forecast->dates[d].days / dates[d]);

          off = isfinite (off) ? off : log (NUM_FORECAST_ROUNDS); /* of a date that it does not reach */
          errors[d] += off * off / n;
        }
    }
  for (guint d = 0; d < 2; d++)
    errors[d] = sqrt (errors[d]);
  g_test_message ("%u rounds of %u units, %u fixes: off by %.3f at 50 %%, by %.3f at 80 %%", truth.rounds, truth.units, truth.fixes,
                  errors[0], errors[1]);
}

/* One truth: one in ten fails where one in twenty is tolerated (45 units without a failure), and six of ten fixes work. */
static void
test_series (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (SEED_SERIES);
  const guint n = CLAMP (histories () / 20, 4, 60);
  Truth truth = { 0.10, 0.6, 0.05, 3, 14, 0.30, 2 };
  double brief[2], lasting[2];

  series_errors (truth, n, brief, random);
  truth.rounds = 30;
  truth.fixes = 40;
  series_errors (truth, n, lasting, random);
  for (guint d = 0; d < 2; d++)
    {
      g_assert_cmpfloat (lasting[d], <, 0.20);
      g_assert_cmpfloat (lasting[d], <, 0.5 * brief[d]);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/insight/forecast-recovery/dates-after-few-rounds-hold-as-often-as-they-say", test_few_rounds);
  g_test_add_func ("/insight/forecast-recovery/dates-after-many-rounds-of-unlike-lengths-too", test_many_rounds);
  g_test_add_func ("/insight/forecast-recovery/a-long-series-gives-back-what-it-was-drawn-with", test_series);
  return g_test_run ();
}
