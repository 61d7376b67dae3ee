/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-bench.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "present-number.h"

static void
say (GString *words, char *sentence)
{
  if (sentence != NULL && *sentence != '\0')
    g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", sentence);
  g_free (sentence);
}

/**
 * present_bench_headline:
 * @bench: what lies at a bench
 *
 * Returns: (transfer full): how many units wait, the longest for how long, and how much is to be measured
 */
char *
present_bench_headline (const InsightBench *bench)
{
  GString *words;
  guint n = bench->waiting->len;

  if (bench->units->len == 0)
    return g_strdup (_("The model has no units yet: add them to a round, and they wait here."));
  words = g_string_new (NULL);
  if (n == 0)
    say (words, bench->bench != 0 ? g_strdup_printf (_("Nothing waits at '%s'."), bench->name) : g_strdup (_("Nothing waits at any bench.")));
  else if (bench->bench != 0)
    say (words, g_strdup_printf (ngettext ("%u unit waits at '%s'.", "%u units wait at '%s'.", n), n, bench->name));
  else
    say (words, g_strdup_printf (ngettext ("%u unit waits at all benches.", "%u units wait at all benches.", n), n));
  if (n > 0)
    say (words, g_strdup_printf (ngettext ("The longest has waited for %u working day.", "The longest has waited for %u working days.",
                                           bench->longest),
                                 bench->longest));
  if (bench->n_wanted > 0)
    say (words, g_strdup_printf (ngettext ("%u reading is to be taken.", "%u readings are to be taken.", bench->n_wanted), bench->n_wanted));
  return g_string_free (words, FALSE);
}

/**
 * present_bench_elsewhere:
 * @code: of the model that the page speaks about
 * @codes: (element-type utf8): of the models of which units wait, too
 * @counts: (element-type guint): how many of each
 *
 * Returns: (transfer full): what waits at the bench and is not listed, because it is of other models; "" for nothing
 */
char *
present_bench_elsewhere (const char *code, const GPtrArray *codes, const GArray *counts)
{
  g_autoptr(GString) models = g_string_new (NULL);

  for (guint i = 0; i < codes->len; i++)
    /* Translators: a model's code and how many of its units wait, in a list: 'WT (3), DN (1)' */
    g_string_append_printf (models, _("%s%s (%u)"), i > 0 ? ", " : "", (const char *) g_ptr_array_index (codes, i), g_array_index (counts, guint, i));
  if (codes->len == 0)
    return g_strdup ("");
  return g_strdup_printf (_("These are units of %s. Here wait also units of other models, which Ctrl+M chooses: %s."), code, models->str);
}

/* ---- one unit ---- */

/* 'Unit B-08 of round B' */
char *
present_bench_title (const InsightBenchUnit *unit)
{
  return g_strdup_printf (_("Unit %s of round %s"), unit->serial, unit->round);
}

static char *
issue_words (gint64 issue, int no, const char *title)
{
  if (issue == 0)
    return g_strdup ("");
  return title[0] != '\0' ? g_strdup_printf (_("issue %d, %s"), no, title) : g_strdup_printf (_("issue %d"), no);
}

/* 'issue 2, Lever sticks: lever sticks when cold' */
static char *
why_words (gint64 issue, int no, const char *title, const char *reason)
{
  g_autofree char *named = issue_words (issue, no, title);

  if (*named == '\0')
    return g_strdup (reason);
  return reason[0] != '\0' ? g_strdup_printf ("%s: %s", named, reason) : g_steal_pointer (&named);
}

