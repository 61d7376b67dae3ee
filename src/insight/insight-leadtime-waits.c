/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-leadtime-private.h"

#include "insight-span-private.h"
#include "num-survival.h"

#include <math.h>
#include <stdlib.h>

/*
 * Waits, and what runs now. Of times that still run only is known that they last longer: Kaplan and Meier. None of them
 * enters late: what is in the book has the day on which it began, and is at risk from then on. The day on which it was
 * typed is no entry into observation: a list of what was over long ago would never be at risk.
 */

static void
clear_time (gpointer data)
{
  g_free (((InsightTime *) data)->name);
}

GArray *
insight_times_new (void)
{
  GArray *times = g_array_new (FALSE, FALSE, sizeof (InsightTime));

  g_array_set_clear_func (times, clear_time);
  return times;
}

void
insight_times_add (GArray *times, InsightTime time)
{
  time.name = g_strdup (time.name);
  g_array_append_val (times, time);
}

/* Times of no length at all were over at once; the curve needs a length, and no order is lost by half a day. */
InsightSpread
insight_times_spread (GArray *times)
{
  guint n = times->len;
  InsightSpread spread = { n, 0, NAN, { NAN, NAN }, NAN, NAN, 0.0, times };
  g_autofree double *days = g_new (double, n + 1);
  g_autofree bool *ended = g_new (bool, n + 1);
  g_autofree NumSurvivalStep *steps = g_new (NumSurvivalStep, n + 1);
  NumSurvival curve;

  for (guint i = 0; i < n; i++)
    {
      double each = g_array_index (times, InsightTime, i).days;

      days[i] = MAX (each, 0.5);
      ended[i] = g_array_index (times, InsightTime, i).ended;
      spread.sum += each;
      if (!ended[i])
        continue;
      spread.ended++;
      spread.least = !(spread.least <= each) ? each : spread.least;
      spread.most = !(spread.most >= each) ? each : spread.most;
    }
  if (spread.ended > 0 && num_survival (days, ended, NULL, n, INSIGHT_LEADTIME_CONFIDENCE, steps, &curve) == NUM_OK)
    {
      spread.median = curve.median;
      if (spread.ended >= INSIGHT_LEADTIME_INTERVAL)
        spread.interval = curve.interval;
    }
  return spread;
}

static BookDay
wait_end (const BookEvidenceWait *wait, BookDay today)
{
  return wait->to != 0 && wait->to <= today ? wait->to : today;
}

static gboolean
is_over (const BookEvidenceWait *wait, BookDay today)
{
  return wait->to != 0 && wait->to <= today;
}

static int
compare_waits (gconstpointer a, gconstpointer b)
{
  const InsightWait *x = a, *y = b;
  int order = g_strcmp0 (x->from, y->from);

  return order != 0 ? order : (x->id > y->id) - (x->id < y->id);
}

static int
compare_groups (gconstpointer a, gconstpointer b)
{
  const InsightWaitGroup *x = a, *y = b;

  if (x->spread.sum != y->spread.sum)
    return x->spread.sum > y->spread.sum ? -1 : 1;
  return (int) x->reason - (int) y->reason;
}

static void
clear_group (gpointer data)
{
  InsightWaitGroup *group = data;

  g_free (group->name);
  g_array_unref (group->spread.times);
}

/* Waits for one supplier (@supplier >= 0), or of one reason. */
static void
add_group (GArray *groups, const BookEvidence *e, int supplier, BookWaitReason reason, int through, BookDay today)
{
  GArray *times = insight_times_new ();
  InsightWaitGroup group = { supplier >= 0 ? e->suppliers[supplier].id : 0,
                             g_strdup (supplier >= 0 ? e->suppliers[supplier].name : ""), reason, 0, { 0 } };

  for (guint i = 0; i < e->n_waits; i++)
    {
      const BookEvidenceWait *wait = &e->waits[i];

      if (wait->round < 0 || wait->round > through || wait->from > today
          || (supplier >= 0 ? wait->supplier != supplier : wait->reason != reason))
        continue;
      insight_times_add (times, (InsightTime){ wait->id, e->rounds[wait->round].id, 0, (char *) wait->what,
                                               insight_span_working_days (e, wait->from, wait_end (wait, today)),
                                               is_over (wait, today) });
      group.open += !is_over (wait, today);
    }
  group.spread = insight_times_spread (times);
  if (group.spread.n == 0)
    clear_group (&group);
  else
    g_array_append_val (groups, group);
}

