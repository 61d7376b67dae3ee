/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-tally.h"

#include "book-evidence.h"
#include "insight-pilot-private.h"

void
insight_tally_free (InsightTally *tally)
{
  if (tally == NULL)
    return;
  g_array_unref (tally->issues);
  g_free (tally);
}

static gboolean
is_running (const BookEvidenceRound *round, BookDay today)
{
  return round->decided == 0 || round->decided > today;
}

/* The round asked for, else the newest that is running. */
static int
choose_round (const BookEvidence *e, gint64 wanted, BookDay today)
{
  int newest = -1;

  for (guint i = 0; i < e->n_rounds; i++)
    {
      if (e->rounds[i].id == wanted)
        return (int) i;
      if (is_running (&e->rounds[i], today))
        newest = (int) i;
    }
  return newest;
}

/**
 * insight_tally_has_serials:
 * @e: of the model
 * @round: index
 * @step: index
 *
 * Returns: the units of the round have serials at the step, so that a tally would count them twice
 */
gboolean
insight_tally_has_serials (const BookEvidence *e, int round, int step)
{
  for (guint i = 0; i < e->n_events; i++)
    if (e->events[i].step == step && e->events[i].unit >= 0 && e->units[e->events[i].unit].round == round
        && insight_event_is_at_step (&e->events[i]))
      return TRUE;
  return FALSE;
}

/**
 * insight_tally_first_step:
 * @e: of the model
 * @round: index
 *
 * Returns: index of the first step at which the round has no serials; -1: it has them at every one
 */
int
insight_tally_first_step (const BookEvidence *e, int round)
{
  for (guint s = 0; s < e->n_steps; s++)
    if (!insight_tally_has_serials (e, round, (int) s))
      return (int) s;
  return -1;
}

/* The step asked for, else the first at which the round has no serials yet, else the first. */
static int
choose_step (const BookEvidence *e, gint64 wanted, int round)
{
  int asked = book_evidence_find (e, steps, wanted), first;

  if (asked >= 0)
    return asked;
  first = insight_tally_first_step (e, round);
  return first >= 0 ? first : e->n_steps > 0 ? 0 : -1;
}

/* The place of an issue is its key, and keys are hit without looking: what is counted or raised today moves none. */
static int
compare_issues (gconstpointer a, gconstpointer b)
{
  const InsightTallyIssue *x = a, *y = b;

  if (x->before != y->before)
    return x->before > y->before ? -1 : 1;
  if (x->is_new != y->is_new)
    return x->is_new ? 1 : -1;
  return x->is_new ? (x->no > y->no) - (x->no < y->no) : (y->no > x->no) - (y->no < x->no);
}

static void
list_issues (InsightTally *tally, const BookEvidence *e, BookDay today)
{
  for (guint i = 0; i < e->n_issues; i++)
    {
      InsightTallyIssue issue = { e->issues[i].id, e->issues[i].no, e->issues[i].title, 0, 0, e->issues[i].found >= today };

      if (e->issues[i].closed != 0 && e->issues[i].closed <= today)
        continue;
      for (guint l = 0; l < e->n_tally_losses; l++)
        {
          const BookEvidenceTallyLoss *loss = &e->tally_losses[l];

          if (loss->issue == (int) i && loss->tally >= 0 && e->tallies[loss->tally].step == tally->step
              && e->tallies[loss->tally].round == tally->round)
            {
              issue.units += (guint) loss->units;
              if (e->tallies[loss->tally].day < today)
                issue.before += (guint) loss->units;
            }
        }
      g_array_append_val (tally->issues, issue);
    }
  g_array_sort (tally->issues, compare_issues);
}

static guint
named_of (const BookEvidence *e, guint number)
{
  guint named = 0;

  for (guint l = 0; l < e->n_tally_losses; l++)
    if (e->tally_losses[l].tally == (int) number)
      named += (guint) e->tally_losses[l].units;
  return named;
}

static void
count_rows (InsightTally *tally, const BookEvidence *e, gint64 person, BookDay today)
{
  for (guint i = 0; i < e->n_tallies; i++)
    {
      const BookEvidenceTally *row = &e->tallies[i];
      guint not_good = (guint) (row->reworked_good + row->waiting + row->scrapped), named;

      if (row->step != tally->step || row->round != tally->round || row->day > today)
        continue;
      tally->waiting_all += (guint) row->waiting;
      if (row->day != today)
        continue;
      tally->good += (guint) row->good_first;
      tally->reworked += (guint) row->reworked_good;
      tally->waiting += (guint) row->waiting;
      tally->scrapped += (guint) row->scrapped;
      if (person == 0 || row->person != person)
        continue;
      named = named_of (e, i); /* rows of a day come by number: the last stays */
      tally->row = row->id;
      tally->unnamed = named < not_good ? not_good - named : 0;
    }
}

/**
 * insight_tally:
 * @evidence: the records of a model
 * @round: key; 0, or of another model: the newest that is running
 * @step: key; 0, or of another model: the first at which the round has no serials
 * @person: who counts; 0: nobody by name
 * @today: ISO 8601
 *
 * Returns: (transfer full): what was counted, and whether more can be
 */
InsightTally *
insight_tally (const BookEvidence *evidence, gint64 round, gint64 step, gint64 person, const char *today)
{
  BookDay day = book_day_parse (today, NULL);
  InsightTally *tally = g_new0 (InsightTally, 1);

  tally->issues = g_array_new (FALSE, FALSE, sizeof (InsightTallyIssue));
  tally->round = choose_round (evidence, round, day);
  tally->step = choose_step (evidence, step, tally->round);
  tally->state = tally->round < 0                                                  ? INSIGHT_TALLY_NO_ROUND
                 : tally->step < 0                                                 ? INSIGHT_TALLY_NO_STEP
                 : !is_running (&evidence->rounds[tally->round], day)              ? INSIGHT_TALLY_DECIDED
                 : insight_tally_has_serials (evidence, tally->round, tally->step) ? INSIGHT_TALLY_SERIALS
                                                                                   : INSIGHT_TALLY_OPEN;
  if (tally->round >= 0 && tally->step >= 0)
    {
      count_rows (tally, evidence, person, day);
      list_issues (tally, evidence, day);
    }
  return tally;
}
