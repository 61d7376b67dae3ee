/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-forecast.h"

#include "book-evidence.h"
#include "insight-span-private.h"

/*
 * What earlier rounds would have said, against what happened. A forecast of then takes the records as they were then; where
 * there are none, since the book began later, it takes what had happened by then, and says so. When what was asked then was
 * met is told by all that is known now.
 */

static void
clear_past (gpointer data)
{
  InsightForecastPast *past = data;

  g_free (past->round);
  g_free (past->decided);
  g_free (past->dates[0]);
  g_free (past->dates[1]);
  g_free (past->met);
}

static gboolean
was_entered_later (const InsightStanding *standing)
{
  for (guint i = 0; i < standing->criteria->len; i++)
    if (insight_criterion_find_reason (insight_standing_get_criterion (standing, i), INSIGHT_REASON_ENTERED_LATER) != NULL)
      return TRUE;
  return FALSE;
}

/* Whether all criteria that blocked in @then are met in @later; those that are asked for no more count as met. */
static gboolean
are_met (const InsightStanding *then, const InsightStanding *later)
{
  for (guint i = 0; i < then->criteria->len; i++)
    {
      const InsightCriterion *asked = insight_standing_get_criterion (then, i);

      for (guint k = 0; asked->blocks && k < later->criteria->len; k++)
        {
          const InsightCriterion *answer = insight_standing_get_criterion (later, k);

          if (answer->id == asked->id && answer->state != INSIGHT_MET)
            return FALSE;
        }
    }
  return TRUE;
}

static gboolean
foretell (InsightForecastPast *past, const BookEvidence *e, const InsightStanding *standing, GCancellable *cancellable, GError **error)
{
  const InsightSpan span = { standing->round, standing->today };
  g_autoptr(InsightIssues) issues = insight_issues (e, &span, cancellable, error);
  g_autoptr(InsightForecastInput) input = issues != NULL ? insight_forecast_input (e, standing, issues, error) : NULL;
  g_autoptr(InsightForecast) forecast = NULL;

  if (input == NULL)
    return FALSE;
  past->lengths = input->n_lengths;
  forecast = insight_forecast (input, &input->defaults, INSIGHT_FORECAST_BRIEF, cancellable);
  if (forecast == NULL)
    {
      g_cancellable_set_error_if_cancelled (cancellable, error);
      return FALSE;
    }
  past->status = forecast->status;
  for (guint i = 0; i < 2; i++)
    past->dates[i] = g_strdup (forecast->status == NUM_OK ? forecast->dates[i].date : "");
  return TRUE;
}

/**
 * insight_forecast_past:
 * @evidence: the records of a model
 * @now: where it stands; says up to which round and as of which day
 * @recorded: (array) (element-type BookEvidence) (nullable): by round, the records as they were on the day it was decided;
 *   %NULL where there are none; %NULL as a whole: the journal was not gone through
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (element-type InsightForecastPast) (nullable): what each finished round would have said;
 *   %INSIGHT_ERROR_ROUND, %INSIGHT_ERROR_DATE, %G_IO_ERROR_CANCELLED
 */
GArray *
insight_forecast_past (const BookEvidence *evidence, const InsightStanding *now, const BookEvidence *const *recorded,
                       GCancellable *cancellable, GError **error)
{
  g_autoptr(GArray) list = g_array_new (FALSE, TRUE, sizeof (InsightForecastPast));
  g_autoptr(GPtrArray) standings = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_standing_unref);
  g_autoptr(GPtrArray) asked = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_standing_unref);
  const InsightSpan span = { now->round, now->today };
  int through;
  BookDay today;

  g_array_set_clear_func (list, clear_past);
  if (!insight_span_resolve (evidence, &span, &through, &today, error))
    return NULL;
  for (int r = 0; r <= through; r++)
    {
      const BookEvidenceRound *round = &evidence->rounds[r];
      const BookEvidence *then = recorded != NULL && recorded[r] != NULL ? recorded[r] : evidence;
      g_autofree char *decided = round->decided != 0 ? book_day_format (round->decided) : NULL;
      InsightForecastPast *past;
      InsightStanding *standing, *known;

      if (round->decided == 0 || round->decided > today)
        continue;
      standing = insight_standing (evidence, &(InsightSpan){ round->id, decided }, cancellable, error);
      if (standing == NULL)
        return NULL;
      g_ptr_array_add (standings, standing);
      known = then != evidence ? insight_standing (then, &(InsightSpan){ round->id, decided }, cancellable, error)
                               : insight_standing_ref (standing);
      if (known == NULL)
        return NULL;
      g_ptr_array_add (asked, known);
      g_array_set_size (list, list->len + 1);
      past = &g_array_index (list, InsightForecastPast, list->len - 1);
      past->round = g_strdup (round->label);
      past->decided = g_strdup (decided);
      past->recorded = then != evidence;
      past->unread = recorded == NULL;
      past->late = was_entered_later (standing);
      if (!foretell (past, then, known, cancellable, error))
        return NULL;
    }
  for (guint i = 0; i < list->len; i++)
    {
      InsightForecastPast *past = &g_array_index (list, InsightForecastPast, i);

      for (guint k = i; k < list->len && past->met == NULL; k++)
        if (are_met (asked->pdata[i], standings->pdata[k]))
          past->met = g_strdup (g_array_index (list, InsightForecastPast, k).decided);
      if (past->met == NULL)
        past->met = g_strdup (are_met (asked->pdata[i], now) ? now->today : "");
    }
  return g_steal_pointer (&list);
}
