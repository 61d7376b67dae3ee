/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "rate-fields.h"

#include <glib/gi18n.h>

#include "present-pilot.h"
#include "unparent.h"

/**
 * fettle_rate_fields_fill:
 * @grid: emptied and filled
 * @before: as it is
 * @now: with what was set
 * @of_bench: whether a bench is shown, else a step
 * @index: which
 * @moved: called for each move
 * @user_data: for @moved; as long as the widgets live
 */
void
fettle_rate_fields_fill (GtkGrid *grid, const InsightRateInput *before, const InsightRateInput *now, gboolean of_bench, guint index,
                         FettleFigureMoved moved, gpointer user_data)
{
  int row = 0;

  fettle_unparent_children (grid);
  for (guint f = 0; f < INSIGHT_RATE_N_FIELDS; f++)
    {
      const PresentFigure *figure = present_rate_field (f);
      g_autofree char *is = NULL, *words = NULL;

      if (!present_rate_field_applies (before, of_bench, index, f))
        continue;
      is = present_figure_value (figure, insight_rate_get (before, index, f));
      words = g_strdup_printf (_("is %s"), is);
      fettle_figure_row_attach (grid, row++, figure, insight_rate_field_name (f), insight_rate_get (now, index, f), words, f, moved,
                                user_data);
    }
}
