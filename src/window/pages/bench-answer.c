/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-answer.h"

#include "book-models.h"
#include "present-bench.h"

void
fettle_bench_ask_free (gpointer data)
{
  FettleBenchAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

void
fettle_bench_answer_free (gpointer data)
{
  FettleBenchAnswer *answer = data;

  if (answer == NULL)
    return;
  g_clear_pointer (&answer->data, insight_bench_free);
  g_clear_pointer (&answer->evidence, book_evidence_free);
  g_array_unref (answer->benches);
  g_ptr_array_unref (answer->names);
  g_free (answer->headline);
  g_clear_pointer (&answer->waiting, present_sheet_free);
  g_clear_pointer (&answer->measure, present_sheet_free);
  g_clear_pointer (&answer->returns, present_sheet_free);
  g_free (answer->more);
  g_free (answer->elsewhere);
  g_free (answer);
}

/* How many units of one model wait at a bench; without its readings, which tell only what is to be measured. */
static gboolean
count_waiting (StoreDb *db, gint64 model, const FettleBenchAsk *ask, guint *n, GError **error)
{
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, model, BOOK_EVIDENCE_RECORDS, error);
  g_autoptr(InsightBench) bench = NULL;

  if (evidence == NULL)
    return FALSE;
  bench = insight_bench (evidence, ask->bench, 0, 0, ask->today);
  *n = bench->waiting->len;
  return TRUE;
}

/* A maker works on what lies at the bench, of whichever model. */
static char *
read_elsewhere (StoreDb *db, const FettleBenchAsk *ask, const char *code, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) models = book_models_running (db, ask->model, ask->bench, error);
  g_autoptr(GPtrArray) codes = g_ptr_array_new ();
  g_autoptr(GArray) counts = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; models != NULL && i < models->len; i++)
    {
      const BookModel *model = g_ptr_array_index (models, i);
      guint n;

      if (g_cancellable_set_error_if_cancelled (cancellable, error) || !count_waiting (db, model->id, ask, &n, error))
        return NULL;
      if (n == 0)
        continue;
      g_ptr_array_add (codes, model->code);
      g_array_append_val (counts, n);
    }
  return models != NULL ? present_bench_elsewhere (code, codes, counts) : NULL;
}

/**
 * fettle_bench_answer_read:
 * @db: the reader's connection
 * @data: a #FettleBenchAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleBenchAnswer
 */
gpointer
fettle_bench_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleBenchAsk *ask = data;
  BookEvidence *evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_READINGS, error);
  FettleBenchAnswer *answer;
  char *elsewhere = evidence != NULL ? read_elsewhere (db, ask, evidence->code, cancellable, error) : NULL;

  if (elsewhere == NULL)
    {
      g_clear_pointer (&evidence, book_evidence_free);
      return NULL;
    }
  store_reader_done_reading (db);
  answer = g_new0 (FettleBenchAnswer, 1);
  answer->evidence = evidence;
  answer->benches = g_array_new (FALSE, FALSE, sizeof (gint64));
  answer->names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < evidence->n_benches; i++)
    {
      g_array_append_val (answer->benches, evidence->benches[i].id);
      g_ptr_array_add (answer->names, g_strdup (evidence->benches[i].name));
    }
  answer->data = insight_bench (evidence, ask->bench, ask->from, ask->to, ask->today);
  answer->headline = present_bench_headline (answer->data);
  answer->waiting = present_bench_waiting (answer->data);
  answer->measure = present_bench_measure (answer->data);
  answer->returns = present_bench_returns (answer->data);
  answer->elsewhere = elsewhere;
  answer->more = present_bench_more (answer->data->waiting->len);
  return answer;
}

const InsightBenchUnit *
fettle_bench_answer_find (const FettleBenchAnswer *answer, gint64 unit)
{
  for (guint i = 0; unit != 0 && i < answer->data->units->len; i++)
    {
      const InsightBenchUnit *one = g_ptr_array_index (answer->data->units, i);

      if (one->unit == unit)
        return one;
    }
  return NULL;
}

static gint64
key_at (const FettleBenchAnswer *answer, int i)
{
  guint number = g_array_index (answer->data->waiting, guint, (guint) i);

  return ((const InsightBenchUnit *) g_ptr_array_index (answer->data->units, number))->unit;
}

gint64
fettle_bench_answer_next (const FettleBenchAnswer *answer, gint64 unit, int direction)
{
  int n = (int) answer->data->waiting->len, at = -1;

  for (int i = 0; i < n; i++)
    if (key_at (answer, i) == unit)
      at = i;
  if (at < 0)
    at = direction > 0 ? 0 : n - 1;
  else
    at += direction;
  return at >= 0 && at < n ? key_at (answer, at) : 0;
}
