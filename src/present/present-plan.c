/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "present-plan.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "present-number.h"
#include "present-text.h"

static void
row_free (gpointer data)
{
  PresentPlanRow *row = data;

  g_free (row->about);
  g_free (row->before);
  g_free (row->further);
  g_free (row->reached);
  g_free (row->assurance);
  g_free (row->bad);
  g_free (row->needed);
  g_free (row->words);
  g_free (row);
}

void
present_plan_free (PresentPlan *present)
{
  if (present == NULL)
    return;
  g_free (present->headline);
  g_ptr_array_unref (present->rows);
  g_ptr_array_unref (present->notes);
  g_free (present);
}

/* A chance, rounded so that it promises no more: of passing down, of a bad design passing up. */
static char *
chance_down (double chance)
{
  return isnan (chance) ? g_strdup ("") : present_confidence (chance, NAN);
}

static char *
chance_up (double chance)
{
  return isnan (chance) ? g_strdup ("") : present_failing_share (chance);
}

/* By lot it is not played: no more than as if all were of one lot. */
static char *
chance_bound (const InsightPlanProof *proof)
{
  g_autofree char *chance = chance_down (proof->assurance);

  /* Translators: at most that chance */
  return proof->by_lots_of != NULL && *chance != '\0' ? g_strdup_printf (_("≤ %s"), chance) : g_steal_pointer (&chance);
}

static char *
about_of (const InsightPlanCriterion *told)
{
  if (told->about_code[0] == '\0')
    return g_strdup (told->name);
  return g_strdup_printf ("%s %s", told->about_code, told->name);
}

static char *
before_of (const InsightPlanCriterion *told)
{
  if (told->n == 0)
    return g_strdup ("–");
  if (!told->by_count)
    return g_strdup_printf ("%u", told->n);
  if (told->failed == 0)
    /* Translators: units that count, and that none of them failed */
    return g_strdup_printf (_("%u, none fails"), told->n);
  /* Translators: units that count, and how many of them failed */
  return g_strdup_printf (_("%u, failing %u"), told->n, told->failed);
}

/* ---- sentences ---- */

static void
add (GString *words, const char *sentence)
{
  if (words->len > 0)
    g_string_append_c (words, ' ');
  g_string_append (words, sentence);
}

static void
add_free (GString *words, char *sentence)
{
  add (words, sentence);
  g_free (sentence);
}

static void
say_counted (GString *words, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  if (told->needs_choice)
    add (words, _("The test destroys the unit: choose which units it is planned for."));
  else if (proof->counted == 0 && (!isnan (told->needed_load) || !isnan (told->needed_cycles)))
    {
      g_autofree char *cycles = present_number (told->needed_cycles, 0);
      g_autofree char *load = present_value (told->needed_load, told->decimals, told->unit);

      if (!isnan (told->needed_cycles))
        add_free (words, g_strdup_printf (_("No unit is planned for a test of %s cycles, and fewer do not count for this fix."), cycles));
      else
        add_free (words, g_strdup_printf (_("No unit is planned for a test with %s, and less does not count for this fix."), load));
    }
  else
    add_free (words, g_strdup_printf (ngettext ("%u unit of the round counts for it.", "%u units of the round count for it.", proof->counted),
                                      proof->counted));
  if (proof->taken > 0)
    add_free (words, g_strdup_printf (ngettext ("%u other one is destroyed or lent for another test.",
                                                "%u others are destroyed or lent for another test.", proof->taken), proof->taken));
}

