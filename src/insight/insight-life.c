/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-life-parts-private.h"

#include "insight-criterion-private.h"
#include "insight-span-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
free_choice (gpointer data)
{
  InsightLifeChoice *choice = data;

  g_free (choice->code);
  g_free (choice->name);
  g_free (choice);
}

static guint
tests_of (const BookEvidence *e, int characteristic, BookDay end)
{
  guint n = 0;

  for (guint i = 0; i < e->n_life_tests; i++)
    n += e->life_tests[i].characteristic == characteristic && e->life_tests[i].day <= end;
  return n;
}

static gboolean
is_asked_for (const BookEvidence *e, int characteristic)
{
  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].kind == BOOK_CRITERION_LIFE && e->criteria[i].characteristic == characteristic)
      return TRUE;
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].characteristic == characteristic && !isnan (e->tests[i].cycles))
      return TRUE;
  return FALSE;
}

/* What is cycled first, then all others, so that a first test can be entered for any. The place of the one asked about. */
static int
choose (InsightLife *life, const BookEvidence *e, gint64 wanted, BookDay end)
{
  int chosen = -1, first = -1;
  guint most = 0;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < e->n_characteristics; i++)
      {
        guint tests = tests_of (e, (int) i, end);
        gboolean is_cycled = tests > 0 || is_asked_for (e, (int) i);
        InsightLifeChoice *choice;

        if (is_cycled == (pass == 1))
          continue;
        choice = g_new0 (InsightLifeChoice, 1);
        choice->id = e->characteristics[i].id;
        choice->code = g_strdup (e->characteristics[i].code);
        choice->name = g_strdup (e->characteristics[i].name);
        choice->tests = tests;
        g_ptr_array_add (life->choices, choice);
        if (choice->id == wanted)
          chosen = (int) i;
        if (is_cycled && (first < 0 || tests > most))
          {
            first = (int) i;
            most = tests;
          }
      }
  return chosen >= 0 ? chosen : wanted == 0 ? first : -1;
}

static int
criterion_of (const BookEvidence *e, int characteristic)
{
  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].kind == BOOK_CRITERION_LIFE && e->criteria[i].characteristic == characteristic)
      return (int) i;
  return -1;
}

static const InsightLifeUnit *
unit_of_test (GArray *units, guint test)
{
  for (guint i = 0; i < units->len; i++)
    if (g_array_index (units, InsightLifeUnit, i).test == test)
      return &g_array_index (units, InsightLifeUnit, i);
  return NULL;
}

static InsightCounting
counting_of_unit (GArray *units, int unit)
{
  for (guint i = 0; i < units->len; i++)
    if ((int) g_array_index (units, InsightLifeUnit, i).unit == unit)
      return g_array_index (units, InsightLifeUnit, i).counting;
  return INSIGHT_NOT_SPAN;
}

static void
describe_test (const BookEvidence *e, guint number, GArray *units, InsightLifeTest *out)
{
  const BookEvidenceLifeTest *test = &e->life_tests[number];
  const InsightLifeUnit *unit = unit_of_test (units, number);
  const char *round = e->rounds[e->units[test->unit].round].label;

  out->id = test->id;
  out->no = test->no;
  out->unit = e->units[test->unit].id;
  out->serial = g_strdup (e->units[test->unit].serial);
  out->round = g_strdup (round);
  out->date = book_day_format (test->day);
  out->load = test->load;
  out->cycles = test->cycles;
  out->failed = test->ended == BOOK_LIFE_FAILED;
  out->issue = test->issue >= 0 ? e->issues[test->issue].id : 0;
  out->issue_no = test->issue >= 0 ? e->issues[test->issue].no : 0;
  out->mode = g_strdup (test->issue >= 0 ? e->issues[test->issue].title : "");
  out->again = unit == NULL;
  out->counting = unit != NULL ? unit->counting : counting_of_unit (units, test->unit);
  out->short_load = unit != NULL && unit->short_load;
}

/* The tests of the span, as rows and as places in the evidence. */
static guint *
take_tests (InsightLife *life, const BookEvidence *e, const InsightLook *look, int characteristic, GArray *units)
{
  guint *places = g_new0 (guint, e->n_life_tests + 1);

  life->tests = g_new0 (InsightLifeTest, e->n_life_tests + 1);
  for (guint i = 0; i < e->n_life_tests; i++)
    {
      const BookEvidenceLifeTest *test = &e->life_tests[i];

      if (test->characteristic != characteristic || test->unit < 0 || test->day > look->end
          || e->units[test->unit].round > look->through)
        continue;
      places[life->n_tests] = i;
      describe_test (e, i, units, &life->tests[life->n_tests++]);
    }
  return places;
}

static int
compare_cycles (gconstpointer a, gconstpointer b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return (first > second) - (first < second);
}

static void
count_units (InsightLife *life, GArray *units)
{
  life->stopped = g_new (double, units->len + 1);
  for (guint i = 0; i < units->len; i++)
    {
      const InsightLifeUnit *unit = &g_array_index (units, InsightLifeUnit, i);

      if (!insight_life_counts (unit))
        continue;
      life->n++;
      if (unit->failed)
        life->failed++;
      else
        life->stopped[life->n_stopped++] = unit->cycles;
    }
  qsort (life->stopped, life->n_stopped, sizeof *life->stopped, compare_cycles);
}

