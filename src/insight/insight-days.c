/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-days.h"
#include "insight-days-private.h"

#include "book-evidence.h"
#include "insight-fix-private.h"
#include "insight-span-private.h"
#include "insight-units-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
is_holiday (const BookEvidence *e, BookDay day)
{
  guint low = 0, high = e->n_holidays;

  while (low < high) /* in rising order */
    {
      guint middle = low + (high - low) / 2;

      if (e->holidays[middle] < day)
        low = middle + 1;
      else
        high = middle;
    }
  return low < e->n_holidays && e->holidays[low] == day;
}

static gboolean
is_working (const BookEvidence *e, BookDay day)
{
  return e->week[book_day_weekday (day)] > 0.0 && !is_holiday (e, day);
}

/* The same for days: see insight-span-private.h. */
guint
insight_span_working_days (const BookEvidence *evidence, BookDay from, BookDay to)
{
  guint n = 0;

  if (from == 0 || to == 0)
    return 0;
  for (BookDay day = from + 1; day <= to; day++)
    n += is_working (evidence, day);
  return n;
}

/**
 * insight_days_working:
 * @evidence: the records, for the shop's week and holidays
 * @from: a date
 * @to: a date
 *
 * Returns: the working days after @from up to and including @to; 0 when @to is not after @from, or either is no date
 */
guint
insight_days_working (const BookEvidence *evidence, const char *from, const char *to)
{
  return insight_span_working_days (evidence, book_day_parse (from, NULL), book_day_parse (to, NULL));
}

/* The ends of the phases of a round: a day belongs to the first phase that ends on or after it. */
static const InsightPhase phase_after[] = { INSIGHT_PHASE_DESIGN, INSIGHT_PHASE_MAKE, INSIGHT_PHASE_TEST, INSIGHT_PHASE_DECIDE };

static BookDay
date_of (const BookEvidenceRound *round, guint i)
{
  const BookDay dates[] = { round->opened, round->design_fixed, round->built, round->tested, round->decided };

  return dates[i];
}

static gboolean
is_waiting (const BookEvidence *e, int round, BookDay day, BookDay today)
{
  for (guint i = 0; i < e->n_waits; i++)
    if (e->waits[i].round == round && day > e->waits[i].from && day <= (e->waits[i].to != 0 ? e->waits[i].to : today))
      return TRUE;
  return FALSE;
}

void
insight_round_days_count (const BookEvidence *e, int number, BookDay today, InsightRoundDays *out)
{
  const BookEvidenceRound *round = &e->rounds[number];
  BookDay begin = 0;
  guint last = 0;

  out->open = round->decided == 0 || round->decided > today;
  for (guint i = 0; i < 5; i++)
    {
      BookDay date = date_of (round, i);

      if (date == 0 || date > today)
        continue;
      for (BookDay day = begin + 1; begin != 0 && day <= date; day++)
        if (is_working (e, day))
          out->days[is_waiting (e, number, day, today) ? INSIGHT_PHASE_WAIT : phase_after[i - 1]] += 1.0;
      begin = MAX (begin, date);
      last = i;
    }
  if (!out->open)
    out->phase = INSIGHT_PHASE_DECIDE;
  else
    {
      out->phase = phase_after[MIN (last, 3)];
      for (BookDay day = begin + 1; begin != 0 && day <= today; day++)
        if (is_working (e, day))
          out->days[is_waiting (e, number, day, today) ? INSIGHT_PHASE_WAIT : out->phase] += 1.0;
    }
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    out->total += out->days[p];
}

