/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-pilot-private.h"

#include <math.h>
#include <stdlib.h>

/*
 * What was lost: pieces that a step did not pass the first time, by the issue that was named, the step that found it and
 * the step that caused it, as the issue's findings say. A unit counts once for an issue at a step.
 */

typedef struct
{
  int    issue; /* -1: none was named */
  int    found;
  int    caused;
  int    unit;  /* -1: of a tally */
  guint  tally; /* index, of one */
  guint  units;
  guint  scrapped;
  double minutes;
} Loss;

/* Where the findings of an issue say that it was caused: that on the unit itself, else the first of the round, else any. */
static int
cause_of (const BookEvidence *e, int issue, int unit, int round)
{
  int of_round = -1, any = -1;

  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];

      if (finding->issue != issue || finding->caused_at < 0)
        continue;
      if (unit >= 0 && finding->unit == unit)
        return finding->caused_at;
      if (of_round < 0 && finding->unit >= 0 && e->units[finding->unit].round == round)
        of_round = finding->caused_at;
      if (any < 0)
        any = finding->caused_at;
    }
  return of_round >= 0 ? of_round : any;
}

static Loss *
loss_of_unit (GArray *losses, int issue, int found, int unit)
{
  for (guint i = losses->len; i > 0; i--)
    {
      Loss *loss = &g_array_index (losses, Loss, i - 1);

      if (loss->unit != unit)
        break;
      if (loss->issue == issue && loss->found == found)
        return loss;
    }
  return NULL;
}

/* Rework may be done at another step than the one that found it: its minutes go to the unit's last loss, by issue. */
static void
add_rework (GArray *losses, const BookEvidenceEvent *event)
{
  if (isnan (event->minutes))
    return;
  for (guint i = losses->len; i > 0; i--)
    {
      Loss *loss = &g_array_index (losses, Loss, i - 1);

      if (loss->unit != event->unit)
        return;
      if (event->issue >= 0 && loss->issue != event->issue)
        continue;
      loss->minutes = isnan (loss->minutes) ? event->minutes : loss->minutes + event->minutes;
      return;
    }
}

static void
add_event (const BookEvidence *e, GArray *losses, const BookEvidenceEvent *event, int round)
{
  Loss *loss;

  if (event->kind == BOOK_EVENT_REWORKED)
    add_rework (losses, event);
  if (event->kind != BOOK_EVENT_SENT_BACK && event->kind != BOOK_EVENT_SCRAPPED)
    return;
  loss = loss_of_unit (losses, event->issue, event->step, event->unit);
  if (loss == NULL)
    {
      Loss one = { event->issue, event->step, cause_of (e, event->issue, event->unit, round), event->unit, 0, 1, 0, NAN };

      g_array_append_val (losses, one);
      loss = &g_array_index (losses, Loss, losses->len - 1);
    }
  if (event->kind == BOOK_EVENT_SCRAPPED)
    loss->scrapped = 1;
}

/* Of a tally what its losses name, and what is left without an issue. */
static void
add_tally (const BookEvidence *e, GArray *losses, guint number, int round)
{
  const BookEvidenceTally *tally = &e->tallies[number];
  int left = tally->reworked_good + tally->waiting + tally->scrapped;
  guint first = losses->len, named = 0;

  for (guint i = 0; i < e->n_tally_losses; i++)
    if (e->tally_losses[i].tally == (int) number)
      {
        int issue = e->tally_losses[i].issue;
        Loss loss = { issue, tally->step, cause_of (e, issue, -1, round), -1, number, (guint) e->tally_losses[i].units, 0, NAN };

        g_array_append_val (losses, loss);
        left -= e->tally_losses[i].units;
        named++;
      }
  if (left > 0)
    {
      Loss loss = { -1, tally->step, -1, -1, number, (guint) left, 0, NAN };

      g_array_append_val (losses, loss);
    }
  else if (named == 1) /* all minutes of rework were for the one issue */
    g_array_index (losses, Loss, first).minutes = tally->rework_min;
}

static int
compare_losses (gconstpointer a, gconstpointer b)
{
  const Loss *x = a, *y = b;

  if (x->issue != y->issue)
    return x->issue < y->issue ? -1 : 1;
  if (x->found != y->found)
    return x->found < y->found ? -1 : 1;
  return (x->caused > y->caused) - (x->caused < y->caused);
}

/* Most units first. */
static int
compare_units (gconstpointer a, gconstpointer b)
{
  const InsightPilotLoss *x = a, *y = b;

  if (x->units != y->units)
    return x->units > y->units ? -1 : 1;
  if (x->issue_no != y->issue_no)
    return x->issue_no < y->issue_no ? -1 : 1;
  return (x->found > y->found) - (x->found < y->found);
}

void
insight_pilot_find_losses (const BookEvidence *e, int round, BookDay end, InsightPilot *pilot)
{
  g_autoptr(GArray) losses = g_array_new (FALSE, FALSE, sizeof (Loss));

  for (guint i = 0; i < e->n_events; i++)
    if (e->events[i].day <= end && e->units[e->events[i].unit].round == round)
      add_event (e, losses, &e->events[i], round);
  for (guint i = 0; i < e->n_tallies; i++)
    if (e->tallies[i].round == round && e->tallies[i].step >= 0 && e->tallies[i].day <= end
        && pilot->steps[e->tallies[i].step].source == INSIGHT_PILOT_TALLY)
      add_tally (e, losses, i, round);
  g_array_sort (losses, compare_losses);

  pilot->losses = g_new0 (InsightPilotLoss, losses->len + 1);
  for (guint i = 0; i < losses->len; i++)
    {
      const Loss *loss = &g_array_index (losses, Loss, i);
      InsightPilotLoss *out;

      if (i == 0 || compare_losses (loss, loss - 1) != 0)
        {
          out = &pilot->losses[pilot->n_losses++];
          out->issue = loss->issue >= 0 ? e->issues[loss->issue].id : 0;
          out->issue_no = loss->issue >= 0 ? e->issues[loss->issue].no : 0;
          out->title = g_strdup (loss->issue >= 0 ? e->issues[loss->issue].title : "");
          out->found = loss->found;
          out->caused = loss->caused;
          out->minutes = NAN;
          out->pieces = insight_pilot_pieces_new ();
        }
      out = &pilot->losses[pilot->n_losses - 1];
      if (loss->unit >= 0)
        insight_pilot_add_unit (out->pieces, e, loss->unit);
      else
        insight_pilot_add_tally (out->pieces, e, loss->tally);
      out->units += loss->units;
      out->scrapped += loss->scrapped;
      if (!isnan (loss->minutes))
        out->minutes = isnan (out->minutes) ? loss->minutes : out->minutes + loss->minutes;
    }
  for (guint i = 0; i < pilot->n_losses; i++)
    {
      const InsightPilotLoss *loss = &pilot->losses[i];

      if (loss->found >= 0)
        pilot->steps[loss->found].lost_found += loss->units;
      if (loss->caused >= 0)
        pilot->steps[loss->caused].lost_caused += loss->units;
    }
  qsort (pilot->losses, pilot->n_losses, sizeof *pilot->losses, compare_units);
}
