/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the readings say about what differs. A fact first, then what may be concluded from it: 'may be put down to the
 * change' only of two groups of one round that differ in nothing else; of two rounds only that they differ.
 */

#include "config.h"

#include "present-effect-private.h"

#include "present-number.h"
#include "present-sentence.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Names that the sentences of an effect use; see fill_names(). */
enum
{
  NAME_ROUND,
  NAME_PART,
  NAME_OLD,
  NAME_NEW,
  NAME_DIFFERENCE,
  NAME_INTERVAL,
  NAME_OLD_UNITS,
  NAME_NEW_UNITS,
  NAME_TOUCHES,
  N_NAMES
};

typedef enum
{
  FACT_NOTHING,
  FACT_SPLIT_MEAN,
  FACT_SPLIT_MEAN_BARE,
  FACT_SPLIT_SHARE,
  FACT_SPLIT_SHARE_BARE,
  FACT_ROUNDS_MEAN,
  FACT_ROUNDS_MEAN_BARE,
  FACT_ROUNDS_SHARE,
  FACT_ROUNDS_SHARE_BARE,
  FACT_BOUNDS
} Fact;

static const PresentSentence facts[] = {
  [FACT_NOTHING] = { N_("There is nothing to compare: {name6} of {name2} count, and {name7} of {name3}."), NULL, 0, PRESENT_ALWAYS },
  [FACT_SPLIT_MEAN] = { N_("In round {name0} the units with {name1} {name3} differ from those with {name2} by {name4} ({name5}); "
                           "{name6} with {name2} and {name7} with {name3} count."), NULL, 0, PRESENT_ALWAYS },
  [FACT_SPLIT_MEAN_BARE] = { N_("In round {name0} the units with {name1} {name3} differ from those with {name2} by {name4}; "
                                "{name6} with {name2} and {name7} with {name3} count."), NULL, 0, PRESENT_ALWAYS },
  [FACT_SPLIT_SHARE] = { N_("In round {name0} {name7} with {name1} {name3} failed and {name6} with {name2}: the shares differ by "
                            "{name4} ({name5})."), NULL, 0, PRESENT_ALWAYS },
  [FACT_SPLIT_SHARE_BARE] = { N_("In round {name0} {name7} with {name1} {name3} failed and {name6} with {name2}."), NULL, 0, PRESENT_ALWAYS },
  [FACT_ROUNDS_MEAN] = { N_("The rounds differ by {name4} ({name5}); {name6} of {name2} and {name7} of {name3} count."), NULL, 0, PRESENT_ALWAYS },
  [FACT_ROUNDS_MEAN_BARE] = { N_("The rounds differ by {name4}; {name6} of {name2} and {name7} of {name3} count."), NULL, 0, PRESENT_ALWAYS },
  [FACT_ROUNDS_SHARE] = { N_("{name7} of round {name3} failed and {name6} of round {name2}: the rounds differ by {name4} ({name5})."), NULL, 0, PRESENT_ALWAYS },
  [FACT_ROUNDS_SHARE_BARE] = { N_("{name7} of round {name3} failed and {name6} of round {name2}."), NULL, 0, PRESENT_ALWAYS },
  [FACT_BOUNDS] = { N_("The means cannot be compared: {name6} of {name2} count, and {name7} of {name3}."), NULL, 0, PRESENT_ALWAYS },
};

typedef enum
{
  SO_NOTHING,
  SO_NO_INTERVAL,
  SO_CHANCE_ZERO,
  SO_CHANCE_MANY,
  SO_CHANCE_ALONE,
  SO_CHANGE,
  SO_CHANGE_IN_ORDER,
  SO_NOT_ALONE,
  SO_GAUGES,
  SO_ROUNDS,
  SO_ROUNDS_ONE,
  SO_ROUNDS_SEVERAL
} So;

