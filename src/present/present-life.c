/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-life.h"

#include "present-number.h"
#include "present-reason.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/**
 * present_cycles:
 * @cycles: a number of cycles; NAN: empty
 *
 * Returns: (transfer full): to four figures at most, whole from 100 on
 */
char *
present_cycles (double cycles)
{
  int digits;

  if (!isfinite (cycles))
    return g_strdup ("");
  digits = cycles > 0.0 ? (int) floor (log10 (cycles)) + 1 : 1;
  if (digits > 4)
    {
      double step = pow (10.0, digits - 4);

      cycles = round (cycles / step) * step;
    }
  return present_number (cycles, cycles == round (cycles) || digits > 2 ? 0 : 1);
}

/* A number that was entered or planned: as it is. */
static char *
exact_cycles (double cycles)
{
  return isfinite (cycles) ? present_number (cycles, cycles == round (cycles) ? 0 : 1) : g_strdup ("");
}

static char *
percent (double share)
{
  g_autofree char *number = isfinite (share) ? present_number (100.0 * share, share < 0.095 || share > 0.995 ? 1 : 0) : NULL;

  /* Translators: a share as a percentage */
  return number != NULL ? g_strdup_printf (_("%s %%"), number) : g_strdup ("");
}

static char *
chance (double value)
{
  guint times, in;

  if (!isfinite (value))
    return g_strdup ("");
  present_chance (value, &times, &in);
  if (times == 0)
    return g_strdup_printf (_("under 1 in %u"), in);
  return g_strdup_printf (_("%u in %u"), times, in);
}

static const char *
mode_name (const InsightLifeMode *mode)
{
  return mode->issue != 0 ? mode->title : _("no issue named");
}

/* ---- sentences ---- */

static char *
without_criterion (const InsightLife *life)
{
  g_autofree char *b10 = NULL, *least = NULL;

  if (life->choices->len == 0)
    return g_strdup (_("The model has no characteristic yet: enter one on the Set-up page, then what is cycled is counted here."));
  if (life->characteristic == 0)
    return g_strdup (_("No characteristic of this model is cycled yet: choose one, and enter the first test."));
  if (life->n_tests == 0)
    return g_strdup_printf (_("No life test of \"%s\" was entered yet."), life->name);
  if (life->n == 0)
    return g_strdup_printf (_("No life test of \"%s\" counts for the present state of design."), life->name);
  if (life->n_modes != 1 || !life->modes[0].fitted)
    return g_strdup_printf (ngettext ("%u unit was cycled that counts; no criterion asks how long \"%s\" must live.",
                                      "%u units were cycled that count; no criterion asks how long \"%s\" must live.", life->n),
                            life->n, life->name);
  b10 = present_cycles (life->modes[0].fit.b10);
  least = present_cycles (life->modes[0].fit.b10_low);
  return g_strdup_printf (_("By the line 10 in 100 units fail within %s cycles, at 90 %% confidence not before %s; no criterion asks how long \"%s\" must live."),
                          b10, least, life->name);
}

static char *
figures_of (const InsightLife *life)
{
  g_autofree char *counted = NULL, *failed = NULL, *stopped = NULL;
  guint others = life->n_tests > life->n ? life->n_tests - life->n : 0;

  if (life->n_tests == 0)
    return g_strdup ("");
  counted = g_strdup_printf (ngettext ("%u unit counted", "%u units counted", life->n), life->n);
  failed = g_strdup_printf (ngettext ("%u failed", "%u failed", life->failed), life->failed);
  stopped = g_strdup_printf (ngettext ("%u stopped", "%u stopped", life->n_stopped), life->n_stopped);
  if (others == 0)
    return g_strdup_printf ("%s: %s, %s", counted, failed, stopped);
  return g_strdup_printf (ngettext ("%s: %s, %s; %u further test does not count", "%s: %s, %s; %u further tests do not count", others),
                          counted, failed, stopped, others);
}

static void
add_remarks (PresentLife *present, const InsightLife *life)
{
  g_autofree char *share = NULL;

  present->remarks = g_ptr_array_new_with_free_func (g_free);
  if (present->standing != NULL)
    {
      const PresentCriterion *criterion = present->standing->criteria->pdata[0];

      for (guint i = 0; i < criterion->remarks->len; i++)
        g_ptr_array_add (present->remarks, g_strdup (criterion->remarks->pdata[i]));
    }
  if (!isnan (life->survival))
    {
      share = percent (floor (1000.0 * life->survival) / 1000.0);
      g_ptr_array_add (present->remarks, g_strdup_printf (_("By the lines %s of units live as long as wanted; that is an estimate, not a promise."), share));
    }
}

