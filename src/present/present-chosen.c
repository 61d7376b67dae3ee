/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-chosen.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>

#define NAMED 6 /* serial numbers in the summary; the others are counted */

/* What a fact is, without who has it. */
static char *
name_of (const InsightFact *fact)
{
  switch (fact->kind)
    {
    case INSIGHT_FACT_LOT:
      return *fact->of == '\0' ? g_strdup_printf (_("lot %s"), fact->name) : g_strdup_printf (_("lot %s of %s"), fact->name, fact->of);
    case INSIGHT_FACT_REVISION:
      return g_strdup_printf (_("revision %s of %s"), fact->name, fact->of);
    case INSIGHT_FACT_ROUND:
      return g_strdup_printf (_("round %s"), fact->name);
    case INSIGHT_FACT_ISSUE:
      return g_strdup_printf (_("issue %d, %s"), fact->no, fact->name);
    case INSIGHT_FACT_FAILS:
      return g_strdup_printf (_("outside the limits in %s"), fact->name);
    case INSIGHT_N_FACTS:
      break;
    }
  return g_strdup ("");
}

/* 'All 4 have lot 203 of Spring; of the 36 others 2 have it.' */
static char *
tell_fact (const InsightFact *fact, const InsightChosen *chosen)
{
  const gboolean all = fact->chosen == chosen->n;
  g_autofree char *who = all ? g_strdup_printf (_("all %u"), chosen->n)
                             : g_strdup_printf (_("%u of %u"), fact->chosen, chosen->n);
  g_autofree char *name = name_of (fact);

  /* Translators: a thing that chosen units have in common; how many of them have it ('all 4', '3 of 4'); how many of the others */
  return g_strdup_printf (_("In common: %s (%s chosen; %u of %u others)."), name, who, fact->others, chosen->n_others);
}

static const char *
record_of (InsightFactKind kind)
{
  static const char *const records[] = { "lot", "revision", "round", "issue", "characteristic" };
  G_STATIC_ASSERT (G_N_ELEMENTS (records) == INSIGHT_N_FACTS);

  return records[kind];
}

