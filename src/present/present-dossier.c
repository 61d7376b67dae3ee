/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-dossier.h"

#include "book-evidence.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#define RATE_DRAWS 10000

static void
frozen_free (gpointer data)
{
  PresentDossierFrozen *frozen = data;

  g_clear_pointer (&frozen->document, g_bytes_unref);
  g_clear_pointer (&frozen->then, present_frozen_free);
  g_clear_pointer (&frozen->beside, present_sheet_free);
  g_free (frozen->problem);
  g_free (frozen);
}

/*
 * A document names the book and the journal that it was made of. One that names another book came in with files; one that names
 * another journal was made in another copy, or the journal was rewritten.
 */
static void
check_journal (PresentDossierFrozen *frozen, StoreDb *db, GError **error)
{
  g_autofree char *book = NULL;
  gboolean holds;

  if (!book_head_holds (db, frozen->then->place, frozen->then->head, &holds, error) || holds || !book_identity_read (db, &book, error))
    return;
  if (!g_str_equal (book, frozen->then->book))
    frozen->problem = g_strdup (_("What was known at the decision was not put together from this journal but in another book, and came in with "
                                  "files: nothing here shows that it is as it was frozen."));
  else
    frozen->problem = g_strdup_printf (_("What was known at the decision was not put together from this journal: entry %" PRId64 " is not the one "
                                         "that it names. The decision was taken in another copy, or the journal was rewritten."),
                                       frozen->then->place);
}

/* A document that is missing or altered is no reason to show nothing: it is said. */
static void
read_frozen (PresentDossier *dossier, StoreDb *db)
{
  dossier->frozen = g_ptr_array_new_with_free_func (frozen_free);
  for (guint i = 0; i < dossier->list->n_gates; i++)
    {
      const BookGateDeed *decision = book_gate_list_decision (dossier->list, i);
      PresentDossierFrozen *frozen = g_new0 (PresentDossierFrozen, 1);
      g_autoptr(GError) error = NULL;

      g_ptr_array_add (dossier->frozen, frozen);
      if (decision == NULL)
        continue;
      frozen->document = book_gate_deed_evidence (db, decision, &error);
      if (frozen->document != NULL)
        frozen->then = present_frozen_read (frozen->document, &error);
      if (frozen->then != NULL)
        check_journal (frozen, db, &error);
      if (error != NULL)
        frozen->problem = g_strdup (error->message);
    }
}

static gboolean
read_voided (PresentDossier *dossier, StoreDb *db, GError **error)
{
  const BookEvidence *e = dossier->evidence;
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < e->n_readings; i++)
    if (e->readings[i].voided)
      g_array_append_val (keys, e->readings[i].id);
  dossier->voided = g_ptr_array_new_with_free_func ((GDestroyNotify) book_reading_row_free);
  g_ptr_array_set_size (dossier->voided, (int) keys->len);
  return keys->len == 0
         || book_readings_read (db, (const gint64 *) (gpointer) keys->data, keys->len, (BookReadingRow **) dossier->voided->pdata, error);
}

/**
 * present_dossier_load:
 * @db: a reader's connection, in one transaction
 * @evidence: (transfer full): all records of a model, read in it
 * @span: through which round, as of which day
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Reads all that present_dossier_compute() needs; the book is not asked afterwards.
 *
 * Returns: (transfer full) (nullable): the records
 */
PresentDossier *
present_dossier_load (StoreDb *db, BookEvidence *evidence, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(PresentDossier) dossier = g_new0 (PresentDossier, 1);
  const gint64 model = evidence->model_id;

  dossier->evidence = evidence;
  dossier->today = g_strdup (span->today);
  dossier->through = span->through;
  if (!book_version_read (db, model, &dossier->version, error) || !book_head_read (db, &dossier->place, &dossier->head, error)
      || !book_written_by (db, &dossier->origins, &dossier->origin_place, &dossier->origin_day, error))
    return NULL;
  dossier->list = book_gate_list_read (db, model, error);
  if (dossier->list == NULL)
    return NULL;
  read_frozen (dossier, db);
  if (!read_voided (dossier, db, error))
    return NULL;
  dossier->afterwards = book_afterwards_list (db, dossier->evidence, cancellable, error);
  if (dossier->afterwards == NULL)
    return NULL;
  dossier->others = book_evidence_load_others (db, model, cancellable, error);
  return dossier->others != NULL ? g_steal_pointer (&dossier) : NULL;
}

