/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "standing-answer.h"

#include "book-answers.h"
#include "book-evidence.h"
#include "book-models.h"
#include "insight-series.h"
#include "today.h"

struct _FettleStandingAsk
{
  Book  *book; /* outlives its reader thread */
  gint64 model;
  gint64 through;
  char  *today;
};

struct _FettleSeriesAsk
{
  gint64 model;
  gint64 characteristic;
  gint64 through;
  char  *today;
};

FettleStandingAsk *
fettle_standing_ask_new (Book *book, gint64 model, gint64 through)
{
  FettleStandingAsk *ask = g_new0 (FettleStandingAsk, 1);

  ask->book = book;
  ask->model = model;
  ask->through = through;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_standing_ask_free (gpointer data)
{
  FettleStandingAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* NULL without an error when nothing is kept, or what is kept is of another version of the program. */
static InsightStanding *
read_kept (StoreDb *db, const BookQuestion *question)
{
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GVariant) boxed = NULL, variant = NULL;

  if (!book_answer_get (db, question, &bytes, NULL) || bytes == NULL)
    return NULL;

  boxed = g_variant_ref_sink (g_variant_new_from_bytes (G_VARIANT_TYPE_VARIANT, bytes, FALSE));
  variant = g_variant_get_variant (boxed);
  return insight_standing_from_variant (variant, NULL);
}

static void
keep (Book *book, const BookQuestion *question, const InsightStanding *standing)
{
  g_autoptr(GVariant) variant = g_variant_ref_sink (insight_standing_to_variant (standing));
  g_autoptr(GVariant) boxed = g_variant_ref_sink (g_variant_new_variant (variant));
  g_autoptr(GBytes) bytes = g_variant_get_data_as_bytes (boxed);

  book_answer_keep (book, question, bytes);
}

/* An answer about strength and life is not given without its caution: a failure is one of the whole. */
static gboolean
read_caution (StoreDb *db, gint64 model, char **caution, GError **error)
{
  g_autoptr(GPtrArray) models = book_models_list (db, error);

  for (guint i = 0; models != NULL && i < models->len; i++)
    {
      const BookModel *each = g_ptr_array_index (models, i);

      if (each->id == model)
        *caution = g_strdup (each->caution);
    }
  return models != NULL;
}

/**
 * fettle_standing_read:
 * @db: a reader's, in its transaction
 * @book: keeps the answer
 * @model: key
 * @through: a round, or 0
 * @today: ISO 8601 date
 * @cancellable: (nullable): of the question
 * @error: return location
 *
 * Where a model stands, as the book keeps it, else computed from all its records and kept. Nothing may be read after it.
 *
 * Returns: (transfer full) (nullable): the standing
 */
InsightStanding *
fettle_standing_read (StoreDb *db, Book *book, gint64 model, gint64 through, const char *today, GCancellable *cancellable,
                      GError **error)
{
  BookQuestion question = { .model = model, .question = "standing", .through = through, .today = today };
  InsightSpan span = { through, today };
  g_autoptr(BookEvidence) evidence = NULL;
  InsightStanding *standing;

  if (!book_version_read (db, model, &question.version, error))
    return NULL;
  standing = read_kept (db, &question);
  if (standing != NULL)
    return standing;

  evidence = book_evidence_load (db, model, error);
  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  standing = insight_standing (evidence, &span, cancellable, error);
  if (standing != NULL)
    keep (book, &question, standing);
  return standing;
}

gpointer
fettle_standing_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleStandingAsk *ask = data;
  g_autoptr(InsightStanding) standing = NULL;
  g_autofree char *caution = NULL;
  FettleStandingAnswer *answer;

  if (!read_caution (db, ask->model, &caution, error))
    return NULL;
  standing = fettle_standing_read (db, ask->book, ask->model, ask->through, ask->today, cancellable, error);
  if (standing == NULL)
    return NULL;

  answer = g_new0 (FettleStandingAnswer, 1);
  answer->standing = present_standing_new (standing, caution);
  answer->score = present_chart_score (standing, FALSE);
  return answer;
}

void
fettle_standing_answer_free (gpointer data)
{
  FettleStandingAnswer *answer = data;

  if (answer == NULL)
    return;

  present_standing_free (answer->standing);
  g_clear_pointer (&answer->score, chart_free);
  g_free (answer);
}

FettleSeriesAsk *
fettle_series_ask_new (gint64 model, gint64 characteristic, gint64 through)
{
  FettleSeriesAsk *ask = g_new0 (FettleSeriesAsk, 1);

  ask->model = model;
  ask->characteristic = characteristic;
  ask->through = through;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_series_ask_free (gpointer data)
{
  FettleSeriesAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

gpointer
fettle_series_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleSeriesAsk *ask = data;
  InsightSpan span = { ask->through, ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  g_autoptr(InsightSeries) series = NULL;
  FettleSeriesAnswer *answer;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  series = insight_series (evidence, ask->characteristic, &span, cancellable, error);
  if (series == NULL)
    return NULL;

  answer = g_new0 (FettleSeriesAnswer, 1);
  answer->chart = present_chart_characteristic (series, FALSE);
  answer->name = g_strdup (series->name);
  answer->words = present_series_words (series);
  return answer;
}

void
fettle_series_answer_free (gpointer data)
{
  FettleSeriesAnswer *answer = data;

  if (answer == NULL)
    return;

  g_clear_pointer (&answer->chart, chart_free);
  g_free (answer->name);
  g_free (answer->words);
  g_free (answer);
}
