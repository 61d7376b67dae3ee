/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which changes account for what differs: those whose items lead from an old revision to a new one, those that brought a
 * setting or a limit. What no change accounts for was fitted without one, and is named.
 */
#include "config.h"
#include "insight-compare-private.h"

#include <math.h>
#include <string.h>

static gboolean
is_withdrawn (const InsightCompare *compare, int change)
{
  BookDay withdrawn = compare->e->changes[change].withdrawn;

  return withdrawn != 0 && withdrawn <= compare->look->end;
}

/* In force at the end of the span. */
static gboolean
is_seen (const InsightCompare *compare, int change)
{
  return compare->e->changes[change].day <= compare->look->end && !is_withdrawn (compare, change);
}

/* Goes back from @revision along the items of changes until one of @sources is reached; @way holds the changes. */
static gboolean
go_back (const InsightCompare *compare, int part, int revision, const GArray *sources, guint8 *seen, GArray *way)
{
  const BookEvidence *e = compare->e;

  if (insight_has_state (sources, revision, NAN))
    return TRUE;
  seen[revision] = 1;
  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];

      if (item->part != part || item->new_revision != revision || !is_seen (compare, item->change))
        continue;
      g_array_append_val (way, item->change);
      if (item->old_revision < 0) /* it does not say from what: from whatever there was */
        return TRUE;
      if (!seen[item->old_revision] && go_back (compare, part, item->old_revision, sources, seen, way))
        return TRUE;
      g_array_set_size (way, way->len - 1);
    }
  return FALSE;
}

/* A change that had led from @target to a source and was withdrawn accounts for going back to @target. */
static gboolean
find_withdrawn (const InsightCompare *compare, int part, int target, const GArray *sources, GArray *changes)
{
  const BookEvidence *e = compare->e;
  gboolean found = FALSE;

  for (guint i = 0; i < e->n_items; i++)
    if (e->items[i].part == part && e->items[i].old_revision == target && e->items[i].new_revision >= 0
        && insight_has_state (sources, e->items[i].new_revision, NAN) && is_withdrawn (compare, e->items[i].change))
      {
        insight_add_once (changes, e->items[i].change);
        found = TRUE;
      }
  return found;
}

/* Changes into @target that lead from elsewhere, or were withdrawn. */
static void
add_partial (const InsightCompare *compare, int part, int target, GArray *changes)
{
  const BookEvidence *e = compare->e;

  for (guint i = 0; i < e->n_items; i++)
    if (e->items[i].part == part && e->items[i].new_revision == target
        && e->changes[e->items[i].change].day <= compare->look->end)
      insight_add_once (changes, e->items[i].change);
}

static InsightExplained
explain_revisions (const InsightCompare *compare, InsightDifferenceRoot *root)
{
  g_autofree guint8 *seen = g_new (guint8, compare->e->n_revisions + 1);
  InsightExplained explained = INSIGHT_EXPLAINED;

  for (guint i = 0; i < root->after->len; i++)
    {
      int target = g_array_index (root->after, InsightStateCount, i).state;
      g_autoptr(GArray) sources = g_array_new (FALSE, FALSE, sizeof (InsightStateCount));
      g_autoptr(GArray) way = g_array_new (FALSE, FALSE, sizeof (int));
      guint before = root->changes->len;

      if (target < 0)
        continue;
      for (guint k = 0; k < root->before->len; k++)
        {
          InsightStateCount *source = &g_array_index (root->before, InsightStateCount, k);

          if (source->state >= 0 && source->state != target)
            g_array_append_val (sources, *source);
        }
      memset (seen, 0, compare->e->n_revisions);
      if (go_back (compare, root->on.part, target, sources, seen, way))
        {
          for (guint k = 0; k < way->len; k++)
            insight_add_once (root->changes, g_array_index (way, int, k));
          continue;
        }
      if (insight_has_state (root->before, target, NAN)
          || find_withdrawn (compare, root->on.part, target, sources, root->changes))
        continue;
      add_partial (compare, root->on.part, target, root->changes);
      explained = MAX (explained, root->changes->len > before ? INSIGHT_EXPLAINED_PARTLY : INSIGHT_EXPLAINED_NOT);
    }
  return explained;
}

/* Brings in @change, or one whose item names the same; INSIGHT_EXPLAINED_NOT without either. */
static InsightExplained
explain_by (const InsightCompare *compare, InsightDifferenceRoot *root, int change)
{
  if (change < 0)
    return INSIGHT_EXPLAINED_NOT;
  insight_add_once (root->changes, change);
  return is_seen (compare, change) ? INSIGHT_EXPLAINED : INSIGHT_EXPLAINED_PARTLY;
}

