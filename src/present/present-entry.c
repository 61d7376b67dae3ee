/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-entry.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "present-number.h"

/* The code, with the unit of its values. */
char *
present_entry_title (const InsightEntryColumn *column)
{
  return column->unit[0] != '\0' ? g_strdup_printf ("%s, %s", column->code, column->unit) : g_strdup (column->code);
}

/* The limits in force, as they stand in the head of a measuring sheet; "" without any. */
char *
present_entry_limits (const InsightEntryColumn *column)
{
  if (column->kind == BOOK_CHARACTERISTIC_CHECKED)
    return g_strdup (_("p or f"));
  if (isinf (column->lower) && isinf (column->upper))
    return g_strdup ("");
  return present_limits (column->lower, column->upper, column->decimals, "");
}

/**
 * present_entry_value:
 * @column: a characteristic
 * @mark: how the value is to be read
 * @value: NAN for a check
 *
 * Returns: (transfer full): the value without its unit, as it is typed: 12.50, >20, passed
 */
char *
present_entry_value (const InsightEntryColumn *column, BookMark mark, double value)
{
  g_autofree char *figure = NULL;

  if (mark == BOOK_MARK_PASSED)
    return g_strdup (_("passed"));
  if (mark == BOOK_MARK_FAILED)
    return g_strdup (_("failed"));
  if (isnan (value))
    return g_strdup ("");
  figure = present_number (value, column->decimals);
  return g_strdup_printf ("%s%s", mark == BOOK_MARK_ABOVE ? ">" : mark == BOOK_MARK_BELOW ? "<" : "", figure);
}

const char *
present_entry_sign (InsightEntryJudged judged, gboolean slips)
{
  if (slips)
    return "?";
  switch (judged)
    {
    case INSIGHT_ENTRY_ABOVE:
      return "▲";
    case INSIGHT_ENTRY_BELOW:
      return "▼";
    case INSIGHT_ENTRY_FAILED:
      return "✕";
    case INSIGHT_ENTRY_EMPTY:
    case INSIGHT_ENTRY_OPEN:
    case INSIGHT_ENTRY_INSIDE:
      break;
    }
  return NULL;
}

static char *
value_with_unit (const InsightEntryColumn *column, BookMark mark, double value)
{
  g_autofree char *figure = present_entry_value (column, mark, value);

  return column->unit[0] == '\0' || isnan (value) ? g_steal_pointer (&figure) : g_strdup_printf ("%s %s", figure, column->unit);
}

/* How a value stands, after the value itself. */
static char *
judged_words (const InsightEntryColumn *column, InsightEntryJudged judged)
{
  g_autofree char *limit = NULL;

  switch (judged)
    {
    case INSIGHT_ENTRY_ABOVE:
      limit = present_value (column->upper, column->decimals, column->unit);
      return g_strdup_printf (_("above the upper limit %s"), limit);
    case INSIGHT_ENTRY_BELOW:
      limit = present_value (column->lower, column->decimals, column->unit);
      return g_strdup_printf (_("below the lower limit %s"), limit);
    case INSIGHT_ENTRY_FAILED:
      return g_strdup (_("not as it should be"));
    case INSIGHT_ENTRY_INSIDE:
      return column->kind == BOOK_CHARACTERISTIC_CHECKED ? NULL : g_strdup (_("within the limits"));
    case INSIGHT_ENTRY_OPEN:
      return isinf (column->lower) && isinf (column->upper) ? g_strdup (_("there are no limits"))
                                                            : g_strdup (_("cannot be told against the limits"));
    case INSIGHT_ENTRY_EMPTY:
      break;
    }
  return NULL;
}

/**
 * present_entry_cell:
 * @entry: the round
 * @unit: row of the cell
 * @column: of the cell
 * @mark: of what stands there
 * @value: that stands there; not looked at when nothing does
 * @judged: how it stands; %INSIGHT_ENTRY_EMPTY: nothing was read
 *
 * Returns: (transfer full): the cell in words, without a full stop
 */
char *
present_entry_cell (const InsightEntry *entry, guint unit, guint column, BookMark mark, double value, InsightEntryJudged judged)
{
  const InsightEntryColumn *one = &entry->columns[column];
  const InsightEntryCell *cell = insight_entry_cell (entry, unit, column);
  const char *serial = entry->units[unit].serial;
  g_autofree char *shown = judged != INSIGHT_ENTRY_EMPTY ? value_with_unit (one, mark, value) : NULL;
  g_autofree char *words = judged_words (one, judged);
  g_autofree char *others = cell->others == 0 ? NULL
                            : g_strdup_printf (ngettext ("; %u other reading", "; %u other readings", cell->others), cell->others);
  const char *rest = others != NULL ? others : "";

  if (judged == INSIGHT_ENTRY_EMPTY)
    return g_strdup_printf (cell->voided != 0 ? _("%s, %s %s: voided; the next value is another repeat%s")
                            : cell->expected  ? _("%s, %s %s: not measured yet%s")
                                              : _("%s, %s %s: nothing is expected here%s"),
                            serial, one->code, one->name, rest);
  return g_strdup_printf ("%s, %s %s: %s%s%s%s", serial, one->code, one->name, shown, words != NULL ? ", " : "",
                          words != NULL ? words : "", rest);
}

/* Asks about a value that looks like a slipped decimal point. */
char *
present_entry_slip (const InsightEntry *entry, guint unit, guint column, double value, double meant)
{
  const InsightEntryColumn *one = &entry->columns[column];
  g_autofree char *typed = present_number (value, -1), *other = present_number (meant, -1);

  return g_strdup_printf (_("%s, %s: is %s right? With the decimal point one place further it would be %s, as is usual here. It is kept as typed."),
                          entry->units[unit].serial, one->code, typed, other);
}

/* NULL: its readings count. */
char *
present_entry_gauge (const InsightEntryGauge *gauge)
{
  if (!gauge->out)
    return NULL;
  if (gauge->due[0] != '\0')
    return g_strdup_printf (_("'%s' is not in order: it was due on %s. What it reads does not count until it is calibrated."), gauge->name,
                            gauge->due);
  return g_strdup_printf (_("'%s' is not in order. What it reads does not count until it is calibrated."), gauge->name);
}

/* What is missing in all, of a unit and of a characteristic. */
char *
present_entry_missing (const InsightEntry *entry, guint all, guint unit, guint of_unit, guint column, guint of_column)
{
  g_autofree char *sum = NULL;

  if (all == 0)
    return g_strdup (_("Nothing is missing."));
  sum = g_strdup_printf (ngettext ("%u reading is missing.", "%u readings are missing.", all), all);
  if (unit >= entry->n_units || column >= entry->n_columns)
    return g_steal_pointer (&sum);
  /* Translators: the sentence how many are missing in all; then a unit with its number, a characteristic with its number */
  return g_strdup_printf (_("%s Of %s: %u; of %s: %u."), sum, entry->units[unit].serial, of_unit, entry->columns[column].code, of_column);
}
