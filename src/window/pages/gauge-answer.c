/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gauge-answer.h"

#include "book-evidence.h"
#include "book-readings.h"
#include "present-number.h"

#include <stdlib.h>
#include <string.h>

void
fettle_gauge_ask_free (gpointer data)
{
  FettleGaugeAsk *ask = data;

  g_hash_table_unref (ask->wishes);
  g_free (ask->today);
  g_free (ask);
}

static void
clear_choice (gpointer data)
{
  g_free (((FettleGaugeChoice *) data)->name);
}

static void
add_choice (GArray *choices, gint64 id, char *name)
{
  FettleGaugeChoice choice = { id, name };

  g_array_append_val (choices, choice);
}

static GArray *
choices_new (void)
{
  GArray *choices = g_array_new (FALSE, FALSE, sizeof (FettleGaugeChoice));

  g_array_set_clear_func (choices, clear_choice);
  return choices;
}

static void
add_choices (FettleGaugeAnswer *answer, const BookEvidence *e)
{
  answer->choices = choices_new ();
  answer->checks = choices_new ();
  answer->persons = choices_new ();
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *one = &e->characteristics[c];

      if (one->kind == BOOK_CHARACTERISTIC_MEASURED || one->kind == BOOK_CHARACTERISTIC_CHECKED)
        add_choice (one->kind == BOOK_CHARACTERISTIC_MEASURED ? answer->choices : answer->checks, one->id,
                    g_strdup_printf ("%s %s", one->code, one->name));
    }
  for (guint i = 0; i < e->n_persons; i++)
    add_choice (answer->persons, e->persons[i].id, g_strdup (e->persons[i].initials));
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
 * The pieces of the study so far, and those that are planned by name, or else further ones by number, as people count
 * them. Which numbers are planned, and where a piece stands, must not depend on what is measured first: else rows would
 * move under the hand of who types.
 */
