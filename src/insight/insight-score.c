/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-answer-private.h"

#include <math.h>

/*
 * Evidence gathered, in figures: never a chance, and never 100 while anything is unmet.
 */

/**
 * insight_score_of:
 * @criterion: judged
 *
 * How far the doubt that was allowed has been worked off: ln(1 - reached) / ln(1 - wanted); of counts the share done.
 *
 * Returns: 0 to 1; 0 where there is no confidence
 */
double
insight_score_of (const InsightCriterion *criterion)
{
  double score;

  if (criterion->method == INSIGHT_METHOD_COUNT)
    return criterion->n > 0 ? (double) criterion->done / criterion->n : 0.0;
  if (!(criterion->confidence > 0.0) || !(criterion->wanted > 0.0 && criterion->wanted < 1.0))
    return 0.0;
  if (criterion->confidence >= 1.0)
    return 1.0;
  score = log1p (-criterion->confidence) / log1p (-criterion->wanted);
  return CLAMP (score, 0.0, 1.0);
}

static int
percent_of (const InsightScore *score)
{
  int percent = (int) floor (100.0 * score->score + 1e-9);

  if (score->total == 0)
    return -1;
  return score->met < score->total ? MIN (percent, 99) : percent;
}

/**
 * insight_score_all:
 * @criteria: (element-type InsightCriterion): scored
 * @all: (out): the lowest class's score, counts of all
 * @classes: (out): mean by class
 */
void
insight_score_all (GPtrArray *criteria, InsightScore *all, InsightScore classes[INSIGHT_N_CLASSES])
{
  *all = (InsightScore){ 0, 0, 0.0, -1 };
  for (guint c = 0; c < INSIGHT_N_CLASSES; c++)
    classes[c] = (InsightScore){ 0, 0, 0.0, -1 };

  for (guint i = 0; i < criteria->len; i++)
    {
      const InsightCriterion *one = criteria->pdata[i];
      InsightScore *of_class = &classes[one->klass - BOOK_CLASS_SAFETY];

      of_class->total++;
      of_class->met += one->state == INSIGHT_MET;
      of_class->score += one->score;
    }
  for (guint c = 0; c < INSIGHT_N_CLASSES; c++)
    {
      if (classes[c].total == 0)
        continue;
      classes[c].score /= classes[c].total;
      classes[c].percent = percent_of (&classes[c]);
      if (all->total == 0 || classes[c].score < all->score)
        all->score = classes[c].score;
      all->total += classes[c].total;
      all->met += classes[c].met;
    }
  all->percent = percent_of (all);
}
