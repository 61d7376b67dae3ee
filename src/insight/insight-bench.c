/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-bench.h"

#include "insight-bench-private.h"
#include "insight-span-private.h"

static void
unit_free (gpointer data)
{
  InsightBenchUnit *unit = data;

  g_free (unit->since);
  g_array_unref (unit->wanted);
  g_free (unit);
}

static void
return_free (gpointer data)
{
  InsightBenchReturn *one = data;

  g_free (one->date);
  g_free (one->settled);
  g_free (one);
}

void
insight_bench_free (InsightBench *bench)
{
  if (bench == NULL)
    return;
  g_ptr_array_unref (bench->units);
  g_array_unref (bench->waiting);
  g_array_unref (bench->measure);
  g_ptr_array_unref (bench->returns);
  g_free (bench);
}

static char *
date_of (BookDay day)
{
  return day > 1 ? book_day_format (day) : g_strdup (""); /* day 1 stands for 'some day' */
}

static InsightBenchUnit *
unit_new (const BookEvidence *e, guint number, const InsightPlace *place, int bench, BookDay today)
{
  const BookEvidenceUnit *unit = &e->units[number];
  InsightBenchUnit *one = g_new0 (InsightBenchUnit, 1);
  const BookEvidenceEvent *back = place->back >= 0 ? &e->events[place->back] : NULL;
  int issue = back != NULL ? back->issue : -1;

  one->unit = unit->id;
  one->serial = unit->serial;
  one->round = e->rounds[unit->round].label;
  one->state = place->state;
  one->step = place->step;
  one->step_id = place->step >= 0 ? e->steps[place->step].id : 0;
  one->position = place->step >= 0 ? e->steps[place->step].position : 0;
  one->step_name = place->step >= 0 ? e->steps[place->step].name : "";
  one->here = place->step >= 0 && insight_bench_has_step (e, bench, place->step);
  one->since = date_of (place->since);
  one->days = insight_span_working_days (e, place->since, today);
  one->issue = issue >= 0 ? e->issues[issue].id : 0;
  one->issue_no = issue >= 0 ? e->issues[issue].no : 0;
  one->issue_title = issue >= 0 ? e->issues[issue].title : "";
  one->reason = back != NULL ? back->reason : "";
  one->found_at = back != NULL && back->step >= 0 ? e->steps[back->step].name : "";
  one->wanted = g_array_new (FALSE, FALSE, sizeof (InsightBenchWanted));
  return one;
}

/* By step, what came back first, then the longest waiting, then the order of build. */
static int
compare_waiting (gconstpointer a, gconstpointer b, gpointer data)
{
  const GPtrArray *units = data;
  guint first = *(const guint *) a, second = *(const guint *) b;
  const InsightBenchUnit *x = g_ptr_array_index (units, first), *y = g_ptr_array_index (units, second);
  gboolean x_back = x->state == INSIGHT_BENCH_BACK, y_back = y->state == INSIGHT_BENCH_BACK;

  if (x->step != y->step)
    return x->step < y->step ? -1 : 1;
  if (x_back != y_back)
    return x_back ? -1 : 1;
  if (x->days != y->days)
    return x->days > y->days ? -1 : 1;
  return (first > second) - (first < second);
}

static void
list_units (InsightBench *bench)
{
  for (guint u = 0; u < bench->units->len; u++)
    {
      const InsightBenchUnit *unit = g_ptr_array_index (bench->units, u);
      guint n = 0;

      for (guint i = 0; i < unit->wanted->len; i++)
        n += g_array_index (unit->wanted, InsightBenchWanted, i).here;
      bench->n_wanted += n;
      if (n > 0)
        g_array_append_val (bench->measure, u);
      if (!unit->here)
        continue;
      g_array_append_val (bench->waiting, u);
      bench->longest = MAX (bench->longest, unit->days);
    }
  g_array_sort_with_data (bench->waiting, compare_waiting, bench->units);
  g_array_sort_with_data (bench->measure, compare_waiting, bench->units);
}

/* ---- what came back ---- */

/* The day on which what @number sent back was settled; 0: not yet. */
static BookDay
settled_on (const BookEvidence *e, guint number, BookDay today)
{
  const BookEvidenceEvent *back = &e->events[number];

  for (guint i = number + 1; i < e->n_events && e->events[i].unit == back->unit; i++)
    {
      const BookEvidenceEvent *event = &e->events[i];

      if (event->day > today)
        continue;
      if ((event->kind == BOOK_EVENT_PASSED && (back->step < 0 || event->step >= back->step))
          || event->kind == BOOK_EVENT_SCRAPPED || event->kind == BOOK_EVENT_CONSUMED || event->kind == BOOK_EVENT_SET_ASIDE)
        return event->day;
    }
  return 0;
}

