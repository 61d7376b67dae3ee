/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-basis-private.h"

#include <math.h>
#include <string.h>

/*
 * As built: what went into a unit is what its own rows say, else what the plan of its round says, else what the round
 * before had, for a plan lists what changes. The setting of a step is the one in force when the unit passed the step,
 * else when its round was built.
 */

#define AMBIGUOUS (-2)
#define UNSAID    (-2) /* one of several revisions, and nobody says which: equals no state */

/* The row of a plan that speaks for one part or step in a round; AMBIGUOUS when several do. */
static int
plan_row_of_round (const BookEvidence *e, int round, int part, int step)
{
  int found = -1;

  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];

      if (row->round != round || row->part != part || row->step != step)
        continue;
      if (found != -1)
        return AMBIGUOUS;
      found = (int) i;
    }
  return found;
}

/* Of several rows the one whose first serial is the last one not after @serial; -1 when they do not say. */
static int
plan_row_of_serial (const BookEvidence *e, int round, int part, int step, const char *serial)
{
  int found = -1;
  guint unnamed = 0;

  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];

      if (row->round != round || row->part != part || row->step != step)
        continue;
      if (row->first_serial[0] == '\0' && unnamed++ > 0)
        return -1;
      if (row->first_serial[0] != '\0' && book_serial_compare (row->first_serial, serial) > 0)
        continue;
      if (found == -1 || book_serial_compare (e->plans[found].first_serial, row->first_serial) < 0)
        found = (int) i;
    }
  return found;
}

/**
 * insight_later_revision:
 * @evidence: the records
 * @a: a revision, or -1
 * @b: another of the same part, or -1
 *
 * Returns: the one with the later date, then the later label; a revision before none
 */
int
insight_later_revision (const BookEvidence *evidence, int a, int b)
{
  const BookEvidenceRevision *first, *second;

  if (a < 0 || b < 0)
    return MAX (a, b);

  first = &evidence->revisions[a];
  second = &evidence->revisions[b];
  if (first->date != second->date)
    return first->date > second->date ? a : b;
  return book_serial_compare (first->label, second->label) >= 0 ? a : b;
}

/**
 * insight_plan_revision:
 * @evidence: the records
 * @round: a round
 * @part: a part
 * @split: (out): whether the plan takes several revisions
 *
 * What the plan of a round takes, or of the nearest round before whose plan names the part.
 *
 * Returns: the revision, the later one of several; -1 when no plan names the part
 */
int
insight_plan_revision (const BookEvidence *evidence, int round, int part, gboolean *split)
{
  *split = FALSE;
  for (int r = round; r >= 0; r--)
    {
      int found = -1;
      gboolean named = FALSE;

      for (guint i = 0; i < evidence->n_plans; i++)
        {
          const BookEvidencePlan *row = &evidence->plans[i];

          if (row->round != r || row->part != part)
            continue;
          if (named && row->revision != found)
            *split = TRUE;
          found = named ? insight_later_revision (evidence, found, row->revision) : row->revision;
          named = TRUE;
        }
      if (named)
        {
          *split = *split && r == round;
          return found;
        }
    }
  return -1;
}

static int
compare_settings (gconstpointer a, gconstpointer b, gpointer data)
{
  const BookEvidence *e = data;
  const BookEvidenceSetting *first = &e->settings[*(const guint *) a];
  const BookEvidenceSetting *second = &e->settings[*(const guint *) b];

  if (first->step != second->step)
    return first->step < second->step ? -1 : 1;
  if (first->from != second->from)
    return first->from < second->from ? -1 : 1;
  return strcmp (first->name, second->name);
}

static void
index_settings (InsightBasis *basis)
{
  const BookEvidence *e = basis->e;

  basis->setting_rows = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < e->n_settings; i++)
    g_array_append_val (basis->setting_rows, i);
  g_array_sort_with_data (basis->setting_rows, compare_settings, (gpointer) e);

  basis->settings = g_new0 (guint, e->n_steps + 1);
  for (guint i = 0; i < e->n_settings; i++)
    basis->settings[e->settings[i].step + 1]++;
  for (guint i = 0; i < e->n_steps; i++)
    basis->settings[i + 1] += basis->settings[i];
}

