/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-change-private.h"

#include "insight-design-private.h"

#include <string.h>

/*
 * A characteristic is touched by a change when it depends on a part or step of one of its items; one of which nobody
 * said what it depends on, depends on everything. Whether its older readings go on counting is then a matter of what
 * somebody said by name. An item about limits touches its own characteristic alone.
 */

static gboolean
depends_on (const BookEvidence *e, int characteristic, const BookChangeListItem *item)
{
  gboolean said = FALSE;

  for (guint i = 0; i < e->n_depends; i++)
    {
      const BookEvidenceDepends *on = &e->depends[i];

      if (on->characteristic != characteristic)
        continue;
      said = TRUE;
      if ((item->part != 0 && on->part >= 0 && e->parts[on->part].id == item->part)
          || (item->step != 0 && on->step >= 0 && e->steps[on->step].id == item->step))
        return TRUE;
    }
  return !said && (item->part != 0 || item->step != 0);
}

static const BookChangeListEffect *
find_effect (const BookChangeList *list, int change, gint64 characteristic)
{
  for (guint i = 0; i < list->n_effects; i++)
    if (list->effects[i].change == change && list->effects[i].characteristic == characteristic)
      return &list->effects[i];
  return NULL;
}

/* Whether @effect carries the readings of a characteristic over, or would with a second person. */
static InsightChangeTouchKind
kind_of (const BookChangeListEffect *effect, BookClass klass)
{
  if (effect == NULL || !effect->carried_over || effect->reason[0] == '\0' || effect->person[0] == '\0')
    return INSIGHT_TOUCH_AGAIN;
  if (klass == BOOK_CLASS_SAFETY
      && (effect->second_person[0] == '\0' || strcmp (effect->second_person, effect->person) == 0))
    return INSIGHT_TOUCH_LACKS_SECOND;
  return INSIGHT_TOUCH_CARRIED;
}

/* Units whose readings of a characteristic are of the state of design looked for, or carried over to it. */
static guint
count_units (const InsightLook *look, int characteristic)
{
  const BookEvidence *e = look->basis->e;
  const BookEvidenceCharacteristic *one = &e->characteristics[characteristic];
  guint n = 0;
  guint last = G_MAXUINT;

  for (guint i = one->first_reading; i < one->end_reading; i++)
    {
      const BookEvidenceReading *reading = &e->readings[i];
      InsightMatching matching = { .changes = NULL };

      if (reading->voided || reading->unit == last
          || e->rounds[e->units[reading->unit].round].kind == BOOK_ROUND_BENCH)
        continue;
      last = reading->unit;
      insight_look_match (look, characteristic, look->basis->build_of[last], &matching);
      n += matching.match == INSIGHT_MATCH_SAME || matching.match == INSIGHT_MATCH_CARRIED;
    }
  return n;
}

static int
compare_touches (gconstpointer a, gconstpointer b)
{
  const InsightChangeTouch *first = a, *second = b;

  if ((first->klass == BOOK_CLASS_SAFETY) != (second->klass == BOOK_CLASS_SAFETY))
    return first->klass == BOOK_CLASS_SAFETY ? -1 : 1;
  return strcmp (first->code, second->code);
}

static void
add_touch (InsightChanges *changes, guint index, const InsightLook *look, int characteristic, gboolean only_limits)
{
  const BookEvidenceCharacteristic *one = &look->basis->e->characteristics[characteristic];
  InsightChange *change = &g_array_index (changes->changes, InsightChange, index);
  const BookChangeListEffect *effect = find_effect (changes->list, (int) index, one->id);
  InsightChangeTouch touch = { .characteristic = one->id, .klass = one->klass, .reason = "", .person = "", .second_person = "" };

  touch.code = insight_changes_keep (changes, one->code);
  touch.name = insight_changes_keep (changes, one->name);
  touch.kind = kind_of (effect, one->klass);
  if (only_limits && touch.kind == INSIGHT_TOUCH_AGAIN)
    touch.kind = INSIGHT_TOUCH_JUDGED_ANEW;
  touch.units = count_units (look, characteristic);
  if (effect != NULL && effect->carried_over)
    {
      touch.reason = effect->reason;
      touch.person = effect->person;
      touch.second_person = effect->second_person;
    }
  g_array_append_val (change->touches, touch);
}

static void
add_touches (InsightChanges *changes, guint index, const InsightLook *look)
{
  const BookEvidence *e = look->basis->e;
  InsightChange *change = &g_array_index (changes->changes, InsightChange, index);

  for (guint c = 0; c < e->n_characteristics; c++)
    {
      gboolean design = FALSE, limits = FALSE;

      for (guint i = change->items; i < change->items + change->n_items; i++)
        {
          const BookChangeListItem *item = &changes->list->items[i];

          design |= depends_on (e, (int) c, item);
          limits |= item->characteristic != 0 && book_evidence_find (e, characteristics, item->characteristic) == (int) c;
        }
      if (design || limits)
        add_touch (changes, index, look, (int) c, !design);
    }
  g_array_sort (change->touches, compare_touches);
}

