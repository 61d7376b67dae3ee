/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the days went, as rows: the model's rounds, and below a rule those of the newest earlier model. */

#include "config.h"

#include "present-leadtime.h"

#include "chart-rows.h"
#include "present-chart.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define EARLIER_MOST 2 /* models beside it */

typedef struct
{
  GArray    *rows;  /* ChartRow */
  GPtrArray *texts;
} Making;

static const char *
keep (Making *making, char *text)
{
  g_ptr_array_add (making->texts, text);
  return text;
}

/* 'round P2: 43 working days: design 9, waiting 14, …' */
static char *
words_of (const InsightRoundDays *round, const char *name)
{
  GString *words = g_string_new (NULL);
  g_autofree char *total = present_number (round->total, 0);

  g_string_append_printf (words, _("round %s: %s working days"), name, total);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    if (round->days[p] > 0.0)
      {
        g_autofree char *days = present_number (round->days[p], 0);

        g_string_append_printf (words, ", %s %s", present_phase_words (p), days);
      }
  if (round->open)
    g_string_append_printf (words, "; %s", _("still open"));
  return g_string_free (words, FALSE);
}

static void
add_round (Making *making, const InsightRoundDays *round, const char *model, gboolean apart)
{
  g_autofree char *name = model == NULL ? g_strdup (round->label) : g_strdup_printf ("%s %s", model, round->label);
  ChartRow row = { .name = keep (making, g_strdup (name)),
                   .figure = keep (making, present_number (round->total, 0)),
                   .parts = round->days,
                   .value = NAN,
                   .low = NAN,
                   .high = NAN,
                   .range_low = NAN,
                   .range_high = NAN,
                   .open = round->open,
                   .apart = apart,
                   .key = model == NULL ? round->id : 0,
                   .words = keep (making, words_of (round, name)) };

  g_array_append_val (making->rows, row);
}

/**
 * present_chart_leadtime:
 * @leadtime: where the days went
 * @with_title: with a heading
 *
 * Returns: (transfer full): a drawing whose marks are the phases of the rounds; their keys are the rounds'
 */
Chart *
present_chart_leadtime (const InsightLeadtime *leadtime, gboolean with_title)
{
  static const ChartHatch hatches[INSIGHT_N_PHASES] = {
    /* as on the round strip */
    [INSIGHT_PHASE_DESIGN] = CHART_HATCH_LINES, [INSIGHT_PHASE_WAIT] = CHART_HATCH_DOTS, [INSIGHT_PHASE_MAKE] = CHART_HATCH_DARK,
    [INSIGHT_PHASE_TEST] = CHART_HATCH_GREY,    [INSIGHT_PHASE_DECIDE] = CHART_HATCH_BLANK
  };
  ChartRowsPart parts[INSIGHT_N_PHASES];
  Making making = { g_array_new (FALSE, FALSE, sizeof (ChartRow)), g_ptr_array_new_with_free_func (g_free) };
  ChartRows data = { .kind = "leadtime",
                     .title = with_title ? _("Where the days went") : NULL,
                     .empty = _("No round has two dates yet."),
                     .scale = _("working days"),
                     .most = NAN,
                     .parts = parts,
                     .n_parts = INSIGHT_N_PHASES };
  g_autoptr(PresentLeadtime) words = present_leadtime_new (leadtime);
  Chart *chart;

  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    parts[p] = (ChartRowsPart){ present_phase_words (p), hatches[p] };
  for (guint r = 0; r < leadtime->n_rounds; r++)
    if (leadtime->rounds[r].total > 0.0)
      add_round (&making, &leadtime->rounds[r], NULL, FALSE);
  for (guint i = 0; i < MIN (leadtime->n_earlier, EARLIER_MOST); i++)
    {
      const InsightEarlier *earlier = &leadtime->earlier[i];
      gboolean first = TRUE;

      for (guint r = 0; r < earlier->n_rounds; r++)
        if (earlier->rounds[r].total > 0.0)
          {
            add_round (&making, &earlier->rounds[r], earlier->code, first);
            first = FALSE;
          }
    }
  data.rows = (const ChartRow *) (gpointer) making.rows->data;
  data.n_rows = making.rows->len;
  chart = present_chart_say (chart_rows_new (&data), words->headline, words->rounds);
  g_array_unref (making.rows);
  g_ptr_array_unref (making.texts);
  return chart;
}
