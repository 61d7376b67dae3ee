/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "readings-answer.h"

#include <glib/gi18n.h>

#include "book-evidence.h"
#include "book-readings.h"
#include "present-chart.h"
#include "store-reader.h"

void
fettle_readings_ask_free (FettleReadingsAsk *ask)
{
  g_free (ask->today);
  g_free (ask);
}

void
fettle_readings_answer_free (FettleReadingsAnswer *answer)
{
  if (answer == NULL)
    return;
  g_clear_pointer (&answer->names, g_ptr_array_unref);
  g_clear_pointer (&answer->choices, g_array_unref);
  g_clear_pointer (&answer->keys, g_array_unref);
  g_clear_pointer (&answer->series, insight_series_free);
  g_clear_pointer (&answer->chart, chart_free);
  g_free (answer->words);
  g_free (answer);
}

/* The rounds from @from to @to, in order; all of them when either is not known. */
static GArray *
rounds_between (const BookEvidence *evidence, gint64 from, gint64 to)
{
  GArray *rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  gboolean inside = FALSE;

  for (guint i = 0; i < evidence->n_rounds; i++)
    {
      inside = inside || evidence->rounds[i].id == from;
      if (inside)
        g_array_append_val (rounds, evidence->rounds[i].id);
      if (evidence->rounds[i].id == to)
        break;
    }
  return rounds;
}

static void
list_characteristics (const BookEvidence *evidence, FettleReadingsAnswer *answer)
{
  for (guint i = 0; i < evidence->n_characteristics; i++)
    {
      const BookEvidenceCharacteristic *characteristic = &evidence->characteristics[i];

      g_array_append_val (answer->choices, characteristic->id);
      g_ptr_array_add (answer->names, g_strdup_printf ("%s  %s", characteristic->code, characteristic->name));
    }
}

/**
 * fettle_readings_answer_read:
 * @db: the reader's connection
 * @data: a #FettleReadingsAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleReadingsAnswer
 */
gpointer
fettle_readings_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleReadingsAsk *ask = data;
  g_autoptr(FettleReadingsAnswer) answer = g_new0 (FettleReadingsAnswer, 1);
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  g_autoptr(GArray) rounds = NULL;
  BookReadingsAsk which = { .model = ask->model };
  InsightSpan span = { ask->to, ask->today };

  if (evidence == NULL)
    return NULL;
  answer->names = g_ptr_array_new_with_free_func (g_free);
  answer->choices = g_array_new (FALSE, FALSE, sizeof (gint64));
  list_characteristics (evidence, answer);
  answer->characteristic = ask->characteristic;
  if (ask->characteristic < 0) /* nothing chosen yet: the first */
    answer->characteristic = answer->choices->len > 0 ? g_array_index (answer->choices, gint64, 0) : 0;

  rounds = rounds_between (evidence, ask->from, ask->to);
  which.characteristic = answer->characteristic;
  which.rounds = (const gint64 *) (void *) rounds->data;
  which.n_rounds = rounds->len;
  answer->keys = book_readings_keys (db, &which, cancellable, error);
  if (answer->keys == NULL)
    return NULL;
  store_reader_done_reading (db);

  if (answer->characteristic != 0 && evidence->n_rounds > 0)
    {
      answer->series = insight_series (evidence, answer->characteristic, &span, cancellable, error);
      if (answer->series == NULL)
        return NULL;
      answer->chart = present_chart_characteristic (answer->series, FALSE);
      answer->words = present_series_words (answer->series);
    }
  return g_steal_pointer (&answer);
}
