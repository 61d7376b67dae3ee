/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-rules.h"

#include <glib/gi18n-lib.h>

#include "present-reason.h"

static const char *const rules[] = {
  N_("A confidence says how strongly the measurements support that the requirement holds. A criterion is met when it reaches the "
     "one that was wanted and nothing stands against it; confidences are rounded down, failing shares up."),
  N_("A unit counts where its parts and settings are those of the state of design looked at, or where a named person marked the "
     "change as carried over, with a reason; for safety two persons."),
  N_("The number n counts units, never repeats. The first attempt at the deciding step is the evidence; a later one only says "
     "whether the unit may leave."),
  N_("Bench rounds never count; safety, yield and rate count from the pilot run on, all else from the prototypes, unless the criterion "
     "says otherwise."),
  N_("The limits in force at the end judge all readings; a limit that was widened after measuring is named, and takes earlier units of a "
     "safety characteristic out."),
  N_("Strict criteria pay for looking again and for starting again: the confidence wanted is 1 - (1 - wanted)/(j(j+1)) at look or "
     "attempt j, so that all looks together stay within what was promised (union bound)."),
  N_("Units of one or two lots cannot show how deliveries vary: a strict criterion then needs a third lot or a waiver."),
  N_("Limits of safety characteristics are pulled in by 1.645 times the measuring uncertainty (guard band: JCGM 106:2012, ISO 14253-1); "
     "readings by a gauge out of calibration do not count."),
  N_("A fix holds at the confidence told and on the units told when the failure was shown on the old state, units of the new state bore "
     "the load and 1.5 times the cycles, the confidence is reached, and Fisher's exact test of before against after is below 0.10, "
     "one-sided."),
  N_("No criterion is met while a unit outside its limits is without a disposition; excused, voided and altered units are named."),
  N_("The score is the evidence gathered, min(1, ln(1 - reached)/ln(1 - wanted)), of the lowest class; it is never a chance."),
  N_("Intervals of medians are by Kaplan and Meier's estimate, below six rounds the range is told; the monthly rate is the least of the "
     "benches, a plan uses at most 85 % of it."),
  N_("The forecast plays further rounds by these same rules, with lengths like those of the finished rounds; it holds under the "
     "assumptions that stand beside it."),
};

GPtrArray *
present_rules_new (void)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    g_ptr_array_add (list, g_strdup (_(rules[i])));
  return list;
}

GPtrArray *
present_rules_methods_new (const InsightStanding *standing)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);
  gboolean used[INSIGHT_N_METHODS] = { FALSE };

  for (guint i = 0; i < standing->criteria->len; i++)
    used[insight_standing_get_criterion (standing, i)->method] = TRUE;
  for (guint m = 0; m < INSIGHT_N_METHODS; m++)
    if (used[m] && *present_method_words (m) != '\0')
      g_ptr_array_add (list, g_strdup (present_method_words (m)));
  return list;
}