/* What the unit waits for, in a few words for a table. */
static char *
state_words (const InsightBenchUnit *unit)
{
  g_autofree char *why = why_words (unit->issue, unit->issue_no, unit->issue_title, unit->reason);

  switch (unit->state)
    {
    case INSIGHT_BENCH_PLANNED:
      return g_strdup (_("to be begun"));
    case INSIGHT_BENCH_ASSEMBLED:
      return g_strdup (_("assembled"));
    case INSIGHT_BENCH_CAME:
      return g_strdup (_("passed the step before"));
    case INSIGHT_BENCH_BEGUN:
      return g_strdup (_("begun here"));
    case INSIGHT_BENCH_BACK:
      return *why != '\0' ? g_strdup_printf (_("came back: %s"), why) : g_strdup (_("came back"));
    case INSIGHT_BENCH_REWORKED:
      return *why != '\0' ? g_strdup_printf (_("put right, to be looked at again: %s"), why) : g_strdup (_("put right, to be looked at again"));
    case INSIGHT_BENCH_AWAY:
      return g_strdup (_("lent"));
    case INSIGHT_BENCH_DONE:
      return g_strdup (_("through all steps"));
    case INSIGHT_BENCH_GONE:
      return g_strdup (_("scrapped, used up or set aside"));
    case INSIGHT_BENCH_DECIDED:
      return g_strdup (_("its round is decided"));
    case INSIGHT_N_BENCH_STATES:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

static char *
step_words (const InsightBenchUnit *unit)
{
  return unit->step >= 0 ? g_strdup_printf ("%d %s", unit->position, unit->step_name) : g_strdup ("");
}

/**
 * present_bench_place:
 * @unit: a unit
 *
 * Returns: (transfer full): what it waits for, since when, and why it came back
 */
char *
present_bench_place (const InsightBenchUnit *unit)
{
  g_autofree char *step = step_words (unit), *state = state_words (unit);
  GString *words = g_string_new (NULL);

  if (unit->step < 0)
    say (words, g_strdup_printf (_("It waits for no step: %s."), state));
  else if (unit->since[0] != '\0')
    say (words, g_strdup_printf (ngettext ("It waits for step %s since %s, for %u working day: %s.",
                                           "It waits for step %s since %s, for %u working days: %s.", unit->days),
                                 step, unit->since, unit->days, state));
  else
    say (words, g_strdup_printf (_("It waits for step %s: %s."), step, state));
  if (unit->found_at[0] != '\0' && (unit->state == INSIGHT_BENCH_BACK || unit->state == INSIGHT_BENCH_REWORKED))
    say (words, g_strdup_printf (_("It was found at '%s'."), unit->found_at));
  return g_string_free (words, FALSE);
}

/* 'LE Lock engagement, SP Side play (planned)' */
static char *
list_wanted (const InsightBenchUnit *unit, gboolean only_here)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < unit->wanted->len; i++)
    {
      const InsightBenchWanted *wanted = &g_array_index (unit->wanted, InsightBenchWanted, i);

      if (only_here && !wanted->here)
        continue;
      g_string_append_printf (words, "%s%s %s", words->len > 0 ? ", " : "", wanted->code, wanted->name);
      if (wanted->again)
        g_string_append_printf (words, " (%s)", _("again"));
      else if (wanted->planned)
        g_string_append_printf (words, " (%s)", _("planned"));
    }
  return g_string_free (words, FALSE);
}

/**
 * present_bench_wanted:
 * @unit: a unit
 *
 * Returns: (transfer full): what is to be measured on it, at whichever bench; "" for nothing
 */
char *
present_bench_wanted (const InsightBenchUnit *unit)
{
  g_autofree char *list = list_wanted (unit, FALSE);

  return *list != '\0' ? g_strdup_printf (_("To be measured: %s."), list) : g_strdup ("");
}

char *
present_bench_stuck (const InsightBenchUnit *unit)
{
  g_autofree char *state = NULL;

  if (unit->step >= 0)
    return NULL;
  state = state_words (unit);
  return g_strdup_printf (_("%s waits for no step (%s): what else happened to it is written down on its page (Ctrl+U)."), unit->serial, state);
}

char *
present_bench_unknown (const char *serial)
{
  return g_strdup_printf (_("No unit of this model has the serial '%s'. What happened to one begins with its word, as in 'altered: ramp "
                            "stoned 0.1, issue 12'."),
                          serial);
}

char *
present_bench_prompt (const InsightBenchWanted *wanted)
{
  g_autofree char *limits = present_limits (wanted->lower, wanted->upper, wanted->decimals, wanted->unit);

  if (wanted->kind == BOOK_CHARACTERISTIC_CHECKED)
    return g_strdup_printf (_("%s %s: passed or failed"), wanted->code, wanted->name);
  if (isinf (wanted->lower) && isinf (wanted->upper))
    return wanted->unit[0] != '\0' ? g_strdup_printf ("%s %s, %s", wanted->code, wanted->name, wanted->unit)
                                   : g_strdup_printf ("%s %s", wanted->code, wanted->name);
  return g_strdup_printf ("%s %s: %s", wanted->code, wanted->name, limits);
}

