/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-design-private.h"

#include <math.h>
#include <string.h>

/**
 * insight_round_end:
 * @evidence: the records
 * @round: a round
 * @today: the day of the question
 *
 * Returns: the day on which the round was decided; @today while it is not
 */
BookDay
insight_round_end (const BookEvidence *evidence, int round, BookDay today)
{
  BookDay decided = evidence->rounds[round].decided;

  return decided != 0 && decided < today ? decided : today;
}

static BookDay
design_day (const BookEvidenceRound *round)
{
  if (round->design_fixed != 0)
    return round->design_fixed;
  return round->opened;
}

static gboolean
was_built (const InsightLook *look, guint unit)
{
  BookDay built = look->basis->built[unit];

  return built != 0 && built <= look->end;
}

/* The latest 'design fixed' (else opened) among the rounds with a built unit. */
static int
find_newest (const InsightLook *look)
{
  const BookEvidence *e = look->basis->e;
  int newest = -1;

  for (guint i = 0; i < e->n_units; i++)
    {
      int round = e->units[i].round;

      if (round > look->through || round == newest || !was_built (look, i))
        continue;
      if (newest < 0 || design_day (&e->rounds[round]) > design_day (&e->rounds[newest])
          || (round > newest && design_day (&e->rounds[round]) == design_day (&e->rounds[newest])))
        newest = round;
    }
  return newest;
}

/* Of the revisions built in a split round the one that the next round takes; -1 when its plan takes none of them. */
static int
revision_of_next_plan (const InsightLook *look, int part, const guint8 *built)
{
  const BookEvidence *e = look->basis->e;
  int found = -1;

  if (look->next < 0)
    return -1;
  for (guint i = 0; i < e->n_plans; i++)
    {
      const BookEvidencePlan *row = &e->plans[i];

      if (row->round == look->next && row->part == part && row->revision >= 0 && built[row->revision])
        found = insight_later_revision (e, found, row->revision);
    }
  return found;
}

static void
find_revisions (InsightLook *look)
{
  const InsightBasis *basis = look->basis;
  const BookEvidence *e = basis->e;
  g_autofree guint8 *built = g_new0 (guint8, e->n_revisions + 1);

  for (guint p = 0; p < e->n_parts; p++)
    {
      int found = -1;
      gboolean split = FALSE;

      memset (built, 0, e->n_revisions);
      for (guint i = 0; i < e->n_units; i++)
        {
          int revision = basis->revision[basis->build_of[i] * e->n_parts + p];

          if (e->units[i].round != look->newest || !was_built (look, i) || revision < 0)
            continue;
          built[revision] = 1;
          split |= found >= 0 && revision != found;
          found = insight_later_revision (e, found, revision);
        }
      look->revision[p] = found;
      look->split[p] = INSIGHT_SPLIT_NO;
      if (split)
        {
          int next = revision_of_next_plan (look, (int) p, built);

          look->split[p] = next >= 0 ? INSIGHT_SPLIT_NEXT_PLAN : INSIGHT_SPLIT_LATER;
          if (next >= 0)
            look->revision[p] = next;
        }
    }
}

static void
find_versions (InsightLook *look)
{
  const InsightBasis *basis = look->basis;
  const BookEvidence *e = basis->e;

  for (guint i = 0; i < e->n_units; i++)
    if (e->units[i].round == look->newest && was_built (look, i))
      for (guint s = 0; s < e->n_steps; s++)
        look->version[s] = MAX (look->version[s], basis->version[basis->build_of[i] * e->n_steps + s]);
}

/**
 * insight_look_new:
 * @basis: a basis; kept
 * @through: a round, or -1 when the model has none
 * @end: the last day that is seen
 *
 * Finds the state of design that is looked for: that of the newest round with a built unit. Of a split round it is the
 * revision that the next round's plan takes, also when that was chosen after @end; else the later one.
 *
 * Returns: (transfer full): the look
 */
InsightLook *
insight_look_new (const InsightBasis *basis, int through, BookDay end)
{
  const BookEvidence *e = basis->e;
  InsightLook *look = g_new0 (InsightLook, 1);

  look->basis = basis;
  look->through = through;
  look->end = look->read = look->said = end;
  look->revision = g_new (int, e->n_parts + 1);
  look->version = g_new0 (int, e->n_steps + 1);
  look->split = g_new0 (InsightSplit, e->n_parts + 1);
  for (guint i = 0; i < e->n_parts; i++)
    look->revision[i] = -1;

  look->newest = find_newest (look);
  look->next = look->newest >= 0 && look->newest + 1 < (int) e->n_rounds ? look->newest + 1 : -1;
  if (look->newest >= 0)
    {
      find_revisions (look);
      find_versions (look);
    }
  return look;
}