/* The change that says of a setting that it becomes @value, as a figure or in words that begin with one. */
static int
change_of_value (const InsightCompare *compare, const InsightDifferenceRoot *root, double value)
{
  const BookEvidence *e = compare->e;

  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];
      char *end;
      double said = g_ascii_strtod (item->now, &end);
      gboolean is_same = isnan (item->value) ? end != item->now && said == value : item->value == value;

      if (item->step == root->on.step && item->step >= 0 && g_str_equal (item->setting, root->setting) && is_same
          && is_seen (compare, item->change))
        return item->change;
    }
  return -1;
}

static InsightExplained
explain_setting (const InsightCompare *compare, InsightDifferenceRoot *root)
{
  const InsightBasis *basis = compare->basis;
  InsightExplained explained = INSIGHT_EXPLAINED;

  for (guint i = 0; i < root->after->len; i++)
    {
      double value = g_array_index (root->after, InsightStateCount, i).value;
      int change = -1;

      if (insight_has_state (root->before, 0, value))
        continue;
      for (guint k = basis->settings[root->on.step]; k < basis->settings[root->on.step + 1]; k++)
        {
          const BookEvidenceSetting *row = &compare->e->settings[g_array_index (basis->setting_rows, guint, k)];

          if (g_str_equal (row->name, root->setting) && row->value == value && row->from <= compare->look->end)
            change = row->change;
        }
      if (change < 0)
        change = change_of_value (compare, root, value);
      explained = MAX (explained, explain_by (compare, root, change));
    }
  return explained;
}

/* The change that says of a characteristic that it gets these limits. */
static int
change_of_limit (const InsightCompare *compare, const BookEvidenceLimit *limit)
{
  const BookEvidence *e = compare->e;

  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];
      double lower = isnan (item->lower) ? -INFINITY : item->lower, upper = isnan (item->upper) ? INFINITY : item->upper;

      if (item->characteristic == limit->characteristic && (isfinite (lower) || isfinite (upper)) && lower == limit->lower
          && upper == limit->upper && is_seen (compare, item->change))
        return item->change;
    }
  return -1;
}

static InsightExplained
explain_limit (const InsightCompare *compare, InsightDifferenceRoot *root)
{
  const BookEvidence *e = compare->e;
  int now = g_array_index (root->after, InsightStateCount, 0).state;
  int then = g_array_index (root->before, InsightStateCount, 0).state;
  InsightExplained explained = INSIGHT_EXPLAINED;

  if (then < 0)
    return INSIGHT_EXPLAINED; /* the first limits need no change */
  for (int row = then + 1; row <= now; row++)
    explained = MAX (explained, explain_by (compare, root, e->limits[row].change >= 0
                                                             ? e->limits[row].change
                                                             : change_of_limit (compare, &e->limits[row])));
  return explained;
}

/* The first day on which anything was built, set or measured by a change. */
static BookDay
first_use (const InsightCompare *compare, int change)
{
  const BookEvidence *e = compare->e;
  BookDay first = G_MAXINT;

  for (guint i = 0; i < e->n_items; i++)
    if (e->items[i].change == change && e->items[i].part >= 0 && e->items[i].new_revision >= 0)
      for (guint u = 0; u < e->n_units; u++)
        if (insight_compare_was_built (compare, u) && compare->basis->built[u] < first
            && insight_compare_state (compare, INSIGHT_DIFFERS_REVISION, (InsightDependence){ e->items[i].part, -1 }, u)
                 == e->items[i].new_revision)
          first = compare->basis->built[u];
  for (guint i = 0; i < e->n_settings; i++)
    if (e->settings[i].change == change)
      first = MIN (first, e->settings[i].from);
  for (guint i = 0; i < e->n_limits; i++)
    if (e->limits[i].change == change)
      first = MIN (first, e->limits[i].from);
  return first <= compare->look->end ? first : 0;
}

static const char *
initials (InsightCompare *compare, int person)
{
  return person >= 0 ? insight_compare_keep (compare, compare->e->persons[person].initials) : "";
}

