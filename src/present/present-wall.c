/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-readings.h"

#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/**
 * present_wall_words:
 * @wall: all characteristics
 *
 * Returns: (transfer full): how many fail, and in what order they stand
 */
char *
present_wall_words (const InsightWall *wall)
{
  GString *words = g_string_new (NULL);
  const guint failing = wall->counts[INSIGHT_WALL_FAILS];

  if (wall->n_items == 0)
    {
      g_string_append (words, _("The model has no characteristic yet."));
      return g_string_free (words, FALSE);
    }
  g_string_append_printf (words, ngettext ("%u of %u characteristics has units that fail", "%u of %u characteristics have units that fail",
                                           failing), failing, wall->n_items);
  g_string_append_printf (words, ngettext (", %u gives a signal by rule 1.", ", %u give a signal by rule 1.", wall->signals),
                          wall->signals);
  g_string_append (words, _(" The worst first: by the share that fails at least, then by the distance of the mean to a limit, "
                            "then checks without a failure by their number, then what has too few units, no limits or no data."));
  return g_string_free (words, FALSE);
}

/**
 * present_wall_figure:
 * @item: one characteristic
 *
 * Returns: (transfer full): why it stands where it stands, in a few words
 */
char *
present_wall_figure (const InsightWallItem *item)
{
  const InsightSeries *series = item->series;
  g_autofree char *measure = NULL;

  switch (item->group)
    {
    case INSIGHT_WALL_FAILS:
      return g_strdup_printf (ngettext ("%u of %u fails", "%u of %u fail", series->failed), series->failed, series->n);
    case INSIGHT_WALL_NEAR:
      if (!isfinite (item->measure))
        return g_strdup_printf (ngettext ("%u unit, all the same", "%u units, all the same", series->n), series->n);
      measure = present_number (item->measure, 1);
      /* Translators: how far the mean lies from the nearer limit, in standard deviations; number of units */
      return g_strdup_printf (_("%s std. deviations to a limit, n %u"), measure, series->n);
    case INSIGHT_WALL_PASSES:
      return g_strdup_printf (ngettext ("%u unit passed", "%u units passed", series->n), series->n);
    case INSIGHT_WALL_TOO_FEW:
      return g_strdup_printf (ngettext ("%u unit: too few to tell", "%u units: too few to tell", series->n), series->n);
    case INSIGHT_WALL_NO_LIMITS:
      return g_strdup_printf (_("no limits, n %u"), series->n);
    case INSIGHT_WALL_NO_DATA:
      return g_strdup (series->n_marks > 0 ? _("no longer counts") : _("not measured yet"));
    case INSIGHT_N_WALL_GROUPS:
      break;
    }
  return g_strdup ("");
}

/**
 * present_wall_sheet:
 * @wall: all characteristics
 *
 * Returns: (transfer full): a row a characteristic, in the wall's order; rows lead to characteristics
 */
PresentSheet *
present_wall_sheet (const InsightWall *wall)
{
  PresentSheet *sheet = present_sheet_new (_("All characteristics, the worst first"));

  present_sheet_add_column (sheet, _("code"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("characteristic"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("units"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("fail"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("signals"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("why here"), FALSE, FALSE, 0);
  for (guint i = 0; i < wall->n_items; i++)
    {
      const InsightWallItem *item = &wall->items[i];

      present_sheet_add_row (sheet, "characteristic", item->series->characteristic, item->group == INSIGHT_WALL_FAILS,
                             PRESENT_CELLS (g_strdup (item->series->code), g_strdup (item->series->name),
                                            g_strdup_printf ("%u", item->series->n), g_strdup_printf ("%u", item->series->failed),
                                            g_strdup_printf ("%u", item->individuals->n_signals), present_wall_figure (item)));
    }
  return sheet;
}

/**
 * present_wall_to_text:
 * @wall: all characteristics
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_wall_to_text (const InsightWall *wall, guint width)
{
  g_autoptr(PresentSheet) sheet = present_wall_sheet (wall);
  g_autofree char *words = present_wall_words (wall);
  g_autofree char *wrapped = present_text_wrap (words, width, "", "");
  g_autofree char *table = present_sheet_to_text (sheet, width);

  return *table != '\0' ? g_strdup_printf ("%s%s", wrapped, table) : g_strdup (wrapped);
}