typedef struct
{
  PresentProgress progress;
  gpointer        data;
} Telling;

static void
on_recorded (guint64 done, guint64 total, gpointer data)
{
  const Telling *telling = data;

  telling->progress ((double) done / (double) total, telling->data);
}

/**
 * present_dossier_load_past:
 * @dossier: as it was read
 * @db: the same connection, in the same transaction
 * @progress: (nullable): told the share done
 * @data: handed to it
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Reads what was recorded when earlier rounds were decided, for #PRESENT_DOSSIER_PAST: a journal of up to
 * %BOOK_RECORDED_BYTES is replayed. Without it, or when it is longer, these rows are told from what had happened by then, and say so.
 *
 * Returns: whether it could be read; %G_IO_ERROR_CANCELLED
 */
gboolean
present_dossier_load_past (PresentDossier *dossier, StoreDb *db, PresentProgress progress, gpointer data, GCancellable *cancellable,
                           GError **error)
{
  Telling telling = { progress, data };

  dossier->recorded = book_recorded_load (db, dossier->evidence, dossier->today, BOOK_RECORDED_BYTES,
                                          progress != NULL ? on_recorded : NULL, &telling, cancellable, error);
  return dossier->recorded != NULL;
}

typedef struct
{
  PresentDossier *dossier;
  InsightSpan     span;
  GCancellable   *cancellable;
  GError        **error;
} Work;

/* Whoever decides must know that another copy may hold what this one does not. */
static void
say_written_by (PresentDossier *d)
{
  if (d->origin_place == 0)
    return;
  present_sheet_add_row (d->gates->remarks, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (_("the book")),
                                        g_strdup_printf (ngettext ("Since entry %" PRId64 " (%s) the book is written by %u user, computer or "
                                                                   "copy: what was entered in another copy and not brought here is not in it.",
                                                                   "Since entry %" PRId64 " (%s) the book is written by %u users, computers or "
                                                                   "copies: what was entered in another copy and not brought here is not in it.",
                                                                   d->origins),
                                                         d->origin_place, d->origin_day, d->origins)));
}

static void
say_frozen (PresentDossier *d)
{
  for (guint i = 0; i < d->frozen->len; i++)
    {
      const PresentDossierFrozen *frozen = d->frozen->pdata[i];

      if (frozen->problem != NULL)
        present_sheet_add_row (d->gates->remarks, NULL, 0, FALSE, PRESENT_CELLS (g_strdup (_("the decision")), g_strdup (frozen->problem)));
    }
}

/* Nobody shows by units that a duplicate is solved: whoever decides must know that one about safety was called so. */
static void
say_duplicates (PresentDossier *d)
{
  const GPtrArray *issues = d->issues->data->issues;

  for (guint i = 0; i < issues->len; i++)
    {
      const InsightIssue *issue = issues->pdata[i];

      if (issue->klass == BOOK_CLASS_SAFETY && issue->outcome == BOOK_OUTCOME_DUPLICATE)
        present_sheet_add_row (d->gates->remarks, "issue", issue->id, FALSE,
                               PRESENT_CELLS (g_strdup_printf (_("issue %d"), issue->no),
                                              g_strdup_printf (_("It is about safety and was closed as a duplicate on %s: no unit shows that it is "
                                                                 "solved. %s"),
                                                               issue->closed, issue->title)));
    }
}

static gboolean
compute_gates (Work *work)
{
  PresentDossier *d = work->dossier;
  g_autoptr(InsightStanding) standing = insight_standing (d->evidence, &work->span, work->cancellable, work->error);
  InsightIssues *issues;

  if (standing == NULL)
    return FALSE;
  d->standing = present_standing_new (standing, d->evidence->caution);
  issues = insight_issues (d->evidence, &work->span, work->cancellable, work->error);
  if (issues == NULL)
    return FALSE;
  d->issues = present_issues_new (issues);
  d->release = insight_release (d->evidence, d->standing->data, issues, work->cancellable, work->error);
  if (d->release == NULL)
    return FALSE;
  d->gates = present_release_new (d->release, d->standing, d->list, d->afterwards);
  say_duplicates (d);
  say_written_by (d);
  say_frozen (d);
  d->voids = present_voids_sheet ((BookReadingRow *const *) d->voided->pdata, d->voided->len);
  d->concessions = present_concessions_sheet (d->issues->data);
  for (guint i = 0; i < d->frozen->len; i++)
    {
      PresentDossierFrozen *frozen = d->frozen->pdata[i];

      if (frozen->then != NULL)
        frozen->beside = present_frozen_beside (frozen->then, d->standing);
    }
  return TRUE;
}