static InsightCompareChange *
tell_change (InsightCompare *compare, int number)
{
  const BookEvidence *e = compare->e;
  const BookEvidenceChange *change = &e->changes[number];
  InsightCompareChange *told = g_new0 (InsightCompareChange, 1);
  BookDay first = first_use (compare, number);

  told->id = change->id;
  told->no = change->no;
  told->title = insight_compare_keep (compare, change->title);
  told->reason = insight_compare_keep (compare, change->reason);
  told->expected = insight_compare_keep (compare, change->expected);
  told->proposed_by = initials (compare, change->proposed_by);
  told->proposed = insight_compare_date (compare, change->proposed);
  told->agreed_by = initials (compare, change->agreed_by);
  told->agreed = insight_compare_date (compare, change->agreed);
  told->withdrawn = insight_compare_date (compare, is_withdrawn (compare, number) ? change->withdrawn : 0);
  told->withdrawn_reason = is_withdrawn (compare, number) ? insight_compare_keep (compare, change->withdrawn_reason) : "";
  told->from_round = change->from_round >= 0 ? insight_compare_keep (compare, e->rounds[change->from_round].label) : "";
  told->from_serial = insight_compare_keep (compare, change->from_serial);
  told->built = insight_compare_date (compare, change->agreed == 0 || change->agreed > first ? first : 0);
  told->issues = g_new0 (InsightCompareIssue, e->n_change_issues + 1);
  for (guint i = 0; i < e->n_change_issues; i++)
    if (e->change_issues[i].change == number && e->change_issues[i].issue >= 0)
      {
        const BookEvidenceIssue *issue = &e->issues[e->change_issues[i].issue];
        gboolean open = issue->closed == 0 || issue->closed > compare->look->end;

        told->issues[told->n_issues++] = (InsightCompareIssue){ issue->id, issue->no, insight_compare_keep (compare, issue->title),
                                                                open ? 0 : issue->outcome };
      }
  return told;
}

/* Whether the records show something of a change on the later side. */
static gboolean
shows (const InsightCompare *compare, int change)
{
  const BookEvidence *e = compare->e;

  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceItem *item = &e->items[i];

      if (item->change != change || item->part < 0 || item->new_revision < 0)
        continue;
      for (guint u = 0; u < e->n_units; u++)
        if (e->units[u].round <= compare->sides.to && insight_compare_was_built (compare, u)
            && insight_compare_state (compare, INSIGHT_DIFFERS_REVISION, (InsightDependence){ item->part, -1 }, u)
                 == item->new_revision)
          return TRUE;
    }
  for (guint i = 0; i < e->n_settings; i++)
    if (e->settings[i].change == change && e->settings[i].from <= compare->look->end)
      return TRUE;
  for (guint i = 0; i < e->n_limits; i++)
    if (e->limits[i].change == change && e->limits[i].from <= compare->look->end)
      return TRUE;
  return FALSE;
}

/* Said to begin with a round of the span, else agreed within it. */
static gboolean
is_of_span (const InsightCompare *compare, int change)
{
  const BookEvidenceChange *one = &compare->e->changes[change];

  if (one->from_round >= 0)
    return one->from_round > compare->sides.from && one->from_round <= compare->sides.to;
  return one->agreed > insight_round_end (compare->e, compare->sides.from, compare->look->end)
         && one->agreed <= compare->look->end;
}

static InsightExplained
explain (const InsightCompare *compare, const InsightDifference *difference, InsightDifferenceRoot *root)
{
  if (!root->differs)
    return INSIGHT_EXPLAINED;
  switch (difference->kind)
    {
    case INSIGHT_DIFFERS_REVISION:
      return explain_revisions (compare, root);
    case INSIGHT_DIFFERS_SETTING:
      return explain_setting (compare, root);
    case INSIGHT_DIFFERS_LIMIT:
      return explain_limit (compare, root);
    case INSIGHT_DIFFERS_LOT:
    case INSIGHT_N_DIFFERENCES:
      break;
    }
  return INSIGHT_EXPLAINED;
}

/**
 * insight_compare_explain:
 * @compare: with its differences
 *
 * Finds the changes that account for each difference, and those of which nothing is to be seen.
 */
void
insight_compare_explain (InsightCompare *compare)
{
  const BookEvidence *e = compare->e;
  InsightComparison *out = compare->out;
  g_autofree int *place = g_new (int, e->n_changes + 1);

  for (guint i = 0; i < e->n_changes; i++)
    place[i] = -1;
  for (guint i = 0; i < out->differences->len; i++)
    {
      InsightDifference *difference = out->differences->pdata[i];
      InsightDifferenceRoot *root = compare->roots->pdata[i];

      difference->explained = explain (compare, difference, root);
      for (guint k = 0; k < root->changes->len; k++)
        place[g_array_index (root->changes, int, k)] = 0;
    }
  for (guint i = 0; i < e->n_changes; i++)
    {
      if (place[i] == 0)
        {
          place[i] = (int) out->changes->len;
          g_ptr_array_add (out->changes, tell_change (compare, (int) i));
        }
      else if (!out->within && is_seen (compare, (int) i) && is_of_span (compare, (int) i) && !shows (compare, (int) i))
        g_ptr_array_add (out->unseen, tell_change (compare, (int) i));
    }
  for (guint i = 0; i < out->differences->len; i++)
    {
      InsightDifference *difference = out->differences->pdata[i];
      const InsightDifferenceRoot *root = compare->roots->pdata[i];

      difference->n_changes = root->changes->len;
      difference->changes = g_new0 (guint, root->changes->len + 1);
      for (guint k = 0; k < root->changes->len; k++)
        difference->changes[k] = (guint) place[g_array_index (root->changes, int, k)];
    }
}