/**
 * insight_setting_value:
 * @basis: a basis
 * @step: a step
 * @version: of its settings: how many of its rows are in force
 * @name: of a setting
 *
 * Returns: its value then; NAN when it was not set
 */
double
insight_setting_value (const InsightBasis *basis, int step, int version, const char *name)
{
  for (int i = version - 1; i >= 0; i--)
    {
      guint row = g_array_index (basis->setting_rows, guint, basis->settings[step] + (guint) i);

      if (g_str_equal (basis->e->settings[row].name, name))
        return basis->e->settings[row].value;
    }
  return NAN;
}

static void
index_dependences (InsightBasis *basis)
{
  const BookEvidence *e = basis->e;

  basis->dependences = g_array_new (FALSE, FALSE, sizeof (InsightDependence));
  basis->depend = g_new0 (guint, e->n_characteristics + 1);
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      guint before = basis->dependences->len;

      for (guint i = 0; i < e->n_depends; i++)
        if (e->depends[i].characteristic == (int) c && (e->depends[i].part >= 0 || e->depends[i].step >= 0))
          {
            InsightDependence one = { e->depends[i].part, e->depends[i].step };

            g_array_append_val (basis->dependences, one);
          }
      if (basis->dependences->len == before) /* nothing said: on everything */
        {
          for (guint i = 0; i < e->n_parts; i++)
            g_array_append_val (basis->dependences, ((InsightDependence){ (int) i, -1 }));
          for (guint i = 0; i < e->n_steps; i++)
            g_array_append_val (basis->dependences, ((InsightDependence){ -1, (int) i }));
        }
      basis->depend[c + 1] = basis->dependences->len;
    }
}

static void
index_events (InsightBasis *basis)
{
  const BookEvidence *e = basis->e;

  basis->event = g_new0 (guint, e->n_units + 1);
  basis->aside = g_new0 (BookDay, e->n_units);
  basis->excused = g_new (int, e->n_units);
  for (guint i = 0; i < e->n_units; i++)
    basis->excused[i] = -1;

  for (guint i = 0; i < e->n_events; i++)
    {
      const BookEvidenceEvent *event = &e->events[i];

      basis->event[event->unit + 1]++;
      if (event->kind == BOOK_EVENT_SET_ASIDE && (basis->aside[event->unit] == 0 || event->day < basis->aside[event->unit]))
        basis->aside[event->unit] = MAX (event->day, 1);
    }
  for (guint i = 0; i < e->n_units; i++)
    basis->event[i + 1] += basis->event[i];

  for (guint i = 0; i < e->n_findings; i++)
    {
      const BookEvidenceFinding *finding = &e->findings[i];

      if (finding->excused && finding->unit >= 0
          && (basis->excused[finding->unit] < 0 || finding->day < e->findings[basis->excused[finding->unit]].day))
        basis->excused[finding->unit] = (int) i;
    }
}

/* The day of the first reading of each unit; of a reading without a day, the day its round was opened. */
static BookDay *
days_of_first_readings (const BookEvidence *e)
{
  BookDay *first = g_new0 (BookDay, e->n_units + 1);
  g_autofree guint8 *undated = g_new0 (guint8, e->n_units + 1);

  for (guint i = 0; i < e->n_readings; i++)
    {
      guint32 unit = e->readings[i].unit;
      BookDay day = e->readings[i].day;

      if (day == 0)
        undated[unit] = 1;
      else if (first[unit] == 0 || day < first[unit])
        first[unit] = day;
    }
  for (guint i = 0; i < e->n_units; i++)
    if (first[i] == 0 && undated[i])
      first[i] = MAX (e->rounds[e->units[i].round].opened, 1);
  return first;
}

/* Assembled, else a 'built' event, else the round's day, else the day of the first reading. */
static void
find_built_days (InsightBasis *basis)
{
  const BookEvidence *e = basis->e;
  g_autofree BookDay *first = NULL;

  basis->built = g_new0 (BookDay, e->n_units);
  for (guint i = 0; i < e->n_units; i++)
    {
      BookDay built = e->units[i].assembled;

      for (guint k = basis->event[i]; built == 0 && k < basis->event[i + 1]; k++)
        if (e->events[k].kind == BOOK_EVENT_BUILT)
          built = e->events[k].day;
      if (built == 0)
        built = e->rounds[e->units[i].round].built;
      if (built == 0)
        {
          if (first == NULL)
            first = days_of_first_readings (e);
          built = first[i];
        }
      basis->built[i] = built;
    }
}