static void
add_steps (PresentLife *present, const InsightLife *life)
{
  present->steps = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; life->standing != NULL && i < life->standing->steps->len; i++)
    g_ptr_array_add (present->steps, present_step (life->standing->steps->pdata[i], life->standing));
}

static char *
plan_words (const InsightLife *life)
{
  const InsightLifePlan *row;
  g_autofree char *cycles = NULL;
  const char *words;
  g_autofree char *bad = NULL;

  if (life->plan_units->len == 0)
    return g_strdup ("");
  row = &g_array_index (life->plan_units, InsightLifePlan, 0);
  if (row->failures > 0)
    return g_strdup ("");
  cycles = exact_cycles (row->cycles);
  bad = chance (row->bad_passes);
  words = life->plan_fresh
              ? ngettext ("After a change, %u unit cycled to %s cycles without a failure would prove it; chance that a design which fails exactly as often as tolerated passes that: %s.",
                          "After a change, %u units cycled to %s cycles without a failure would prove it; chance that a design which fails exactly as often as tolerated passes that: %s.",
                          row->units)
              : ngettext ("%u more unit cycled to %s cycles without a failure would prove it; chance that a design which fails exactly as often as tolerated passes that: %s.",
                          "%u more units cycled to %s cycles without a failure would prove it; chance that a design which fails exactly as often as tolerated passes that: %s.",
                          row->units);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  return g_strdup_printf (words, row->units, cycles, bad);
#pragma GCC diagnostic pop
}

static char *
growth_words (const InsightLife *life)
{
  const InsightLifeGrowth *growth = &life->growth;
  g_autofree char *mtbf = present_cycles (growth->fit.mtbf);
  g_autofree char *low = present_cycles (growth->fit.mtbf_interval.low);
  g_autofree char *high = present_cycles (growth->fit.mtbf_interval.high);

  switch (growth->state)
    {
    case INSIGHT_GROWTH_TOO_FEW:
      return g_strdup_printf (ngettext ("With %u failure in all rounds it is too early to tell whether failures come more seldom.",
                                        "With %u failures in all rounds it is too early to tell whether failures come more seldom.", growth->n),
                              growth->n);
    case INSIGHT_GROWTH_NOT_LAW:
      return g_strdup (_("The failures do not follow the law by which growth is told, so no figure can be given; look at the steps of the curve."));
    case INSIGHT_GROWTH_NONE:
      return g_strdup_printf (_("Over all rounds a failure comes about every %s cycles (%s to %s); whether they come more seldom than at the beginning, it is too early to tell."),
                              mtbf, low, high);
    case INSIGHT_GROWTH_UP:
      return g_strdup_printf (_("Failures come more seldom than at the beginning: at the end about one every %s cycles (%s to %s)."), mtbf, low, high);
    case INSIGHT_GROWTH_DOWN:
      return g_strdup_printf (_("Failures come more often than at the beginning: at the end about one every %s cycles (%s to %s)."), mtbf, low, high);
    }
  return g_strdup ("");
}

static char *
method_words (const InsightLife *life)
{
  GString *words = g_string_new (_("Each way of failing is looked at by itself, with units that failed otherwise as stopped. Points by the product-limit curve, line by maximum likelihood from three failures on, band at 90 % for each point."));

  if (life->standing != NULL)
    {
      g_string_append_c (words, ' ');
      g_string_append (words, _("With three failures of one way or more the confidence comes from tests drawn from a line that lives exactly as long as tolerated; with fewer from the range of shapes stated beforehand, at its worst."));
    }
  if (life->growth.n > 0)
    {
      g_string_append_c (words, ' ');
      g_string_append (words, _("Growth runs all cycles one after another, in order of date, whatever the state of design, by a power law; intervals at 90 %."));
    }
  if (life->growth.mixed_loads)
    {
      g_string_append_c (words, ' ');
      g_string_append (words, _("Tests under different loads are put together there."));
    }
  return g_string_free (words, FALSE);
}

/* ---- tables ---- */

