/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-forecast.h"

#include "present-leadtime.h"
#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A date at which fewer futures were ready than are asked for is none. */
static const char *
date_words (const char *date)
{
  return *date != '\0' ? date : _("later than can be told");
}

static char *
headline (const InsightForecastInput *input, const InsightForecast *forecast)
{
  if (input->n_asked == 0)
    return g_strdup (_("No criterion is asked for yet, so it cannot be said when it is ready."));
  if (input->n_criteria == 0)
    return g_strdup (_("Nothing blocks: there is nothing to wait for."));
  if (forecast->status == NUM_NO_SOLUTION)
    return g_strdup (_("No date can be told: one of the criteria cannot be met by any number of units."));
  if (forecast->status != NUM_OK)
    return g_strdup (_("No date can be told: nothing that blocks can be foreseen from what was measured."));
  if (input->n_lengths < NUM_FORECAST_LENGTHS)
    return g_strdup_printf (_("Under these assumptions it is ready between %s and %s in 8 of 10 futures; with fewer than three finished rounds no more can be said."),
                            date_words (forecast->range[0].date), date_words (forecast->range[1].date));
  return g_strdup_printf (_("Under these assumptions it is ready by %s in 5 of 10 futures, and by %s in 8 of 10."),
                          date_words (forecast->dates[0].date), date_words (forecast->dates[1].date));
}

static char *
note (const InsightForecastInput *input, const InsightForecast *forecast)
{
  GString *text = g_string_new (NULL);
  guint left = input->n_criteria - input->n_in;

  if (left > 0)
    g_string_append_printf (text, ngettext ("%u criterion that blocks is left out, so that the dates are those of the rest.",
                                            "%u criteria that block are left out, so that the dates are those of the rest.", left), left);
  if (forecast->status == NUM_OK && forecast->never > 0.0)
    {
      g_autofree char *share = present_failing_share (forecast->never);

      if (text->len > 0)
        g_string_append_c (text, ' ');
      g_string_append_printf (text, _("%s of the futures were not ready within %d further rounds."), share, NUM_FORECAST_ROUNDS);
    }
  return g_string_free (text, FALSE);
}

static void
add_assumption (PresentSheet *sheet, const char *what, char *set, char *records, char *of)
{
  present_sheet_add_row (sheet, NULL, 0, FALSE, PRESENT_CELLS (g_strdup (what), set, records, of));
}

static char *
n_rounds (guint n)
{
  return g_strdup_printf (ngettext ("%u round", "%u rounds", n), n);
}

/* From three finished rounds on their lengths, else a person's range. */
static void
add_length (PresentSheet *sheet, const InsightForecastInput *input, const InsightForecastSettings *settings)
{
  g_autofree char *low = present_number (settings->shortest, 0), *high = present_number (settings->longest, 0);
  g_autofree char *least = NULL, *most = NULL;
  double shortest = INFINITY, longest = 0.0;

  for (guint i = 0; i < input->n_lengths; i++)
    {
      shortest = MIN (shortest, input->lengths[i].days);
      longest = MAX (longest, input->lengths[i].days);
    }
  least = present_number (shortest, 0);
  most = present_number (longest, 0);
  add_assumption (sheet, _("working days of a round"),
                  input->n_lengths >= NUM_FORECAST_LENGTHS ? g_strdup (_("as so far")) : g_strdup_printf (_("%s to %s"), low, high),
                  input->n_lengths > 0 ? g_strdup_printf (_("%s to %s"), least, most) : g_strdup (_("nothing")), n_rounds (input->n_lengths));
}

static char *
waits_name (const InsightForecastWaits *waits)
{
  return g_strdup (*waits->name != '\0' ? waits->name : present_wait_words (waits->reason));
}

