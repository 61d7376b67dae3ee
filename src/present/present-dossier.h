/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Everything that a decision about a model rests on, read and computed once: for the page, for the pack, and for what is
 * frozen with the decision, so that the three cannot differ.
 */

#include "book-answers.h"
#include "book-recorded.h"
#include "insight-gauges.h"
#include "insight-life.h"
#include "insight-wall.h"
#include "present-another-round.h"
#include "present-first-series.h"
#include "present-exceptions.h"
#include "present-forecast.h"
#include "present-freeze.h"
#include "present-gauge.h"
#include "present-issue.h"
#include "present-leadtime.h"
#include "present-life.h"
#include "present-pilot.h"
#include "present-release.h"

G_BEGIN_DECLS

/**
 * PresentDossierParts:
 * @PRESENT_DOSSIER_GATES: standing, issues, gates and what was said about them, what was changed afterwards
 * @PRESENT_DOSSIER_RUNS: pilot, rate, lead time, life tests, gauges
 * @PRESENT_DOSSIER_FORECAST: when it is ready, what would help, and with the runs what one more round takes and could prove
 * @PRESENT_DOSSIER_PAST: what earlier rounds would have said of that
 */
typedef enum
{
  PRESENT_DOSSIER_GATES = 0,
  PRESENT_DOSSIER_RUNS = 1 << 0,
  PRESENT_DOSSIER_FORECAST = 1 << 1,
  PRESENT_DOSSIER_PAST = 1 << 2,
  PRESENT_DOSSIER_WALL = 1 << 3,
  PRESENT_DOSSIER_ALL = PRESENT_DOSSIER_RUNS | PRESENT_DOSSIER_FORECAST | PRESENT_DOSSIER_PAST
} PresentDossierParts;

/* One characteristic that was cycled. */
typedef struct
{
  InsightLife *data;
  PresentLife *words;
} PresentDossierLife;

/* What the decision that stands about a gate froze. */
typedef struct
{
  GBytes        *document; /* NULL: there is none */
  char          *problem;  /* (nullable): why it cannot be read: altered, missing, of a newer program */
  PresentFrozen *then;     /* NULL with a problem */
  PresentSheet  *beside;   /* known then, known now */
} PresentDossierFrozen;

/**
 * PresentDossier:
 * @version: of the model, when it was read
 * @place: entries of the journal then
 * @head: place hash of the last one
 * @origins: users, computers and copies that wrote the book
 * @origin_place: the first entry of another one than the first; 0: there is none
 * @origin_day: on which it was made; ""
 * @lives: (element-type PresentDossierLife): by characteristic
 *
 * What belongs to parts that were not asked for is %NULL.
 */
typedef struct
{
  char                 *today;
  gint64                through;
  BookVersion           version;
  gint64                place;
  char                 *head;
  guint                 origins;
  gint64                origin_place;
  char                 *origin_day;
  BookEvidence         *evidence;
  GPtrArray            *others;
  BookGateList         *list;
  GPtrArray            *afterwards;
  GPtrArray            *voided;     /* (element-type BookReadingRow) */
  BookRecorded         *recorded;   /* by present_dossier_load_past() */

  PresentStanding      *standing;
  PresentIssues        *issues;
  InsightRelease       *release;
  PresentRelease       *gates;
  PresentSheet         *voids;
  PresentSheet         *concessions;
  InsightPilot         *pilot;
  PresentPilot         *pilot_words;
  InsightRateInput     *rate_input;
  InsightRate          *rate;
  PresentRate          *rate_words;
  InsightLeadtime      *leadtime;
  PresentLeadtime      *leadtime_words;
  InsightGauges        *gauges;
  PresentGauges        *gauges_words;
  GArray               *lives;
  InsightWall          *wall;
  GPtrArray            *frozen; /* by gate: PresentDossierFrozen */
  InsightForecastInput *forecast_input;
  InsightForecast      *forecast;
  GArray               *helps;
  GArray               *past;
  PresentForecast      *forecast_words;
  InsightFirstSeries   *series;       /* since the newest decision that releases; NULL: there is none */
  PresentFirstSeriesFacts series_facts;
  PresentFirstSeries   *series_words;
  InsightAnotherRound  *another;
  PresentAnotherRound  *another_words;
} PresentDossier;

/* Told the share done, in the thread that works, never going back. */
typedef void (*PresentProgress) (double   share,
                                 gpointer data);

PresentDossier *present_dossier_load    (StoreDb             *db,
                                         BookEvidence        *evidence,
                                         const InsightSpan   *span,
                                         GCancellable        *cancellable,
                                         GError             **error) G_GNUC_WARN_UNUSED_RESULT;
/* Whether a decision that releases stands, so that the runs have a first series to tell of. */
gboolean        present_dossier_is_released (const PresentDossier *dossier);
gboolean        present_dossier_load_past (PresentDossier     *dossier,
                                         StoreDb             *db,
                                         PresentProgress      progress,
                                         gpointer             data,
                                         GCancellable        *cancellable,
                                         GError             **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean        present_dossier_compute (PresentDossier      *dossier,
                                         PresentDossierParts  parts,
                                         PresentProgress      progress,
                                         gpointer             data,
                                         GCancellable        *cancellable,
                                         GError             **error) G_GNUC_WARN_UNUSED_RESULT;
void            present_dossier_free    (PresentDossier      *dossier);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentDossier, present_dossier_free)

GBytes         *present_dossier_freeze  (const PresentDossier *dossier,
                                         guint                 gate,
                                         const char           *book) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