static const PresentSentence conclusions[] = {
  [SO_NOTHING] = { "", NULL, 0, PRESENT_ALWAYS },
  [SO_NO_INTERVAL] = { N_("Without an interval nothing can be concluded from it."), NULL, 0, PRESENT_ALWAYS },
  [SO_CHANCE_ZERO] = { N_("It may be chance alone, for 0 lies within."), NULL, 0, PRESENT_ALWAYS },
  [SO_CHANCE_MANY] = { N_PLURAL ("By the exact test of the one comparison shown it may be chance alone.",
                                 "Among the {count0} comparisons shown together it may be chance alone."), 0, PRESENT_ALWAYS },
  [SO_CHANCE_ALONE] = { N_("By the exact test it may be chance alone."), NULL, 0, PRESENT_ALWAYS },
  [SO_CHANGE] = { N_("It may be put down to the change."), NULL, 0, PRESENT_ALWAYS },
  [SO_CHANGE_IN_ORDER] = { N_("It may be put down to the change, unless something else moved in the order of build."), NULL, 0, PRESENT_ALWAYS },
  [SO_NOT_ALONE] = { N_("It cannot be put down to this alone, for something else differs as well: {name8}."), NULL, 0, PRESENT_ALWAYS },
  [SO_GAUGES] = { N_("It cannot be put down to the change, for the two groups were read by other gauges."), NULL, 0, PRESENT_ALWAYS },
  [SO_ROUNDS] = { N_("It cannot be separated from all else that moved between the rounds."), NULL, 0, PRESENT_ALWAYS },
  [SO_ROUNDS_ONE] = { N_("What of it is due to {name8} cannot be separated from all else that moved between the rounds."), NULL, 0, PRESENT_ALWAYS },
  [SO_ROUNDS_SEVERAL] = { N_("What of it is due to each of these can be separated neither from one another nor from the rounds: {name8}."), NULL, 0, PRESENT_ALWAYS },
};

