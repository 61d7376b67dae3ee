/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes as rows and sentences. What follows for the readings is said before anybody agrees, by name and with a reason. */

#include "config.h"

#include "present-change.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/**
 * present_change_state_words:
 * @state: of a change
 *
 * Returns: the state as a word
 */
const char *
present_change_state_words (InsightChangeState state)
{
  switch (state)
    {
    case INSIGHT_CHANGE_PROPOSED:
      return _("proposed");
    case INSIGHT_CHANGE_AGREED:
      return _("agreed");
    case INSIGHT_CHANGE_CARRIED_OUT:
      return _("carried out");
    case INSIGHT_CHANGE_WITHDRAWN:
      return _("withdrawn");
    case INSIGHT_N_CHANGE_STATES:
      break;
    }
  return "";
}

/**
 * present_change_state_sign:
 * @state: of a change
 *
 * Returns: the state as one shape; all differ also in black and white
 */
const char *
present_change_state_sign (InsightChangeState state)
{
  switch (state)
    {
    case INSIGHT_CHANGE_PROPOSED:
      return "○";
    case INSIGHT_CHANGE_AGREED:
      return "◐";
    case INSIGHT_CHANGE_CARRIED_OUT:
      return "●";
    case INSIGHT_CHANGE_WITHDRAWN:
      return "✕";
    case INSIGHT_N_CHANGE_STATES:
      break;
    }
  return "";
}

/* ---- names of things ---- */

/* 'HF-20 Rocker lever', 'Hardening: tempering temperature', 'Opening force: limits'; @setting NULL: limits. */
static char *
name_thing (const char *number, const char *name, const char *setting, gboolean is_limit)
{
  if (setting[0] != '\0')
    /* Translators: a process step and the name of one of its settings */
    return g_strdup_printf (_("%s: %s"), name, setting);
  if (is_limit)
    return g_strdup_printf (_("Limits of %s %s"), number, name);
  return g_strdup_printf ("%s %s", number, name);
}

/**
 * present_item_name:
 * @item: an old-to-new
 *
 * Returns: (transfer full): what it is about
 */
char *
present_item_name (const BookChangeListItem *item)
{
  return name_thing (item->number, item->name, item->setting, item->characteristic != 0);
}

/**
 * present_item_old:
 * @item: an old-to-new
 *
 * Returns: (transfer full): how it was; a dash where nobody said
 */
char *
present_item_old (const BookChangeListItem *item)
{
  if (item->old_label[0] != '\0')
    return g_strdup (item->old_label);
  return g_strdup (item->old[0] != '\0' ? item->old : "–");
}

/**
 * present_item_new:
 * @item: an old-to-new
 *
 * Returns: (transfer full): how it is to be; a dash where nobody said
 */
char *
present_item_new (const BookChangeListItem *item)
{
  if (item->new_label[0] != '\0')
    return g_strdup (item->new_label);
  if (!isnan (item->value))
    return present_value (item->value, -1, item->unit);
  if (!isnan (item->lower) || !isnan (item->upper))
    return present_limits (isnan (item->lower) ? -INFINITY : item->lower, isnan (item->upper) ? INFINITY : item->upper, 0,
                           item->unit);
  return g_strdup (item->new[0] != '\0' ? item->new : "–");
}

/**
 * present_item_labels:
 * @item: an old-to-new
 *
 * Returns: (transfer full): 'C → D'
 */
char *
present_item_labels (const BookChangeListItem *item)
{
  g_autofree char *old = present_item_old (item);
  g_autofree char *new = present_item_new (item);

  return g_strdup_printf ("%s → %s", old, new);
}

/**
 * present_item_words:
 * @item: an old-to-new
 *
 * Returns: (transfer full): what the labels leave unsaid: 'ramp radius 0.3 mm → ramp radius 0.6 mm'; "" for nothing
 */
char *
present_item_words (const BookChangeListItem *item)
{
  g_autofree char *old = present_item_old (item);
  g_autofree char *new = present_item_new (item);
  gboolean has_old = item->old[0] != '\0' && g_strcmp0 (item->old, old) != 0;
  gboolean has_new = item->new[0] != '\0' && g_strcmp0 (item->new, new) != 0;

  if (has_old && has_new)
    return g_strdup_printf ("%s → %s", item->old, item->new);
  return g_strdup (has_new ? item->new : has_old ? item->old : "");
}