/**
 * insight_look_later:
 * @look: a look whose round is decided
 *
 * Sees what was read until today; what is looked for, and the limits, are those of the round, so that neither can be moved
 * after it to let a failing unit pass.
 *
 * Returns: (transfer full): the look
 */
InsightLook *
insight_look_later (const InsightLook *look)
{
  InsightLook *later = insight_look_new (look->basis, look->through, look->end);

  later->read = later->said = look->said;
  return later;
}

/**
 * insight_look_planned:
 * @basis: a basis; kept
 * @round: a round that is planned
 * @end: the last day that is seen
 *
 * The look at a round before it is built: the state looked for is what its plan takes (of a split one the later revision),
 * where the plan names a part; else what the newest built round has. Settings are those in force on @end.
 *
 * Returns: (transfer full): the look
 */
InsightLook *
insight_look_planned (const InsightBasis *basis, int round, BookDay end)
{
  const BookEvidence *e = basis->e;
  InsightLook *look = insight_look_new (basis, round, end);

  look->newest = round;
  look->next = -1;
  for (guint p = 0; p < e->n_parts; p++)
    {
      gboolean split;
      int planned = insight_plan_revision (e, round, (int) p, &split);

      look->split[p] = split ? INSIGHT_SPLIT_LATER : INSIGHT_SPLIT_NO;
      if (planned >= 0)
        look->revision[p] = planned;
    }
  for (guint i = 0; i < e->n_steps; i++)
    look->version[i] = 0;
  for (guint i = 0; i < e->n_settings; i++)
    look->version[e->settings[i].step] += e->settings[i].from <= end;
  return look;
}

static gboolean
is_newest (const BookEvidence *e, int round, BookDay today)
{
  for (guint r = (guint) round + 1; r < e->n_rounds; r++)
    if (e->rounds[r].opened != 0 && e->rounds[r].opened <= today)
      return FALSE;
  return TRUE;
}

/**
 * insight_look_list:
 * @basis: a basis; kept
 * @through: a round, or -1 when the model has none
 * @today: the day of the question
 *
 * What people approve, sign or waive, what they decide about a unit, and which issues are found is seen until the end of the
 * round as all else; of the newest round until today, since a gate is decided after the round that leads to it, and what comes
 * back from the field comes later still.
 *
 * Returns: (transfer full) (element-type InsightLook): a look at the end of each round up to @through, in order; never
 *   empty
 */
GPtrArray *
insight_look_list (const InsightBasis *basis, int through, BookDay today)
{
  GPtrArray *looks = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_look_free);

  for (int r = 0; r <= through; r++)
    g_ptr_array_add (looks, insight_look_new (basis, r, insight_round_end (basis->e, r, today)));
  if (through < 0)
    g_ptr_array_add (looks, insight_look_new (basis, -1, today));
  else if (is_newest (basis->e, through, today))
    ((InsightLook *) looks->pdata[looks->len - 1])->said = today;
  return looks;
}

void
insight_look_free (InsightLook *look)
{
  if (look == NULL)
    return;

  g_free (look->revision);
  g_free (look->version);
  g_free (look->split);
  g_free (look);
}

static gboolean
is_seen (const InsightLook *look, int change)
{
  const BookEvidenceChange *one = &look->basis->e->changes[change];

  return one->day <= look->end && (one->withdrawn == 0 || one->withdrawn > look->end);
}

/**
 * insight_look_is_carried:
 * @look: a look
 * @characteristic: a characteristic
 * @change: a change, -1 for none
 * @lacks_second: (out): set when it is marked, but of a safety characteristic by one person only
 *
 * Whether older readings still count after a change: somebody marked it so, by name and with a reason; of a safety
 * characteristic a second person agreed.
 *
 * Returns: %TRUE if they do
 */
