/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-gauges.h"

#include "insight-criterion-private.h"
#include "insight-limits-private.h"
#include "insight-span-private.h"
#include "num-proportion.h"

#include <math.h>

#define DRAWS       10000/* of the bound, each time it is tried */
#define HALVINGS    16   /* until the bound is told to some ten thousandths of itself */
#define DOUBLINGS   40
#define SHARE_LEAST 1e-6 /* of the tolerance: what is less is not told apart */
#define KEY_BOUND   0x67617567u

static const BookEvidenceCalibration *
last_calibration (const BookEvidence *e, int gauge, BookDay today)
{
  const BookEvidenceCalibration *last = NULL;

  for (guint i = 0; i < e->n_calibrations; i++)
    if (e->calibrations[i].gauge == gauge && e->calibrations[i].day <= today)
      last = &e->calibrations[i]; /* by day */
  return last;
}

static InsightGaugeCare
care_of (const BookEvidenceCalibration *last, BookDay today)
{
  if (last == NULL)
    return INSIGHT_CARE_UNKNOWN;
  if (!last->in_order)
    return INSIGHT_CARE_OUT;
  return last->due != 0 && last->due < today ? INSIGHT_CARE_OVERDUE : INSIGHT_CARE_IN_ORDER;
}

/* By gauge, the readings of the model, those that do not count, and those that count because they were excused. */
static void
count_readings (InsightGauges *gauges, const BookEvidence *e, BookDay today)
{
  g_autofree BookDay *since = g_new0 (BookDay, e->n_gauges + 1);
  InsightGaugeMemo memo = { .gauge = -1, .calibration = -1 };

  for (guint c = 0; c < e->n_characteristics; c++)
    for (guint i = e->characteristics[c].first_reading; i < e->characteristics[c].end_reading; i++)
      {
        const BookEvidenceReading *reading = &e->readings[i];
        int gauge = reading->gauge >= 0 ? reading->gauge : e->characteristics[c].gauge;

        if (gauge < 0 || reading->voided || reading->day > today)
          continue;
        gauges->gauges[gauge].readings++;
        switch (insight_gauge_state (e, gauge, reading->day, today, &memo))
          {
          case INSIGHT_GAUGE_IN_ORDER:
            break;
          case INSIGHT_GAUGE_EXCUSED:
            gauges->gauges[gauge].excused++;
            break;
          case INSIGHT_GAUGE_OUT:
            gauges->gauges[gauge].not_counting++;
            if (since[gauge] == 0 || reading->day < since[gauge])
              since[gauge] = reading->day;
            break;
          }
      }
  for (guint i = 0; i < e->n_gauges; i++)
    gauges->gauges[i].since = since[i] != 0 ? book_day_format (since[i]) : g_strdup ("");
}

/* Whether 6 grr lies below @share of the tolerance at the confidence; FALSE too when that cannot be told. */
static gboolean
lies_below (const InsightStudy *study, double share, gint64 model)
{
  NumGaugeStudy numbers = insight_study_numbers (study);
  double confidence, error;

  return num_gauge_confidence (&numbers, study->tolerance, share, (guint64) model, KEY_BOUND, DRAWS, &confidence, &error) == NUM_OK
         && confidence >= INSIGHT_GAUGES_CONFIDENCE;
}

/*
 * The share of the tolerance below which 6 grr lies at the confidence: draws of one key make it rise with the share. With
 * two persons on two pieces a component that came out as 0 may be many times what was found, so no multiple is enough.
 */
static double
upper_bound (const InsightStudy *study, gint64 model)
{
  double low = 0.0, high = MAX (study->tolerance_share, SHARE_LEAST);

  if (!study->computed || isnan (study->tolerance))
    return NAN;
  for (guint i = 0; i < DOUBLINGS && !lies_below (study, high, model); i++)
    {
      low = high;
      high *= 2.0;
    }
  if (!lies_below (study, high, model))
    return NAN;
  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = 0.5 * (low + high);

      if (lies_below (study, middle, model))
        high = middle;
      else
        low = middle;
    }
  return high;
}

/* The least target in force that a criterion about the way of measuring has; @criterion: its code, "" without one. */
static double
target_of (const BookEvidence *e, int characteristic, BookDay today, const char **criterion)
{
  double most = NUM_GAUGE_SHARE_MOST;

  *criterion = "";
  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].kind == BOOK_CRITERION_METHOD && e->criteria[i].characteristic == characteristic)
      {
        double target = insight_terms_on (e, i, today).target;

        if (isnan (target) || (**criterion != '\0' && target >= most))
          continue;
        most = target;
        *criterion = e->criteria[i].code;
      }
  return most;
}