static GPtrArray *
list_pieces (const FettleStudyWish *wish, const BookEvidence *e, const InsightStudy *study, int characteristic, int gauge)
{
  GPtrArray *pieces = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; study != NULL && i < study->n_pieces; i++)
    g_ptr_array_add (pieces, g_strdup (study->pieces[i]));
  for (guint i = 0; wish->pieces[i] != NULL; i++)
    if (!is_piece_of (study, wish->pieces[i]))
      g_ptr_array_add (pieces, g_strdup (wish->pieces[i]));
  for (guint number = count_named (study) + 1; wish->pieces[0] == NULL && pieces->len < wish->n_pieces; number++)
    {
      g_autofree char *label = g_strdup_printf ("%u", number);

      if (!is_piece_of (study, label) && !is_taken (e, characteristic, gauge, label))
        g_ptr_array_add (pieces, g_steal_pointer (&label));
    }
  g_ptr_array_sort (pieces, compare_labels);
  return pieces;
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
make_plan (const FettleGaugeAsk *ask, const FettleStudyWish *wish, const BookEvidence *e, const InsightStudy *study, int characteristic)
{
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  guint trials = study != NULL ? MAX (wish->trials, study->n_trials) : wish->trials;
  g_autoptr(GPtrArray) pieces = list_pieces (wish, e, study, characteristic, one->gauge);
  FettleStudyPlan *plan = fettle_study_plan_new (pieces->len, MIN (trials, FETTLE_STUDY_MOST_TRIALS));

  plan->gauge = one->gauge >= 0 ? e->gauges[one->gauge].id : 0;
  plan->characteristic = one->id;
  plan->name = g_strdup (one->code);
  plan->person = ask->person;
  for (guint i = 0; i < pieces->len; i++)
    plan->pieces[i] = g_strdup (pieces->pdata[i]);
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

/* Values of those who are planned by name, and how many of them the study has. */
static void
count_planned (FettleGaugeAnswer *answer, const BookEvidence *e, const InsightStudy *study)
{
  guint there = 0;

  answer->planned = answer->wish->persons->len * answer->plan->n_pieces * answer->plan->trials;
  for (guint i = study != NULL ? study->first : 0; study != NULL && i < study->end; i++)
    there += fettle_study_wish_has (answer->wish, e->trials[i].person_id) && e->trials[i].trial <= (int) answer->plan->trials;
  answer->missing = answer->planned - MIN (there, answer->planned);
}

static void
plan_study (FettleGaugeAnswer *answer, const FettleGaugeAsk *ask, const BookEvidence *e, int characteristic)
{
  int gauge = e->characteristics[characteristic].gauge;
  const InsightStudy *study = newest_study (answer->data, characteristic, gauge);
  g_autofree char *draft = NULL;

  answer->characteristic = e->characteristics[characteristic].id;
  if (study != NULL && study->day + INSIGHT_STUDY_PAUSE < book_day_parse (ask->today, NULL))
    {
      answer->over = TRUE;
      study = NULL;
    }
  draft = fettle_study_wish_draft (gauge >= 0 ? e->gauges[gauge].id : 0, answer->characteristic);
  answer->wish = fettle_study_wish_parse (g_hash_table_lookup (ask->wishes, draft));
  answer->plan = make_plan (ask, answer->wish, e, study, characteristic);
  count_planned (answer, e, study);
}

/* ---- checks of known pieces ---- */

/* The verdict comes last: with it the row is complete, and stored. */
const FettleRecordColumn fettle_gauge_columns[FETTLE_GAUGE_N_COLUMNS] = {
  [FETTLE_GAUGE_PIECE] = { .field = "piece", .letters = 12, .grows = TRUE },
  [FETTLE_GAUGE_KNOWN_BAD] = { .field = "known_bad", .letters = 10 },
  [FETTLE_GAUGE_TRIAL] = { .field = "trial", .letters = 6 },
  [FETTLE_GAUGE_VERDICT] = { .field = "verdict", .letters = 10, .wanted = TRUE },
};

/* The gauge that a check names, else the one of its trials so far; -1: neither. */
static int
gauge_of_check (const BookEvidence *e, int check)
{
  int gauge = e->characteristics[check].gauge;

  for (guint i = 0; gauge < 0 && i < e->n_bad_trials; i++)
    if (e->bad_trials[i].characteristic == check)
      gauge = e->bad_trials[i].gauge;
  return gauge;
}

/* The check asked for, else the first that has a gauge, else the first; -1: there is none. */
static int
choose_check (const FettleGaugeAsk *ask, const BookEvidence *e)
{
  int first = -1, with_gauge = -1;

  for (int c = 0; c < (int) e->n_characteristics; c++)
    {
      if (e->characteristics[c].kind != BOOK_CHARACTERISTIC_CHECKED)
        continue;
      if (e->characteristics[c].id == ask->check)
        return c;
      if (first < 0)
        first = c;
      if (with_gauge < 0 && gauge_of_check (e, c) >= 0)
        with_gauge = c;
    }
  return with_gauge >= 0 ? with_gauge : first;
}

/* The person's own trials of a check, in the order in which they were entered, and the row of the next one. */
static gboolean
read_checks (FettleGaugeAnswer *answer, const FettleGaugeAsk *ask, const BookEvidence *e, StoreDb *db, GError **error)
{
  int chosen = choose_check (ask, e), gauge = chosen >= 0 ? gauge_of_check (e, chosen) : -1;
  g_autoptr(GArray) keys = NULL;

  if (chosen < 0)
    return TRUE;
  answer->check = e->characteristics[chosen].id;
  answer->check_gauge = gauge >= 0 ? e->gauges[gauge].id : 0;
  keys = book_check_keys (db, answer->check, ask->person, error);
  if (keys == NULL)
    return FALSE;
  answer->rows = fettle_record_rows_read (db, BOOK_RECORD_GAUGE_TRIAL, fettle_gauge_columns, FETTLE_GAUGE_N_COLUMNS,
                                          (const gint64 *) (void *) keys->data, keys->len, error);
  if (answer->rows == NULL)
    return FALSE;
  if (answer->check_gauge != 0)
    g_ptr_array_add (answer->rows, fettle_record_row_new (FETTLE_GAUGE_N_COLUMNS));
  return TRUE;
}

gpointer
fettle_gauge_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleGaugeAsk *ask = data;
  InsightSpan span = { 0, ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->model, BOOK_EVIDENCE_READINGS, error);
  g_autoptr(FettleGaugeAnswer) answer = NULL;
  int chosen;

  if (evidence == NULL)
    return NULL;
  answer = g_new0 (FettleGaugeAnswer, 1);
  if (!read_checks (answer, ask, evidence, db, error))
    return NULL;
  store_reader_done_reading (db);
  answer->data = insight_gauges (evidence, &span, cancellable, error);
  if (answer->data == NULL)
    return NULL;

  answer->words = present_gauges_new (answer->data);
  add_choices (answer, evidence);
  chosen = choose (ask, evidence, answer->data);
  answer->gauge = g_strdup (chosen >= 0 && evidence->characteristics[chosen].gauge >= 0
                              ? evidence->gauges[evidence->characteristics[chosen].gauge].name : "");
  if (chosen >= 0)
    plan_study (answer, ask, evidence, chosen);
  return g_steal_pointer (&answer);
}

void
fettle_gauge_answer_free (gpointer data)
{
  FettleGaugeAnswer *answer = data;

  if (answer == NULL)
    return;

  present_gauges_free (answer->words);
  insight_gauges_free (answer->data);
  g_clear_pointer (&answer->choices, g_array_unref);
  g_clear_pointer (&answer->checks, g_array_unref);
  g_clear_pointer (&answer->persons, g_array_unref);
  g_clear_pointer (&answer->rows, g_ptr_array_unref);
  fettle_study_wish_free (answer->wish);
  g_free (answer->gauge);
  fettle_study_plan_free (answer->plan);
  g_free (answer);
}
