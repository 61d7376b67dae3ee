/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "readings-answer.h"

#include <glib/gi18n.h>

#include "book-evidence.h"
#include "book-readings.h"
#include "present-chart.h"
#include "present-readings.h"
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
  g_free (answer->missing);
  g_free (answer);
}

/* The rounds from @from to @to as places in the order of rounds; none when either is not known. */
typedef struct
{
  int first;
  int last; /* before @first: none */
} Between;

static Between
rounds_between (const BookEvidence *evidence, gint64 from, gint64 to)
{
  Between between = { 0, -1 };

  for (guint i = 0; i < evidence->n_rounds; i++)
    {
      if (evidence->rounds[i].id == from)
        between.first = (int) i;
      if (evidence->rounds[i].id == to)
        between.last = (int) i;
    }
  return between;
}

static gboolean
is_between (const BookEvidence *evidence, guint32 unit, Between between)
{
  int round = evidence->units[unit].round;

  return round >= between.first && round <= between.last;
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

/* ---- what is wanted, and the characteristic shown ---- */

/* The characteristic whose readings hold the one at @reading. */
static const BookEvidenceCharacteristic *
characteristic_of (const BookEvidence *evidence, guint reading)
{
  for (guint i = 0; i < evidence->n_characteristics; i++)
    if (reading >= evidence->characteristics[i].first_reading && reading < evidence->characteristics[i].end_reading)
      return &evidence->characteristics[i];
  return NULL;
}

/*
 * Where the wanted reading stands among the model's: the one asked for, or the first of the unit, of the characteristic
 * in view before all others. -1: there is none.
 */
static int
find_wanted (const BookEvidence *evidence, const FettleReadingsAsk *ask)
{
  int other = -1;

  for (guint i = 0; i < evidence->n_readings; i++)
    {
      const BookEvidenceReading *reading = &evidence->readings[i];
      const BookEvidenceCharacteristic *characteristic;

      if (ask->wanted_reading != 0 && reading->id == ask->wanted_reading)
        return (int) i;
      if (ask->wanted_unit == 0 || evidence->units[reading->unit].id != ask->wanted_unit)
        continue;
      characteristic = characteristic_of (evidence, i);
      if (ask->characteristic == 0 || (characteristic != NULL && characteristic->id == ask->characteristic))
        return (int) i;
      if (other < 0)
        other = (int) i;
    }
  return other;
}

/* Nothing is said of a reading that the book has under another model. */
static gboolean
tell_missing (StoreDb *db, const BookEvidence *evidence, const FettleReadingsAsk *ask, FettleReadingsAnswer *answer, GError **error)
{
  g_autoptr(BookReadingRow) row = NULL;

  if (ask->wanted_reading != 0 && !book_readings_read (db, &ask->wanted_reading, 1, &row, error))
    return FALSE;
  for (guint i = 0; ask->wanted_unit != 0 && i < evidence->n_units; i++)
    if (evidence->units[i].id == ask->wanted_unit)
      answer->missing = g_strdup_printf (_("Unit %s has no reading yet."), evidence->units[i].serial);
  if (ask->wanted_reading != 0 && row == NULL)
    answer->missing = g_strdup (_("This reading is no longer in the book."));
  return TRUE;
}

/* What is wanted decides on the characteristic: that of a reading, or every one for a unit without one in view. */
static gboolean
look_for_wanted (StoreDb *db, const BookEvidence *evidence, const FettleReadingsAsk *ask, Between between,
                 FettleReadingsAnswer *answer, GError **error)
{
  const BookEvidenceCharacteristic *characteristic;
  const BookEvidenceReading *reading;
  int at = find_wanted (evidence, ask);

  if (at < 0)
    return tell_missing (db, evidence, ask, answer, error);
  reading = &evidence->readings[at];
  characteristic = characteristic_of (evidence, (guint) at);
  answer->wanted = reading->id;
  if (!is_between (evidence, reading->unit, between) && evidence->units[reading->unit].round >= 0)
    answer->wanted_round = evidence->rounds[evidence->units[reading->unit].round].id;
  if (characteristic != NULL && answer->characteristic != 0 && answer->characteristic != characteristic->id)
    answer->characteristic = ask->wanted_reading != 0 ? characteristic->id : 0;
  return TRUE;
}

static gboolean
has_reading (const BookEvidence *evidence, const BookEvidenceCharacteristic *characteristic, Between between)
{
  for (guint i = characteristic->first_reading; i < characteristic->end_reading; i++)
    if (is_between (evidence, evidence->readings[i].unit, between))
      return TRUE;
  return FALSE;
}

/* As long as nobody chose one: the one in view if it was measured in these rounds, else the first that was. */
static gint64
usual_characteristic (const BookEvidence *evidence, gint64 in_view, Between between)
{
  gint64 first = 0;

  for (guint i = 0; i < evidence->n_characteristics; i++)
    {
      const BookEvidenceCharacteristic *characteristic = &evidence->characteristics[i];

      if ((first == 0 || characteristic->id == in_view) && has_reading (evidence, characteristic, between))
        first = characteristic->id;
    }
  if (first == 0 && evidence->n_characteristics > 0)
    first = in_view > 0 ? in_view : evidence->characteristics[0].id;
  return first;
}

/* Whether what was chosen is still in the book: an undo may have taken it away. */
static gboolean
is_known (const BookEvidence *evidence, gint64 characteristic)
{
  return characteristic == 0 || book_evidence_find (evidence, characteristics, characteristic) >= 0;
}

static gboolean
read_keys (StoreDb *db, const BookEvidence *evidence, const FettleReadingsAsk *ask, Between between,
           FettleReadingsAnswer *answer, GCancellable *cancellable, GError **error)
{
  g_autoptr(GArray) rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  BookReadingsAsk which = { .model = ask->model, .characteristic = answer->characteristic };

  for (int i = between.first; i <= between.last; i++)
    g_array_append_val (rounds, evidence->rounds[i].id);
  /* An empty list of rounds is one too: NULL would mean all. */
  which.rounds = rounds->len > 0 ? (const gint64 *) (void *) rounds->data : &ask->to;
  which.n_rounds = rounds->len;
  answer->keys = book_readings_keys (db, &which, cancellable, error);
  return answer->keys != NULL;
}

static gboolean
draw_wall (const BookEvidence *evidence, const InsightSpan *span, FettleReadingsAnswer *answer, GCancellable *cancellable,
           GError **error)
{
  g_autoptr(InsightWall) wall = NULL;

  wall = insight_wall (evidence, span, cancellable, error);
  if (wall == NULL)
    return FALSE;
  answer->chart = present_chart_wall (wall, FALSE);
  answer->words = present_wall_words (wall);
  return TRUE;
}

static void
draw_one (const BookEvidence *evidence, const FettleReadingsAsk *ask, const InsightSpan *span, FettleReadingsAnswer *answer,
          GCancellable *cancellable)
{
  g_autoptr(InsightIndividuals) individuals = NULL;
  g_autoptr(PresentReadings) present = NULL;
  g_autoptr(InsightGauges) gauges = NULL;

  if (ask->view == FETTLE_READINGS_ROUNDS)
    {
      answer->chart = present_chart_characteristic (answer->series, FALSE);
      answer->words = present_series_words (answer->series);
      return;
    }
  individuals = insight_individuals (answer->series, ask->rules ? INSIGHT_RULES_ALL : INSIGHT_RULE_ONE);
  present = present_readings_new (answer->series, individuals);
  gauges = insight_gauges (evidence, span, cancellable, NULL);
  if (gauges != NULL)
    present_readings_take_gauges (present, gauges);
  if (ask->view == FETTLE_READINGS_SINGLE)
    {
      answer->chart = present_chart_individuals (present, FALSE);
      answer->words = present_single_words (present);
    }
  else
    {
      answer->chart = present_chart_distribution (present, FALSE);
      answer->words = present_spread_words (present);
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
  InsightSpan span = { ask->to, ask->today };
  Between between;

  if (evidence == NULL)
    return NULL;
  between = rounds_between (evidence, ask->from, ask->to);
  answer->names = g_ptr_array_new_with_free_func (g_free);
  answer->choices = g_array_new (FALSE, FALSE, sizeof (gint64));
  list_characteristics (evidence, answer);
  answer->characteristic = ask->is_chosen && is_known (evidence, ask->characteristic)
                               ? ask->characteristic
                               : usual_characteristic (evidence, ask->characteristic, between);
  if ((ask->wanted_unit != 0 || ask->wanted_reading != 0)
      && !look_for_wanted (db, evidence, ask, between, answer, error))
    return NULL;
  if (!read_keys (db, evidence, ask, between, answer, cancellable, error))
    return NULL;
  store_reader_done_reading (db);

  if (answer->characteristic != 0 && evidence->n_rounds > 0)
    {
      answer->series = insight_series (evidence, answer->characteristic, &span, cancellable, error);
      if (answer->series == NULL)
        return NULL;
    }
  answer->view = ask->view;
  if (ask->view == FETTLE_READINGS_WALL)
    return draw_wall (evidence, &span, answer, cancellable, error) ? g_steal_pointer (&answer) : NULL;
  if (answer->series != NULL)
    draw_one (evidence, ask, &span, answer, cancellable);
  return g_steal_pointer (&answer);
}
