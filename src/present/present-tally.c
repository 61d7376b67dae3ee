/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-tally.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book-evidence.h"
#include "present-number.h"

char *
present_tally_refusal (const InsightTally *tally, const BookEvidence *evidence)
{
  switch (tally->state)
    {
    case INSIGHT_TALLY_OPEN:
      return NULL;
    case INSIGHT_TALLY_SERIALS:
      return g_strdup_printf (_("At step %d %s the units of round %s have serials and are counted by what happens to them; a tally would "
                                "count them twice. Say of each unit what happened, on the Bench page (Alt+Shift+B)."),
                              evidence->steps[tally->step].position, evidence->steps[tally->step].name,
                              evidence->rounds[tally->round].label);
    case INSIGHT_TALLY_DECIDED:
      return g_strdup_printf (_("Round %s is decided: choose the one that is running."), evidence->rounds[tally->round].label);
    case INSIGHT_TALLY_NO_ROUND:
      return g_strdup (_("No round is running: plan the next one (Ctrl+B), then its pieces are counted here."));
    case INSIGHT_TALLY_NO_STEP:
      return g_strdup (_("The model has no steps yet: write down its route, then each step is counted here."));
    }
  g_return_val_if_reached (NULL);
}

static void
say (GString *words, char *sentence)
{
  if (*sentence != '\0')
    g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", sentence);
  g_free (sentence);
}

char *
present_tally_today (const InsightTally *tally)
{
  guint n = tally->good + tally->reworked + tally->waiting + tally->scrapped;
  GString *words = g_string_new (NULL);

  if (n == 0)
    say (words, g_strdup (_("Nothing was counted here today.")));
  else
    say (words, g_strdup_printf (ngettext ("%u piece was counted here today.", "%u pieces were counted here today.", n), n));
  if (tally->waiting_all > 0)
    say (words, g_strdup_printf (ngettext ("%u waits for rework.", "%u wait for rework.", tally->waiting_all), tally->waiting_all));
  return g_string_free (words, FALSE);
}

static char *
percent_range (double low, double high)
{
  g_autofree char *first = present_number (100.0 * low, 0), *last = present_number (100.0 * high, 0);

  if (g_str_equal (first, last))
    return present_value (100.0 * low, 0, "%");
  /* Translators: a range of percentages */
  return g_strdup_printf (_("%s to %s %%"), first, last);
}

/**
 * present_tally_yield:
 * @step: what was counted at the step in the round
 *
 * Returns: (transfer full): the share good the first time with interval and n, and the share good in the end
 */
char *
present_tally_yield (const InsightPilotStep *step)
{
  g_autofree char *first = NULL, *between = NULL, *final = NULL, *sure = present_value (100.0 * INSIGHT_PILOT_CONFIDENCE, 0, "%");
  GString *words = g_string_new (NULL);

  if (step == NULL || step->n == 0)
    return g_string_free (words, FALSE);
  first = present_value (100.0 * step->first_pass, 0, "%");
  between = percent_range (step->first_interval.low, step->first_interval.high);
  say (words, g_strdup_printf (ngettext ("In this round %s of %u piece was good the first time (%s, with a confidence of %s).",
                                         "In this round %s of %u pieces were good the first time (%s, with a confidence of %s).", step->n),
                               first, step->n, between, sure));
  final = percent_range (step->final_range.low, step->final_range.high);
  if (step->waiting > 0)
    say (words, g_strdup_printf (ngettext ("In the end %s are good, as %u that waits turns out.", "In the end %s are good, as %u that wait turn out.",
                                           step->waiting),
                                 final, step->waiting));
  else
    say (words, g_strdup_printf (_("In the end %s are good."), final));
  return g_string_free (words, FALSE);
}

char *
present_tally_unnamed (const InsightTally *tally)
{
  return tally->unnamed > 0
             ? g_strdup_printf (ngettext ("%u piece of yours of today has no issue yet: tap what took it away.",
                                          "%u pieces of yours of today have no issue yet: tap what took them away.", tally->unnamed),
                                tally->unnamed)
             : g_strdup ("");
}