static void
say_reached (GString *words, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  g_autofree char *reached = present_confidence (proof->confidence, told->wanted);
  g_autofree char *wanted = present_wanted (told->wanted);
  g_autofree char *distance = present_number (proof->distance, 2);

  if (told->no_limits)
    add (words, told->is_fix ? _("Nothing can be shown: the issue names no test and no share that is tolerated.")
                             : _("Nothing can be shown without limits: set them first."));
  else if (told->by_count && !isnan (proof->confidence))
    add_free (words, g_strdup_printf (_("If none of them fails, the confidence is %s (wanted: %s)."), reached, wanted));
  else if (!told->by_count && !isnan (proof->confidence))
    add_free (words, g_strdup_printf (_("If mean and spread stay as they are, the confidence is %s (wanted: %s)."), reached, wanted));
  else if (!told->by_count && !isnan (proof->distance))
    add_free (words, g_strdup_printf (_("It is met if the mean lies at least %s standard deviations inside the limit (wanted: %s)."), distance, wanted));
  if (told->plan_units > 0)
    add_free (words, g_strdup_printf (ngettext ("The declared plan is judged once, on %u unit.",
                                                "The declared plan is judged once, on %u units.", told->plan_units), told->plan_units));
  if (told->not_enough_alone)
    add (words, _("Passed and failed alone meets a safety criterion only where the owner set the share by name: measure a strength, or "
                  "ask the owner."));
}

/* Of how many deliveries the units will be, and what that means. */
static void
say_lots (GString *words, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  if (proof->lots == 0)
    return;
  if (proof->lots_assumed)
    add_free (words, g_strdup_printf (ngettext ("If all of them come of one lot of '%s' that was not used before, units of %u lot are seen.",
                                                "If all of them come of one lot of '%s' that was not used before, units of %u lots are seen.",
                                                proof->lots), proof->lots_of, proof->lots));
  else
    add_free (words, g_strdup_printf (ngettext ("As planned, units of %u lot of '%s' are seen.", "As planned, units of %u lots of '%s' are seen.",
                                                proof->lots), proof->lots, proof->lots_of));
  if (proof->lots_short)
    add (words, _("The criterion is strict: without units of a third lot, or a waiver, it is not met by any number of them."));
  else if (proof->lots_few)
    add (words, _("Variation between deliveries is not seen with fewer than three."));
  else if (!told->by_count && isnan (proof->confidence))
    add (words, _("Its values are also judged by lot: where the lots differ, it takes more."));
}

/* That the confidence is by lot, and what it would be else. */
static void
say_by_lot (GString *words, const InsightPlanProof *proof)
{
  g_autofree char *reached = NULL, *pooled = NULL;

  if (proof->by_lots_of == NULL)
    return;
  present_confidence_pair (proof->confidence, proof->pooled, &reached, &pooled);
  add_free (words, g_strdup_printf (_("That is by lots of '%s', the further ones taken to be like all so far; as if all were of one lot it "
                                      "would be %s."), proof->by_lots_of, pooled));
}

static void
say_chances (GString *words, const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  g_autofree char *assurance = chance_down (proof->assurance);
  g_autofree char *fails = present_fails_in (told->tolerated);
  guint times, in;

  if (told->no_limits)
    return;
  if (proof->proves && told->by_count && proof->allowed > 0)
    add_free (words, g_strdup_printf (ngettext ("%d of them may fail.", "%d of them may fail.", proof->allowed), proof->allowed));
  if (isnan (proof->assurance))
    add (words, _("Nothing that counts is known of this state yet, so that the chance of passing cannot be told."));
  else
    add_free (words, g_strdup_printf (proof->by_lots_of != NULL ? _("By what is known the chance of passing is at most %s.")
                                                                : _("By what is known the chance of passing is %s."), assurance));
  if (proof->lots_short)
    return; /* it is not a matter of their number */
  if (told->needed == 0 && proof->by_lots_of == NULL)
    add (words, _("What counts already is enough, if the next units are like those."));
  else if (proof->bad_passes > 0.0)
    {
      present_chance (proof->bad_passes, &times, &in);
      if (times == 0)
        add_free (words, g_strdup_printf (_("A design that fails %s would pass less than once in 200 times."), fails));
      else
        add_free (words, g_strdup_printf (_("A design that fails %s would pass too, about %u times in %u."), fails, times, in));
    }
  if (proof->by_lots_of != NULL)
    {
      if (!proof->proves)
        add (words, _("Units of more lots help more than more units of these."));
      return; /* the numbers below are as if all were of one lot */
    }
  if (!proof->proves && told->needed_clean > 0)
    add_free (words, g_strdup_printf (told->by_count ? ngettext ("%d unit without a failure would do.", "%d units without a failure would do.",
                                                                 told->needed_clean)
                                                     : ngettext ("%d unit would do if mean and spread stay.",
                                                                 "%d units would do if mean and spread stay.", told->needed_clean),
                                      told->needed_clean));
  if (told->needed > 0)
    add_free (words, g_strdup_printf (ngettext ("For a chance of 80 in 100 it takes %d unit.", "For a chance of 80 in 100 it takes %d units.",
                                                told->needed), told->needed));
  else if (told->needed < 0 && told->n > 0)
    add (words, _("By what is known no number of units gives a chance of 80 in 100: look at the design first."));
}