/* Of each issue, at the round in which it was found, what its units show. */
static void
count_issues (const InsightBasis *basis, BookDay today, InsightDays *days)
{
  const BookEvidence *e = basis->e;
  g_autoptr(InsightLook) look = insight_look_new (basis, (int) e->n_rounds - 1, today);
  g_auto(InsightUnits) units;

  insight_units_init (&units, basis);
  for (guint i = 0; i < e->n_issues; i++)
    {
      const BookEvidenceIssue *issue = &e->issues[i];
      gboolean closed = issue->closed != 0 && issue->closed <= today;
      InsightFixTerms terms = insight_fix_terms (e, (int) i, -1, today);
      InsightRoundDays *out;
      g_autoptr(InsightFix) fix = NULL;

      if (issue->found_round < 0 || !insight_issue_is_seen (e, (int) i, look->through, look->end)
          || (closed && (issue->outcome == BOOK_OUTCOME_DUPLICATE || issue->outcome == BOOK_OUTCOME_ACCEPTED)))
        continue;
      out = &days->rounds[issue->found_round];
      fix = insight_fix_new (look, &units, (int) i, &terms);
      if (fix->state == INSIGHT_ISSUE_PROVEN)
        out->proven++;
      else if (fix->state == INSIGHT_ISSUE_NOT_AGAIN
               || (fix->state == INSIGHT_ISSUE_OPEN && closed && issue->outcome == BOOK_OUTCOME_NOT_REPRODUCED))
        out->not_again++;
      else
        out->found++;
    }
}

/* Built units of each round, and those that fail anything at the first attempt, by the limits of today. */
static void
count_units (const InsightBasis *basis, BookDay today, InsightDays *days)
{
  const BookEvidence *e = basis->e;
  g_autoptr(InsightLook) look = insight_look_new (basis, (int) e->n_rounds - 1, today);
  g_autofree guint8 *failing = g_new0 (guint8, e->n_units + 1);
  g_auto(InsightUnits) units;

  insight_units_init (&units, basis);
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      insight_units_gather (&units, look, (int) c, BOOK_COUNTS_PROTOTYPE);
      for (guint i = 0; i < units.n; i++)
        failing[units.units[i].unit] |= units.units[i].has_data && insight_is_failing (units.units[i].verdict);
    }
  for (guint i = 0; i < e->n_units; i++)
    {
      InsightRoundDays *round = &days->rounds[e->units[i].round];

      round->units += basis->built[i] != 0 && basis->built[i] <= today;
      round->failing += failing[i];
    }
}

/* Days that a round shares with the one before it. */
static guint
overlap_of (const BookEvidence *e, guint index, BookDay today)
{
  const BookEvidenceRound *round = &e->rounds[index];
  const BookEvidenceRound *before = index > 0 ? &e->rounds[index - 1] : NULL;
  BookDay end;

  if (before == NULL || round->opened == 0 || before->opened == 0 || round->opened > today)
    return 0;
  end = before->decided != 0 && before->decided < today ? before->decided : today;
  if (round->decided != 0 && round->decided < end)
    end = round->decided;
  return insight_span_working_days (e, round->opened, end);
}

/**
 * insight_days:
 * @evidence: the records of a model
 * @today: the day to which open phases run
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the model's rounds in order; %INSIGHT_ERROR_DATE
 */
InsightDays *
insight_days (const BookEvidence *evidence, const char *today, GError **error)
{
  InsightSpan span = { 0, today };
  g_autoptr(InsightBasis) basis = NULL;
  InsightDays *days;
  int through;
  BookDay day;

  if (!insight_span_resolve (evidence, &span, &through, &day, error))
    return NULL;

  days = g_new0 (InsightDays, 1);
  days->n_rounds = evidence->n_rounds;
  days->rounds = g_new0 (InsightRoundDays, evidence->n_rounds + 1);
  for (guint i = 0; i < evidence->n_rounds; i++)
    {
      const BookEvidenceRound *round = &evidence->rounds[i];
      InsightRoundDays *out = &days->rounds[i];

      out->id = round->id;
      out->label = g_strdup (round->label);
      out->question = g_strdup (round->question);
      out->kind = round->kind;
      out->verdict = round->decided != 0 && round->decided <= day ? round->verdict : 0;
      out->planned = (guint) MAX (round->planned_units, 0);
      insight_round_days_count (evidence, (int) i, day, out);
      out->overlap = overlap_of (evidence, i, day);
    }
  basis = insight_basis_new (evidence);
  count_units (basis, day, days);
  count_issues (basis, day, days);
  return days;
}

void
insight_days_free (InsightDays *days)
{
  if (days == NULL)
    return;

  for (guint i = 0; i < days->n_rounds; i++)
    {
      g_free (days->rounds[i].label);
      g_free (days->rounds[i].question);
    }
  g_free (days->rounds);
  g_free (days);
}
