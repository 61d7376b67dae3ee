/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-looks-private.h"

/*
 * Method. Whoever tests until it passes, or fails, changes something and starts again, will pass in the end with a bad
 * design. So two things are counted from all records, by the days on which they happened, voided readings and excused
 * units included:
 *
 * - looks: rounds with new counted data. Units measured after their round's testing was declared finished are one more
 *   look: the round was looked at before.
 * - attempts: 1 and the starts again after which at least one counted failure no longer counts. A failure may fall away
 *   by a new state of design (one start for each look at which that happens), by voiding (one for each day of such
 *   readings, for the day of voiding is not in the records), by an excuse (one for each day of excuses), or because the
 *   limits now include it or replace those it was checked to (one for each new limit).
 *
 * In a split round the failures of the half that is not gone on with were counted too: choosing the other half after the
 * test is a start again. Units of an older state that are measured only later never counted and are not a failure here.
 */

typedef enum
{
  START_STATE,
  START_VOID,
  START_EXCUSE,
  START_LIMIT,
  START_GAUGE
} StartKind;

typedef struct
{
  StartKind kind;
  int       when; /* round, day or row of limits: distinguishes starts of one kind */
} Start;

/* failure[] */
#define NO_FAILURE      0
#define COUNTED_FAILURE 1
#define GONE_FAILURE    2

/**
 * insight_surcharged:
 * @confidence: wanted, in (0, 1)
 * @j: look or attempt, from 1
 *
 * What is wanted at the j-th look or attempt of a strict criterion: the error is divided by j(j+1), and the sum of
 * 1/(j(j+1)) over all j is 1 (union bound).
 *
 * Returns: the confidence wanted then
 */
double
insight_surcharged (double confidence, guint j)
{
  return 1.0 - (1.0 - confidence) / ((double) j * (j + 1.0));
}

void
insight_looks_init (InsightLooks *looks, const BookEvidence *evidence)
{
  looks->looks = 0;
  looks->attempts = 1;
  looks->earlier_failures = 0;
  looks->seen = g_new (int, evidence->n_units + 1);
  looks->failure = g_new0 (guint8, evidence->n_units + 1);
  looks->starts = g_array_new (FALSE, FALSE, sizeof (Start));
  looks->seen_looks = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < evidence->n_units; i++)
    looks->seen[i] = -1;
}

void
insight_looks_clear (InsightLooks *looks)
{
  g_free (looks->seen);
  g_free (looks->failure);
  g_array_unref (looks->starts);
  g_array_unref (looks->seen_looks);
}

static gboolean
is_of_state (InsightUnits *units, guint unit)
{
  InsightMatch match = insight_units_match (units, unit);

  return match == INSIGHT_MATCH_SAME || match == INSIGHT_MATCH_CARRIED;
}

static void
note_look (InsightLooks *looks, const InsightUnits *units, const InsightUnit *unit)
{
  const BookEvidenceRound *round = &units->look->basis->e->rounds[units->look->through];
  gboolean late = round->tested != 0 && unit->day > round->tested;
  gint64 look = (gint64) units->look->through * 2 + late;

  looks->seen[unit->unit] = units->look->through;
  for (guint i = 0; i < looks->seen_looks->len; i++)
    if (g_array_index (looks->seen_looks, gint64, i) == look)
      return;
  g_array_append_val (looks->seen_looks, look);
  looks->looks++;
}

static void
note_start (InsightLooks *looks, StartKind kind, int when)
{
  Start start = { kind, when };

  looks->earlier_failures++;
  for (guint i = 0; i < looks->starts->len; i++)
    {
      const Start *other = &g_array_index (looks->starts, Start, i);

      if (other->kind == kind && other->when == when)
        return;
    }
  g_array_append_val (looks->starts, start);
  looks->attempts++;
}

static BookDay
day_of_excuse (const InsightUnits *units, guint unit)
{
  const InsightBasis *basis = units->look->basis;
  int finding = basis->excused[unit];
  BookDay aside = basis->aside[unit] != 0 && basis->aside[unit] <= units->look->end ? basis->aside[unit] : 0;
  BookDay excused = finding >= 0 ? basis->e->findings[finding].day : 0;

  return aside != 0 && (excused == 0 || aside < excused) ? aside : excused;
}

/* Why a counted failure does not count at this look. */
static void
note_gone (InsightLooks *looks, InsightUnits *units, const InsightUnit *unit)
{
  const InsightLook *look = units->look;

  switch (unit->counting)
    {
    case INSIGHT_NOT_STATE:
    case INSIGHT_NOT_LATER_STATE:
      note_start (looks, START_STATE, look->through);
      break;
    case INSIGHT_NOT_EXCUSED:
      note_start (looks, START_EXCUSE, day_of_excuse (units, unit->unit));
      break;
    case INSIGHT_NOT_VOIDED:
      note_start (looks, START_VOID, unit->void_day);
      break;
    case INSIGHT_NOT_OLDER_LIMIT:
      note_start (looks, START_LIMIT, units->limit);
      break;
    case INSIGHT_NOT_GAUGE:
    case INSIGHT_NOT_ALTERED:
    case INSIGHT_NOT_LATER_ATTEMPT:
    case INSIGHT_NOT_OTHER_STEP:
    case INSIGHT_NOT_KIND:
    case INSIGHT_NOT_SPAN:
    case INSIGHT_N_COUNTINGS:
      note_start (looks, START_GAUGE, look->through);
      break;
    case INSIGHT_COUNTS: /* it counts, as one that does not fail */
      if (unit->void_failing)
        note_start (looks, START_VOID, unit->void_day);
      else
        note_start (looks, START_LIMIT, units->limit);
      break;
    }
}

/**
 * insight_looks_add:
 * @looks: fed with the earlier rounds
 * @units: gathered at the next round's end
 *
 * Counts what is new at this look, and what counted before and does no longer.
 */
void
insight_looks_add (InsightLooks *looks, InsightUnits *units)
{
  const InsightLook *look = units->look;
  const BookEvidence *e = look->basis->e;

  for (guint i = 0; i < units->n; i++)
    {
      const InsightUnit *unit = &units->units[i];
      gboolean fails = (unit->has_data && (insight_is_failing (unit->verdict) || unit->failed_then)) || unit->void_failing;
      gboolean counts_now;

      if (!unit->is_kind || (!fails && looks->seen[unit->unit] >= 0 && looks->failure[unit->unit] != COUNTED_FAILURE))
        continue; /* most units, at most looks: nothing is new */

      counts_now = is_of_state (units, unit->unit) || e->units[unit->unit].round == look->newest;
      if (looks->seen[unit->unit] < 0 && counts_now)
        note_look (looks, units, unit);

      /* What the gauge or an alteration took out was never counted, excused or not. */
      if (looks->failure[unit->unit] == NO_FAILURE && fails && counts_now && unit->own != INSIGHT_NOT_GAUGE
          && unit->own != INSIGHT_NOT_ALTERED)
        looks->failure[unit->unit] = COUNTED_FAILURE;

      if (looks->failure[unit->unit] == COUNTED_FAILURE
          && (unit->counting != INSIGHT_COUNTS || !insight_is_failing (unit->verdict)))
        {
          looks->failure[unit->unit] = GONE_FAILURE;
          note_gone (looks, units, unit);
        }
    }
}