static PresentSheet *
assumptions_sheet (const InsightForecastInput *input, const InsightForecastSettings *settings)
{
  PresentSheet *sheet = present_sheet_new (_("Assumptions"));
  const guint fixes = input->defaults.worked + input->defaults.failed;

  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("set"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("from the records"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("of"), TRUE, FALSE, 2);
  add_assumption (sheet, _("units a round of each criterion"),
                  settings->more_units > 0
                      ? g_strdup_printf (ngettext ("%u more", "%u more", settings->more_units), settings->more_units)
                      : g_strdup (_("as so far")),
                  g_strdup (_("its newest round")), g_strdup (""));
  add_length (sheet, input, settings);
  if (settings->waits >= 0)
    {
      const InsightForecastWaits *waits = &input->waits[settings->waits];
      g_autofree char *name = waits_name (waits);
      g_autofree char *what = g_strdup_printf (_("each wait for: %s"), name);
      g_autofree char *most = present_number (settings->wait_most, 0), *mean = present_number (waits->days / waits->n, 0);

      add_assumption (sheet, what, g_strdup_printf (_("at most %s working days"), most), g_strdup_printf (_("%s on average"), mean),
                      g_strdup_printf (ngettext ("%u wait", "%u waits", waits->n), waits->n));
    }
  add_assumption (sheet, _("fixes that hold"),
                  g_strdup_printf (_("%u of %u"), settings->worked, settings->worked + settings->failed),
                  g_strdup_printf (_("%u of %u"), input->defaults.worked, fixes),
                  g_strdup_printf (ngettext ("%u fix", "%u fixes", fixes), fixes));
  add_assumption (sheet, _("share failing after a fix that holds"), present_failing_share (settings->residual),
                  g_strdup (_("a tenth of the tolerated share")), g_strdup (""));
  if (*input->begin_round != '\0')
    {
      g_autofree char *what = g_strdup_printf (_("the first further round is: %s"), input->begin_round);

      add_assumption (sheet, what, g_strdup_printf (_("since %s"), input->begin), g_strdup (input->begin), g_strdup (""));
    }
  else
    add_assumption (sheet, _("the next round begins"), g_strdup (_("today")), g_strdup (input->today), g_strdup (""));
  return sheet;
}

static const char *
left_words (InsightForecastLeft left)
{
  switch (left)
    {
    case INSIGHT_FORECAST_LEFT_RUN:
      return _("left out: comes with a run, a study or things to be done, not with units a round");
    case INSIGHT_FORECAST_LEFT_NO_VALUES:
      return _("left out: fewer than two values in the present state of design");
    case INSIGHT_FORECAST_LEFT_NO_LIMITS:
      return _("left out: has no limits, or no share that may fail");
    case INSIGHT_N_FORECAST_LEFTS:
      break;
    }
  return "";
}

static PresentSheet *
criteria_sheet (const InsightForecastInput *input, const InsightForecastSettings *settings)
{
  PresentSheet *sheet = present_sheet_new (_("What blocks"));

  present_sheet_add_column (sheet, _("criterion"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("units so far"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("failing"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("attempt"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("units a round"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 2);
  for (guint i = 0; i < input->n_criteria; i++)
    {
      const InsightForecastCriterion *criterion = &input->criteria[i];
      const NumForecastCriterion *play = &criterion->play;

      if (!criterion->is_in)
        present_sheet_add_row (sheet, "criterion", criterion->id, TRUE,
                               PRESENT_CELLS (g_strdup (criterion->code), g_strdup (""), g_strdup (""), g_strdup (""), g_strdup (""),
                                              g_strdup (left_words (criterion->left))));
      else
        present_sheet_add_row (sheet, "criterion", criterion->id, FALSE,
                               PRESENT_CELLS (g_strdup (criterion->code), g_strdup_printf ("%zu", play->n),
                                              play->measured ? g_strdup ("") : g_strdup_printf ("%zu", play->failed),
                                              g_strdup_printf ("%zu", play->attempt),
                                              g_strdup_printf ("%zu", play->units_round + settings->more_units),
                                              g_strdup (play->measured ? _("by its values") : _("by count"))));
    }
  return sheet;
}

static char *
help_words (const InsightForecastInput *input, const InsightForecastHelp *help)
{
  g_autofree char *name = help->waits >= 0 ? waits_name (&input->waits[help->waits]) : NULL;

  if (name != NULL)
    return g_strdup_printf (_("each wait at most %d working days: %s"), (int) INSIGHT_FORECAST_WAIT, name);
  if (help->criterion >= 0)
    return g_strdup_printf (_("this criterion met at once: %s"), input->criteria[help->criterion].code);
  return g_strdup_printf (ngettext ("%u more unit a round", "%u more units a round", help->more_units), help->more_units);
}

static PresentSheet *
helps_sheet (const InsightForecastInput *input, GArray *helps)
{
  PresentSheet *sheet = present_sheet_new (_("What would help most"));

  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("working days earlier"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("5 of 10 by"), FALSE, FALSE, 1);
  for (guint i = 0; helps != NULL && i < helps->len; i++)
    {
      const InsightForecastHelp *help = &g_array_index (helps, InsightForecastHelp, i);

      present_sheet_add_row (sheet, help->criterion >= 0 ? "criterion" : NULL,
                             help->criterion >= 0 ? input->criteria[help->criterion].id : 0, FALSE,
                             PRESENT_CELLS (help_words (input, help), isfinite (help->gain) ? present_number (floor (help->gain), 0) : g_strdup (_("many")),
                                            g_strdup (date_words (help->date))));
    }
  return sheet;
}

/* What it was told from: nobody could know then what was entered later. */
static const char *
past_source (const InsightForecastPast *past)
{
  if (past->recorded)
    return past->late ? _("by what was recorded then; some was entered later") : _("by what was recorded then");
  if (past->unread) /* a dossier goes through short journals only: whoever opens a page is not to wait for it */
    return past->late ? _("the journal of this book is too long to be gone through here, so by what had happened, some of it entered later: "
                          "'fettle-batch forecast --earlier' goes through it")
                      : _("the journal of this book is too long to be gone through here, so by what had happened: "
                          "'fettle-batch forecast --earlier' goes through it");
  return past->late ? _("nothing was recorded then: by what had happened, some of it entered later")
                    : _("nothing was recorded then: by what had happened");
}

static char *
past_words (const InsightForecastPast *past)
{
  if (past->status == NUM_TOO_FEW)
    return g_strdup_printf (_("nothing could be foreseen (%s)"), past_source (past));
  if (past->status != NUM_OK)
    return g_strdup_printf (_("no number of units would have done (%s)"), past_source (past));
  return g_strdup (past_source (past));
}

static PresentSheet *
past_sheet (GArray *list)
{
  PresentSheet *sheet = present_sheet_new (_("What earlier rounds would have said"));

  present_sheet_add_column (sheet, _("after"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("5 of 10 by"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("8 of 10 by"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("met"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  for (guint i = 0; i < list->len; i++)
    {
      const InsightForecastPast *past = &g_array_index (list, InsightForecastPast, i);
      gboolean said = past->status == NUM_OK;

      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (g_strdup (past->round), g_strdup (past->decided), g_strdup (said ? date_words (past->dates[0]) : ""),
                                            g_strdup (said ? date_words (past->dates[1]) : ""),
                                            g_strdup (*past->met != '\0' ? past->met : _("not yet")), past_words (past)));
    }
  return sheet;
}

/**
 * present_forecast_new:
 * @input: what it is made of
 * @settings: as they are set
 * @forecast: the answer
 * @helps: (element-type InsightForecastHelp) (nullable): what would help
 * @past: (element-type InsightForecastPast) (nullable): what earlier rounds would have said
 *
 * Returns: (transfer full): the same in words
 */
PresentForecast *
present_forecast_new (const InsightForecastInput *input, const InsightForecastSettings *settings, const InsightForecast *forecast,
                      GArray *helps, GArray *past)
{
  PresentForecast *present = g_new0 (PresentForecast, 1);

  present->headline = headline (input, forecast);
  present->note = note (input, forecast);
  if (input->n_criteria > 0)
    present->assumptions = assumptions_sheet (input, settings);
  else
    present->assumptions = present_sheet_new (_("Assumptions"));
  present->criteria = criteria_sheet (input, settings);
  present->helps = helps_sheet (input, helps);
  present->past = past != NULL ? past_sheet (past) : NULL;
  return present;
}

void
present_forecast_free (PresentForecast *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_free (present->note);
  present_sheet_free (present->assumptions);
  present_sheet_free (present->criteria);
  present_sheet_free (present->helps);
  g_clear_pointer (&present->past, present_sheet_free);
  g_free (present);
}

/**
 * present_forecast_to_text:
 * @present: in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_forecast_to_text (const PresentForecast *present, guint width)
{
  const PresentSheet *const sheets[] = { present->assumptions, present->criteria, present->helps, present->past };
  GString *text = g_string_new (NULL);

  present_text_add (text, present->headline, width, "", "");
  present_text_add (text, present->note, width, "", "");
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  return g_string_free (text, FALSE);
}
