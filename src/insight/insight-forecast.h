/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * When will the criteria that block be met, if work goes on as it does? Rounds are played by the rules of the standing
 * (num-forecast.h). Every figure stands under assumptions, each of which can be set otherwise; what cannot be played is left
 * out by name, so that the dates are those of the rest.
 */

#include "book-day.h"
#include "insight-issue.h"
#include "insight-leadtime.h"
#include "num-forecast.h"

G_BEGIN_DECLS

#define INSIGHT_FORECAST_DRAWS  10000
#define INSIGHT_FORECAST_BRIEF  2000 /* where two answers are set against each other, by the same draws */
#define INSIGHT_FORECAST_95     6    /* finished rounds from which a date at 95 % is told */
#define INSIGHT_FORECAST_WAIT   5.0  /* working days within which an outside firm could deliver, as a what-if */
#define INSIGHT_FORECAST_UNITS  10   /* further units a round, as a what-if */
#define INSIGHT_FORECAST_POINTS 60   /* of the curve */

/**
 * InsightForecastLeft:
 * @INSIGHT_FORECAST_LEFT_RUN: a yield, a rate, a life, a method, or a list of things to be done
 * @INSIGHT_FORECAST_LEFT_NO_VALUES: a value of which fewer than two were measured in the present state of design
 * @INSIGHT_FORECAST_LEFT_NO_LIMITS: nothing to be held against, or limits that no spread fits
 */
typedef enum
{
  INSIGHT_FORECAST_LEFT_RUN,
  INSIGHT_FORECAST_LEFT_NO_VALUES,
  INSIGHT_FORECAST_LEFT_NO_LIMITS,
  INSIGHT_N_FORECAST_LEFTS
} InsightForecastLeft;

/* A criterion that blocks: played, or left out. */
typedef struct
{
  gint64              id;
  char               *code;
  gboolean            is_in;
  InsightForecastLeft left;  /* where it is not in */
  NumForecastCriterion play; /* where it is in */
} InsightForecastCriterion;

/* A finished round that lengths are estimated from. */
typedef struct
{
  gint64  id;
  char   *label;
  double  days;
} InsightForecastLength;

/* Those whom was waited for in finished rounds. */
typedef struct
{
  gint64         supplier; /* key; 0: a reason */
  char          *name;     /* of the supplier, "" of a reason */
  BookWaitReason reason;
  guint          n;
  double         days;     /* in all */
} InsightForecastWaits;

/**
 * InsightForecastSettings:
 * @more_units: further units of each criterion in each round
 * @waits: index of those whose waits are cut; -1: none
 * @wait_most: working days that each of their waits takes at most
 * @shortest: working days of a round, used while fewer than %NUM_FORECAST_LENGTHS are finished
 * @longest: likewise
 * @worked: fixes that held
 * @failed: fixes that did not
 * @residual: share that still fails after a fix that works
 */
typedef struct
{
  guint  more_units;
  int    waits;
  double wait_most;
  double shortest;
  double longest;
  guint  worked;
  guint  failed;
  double residual;
} InsightForecastSettings;

/* What is set as a figure; whose waits are cut is a choice. */
typedef enum
{
  INSIGHT_FORECAST_MORE_UNITS,
  INSIGHT_FORECAST_WAIT_MOST,
  INSIGHT_FORECAST_SHORTEST,
  INSIGHT_FORECAST_LONGEST,
  INSIGHT_FORECAST_WORKED,
  INSIGHT_FORECAST_FAILED,
  INSIGHT_FORECAST_RESIDUAL,
  INSIGHT_FORECAST_N_FIELDS
} InsightForecastField;

/* Its name ('more_units'), for scripts and tests; the field of a name, or %INSIGHT_FORECAST_N_FIELDS. */
const char           *insight_forecast_field_name (InsightForecastField           field);
InsightForecastField  insight_forecast_field_find (const char                    *name);
double                insight_forecast_get        (const InsightForecastSettings *settings,
                                                   InsightForecastField           field);
/* %FALSE and unchanged where it cannot be that value. */
gboolean              insight_forecast_set        (InsightForecastSettings       *settings,
                                                   InsightForecastField           field,
                                                   double                         value);

/**
 * InsightForecastInput:
 * @today: ISO 8601 date
 * @begin: from when rounds count: the day on which the present round was opened, while it is not tested, else @today
 * @begin_round: label of that round, "" without one
 * @n_asked: criteria, whether they block or not
 * @criteria: those that block
 * @n_in: of these played
 * @lengths: finished rounds, in order
 * @waits: most days first
 * @defaults: as the records say
 * @past_held: what records say of fixes: held, and not
 */