/**
 * present_subject_name:
 * @subject: what a change can be about
 *
 * Returns: (transfer full): its name, as a list shows it
 */
char *
present_subject_name (const InsightSubject *subject)
{
  return name_thing (subject->number, subject->name, subject->setting, subject->kind == INSIGHT_SUBJECT_LIMIT);
}

/**
 * present_subject_old:
 * @subject: what a change can be about
 *
 * Returns: (transfer full): how it stands today; "" where nothing is known
 */
char *
present_subject_old (const InsightSubject *subject)
{
  switch (subject->kind)
    {
    case INSIGHT_SUBJECT_PART:
      return g_strdup (subject->label);
    case INSIGHT_SUBJECT_SETTING:
      return present_value (subject->value, -1, subject->unit);
    case INSIGHT_SUBJECT_LIMIT:
      if (!isfinite (subject->lower) && !isfinite (subject->upper))
        return g_strdup ("");
      return present_limits (subject->lower, subject->upper, 0, subject->unit);
    }
  return g_strdup ("");
}

/* ---- rows ---- */

static char *
join_two (const char *first, const char *second)
{
  return first[0] == '\0' ? g_strdup (second) : second[0] == '\0' ? g_strdup (first) : g_strdup_printf ("%s, %s", first, second);
}

static char *
row_items (const InsightChanges *changes, const InsightChange *change)
{
  GString *text = g_string_new (NULL);

  for (guint i = change->items; i < change->items + change->n_items; i++)
    {
      const BookChangeListItem *item = &changes->list->items[i];
      g_autofree char *name = item->part != 0 ? g_strdup (item->name) : present_item_name (item);
      g_autofree char *old = present_item_old (item);
      g_autofree char *new = present_item_new (item);

      g_string_append_printf (text, "%s%s %s → %s", i > change->items ? "\n" : "", name, old, new);
    }
  return g_string_free (text, FALSE);
}

static const PresentIssueRow *
find_issue (const PresentIssues *issues, gint64 id)
{
  for (guint i = 0; issues != NULL && i < issues->rows->len; i++)
    {
      const PresentIssueRow *row = g_ptr_array_index (issues->rows, i);

      if (row->data->id == id)
        return row;
    }
  return NULL;
}

static char *
row_issues (const InsightChanges *changes, const InsightChange *change, const PresentIssues *issues)
{
  GString *text = g_string_new (NULL);

  for (guint i = change->issues; i < change->issues + change->n_issues; i++)
    {
      const PresentIssueRow *issue = find_issue (issues, changes->list->issues[i].issue);

      g_string_append_printf (text, issue != NULL ? "%s%d %s" : "%s%d", i > change->issues ? ", " : "",
                              changes->list->issues[i].no, issue != NULL ? issue->mark : "");
    }
  return g_string_free (text, FALSE);
}

static char *
row_words (const PresentChangeRow *row)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("Change %s, %s: %s."), row->no, row->state, row->title);
  if (row->items[0] != '\0')
    {
      g_string_append_c (text, ' ');
      g_string_append_printf (text, _("Items: %s."), row->items);
    }
  if (row->from[0] != '\0')
    {
      g_string_append_c (text, ' ');
      g_string_append_printf (text, _("From round %s."), row->from);
    }
  if (row->issues[0] != '\0')
    {
      g_string_append_c (text, ' ');
      g_string_append_printf (text, _("Answers issues: %s."), row->issues);
    }
  return g_string_free (text, FALSE);
}

/**
 * present_change_row:
 * @changes: the changes of a model
 * @index: of one
 * @issues: (nullable): where its issues stand
 *
 * Returns: (transfer full): its row
 */
