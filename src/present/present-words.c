/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single words and short texts: states, methods, why a mark does not count, the caution. */

#include "config.h"

#include "present-reason.h"

#include <glib/gi18n-lib.h>

/**
 * present_state_words:
 *
 * Returns: the state as a word
 */
const char *
present_state_words (InsightState state)
{
  switch (state)
    {
    case INSIGHT_MET:
      return _("met");
    case INSIGHT_TOO_FEW:
      return _("too few to tell");
    case INSIGHT_AGAINST:
      return _("against");
    case INSIGHT_NO_LONGER:
      return _("no longer counts");
    case INSIGHT_NO_DATA:
      return _("no data");
    }
  return "";
}

/**
 * present_state_sign:
 *
 * Returns: the state as one shape, so that it is never told by colour alone; all differ also in black and white
 */
const char *
present_state_sign (InsightState state)
{
  switch (state)
    {
    case INSIGHT_MET:
      return "●";
    case INSIGHT_TOO_FEW:
      return "◐";
    case INSIGHT_AGAINST:
      return "✕";
    case INSIGHT_NO_LONGER:
      return "◇";
    case INSIGHT_NO_DATA:
      return "○";
    }
  return "";
}

/**
 * present_method_words:
 *
 * Returns: how the confidence was computed; empty when nothing was
 */
const char *
present_method_words (InsightMethod method)
{
  switch (method)
    {
    case INSIGHT_METHOD_NONE:
      return "";
    case INSIGHT_METHOD_EXACT:
      return _("Exact binomial: the chance to see more failures than were seen, if exactly the tolerated share failed "
               "(Clopper and Pearson 1934).");
    case INSIGHT_METHOD_ANYTIME:
      return _("Any-time confidence: it holds however often one looks, by a betting score that can exceed 1/(1 - confidence) "
               "with at most that chance (Ramdas, Grünwald, Vovk and Shafer 2023).");
    case INSIGHT_METHOD_PLAN:
      return _("Exact binomial on the first units of a plan that was declared before the first reading "
               "(Clopper and Pearson 1934).");
    case INSIGHT_METHOD_NORMAL:
      return _("Normal population, stated beforehand: the chance, given mean and standard deviation, that the wanted share lies inside "
               "the limits (ISO 16269-6).");
    case INSIGHT_METHOD_LEAST:
      return _("The smaller of two answers, for a normal and for a log-normal population, each the chance, given mean and "
               "deviation, that the wanted share lies inside the limits (ISO 16269-6).");
    case INSIGHT_METHOD_LOG_NORMAL:
      return _("Log-normal population, stated beforehand: the chance, given mean and standard deviation of the logarithms, that the "
               "wanted share lies inside the limits (ISO 16269-6).");
    case INSIGHT_METHOD_LOTS:
      return _("Units grouped by lot, with a standard deviation between lots and one within: the chance, given the data, that the "
               "wanted share of units lies inside the limits, by numerical integration (Mee and Owen 1983, "
               "Krishnamoorthy and Mathew 2004, from memory).");
    case INSIGHT_METHOD_COUNT:
      return _("The share of things done.");
    case INSIGHT_METHOD_YIELD:
      return _("Product of the first-pass yields of the steps, each with a share of one prior that is Beta(1/2, 1/2) for the "
               "whole row (products of betas: Jambunathan 1954, from memory).");
    case INSIGHT_METHOD_RATE:
      return _("Least of the benches: minutes available over minutes needed for one shippable piece; scrap and rework drawn "
               "from what was counted, minutes from the run days.");
    case INSIGHT_METHOD_LIFE_STATED:
      return _("Weibull life with a shape stated beforehand, at the least favourable shape of the range (Nelson 1985, from "
               "memory).");
    case INSIGHT_METHOD_LIFE_FITTED:
      return _("Weibull fit, held against fits to tests drawn from one that just reaches the wanted share (Jeng and Meeker "
               "2000, from memory).");
    case INSIGHT_METHOD_METHOD:
      return _("Variance components of a crossed study by analysis of variance, each drawn by its chi-square (Burdick, Borror "
               "and Montgomery 2005).");
    case INSIGHT_METHOD_DETECTION:
      return _("Exact binomial on known bad pieces, of the inspector with the least (Clopper and Pearson 1934).");
    case INSIGHT_N_METHODS:
      break;
    }
  return "";
}

/**
 * present_counting_words:
 *
 * Returns: whether a mark counts, and if not why
 */
const char *
present_counting_words (InsightCounting counting)
{
  switch (counting)
    {
    case INSIGHT_COUNTS:
      return _("counts");
    case INSIGHT_NOT_VOIDED:
      return _("voided");
    case INSIGHT_NOT_LATER_ATTEMPT:
      return _("a later attempt, does not count");
    case INSIGHT_NOT_OTHER_STEP:
      return _("taken at another step, does not count");
    case INSIGHT_NOT_STATE:
      return _("another state of design, no longer counts");
    case INSIGHT_NOT_LATER_STATE:
      return _("a later state of design, does not count");
    case INSIGHT_NOT_KIND:
      return _("an earlier kind of round, does not count");
    case INSIGHT_NOT_EXCUSED:
      return _("excused, does not count");
    case INSIGHT_NOT_ALTERED:
      return _("taken after the unit was altered, does not count");
    case INSIGHT_NOT_GAUGE:
      return _("gauge out of calibration, does not count");
    case INSIGHT_NOT_OLDER_LIMIT:
      return _("made to an older limit, does not count");
    case INSIGHT_NOT_SPAN:
      return _("built later, does not count");
    case INSIGHT_N_COUNTINGS:
      break;
    }
  return "";
}

/**
 * present_verdict_words:
 *
 * Returns: what a unit's reading says against the limits
 */
const char *
present_verdict_words (InsightVerdict verdict)
{
  switch (verdict)
    {
    case INSIGHT_INSIDE:
      return _("inside");
    case INSIGHT_OUTSIDE:
      return _("outside");
    case INSIGHT_UNDECIDABLE:
      return _("cannot be told, counts as failing");
    case INSIGHT_NO_VERDICT:
      return _("not judged");
    }
  return "";
}

/**
 * present_caution:
 *
 * Returns: what stands wherever lock strength, life tests or a release are spoken about; it cannot be switched off
 */
const char *
present_caution (void)
{
  return _("A statistical result is not a safety certificate. Test behind a guard, with cut-resistant gloves and eye "
           "protection. Follow the standards and laws that apply where the product is sold, and have them confirmed by a "
           "qualified laboratory or licensed professional.");
}

/**
 * present_caution_with:
 * @added: (nullable): what a model adds to it; "" for nothing
 *
 * Returns: (transfer full): the caution, and what is added
 */
char *
present_caution_with (const char *added)
{
  return added == NULL || *added == '\0' ? g_strdup (present_caution ()) : g_strdup_printf ("%s %s", present_caution (), added);
}