static PresentPlanRow *
row_new (const InsightPlanCriterion *told, const InsightPlanProof *proof)
{
  PresentPlanRow *row = g_new0 (PresentPlanRow, 1);
  g_autofree char *reached = present_confidence (proof->confidence, told->wanted);
  g_autofree char *wanted = present_wanted (told->wanted);
  GString *words = g_string_new (NULL);

  row->id = told->id;
  row->can = proof->proves && !told->not_enough_alone;
  row->sign = row->can ? "●" : proof->counted > 0 ? "◐" : "○";
  row->about = about_of (told);
  row->before = before_of (told);
  row->further = g_strdup_printf ("%u", proof->counted);
  /* Translators: a confidence that is reached, and the one wanted */
  row->reached = isnan (proof->confidence) ? g_strdup ("") : g_strdup_printf (_("%s of %s"), reached, wanted);
  row->assurance = chance_bound (proof);
  row->bad = proof->bad_passes > 0.0 && told->needed != 0 ? chance_up (proof->bad_passes) : g_strdup ("");
  /* Translators: at least so many units */
  row->needed = told->needed < 0 ? g_strdup ("–") : g_strdup_printf (proof->by_lots_of != NULL ? _("≥ %d") : "%d", told->needed);
  add_free (words, g_strdup_printf ("%s:", row->about));
  say_counted (words, told, proof);
  say_reached (words, told, proof);
  say_by_lot (words, proof);
  say_lots (words, told, proof);
  say_chances (words, told, proof);
  row->words = g_string_free (words, FALSE);
  return row;
}

/* ---- the whole ---- */

static char *
headline_of (const InsightPlan *plan, const InsightPlanAnswer *answer)
{
  GString *words = g_string_new (NULL);
  g_autofree char *all = chance_down (answer->all_pass);

  if (answer->n == 0)
    {
      g_string_free (words, TRUE);
      return g_strdup (_("No criterion asks about units yet: with criteria this says what the round can show."));
    }
  add_free (words, g_strdup_printf (ngettext ("With %u unit:", "With %u units:", answer->units), answer->units));
  add_free (words, g_strdup_printf (_("%u of %u criteria about units can be met."), answer->n_proves, answer->n));
  if (answer->n_known > 0)
    {
      gboolean whole = answer->n_known == answer->n;

      add_free (words, g_strdup_printf (answer->at_most
                                          ? (whole ? _("The chance that all of them pass is at most %s, by what is known so far.")
                                                   : _("The chance that all pass of which something is known is at most %s."))
                                          : (whole ? _("The chance that all of them pass is %s, by what is known so far.")
                                                   : _("The chance that all pass of which something is known is %s.")), all));
      if (answer->n_known < answer->n)
        add_free (words, g_strdup_printf (ngettext ("Of %u criterion nothing is known yet.", "Of %u criteria nothing is known yet.",
                                                    answer->n - answer->n_known), answer->n - answer->n_known));
    }
  else
    add (words, _("Nothing that counts is known of the planned state yet."));
  return g_string_free (words, FALSE);
}

static char *
offer_words (const InsightPlanOffer *offer)
{
  if (offer->code == INSIGHT_PLAN_MEASURE_INSTEAD)
    return g_strdup_printf (ngettext ("%s %s takes %u more unit by pass or fail: measuring a load or a force instead takes far fewer.",
                                      "%s %s takes %u more units by pass or fail: measuring a load or a force instead takes far fewer.",
                                      offer->units), offer->about, offer->name, offer->units);
  return g_strdup_printf (_("Change %s '%s' brings %s %s into all units: built half with %s and half with %s, in random order, a difference "
                            "can be put down to the change."),
                          offer->about, offer->name, offer->part, offer->new_label, offer->old_label, offer->new_label);
}