static gboolean
is_failure_of (const InsightLifeTest *test, const InsightLifeMode *mode)
{
  return test->failed && test->issue == mode->issue && test->counting == INSIGHT_COUNTS && !test->again && !test->short_load;
}

static void
add_test_source (PresentSheet *sheet, const InsightLifeTest *test)
{
  g_autofree char *cycles = exact_cycles (test->cycles);

  /* Translators: a life test: serial of its unit, cycles */
  present_sheet_add_source (sheet, "life_test", test->id, g_strdup_printf (_("%s, %s cycles"), test->serial, cycles));
}

static PresentSheet *
modes_sheet (const InsightLife *life)
{
  PresentSheet *sheet = present_sheet_new (_("Ways of failing"));

  present_sheet_add_column (sheet, _("way of failing"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("failed"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("stopped"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("shape"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("63 in 100 fail by"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("10 in 100 fail by"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("not before"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("live as long as wanted"), TRUE, FALSE, 2);
  for (guint i = 0; i < life->n_modes; i++)
    {
      const InsightLifeMode *mode = &life->modes[i];
      g_autofree char *low = mode->fitted ? present_number (mode->fit.shape_interval.low, 1) : NULL;
      g_autofree char *high = mode->fitted ? present_number (mode->fit.shape_interval.high, 1) : NULL;
      g_autofree char *shape = mode->fitted ? present_number (mode->fit.shape, 1) : NULL;

      present_sheet_add_row (
          sheet, mode->issue != 0 ? "issue" : NULL, mode->issue, mode->issue == 0,
          PRESENT_CELLS (mode->issue != 0 ? g_strdup_printf ("%d %s", mode->issue_no, mode->title) : g_strdup (mode_name (mode)),
                         g_strdup_printf ("%u", mode->failures), g_strdup_printf ("%u", life->n - mode->failures),
                         mode->fitted ? g_strdup_printf (_("%s (%s to %s)"), shape, low, high) : g_strdup (_("too few for a line")),
                         mode->fitted ? present_cycles (mode->fit.scale) : g_strdup (""),
                         mode->fitted ? present_cycles (mode->fit.b10) : g_strdup (""),
                         mode->fitted ? present_cycles (mode->fit.b10_low) : g_strdup (""),
                         percent (floor (1000.0 * mode->survival) / 1000.0)));
      for (guint k = 0; k < life->n_tests; k++)
        if (is_failure_of (&life->tests[k], mode))
          add_test_source (sheet, &life->tests[k]);
    }
  return sheet;
}

static PresentSheet *
plan_sheet (const InsightLife *life, GArray *rows, const char *title, gboolean units_first)
{
  const InsightCriterion *criterion = life->standing != NULL ? life->standing->criteria->pdata[0] : NULL;
  PresentSheet *sheet = present_sheet_new (title);

  present_sheet_add_column (sheet, units_first ? _("units") : _("cycles each"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, units_first ? _("cycles each") : _("units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("may fail"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("chance to get there"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("a design that fails as often as tolerated gets there"), TRUE, TRUE, 0);
  for (guint i = 0; i < rows->len; i++)
    {
      const InsightLifePlan *row = &g_array_index (rows, InsightLifePlan, i);
      char *units = g_strdup_printf ("%u", row->units), *cycles = exact_cycles (row->cycles);

      present_sheet_add_row (sheet, criterion != NULL ? "criterion" : "characteristic",
                             criterion != NULL ? criterion->id : life->characteristic, FALSE,
                             PRESENT_CELLS (units_first ? units : cycles, units_first ? cycles : units,
                                            g_strdup_printf ("%u", row->failures), chance (row->assurance), chance (row->bad_passes)));
    }
  return sheet;
}

static PresentSheet *
rounds_sheet (const InsightLife *life)
{
  PresentSheet *sheet = present_sheet_new (_("Over the rounds"));

  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("tests"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("failed"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("cycles"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("cycles a failure"), TRUE, FALSE, 0);
  for (guint i = 0; i < life->growth.n_rounds; i++)
    {
      const InsightLifeRound *round = &life->growth.rounds[i];
      g_autofree char *all = exact_cycles (round->cycles);

      present_sheet_add_row (sheet, "round", round->round, FALSE,
                             PRESENT_CELLS (g_strdup (round->label), g_strdup_printf ("%u", round->tests),
                                            g_strdup_printf ("%u", round->failures), g_strdup (all),
                                            round->failures > 0 ? present_cycles (round->cycles / round->failures)
                                                                : g_strdup_printf (_("over %s"), all)));
      for (guint k = 0; k < life->n_tests; k++)
        if (g_str_equal (life->tests[k].round, round->label))
          add_test_source (sheet, &life->tests[k]);
    }
  return sheet;
}

static const char *
counts_words (const InsightLifeTest *test)
{
  if (test->counting != INSIGHT_COUNTS)
    return present_counting_words (test->counting);
  if (test->again)
    return _("tested before");
  return test->short_load ? _("load too low") : _("counts");
}

static PresentSheet *
tests_sheet (const InsightLife *life)
{
  PresentSheet *sheet = present_sheet_new (_("Tests"));

  present_sheet_add_column (sheet, _("no"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("date"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("unit"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("load"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("cycles"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("ended"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("way of failing"), FALSE, TRUE, 1);
  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  for (guint i = 0; i < life->n_tests; i++)
    {
      const InsightLifeTest *test = &life->tests[i];

      present_sheet_add_row (sheet, "unit", test->unit, FALSE,
                             PRESENT_CELLS (g_strdup_printf ("%d", test->no), g_strdup (test->date), g_strdup (test->round),
                                            g_strdup (test->serial), isnan (test->load) ? g_strdup ("") : present_value (test->load, life->decimals, life->unit),
                                            exact_cycles (test->cycles), g_strdup (test->failed ? _("failed") : _("stopped")),
                                            g_strdup (test->mode), g_strdup (counts_words (test))));
    }
  return sheet;
}

/**
 * present_life_new:
 * @life: the answer; borrowed
 * @caution_added: (nullable): what the shop adds to the caution
 *
 * Returns: (transfer full): the same in words
 */
PresentLife *
present_life_new (const InsightLife *life, const char *caution_added)
{
  PresentLife *present = g_new0 (PresentLife, 1);

  present->data = life;
  if (life->standing != NULL)
    present->standing = present_standing_new (life->standing, caution_added);
  present->headline = present->standing != NULL
                          ? g_strdup (((const PresentCriterion *) present->standing->criteria->pdata[0])->sentence)
                          : without_criterion (life);
  present->figures = figures_of (life);
  add_remarks (present, life);
  add_steps (present, life);
  present->growth = growth_words (life);
  present->plan = plan_words (life);
  present->method = method_words (life);
  present->caution = present_caution_with (caution_added);
  present->modes = modes_sheet (life);
  present->plan_units = plan_sheet (life, life->plan_units, _("Units that would prove it, at given cycles"), TRUE);
  present->plan_cycles = plan_sheet (life, life->plan_cycles, _("Cycles that would prove it, with given units"), FALSE);
  present->rounds = rounds_sheet (life);
  present->tests = tests_sheet (life);
  return present;
}

void
present_life_free (PresentLife *present)
{
  if (present == NULL)
    return;

  g_clear_pointer (&present->standing, present_standing_free);
  g_free (present->headline);
  g_free (present->figures);
  g_ptr_array_unref (present->remarks);
  g_ptr_array_unref (present->steps);
  g_free (present->growth);
  g_free (present->plan);
  g_free (present->method);
  g_free (present->caution);
  present_sheet_free (present->modes);
  present_sheet_free (present->plan_units);
  present_sheet_free (present->plan_cycles);
  present_sheet_free (present->rounds);
  present_sheet_free (present->tests);
  g_free (present);
}

/**
 * present_life_to_text:
 * @present: in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_life_to_text (const PresentLife *present, guint width)
{
  const PresentSheet *const sheets[]
      = { present->tests, present->modes, present->plan_units, present->plan_cycles, present->rounds };
  GString *text = g_string_new (NULL);

  present_text_add (text, present->headline, width, "", "");
  present_text_add (text, present->figures, width, "", "");
  for (guint i = 0; i < present->remarks->len; i++)
    present_text_add (text, present->remarks->pdata[i], width, "", "");
  for (guint i = 0; i < present->steps->len; i++)
    present_text_add (text, present->steps->pdata[i], width, "", "");
  present_text_add (text, present->plan, width, "", "");
  if (present->data->growth.n_rounds > 0)
    present_text_add (text, present->growth, width, "", "");
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  g_string_append_c (text, '\n');
  present_text_add (text, present->method, width, "", "");
  present_text_add (text, present->caution, width, "", "");
  return g_string_free (text, FALSE);
}
