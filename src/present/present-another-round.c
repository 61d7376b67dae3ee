/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-another-round.h"

#include "present-json.h"
#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
days_words (const InsightAnotherRound *another)
{
  g_autofree char *range = present_interval (floor (another->days[0]), ceil (another->days[2]), 0, "");
  g_autofree char *middle = isnan (another->days[1]) ? NULL : present_number (another->days[1], 0);

  /* Translators: median, then least to most */
  return middle != NULL ? g_strdup_printf (_("%s (%s)"), middle, range) : g_steal_pointer (&range);
}

/* Hundredths say nothing beside thousands. NAN bounds: no range. */
static char *
money_words (double middle, double low, double high)
{
  const int decimals = middle >= 1000.0 ? 0 : 2;
  g_autofree char *figure = present_number (middle, decimals), *range = NULL;

  if (isnan (middle))
    return g_strdup (_("not known"));
  if (isnan (low) || low >= high)
    return g_steal_pointer (&figure);
  range = present_interval (low, high, decimals, "");
  return g_strdup_printf (_("%s (%s)"), figure, range);
}

static char *
outside_words (const InsightAnotherWay *way)
{
  return money_words (way->outside[1], way->outside[0], way->outside[2]);
}

static char *
inside_words (const InsightAnotherWay *way)
{
  return money_words (way->inside, way->inside_interval.low, way->inside_interval.high);
}

static char *
days_from (const InsightAnotherRound *another)
{
  if (another->n_days < NUM_FORECAST_LENGTHS)
    return g_strdup_printf (ngettext ("assumed; %u finished round is too few", "assumed; %u finished rounds are too few", another->n_days),
                            another->n_days);
  return g_strdup_printf (ngettext ("%u finished round, least to most", "%u finished rounds, least to most", another->n_days), another->n_days);
}

static PresentSheet *
takes_sheet (const InsightAnotherRound *another)
{
  const InsightAnotherWay *ways = another->ways;
  PresentSheet *sheet = present_sheet_new (_("What one more round takes"));

  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("as the newest"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("ten more units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("from"), FALSE, TRUE, 2);
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (_("working days")), days_words (another), days_words (another), days_from (another)));
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (_("units")), g_strdup_printf ("%u", ways[0].units), g_strdup_printf ("%u", ways[1].units),
                                        g_strdup (_("the newest round, planned or built"))));
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (_("money outside the shop")), outside_words (&ways[0]), outside_words (&ways[1]),
                                        g_strdup_printf (ngettext ("%u finished round, its cost by the unit",
                                                                   "%u finished rounds, their cost by the unit, least to most", another->n_costs),
                                                         another->n_costs)));
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (_("money by a unit's cost")), inside_words (&ways[0]), inside_words (&ways[1]),
                                        g_strdup_printf (ngettext ("%u day of the run, with 90 %% interval from five on",
                                                                   "%u days of the run, with 90 %% interval from five on", another->run_days),
                                                         another->run_days)));
  return sheet;
}

static char *
chance_words (const InsightAnotherProof *proof)
{
  g_autofree char *chance = present_confidence (proof->chance, NAN);

  /* Translators: at most that chance */
  return proof->at_most && proof->chance > 0.0 ? g_strdup_printf (_("≤ %s"), chance) : g_steal_pointer (&chance);
}

static char *
told_words (const InsightAnotherCriterion *criterion)
{
  switch (criterion->told)
    {
    case INSIGHT_ANOTHER_UNKNOWN:
      return g_strdup (_("nothing was measured yet that counts: no chance can be told"));
    case INSIGHT_ANOTHER_CANNOT:
      return g_strdup (_("no such round meets it: limits, a share set by the owner, deliveries or a choice of units are missing"));
    case INSIGHT_ANOTHER_OTHER:
      return g_strdup (_("no number of units settles it"));
    case INSIGHT_ANOTHER_CHANCE:
    default:
      if (!(criterion->proofs[0].chance > 0.0))
        return g_strdup_printf (ngettext ("%u unit counts for it: too few, however it does", "%u units count for it: too few, however they do",
                                          criterion->proofs[0].counted),
                                criterion->proofs[0].counted);
      return g_strdup_printf (ngettext ("%u unit counts for it", "%u units count for it", criterion->proofs[0].counted),
                              criterion->proofs[0].counted);
    }
}

