/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-plan-private.h"

#include <string.h>

/*
 * Method. A unit that is not built yet is known by its place in the order of serials: 'P4-07' is the seventh. A row of the
 * plan holds from its first serial on until the next row of the same part or step begins; where no row names a serial the
 * rows take their units one after the other. Of a split round the units of the state looked for are those of all rows with
 * its revision, and of several split parts those that get it of each.
 */

/* The number at the end of a serial; 0: none. */
static guint64
number_of (const char *serial)
{
  gsize length = strlen (serial);
  gsize from = length;

  while (from > 0 && g_ascii_isdigit (serial[from - 1]) && length - from < 9)
    from--;
  return from < length ? g_ascii_strtoull (serial + from, NULL, 10) : 0;
}

/* Serials that hold the round's label are numbered from 1; others run on from the least number there is. */
guint
insight_plan_place (const BookEvidence *e, int round, const char *serial)
{
  const char *label = e->rounds[round].label;
  guint64 number = number_of (serial);
  guint64 least = number;

  if (number == 0)
    return 0;
  if (label[0] != '\0' && strstr (serial, label) != NULL)
    return (guint) number - 1;
  for (guint i = 0; i < e->n_tests; i++)
    if (e->tests[i].round == round && number_of (e->tests[i].serial) > 0)
      least = MIN (least, number_of (e->tests[i].serial));
  for (guint i = 0; i < e->n_units; i++)
    if (e->units[i].round == round && e->units[i].part < 0 && number_of (e->units[i].serial) > 0)
      least = MIN (least, number_of (e->units[i].serial));
  return (guint) (number - least);
}

/**
 * insight_plan_places:
 * @e: the records
 * @row: one of its rows of plans
 *
 * Returns: the places of the units that get what @row says
 */
InsightPlanPlaces
insight_plan_places (const BookEvidence *e, const BookEvidencePlan *row)
{
  InsightPlanPlaces places = { 0, G_MAXUINT };
  guint before = 0;
  gboolean unnamed = row->first_serial[0] == '\0'; /* among named ones it is before all of them */
  gboolean named = FALSE;

  for (guint i = 0; i < e->n_plans; i++)
    named |= e->plans[i].round == row->round && e->plans[i].part == row->part && e->plans[i].step == row->step
             && e->plans[i].first_serial[0] != '\0';
  if (!unnamed)
    places.from = insight_plan_place (e, row->round, row->first_serial);
  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *other = &e->plans[i];
      guint place;

      if (other->round != row->round || other->part != row->part || other->step != row->step || other == row)
        continue;
      if (!named && other < row)
        before += (guint) MAX (other->units, 0);
      if (!named || other->first_serial[0] == '\0')
        continue;
      place = insight_plan_place (e, row->round, other->first_serial);
      if (unnamed || place > places.from)
        places.to = MIN (places.to, place);
    }
  if (named)
    return places;
  places.from = before;
  if (row->units > 0)
    places.to = before + (guint) row->units;
  return places;
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  const InsightPlanPlaces *one = a, *other = b;

  return (one->from > other->from) - (one->from < other->from);
}

/* In order, and what touches or overlaps as one. */
static void
join (GArray *places)
{
  guint kept = 0;

  g_array_sort (places, compare_places);
  for (guint i = 0; i < places->len; i++)
    {
      InsightPlanPlaces next = g_array_index (places, InsightPlanPlaces, i);
      InsightPlanPlaces *last = kept > 0 ? &g_array_index (places, InsightPlanPlaces, kept - 1) : NULL;

      if (next.from >= next.to)
        continue;
      if (last != NULL && next.from <= last->to)
        last->to = MAX (last->to, next.to);
      else
        g_array_index (places, InsightPlanPlaces, kept++) = next;
    }
  g_array_set_size (places, kept);
}

/* What is in both; takes both. */
static GArray *
meet (GArray *a, GArray *b)
{
  GArray *both = g_array_new (FALSE, FALSE, sizeof (InsightPlanPlaces));

  for (guint i = 0; i < a->len; i++)
    for (guint k = 0; k < b->len; k++)
      {
        const InsightPlanPlaces *one = &g_array_index (a, InsightPlanPlaces, i), *other = &g_array_index (b, InsightPlanPlaces, k);
        InsightPlanPlaces common = { MAX (one->from, other->from), MIN (one->to, other->to) };

        if (common.from < common.to)
          g_array_append_val (both, common);
      }
  g_array_unref (a);
  g_array_unref (b);
  return both;
}

/* The places that get @revision of @part. */
static GArray *
places_of_revision (const BookEvidence *e, int round, int part, int revision)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (InsightPlanPlaces));

  for (guint i = 0; i < e->n_plans; i++)
    {
      InsightPlanPlaces own;

      if (e->plans[i].round != round || e->plans[i].part != part || e->plans[i].revision != revision)
        continue;
      own = insight_plan_places (e, &e->plans[i]);
      g_array_append_val (places, own);
    }
  join (places);
  return places;
}

/**
 * insight_plan_range:
 * @look: the look at the planned round
 * @round: the planned round
 * @characteristic: of a criterion; -1: none
 *
 * Which units are of the state looked for: all, or of a split round those that get it of every split part that the
 * characteristic depends on.
 *
 * Returns: (transfer full) (element-type InsightPlanPlaces): in order, none touches another
 */
GArray *
insight_plan_range (const InsightLook *look, int round, int characteristic)
{
  const InsightBasis *basis = look->basis;
  const InsightPlanPlaces all = { 0, G_MAXUINT };
  guint first = characteristic >= 0 ? basis->depend[characteristic] : 0;
  guint end = characteristic >= 0 ? basis->depend[characteristic + 1] : 0;
  GArray *places = g_array_new (FALSE, FALSE, sizeof (InsightPlanPlaces));

  g_array_append_val (places, all);
  for (guint p = 0; p < basis->e->n_parts; p++)
    {
      gboolean depends = first == end; /* without a word of it: on everything */

      for (guint i = first; i < end; i++)
        depends |= g_array_index (basis->dependences, InsightDependence, i).part == (int) p;
      if (depends && look->split[p] != INSIGHT_SPLIT_NO)
        places = meet (places, places_of_revision (basis->e, round, (int) p, look->revision[p]));
    }
  return places;
}