void
insight_leadtime_add_waits (InsightLeadtime *leadtime, const BookEvidence *e, int through, BookDay today)
{
  leadtime->waits = g_new0 (InsightWait, e->n_waits + 1);
  for (guint i = 0; i < e->n_waits; i++)
    {
      const BookEvidenceWait *wait = &e->waits[i];
      InsightWait *out = &leadtime->waits[leadtime->n_waits];

      if (wait->round < 0 || wait->round > through || wait->from > today)
        continue;
      leadtime->n_waits++;
      out->id = wait->id;
      out->round = (guint) wait->round;
      out->reason = wait->reason;
      out->what = g_strdup (wait->what);
      out->supplier = g_strdup (wait->supplier >= 0 ? e->suppliers[wait->supplier].name : "");
      out->from = book_day_format (wait->from);
      out->to = is_over (wait, today) ? book_day_format (wait->to) : g_strdup ("");
      out->days = insight_span_working_days (e, wait->from, wait_end (wait, today));
    }
  qsort (leadtime->waits, leadtime->n_waits, sizeof *leadtime->waits, compare_waits);

  leadtime->by_supplier = g_array_new (FALSE, FALSE, sizeof (InsightWaitGroup));
  leadtime->by_reason = g_array_new (FALSE, FALSE, sizeof (InsightWaitGroup));
  g_array_set_clear_func (leadtime->by_supplier, clear_group);
  g_array_set_clear_func (leadtime->by_reason, clear_group);
  for (guint s = 0; s < e->n_suppliers; s++)
    add_group (leadtime->by_supplier, e, (int) s, 0, through, today);
  for (int reason = BOOK_WAIT_DELIVERY; reason <= BOOK_WAIT_OTHER; reason++)
    add_group (leadtime->by_reason, e, -1, (BookWaitReason) reason, through, today);
  g_array_sort (leadtime->by_supplier, compare_groups);
  g_array_sort (leadtime->by_reason, compare_groups);
}

static InsightOpen *
add_open (InsightLeadtime *leadtime, InsightOpenKind kind, gint64 id, const char *name, const BookEvidence *e, BookDay since,
          BookDay today)
{
  InsightOpen *open = &leadtime->open[leadtime->n_open++];

  open->kind = kind;
  open->id = id;
  open->name = g_strdup (name);
  open->since = book_day_format (since);
  open->days = insight_span_working_days (e, since, today);
  return open;
}

static int
compare_open (gconstpointer a, gconstpointer b)
{
  const InsightOpen *x = a, *y = b;

  if (x->days != y->days)
    return x->days > y->days ? -1 : 1;
  return (int) x->kind - (int) y->kind;
}

/* The day on which the running phase of a round began: the last of its dates. */
static BookDay
phase_begin (const BookEvidenceRound *round, BookDay today)
{
  const BookDay dates[] = { round->opened, round->design_fixed, round->built, round->tested };
  BookDay begin = 0;

  for (guint i = 0; i < G_N_ELEMENTS (dates); i++)
    if (dates[i] <= today)
      begin = MAX (begin, dates[i]);
  return begin;
}

void
insight_leadtime_add_open (InsightLeadtime *leadtime, const BookEvidence *e, int through, BookDay today)
{
  leadtime->open = g_new0 (InsightOpen, e->n_rounds + e->n_waits + e->n_issues + 1);
  for (int r = 0; r <= through; r++)
    if (leadtime->rounds[r].open && phase_begin (&e->rounds[r], today) != 0)
      {
        InsightOpen *open = add_open (leadtime, INSIGHT_OPEN_ROUND, e->rounds[r].id, e->rounds[r].label, e,
                                      phase_begin (&e->rounds[r], today), today);

        open->phase = leadtime->rounds[r].phase;
        open->round = open->id;
      }
  for (guint i = 0; i < e->n_waits; i++)
    if (e->waits[i].round >= 0 && e->waits[i].round <= through && e->waits[i].from <= today && !is_over (&e->waits[i], today))
      add_open (leadtime, INSIGHT_OPEN_WAIT, e->waits[i].id, e->waits[i].what, e, e->waits[i].from, today)->round
          = e->rounds[e->waits[i].round].id;
  for (guint i = 0; i < e->n_issues; i++)
    if (e->issues[i].found != 0 && e->issues[i].found <= today && e->issues[i].found_round <= through
        && (e->issues[i].closed == 0 || e->issues[i].closed > today))
      add_open (leadtime, INSIGHT_OPEN_ISSUE, e->issues[i].id, e->issues[i].title, e, e->issues[i].found, today)->no = e->issues[i].no;
  qsort (leadtime->open, leadtime->n_open, sizeof *leadtime->open, compare_open);
}