static void
add_return (InsightBench *bench, const BookEvidence *e, guint number, int to, BookDay today)
{
  const BookEvidenceEvent *event = &e->events[number];
  InsightBenchReturn *one = g_new0 (InsightBenchReturn, 1);

  one->unit = (guint) event->unit;
  one->date = date_of (event->day);
  one->found_at = event->step >= 0 ? e->steps[event->step].name : "";
  one->to = to >= 0 ? e->steps[to].name : "";
  one->issue = event->issue >= 0 ? e->issues[event->issue].id : 0;
  one->issue_no = event->issue >= 0 ? e->issues[event->issue].no : 0;
  one->issue_title = event->issue >= 0 ? e->issues[event->issue].title : "";
  one->reason = event->reason;
  one->settled = date_of (settled_on (e, number, today));
  g_ptr_array_add (bench->returns, one);
}

static int
compare_returns (gconstpointer a, gconstpointer b)
{
  const InsightBenchReturn *x = *(const InsightBenchReturn *const *) a, *y = *(const InsightBenchReturn *const *) b;
  int order = g_strcmp0 (y->date, x->date);

  return order != 0 ? order : (x->unit > y->unit) - (x->unit < y->unit);
}

static void
list_returns (InsightBench *answer, const BookEvidence *e, int bench, int from, int to, BookDay today)
{
  for (guint i = 0; i < e->n_events; i++)
    {
      const BookEvidenceEvent *event = &e->events[i];
      int step;

      if (event->kind != BOOK_EVENT_SENT_BACK || event->unit < 0 || event->day > today
          || e->units[event->unit].round < from || e->units[event->unit].round > to)
        continue;
      step = insight_bench_back_to (e, event);
      if (insight_bench_has_step (e, bench, step))
        add_return (answer, e, i, step, today);
    }
  g_ptr_array_sort (answer->returns, compare_returns);
}

/**
 * insight_bench:
 * @evidence: the records of a model, with readings
 * @bench: key of a bench; 0: all
 * @from: key of the first round whose units came back; 0: of the model
 * @to: key of the last; 0: of the model
 * @today: ISO 8601
 *
 * Returns: (transfer full): what lies at the bench on that day
 */
InsightBench *
insight_bench (const BookEvidence *evidence, gint64 bench, gint64 from, gint64 to, const char *today)
{
  BookDay day = book_day_parse (today, NULL);
  g_autofree InsightPlace *places = insight_bench_places (evidence, day);
  InsightBench *answer = g_new0 (InsightBench, 1);
  int number = book_evidence_find (evidence, benches, bench);
  int first = book_evidence_find (evidence, rounds, from), last = book_evidence_find (evidence, rounds, to);

  answer->bench = bench;
  answer->name = "";
  answer->units = g_ptr_array_new_with_free_func (unit_free);
  answer->waiting = g_array_new (FALSE, FALSE, sizeof (guint));
  answer->measure = g_array_new (FALSE, FALSE, sizeof (guint));
  answer->returns = g_ptr_array_new_with_free_func (return_free);
  if (number >= 0)
    answer->name = evidence->benches[number].name;
  for (guint u = 0; u < evidence->n_units; u++)
    g_ptr_array_add (answer->units, unit_new (evidence, u, &places[u], number, day));
  insight_bench_find_wanted (evidence, places, number, day, answer->units);
  list_units (answer);
  list_returns (answer, evidence, number, first >= 0 ? first : 0, last >= 0 ? last : (int) evidence->n_rounds - 1, day);
  return answer;
}

int
insight_bench_usual_back (const BookEvidence *evidence, gint64 unit, int found)
{
  const BookEvidenceEvent event = { .unit = book_evidence_find (evidence, units, unit), .step = found, .back_to = -1 };

  return event.unit >= 0 ? insight_bench_back_to (evidence, &event) : -1;
}

/**
 * insight_bench_find:
 * @bench: an answer
 * @serial: as typed or scanned, in any case
 *
 * Returns: (nullable): the unit; where several rounds have one of that serial, one that is not finished, else the newest
 */
const InsightBenchUnit *
insight_bench_find (const InsightBench *bench, const char *serial)
{
  g_autofree char *plain = g_strstrip (g_strdup (serial));
  g_autofree char *wanted = g_utf8_casefold (plain, -1);
  const InsightBenchUnit *found = NULL;

  for (guint i = bench->units->len; i-- > 0;)
    {
      const InsightBenchUnit *unit = g_ptr_array_index (bench->units, i);
      g_autofree char *folded = g_utf8_casefold (unit->serial, -1);

      if (!g_str_equal (folded, wanted))
        continue;
      if (unit->state < INSIGHT_BENCH_DONE)
        return unit;
      if (found == NULL)
        found = unit;
    }
  return found;
}
