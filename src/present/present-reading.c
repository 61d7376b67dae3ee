/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-reading.h"

#include <glib/gi18n.h>
#include <math.h>

#include "present-number.h"

static const char *const headings[] = {
  [PRESENT_READING_ROUND] = N_("Round"),
  [PRESENT_READING_SERIAL] = N_("Unit"),
  [PRESENT_READING_CHARACTERISTIC] = N_("Characteristic"),
  [PRESENT_READING_ATTEMPT] = N_("Attempt"),
  [PRESENT_READING_VALUE] = N_("Value"),
  [PRESENT_READING_STATE] = N_("Against the limits"),
  [PRESENT_READING_TAKEN] = N_("Taken"),
  [PRESENT_READING_PERSON] = N_("By"),
  [PRESENT_READING_REMARK] = N_("Remark"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (headings) == PRESENT_N_READING_COLUMNS);

static const char *const countings[] = {
  [INSIGHT_COUNTS] = "",
  [INSIGHT_NOT_VOIDED] = N_("voided"),
  [INSIGHT_NOT_LATER_ATTEMPT] = N_("a later attempt"),
  [INSIGHT_NOT_OTHER_STEP] = N_("at another step"),
  [INSIGHT_NOT_STATE] = N_("no longer counts"),
  [INSIGHT_NOT_LATER_STATE] = N_("of a later design"),
  [INSIGHT_NOT_KIND] = N_("its kind of round does not count"),
  [INSIGHT_NOT_EXCUSED] = N_("excused"),
  [INSIGHT_NOT_ALTERED] = N_("after an alteration"),
  [INSIGHT_NOT_GAUGE] = N_("gauge out of calibration"),
  [INSIGHT_NOT_OLDER_LIMIT] = N_("to an older limit"),
  [INSIGHT_NOT_SPAN] = N_("after the round looked through"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (countings) == INSIGHT_N_COUNTINGS);

static char *
attempt_text (const BookReadingRow *row)
{
  if (row->n > 1)
    return g_strdup_printf ("%u·%u", row->attempt, row->n);
  return g_strdup_printf ("%u", row->attempt);
}

static char *
value_text (const BookReadingRow *row)
{
  g_autofree char *figure = NULL;

  switch (row->mark)
    {
    case BOOK_MARK_PASSED:
      return g_strdup (_("passed"));
    case BOOK_MARK_FAILED:
      return g_strdup (_("failed"));
    case BOOK_MARK_MEASURED:
    case BOOK_MARK_ABOVE:
    case BOOK_MARK_BELOW:
      break;
    }
  if (isnan (row->value))
    return g_strdup ("");
  figure = present_number (row->value, (int) row->decimals);
  return g_strdup_printf ("%s%s", row->mark == BOOK_MARK_ABOVE   ? "> "
                                  : row->mark == BOOK_MARK_BELOW ? "< "
                                                                 : "",
                          figure);
}

static const char *
verdict_text (const InsightMark *mark)
{
  switch (mark->verdict)
    {
    case INSIGHT_INSIDE:
      return _("inside");
    case INSIGHT_OUTSIDE:
      return _("outside");
    case INSIGHT_UNDECIDABLE:
      return _("cannot be told");
    case INSIGHT_NO_VERDICT:
      return _("not judged");
    }
  return "";
}

static char *
state_text (const BookReadingRow *row, const InsightMark *mark, PresentWeight *weight)
{
  if (row->voided)
    {
      *weight = PRESENT_WEIGHT_LESS;
      return g_strdup (_("voided"));
    }
  if (mark == NULL)
    return g_strdup ("");
  if (mark->counting != INSIGHT_COUNTS)
    {
      *weight = PRESENT_WEIGHT_LESS;
      /* Translators: a verdict and why it does not count: 'inside; no longer counts' */
      return g_strdup_printf (_("%s; %s"), verdict_text (mark), _(countings[mark->counting]));
    }
  if (mark->verdict == INSIGHT_OUTSIDE || mark->verdict == INSIGHT_UNDECIDABLE)
    *weight = PRESENT_WEIGHT_OPEN;
  return g_strdup (verdict_text (mark));
}

/* 2026-11-17T09:24 as '2026-11-17 09:24' */
static char *
taken_text (const BookReadingRow *row)
{
  return g_strdelimit (g_strdup (row->taken), "T", ' ');
}

const char *
present_reading_heading (PresentReadingColumn column)
{
  g_return_val_if_fail ((guint) column < PRESENT_N_READING_COLUMNS, "");

  return _(headings[column]);
}

/**
 * present_reading_cell:
 * @row: a reading
 * @mark: (nullable): what the series says of its unit and attempt; %NULL when it was not asked
 * @column: which cell
 * @weight: (out): how weighty it is
 *
 * Returns: (transfer full): the text of one cell
 */
char *
present_reading_cell (const BookReadingRow *row, const InsightMark *mark, PresentReadingColumn column, PresentWeight *weight)
{
  *weight = row->voided || (mark != NULL && mark->counting != INSIGHT_COUNTS) ? PRESENT_WEIGHT_LESS : PRESENT_WEIGHT_PLAIN;
  switch (column)
    {
    case PRESENT_READING_ROUND:
      return g_strdup (row->round);
    case PRESENT_READING_SERIAL:
      return g_strdup (row->serial);
    case PRESENT_READING_CHARACTERISTIC:
      return row->unit[0] != '\0' ? g_strdup_printf ("%s, %s", row->name, row->unit) : g_strdup (row->name);
    case PRESENT_READING_ATTEMPT:
      return attempt_text (row);
    case PRESENT_READING_VALUE:
      if (row->voided)
        *weight = PRESENT_WEIGHT_STRUCK;
      else if (row->mark == BOOK_MARK_FAILED && *weight == PRESENT_WEIGHT_PLAIN)
        *weight = PRESENT_WEIGHT_OPEN;
      return value_text (row);
    case PRESENT_READING_STATE:
      return state_text (row, mark, weight);
    case PRESENT_READING_TAKEN:
      *weight = PRESENT_WEIGHT_LESS;
      return taken_text (row);
    case PRESENT_READING_PERSON:
      *weight = PRESENT_WEIGHT_LESS;
      return g_strdup (row->person);
    case PRESENT_READING_REMARK:
      *weight = PRESENT_WEIGHT_LESS;
      return g_strdup (row->reason);
    case PRESENT_N_READING_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

/**
 * present_reading_words:
 * @row: a reading
 * @mark: (nullable): what the series says of it
 *
 * Returns: (transfer full): the reading for those who do not see the table: 'B-41, Opening force: 17.3 N; outside'
 */
char *
present_reading_words (const BookReadingRow *row, const InsightMark *mark)
{
  PresentWeight weight = PRESENT_WEIGHT_PLAIN;
  g_autofree char *value = value_text (row);
  g_autofree char *state = state_text (row, mark, &weight);
  g_autofree char *what = g_strdup_printf ("%s%s%s", value, row->unit[0] != '\0' ? " " : "", row->unit);

  if (state[0] == '\0')
    /* Translators: unit, characteristic, value */
    return g_strdup_printf (_("%s, %s: %s"), row->serial, row->name, what);
  /* Translators: unit, characteristic, value, state against the limits */
  return g_strdup_printf (_("%s, %s: %s; %s"), row->serial, row->name, what, state);
}

/**
 * present_reading_issue:
 * @row: a reading
 * @judged: how it stands against its limits
 *
 * Returns: (transfer full): what an issue raised from the reading is called first; no more than the reading shows
 */
char *
present_reading_issue (const BookReadingRow *row, InsightEntryJudged judged)
{
  switch (judged)
    {
    case INSIGHT_ENTRY_FAILED:
      /* Translators: %s is the name of a check, as in 'Lock holds under the bench test: failed' */
      return g_strdup_printf (_("%s: failed"), row->name);
    case INSIGHT_ENTRY_ABOVE:
    case INSIGHT_ENTRY_BELOW:
      /* Translators: %s is the name of what is measured, as in 'Lock engagement: outside its limits' */
      return g_strdup_printf (_("%s: outside its limits"), row->name);
    case INSIGHT_ENTRY_EMPTY:
    case INSIGHT_ENTRY_OPEN:
    case INSIGHT_ENTRY_INSIDE:
      break;
    }
  /* Translators: what was measured and the serial of the unit, as in 'Lock engagement, unit P2-01': nothing is wrong with it */
  return g_strdup_printf (_("%s, unit %s"), row->name, row->serial);
}