/* The places follow the arguments that insight-compare.h promises. */
static const PresentSentence remarks[][PRESENT_MOST_SENTENCES] = {
  [INSIGHT_REMARK_TOO_FEW] = { { N_("An interval needs {count2} units on each side; there are {count0} and {count1}."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_ARRANGEMENTS] = { { N_("So few units, {count0} and {count1}, can be arranged in too few ways to tell more than chance."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_NO_VARIATION] = { { N_("All values on each side are equal, so an interval needs finer readings."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_CENSORED] = { { N_PLURAL ("{count0} unit was read as 'above' or 'below', so the shares that fail are compared.",
                                            "{count0} units were read as 'above' or 'below', so the shares that fail are compared."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_NO_LIMITS] = { { N_PLURAL ("{count0} unit was read as 'above' or 'below', and without limits that cannot be compared.",
                                             "{count0} units were read as 'above' or 'below', and without limits that cannot be compared."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_NOT_COMPUTED] = { { N_("The method gave no answer for these values."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_GAUGES] = { { N_("Read by other gauges, so the difference may be theirs: before {name0}, after {name1}."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_GAUGES_PARTLY] = { { N_("Not all was read by the same gauges: before {name0}, after {name1}."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_ORDER] = { { N_("One group was built wholly before the other; units built turn by turn would tell more."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_LOTS] = { { N_("Each group is of one delivery, {name0} and {name1}, so the difference may be that of the deliveries."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_EXCUSED] = { { N_PLURAL ("{count0} unit is left out, set aside or excused by name: {names}.",
                                           "{count0} units are left out, set aside or excused by name: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_ALTERED] = { { N_PLURAL ("{count0} unit is left out, read after it was altered: {names}.",
                                           "{count0} units are left out, read after they were altered: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_GAUGE_OUT] = { { N_PLURAL ("{count0} unit is left out, read by a gauge out of calibration: {names}.",
                                             "{count0} units are left out, read by a gauge out of calibration: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_OLDER_LIMIT] = { { N_PLURAL ("{count0} unit is left out, checked to other limits: {names}.",
                                               "{count0} units are left out, checked to other limits: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_VOIDED] = { { N_PLURAL ("{count0} unit is left out, all its readings voided: {names}.",
                                          "{count0} units are left out, all their readings voided: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_UNSAID] = { { N_PLURAL ("{count0} unit is left out, for nobody says which of the revisions it has: {names}.",
                                          "{count0} units are left out, for nobody says which of the revisions they have: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_RETESTED] = { { N_PLURAL ("{count0} unit failed at first and passed later; the first attempt counts: {names}.",
                                            "{count0} units failed at first and passed later; the first attempt counts: {names}."), 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_DEPENDS] = { { N_("Nobody has said what it depends on, so it is taken to depend on everything."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_BENCH] = { { N_("{name0} is a bench round: its pieces count as evidence of nothing else."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_ALIKE] = { { N_("Only units with {name0} {name1} are compared, so that its change does not mix in."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_CARRIED] = { { N_("Older readings of it count on, for this is marked as carried over: {names}."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_CARRIED_DOUBT] = { { N_("Older readings of it count on, for this is marked as carried over: {names}."), NULL, 0, PRESENT_ALWAYS },
                                     { N_("That old and new are told apart here may speak against it: look again whether they should."), NULL, 0, PRESENT_ALWAYS } },
  [INSIGHT_REMARK_OPEN] = { { N_("The testing of round {name0} is not finished, so this is how it stands so far."), NULL, 0, PRESENT_ALWAYS } },
};
G_STATIC_ASSERT (G_N_ELEMENTS (remarks) == INSIGHT_N_REMARKS);

static gboolean
is_share (const InsightEffect *effect)
{
  return effect->kind == BOOK_CHARACTERISTIC_CHECKED || effect->method == INSIGHT_EFFECT_SHARES;
}

static gboolean
compares_nothing (const InsightEffect *effect)
{
  return effect->before.n == 0 || effect->after.n == 0;
}

/* Decimals with which a difference can be told from 0, and its interval from a point. */
static int
fine_decimals (const InsightEffect *effect)
{
  double width = effect->high - effect->low;
  double least = MIN (fabs (effect->low), fabs (effect->high));
  int decimals = MAX (effect->decimals, 0) + 1;

  if (isfinite (width) && width > 0)
    decimals = MAX (decimals, 1 - (int) floor (log10 (width)));
  if (effect->told_apart && least > 0)
    decimals = MAX (decimals, -(int) floor (log10 (least)));
  return MIN (decimals, 9);
}

/* A mean of the values of one side, a digit finer than they are. */
char *
present_effect_mean (const InsightEffect *effect, double mean)
{
  return present_value (mean, MAX (effect->decimals, 0) + 1, effect->unit);
}

static char *
signed_text (char *text, double value)
{
  char *with_sign = value > 0 ? g_strconcat ("+", text, NULL) : g_strdup (text);

  g_free (text);
  return with_sign;
}

static char *
difference_text (const InsightEffect *effect)
{
  if (isnan (effect->difference))
    return g_strdup ("");
  if (is_share (effect))
    return signed_text (present_value (effect->difference * 100, 0, _("% points")), effect->difference);
  return signed_text (present_value (effect->difference, fine_decimals (effect), effect->unit), effect->difference);
}

static char *
interval_text (const InsightEffect *effect)
{
  if (isnan (effect->low))
    return g_strdup ("");
  if (is_share (effect))
    return present_interval (effect->low * 100, effect->high * 100, 0, _("% points"));
  return present_interval (effect->low, effect->high, fine_decimals (effect), effect->unit);
}

static char *
units_text (const InsightEffect *effect, const InsightEffectGroup *group)
{
  if (is_share (effect) && !compares_nothing (effect))
    /* Translators: units that failed, and units that count; the last count decides the plural */
    return g_strdup_printf (ngettext ("%u of %u unit", "%u of %u units", group->n), group->failed, group->n);
  return g_strdup_printf (ngettext ("%u unit", "%u units", group->n), group->n);
}

static char *
cell_text (const InsightEffect *effect, const InsightEffectGroup *group)
{
  g_autofree char *mean = NULL;

  if (group->n == 0)
    return g_strdup ("0");
  if (is_share (effect) || isnan (group->mean))
    return g_strdup_printf (_("%u of %u failed"), group->failed, group->n);
  mean = present_effect_mean (effect, group->mean);
  /* Translators: number of units, and their mean */
  return g_strdup_printf (_("%u: %s"), group->n, mean);
}

static char *
touches_text (const InsightEffect *effect)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < effect->n_touches; i++)
    {
      const InsightTouch *touch = &effect->touches[i];

      if (touch->kind == INSIGHT_DIFFERS_SETTING)
        /* Translators: a step and one of its settings */
        g_ptr_array_add (names, g_strdup_printf (_("%s (%s)"), touch->name, touch->setting));
      else if (touch->kind == INSIGHT_DIFFERS_LOT)
        g_ptr_array_add (names, g_strdup_printf (_("lots of %s"), touch->name));
      else
        g_ptr_array_add (names, g_strdup (touch->name));
    }
  g_ptr_array_add (names, NULL);
  return present_names ((const char * const *) names->pdata);
}

static gboolean
has_remark (const InsightEffect *effect, InsightRemarkCode code)
{
  for (guint i = 0; i < effect->remarks->len; i++)
    if (((InsightRemark *) effect->remarks->pdata[i])->code == code)
      return TRUE;
  return FALSE;
}

static Fact
fact_of (const InsightEffect *effect)
{
  gboolean bare = effect->method == INSIGHT_EFFECT_NONE;

  if (compares_nothing (effect))
    return FACT_NOTHING;
  if (is_share (effect))
    return effect->way == INSIGHT_EFFECT_SPLIT ? (bare ? FACT_SPLIT_SHARE_BARE : FACT_SPLIT_SHARE)
                                               : (bare ? FACT_ROUNDS_SHARE_BARE : FACT_ROUNDS_SHARE);
  if (isnan (effect->difference))
    return FACT_BOUNDS;
  return effect->way == INSIGHT_EFFECT_SPLIT ? (bare ? FACT_SPLIT_MEAN_BARE : FACT_SPLIT_MEAN)
                                             : (bare ? FACT_ROUNDS_MEAN_BARE : FACT_ROUNDS_MEAN);
}

static So
conclusion_of (const InsightEffect *effect)
{
  if (compares_nothing (effect))
    return SO_NOTHING;
  if (effect->method == INSIGHT_EFFECT_NONE)
    return SO_NO_INTERVAL;
  if (!effect->told_apart)
    return effect->low <= 0 && effect->high >= 0                       ? SO_CHANCE_ZERO
           : effect->p < 1.0 - INSIGHT_COMPARE_CONFIDENCE ? SO_CHANCE_MANY
                                                                       : SO_CHANCE_ALONE;
  if (effect->way == INSIGHT_EFFECT_ROUNDS)
    return effect->n_touches == 0 ? SO_ROUNDS : effect->n_touches == 1 ? SO_ROUNDS_ONE : SO_ROUNDS_SEVERAL;
  if (effect->n_touches > 0)
    return SO_NOT_ALONE;
  if (!effect->to_change)
    return SO_GAUGES;
  return has_remark (effect, INSIGHT_REMARK_ORDER) ? SO_CHANGE_IN_ORDER : SO_CHANGE;
}

static char *
sentence_of (const InsightComparison *comparison, const PresentEffect *self)
{
  const InsightEffect *effect = self->data;
  g_autofree char *old_units = units_text (effect, &effect->before);
  g_autofree char *new_units = units_text (effect, &effect->after);
  g_autofree char *touches = touches_text (effect);
  const gint64 count = comparison->n_adjusted;
  const char *names[N_NAMES + 1] = {
    [NAME_ROUND] = effect->round_label, [NAME_PART] = effect->part_name, [NAME_OLD] = effect->before.label,
    [NAME_NEW] = effect->after.label, [NAME_DIFFERENCE] = self->difference, [NAME_INTERVAL] = self->interval,
    [NAME_OLD_UNITS] = old_units, [NAME_NEW_UNITS] = new_units, [NAME_TOUCHES] = touches,
  };
  PresentArguments arguments = { .names = names, .counts = &count, .n_counts = 1 };
  So so = conclusion_of (effect);
  PresentSentence said[PRESENT_MOST_SENTENCES] = { facts[fact_of (effect)] };

  if (so != SO_NOTHING)
    said[1] = conclusions[so];
  return present_sentences (said, &arguments);
}

static char *
way_text (const InsightEffect *effect)
{
  if (effect->way == INSIGHT_EFFECT_SPLIT)
    /* Translators: a round, a part, and two of its revisions or lots */
    return g_strdup_printf (_("within %s: %s %s, %s"), effect->round_label, effect->part_name, effect->before.label,
                            effect->after.label);
  /* Translators: two rounds */
  return g_strdup_printf (_("rounds %s, %s"), effect->before.label, effect->after.label);
}

static const char *
method_of (InsightEffectMethod method)
{
  switch (method)
    {
    case INSIGHT_EFFECT_NONE:
      break;
    case INSIGHT_EFFECT_PERMUTATION:
      return _("Difference of means. The 95 % interval holds the effects for which the arrangement seen would not be among the "
               "rarest 1 in 40 to either side, of all arrangements of the units into two groups of these sizes.");
    case INSIGHT_EFFECT_SAMPLED:
      return _("Difference of means. The 95 % interval holds the effects for which the arrangement seen would not be among the "
               "rarest 1 in 40 to either side, of up to 200,000 arrangements drawn at random, always the same ones.");
    case INSIGHT_EFFECT_WELCH:
      return _("Difference of means with Welch's t interval at 95 %, which lets the spreads differ.");
    case INSIGHT_EFFECT_SHARES:
      return _("Difference of failed shares with Newcombe's interval at 95 %; told apart by Fisher's exact test.");
    }
  return "";
}

/**
 * present_effect_new:
 * @comparison: the comparison
 * @effect: one of its effects; kept
 *
 * Returns: (transfer full): the same in words
 */
PresentEffect *
present_effect_new (const InsightComparison *comparison, const InsightEffect *effect)
{
  PresentEffect *self = g_new0 (PresentEffect, 1);

  self->data = effect;
  self->name = g_str_equal (effect->name, effect->code) ? g_strdup (effect->code)
                                                        : g_strdup_printf ("%s: %s", effect->code, effect->name);
  self->way = way_text (effect);
  self->before = cell_text (effect, &effect->before);
  self->after = cell_text (effect, &effect->after);
  self->difference = difference_text (effect);
  self->interval = interval_text (effect);
  self->told = effect->told_apart                           ? _("told apart")
               : effect->method == INSIGHT_EFFECT_NONE ? _("no interval")
                                                            : _("may be chance");
  self->sign = effect->told_apart ? "●" : effect->method == INSIGHT_EFFECT_NONE ? "○" : "◐";
  self->sentence = sentence_of (comparison, self);
  self->method = method_of (effect->method);
  self->remarks = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < effect->remarks->len; i++)
    {
      const InsightRemark *remark = effect->remarks->pdata[i];
      PresentArguments arguments = { .names = (const char * const *) remark->names, .counts = remark->counts,
                                     .n_counts = remark->n_counts };

      g_ptr_array_add (self->remarks, present_sentences (remarks[remark->code], &arguments));
    }
  return self;
}

void
present_effect_free (PresentEffect *effect)
{
  g_free (effect->name);
  g_free (effect->way);
  g_free (effect->before);
  g_free (effect->after);
  g_free (effect->difference);
  g_free (effect->interval);
  g_free (effect->sentence);
  g_ptr_array_unref (effect->remarks);
  g_free (effect);
}