static PresentSheet *
list_shared (const InsightChosen *chosen)
{
  PresentSheet *sheet = present_sheet_new (_("In common"));

  present_sheet_add_column (sheet, _("what"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("chosen"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("others"), TRUE, FALSE, 0);
  for (guint i = 0; i < chosen->n_shared; i++)
    {
      const InsightFact *fact = &chosen->shared[i];

      present_sheet_add_row (sheet, record_of (fact->kind), fact->key, FALSE,
                             PRESENT_CELLS (name_of (fact), g_strdup_printf (_("%u of %u"), fact->chosen, chosen->n),
                                            g_strdup_printf (_("%u of %u"), fact->others, chosen->n_others)));
    }
  return sheet;
}

static char *
value_of (const InsightChosenValue *value)
{
  g_autofree char *figure = NULL;

  if (value->kind == BOOK_CHARACTERISTIC_CHECKED)
    return g_strdup (value->verdict == INSIGHT_INSIDE ? _("passed") : _("◆ failed"));
  figure = present_value (value->value, value->decimals, value->unit);
  if (value->mark == BOOK_MARK_ABOVE || value->mark == BOOK_MARK_BELOW)
    {
      g_autofree char *plain = g_steal_pointer (&figure);

      figure = g_strdup_printf (value->mark == BOOK_MARK_ABOVE ? _("above %s") : _("below %s"), plain);
    }
  switch (value->verdict)
    {
    case INSIGHT_OUTSIDE:
      return g_strdup_printf (_("◆ %s outside"), figure);
    case INSIGHT_UNDECIDABLE:
      return g_strdup_printf (_("◆ %s undecided"), figure);
    case INSIGHT_NO_VERDICT:
      return g_strdup_printf (_("%s no limits"), figure);
    case INSIGHT_INSIDE:
      break;
    }
  return g_steal_pointer (&figure);
}

/* Why a value does not count is told by its mark and on its own row: here there is little room. */
static char *
what_of (const InsightChosenValue *value)
{
  switch (value->counting)
    {
    case INSIGHT_COUNTS:
      return g_strdup_printf ("%s  %s", value->code, value->name);
    case INSIGHT_NOT_VOIDED:
      return g_strdup_printf (_("%s  %s, voided"), value->code, value->name);
    default:
      return g_strdup_printf (_("%s  %s, does not count"), value->code, value->name);
    }
}

static void
add_value (PresentSheet *sheet, const InsightChosenValue *value)
{
  const gboolean fails = value->verdict == INSIGHT_OUTSIDE || value->verdict == INSIGHT_UNDECIDABLE;

  present_sheet_add_row (sheet, "reading", value->reading, fails && value->counting == INSIGHT_COUNTS,
                         PRESENT_CELLS (what_of (value), value_of (value)));
}

static void
add_fact (PresentSheet *sheet, const InsightFact *fact)
{
  char *cell = name_of (fact);

  present_sheet_add_row (sheet, record_of (fact->kind), fact->key, fact->kind == INSIGHT_FACT_ISSUE,
                         PRESENT_CELLS (cell, g_strdup ("")));
}

static PresentSheet *
list_units (const InsightChosen *chosen)
{
  g_autofree char *title = chosen->n > chosen->n_units
                               ? g_strdup_printf (_("The first %u units"), chosen->n_units)
                               : g_strdup (ngettext ("The unit", "Each unit", chosen->n));
  PresentSheet *sheet = present_sheet_new (title);

  present_sheet_add_column (sheet, _("unit"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("value"), TRUE, FALSE, 0);
  for (guint i = 0; i < chosen->n_units; i++)
    {
      const InsightChosenUnit *unit = &chosen->units[i];

      present_sheet_add_row (sheet, "unit", unit->id, FALSE,
                             PRESENT_CELLS (g_strdup_printf (_("▸ Unit %s"), unit->serial),
                                            g_strdup_printf (_("round %s"), unit->round)));
      for (guint v = 0; v < unit->values->len; v++)
        add_value (sheet, &g_array_index (unit->values, InsightChosenValue, v));
      for (guint f = 0; f < unit->facts->len; f++)
        add_fact (sheet, &g_array_index (unit->facts, InsightFact, f));
    }
  return sheet;
}

/* '2 units chosen: P2-01, P2-07. In common: …' */
static char *
summarise (const InsightChosen *chosen)
{
  GString *words = g_string_new (NULL);

  if (chosen->n == 0)
    {
      g_string_append (words, _("None of the chosen units is looked at in these rounds."));
      return g_string_free (words, FALSE);
    }
  g_string_append_printf (words, ngettext ("%u unit chosen: ", "%u units chosen: ", chosen->n), chosen->n);
  for (guint i = 0; i < MIN (chosen->n_units, NAMED); i++)
    g_string_append_printf (words, "%s%s", i > 0 ? ", " : "", chosen->units[i].serial);
  if (chosen->n > NAMED)
    g_string_append_printf (words, _(" and %u more"), chosen->n - NAMED);
  g_string_append (words, ".");
  if (chosen->n < 2)
    return g_string_free (words, FALSE);
  if (chosen->n_shared > 0)
    {
      g_autofree char *most = tell_fact (&chosen->shared[0], chosen);

      g_string_append_printf (words, " %s", most);
    }
  else if (chosen->n_others == 0)
    g_string_append (words, _(" All are chosen: there are no others to hold them against."));
  else
    g_string_append (words, _(" Nothing is more frequent among them than among the others."));
  return g_string_free (words, FALSE);
}

/**
 * present_chosen_new:
 * @chosen: the units
 *
 * Returns: (transfer full): the same in words, which need nothing of @chosen any more
 */
PresentChosen *
present_chosen_new (const InsightChosen *chosen)
{
  PresentChosen *present = g_new0 (PresentChosen, 1);

  present->summary = summarise (chosen);
  if (chosen->n_shared > 0)
    present->caution = g_strdup (_("A plain count, not a cause: among many lots, revisions and issues some are always more "
                                   "frequent on one side."));
  present->shared = list_shared (chosen);
  present->units = list_units (chosen);
  return present;
}

void
present_chosen_free (PresentChosen *present)
{
  if (present == NULL)
    return;
  g_free (present->summary);
  g_free (present->caution);
  present_sheet_free (present->shared);
  present_sheet_free (present->units);
  g_free (present);
}