static int
version_on (const InsightBasis *basis, int step, BookDay day)
{
  int version = 0;

  for (guint i = basis->settings[step]; i < basis->settings[step + 1]; i++)
    if (basis->e->settings[g_array_index (basis->setting_rows, guint, i)].from <= day)
      version++;
  return version;
}

/* The day on which the unit passed @step, else the one on which its round was built. */
static BookDay
day_at_step (const InsightBasis *basis, guint unit, int step)
{
  const BookEvidence *e = basis->e;
  const BookEvidenceRound *round = &e->rounds[e->units[unit].round];

  for (guint i = basis->event[unit]; i < basis->event[unit + 1]; i++)
    if (e->events[i].step == step
        && (e->events[i].kind == BOOK_EVENT_PASSED || e->events[i].kind == BOOK_EVENT_BUILT))
      return e->events[i].day;
  if (round->built != 0)
    return round->built;
  return basis->built[unit] != 0 ? basis->built[unit] : MAX (round->design_fixed, round->opened);
}

typedef struct
{
  int *row;      /* by round * (parts + steps): row of the plan, -1 none, AMBIGUOUS */
  int *inherits; /* by round * parts: revision from the rounds before */
} Plans;

static void
read_plans (const BookEvidence *e, Plans *plans)
{
  guint width = e->n_parts + e->n_steps;

  plans->row = g_new (int, (gsize) e->n_rounds * width + 1);
  plans->inherits = g_new (int, (gsize) e->n_rounds * e->n_parts + 1);
  for (guint r = 0; r < e->n_rounds; r++)
    for (guint i = 0; i < width; i++)
      {
        int part = i < e->n_parts ? (int) i : -1;
        int step = i < e->n_parts ? -1 : (int) (i - e->n_parts);
        gboolean split;

        plans->row[r * width + i] = plan_row_of_round (e, (int) r, part, step);
        if (part >= 0)
          plans->inherits[r * e->n_parts + i] = r > 0 ? insight_plan_revision (e, (int) r - 1, part, &split) : -1;
      }
}

/* The revisions of all parts of one unit into @revision, its lots into @lots. */
static void
read_unit (const InsightBasis *basis, const Plans *plans, guint unit, guint *next, int *revision, int *lots)
{
  const BookEvidence *e = basis->e;
  guint width = e->n_parts + e->n_steps;
  guint round = (guint) e->units[unit].round;

  for (guint i = 0; i < width; i++)
    {
      int row = plans->row[round * width + i];

      lots[i] = -1;
      if (row == AMBIGUOUS)
        row = plan_row_of_serial (e, (int) round, i < e->n_parts ? (int) i : -1,
                                  i < e->n_parts ? -1 : (int) (i - e->n_parts), e->units[unit].serial);
      if (row >= 0)
        lots[i] = e->plans[row].lot;
      if (i >= e->n_parts)
        continue;
      if (row >= 0)
        revision[i] = e->plans[row].revision;
      else if (plans->row[round * width + i] == AMBIGUOUS)
        {
          gboolean split;
          int one = insight_plan_revision (e, (int) round, (int) i, &split);

          revision[i] = split ? UNSAID : one;
        }
      else
        revision[i] = plans->inherits[round * e->n_parts + i];
    }

  while (*next < e->n_unit_parts && e->unit_parts[*next].unit < (int) unit)
    (*next)++;
  for (; *next < e->n_unit_parts && e->unit_parts[*next].unit == (int) unit; (*next)++)
    {
      const BookEvidenceUnitPart *own = &e->unit_parts[*next];
      guint place = own->part >= 0 ? (guint) own->part : e->n_parts + (guint) MAX (own->step, 0);

      if (own->part < 0 && own->step < 0)
        continue;
      if (own->lot >= 0)
        lots[place] = own->lot;
      if (own->part >= 0 && own->revision >= 0)
        {
          if (own->lot < 0 && revision[own->part] != own->revision)
            lots[place] = -1; /* the planned lot is of another revision */
          revision[own->part] = own->revision;
        }
    }
}