char *
present_bench_read (const InsightBenchWanted *wanted, const char *text, gboolean outside)
{
  if (!outside)
    return g_strdup_printf (_("Stored: %s %s."), wanted->code, text);
  return wanted->kind == BOOK_CHARACTERISTIC_CHECKED
             ? g_strdup_printf (_("▲ Stored, and it failed: %s %s."), wanted->code, text)
             : g_strdup_printf (_("▲ Stored, and outside its limits: %s %s."), wanted->code, text);
}

/* ---- tables ---- */

char *
present_bench_more (guint n)
{
  return n > PRESENT_BENCH_MOST
             ? g_strdup_printf (ngettext ("%u more is not listed: it comes up as these leave.",
                                          "%u more are not listed: they come up as these leave.", n - PRESENT_BENCH_MOST),
                                n - PRESENT_BENCH_MOST)
             : g_strdup ("");
}

static const InsightBenchUnit *
unit_at (const InsightBench *bench, const GArray *numbers, guint i)
{
  return g_ptr_array_index (bench->units, g_array_index (numbers, guint, i));
}

PresentSheet *
present_bench_waiting (const InsightBench *bench)
{
  PresentSheet *sheet = present_sheet_new (_("Waiting here"));

  present_sheet_add_column (sheet, _("unit"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("for step"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("why"), FALSE, TRUE, 0);
  for (guint i = 0; i < MIN (bench->waiting->len, PRESENT_BENCH_MOST); i++)
    {
      const InsightBenchUnit *unit = unit_at (bench, bench->waiting, i);

      present_sheet_add_row (sheet, "unit", unit->unit, unit->state == INSIGHT_BENCH_BACK,
                             PRESENT_CELLS (g_strdup (unit->serial), g_strdup (unit->round), step_words (unit),
                                            unit->since[0] != '\0' ? g_strdup_printf ("%u", unit->days) : g_strdup (""), state_words (unit)));
      present_sheet_set_item (sheet, unit->unit);
    }
  return sheet;
}

PresentSheet *
present_bench_measure (const InsightBench *bench)
{
  PresentSheet *sheet = present_sheet_new (_("To be measured"));

  present_sheet_add_column (sheet, _("unit"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("what"), FALSE, TRUE, 0);
  for (guint i = 0; i < MIN (bench->measure->len, PRESENT_BENCH_MOST); i++)
    {
      const InsightBenchUnit *unit = unit_at (bench, bench->measure, i);

      present_sheet_add_row (sheet, "unit", unit->unit, FALSE,
                             PRESENT_CELLS (g_strdup (unit->serial), g_strdup (unit->round), list_wanted (unit, TRUE)));
      present_sheet_set_item (sheet, unit->unit);
    }
  return sheet;
}

PresentSheet *
present_bench_returns (const InsightBench *bench)
{
  PresentSheet *sheet = present_sheet_new (_("What came back, and why"));

  present_sheet_add_column (sheet, _("unit"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("found at"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("why"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("since then"), FALSE, FALSE, 0);
  for (guint i = 0; i < MIN (bench->returns->len, PRESENT_BENCH_MOST); i++)
    {
      const InsightBenchReturn *one = g_ptr_array_index (bench->returns, i);
      const InsightBenchUnit *unit = g_ptr_array_index (bench->units, one->unit);
      gboolean is_open = one->settled[0] == '\0';

      present_sheet_add_row (sheet, one->issue != 0 ? "issue" : "unit", one->issue != 0 ? one->issue : unit->unit, is_open,
                             PRESENT_CELLS (g_strdup (unit->serial), g_strdup (one->date), g_strdup (one->found_at),
                                            why_words (one->issue, one->issue_no, one->issue_title, one->reason),
                                            is_open                               ? g_strdup (_("open"))
                                            : unit->state == INSIGHT_BENCH_GONE ? g_strdup_printf (_("gone %s"), one->settled)
                                                                                  : g_strdup_printf (_("passed %s"), one->settled)));
    }
  return sheet;
}
