/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-sheet-words.h"

#include <glib/gi18n.h>

/* '8 units, 7 characteristics, 52 readings' */
static char *
counted (guint units, guint characteristics, guint readings)
{
  g_autofree char *u = g_strdup_printf (ngettext ("%u unit", "%u units", units), units);
  g_autofree char *c = g_strdup_printf (ngettext ("%u characteristic", "%u characteristics", characteristics), characteristics);
  g_autofree char *r = g_strdup_printf (ngettext ("%u reading", "%u readings", readings), readings);

  /* Translators: units, characteristics, readings, each with its count */
  return g_strdup_printf (_("%s, %s, %s"), u, c, r);
}

/**
 * exchange_words_understood:
 * @sheet: a sheet
 *
 * Returns: (transfer full): one or two sentences: what was understood, and whether something was not
 */
char *
exchange_words_understood (const ExchangeSheet *sheet)
{
  guint characteristics = 0, problems = exchange_sheet_count_problems (sheet);
  guint guesses = exchange_sheet_count_remarks (sheet) - problems;
  g_autofree char *what = NULL;
  g_autofree char *understood = NULL;
  g_autofree char *not_understood = NULL;
  g_autofree char *guessed = NULL;

  for (guint i = 0; i < exchange_sheet_count_columns (sheet); i++)
    {
      const ExchangeSheetColumn *column = exchange_sheet_get_column (sheet, i);

      if ((column->role == EXCHANGE_COLUMN_MEASURED || column->role == EXCHANGE_COLUMN_CHECKED) && column->repeat == 1)
        characteristics++;
    }
  what = counted (exchange_sheet_count_units (sheet), characteristics, exchange_sheet_count_readings (sheet));
  understood = g_strdup_printf (_("Understood: %s."), what);
  not_understood = problems > 0
                       ? g_strdup_printf (ngettext (" %u place was not understood.", " %u places were not understood.", problems), problems)
                       : g_strdup ("");
  guessed = guesses > 0 ? g_strdup_printf (ngettext (" %u guess is listed below.", " %u guesses are listed below.", guesses), guesses)
                        : g_strdup ("");
  return g_strconcat (understood, not_understood, guessed, NULL);
}

/**
 * exchange_words_remark:
 * @remark: a guess or a problem
 *
 * Returns: (transfer full): where and what, in one line
 */
char *
exchange_words_remark (const ExchangeSheetRemark *remark)
{
  if (remark->place == NULL || remark->place[0] == '\0')
    return g_strdup (remark->text);
  /* Translators: a place in a sheet and a sentence about it: 'C5: …' */
  return g_strdup_printf (_("%s: %s"), remark->place, remark->text);
}

/**
 * exchange_words_store:
 * @sheet: a sheet
 *
 * Returns: (transfer full): what a button that stores it says
 */
char *
exchange_words_store (const ExchangeSheet *sheet)
{
  guint readings = exchange_sheet_count_readings (sheet);

  if (readings == 0)
    return g_strdup (_("Nothing to Store"));
  return g_strdup_printf (ngettext ("Store %u Reading", "Store %u Readings", readings), readings);
}

/**
 * exchange_words_stored:
 * @stored: what was stored
 *
 * Returns: (transfer full): one sentence
 */
char *
exchange_words_stored (const ExchangeSheetStored *stored)
{
  g_autofree char *what = counted (stored->units, stored->characteristics, stored->readings);

  if (stored->readings == 0)
    return g_strdup (_("The book has all of this sheet already: nothing was stored."));
  if (stored->limits_kept > 0)
    /* Translators: what was stored, and a sentence about the limits in the head of the sheet */
    return g_strdup_printf (ngettext ("Stored as new: %s. In %u column the sheet has other limits than the book, which stay.",
                                      "Stored as new: %s. In %u columns the sheet has other limits than the book, which stay.",
                                      stored->limits_kept),
                            what, stored->limits_kept);
  return g_strdup_printf (_("Stored as new: %s."), what);
}