/* The newest decision that releases, whichever gate it is about: @at. NULL: there is none. */
static const BookGateDeed *
find_release (const PresentDossier *d, guint *at)
{
  const BookGateDeed *newest = NULL;

  for (guint i = 0; i < d->list->n_gates; i++)
    {
      const BookGateDeed *decision = book_gate_list_decision (d->list, i);

      if (decision == NULL || !present_decision_releases (decision) || (newest != NULL && strcmp (decision->date, newest->date) <= 0))
        continue;
      newest = decision;
      *at = i;
    }
  return newest;
}

gboolean
present_dossier_is_released (const PresentDossier *d)
{
  guint at;

  return find_release (d, &at) != NULL;
}

/* What was promised is told from what that decision froze. */
static void
compute_series (PresentDossier *d)
{
  guint at = 0;
  const BookGateDeed *newest = find_release (d, &at);

  if (newest == NULL)
    return;
  d->series = insight_first_series (d->evidence, d->pilot, d->rate_input, d->issues->data, newest->date);
  d->series_facts = (PresentFirstSeriesFacts){ d->series, d->pilot, d->rate, ((PresentDossierFrozen *) d->frozen->pdata[at])->then, newest->date };
  d->series_words = present_first_series_new (&d->series_facts);
}

static gboolean
compute_pilot (Work *work)
{
  PresentDossier *d = work->dossier;

  d->pilot = insight_pilot (d->evidence, &work->span, work->error);
  if (d->pilot == NULL)
    return FALSE;
  d->pilot_words = present_pilot_new (d->pilot);
  d->rate_input = insight_rate_input (d->evidence, d->pilot);
  d->rate = insight_rate (d->rate_input);
  if (!insight_rate_draw (d->rate, d->rate_input, RATE_DRAWS, NAN, NULL, NULL, work->cancellable)
      && g_cancellable_set_error_if_cancelled (work->cancellable, work->error))
    return FALSE;
  d->rate_words = present_rate_new (d->rate_input, d->rate);
  compute_series (d);
  d->leadtime = insight_leadtime (d->evidence, (const BookEvidence *const *) d->others->pdata, d->others->len, &work->span, work->error);
  if (d->leadtime == NULL)
    return FALSE;
  d->leadtime_words = present_leadtime_new (d->leadtime);
  return TRUE;
}

static gboolean
compute_studies (Work *work)
{
  PresentDossier *d = work->dossier;

  d->gauges = insight_gauges (d->evidence, &work->span, work->cancellable, work->error);
  if (d->gauges == NULL)
    return FALSE;
  d->gauges_words = present_gauges_new (d->gauges);
  for (guint c = 0; c < d->evidence->n_characteristics; c++)
    {
      PresentDossierLife life = { NULL, NULL };
      gboolean cycled = FALSE;

      for (guint i = 0; i < d->evidence->n_life_tests && !cycled; i++)
        cycled = d->evidence->life_tests[i].characteristic == (int) c;
      if (!cycled)
        continue;
      life.data = insight_life (d->evidence, d->evidence->characteristics[c].id, &work->span, work->cancellable, work->error);
      if (life.data == NULL)
        return FALSE;
      life.words = present_life_new (life.data, d->evidence->caution);
      g_array_append_val (d->lives, life);
    }
  return TRUE;
}

static gboolean
compute_forecast (Work *work)
{
  PresentDossier *d = work->dossier;

  d->forecast_input = insight_forecast_input (d->evidence, d->standing->data, d->issues->data, work->error);
  if (d->forecast_input == NULL)
    return FALSE;
  d->forecast = insight_forecast (d->forecast_input, &d->forecast_input->defaults, INSIGHT_FORECAST_DRAWS, work->cancellable);
  d->helps = d->forecast != NULL ? insight_forecast_helps (d->forecast_input, &d->forecast_input->defaults, work->cancellable) : NULL;
  if (d->helps != NULL)
    return TRUE;
  g_cancellable_set_error_if_cancelled (work->cancellable, work->error);
  return FALSE;
}