PresentChangeRow *
present_change_row (const InsightChanges *changes, guint index, const PresentIssues *issues)
{
  const InsightChange *change = &g_array_index (changes->changes, InsightChange, index);
  const BookChangeListChange *data = change->data;
  PresentChangeRow *row = g_new0 (PresentChangeRow, 1);

  row->index = index;
  row->id = data->id;
  row->no = g_strdup_printf ("%d", data->no);
  row->title = g_strdup (data->title);
  row->items = row_items (changes, change);
  row->proposed = join_two (data->proposed_by, data->proposed_on);
  row->from = data->from_serial[0] != '\0' ? g_strdup_printf (_("%s from %s"), data->from_label, data->from_serial)
                                           : g_strdup (data->from_label);
  row->issues = row_issues (changes, change, issues);
  row->state = present_change_state_words (change->state);
  row->sign = present_change_state_sign (change->state);
  row->needs_person = change->state == INSIGHT_CHANGE_PROPOSED || change->state == INSIGHT_CHANGE_AGREED;
  row->words = row_words (row);
  return row;
}

/**
 * present_change_row_free:
 * @row: (transfer full) (nullable): a row
 */
void
present_change_row_free (PresentChangeRow *row)
{
  if (row == NULL)
    return;
  g_free (row->no);
  g_free (row->title);
  g_free (row->items);
  g_free (row->proposed);
  g_free (row->from);
  g_free (row->issues);
  g_free (row->words);
  g_free (row);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const PresentChangeRow *first = *(const PresentChangeRow *const *) a, *second = *(const PresentChangeRow *const *) b;

  if (first->needs_person != second->needs_person)
    return first->needs_person ? -1 : 1;
  return first->index > second->index ? -1 : first->index < second->index;
}

/**
 * present_change_rows:
 * @changes: the changes of a model
 * @issues: (nullable): where their issues stand
 *
 * Returns: (transfer full) (element-type PresentChangeRow): a row each; those that wait for somebody first, then the newest
 */
GPtrArray *
present_change_rows (const InsightChanges *changes, const PresentIssues *issues)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify) present_change_row_free);

  for (guint i = 0; i < changes->changes->len; i++)
    g_ptr_array_add (rows, present_change_row (changes, i, issues));
  g_ptr_array_sort (rows, compare_rows);
  return rows;
}

/**
 * present_changes_headline:
 * @changes: the changes of a model
 *
 * Returns: (transfer full): what waits for somebody, in a sentence
 */
char *
present_changes_headline (const InsightChanges *changes)
{
  guint proposed = changes->counts[INSIGHT_CHANGE_PROPOSED], agreed = changes->counts[INSIGHT_CHANGE_AGREED];
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;

  if (changes->changes->len == 0)
    return g_strdup (_("No change is written down yet."));
  if (proposed == 0 && agreed == 0)
    return g_strdup (_("Nothing waits: every change is carried out or withdrawn."));
  if (proposed > 0)
    first = g_strdup_printf (ngettext ("%u change waits for somebody to agree.", "%u changes wait for somebody to agree.", proposed),
                             proposed);
  if (agreed > 0)
    second = g_strdup_printf (ngettext ("%u change is agreed and waits to be carried out.",
                                        "%u changes are agreed and wait to be carried out.", agreed),
                              agreed);
  return first != NULL && second != NULL ? g_strjoin (" ", first, second, NULL)
                                         : g_strdup (first != NULL ? first : second);
}

/* ---- detail ---- */

static void
say (GString *text, char *sentence)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
  g_free (sentence);
}

static void
tell_proposed (GString *text, const BookChangeListChange *data)
{
  gboolean has_by = data->proposed_by[0] != '\0', has_on = data->proposed_on[0] != '\0';

  if (has_by && has_on)
    say (text, g_strdup_printf (_("Proposed by %s on %s."), data->proposed_by, data->proposed_on));
  else if (has_by)
    say (text, g_strdup_printf (_("Proposed by %s."), data->proposed_by));
  else if (has_on)
    say (text, g_strdup_printf (_("Proposed on %s; nobody is named."), data->proposed_on));
  if (data->entered_by[0] != '\0' && g_strcmp0 (data->entered_by, data->proposed_by) != 0)
    say (text, g_strdup_printf (_("Written down by %s."), data->entered_by));
}

