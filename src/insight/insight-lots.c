/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-criterion-private.h"

#include "num-lots.h"

#include <math.h>

/*
 * Lots as a grouping factor: units of one delivery are more alike than the deliveries are.
 */

/* What is assumed of the values of a measured characteristic whose shape is stated. */
NumShape
insight_shape_of (const InsightQuestion *question)
{
  const BookEvidence *e = question->basis->e;
  BookShape stated = e->characteristics[question->criterion->characteristic].shape;

  return stated == BOOK_SHAPE_LOG_NORMAL ? NUM_SHAPE_LOGNORMAL : NUM_SHAPE_LEAST;
}

static const char *
name_of_dependence (const BookEvidence *e, InsightDependence on)
{
  return on.part >= 0 ? e->parts[on.part].name : e->steps[on.step].name;
}

/* The counted units dealt out by the lots of one part or step; units without a lot make a group of their own. */
typedef struct
{
  int       *lots;   /* by group; -1: without */
  guint     *sizes;
  guint      n;
  guint      known;  /* groups that are lots */
  guint      unknown; /* units without a lot */
  guint     *group;  /* by counted unit */
} Lots;

static void
deal_by_lot (const InsightQuestion *question, const InsightEvidence *evidence, InsightDependence on, Lots *lots)
{
  const InsightBasis *basis = question->basis;
  guint width = basis->e->n_parts + basis->e->n_steps;
  guint place = on.part >= 0 ? (guint) on.part : basis->e->n_parts + (guint) on.step;

  lots->n = lots->known = lots->unknown = 0;
  for (guint i = 0; i < evidence->units->len; i++)
    {
      const InsightUnit *unit = evidence->units->pdata[i];
      int lot = basis->lot_of[(gsize) unit->unit * width + place];
      guint g = 0;

      while (g < lots->n && lots->lots[g] != lot)
        g++;
      if (g == lots->n)
        {
          lots->lots[g] = lot;
          lots->sizes[g] = 0;
          lots->n++;
          lots->known += lot >= 0;
        }
      lots->unknown += lot < 0;
      lots->sizes[g]++;
      lots->group[i] = g;
    }
}

static void
judge_by_lots (InsightQuestion *question, InsightEvidence *evidence, const Lots *lots, InsightDependence on)
{
  InsightCriterion *out = question->out;
  g_autofree double *dealt = g_new (double, out->n + 1);
  g_autofree NumSample *samples = g_new (NumSample, lots->n + 1);
  NumLots answer;
  InsightReason *reason;
  guint at = 0;

  for (guint g = 0; g < lots->n; g++)
    {
      samples[g] = (NumSample){ dealt + at, lots->sizes[g] };
      for (guint i = 0; i < evidence->units->len; i++)
        if (lots->group[i] == g)
          dealt[at++] = evidence->values[i];
    }
  if (num_lots (samples, lots->n, question->units->limits, question->terms.share, insight_shape_of (question), evidence->resolution,
                &answer) != NUM_OK
      || !(answer.lots < out->confidence))
    return;

  for (guint i = 0; i < out->reasons->len; i++) /* the last and lowest grouping speaks */
    if (((InsightReason *) out->reasons->pdata[i])->code == INSIGHT_REASON_LOTS_DECIDED)
      g_ptr_array_remove_index (out->reasons, i--);
  reason = insight_say (question, INSIGHT_REASON_LOTS_DECIDED);
  insight_reason_add_name (reason, name_of_dependence (question->basis->e, on));
  insight_reason_add_count (reason, lots->n);
  insight_reason_add_number (reason, answer.lots);
  insight_reason_add_number (reason, answer.pooled);
  out->confidence = answer.lots;
  out->share_low = NAN; /* the pooled bound would claim more than the lots allow */
  out->method = INSIGHT_METHOD_LOTS;
}

/**
 * insight_look_at_lots:
 * @question: judged as if all units were of one lot
 * @evidence: its counted units
 *
 * Takes the lots of every part and step that the characteristic depends on as groups: each grouping is computed, and the
 * lowest confidence counts. With one or two lots their variation was not seen; a strict criterion then waits for a third.
 */
void
insight_look_at_lots (InsightQuestion *question, InsightEvidence *evidence)
{
  const InsightBasis *basis = question->basis;
  int characteristic = question->criterion->characteristic;
  guint n = evidence->units->len;
  g_autofree int *numbers = g_new (int, n + 1);
  g_autofree guint *sizes = g_new (guint, n + 1);
  g_autofree guint *group = g_new (guint, n + 1);
  Lots lots = { numbers, sizes, 0, 0, 0, group };

  for (guint i = basis->depend[characteristic]; n > 0 && i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      const char *name = name_of_dependence (basis->e, on);

      if (!basis->lotted[on.part >= 0 ? (guint) on.part : basis->e->n_parts + (guint) on.step])
        continue;
      deal_by_lot (question, evidence, on, &lots);
      if (lots.known == 0)
        continue;
      if (question->out->lots == 0 || lots.known < question->out->lots)
        question->out->lots = lots.known;
      if (lots.unknown > 0)
        {
          InsightReason *reason = insight_say (question, INSIGHT_REASON_LOT_UNKNOWN);

          insight_reason_add_name (reason, name);
          insight_reason_add_count (reason, lots.unknown);
        }
      if (lots.known < NUM_LOTS_LEAST)
        {
          gboolean strict = question->criterion->strict;
          InsightReason *reason = insight_say (question, strict ? INSIGHT_REASON_LOTS_THIRD : INSIGHT_REASON_LOTS_FEW);

          insight_reason_add_name (reason, name);
          insight_reason_add_count (reason, lots.known);
          evidence->blocked |= strict;
        }
      else if (!evidence->by_count && !isnan (question->out->confidence))
        judge_by_lots (question, evidence, &lots, on);
    }
}
