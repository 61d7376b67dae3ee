/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-study.h"

#include "book-evidence.h"
#include "insight-limits-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int
compare_for_crossing (gconstpointer a, gconstpointer b)
{
  const BookEvidenceTrial *first = *(const BookEvidenceTrial *const *) a, *second = *(const BookEvidenceTrial *const *) b;
  int order;

  if (first->person_id != second->person_id)
    return first->person_id < second->person_id ? -1 : 1;
  order = strcmp (first->piece, second->piece);
  if (order != 0)
    return order;
  return (first->trial > second->trial) - (first->trial < second->trial);
}

/* Whether @trials, in order, are persons by pieces by repeats without a gap; then how many of each. */
static gboolean
is_crossed (const BookEvidenceTrial *const *trials, guint n, InsightStudy *study)
{
  guint repeats = 1, block = 1;

  while (repeats < n && trials[repeats]->person_id == trials[0]->person_id
         && strcmp (trials[repeats]->piece, trials[0]->piece) == 0)
    repeats++;
  while (block < n && trials[block]->person_id == trials[0]->person_id)
    block++;
  if (block % repeats != 0 || n % block != 0)
    return FALSE;

  for (guint i = 0; i < n; i++)
    {
      guint cell = i % block;

      if (trials[i]->person_id != trials[i - cell]->person_id || strcmp (trials[i]->piece, trials[cell]->piece) != 0
          || strcmp (trials[i]->piece, trials[i - cell % repeats]->piece) != 0)
        return FALSE;
      if (cell == 0 && i > 0 && trials[i]->person_id == trials[i - 1]->person_id)
        return FALSE;
      if (cell % repeats == 0 && cell > 0 && strcmp (trials[i]->piece, trials[i - 1]->piece) == 0)
        return FALSE;
    }
  study->n_persons = n / block;
  study->n_pieces = block / repeats;
  study->n_trials = repeats;
  return TRUE;
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Different persons and pieces, and the most trials of one on one: of any study, with gaps or not. */
static void
take_names (InsightStudy *study, const BookEvidenceTrial *const *trials, guint n)
{
  g_autoptr(GPtrArray) pieces = g_ptr_array_new ();
  guint run = 0;

  study->persons = g_new0 (gint64, n + 1);
  study->n_persons = 0;
  study->n_trials = 0;
  for (guint i = 0; i < n; i++)
    {
      gboolean same_person = i > 0 && trials[i]->person_id == trials[i - 1]->person_id;

      if (!same_person)
        study->persons[study->n_persons++] = trials[i]->person_id;
      run = same_person && strcmp (trials[i]->piece, trials[i - 1]->piece) == 0 ? run + 1 : 1;
      study->n_trials = MAX (study->n_trials, run);
      g_ptr_array_add (pieces, (gpointer) trials[i]->piece);
    }
  g_ptr_array_sort (pieces, compare_texts);
  study->pieces = g_new0 (char *, n + 1);
  study->n_pieces = 0;
  for (guint i = 0; i < pieces->len; i++)
    if (i == 0 || strcmp (pieces->pdata[i], pieces->pdata[i - 1]) != 0)
      study->pieces[study->n_pieces++] = g_strdup (pieces->pdata[i]);
}

static void
compute (InsightStudy *study, const BookEvidence *e, BookDay end)
{
  int limit = insight_limit_on (e, insight_limit_rows (e, study->characteristic), end);
  NumGaugeStudy numbers = insight_study_numbers (study);

  study->computed = study->complete && num_gauge_anova (&numbers, &study->answer) == NUM_OK && isfinite (study->answer.grr);
  if (!study->computed)
    study->answer = (NumGauge){ NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  study->tolerance = limit >= 0 && isfinite (e->limits[limit].lower) && isfinite (e->limits[limit].upper)
                       ? e->limits[limit].upper - e->limits[limit].lower : (double) NAN;
  study->tolerance_share = 6.0 * study->answer.grr / study->tolerance;
}

static InsightStudy *
study_new (const BookEvidence *e, guint from, guint to, BookDay end)
{
  guint n = to - from;
  g_autofree const BookEvidenceTrial **trials = g_new (const BookEvidenceTrial *, n);
  InsightStudy *study = g_new0 (InsightStudy, 1);

  study->characteristic = e->trials[from].characteristic;
  study->gauge = e->trials[from].gauge;
  study->first = from;
  study->end = to;
  for (guint i = 0; i < n; i++)
    {
      trials[i] = &e->trials[from + i];
      study->day = MAX (study->day, trials[i]->day);
    }
  study->last = study->day != 0 ? book_day_format (study->day) : g_strdup ("");
  qsort (trials, n, sizeof *trials, compare_for_crossing);
  take_names (study, trials, n);
  study->complete = is_crossed (trials, n, study) && study->n_pieces >= 2 && study->n_trials >= 2;
  if (study->complete)
    {
      study->values = g_new (double, n);
      for (guint i = 0; i < n; i++)
        study->values[i] = trials[i]->value;
    }
  compute (study, e, end);
  return study;
}

/* The study as num-gauge.h takes it; borrows. */
NumGaugeStudy
insight_study_numbers (const InsightStudy *study)
{
  return (NumGaugeStudy){ study->values, study->n_persons, study->n_pieces, study->n_trials };
}

void
insight_study_free (InsightStudy *study)
{
  if (study == NULL)
    return;
  g_free (study->last);
  g_free (study->persons);
  g_strfreev (study->pieces);
  g_free (study->values);
  g_free (study);
}

/**
 * insight_studies:
 * @evidence: the records
 * @characteristic: of it alone; -1: of all
 * @end: last day that is seen; undated trials are older than all others
 *
 * Returns: (transfer full) (element-type InsightStudy): in the order of the trials: by characteristic, gauge, day
 */
GPtrArray *
insight_studies (const BookEvidence *evidence, int characteristic, gint32 end)
{
  const BookEvidence *e = evidence;
  GPtrArray *studies = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_study_free);

  for (guint i = 0, next; i < e->n_trials; i = next)
    {
      const BookEvidenceTrial *first = &e->trials[i];
      BookDay last = first->day;

      for (next = i + 1; next < e->n_trials && e->trials[next].characteristic == first->characteristic
                         && e->trials[next].gauge == first->gauge && e->trials[next].day <= end
                         && e->trials[next].day - last <= INSIGHT_STUDY_PAUSE; next++)
        last = e->trials[next].day;
      if ((characteristic < 0 || first->characteristic == characteristic) && first->day <= end)
        g_ptr_array_add (studies, study_new (e, i, next, end));
    }
  return studies;
}

static int
compare_persons (gconstpointer a, gconstpointer b)
{
  const InsightBadPieces *x = a, *y = b;

  return (x->person > y->person) - (x->person < y->person);
}

/**
 * insight_bad_pieces:
 * @evidence: the records
 * @characteristic: a checked characteristic
 * @end: last day that is seen
 *
 * Returns: (transfer full) (element-type InsightBadPieces): what each inspector caught, by key of the person
 */
GArray *
insight_bad_pieces (const BookEvidence *evidence, int characteristic, gint32 end)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (InsightBadPieces));

  for (guint i = 0; i < evidence->n_bad_trials; i++)
    {
      const BookEvidenceBadTrial *trial = &evidence->bad_trials[i];
      InsightBadPieces *one = NULL;

      if (trial->characteristic != characteristic || trial->day > end)
        continue;
      for (guint k = 0; k < list->len && one == NULL; k++)
        if (g_array_index (list, InsightBadPieces, k).person == trial->person_id)
          one = &g_array_index (list, InsightBadPieces, k);
      if (one == NULL)
        {
          const InsightBadPieces empty = { trial->person_id, 0, 0 };

          g_array_append_val (list, empty);
          one = &g_array_index (list, InsightBadPieces, list->len - 1);
        }
      one->tried++;
      one->caught += trial->caught;
    }
  g_array_sort (list, compare_persons);
  return list;
}
