/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-shelf.h"

#include "insight-days-private.h"
#include "insight-rate.h"
#include "insight-span-private.h"

#include <math.h>

#define DRAWS 2000 /* a figure among many; the rate's own page draws more */

static void
add_days (InsightShelf *shelf, const BookEvidence *e, int through, BookDay today)
{
  shelf->n_rounds = (guint) (through + 1);
  shelf->rounds = g_new0 (InsightRoundDays, shelf->n_rounds + 1);
  for (int r = 0; r <= through; r++)
    {
      InsightRoundDays *out = &shelf->rounds[r];

      out->id = e->rounds[r].id;
      out->label = g_strdup (e->rounds[r].label);
      out->kind = e->rounds[r].kind;
      insight_round_days_count (e, r, today, out);
      shelf->total += out->total;
      shelf->open |= out->open;
    }
}

static gboolean
add_rate (InsightShelf *shelf, const BookEvidence *e, const InsightSpan *span, GError **error)
{
  g_autoptr(InsightPilot) pilot = insight_pilot (e, span, error);
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;

  if (pilot == NULL)
    return FALSE;
  shelf->run = g_strdup (pilot->label);
  if (pilot->round == 0)
    return TRUE;
  input = insight_rate_input (e, pilot);
  rate = insight_rate (input);
  shelf->month = rate->month;
  if (insight_rate_draw (rate, input, DRAWS, NAN, NULL, NULL, NULL))
    shelf->interval = rate->interval;
  return TRUE;
}

/**
 * insight_shelf:
 * @evidence: the records of a model; readings are not needed
 * @standing: (nullable): where it stands; %NULL: not known
 * @today: ISO 8601 date
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the model as one among others; %INSIGHT_ERROR_DATE
 */
InsightShelf *
insight_shelf (const BookEvidence *evidence, const InsightStanding *standing, const char *today, GError **error)
{
  g_autoptr(InsightShelf) shelf = NULL;
  InsightSpan span = { 0, today };
  int through;
  BookDay day;

  if (!insight_span_resolve (evidence, &span, &through, &day, error))
    return NULL;

  shelf = g_new0 (InsightShelf, 1);
  shelf->model = evidence->model_id;
  shelf->code = g_strdup (evidence->code);
  shelf->name = g_strdup (evidence->name);
  shelf->month = NAN;
  shelf->interval = (NumInterval){ NAN, NAN };
  shelf->demand = evidence->monthly_demand;
  shelf->known = standing != NULL;
  if (standing != NULL)
    {
      shelf->criteria = standing->n_total;
      shelf->met = standing->n_met;
      shelf->block = standing->n_block;
      shelf->no_safety = standing->no_safety;
    }
  add_days (shelf, evidence, through, day);
  if (!add_rate (shelf, evidence, &span, error))
    return NULL;
  for (guint i = 0; i < evidence->n_issues; i++)
    shelf->open_safety += evidence->issues[i].klass == BOOK_CLASS_SAFETY
                          && (evidence->issues[i].closed == 0 || evidence->issues[i].closed > day);
  return g_steal_pointer (&shelf);
}

void
insight_shelf_free (InsightShelf *shelf)
{
  if (shelf == NULL)
    return;

  for (guint r = 0; r < shelf->n_rounds; r++)
    g_free (shelf->rounds[r].label);
  g_free (shelf->rounds);
  g_free (shelf->code);
  g_free (shelf->name);
  g_free (shelf->run);
  g_free (shelf);
}