static PresentSheet *
proves_sheet (const InsightAnotherRound *another)
{
  PresentSheet *sheet = present_sheet_new (_("What one more round could prove"));

  present_sheet_add_column (sheet, _("criterion"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("chance"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("ten more units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  for (guint i = 0; i < another->n_criteria; i++)
    {
      const InsightAnotherCriterion *criterion = &another->criteria[i];

      present_sheet_add_row (sheet, "criterion", criterion->id, criterion->told != INSIGHT_ANOTHER_CHANCE,
                             PRESENT_CELLS (g_strdup (criterion->code), chance_words (&criterion->proofs[0]),
                                            chance_words (&criterion->proofs[1]), told_words (criterion)));
    }
  if (another->n_chance > 0)
    {
      const InsightAnotherProof all[] = { { 0, another->ways[0].all, another->at_most }, { 0, another->ways[1].all, another->at_most } };

      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (g_strdup (_("all")), chance_words (&all[0]), chance_words (&all[1]),
                                            g_strdup_printf (ngettext ("of %u with a chance, as if each were by itself",
                                                                       "of %u with a chance, as if each were by itself", another->n_chance),
                                                             another->n_chance)));
    }
  return sheet;
}

static char *
headline (const InsightAnotherRound *another)
{
  g_autofree char *days = NULL, *which = NULL, *chance = NULL;

  if (another->ways[0].units == 0)
    return g_strdup (_("There is no round yet to tell from what one more takes."));
  if (another->n_asked == 0)
    return g_strdup (_("No criterion is set: what one more round could prove cannot be told."));
  if (another->n_criteria == 0)
    return g_strdup (_("Nothing blocks: one more round has nothing to prove."));
  days = days_words (another);
  which = *another->round != '\0' ? g_strdup_printf (_("Round %s, not tested yet,"), another->round) : g_strdup (_("One more round"));
  if (another->n_chance == 0)
    return g_strdup_printf (_("%s takes %s working days; for no criterion that blocks can a chance be told that it meets it."), which, days);
  chance = chance_words (&(InsightAnotherProof){ 0, another->ways[0].all, another->at_most });
  if (another->n_chance < another->n_criteria)
    return g_strdup_printf (_("%s takes %s working days and meets %u of the %u criteria that block with a chance of %s; the others it "
                              "cannot settle, or nothing can be told of them."),
                            which, days, another->n_chance, another->n_criteria, chance);
  return g_strdup_printf (ngettext ("%s takes %s working days and meets the %u criterion that blocks with a chance of %s.",
                                    "%s takes %s working days and meets all %u criteria that block with a chance of %s.", another->n_criteria),
                          which, days, another->n_criteria, chance);
}

/**
 * present_another_round_new:
 * @another: the answer
 *
 * Returns: (transfer full): the same in words
 */
PresentAnotherRound *
present_another_round_new (const InsightAnotherRound *another)
{
  PresentAnotherRound *present = g_new0 (PresentAnotherRound, 1);

  present->headline = headline (another);
  present->note = g_strdup (_("Planned like the newest round, in the state of design that stands. The two amounts are never added: bought "
                              "parts and outside steps may be in both. No price is put on a failure."));
  present->takes = takes_sheet (another);
  present->proves = proves_sheet (another);
  return present;
}

void
present_another_round_free (PresentAnotherRound *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_free (present->note);
  present_sheet_free (present->takes);
  present_sheet_free (present->proves);
  g_free (present);
}

void
present_another_round_add_text (const PresentAnotherRound *present, GString *out, guint width)
{
  present_text_add (out, present->headline, width, "", "");
  present_text_add (out, present->note, width, "", "");
  present_sheet_add_text (present->takes, out, width);
  present_sheet_add_text (present->proves, out, width);
}

static void
add_spread (JsonBuilder *builder, const char *name, const double of[3], guint n)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
  present_json_number (builder, "least", of[0]);
  present_json_number (builder, "median", of[1]);
  present_json_number (builder, "most", of[2]);
  present_json_count (builder, "n", n);
  json_builder_end_object (builder);
}

static void
add_ways (JsonBuilder *builder, const InsightAnotherRound *another)
{
  present_json_list (builder, "ways");
  for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
    {
      const InsightAnotherWay *way = &another->ways[w];

      json_builder_begin_object (builder);
      present_json_count (builder, "units", way->units);
      add_spread (builder, "outside", way->outside, another->n_costs);
      present_json_number (builder, "unit_cost", way->inside);
      present_json_number (builder, "unit_cost_low", way->inside_interval.low);
      present_json_number (builder, "unit_cost_high", way->inside_interval.high);
      present_json_count (builder, "run_days", another->run_days);
      present_json_number (builder, "all", way->all);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_json_another_round:
 * @present: in words
 * @another: the answer
 *
 * Returns: (transfer full): the document
 */
JsonNode *
present_json_another_round (const PresentAnotherRound *present, const InsightAnotherRound *another)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  present_json_text (builder, "headline", present->headline);
  present_json_text (builder, "note", present->note);
  present_json_text (builder, "round", another->round);
  add_spread (builder, "days", another->days, another->n_days);
  add_ways (builder, another);
  present_json_list (builder, "criteria");
  for (guint i = 0; i < another->n_criteria; i++)
    {
      const InsightAnotherCriterion *criterion = &another->criteria[i];

      json_builder_begin_object (builder);
      present_json_text (builder, "code", criterion->code);
      present_json_text (builder, "told", insight_another_name (criterion->told));
      present_json_list (builder, "ways");
      for (guint w = 0; w < INSIGHT_ANOTHER_WAYS; w++)
        {
          json_builder_begin_object (builder);
          present_json_count (builder, "counted", criterion->proofs[w].counted);
          present_json_number (builder, "chance", criterion->proofs[w].chance);
          present_json_flag (builder, "at_most", criterion->proofs[w].at_most);
          json_builder_end_object (builder);
        }
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
