/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-change-private.h"

#include <math.h>
#include <string.h>

/* What a change may be about, as it stands today; and what was altered although no change leads to it. */

/**
 * insight_next_label:
 * @label: of a revision
 *
 * The label that people would give the revision after: 'C' after 'B', '3' after '2', 'B10' after 'B9'. I and O are left
 * out where letters are counted, since they are taken for figures (common practice of drawing offices, no source); after
 * 'Z' comes 'AA'.
 *
 * Returns: (transfer full): a proposal; 'A' after nothing
 */
char *
insight_next_label (const char *label)
{
  gsize n = strlen (label);
  g_autofree char *next = g_strdup (label);

  if (n == 0)
    return g_strdup ("A");
  if (g_ascii_isdigit (label[n - 1]))
    {
      gsize from = n;

      while (from > 0 && n - from < 9 && g_ascii_isdigit (label[from - 1]))
        from--;
      next[from] = '\0';
      return g_strdup_printf ("%s%0*" G_GUINT64_FORMAT, next, (int) (n - from), g_ascii_strtoull (label + from, NULL, 10) + 1);
    }
  if (!g_ascii_isalpha (label[n - 1]))
    return g_strdup_printf ("%s-A", label);
  if (g_ascii_toupper (label[n - 1]) == 'Z')
    {
      char first = g_ascii_isupper (label[n - 1]) ? 'A' : 'a';

      next[n - 1] = '\0';
      return g_strdup_printf ("%s%c%c", next, first, first);
    }
  do
    next[n - 1]++;
  while (g_ascii_toupper (next[n - 1]) == 'I' || g_ascii_toupper (next[n - 1]) == 'O');
  return g_steal_pointer (&next);
}

static gboolean
is_label_of (const BookEvidence *e, int part, const char *label)
{
  for (guint i = 0; i < e->n_revisions; i++)
    if (e->revisions[i].part == part && strcmp (e->revisions[i].label, label) == 0)
      return TRUE;
  return FALSE;
}

/* The revision that the newest plan names, else the one fitted last; -1 for none. */
int
insight_part_fitted (const InsightBasis *basis, int part)
{
  const BookEvidence *e = basis->e;
  gboolean split;
  int found = insight_plan_revision (e, (int) e->n_rounds - 1, part, &split);

  for (guint u = e->n_units; found < 0 && u > 0; u--)
    found = basis->revision[basis->build_of[u - 1] * e->n_parts + (guint) part];
  return found;
}

static void
add_parts (InsightChanges *changes, const InsightBasis *basis)
{
  const BookEvidence *e = basis->e;

  for (guint p = 0; p < e->n_parts; p++)
    {
      InsightSubject subject = { .kind = INSIGHT_SUBJECT_PART, .key = e->parts[p].id, .setting = "", .label = "", .unit = "",
                                 .value = NAN, .lower = -INFINITY, .upper = INFINITY, .nominal = NAN };
      int fitted = insight_part_fitted (basis, (int) p);
      g_autofree char *next = NULL;

      subject.number = insight_changes_keep (changes, e->parts[p].number);
      subject.name = insight_changes_keep (changes, e->parts[p].name);
      if (fitted >= 0)
        {
          subject.revision = e->revisions[fitted].id;
          subject.label = insight_changes_keep (changes, e->revisions[fitted].label);
        }
      next = insight_next_label (subject.label);
      while (is_label_of (e, (int) p, next))
        {
          char *after = insight_next_label (next);

          g_free (next);
          next = after;
        }
      subject.next = insight_changes_keep (changes, next);
      g_array_append_val (changes->subjects, subject);
    }
}

/* Settings stand by step, name, day: the last of each that holds by today, else the first to come. */
static void
add_settings (InsightChanges *changes, const BookEvidence *e, BookDay today)
{
  for (guint i = 0; i < e->n_settings; i++)
    {
      const BookEvidenceSetting *one = &e->settings[i];
      const BookEvidenceSetting *later = i + 1 < e->n_settings ? one + 1 : NULL;
      InsightSubject subject = { .kind = INSIGHT_SUBJECT_SETTING, .label = "", .next = "", .number = "", .unit = "",
                                 .lower = -INFINITY, .upper = INFINITY, .nominal = NAN, .decimals = -1 };

      if (later != NULL && later->step == one->step && strcmp (later->name, one->name) == 0 && later->from <= today)
        continue;
      if (i > 0 && one[-1].step == one->step && strcmp (one[-1].name, one->name) == 0 && one->from > today)
        continue;
      subject.key = e->steps[one->step].id;
      subject.name = insight_changes_keep (changes, e->steps[one->step].name);
      subject.setting = insight_changes_keep (changes, one->name);
      subject.value = one->value;
      subject.unit = insight_changes_keep (changes, one->unit);
      g_array_append_val (changes->subjects, subject);
    }
}

static void
add_limits (InsightChanges *changes, const BookEvidence *e, BookDay today)
{
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *one = &e->characteristics[c];
      InsightSubject subject = { .kind = INSIGHT_SUBJECT_LIMIT, .key = one->id, .setting = "", .label = "", .next = "",
                                 .value = NAN, .lower = -INFINITY, .upper = INFINITY, .nominal = NAN,
                                 .decimals = one->decimals };

      if (one->kind != BOOK_CHARACTERISTIC_MEASURED)
        continue;
      subject.number = insight_changes_keep (changes, one->code);
      subject.name = insight_changes_keep (changes, one->name);
      subject.unit = insight_changes_keep (changes, one->unit);
      for (guint i = 0; i < e->n_limits; i++)
        if (e->limits[i].characteristic == (int) c && e->limits[i].from <= today)
          {
            subject.lower = e->limits[i].lower;
            subject.upper = e->limits[i].upper;
            subject.nominal = e->limits[i].nominal;
          }
      g_array_append_val (changes->subjects, subject);
    }
}