static gboolean
compute_another (Work *work)
{
  PresentDossier *d = work->dossier;

  if (d->forecast_input == NULL || d->evidence->n_rounds == 0) /* one more than none is the first, of which nothing is known */
    return TRUE;
  d->another = insight_another_round (d->evidence, d->standing->data, d->forecast_input, d->rate_input, d->rate, work->cancellable,
                                      work->error);
  if (d->another == NULL)
    return FALSE;
  d->another_words = present_another_round_new (d->another);
  return TRUE;
}

static gboolean
compute_past (Work *work)
{
  PresentDossier *d = work->dossier;
  const gboolean read = d->recorded != NULL && !d->recorded->too_long;
  const BookEvidence *const *recorded = read ? (const BookEvidence *const *) d->recorded->rounds->pdata : NULL;

  d->past = insight_forecast_past (d->evidence, d->standing->data, recorded, work->cancellable, work->error);
  return d->past != NULL;
}

static gboolean
compute_wall (Work *work)
{
  PresentDossier *d = work->dossier;

  d->wall = insight_wall (d->evidence, &work->span, work->cancellable, work->error);
  return d->wall != NULL;
}

static void
clear_life (gpointer data)
{
  PresentDossierLife *life = data;

  present_life_free (life->words);
  insight_life_free (life->data);
}

/**
 * present_dossier_compute:
 * @dossier: as it was read; once only
 * @parts: which
 * @progress: (nullable): told the share done
 * @data: handed to it
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: whether all of it is there; %G_IO_ERROR_CANCELLED
 */
gboolean
present_dossier_compute (PresentDossier *dossier, PresentDossierParts parts, PresentProgress progress, gpointer data,
                         GCancellable *cancellable, GError **error)
{
  static const struct
  {
    PresentDossierParts part; /* 0: always */
    gboolean (*compute) (Work *work);
    double share;             /* of the time, roughly, when all are asked for */
  } stages[] = {
    { 0, compute_gates, 0.3 },
    { PRESENT_DOSSIER_RUNS, compute_pilot, 0.1 },
    { PRESENT_DOSSIER_RUNS, compute_studies, 0.1 },
    { PRESENT_DOSSIER_FORECAST, compute_forecast, 0.15 },
    { PRESENT_DOSSIER_RUNS, compute_another, 0.05 },
    { PRESENT_DOSSIER_PAST, compute_past, 0.2 },
    { PRESENT_DOSSIER_WALL, compute_wall, 0.1 },
  };
  Work work = { dossier, { dossier->through, dossier->today }, cancellable, error };
  double done = 0.0;

  dossier->lives = g_array_new (FALSE, FALSE, sizeof (PresentDossierLife));
  g_array_set_clear_func (dossier->lives, clear_life);
  for (guint i = 0; i < G_N_ELEMENTS (stages); i++)
    {
      if (stages[i].part != 0 && (parts & stages[i].part) == 0)
        continue;
      if (progress != NULL)
        progress (done, data);
      if (g_cancellable_set_error_if_cancelled (cancellable, error) || !stages[i].compute (&work))
        return FALSE;
      done += stages[i].share;
    }
  if (dossier->forecast != NULL)
    dossier->forecast_words = present_forecast_new (dossier->forecast_input, &dossier->forecast_input->defaults, dossier->forecast,
                                                    dossier->helps, dossier->past);
  return TRUE;
}

void
present_dossier_free (PresentDossier *d)
{
  if (d == NULL)
    return;

  g_clear_pointer (&d->series_words, present_first_series_free);
  g_clear_pointer (&d->series, insight_first_series_free);
  g_clear_pointer (&d->another_words, present_another_round_free);
  g_clear_pointer (&d->another, insight_another_round_free);
  g_clear_pointer (&d->forecast_words, present_forecast_free);
  g_clear_pointer (&d->past, g_array_unref);
  g_clear_pointer (&d->helps, g_array_unref);
  g_clear_pointer (&d->forecast, insight_forecast_free);
  g_clear_pointer (&d->forecast_input, insight_forecast_input_free);
  g_clear_pointer (&d->lives, g_array_unref);
  g_clear_pointer (&d->frozen, g_ptr_array_unref);
  g_clear_pointer (&d->wall, insight_wall_free);
  g_clear_pointer (&d->gauges_words, present_gauges_free);
  g_clear_pointer (&d->gauges, insight_gauges_free);
  g_clear_pointer (&d->leadtime_words, present_leadtime_free);
  g_clear_pointer (&d->leadtime, insight_leadtime_free);
  g_clear_pointer (&d->rate_words, present_rate_free);
  g_clear_pointer (&d->rate, insight_rate_free);
  g_clear_pointer (&d->rate_input, insight_rate_input_free);
  g_clear_pointer (&d->pilot_words, present_pilot_free);
  g_clear_pointer (&d->pilot, insight_pilot_free);
  g_clear_pointer (&d->concessions, present_sheet_free);
  g_clear_pointer (&d->voids, present_sheet_free);
  g_clear_pointer (&d->gates, present_release_free);
  g_clear_pointer (&d->release, insight_release_free);
  g_clear_pointer (&d->issues, present_issues_free);
  g_clear_pointer (&d->standing, present_standing_free);
  g_clear_pointer (&d->voided, g_ptr_array_unref);
  g_clear_pointer (&d->afterwards, g_ptr_array_unref);
  g_clear_pointer (&d->list, book_gate_list_free);
  g_clear_pointer (&d->recorded, book_recorded_free);
  g_clear_pointer (&d->others, g_ptr_array_unref);
  g_clear_pointer (&d->evidence, book_evidence_free);
  g_free (d->origin_day);
  g_free (d->head);
  g_free (d->today);
  g_free (d);
}

