/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "insight-wall.h"

#include "insight-series-private.h"
#include "insight-span-private.h"
#include "num-proportion.h"

#include <math.h>
#include <stdlib.h>

#define WALL_CONFIDENCE 0.95

static const char *const group_names[] = { "fails", "near", "passes", "too-few", "no-limits", "no-data" };
G_STATIC_ASSERT (G_N_ELEMENTS (group_names) == INSIGHT_N_WALL_GROUPS);

/* An untranslated word, such as `too-few`. */
const char *
insight_wall_group_name (InsightWallGroup group)
{
  g_return_val_if_fail ((guint) group < INSIGHT_N_WALL_GROUPS, "");

  return group_names[group];
}

/* Deviations from the mean to the nearer limit; INFINITY where all values are the same. */
static double
distance (const InsightSeries *series)
{
  const InsightSeriesLimit *limit = &series->limits[series->now];
  double room = MIN (limit->upper - series->mean, series->mean - limit->lower);
  double infinite = INFINITY;

  return series->sd > 0.0 ? room / series->sd : infinite;
}

static void
place (InsightWallItem *item)
{
  const InsightSeries *series = item->series;
  const gboolean checked = series->kind == BOOK_CHARACTERISTIC_CHECKED;
  NumInterval share;

  item->measure = NAN;
  if (series->n == 0)
    item->group = INSIGHT_WALL_NO_DATA;
  else if (series->failed > 0)
    {
      item->group = INSIGHT_WALL_FAILS;
      if (num_proportion_exact (series->failed, series->n, WALL_CONFIDENCE, &share) == NUM_OK)
        item->measure = share.low;
    }
  else if (series->n < INSIGHT_WALL_LEAST)
    item->group = INSIGHT_WALL_TOO_FEW;
  else if (checked)
    {
      item->group = INSIGHT_WALL_PASSES;
      item->measure = series->n;
    }
  else if (series->now < 0 || isnan (series->mean) || isnan (series->sd))
    item->group = INSIGHT_WALL_NO_LIMITS;
  else
    {
      item->group = INSIGHT_WALL_NEAR;
      item->measure = distance (series);
    }
}

/* The worst first; what is as bad keeps the order of the model. */
static int
compare_items (gconstpointer a, gconstpointer b)
{
  const InsightWallItem *x = a, *y = b;
  int order;

  if (x->group != y->group)
    return (int) x->group - (int) y->group;
  order = (x->measure > y->measure) - (x->measure < y->measure);
  if (x->group == INSIGHT_WALL_FAILS)
    order = -order;
  return order != 0 ? order : g_strcmp0 (x->series->code, y->series->code);
}

/**
 * insight_wall:
 * @evidence: the records of a model
 * @span: through which round, as of which day
 * @cancellable: (nullable): asked before each characteristic
 * @error: return location
 *
 * All characteristics, the worst first: see #InsightWallGroup.
 *
 * Returns: (transfer full) (nullable): the wall; %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
InsightWall *
insight_wall (const BookEvidence *evidence, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightWall) wall = g_new0 (InsightWall, 1);
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(InsightLook) look = NULL;
  int through;
  BookDay today;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;
  basis = insight_basis_new (evidence);
  look = insight_look_new (basis, through, through >= 0 ? insight_round_end (evidence, through, today) : today);
  wall->items = g_new0 (InsightWallItem, evidence->n_characteristics + 1);
  for (guint i = 0; i < evidence->n_characteristics; i++)
    {
      InsightWallItem *item = &wall->items[i];

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      item->series = insight_series_at (basis, look, i);
      item->individuals = insight_individuals (item->series, INSIGHT_RULE_ONE);
      wall->n_items++;
      place (item);
      wall->counts[item->group]++;
      wall->signals += item->individuals->n_signals > 0;
    }
  qsort (wall->items, wall->n_items, sizeof *wall->items, compare_items);
  return g_steal_pointer (&wall);
}

void
insight_wall_free (InsightWall *wall)
{
  if (wall == NULL)
    return;
  for (guint i = 0; i < wall->n_items; i++)
    {
      insight_series_free (wall->items[i].series);
      insight_individuals_free (wall->items[i].individuals);
    }
  g_free (wall->items);
  g_free (wall);
}