/**
 * insight_basis_planned:
 * @basis: a basis
 * @unit: a unit
 * @revision: (out) (array): by part: what the plan of its round takes; -1 not named, -2 one of several
 * @lots: (out) (array): by part, then by step: lot, -1 none
 *
 * What a unit would be made of had nothing been written down for it.
 */
void
insight_basis_planned (const InsightBasis *basis, guint unit, int *revision, int *lots)
{
  guint nothing = basis->e->n_unit_parts;
  Plans plans;

  read_plans (basis->e, &plans);
  read_unit (basis, &plans, unit, &nothing, revision, lots);
  g_free (plans.row);
  g_free (plans.inherits);
}

static guint
find_build (GArray *builds, guint width, guint n_builds, const int *key)
{
  for (guint i = n_builds; i-- > 0;) /* neighbours are mostly alike */
    if (memcmp (&g_array_index (builds, int, i * width), key, width * sizeof (int)) == 0)
      return i;
  return n_builds;
}

static void
find_builds (InsightBasis *basis)
{
  const BookEvidence *e = basis->e;
  guint width = e->n_parts + e->n_steps;
  g_autofree int *key = g_new0 (int, width + 1);
  g_autoptr(GArray) builds = g_array_new (FALSE, FALSE, sizeof (int));
  Plans plans;
  guint next = 0;

  read_plans (e, &plans);
  basis->build_of = g_new0 (guint, e->n_units);
  basis->lotted = g_new0 (guint8, width + 1);
  basis->lot_of = g_new (int, (gsize) e->n_units * width + 1);
  for (guint i = 0; i < e->n_units; i++)
    {
      guint build;

      read_unit (basis, &plans, i, &next, key, &basis->lot_of[(gsize) i * width]);
      for (guint k = 0; k < width; k++)
        basis->lotted[k] |= basis->lot_of[(gsize) i * width + k] >= 0;
      for (guint s = 0; s < e->n_steps; s++)
        key[e->n_parts + s] = basis->settings[s] == basis->settings[s + 1]
                                ? 0 : version_on (basis, (int) s, day_at_step (basis, i, (int) s));
      build = width == 0 ? 0 : find_build (builds, width, basis->n_builds, key);
      if (build >= basis->n_builds)
        {
          g_array_append_vals (builds, key, width);
          basis->n_builds++;
        }
      basis->build_of[i] = build;
    }
  g_free (plans.row);
  g_free (plans.inherits);

  basis->revision = g_new (int, (gsize) basis->n_builds * e->n_parts + 1);
  basis->version = g_new (int, (gsize) basis->n_builds * e->n_steps + 1);
  for (guint i = 0; i < basis->n_builds && width > 0; i++)
    {
      const int *row = &g_array_index (builds, int, i * width);

      memcpy (&basis->revision[i * e->n_parts], row, e->n_parts * sizeof (int));
      memcpy (&basis->version[i * e->n_steps], row + e->n_parts, e->n_steps * sizeof (int));
    }
}

/**
 * insight_basis_new:
 * @evidence: the records of a model; kept, must outlive the basis
 *
 * Works out when each unit was built and out of what.
 *
 * Returns: (transfer full): the basis
 */
InsightBasis *
insight_basis_new (const BookEvidence *evidence)
{
  InsightBasis *basis = g_new0 (InsightBasis, 1);

  basis->e = evidence;
  index_settings (basis);
  index_dependences (basis);
  index_events (basis);
  find_built_days (basis);
  find_builds (basis);
  return basis;
}

void
insight_basis_free (InsightBasis *basis)
{
  if (basis == NULL)
    return;

  g_free (basis->built);
  g_free (basis->build_of);
  g_free (basis->lot_of);
  g_free (basis->lotted);
  g_free (basis->revision);
  g_free (basis->version);
  g_free (basis->settings);
  g_array_unref (basis->setting_rows);
  g_free (basis->depend);
  g_array_unref (basis->dependences);
  g_free (basis->event);
  g_free (basis->aside);
  g_free (basis->excused);
  g_free (basis);
}