gboolean
insight_look_is_carried (const InsightLook *look, int characteristic, int change, gboolean *lacks_second)
{
  const BookEvidence *e = look->basis->e;

  *lacks_second = FALSE;
  if (change < 0 || !is_seen (look, change))
    return FALSE;

  for (guint i = 0; i < e->n_carries; i++)
    {
      const BookEvidenceCarry *carry = &e->carries[i];

      if (carry->change != change || carry->characteristic != characteristic)
        continue;
      if (carry->person < 0 || carry->reason[0] == '\0')
        return FALSE;
      if (e->characteristics[characteristic].klass == BOOK_CLASS_SAFETY
          && (carry->second_person < 0 || carry->second_person == carry->person))
        {
          *lacks_second = TRUE;
          return FALSE;
        }
      return TRUE;
    }
  return FALSE;
}

/* Adds to a list of indices, where there is one and it is not in it yet. */
void
insight_add_once (GArray *list, int value)
{
  if (list == NULL)
    return;
  for (guint i = 0; i < list->len; i++)
    if (g_array_index (list, int, i) == value)
      return;
  g_array_append_val (list, value);
}

/* One way from revision to revision along the items of changes, only carried ones or any. */
typedef struct
{
  const InsightLook *look;
  int                characteristic;
  int                part;
  int                target;
  gboolean           any;   /* whether every change will do */
  guint8            *seen;  /* by revision */
  GArray            *way;   /* int: changes */
  GArray            *lacks; /* int: changes without a second person, or NULL */
} Search;

static gboolean
search_way (Search *search, int revision)
{
  const BookEvidence *e = search->look->basis->e;

  if (revision == search->target)
    return TRUE;
  search->seen[revision] = 1;
  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];
      gboolean lacks;

      if (item->part != search->part || item->old_revision != revision || item->new_revision < 0
          || search->seen[item->new_revision])
        continue;
      if (search->any ? !is_seen (search->look, item->change)
                      : !insight_look_is_carried (search->look, search->characteristic, item->change, &lacks))
        {
          if (!search->any && lacks)
            insight_add_once (search->lacks, item->change);
          continue;
        }
      g_array_append_val (search->way, item->change);
      if (search_way (search, item->new_revision))
        return TRUE;
      g_array_set_size (search->way, search->way->len - 1);
    }
  return FALSE;
}

static gboolean
is_way (const InsightLook *look, int characteristic, int part, int from, int to, gboolean any, GArray *changes, GArray *lacks)
{
  g_autofree guint8 *seen = g_new0 (guint8, look->basis->e->n_revisions + 1);
  g_autoptr(GArray) way = g_array_new (FALSE, FALSE, sizeof (int));
  Search search = { look, characteristic, part, to, any, seen, way, lacks };

  if (from < 0 || to < 0 || !search_way (&search, from))
    return FALSE;
  for (guint i = 0; i < way->len; i++)
    insight_add_once (changes, g_array_index (way, int, i));
  return TRUE;
}

/**
 * insight_look_leads_to:
 * @look: a look
 * @part: a part
 * @from: a revision of it
 * @to: another
 *
 * Returns: whether changes that were not withdrawn lead from the one to the other
 */
gboolean
insight_look_leads_to (const InsightLook *look, int part, int from, int to)
{
  return is_way (look, -1, part, from, to, TRUE, NULL, NULL);
}

/* Whether a change is there at this look: dated by then, and not withdrawn. */
gboolean
insight_look_sees_change (const InsightLook *look, int change)
{
  return is_seen (look, change);
}

static InsightMatch
match_part (const InsightLook *look, int characteristic, guint build, int part, InsightMatching *matching)
{
  const InsightBasis *basis = look->basis;
  int have = basis->revision[build * basis->e->n_parts + (guint) part];
  int want = look->revision[part];

  if (have == want)
    return INSIGHT_MATCH_SAME;
  if (is_way (look, characteristic, part, have, want, FALSE, matching->changes, matching->unsigned_))
    return INSIGHT_MATCH_CARRIED;
  if (is_way (look, characteristic, part, want, have, TRUE, NULL, NULL))
    return INSIGHT_MATCH_LATER;
  return INSIGHT_MATCH_OTHER;
}

static gboolean
has_same_settings (const InsightBasis *basis, int step, int one, int other)
{
  for (guint i = basis->settings[step]; i < basis->settings[step + 1]; i++)
    {
      const char *name = basis->e->settings[g_array_index (basis->setting_rows, guint, i)].name;
      double a = insight_setting_value (basis, step, one, name);
      double b = insight_setting_value (basis, step, other, name);

      if (!(a == b || (isnan (a) && isnan (b))))
        return FALSE;
    }
  return TRUE;
}