static void
freeze_gate (PresentFreeze *freeze, const PresentDossier *d, guint gate)
{
  const PresentGate *words = d->gates->gates->pdata[gate];
  PresentSheet *stops = present_sheet_new ("");

  present_sheet_add_column (stops, "", FALSE, TRUE, 0);
  for (guint i = 0; i < words->stops->len; i++)
    present_sheet_add_row (stops, NULL, 0, TRUE, PRESENT_CELLS (g_strdup (words->stops->pdata[i])));
  present_freeze_add_sheet (freeze, "stops", stops);
  present_sheet_free (stops);
  present_freeze_add_sheet (freeze, "opinions", words->opinions);
  present_freeze_add_sheet (freeze, "earlier_decisions", words->decisions);
  present_freeze_add_sheet (freeze, "remarks", d->gates->remarks);
  present_freeze_add_sheet (freeze, "changed_afterwards", d->gates->afterwards);
  present_freeze_add_sheet (freeze, "entered_by_others", d->gates->signed_for);
  present_freeze_add_sheet (freeze, "waivers", d->gates->waivers);
  present_freeze_add_sheet (freeze, "voided", d->voids);
  present_freeze_add_sheet (freeze, "concessions", d->concessions);
}

/**
 * present_dossier_freeze:
 * @dossier: computed, all parts that shall be in it
 * @gate: index of the gate that is decided about
 * @book: UUID of the book
 *
 * The same records at the same head give the same bytes.
 *
 * Returns: (transfer full): what is known, as one document
 */
GBytes *
present_dossier_freeze (const PresentDossier *d, guint gate, const char *book)
{
  const PresentFreezeHead head = { book, d->place, d->head, d->version.model, d->version.shared, PACKAGE_VERSION,
                                   ((const InsightGate *) d->release->gates->pdata[gate])->name, d->evidence->model_id };
  PresentFreeze *freeze = present_freeze_new (&head, d->standing);

  freeze_gate (freeze, d, gate);
  present_freeze_add (freeze, "issues", present_json_issues (d->issues, NULL));
  if (d->pilot != NULL)
    present_freeze_add (freeze, "pilot", present_json_pilot (d->pilot_words, d->rate_input, d->rate, d->rate_words));
  if (d->leadtime != NULL)
    present_freeze_add (freeze, "leadtime", present_json_leadtime (d->leadtime_words));
  if (d->gauges != NULL)
    present_freeze_add (freeze, "gauges", present_json_gauges (d->gauges_words));
  for (guint i = 0; i < d->lives->len; i++)
    {
      const PresentDossierLife *life = &g_array_index (d->lives, PresentDossierLife, i);
      g_autofree char *name = g_strdup_printf ("life %s", life->data->code);

      present_freeze_add (freeze, name, present_json_life (life->words));
    }
  if (d->forecast != NULL)
    present_freeze_add (freeze, "forecast", present_json_forecast (d->forecast_words, d->forecast_input, &d->forecast_input->defaults,
                                                                   d->forecast, d->helps, d->past));
  if (d->series != NULL)
    present_freeze_add (freeze, "first_series", present_json_first_series (d->series_words, &d->series_facts));
  if (d->another != NULL)
    present_freeze_add (freeze, "another_round", present_json_another_round (d->another_words, d->another));
  return present_freeze_end (freeze);
}
