/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The courses of two models over one scale: round beside round, or each from its first working day on. */

#include "config.h"

#include "present-shelf.h"

#include "chart-rows.h"
#include "present-chart.h"
#include "present-leadtime.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

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

static void
add_round (Making *making, const InsightShelf *shelf, guint r, gboolean by_days, double before, gboolean apart)
{
  const InsightRoundDays *round = &shelf->rounds[r];
  g_autofree char *days = present_number (round->total, 0), *first = present_number (before, 0),
                  *last = present_number (before + round->total, 0);
  char *words = by_days ? g_strdup_printf (_("%s, round %s: working days %s to %s"), shelf->code, round->label, first, last)
                        : g_strdup_printf (_("%s, round %s: %s working days"), shelf->code, round->label, days);
  ChartRow row = { .name = keep (making, g_strdup_printf ("%s %s", shelf->code, round->label)),
                   .figure = keep (making, g_strdup (by_days ? last : days)),
                   .parts = by_days ? NULL : round->days,
                   .value = NAN,
                   .low = NAN,
                   .high = NAN,
                   .range_low = by_days ? before : NAN,
                   .range_high = by_days ? before + round->total : NAN,
                   .open = round->open,
                   .apart = apart,
                   .key = shelf->model,
                   .words = keep (making, words) };

  g_array_append_val (making->rows, row);
}

static void
add_course (Making *making, const InsightShelf *shelf, gboolean apart)
{
  double before = 0.0;

  for (guint r = 0; r < shelf->n_rounds; r++)
    {
      add_round (making, shelf, r, TRUE, before, apart && r == 0);
      before += shelf->rounds[r].total;
    }
}

static void
add_sentence (GString *out, const InsightShelf *shelf)
{
  g_autofree char *days = present_number (shelf->total, 0);

  if (out->len > 0)
    g_string_append_c (out, ' ');
  g_string_append_printf (out,
                          shelf->open /* Translators: code of a model, its rounds, working days */
                              ? ngettext ("%s: %u round, %s working days so far.", "%s: %u rounds, %s working days so far.", shelf->n_rounds)
                              : ngettext ("%s: %u round, %s working days.", "%s: %u rounds, %s working days.", shelf->n_rounds),
                          shelf->code, shelf->n_rounds, days);
}

static void
add_rows (PresentSheet *sheet, const InsightShelf *shelf)
{
  for (guint r = 0; r < shelf->n_rounds; r++)
    {
      const InsightRoundDays *round = &shelf->rounds[r];
      char **cells = g_new0 (char *, INSIGHT_N_PHASES + 4);

      cells[0] = g_strdup (shelf->code);
      cells[1] = g_strdup (round->label);
      cells[2] = present_number (round->total, 0);
      for (guint p = 0; p < INSIGHT_N_PHASES; p++)
        cells[3 + p] = present_number (round->days[p], 0);
      present_sheet_add_row (sheet, NULL, 0, round->open, cells);
    }
}

/* How long each took, and a row a round. */
static Chart *
say (Chart *chart, const InsightShelf *one, const InsightShelf *other)
{
  g_autoptr(PresentSheet) sheet = present_sheet_new (_("Models, round by round"));
  g_autoptr(GString) sentence = g_string_new (NULL);

  present_sheet_add_column (sheet, _("Model"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Round"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Working days"), TRUE, FALSE, 0);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    present_sheet_add_column (sheet, present_phase_words (p), TRUE, FALSE, 1);
  add_sentence (sentence, one);
  add_rows (sheet, one);
  if (other != NULL)
    {
      add_sentence (sentence, other);
      add_rows (sheet, other);
    }
  return present_chart_say (chart, sentence->str, sheet);
}

/**
 * present_chart_courses:
 * @one: a model
 * @other: (nullable): another one
 * @by_days: every round begins where the days of those before it end, without pauses between; else the rounds stand beside one another by their
 *   number, divided by phases
 * @with_title: with a heading
 *
 * Returns: (transfer full): a drawing whose marks are rounds or their phases; their keys are the models'
 */
Chart *
present_chart_courses (const InsightShelf *one, const InsightShelf *other, gboolean by_days, gboolean with_title)
{
  static const ChartHatch hatches[INSIGHT_N_PHASES] = {
    /* as on the round strip */
    [INSIGHT_PHASE_DESIGN] = CHART_HATCH_LINES, [INSIGHT_PHASE_WAIT] = CHART_HATCH_DOTS, [INSIGHT_PHASE_MAKE] = CHART_HATCH_DARK,
    [INSIGHT_PHASE_TEST] = CHART_HATCH_GREY,    [INSIGHT_PHASE_DECIDE] = CHART_HATCH_BLANK
  };
  ChartRowsPart parts[INSIGHT_N_PHASES];
  Making making = { g_array_new (FALSE, FALSE, sizeof (ChartRow)), g_ptr_array_new_with_free_func (g_free) };
  guint most = MAX (one->n_rounds, other != NULL ? other->n_rounds : 0);
  ChartRows data = { .kind = "courses",
                     .title = with_title ? _("Models, round by round") : NULL,
                     .empty = _("No round has two dates yet."),
                     .scale = by_days ? _("working days of its rounds, one after the other") : _("working days"),
                     .most = NAN,
                     .parts = by_days ? NULL : parts,
                     .n_parts = by_days ? 0 : INSIGHT_N_PHASES };
  Chart *chart;

  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    parts[p] = (ChartRowsPart){ present_phase_words (p), hatches[p] };
  if (by_days)
    {
      add_course (&making, one, FALSE);
      if (other != NULL)
        add_course (&making, other, TRUE);
    }
  for (guint r = 0; r < most && !by_days; r++)
    {
      if (r < one->n_rounds)
        add_round (&making, one, r, FALSE, 0.0, r > 0);
      if (other != NULL && r < other->n_rounds)
        add_round (&making, other, r, FALSE, 0.0, r > 0 && r >= one->n_rounds);
    }
  data.rows = (const ChartRow *) (gpointer) making.rows->data;
  data.n_rows = making.rows->len;
  chart = say (chart_rows_new (&data), one, other);
  g_array_unref (making.rows);
  g_ptr_array_unref (making.texts);
  return chart;
}