typedef struct _InsightForecastInput InsightForecastInput;

struct _InsightForecastInput
{
  gint64                    model;
  char                     *today;
  char                     *begin;
  char                     *begin_round;
  guint                     n_asked;
  InsightForecastCriterion *criteria;
  guint                     n_criteria;
  guint                     n_in;
  InsightForecastLength    *lengths;
  guint                     n_lengths;
  InsightForecastWaits     *waits;
  guint                     n_waits;
  InsightForecastSettings   defaults;

  /*< private >*/
  InsightWait *waited; /* each in its round */
  guint        n_waited;
  guint       *length_rounds; /* index of the round of each length */
  BookDay     *calendar;      /* working days after @begin */
  guint        n_calendar;
};

/* @days: working days from the beginning; INFINITY, and "" as a date, where fewer runs than @share were ready. */
typedef struct
{
  double share;
  double days;
  char  *date;
} InsightForecastDate;

/**
 * InsightForecast:
 * @status: %NUM_OK; %NUM_TOO_FEW when nothing is in; %NUM_NO_SOLUTION when a criterion can never be met
 * @draws: futures played
 * @dates: at 0.50, 0.80 and, from %INSIGHT_FORECAST_95 finished rounds on, 0.95
 * @range: at 0.10 and 0.90: all that may be said below %NUM_FORECAST_LENGTHS finished rounds
 * @rounds: further rounds at the middle
 * @never: share of futures that were not ready in %NUM_FORECAST_ROUNDS rounds
 * @points: the share that is ready by a day, in rising order
 */
typedef struct
{
  NumStatus            status;
  guint                draws;
  InsightForecastDate  dates[3];
  guint                n_dates;
  InsightForecastDate  range[2];
  guint                rounds;
  double               never;
  InsightForecastDate *points;
  guint                n_points;
} InsightForecast;

InsightForecastInput *insight_forecast_input      (const BookEvidence            *evidence,
                                                   const InsightStanding         *standing,
                                                   const InsightIssues           *issues,
                                                   GError                       **error) G_GNUC_WARN_UNUSED_RESULT;
void                  insight_forecast_input_free (InsightForecastInput          *input);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightForecastInput, insight_forecast_input_free)

InsightForecast      *insight_forecast            (const InsightForecastInput    *input,
                                                   const InsightForecastSettings *settings,
                                                   guint                          draws,
                                                   GCancellable                  *cancellable) G_GNUC_WARN_UNUSED_RESULT;
void                  insight_forecast_free       (InsightForecast               *forecast);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightForecast, insight_forecast_free)

/**
 * InsightForecastHelp:
 * @more_units: 0: not this
 * @waits: index; -1: not this
 * @criterion: index of one that would be met at once; -1: not this
 * @gain: working days earlier at the middle
 * @date: at the middle
 *
 * What one assumption set otherwise would gain.
 */
typedef struct
{
  guint  more_units;
  int    waits;
  int    criterion;
  double gain;
  char  *date;
} InsightForecastHelp;

/* (element-type InsightForecastHelp): most first; what gains less than a working day is left out. NULL: cancelled. */
GArray               *insight_forecast_helps      (const InsightForecastInput    *input,
                                                   const InsightForecastSettings *settings,
                                                   GCancellable                  *cancellable) G_GNUC_WARN_UNUSED_RESULT;

/**
 * InsightForecastPast:
 * @round: label of a finished round
 * @decided: the day on which it was decided
 * @lengths: finished rounds by then
 * @status: of what would have been said
 * @dates: at 0.50 and 0.80; "" where fewer futures were ready
 * @recorded: it was told from what was recorded by the end of that day; else from what had happened by then
 * @unread: the journal was not gone through, so that nobody knows here what was recorded by then
 * @late: rows that happened by then, but were entered later, so that nobody could know them
 * @met: the day on which what was asked then was met at last; "" while not
 *
 * What would have been said on the day a round was decided.
 */
typedef struct
{
  char     *round;
  char     *decided;
  guint     lengths;
  NumStatus status;
  char     *dates[2];
  gboolean  recorded;
  gboolean  unread;
  gboolean  late;
  char     *met;
} InsightForecastPast;

/* (element-type InsightForecastPast): finished rounds in order. */
GArray               *insight_forecast_past       (const BookEvidence            *evidence,
                                                   const InsightStanding         *now,
                                                   const BookEvidence *const     *recorded,
                                                   GCancellable                  *cancellable,
                                                   GError                       **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