/* The first unit built with a new revision of the change: was it before anybody agreed? */
static void
find_built (InsightChanges *changes, InsightChange *change, const InsightBasis *basis)
{
  const BookEvidence *e = basis->e;
  BookDay agreed = book_day_parse (change->data->agreed_on, NULL);
  BookDay first = 0;

  for (guint i = change->items; i < change->items + change->n_items; i++)
    {
      const BookChangeListItem *item = &changes->list->items[i];

      for (guint u = 0; item->new_revision != 0 && u < e->n_units; u++)
        for (guint p = 0; p < e->n_parts; p++)
          {
            int revision = basis->revision[basis->build_of[u] * e->n_parts + p];

            if (revision < 0 || e->revisions[revision].id != item->new_revision || basis->built[u] == 0
                || (first != 0 && basis->built[u] >= first))
              continue;
            first = basis->built[u];
            change->built = insight_changes_keep (changes, e->rounds[e->units[u].round].label);
          }
    }
  change->after_the_fact = first != 0 && agreed > first;
}

static InsightChangeState
state_of (const InsightChanges *changes, const InsightChange *change)
{
  gboolean all = change->n_items > 0;

  if (change->data->withdrawn[0] != '\0')
    return INSIGHT_CHANGE_WITHDRAWN;
  if (change->data->agreed_on[0] == '\0')
    return INSIGHT_CHANGE_PROPOSED;
  if (change->data->carried_out[0] != '\0')
    return INSIGHT_CHANGE_CARRIED_OUT;
  /* A change that came in a file may not say so; then its traces do. */
  for (guint i = change->items; i < change->items + change->n_items; i++)
    all = all && changes->list->items[i].carried_out;
  return all ? INSIGHT_CHANGE_CARRIED_OUT : INSIGHT_CHANGE_AGREED;
}

/* The rows of each table stand together by change: where they begin and how many there are. */
#define FIND_ROWS(into, table, index)                                                    \
  for (guint row = 0; row < changes->list->n_##table; row++)                            \
    if (changes->list->table[row].change == (int) (index) && (into).n_##table++ == 0)   \
      (into).table = row;

static void
add_change (InsightChanges *changes, guint index, const InsightLook *look)
{
  InsightChange added = { .data = &changes->list->changes[index], .built = "" };
  InsightChange *change;

  added.touches = g_array_new (FALSE, FALSE, sizeof (InsightChangeTouch));
  FIND_ROWS (added, items, index)
  FIND_ROWS (added, issues, index)
  FIND_ROWS (added, attachments, index)
  added.state = state_of (changes, &added);
  g_array_append_val (changes->changes, added);
  changes->counts[added.state]++;

  change = &g_array_index (changes->changes, InsightChange, index);
  add_touches (changes, index, look);
  find_built (changes, change, look->basis);
}

static void
add_choices (InsightChanges *changes, const InsightBasis *basis)
{
  const BookEvidence *e = basis->e;

  for (guint r = 0; r < e->n_rounds; r++)
    {
      gboolean built = e->rounds[r].built != 0 || e->rounds[r].decided != 0;
      InsightChoice choice = { e->rounds[r].id, insight_changes_keep (changes, e->rounds[r].label) };

      for (guint u = 0; !built && u < e->n_units; u++)
        built = e->units[u].round == (int) r && basis->built[u] != 0;
      if (!built)
        g_array_append_val (changes->rounds, choice);
      changes->last_round = choice.label;
    }
}

static void
change_clear (gpointer data)
{
  g_array_unref (((InsightChange *) data)->touches);
}

/**
 * insight_changes_new:
 * @list: (transfer full): the changes of a model as written
 * @evidence: of the same model, read in the same transaction; not kept
 * @today: ISO 8601
 *
 * Says what became of each change and what it means for the readings, as the design stands today.
 *
 * Returns: (transfer full): the answer
 */
InsightChanges *
insight_changes_new (BookChangeList *list, const BookEvidence *evidence, const char *today)
{
  InsightChanges *changes = g_new0 (InsightChanges, 1);
  g_autoptr(InsightBasis) basis = insight_basis_new (evidence);
  BookDay day = book_day_parse (today, NULL);
  g_autoptr(InsightLook) look = insight_look_new (basis, (int) evidence->n_rounds - 1, day);

  changes->list = list;
  changes->changes = g_array_new (FALSE, FALSE, sizeof (InsightChange));
  g_array_set_clear_func (changes->changes, change_clear);
  changes->unexplained = g_array_new (FALSE, FALSE, sizeof (InsightUnexplained));
  changes->subjects = g_array_new (FALSE, FALSE, sizeof (InsightSubject));
  changes->rounds = g_array_new (FALSE, FALSE, sizeof (InsightChoice));
  for (guint i = 0; i < list->n_changes; i++)
    add_change (changes, i, look);
  insight_changes_add_unexplained (changes, basis);
  insight_changes_add_subjects (changes, basis, day);
  add_choices (changes, basis);
  return changes;
}

/**
 * insight_changes_free:
 * @changes: (transfer full) (nullable): an answer
 */
void
insight_changes_free (InsightChanges *changes)
{
  if (changes == NULL)
    return;
  g_array_unref (changes->changes);
  g_array_unref (changes->unexplained);
  g_array_unref (changes->subjects);
  g_array_unref (changes->rounds);
  book_change_list_free (changes->list);
  g_free (changes);
}

/**
 * insight_changes_find:
 * @changes: an answer
 * @change: key
 *
 * Returns: index of the change, -1 when it is not there
 */
int
insight_changes_find (const InsightChanges *changes, gint64 change)
{
  for (guint i = 0; i < changes->changes->len; i++)
    if (changes->list->changes[i].id == change)
      return (int) i;
  return -1;
}