static gboolean
take_criterion (InsightLife *life, const BookEvidence *e, int criterion, const InsightLook *look, const InsightSpan *span,
                GCancellable *cancellable, GError **error)
{
  InsightTerms terms;

  if (criterion < 0)
    return TRUE;
  life->standing = insight_standing_of (e, (guint) criterion, span, cancellable, error);
  if (life->standing == NULL)
    return FALSE;
  terms = insight_terms_on (e, (guint) criterion, look->end);
  life->share = terms.share;
  if (terms.term == NULL)
    return TRUE;
  life->wanted_cycles = terms.term->cycles;
  life->wanted_load = terms.term->load;
  life->shape.low = terms.term->shape_low;
  life->shape.high = isnan (terms.term->shape_high) ? terms.term->shape_low : terms.term->shape_high;
  return TRUE;
}

/* Everything about the characteristic at @characteristic, once it is known. */
static gboolean
fill (InsightLife *life, const BookEvidence *e, int characteristic, const InsightSpan *span, int through, BookDay today,
      GCancellable *cancellable, GError **error)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  g_autoptr(InsightBasis) basis = insight_basis_new (e);
  g_autoptr(InsightLook) look = insight_look_new (basis, through, insight_round_end (e, through, today));
  int criterion = criterion_of (e, characteristic);
  g_autoptr(GArray) units = NULL;
  g_autofree guint *places = NULL;

  life->characteristic = one->id;
  life->code = g_strdup (one->code);
  life->name = g_strdup (one->name);
  life->unit = g_strdup (one->unit);
  life->decimals = one->decimals;
  if (!take_criterion (life, e, criterion, look, span, cancellable, error))
    return FALSE;
  units = insight_life_units (look, characteristic,
                              criterion >= 0 ? e->criteria[criterion].counts_from : BOOK_COUNTS_PROTOTYPE, life->wanted_load);
  places = take_tests (life, e, look, characteristic, units);
  count_units (life, units);
  insight_life_add_modes (life, e, units);
  insight_life_add_growth (life, e, places, life->n_tests);
  insight_life_add_plan (life, e, units);
  return TRUE;
}

/**
 * insight_life:
 * @evidence: the records of a model; its readings are not asked for
 * @characteristic: key; 0: the one with most tests
 * @span: through which round, as of which day
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Pure: the same records and span give the same answer.
 *
 * Returns: (transfer full) (nullable): what life tests say; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE,
 * %INSIGHT_ERROR_CHARACTERISTIC, %G_IO_ERROR_CANCELLED
 */
InsightLife *
insight_life (const BookEvidence *evidence, gint64 characteristic, const InsightSpan *span, GCancellable *cancellable,
              GError **error)
{
  g_autoptr(InsightLife) life = NULL;
  int through, place;
  BookDay today, end;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;
  end = through >= 0 ? insight_round_end (evidence, through, today) : today;

  life = g_new0 (InsightLife, 1);
  life->model = evidence->model_id;
  life->model_code = g_strdup (evidence->code);
  life->today = book_day_format (today);
  life->choices = g_ptr_array_new_with_free_func (free_choice);
  life->wanted_cycles = life->wanted_load = life->share = life->survival = life->plan_wanted = (double) NAN;
  life->shape = (NumInterval){ (double) NAN, (double) NAN };
  life->growth.fit.mtbf = life->growth.fit.beta = (double) NAN;
  life->plan_units = g_array_new (FALSE, FALSE, sizeof (InsightLifePlan));
  life->plan_cycles = g_array_new (FALSE, FALSE, sizeof (InsightLifePlan));
  place = choose (life, evidence, characteristic, end);
  if (place < 0 && characteristic != 0)
    {
      g_set_error (error, INSIGHT_ERROR, INSIGHT_ERROR_CHARACTERISTIC,
                   _("The model '%s' has no such characteristic: choose one of its own."), evidence->code);
      return NULL;
    }
  if (place >= 0 && through >= 0 && !fill (life, evidence, place, span, through, today, cancellable, error))
    return NULL;
  return g_steal_pointer (&life);
}

static void
free_growth (InsightLifeGrowth *growth)
{
  for (guint i = 0; i < growth->n; i++)
    g_free (growth->serials[i]);
  for (guint i = 0; i < growth->n_rounds; i++)
    g_free (growth->rounds[i].label);
  g_free (growth->times);
  g_free (growth->units);
  g_free (growth->serials);
  g_free (growth->rounds);
}

static void
free_modes (InsightLifeMode *modes, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      for (guint k = 0; k < modes[i].n_points; k++)
        g_free (modes[i].points[k].serial);
      g_free (modes[i].points);
      g_free (modes[i].line);
      g_free (modes[i].title);
    }
  g_free (modes);
}

void
insight_life_free (InsightLife *life)
{
  if (life == NULL)
    return;

  for (guint i = 0; i < life->n_tests; i++)
    {
      g_free (life->tests[i].date);
      g_free (life->tests[i].round);
      g_free (life->tests[i].serial);
      g_free (life->tests[i].mode);
    }
  g_free (life->tests);
  g_free (life->stopped);
  free_modes (life->modes, life->n_modes);
  free_growth (&life->growth);
  g_clear_pointer (&life->standing, insight_standing_unref);
  g_array_unref (life->plan_units);
  g_array_unref (life->plan_cycles);
  g_ptr_array_unref (life->choices);
  g_free (life->model_code);
  g_free (life->today);
  g_free (life->code);
  g_free (life->name);
  g_free (life->unit);
  g_free (life);
}
