/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "visit.h"

struct _FettleVisit
{
  FettleVisitWords words;
  char            *where;
  GHashTable      *actions; /* key of an action, an undo or a redo -> how many values it is about */
  guint            standing;
  guint            undone;
  gboolean         over;
};

/**
 * fettle_visit_new:
 * @words: names what was typed
 * @where: the round, or the characteristic
 *
 * Returns: (transfer full): a visit that goes on, and holds nothing yet
 */
FettleVisit *
fettle_visit_new (FettleVisitWords words, const char *where)
{
  FettleVisit *visit = g_new0 (FettleVisit, 1);

  visit->words = words;
  visit->where = g_strdup (where);
  visit->actions = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  return visit;
}

void
fettle_visit_free (FettleVisit *visit)
{
  if (visit == NULL)
    return;

  g_hash_table_unref (visit->actions);
  g_free (visit->where);
  g_free (visit);
}

static void
note (FettleVisit *visit, gint64 action, guint n)
{
  g_hash_table_insert (visit->actions, g_memdup2 (&action, sizeof action), GUINT_TO_POINTER (n));
}

void
fettle_visit_add (FettleVisit *visit, gint64 action, guint n)
{
  if (action == 0)
    return;

  note (visit, action, n);
  visit->standing += n;
  visit->undone = 0; /* something new ends redo */
}

gboolean
fettle_visit_has (FettleVisit *visit, gint64 action)
{
  return g_hash_table_contains (visit->actions, &action);
}

void
fettle_visit_reversed (FettleVisit *visit, gint64 action, gint64 by, gboolean redo)
{
  guint n = GPOINTER_TO_UINT (g_hash_table_lookup (visit->actions, &action));

  if (n == 0 || by == 0)
    return;
  note (visit, by, n);
  if (redo)
    {
      visit->standing += n;
      visit->undone -= MIN (n, visit->undone);
    }
  else
    {
      visit->standing -= MIN (n, visit->standing);
      visit->undone += n;
    }
}

/* The person went on to something else. */
void
fettle_visit_end (FettleVisit *visit)
{
  visit->over = TRUE;
}

gboolean
fettle_visit_is_over (FettleVisit *visit)
{
  return visit->over;
}

guint
fettle_visit_count (FettleVisit *visit, gboolean undone)
{
  return undone ? visit->undone : visit->standing;
}

/**
 * fettle_visit_dup_words:
 * @visit: a visit
 * @n: how many values
 *
 * Returns: (transfer full): what was typed, as in '24 readings in P3'
 */
char *
fettle_visit_dup_words (FettleVisit *visit, guint n)
{
  return visit->words (n, visit->where);
}