static void
tell_state (GString *text, const InsightChange *change)
{
  const BookChangeListChange *data = change->data;

  if (data->agreed_on[0] != '\0')
    say (text, g_strdup_printf (_("Agreed by %s on %s."), data->agreed_by, data->agreed_on));
  if (data->from_label[0] != '\0' && data->from_serial[0] != '\0')
    say (text, g_strdup_printf (_("Holds from unit %s of round %s."), data->from_serial, data->from_label));
  else if (data->from_label[0] != '\0')
    say (text, g_strdup_printf (_("Holds from round %s."), data->from_label));
  if (data->carried_out[0] != '\0')
    say (text, g_strdup_printf (_("Carried out on %s."), data->carried_out));
  if (data->withdrawn[0] != '\0' && data->withdrawn_reason[0] == '\0')
    say (text, g_strdup_printf (_("Withdrawn on %s."), data->withdrawn));
}

/**
 * present_change_story:
 * @changes: the changes of a model
 * @index: of one
 * @issues: (nullable): where its issues stand
 *
 * Why it is changed, what is expected, which issues it answers, who proposed and agreed, from when it holds.
 *
 * Returns: (transfer full) (element-type utf8): a paragraph each
 */
GPtrArray *
present_change_story (const InsightChanges *changes, guint index, const PresentIssues *issues)
{
  const InsightChange *change = &g_array_index (changes->changes, InsightChange, index);
  const BookChangeListChange *data = change->data;
  GPtrArray *story = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GString) people = g_string_new (NULL);

  if (data->reason[0] != '\0')
    g_ptr_array_add (story, g_strdup_printf (_("Reason: %s"), data->reason));
  if (data->expected_effect[0] != '\0')
    g_ptr_array_add (story, g_strdup_printf (_("Expected: %s"), data->expected_effect));
  for (guint i = change->issues; i < change->issues + change->n_issues; i++)
    {
      const BookChangeListIssue *issue = &changes->list->issues[i];
      const PresentIssueRow *row = find_issue (issues, issue->issue);

      /* Translators: number and title of an issue, then where it stands: 'not seen again on 12 units' */
      g_ptr_array_add (story, row != NULL ? g_strdup_printf (_("Answers issue %d: %s (now: %s)"), issue->no, issue->title, row->state)
                                          : g_strdup_printf (_("Answers issue %d: %s"), issue->no, issue->title));
    }
  tell_proposed (people, data);
  tell_state (people, change);
  if (people->len > 0)
    g_ptr_array_add (story, g_strdup (people->str));
  if (data->withdrawn[0] != '\0' && data->withdrawn_reason[0] != '\0')
    g_ptr_array_add (story, g_strdup_printf (_("Withdrawn on %s: %s"), data->withdrawn, data->withdrawn_reason));
  if (change->after_the_fact)
    g_ptr_array_add (story, g_strdup_printf (_("It was agreed only after units of round %s had been built with it."), change->built));
  return story;
}

/**
 * present_change_touch_lead:
 * @change: a change
 *
 * Returns: (transfer full): what the list of touched characteristics means
 */
char *
present_change_touch_lead (const InsightChange *change)
{
  gboolean done = change->state == INSIGHT_CHANGE_CARRIED_OUT;

  if (change->touches->len == 0)
    return g_strdup (change->n_items == 0 ? _("It names nothing yet that it alters: add what is old and new.")
                                          : _("No characteristic depends on what it alters."));
  if (done)
    return g_strdup (_("What this change meant for the readings:"));
  return g_strdup (_("What this change means for the readings once it is built; each is measured again unless somebody carries "
                     "it over by name and with a reason, for safety with a second person:"));
}

/**
 * present_change_touch:
 * @touch: a characteristic that a change touches
 * @state: of the change
 *
 * Returns: (transfer full): what becomes of its readings
 */