void
insight_changes_add_subjects (InsightChanges *changes, const InsightBasis *basis, BookDay today)
{
  add_parts (changes, basis);
  add_settings (changes, basis->e, today);
  add_limits (changes, basis->e, today);
}

/* ---- what no change leads to ---- */

static gboolean
is_led_to (const InsightChanges *changes, gint64 revision)
{
  for (guint i = 0; i < changes->list->n_items; i++)
    {
      const BookChangeListItem *item = &changes->list->items[i];

      if (item->new_revision == revision && item->change >= 0 && changes->list->changes[item->change].withdrawn[0] == '\0')
        return TRUE;
    }
  return FALSE;
}

static void
add_revision (InsightChanges *changes, const BookEvidence *e, int part, int old, int new, int round)
{
  InsightUnexplained added = { .kind = INSIGHT_SUBJECT_PART, .key = e->parts[part].id, .setting = "", .old = "" };

  added.number = insight_changes_keep (changes, e->parts[part].number);
  added.name = insight_changes_keep (changes, e->parts[part].name);
  if (old >= 0)
    added.old = insight_changes_keep (changes, e->revisions[old].label);
  added.new = insight_changes_keep (changes, e->revisions[new].label);
  added.round = insight_changes_keep (changes, e->rounds[round].label);
  g_array_append_val (changes->unexplained, added);
}

/* Which revisions of a part round @round builds, or, as long as it has no unit, plans. */
static void
mark_revisions (const InsightBasis *basis, int part, int round, guint8 *fitted)
{
  const BookEvidence *e = basis->e;
  gboolean any = FALSE;

  memset (fitted, 0, e->n_revisions);
  for (guint u = 0; u < e->n_units; u++)
    {
      int revision = basis->revision[basis->build_of[u] * e->n_parts + (guint) part];

      if (e->units[u].round != round || revision < 0)
        continue;
      fitted[revision] = 1;
      any = TRUE;
    }
  for (guint i = 0; !any && i < e->n_plans; i++)
    if (e->plans[i].round == round && e->plans[i].part == part && e->plans[i].revision >= 0)
      fitted[e->plans[i].revision] = 1;
}

/* The first revision of a part needs no change; every later one does. */
static void
add_revisions (InsightChanges *changes, const InsightBasis *basis, int part)
{
  const BookEvidence *e = basis->e;
  g_autofree guint8 *fitted = g_new0 (guint8, e->n_revisions + 1);
  g_autofree guint8 *seen = g_new0 (guint8, e->n_revisions + 1);
  int before = -1; /* the revision of the rounds before */

  for (guint r = 0; r < e->n_rounds; r++)
    {
      int last = before, first = -1;

      mark_revisions (basis, part, (int) r, fitted);
      for (guint v = 0; v < e->n_revisions; v++)
        if (fitted[v] && (first < 0 || insight_later_revision (e, first, (int) v) == first))
          first = (int) v;
      for (guint v = 0; v < e->n_revisions; v++)
        {
          if (!fitted[v])
            continue;
          last = last < 0 ? (int) v : insight_later_revision (e, last, (int) v);
          if (seen[v])
            continue;
          seen[v] = 1;
          if ((before < 0 && (int) v == first) || is_led_to (changes, e->revisions[v].id))
            continue;
          add_revision (changes, e, part, before >= 0 ? before : first, (int) v, (int) r);
        }
      before = last;
    }
}

static void
add_altered (InsightChanges *changes, const BookEvidence *e)
{
  for (guint i = 1; i < e->n_settings; i++)
    {
      const BookEvidenceSetting *one = &e->settings[i];
      InsightUnexplained added = { .kind = INSIGHT_SUBJECT_SETTING, .number = "", .old = "", .new = "", .round = "" };

      if (one->step < 0 || one[-1].step != one->step || strcmp (one[-1].name, one->name) != 0 || one->change >= 0)
        continue;
      added.key = e->steps[one->step].id;
      added.name = insight_changes_keep (changes, e->steps[one->step].name);
      added.setting = insight_changes_keep (changes, one->name);
      added.day = one->from;
      g_array_append_val (changes->unexplained, added);
    }
  for (guint i = 1; i < e->n_limits; i++)
    {
      const BookEvidenceLimit *one = &e->limits[i];
      InsightUnexplained added = { .kind = INSIGHT_SUBJECT_LIMIT, .setting = "", .old = "", .new = "", .round = "" };

      if (one[-1].characteristic != one->characteristic || one->change >= 0)
        continue;
      added.key = e->characteristics[one->characteristic].id;
      added.number = insight_changes_keep (changes, e->characteristics[one->characteristic].code);
      added.name = insight_changes_keep (changes, e->characteristics[one->characteristic].name);
      added.day = one->from;
      g_array_append_val (changes->unexplained, added);
    }
}

void
insight_changes_add_unexplained (InsightChanges *changes, const InsightBasis *basis)
{
  for (guint p = 0; p < basis->e->n_parts; p++)
    add_revisions (changes, basis, (int) p);
  add_altered (changes, basis->e);
}
