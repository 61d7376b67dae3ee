/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gauge-answer.h"

#include "book-evidence.h"
#include "present-number.h"

void
fettle_gauge_ask_free (gpointer data)
{
  FettleGaugeAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static void
clear_choice (gpointer data)
{
  g_free (((FettleGaugeChoice *) data)->name);
}

static void
add_choices (FettleGaugeAnswer *answer, const BookEvidence *e)
{
  answer->choices = g_array_new (FALSE, FALSE, sizeof (FettleGaugeChoice));
  g_array_set_clear_func (answer->choices, clear_choice);
  for (guint c = 0; c < e->n_characteristics; c++)
    if (e->characteristics[c].kind == BOOK_CHARACTERISTIC_MEASURED)
      {
        FettleGaugeChoice choice = { e->characteristics[c].id,
                                     g_strdup_printf ("%s %s", e->characteristics[c].code, e->characteristics[c].name) };

        g_array_append_val (answer->choices, choice);
      }
}

/* The characteristic asked for, else that of the newest study, else the first that is measured and names a gauge. */
static int
choose (const FettleGaugeAsk *ask, const BookEvidence *e, const InsightGauges *gauges)
{
  const InsightStudy *newest = NULL;
  int first = -1;

  for (guint c = 0; c < e->n_characteristics; c++)
    {
      if (e->characteristics[c].id == ask->characteristic)
        return (int) c;
      if (first < 0 && e->characteristics[c].kind == BOOK_CHARACTERISTIC_MEASURED && e->characteristics[c].gauge >= 0)
        first = (int) c;
    }
  for (guint i = 0; i < gauges->studies->len; i++)
    {
      const InsightStudy *study = gauges->studies->pdata[i];

      if (newest == NULL || study->day >= newest->day)
        newest = study;
    }
  return newest != NULL ? newest->characteristic : first;
}

static int
piece_at (const FettleStudyPlan *plan, guint n, const char *piece)
{
  for (guint i = 0; i < n; i++)
    if (g_str_equal (plan->pieces[i], piece))
      return (int) i;
  return -1;
}

/* The pieces of the study so far in their order, then further ones by number. */
static guint
take_pieces (FettleStudyPlan *plan, const BookEvidence *e, int characteristic)
{
  guint n = 0;

  for (guint i = 0; i < e->n_trials && n < plan->n_pieces; i++)
    if (e->trials[i].characteristic == characteristic && piece_at (plan, n, e->trials[i].piece) < 0)
      plan->pieces[n++] = g_strdup (e->trials[i].piece);
  for (guint number = n + 1; n < plan->n_pieces; number++)
    {
      g_autofree char *label = g_strdup_printf ("%u", number);

      if (piece_at (plan, n, label) < 0)
        plan->pieces[n++] = g_steal_pointer (&label);
    }
  return n;
}

static guint
count_pieces (const BookEvidence *e, int characteristic)
{
  g_autoptr(GHashTable) pieces = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < e->n_trials; i++)
    if (e->trials[i].characteristic == characteristic)
      g_hash_table_add (pieces, (gpointer) e->trials[i].piece);
  return g_hash_table_size (pieces);
}

static FettleStudyPlan *
make_plan (const FettleGaugeAsk *ask, const BookEvidence *e, int characteristic)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  FettleStudyPlan *plan = fettle_study_plan_new (MAX (ask->pieces, count_pieces (e, characteristic)), ask->trials);

  plan->gauge = one->gauge >= 0 ? e->gauges[one->gauge].id : 0;
  plan->characteristic = one->id;
  plan->person = ask->person;
  take_pieces (plan, e, characteristic);
  for (guint i = 0; i < e->n_trials; i++)
    {
      const BookEvidenceTrial *trial = &e->trials[i];
      int row;

      if (trial->characteristic != characteristic || trial->person_id != ask->person || trial->gauge != one->gauge
          || trial->trial < 1 || trial->trial > (int) plan->trials)
        continue;
      row = piece_at (plan, plan->n_pieces, trial->piece);
      if (row < 0)
        continue;
      plan->keys[(gsize) row * plan->trials + (guint) trial->trial - 1] = trial->id;
      g_free (plan->texts[(gsize) row * plan->trials + (guint) trial->trial - 1]);
      plan->texts[(gsize) row * plan->trials + (guint) trial->trial - 1] = present_number (trial->value, -1);
    }
  return plan;
}

gpointer
fettle_gauge_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleGaugeAsk *ask = data;
  InsightSpan span = { 0, ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_READINGS, error);
  InsightGauges *gauges;
  FettleGaugeAnswer *answer;
  int chosen;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  gauges = insight_gauges (evidence, &span, cancellable, error);
  if (gauges == NULL)
    return NULL;

  answer = g_new0 (FettleGaugeAnswer, 1);
  answer->data = gauges;
  answer->words = present_gauges_new (gauges);
  add_choices (answer, evidence);
  chosen = choose (ask, evidence, gauges);
  answer->gauge = g_strdup (chosen >= 0 && evidence->characteristics[chosen].gauge >= 0
                              ? evidence->gauges[evidence->characteristics[chosen].gauge].name : "");
  if (chosen >= 0)
    {
      answer->characteristic = evidence->characteristics[chosen].id;
      answer->plan = make_plan (ask, evidence, chosen);
    }
  return answer;
}

void
fettle_gauge_answer_free (gpointer data)
{
  FettleGaugeAnswer *answer = data;

  if (answer == NULL)
    return;

  present_gauges_free (answer->words);
  insight_gauges_free (answer->data);
  g_array_unref (answer->choices);
  g_free (answer->gauge);
  fettle_study_plan_free (answer->plan);
  g_free (answer);
}