char *
present_change_touch (const InsightChangeTouch *touch, InsightChangeState state)
{
  switch (touch->kind)
    {
    case INSIGHT_TOUCH_AGAIN:
      if (state == INSIGHT_CHANGE_CARRIED_OUT || state == INSIGHT_CHANGE_WITHDRAWN)
        return g_strdup_printf (_("%s is measured again."), touch->name);
      if (touch->units == 0)
        return g_strdup_printf (_("%s is measured again; nothing that counts was measured yet."), touch->name);
      return g_strdup_printf (ngettext ("%s is measured again: %u unit no longer counts.",
                                        "%s is measured again: %u units no longer count.", touch->units),
                              touch->name, touch->units);
    case INSIGHT_TOUCH_CARRIED:
      if (touch->klass == BOOK_CLASS_SAFETY)
        return g_strdup_printf (_("%s is carried over by %s and %s: %s"), touch->name, touch->person, touch->second_person,
                                touch->reason);
      return g_strdup_printf (_("%s is carried over by %s: %s"), touch->name, touch->person, touch->reason);
    case INSIGHT_TOUCH_LACKS_SECOND:
      return g_strdup_printf (_("%s is about safety: %s would carry it over (%s), but it is measured again until a second person "
                                "agrees."),
                              touch->name, touch->person, touch->reason);
    case INSIGHT_TOUCH_JUDGED_ANEW:
      return g_strdup_printf (_("%s keeps its readings; they are judged by the new limits."), touch->name);
    }
  return g_strdup ("");
}

static void
append_change (GString *text, const InsightChanges *changes, guint index, const PresentIssues *issues)
{
  const InsightChange *change = &g_array_index (changes->changes, InsightChange, index);
  g_autoptr(PresentChangeRow) row = present_change_row (changes, index, issues);
  g_autoptr(GPtrArray) story = present_change_story (changes, index, issues);

  g_string_append_printf (text, "%s\n%s\n", row->words, row->proposed);
  for (guint i = 0; i < story->len; i++)
    g_string_append_printf (text, "%s\n", (const char *) g_ptr_array_index (story, i));
  for (guint i = change->items; i < change->items + change->n_items; i++)
    g_string_append_printf (text, "%s → %s\n", changes->list->items[i].old, changes->list->items[i].new);
  for (guint i = 0; i < change->touches->len; i++)
    {
      g_autofree char *touch = present_change_touch (&g_array_index (change->touches, InsightChangeTouch, i), change->state);

      g_string_append_printf (text, "%s\n", touch);
    }
  for (guint i = change->attachments; i < change->attachments + change->n_attachments; i++)
    g_string_append_printf (text, "%s\n", changes->list->attachments[i].name);
}

/**
 * present_changes_words:
 * @changes: the changes of a model
 * @issues: (nullable): where their issues stand
 *
 * Returns: (transfer full): all that is said about them
 */
char *
present_changes_words (const InsightChanges *changes, const PresentIssues *issues)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < changes->changes->len; i++)
    append_change (text, changes, i, issues);
  for (guint i = 0; i < changes->unexplained->len; i++)
    {
      g_autofree char *one = present_unexplained (&g_array_index (changes->unexplained, InsightUnexplained, i));

      g_string_append_printf (text, "%s\n", one);
    }
  return g_string_free (text, FALSE);
}

/**
 * present_unexplained:
 * @one: what no change leads to
 *
 * Returns: (transfer full): a sentence
 */
char *
present_unexplained (const InsightUnexplained *one)
{
  g_autofree char *day = book_day_format (one->day);

  switch (one->kind)
    {
    case INSIGHT_SUBJECT_PART:
      return one->old[0] != '\0'
               ? g_strdup_printf (_("%s %s was fitted in revision %s instead of %s in round %s, and no change says why."),
                                  one->number, one->name, one->new, one->old, one->round)
               : g_strdup_printf (_("%s %s was fitted in revision %s in round %s, and no change says why."), one->number,
                                  one->name, one->new, one->round);
    case INSIGHT_SUBJECT_SETTING:
      return g_strdup_printf (_("%s: %s is set otherwise from %s on, and no change says why."), one->name, one->setting, day);
    case INSIGHT_SUBJECT_LIMIT:
      return g_strdup_printf (_("%s %s has other limits from %s on, and no change says why."), one->number, one->name, day);
    }
  return g_strdup ("");
}
