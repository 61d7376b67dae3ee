/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-answer-private.h"

#include <string.h>

/*
 * What nobody looked at. It stands beside every score: criteria that do not exist cannot be unmet.
 */

static const char *const gap_names[] = { "safety", "part", "hazard", "issue", "document", "criterion", "change" };
G_STATIC_ASSERT (G_N_ELEMENTS (gap_names) == INSIGHT_N_GAPS);

/* An untranslated word, such as `hazard`. */
const char *
insight_gap_code_name (InsightGapCode code)
{
  g_return_val_if_fail ((guint) code < INSIGHT_N_GAPS, "");

  return gap_names[code];
}

InsightGap *
insight_gap_new (InsightGapCode code, gint64 id, const char *first, const char *second)
{
  InsightGap *gap = g_new0 (InsightGap, 1);

  gap->code = code;
  gap->id = id;
  gap->names = g_new0 (char *, 3);
  gap->names[0] = g_strdup (first);
  gap->names[1] = g_strdup (second);
  return gap;
}

void
insight_gap_free (InsightGap *gap)
{
  g_strfreev (gap->names);
  g_free (gap);
}

static void
add_numbered (InsightStanding *standing, InsightGapCode code, gint64 id, int no, const char *text)
{
  g_autofree char *number = g_strdup_printf ("%d", no);

  g_ptr_array_add (standing->gaps, insight_gap_new (code, id, number, text));
}

static gboolean
has_criterion (const BookEvidence *e, int characteristic)
{
  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].characteristic == characteristic)
      return TRUE;
  return FALSE;
}

static void
find_safety (InsightStanding *standing, const BookEvidence *e)
{
  for (guint i = 0; i < e->n_characteristics; i++)
    if (e->characteristics[i].klass == BOOK_CLASS_SAFETY && !has_criterion (e, (int) i))
      g_ptr_array_add (standing->gaps, insight_gap_new (INSIGHT_GAP_SAFETY, e->characteristics[i].id,
                                                        e->characteristics[i].code, e->characteristics[i].name));
}

/* A characteristic that depends on everything speaks for no part in particular. */
static void
find_parts (InsightStanding *standing, const BookEvidence *e)
{
  for (guint p = 0; e->n_depends > 0 && p < e->n_parts; p++)
    {
      gboolean covered = FALSE;

      for (guint i = 0; i < e->n_depends; i++)
        covered |= e->depends[i].part == (int) p;
      if (!covered)
        g_ptr_array_add (standing->gaps,
                         insight_gap_new (INSIGHT_GAP_PART, e->parts[p].id, e->parts[p].number, e->parts[p].name));
    }
}

static void
find_issues (InsightStanding *standing, const BookEvidence *e, BookDay end)
{
  for (guint i = 0; i < e->n_issues; i++)
    {
      const BookEvidenceIssue *issue = &e->issues[i];
      gboolean closed = issue->closed != 0 && issue->closed <= end
                        && (issue->outcome == BOOK_OUTCOME_DUPLICATE || issue->outcome == BOOK_OUTCOME_NOT_REPRODUCED);

      if (issue->seen_by < 0 && !issue->seen_in_life_test && issue->found <= end && !closed)
        add_numbered (standing, INSIGHT_GAP_ISSUE, issue->id, issue->no, issue->title);
    }
}

/* Where the unit's revision of a part came from is known: it is the first one ever built, or a change brought it in. */
static gboolean
has_origin (const BookEvidence *e, int revision, int first, BookDay end)
{
  if (revision == first)
    return TRUE;
  for (guint i = 0; i < e->n_items; i++)
    {
      const BookEvidenceChange *change;

      if (e->items[i].new_revision != revision)
        continue;
      change = &e->changes[e->items[i].change];
      if (change->day <= end && (change->withdrawn == 0 || change->withdrawn > end))
        return TRUE;
    }
  return FALSE;
}

static void
add_unchanged (InsightStanding *standing, const BookEvidence *e, int revision, const guint8 *rounds)
{
  const BookEvidenceRevision *one = &e->revisions[revision];
  g_autofree char *name = g_strdup_printf ("%s %s", e->parts[one->part].number, one->label);
  GString *labels = g_string_new (NULL);

  for (guint r = 0; r < e->n_rounds; r++)
    if (rounds[r])
      g_string_append_printf (labels, "%s%s", labels->len > 0 ? ", " : "", e->rounds[r].label);
  g_ptr_array_add (standing->gaps, insight_gap_new (INSIGHT_GAP_CHANGE, one->id, name, labels->str));
  g_string_free (labels, TRUE);
}

/* Revisions that units carry although no change says why: nobody can tell what they should be better at. */
static void
find_unchanged (InsightStanding *standing, const InsightBasis *basis, int through, BookDay end)
{
  const BookEvidence *e = basis->e;
  g_autofree guint8 *rounds = g_new0 (guint8, (gsize) e->n_revisions * e->n_rounds + 1);
  g_autofree int *first = g_new (int, e->n_parts + 1);

  for (guint p = 0; p < e->n_parts; p++)
    first[p] = -1;
  for (guint u = 0; u < e->n_units; u++)
    for (guint p = 0; p < e->n_parts; p++)
      {
        int revision = basis->revision[basis->build_of[u] * e->n_parts + p];

        if (revision < 0 || e->units[u].round > through || basis->built[u] == 0 || basis->built[u] > end)
          continue;
        rounds[(gsize) revision * e->n_rounds + (gsize) e->units[u].round] = 1;
        if (first[p] < 0)
          first[p] = revision;
      }
  for (guint r = 0; r < e->n_revisions; r++)
    if (memchr (&rounds[(gsize) r * e->n_rounds], 1, e->n_rounds) != NULL
        && !has_origin (e, (int) r, first[e->revisions[r].part], end))
      add_unchanged (standing, e, (int) r, &rounds[(gsize) r * e->n_rounds]);
}

/**
 * insight_find_gaps:
 * @standing: its gaps are filled in
 * @look: the last look
 */
void
insight_find_gaps (InsightStanding *standing, const InsightLook *look)
{
  const BookEvidence *e = look->basis->e;

  find_safety (standing, e);
  for (guint i = 0; i < e->n_hazards; i++)
    if (e->hazards[i].characteristic < 0 && !e->hazards[i].has_document)
      add_numbered (standing, INSIGHT_GAP_HAZARD, e->hazards[i].id, e->hazards[i].no, e->hazards[i].what);
  find_issues (standing, e, look->said);
  find_parts (standing, e);
  find_unchanged (standing, look->basis, look->through, look->end);
  for (guint i = 0; i < e->n_documents; i++)
    if (e->documents[i].state == BOOK_DOCUMENT_WANTED)
      add_numbered (standing, INSIGHT_GAP_DOCUMENT, e->documents[i].id, e->documents[i].no, e->documents[i].title);
  for (guint i = 0; i < e->n_criteria; i++)
    if (e->criteria[i].not_looked_at[0] != '\0')
      g_ptr_array_add (standing->gaps, insight_gap_new (INSIGHT_GAP_CRITERION, e->criteria[i].id, e->criteria[i].code,
                                                        e->criteria[i].not_looked_at));
}