static void
add_notes (PresentPlan *present, const InsightPlan *plan, const InsightPlanAnswer *answer)
{
  const GPtrArray *offers = insight_plan_get_offers (plan);
  char **twice = insight_plan_get_twice (plan);
  guint others = insight_plan_n_others (plan);

  if (twice[0] != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", twice);

      g_ptr_array_add (present->notes, g_strdup_printf (_("Two tests want the same unit for good, so that it counts for neither: %s."), names));
    }
  for (guint i = 0; i < answer->n; i++)
    {
      const InsightPlanCriterion *told = insight_plan_get_criterion (plan, i);
      g_autofree char *about = about_of (told);
      GString *words;

      if (!answer->proofs[i].lots_short)
        continue;
      words = g_string_new (about);
      g_string_append_c (words, ':');
      say_lots (words, told, &answer->proofs[i]);
      g_ptr_array_add (present->notes, g_string_free (words, FALSE));
    }
  for (guint i = 0; i < offers->len; i++)
    g_ptr_array_add (present->notes, offer_words (offers->pdata[i]));
  if (others > 0)
    g_ptr_array_add (present->notes, g_strdup_printf (ngettext ("%u criterion does not hang on a number of units.",
                                                                "%u criteria do not hang on a number of units.", others), others));
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const PresentPlanRow *one = *(const PresentPlanRow *const *) a, *other = *(const PresentPlanRow *const *) b;

  return one->can - other->can;
}

/**
 * present_plan_new:
 * @plan: a plan
 * @answer: what a number of units can prove
 *
 * Returns: (transfer full): it in words; nothing of @plan or @answer is kept
 */
PresentPlan *
present_plan_new (const InsightPlan *plan, const InsightPlanAnswer *answer)
{
  PresentPlan *present = g_new0 (PresentPlan, 1);

  present->headline = headline_of (plan, answer);
  present->rows = g_ptr_array_new_with_free_func (row_free);
  present->notes = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < answer->n; i++)
    g_ptr_array_add (present->rows, row_new (insight_plan_get_criterion (plan, i), &answer->proofs[i]));
  g_ptr_array_sort (present->rows, compare_rows);
  add_notes (present, plan, answer);
  return present;
}

/**
 * present_plan_to_text:
 * @present: a plan in words
 * @width: of the terminal
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_plan_to_text (const PresentPlan *present, guint width)
{
  const struct
  {
    const char  *head;
    PresentAlign align;
  } columns[] = {
    { _("Criterion"), PRESENT_ALIGN_LEFT },          { _("Counts now"), PRESENT_ALIGN_RIGHT },
    { _("Further"), PRESENT_ALIGN_RIGHT },           { _("If none fails"), PRESENT_ALIGN_RIGHT },
    { _("Passes"), PRESENT_ALIGN_RIGHT }, { _("A bad one"), PRESENT_ALIGN_RIGHT },
    { _("For 80 %"), PRESENT_ALIGN_RIGHT },
  };
  g_autoptr(PresentTable) table = present_table_new ();
  GString *text = g_string_new (NULL);

  present_text_add (text, present->headline, width, "", "");
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    present_table_add_column (table, columns[i].head, columns[i].align);
  for (guint i = 0; i < present->rows->len; i++)
    {
      const PresentPlanRow *row = present->rows->pdata[i];
      g_autofree char *about = g_strdup_printf ("%s %s", row->sign, row->about);
      const char *const cells[] = { about, row->before, row->further, row->reached, row->assurance, row->bad, row->needed, NULL };

      present_table_add_row (table, cells);
    }
  if (present->rows->len > 0)
    {
      g_autofree char *rows = present_table_to_text (table, width);

      g_string_append_printf (text, "\n%s", rows);
    }
  if (present->notes->len > 0)
    g_string_append_c (text, '\n');
  for (guint i = 0; i < present->notes->len; i++)
    present_text_add (text, present->notes->pdata[i], width, "- ", "  ");
  return g_string_free (text, FALSE);
}