static InsightMatch
match_step (const InsightLook *look, int characteristic, guint build, int step, InsightMatching *matching)
{
  const InsightBasis *basis = look->basis;
  int have = basis->version[build * basis->e->n_steps + (guint) step];
  int want = look->version[step];

  if (have == want || has_same_settings (basis, step, have, want))
    return INSIGHT_MATCH_SAME;
  if (have > want)
    return INSIGHT_MATCH_LATER;

  for (int i = have; i < want; i++)
    {
      guint row = g_array_index (basis->setting_rows, guint, basis->settings[step] + (guint) i);
      int change = basis->e->settings[row].change;
      gboolean lacks;

      if (!insight_look_is_carried (look, characteristic, change, &lacks))
        {
          if (lacks)
            insight_add_once (matching->unsigned_, change);
          return INSIGHT_MATCH_OTHER;
        }
    }
  for (int i = have; i < want; i++)
    insight_add_once (matching->changes, basis->e->settings[g_array_index (basis->setting_rows, guint,
                                                                   basis->settings[step] + (guint) i)].change);
  return INSIGHT_MATCH_CARRIED;
}

/* Changes that lead from one version of a step's settings to another, in either direction. */
static void
add_setting_changes (const InsightBasis *basis, int step, int one, int other, GArray *changes)
{
  for (int i = MIN (one, other); i < MAX (one, other); i++)
    {
      guint row = g_array_index (basis->setting_rows, guint, basis->settings[step] + (guint) i);

      if (basis->e->settings[row].change >= 0)
        insight_add_once (changes, basis->e->settings[row].change);
    }
}

/**
 * insight_look_add_changes:
 * @look: a look
 * @characteristic: a characteristic
 * @build: a build of its basis
 * @changes: (element-type int): is added to
 *
 * Finds the changes that lie between a build and the state looked for, in what the characteristic depends on and what is
 * not carried over: those that made the units no longer count.
 */
void
insight_look_add_changes (const InsightLook *look, int characteristic, guint build, GArray *changes)
{
  const InsightBasis *basis = look->basis;

  for (guint i = basis->depend[characteristic]; i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      InsightMatching matching = { 0 };

      if (on.part >= 0)
        {
          int have = basis->revision[build * basis->e->n_parts + (guint) on.part], want = look->revision[on.part];

          if (match_part (look, characteristic, build, on.part, &matching) >= INSIGHT_MATCH_OTHER
              && !is_way (look, characteristic, on.part, have, want, TRUE, changes, NULL))
            is_way (look, characteristic, on.part, want, have, TRUE, changes, NULL);
        }
      else if (match_step (look, characteristic, build, on.step, &matching) >= INSIGHT_MATCH_OTHER)
        add_setting_changes (basis, on.step, basis->version[build * basis->e->n_steps + (guint) on.step], look->version[on.step],
                             changes);
    }
}

/**
 * insight_look_match:
 * @look: a look
 * @characteristic: a characteristic
 * @build: a build of its basis
 * @matching: filled in; its lists, where given, are added to
 *
 * Holds a build against the state looked for, in everything that the characteristic depends on.
 */
void
insight_look_match (const InsightLook *look, int characteristic, guint build, InsightMatching *matching)
{
  const InsightBasis *basis = look->basis;

  matching->match = INSIGHT_MATCH_SAME;
  matching->differs = (InsightDependence){ -1, -1 };
  for (guint i = basis->depend[characteristic]; i < basis->depend[characteristic + 1]; i++)
    {
      InsightDependence on = g_array_index (basis->dependences, InsightDependence, i);
      InsightMatch match = on.part >= 0 ? match_part (look, characteristic, build, on.part, matching)
                                        : match_step (look, characteristic, build, on.step, matching);

      if (match == INSIGHT_MATCH_CARRIED && matching->match == INSIGHT_MATCH_SAME)
        matching->match = INSIGHT_MATCH_CARRIED;
      if (match == INSIGHT_MATCH_OTHER || match == INSIGHT_MATCH_LATER)
        {
          /* One that is merely another state says more than one that came later. */
          if (matching->differs.part < 0 && matching->differs.step < 0)
            matching->differs = on;
          if (matching->match != INSIGHT_MATCH_OTHER)
            matching->match = match;
        }
    }
}
