/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gauge-answer.h"

#include "book-evidence.h"
#include "present-number.h"

#include <stdlib.h>
#include <string.h>

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

/* The newest study of the characteristic by its gauge; NULL. */
static const InsightStudy *
newest_study (const InsightGauges *gauges, int characteristic, int gauge)
{
  const InsightStudy *newest = NULL;

  for (guint i = 0; i < gauges->studies->len; i++)
    {
      const InsightStudy *study = gauges->studies->pdata[i];

      if (study->characteristic == characteristic && study->gauge == gauge && (newest == NULL || study->day >= newest->day))
        newest = study;
    }
  return newest;
}

static gboolean
is_piece_of (const InsightStudy *study, const char *label)
{
  return study != NULL && g_strv_contains ((const char *const *) study->pieces, label);
}

/* Of an earlier study with this gauge: whoever takes part may have a trial with this number on it already. */
static gboolean
is_taken (const BookEvidence *e, int characteristic, int gauge, const char *label)
{
  for (guint i = 0; i < e->n_trials; i++)
    if (e->trials[i].characteristic == characteristic && e->trials[i].gauge == gauge && g_str_equal (e->trials[i].piece, label))
      return TRUE;
  return FALSE;
}

static int
compare_labels (gconstpointer a, gconstpointer b)
{
  const char *first = *(const char *const *) a, *second = *(const char *const *) b;
  g_autofree char *first_key = g_utf8_collate_key_for_filename (first, -1);
  g_autofree char *second_key = g_utf8_collate_key_for_filename (second, -1);
  int order = strcmp (first_key, second_key);

  return order != 0 ? order : strcmp (first, second);
}

/* The pieces of the study so far that have a name rather than a number of the plan. */
static guint
count_named (const InsightStudy *study)
{
  guint named = 0;

  for (guint i = 0; study != NULL && i < study->n_pieces; i++)
    {
      guint64 number;

      named += !g_ascii_string_to_unsigned (study->pieces[i], 10, 1, G_MAXUINT, &number, NULL);
    }
  return named;
}

/*
 * The pieces of the study so far and further ones by number, as people count them. Which numbers are planned, and where a
 * piece stands, must not depend on what is measured first: else rows would move under the hand of who types.
 */
static void
take_pieces (FettleStudyPlan *plan, const BookEvidence *e, const InsightStudy *study, int characteristic, int gauge)
{
  guint n = 0;

  for (guint i = 0; study != NULL && i < study->n_pieces; i++)
    plan->pieces[n++] = g_strdup (study->pieces[i]);
  for (guint number = count_named (study) + 1; n < plan->n_pieces; number++)
    {
      g_autofree char *label = g_strdup_printf ("%u", number);

      if (!is_piece_of (study, label) && !is_taken (e, characteristic, gauge, label))
        plan->pieces[n++] = g_steal_pointer (&label);
    }
  qsort (plan->pieces, n, sizeof *plan->pieces, compare_labels);
}

static int
piece_at (const FettleStudyPlan *plan, const char *piece)
{
  for (guint i = 0; i < plan->n_pieces; i++)
    if (g_str_equal (plan->pieces[i], piece))
      return (int) i;
  return -1;
}

/* Of @study, which goes on; NULL: a new one begins. */
static FettleStudyPlan *
make_plan (const FettleGaugeAsk *ask, const BookEvidence *e, const InsightStudy *study, int characteristic)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  guint trials = study != NULL ? MAX (ask->trials, study->n_trials) : ask->trials;
  FettleStudyPlan *plan
      = fettle_study_plan_new (study != NULL ? MAX (ask->pieces, study->n_pieces) : ask->pieces, MIN (trials, FETTLE_STUDY_MOST_TRIALS));

  plan->gauge = one->gauge >= 0 ? e->gauges[one->gauge].id : 0;
  plan->characteristic = one->id;
  plan->name = g_strdup (one->code);
  plan->person = ask->person;
  take_pieces (plan, e, study, characteristic, one->gauge);
  for (guint i = study != NULL ? study->first : 0; study != NULL && i < study->end; i++)
    {
      const BookEvidenceTrial *trial = &e->trials[i];
      gsize cell;

      if (trial->person_id != ask->person || trial->trial < 1 || trial->trial > (int) plan->trials)
        continue;
      cell = (gsize) piece_at (plan, trial->piece) * plan->trials + (gsize) trial->trial - 1;
      plan->keys[cell] = trial->id;
      g_free (plan->texts[cell]);
      plan->texts[cell] = present_number (trial->value, -1);
    }
  return plan;
}

static void
plan_study (FettleGaugeAnswer *answer, const FettleGaugeAsk *ask, const BookEvidence *e, int characteristic)
{
  const InsightStudy *study = newest_study (answer->data, characteristic, e->characteristics[characteristic].gauge);

  answer->characteristic = e->characteristics[characteristic].id;
  if (study != NULL && study->day + INSIGHT_STUDY_PAUSE < book_day_parse (ask->today, NULL))
    {
      answer->over = TRUE;
      study = NULL;
    }
  answer->plan = make_plan (ask, e, study, characteristic);
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
    plan_study (answer, ask, evidence, chosen);
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