static gboolean
add_studies (InsightGauges *gauges, const BookEvidence *e, BookDay today, GCancellable *cancellable, GError **error)
{
  gauges->studies = insight_studies (e, -1, today);
  gauges->lines = g_new0 (InsightStudyLine, gauges->studies->len + 1);
  for (guint i = 0; i < gauges->studies->len; i++)
    {
      const InsightStudy *study = gauges->studies->pdata[i];
      const BookEvidenceCharacteristic *one = &e->characteristics[study->characteristic];
      const char *criterion;
      double most = target_of (e, study->characteristic, today, &criterion);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      gauges->lines[gauges->n_lines++] = (InsightStudyLine){ study, one->id, g_strdup (one->code), g_strdup (one->name),
                                                             g_strdup (one->unit), one->decimals,
                                                             g_strdup (study->gauge >= 0 ? e->gauges[study->gauge].name : ""),
                                                             upper_bound (study, e->model_id), most, g_strdup (criterion) };
    }
  return TRUE;
}

static void
add_checks (InsightGauges *gauges, const BookEvidence *e, BookDay today)
{
  gauges->checks = g_new0 (InsightCheckLine, e->n_bad_trials + 1);
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      g_autoptr(GArray) inspectors = insight_bad_pieces (e, (int) c, today);

      for (guint i = 0; i < inspectors->len; i++)
        {
          const InsightBadPieces *one = &g_array_index (inspectors, InsightBadPieces, i);
          double low = NAN;

          if (num_proportion_lower (one->caught, one->tried, INSIGHT_GAUGES_CONFIDENCE, &low) != NUM_OK)
            low = NAN;
          gauges->checks[gauges->n_checks++]
              = (InsightCheckLine){ e->characteristics[c].id, g_strdup (e->characteristics[c].code),
                                    g_strdup (e->characteristics[c].name), (char) ('A' + MIN (i, 25)), one->caught, one->tried, low };
        }
    }
}

/**
 * insight_gauges:
 * @evidence: the records of a model, with readings
 * @span: as of which day; its round is not looked at
 * @cancellable: (nullable): asked once a study
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the shop's gauges and the model's studies; %INSIGHT_ERROR_DATE,
 *   %INSIGHT_ERROR_ROUND, %G_IO_ERROR_CANCELLED
 */
InsightGauges *
insight_gauges (const BookEvidence *evidence, const InsightSpan *span, GCancellable *cancellable, GError **error)
{
  g_autoptr(InsightGauges) gauges = NULL;
  int through;
  BookDay today;

  if (!insight_span_resolve (evidence, span, &through, &today, error))
    return NULL;

  gauges = g_new0 (InsightGauges, 1);
  gauges->model = evidence->model_id;
  gauges->model_code = g_strdup (evidence->code);
  gauges->today = book_day_format (today);
  gauges->n_gauges = evidence->n_gauges;
  gauges->gauges = g_new0 (InsightGaugeLine, evidence->n_gauges + 1);
  for (guint i = 0; i < evidence->n_gauges; i++)
    {
      const BookEvidenceCalibration *last = last_calibration (evidence, (int) i, today);

      gauges->gauges[i] = (InsightGaugeLine){ evidence->gauges[i].id, g_strdup (evidence->gauges[i].name),
                                              evidence->gauges[i].resolution, care_of (last, today),
                                              last != NULL ? book_day_format (last->day) : g_strdup (""),
                                              last != NULL && last->due != 0 ? book_day_format (last->due) : g_strdup (""), 0, 0, NULL, 0 };
    }
  count_readings (gauges, evidence, today);
  add_checks (gauges, evidence, today);
  return add_studies (gauges, evidence, today, cancellable, error) ? g_steal_pointer (&gauges) : NULL;
}

void
insight_gauges_free (InsightGauges *gauges)
{
  if (gauges == NULL)
    return;

  for (guint i = 0; i < gauges->n_gauges; i++)
    {
      g_free (gauges->gauges[i].name);
      g_free (gauges->gauges[i].calibrated);
      g_free (gauges->gauges[i].due);
      g_free (gauges->gauges[i].since);
    }
  for (guint i = 0; i < gauges->n_lines; i++)
    {
      g_free (gauges->lines[i].code);
      g_free (gauges->lines[i].name);
      g_free (gauges->lines[i].unit);
      g_free (gauges->lines[i].gauge);
      g_free (gauges->lines[i].criterion);
    }
  for (guint i = 0; i < gauges->n_checks; i++)
    {
      g_free (gauges->checks[i].code);
      g_free (gauges->checks[i].name);
    }
  g_free (gauges->gauges);
  g_free (gauges->lines);
  g_free (gauges->checks);
  g_clear_pointer (&gauges->studies, g_ptr_array_unref);
  g_free (gauges->model_code);
  g_free (gauges->today);
  g_free (gauges);
}
