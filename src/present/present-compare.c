/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A comparison in words: what differs with the changes that account for it, then the effects, then notes. */

#include "config.h"

#include "present-effect-private.h"

#include "present-number.h"
#include "present-reason.h"
#include "present-sentence.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static char *
say_names (const char *sentence, const char *first, const char *second)
{
  const char *const names[] = { first, second, NULL };
  const PresentSentence said[PRESENT_MOST_SENTENCES] = { { sentence, NULL, 0, PRESENT_ALWAYS } };
  const PresentArguments arguments = { .names = names };

  return present_sentences (said, &arguments);
}

static char *
say_count (const char *one, const char *many, gint64 count, const char * const *names)
{
  const PresentSentence said[PRESENT_MOST_SENTENCES] = { { one, many, 0, PRESENT_ALWAYS } };
  const PresentArguments arguments = { .names = names, .counts = &count, .n_counts = 1 };

  return present_sentences (said, &arguments);
}

static char *
issues_text (const InsightCompareChange *change)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < change->n_issues; i++)
    {
      const InsightCompareIssue *issue = &change->issues[i];

      /* Translators: an issue's number and title */
      g_string_append_printf (text, i == 0 ? _("for issue %d: %s") : _("; issue %d: %s"), issue->no, issue->title);
    }
  return g_string_free (text, FALSE);
}

static char *
from_text (const InsightCompareChange *change)
{
  if (*change->from_round == '\0')
    return g_strdup ("");
  if (*change->from_serial == '\0')
    return g_strdup_printf (_("from round %s"), change->from_round);
  return g_strdup_printf (_("from round %s, unit %s on"), change->from_round, change->from_serial);
}

static char *
line_of (const PresentCompareChange *change, const char *agreed)
{
  if (*change->issues == '\0')
    return g_strdup_printf ("%s (%s)", change->title, agreed);
  return g_strdup_printf ("%s (%s; %s)", change->title, agreed, change->issues);
}

static void
add_change_remarks (PresentCompareChange *self)
{
  const InsightCompareChange *change = self->data;

  if (*change->withdrawn != '\0')
    g_ptr_array_add (self->remarks, *change->withdrawn_reason == '\0'
                                      ? say_names (N_("It was withdrawn on {name0}."), change->withdrawn, "")
                                      : say_names (N_("It was withdrawn on {name0}: {name1}"), change->withdrawn,
                                                   change->withdrawn_reason));
  if (*change->agreed == '\0')
    g_ptr_array_add (self->remarks, *change->built == '\0'
                                      ? g_strdup (_("Nobody has agreed to it."))
                                      : say_names (N_("It was first used on {name0}, though nobody has agreed to it."), change->built, ""));
  else if (*change->built != '\0')
    g_ptr_array_add (self->remarks, say_names (N_("It was first used on {name0} and agreed only on {name1}."), change->built, change->agreed));
}

static PresentCompareChange *
new_change (const InsightCompareChange *change)
{
  PresentCompareChange *self = g_new0 (PresentCompareChange, 1);

  self->data = change;
  self->title = g_strdup_printf (_("Change %d: %s"), change->no, change->title);
  self->agreed = *change->agreed == '\0' ? g_strdup (_("not agreed")) : g_strdup_printf (_("agreed on %s"), change->agreed);
  self->agreed_by = *change->agreed == '\0' || *change->agreed_by == '\0'
                      ? g_strdup (self->agreed)
                      : g_strdup_printf (_("agreed by %s on %s"), change->agreed_by, change->agreed);
  self->from = from_text (change);
  self->issues = issues_text (change);
  self->reason = change->reason;
  self->expected = change->expected;
  self->line = line_of (self, self->agreed);
  self->line_by = line_of (self, self->agreed_by);
  self->remarks = g_ptr_array_new_with_free_func (g_free);
  add_change_remarks (self);
  return self;
}

static void
free_change (gpointer data)
{
  PresentCompareChange *change = data;

  g_free (change->title);
  g_free (change->agreed);
  g_free (change->agreed_by);
  g_free (change->from);
  g_free (change->issues);
  g_free (change->line);
  g_free (change->line_by);
  g_ptr_array_unref (change->remarks);
  g_free (change);
}

static char *
group_text (const InsightDifference *difference)
{
  if (*difference->name == '\0' || g_str_equal (difference->name, difference->code))
    return g_strdup (difference->code);
  return g_strdup_printf ("%s %s", difference->code, difference->name);
}

static char *
what_text (const InsightDifference *difference)
{
  switch (difference->kind)
    {
    case INSIGHT_DIFFERS_REVISION:
      return g_strdup (_("revision"));
    case INSIGHT_DIFFERS_LOT:
      return g_strdup (_("lot"));
    case INSIGHT_DIFFERS_SETTING:
      return g_strdup (difference->setting);
    case INSIGHT_DIFFERS_LIMIT:
      return g_strdup (_("limits"));
    case INSIGHT_N_DIFFERENCES:
      break;
    }
  return g_strdup ("");
}

static char *
state_text (const InsightDifference *difference, const InsightCompareState *state)
{
  if (difference->kind == INSIGHT_DIFFERS_SETTING)
    return isnan (state->value) ? g_strdup (_("not set")) : present_value (state->value, difference->decimals, difference->unit);
  return g_strdup (*state->label == '\0' ? _("nobody says") : state->label);
}

/* 'A'; of several 'B (4 units), C (4 units)'. */
static char *
built_text (const InsightDifference *difference, const InsightCompareSide *side)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < side->n_built; i++)
    {
      g_autofree char *state = state_text (difference, &side->built[i]);

      if (i > 0)
        g_string_append (text, ", ");
      if (side->n_built == 1)
        g_string_append (text, state);
      else
        /* Translators: a revision, lot or value, and how many units have it */
        g_string_append_printf (text, ngettext ("%s (%u unit)", "%s (%u units)", side->built[i].units), state,
                                side->built[i].units);
    }
  return g_string_free (text, FALSE);
}

static char *
planned_text (const InsightCompareSide *side)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < side->n_planned; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", side->planned[i].label);
  return g_string_free (text, FALSE);
}

static char *
side_text (const InsightDifference *difference, const InsightCompareSide *side)
{
  if (difference->kind == INSIGHT_DIFFERS_LIMIT)
    {
      char *limits = present_limits (side->lower, side->upper, difference->decimals, difference->unit);

      if (*limits != '\0')
        return limits;
      g_free (limits);
      return g_strdup (_("none"));
    }
  if (side->n_built > 0)
    return built_text (difference, side);
  if (side->n_planned > 0)
    {
      g_autofree char *planned = planned_text (side);

      return g_strdup_printf (_("%s (planned)"), planned);
    }
  return g_strdup (_("none"));
}

static const char *
unexplained_text (const InsightDifference *difference)
{
  gboolean none = difference->explained == INSIGHT_EXPLAINED_NOT;

  switch (difference->kind)
    {
    case INSIGHT_DIFFERS_REVISION:
      if (difference->after.n_built == 0)
        return none ? N_("No change on record leads from {name0} to {name1}.")
                    : N_("The changes on record do not lead all the way from {name0} to {name1}.");
      return none ? N_("Fitted without a change: none on record leads from {name0} to {name1}.")
                  : N_("Fitted without a change that holds: those on record do not lead all the way from {name0} to {name1}.");
    case INSIGHT_DIFFERS_SETTING:
      return none ? N_("Set otherwise without a change: none on record says why it is {name1} instead of {name0}.")
                  : N_("The changes on record do not account for all of it, or were withdrawn.");
    case INSIGHT_DIFFERS_LIMIT:
      return none ? N_("The limits were altered without a change: none on record says why they are '{name1}' instead of '{name0}'.")
                  : N_("The changes on record do not account for all of it, or were withdrawn.");
    case INSIGHT_DIFFERS_LOT:
    case INSIGHT_N_DIFFERENCES:
      break;
    }
  return "";
}

static void
add_difference_remarks (PresentDifference *self)
{
  const InsightDifference *difference = self->data;

  if (difference->explained != INSIGHT_EXPLAINED)
    g_ptr_array_add (self->remarks, say_names (unexplained_text (difference), self->before, self->after));
  if (difference->off_plan > 0)
    {
      g_autofree char *planned = planned_text (&difference->after);
      const char *const names[] = { planned, NULL };

      g_ptr_array_add (self->remarks, say_count (N_PLURAL ("{count0} unit was built otherwise than planned: the plan takes {name0}.",
                                                           "{count0} units were built otherwise than planned: the plan takes {name0}."),
                                                 difference->off_plan, names));
    }
  if (difference->widened)
    g_ptr_array_add (self->remarks, g_strdup (_("The limits were widened: what lay outside before can lie inside now.")));
}

static PresentDifference *
new_difference (const PresentComparison *present, const InsightDifference *difference)
{
  PresentDifference *self = g_new0 (PresentDifference, 1);
  const PresentDifference *last = present->differences->len > 0
                                    ? present->differences->pdata[present->differences->len - 1] : NULL;

  self->data = difference;
  self->group = group_text (difference);
  self->first = last == NULL || last->data->part != difference->part || last->data->step != difference->step
                || last->data->characteristic != difference->characteristic;
  self->what = what_text (difference);
  self->before = side_text (difference, &difference->before);
  self->after = side_text (difference, &difference->after);
  self->changes = g_ptr_array_new ();
  for (guint i = 0; i < difference->n_changes; i++)
    g_ptr_array_add (self->changes, present->changes->pdata[difference->changes[i]]);
  self->remarks = g_ptr_array_new_with_free_func (g_free);
  add_difference_remarks (self);
  return self;
}

static void
free_difference (gpointer data)
{
  PresentDifference *difference = data;

  g_free (difference->group);
  g_free (difference->what);
  g_free (difference->before);
  g_free (difference->after);
  g_ptr_array_unref (difference->changes);
  g_ptr_array_unref (difference->remarks);
  g_free (difference);
}

static char *
title_of (const InsightComparison *data)
{
  if (data->within)
    /* Translators: a round, a part, and two of its revisions or lots */
    return g_strdup_printf (_("Round %s: %s %s against %s"), data->from_label, data->divided_by, data->before_label,
                            data->after_label);
  return g_strdup_printf (_("From round %s to round %s"), data->from_label, data->to_label);
}

static char *
headline_of (const InsightComparison *data)
{
  guint unexplained = 0, told = 0, measured = data->effects->len;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < data->differences->len; i++)
    unexplained += ((InsightDifference *) data->differences->pdata[i])->explained != INSIGHT_EXPLAINED;
  for (guint i = 0; i < measured; i++)
    told += ((InsightEffect *) data->effects->pdata[i])->told_apart;

  if (data->differences->len == 0)
    g_string_append (text, _("Nothing on record was built, set or limited otherwise."));
  else
    g_string_append_printf (text, ngettext ("%u thing differs", "%u things differ", data->differences->len), data->differences->len);
  if (unexplained > 0)
    g_string_append_printf (text, ngettext (", %u without a change that accounts for it", ", %u without a change that accounts for them",
                                            unexplained), unexplained);
  if (data->differences->len > 0)
    g_string_append_c (text, '.');
  if (measured > 0)
    {
      /* Translators: comparisons told apart, and all; the last count decides the plural */
      g_string_append_c (text, ' ');
      g_string_append_printf (text, ngettext ("Of %2$u comparison of readings %1$u can be told apart from chance.",
                                              "Of %2$u comparisons of readings %1$u can be told apart from chance.", measured),
                              told, measured);
    }
  return g_string_free (text, FALSE);
}

static gboolean
has_way (const InsightComparison *data, InsightEffectWay way)
{
  for (guint i = 0; i < data->effects->len; i++)
    if (((InsightEffect *) data->effects->pdata[i])->way == way)
      return TRUE;
  return FALSE;
}

static void
add_notes (PresentComparison *self)
{
  const InsightComparison *data = self->data;
  guint untouched = g_strv_length (data->untouched), unmeasured = g_strv_length (data->unmeasured);

  if (data->n_adjusted > 1)
    g_ptr_array_add (self->notes, say_count (N_("The {count0} comparisons are adjusted together, so that in 20 such lists at most about "
                                                "one tells anything apart that chance made; each interval stands for itself at 95 %."),
                                             NULL, data->n_adjusted, NULL));
  if (has_way (data, INSIGHT_EFFECT_ROUNDS))
    g_ptr_array_add (self->notes, g_strdup (_("To tell what a change does, build old and new into one round, turn by turn: such a "
                                              "difference may be put down to the change, one between rounds never.")));
  if (unmeasured > 0)
    g_ptr_array_add (self->notes, say_count (N_PLURAL ("{count0} characteristic depends on what changed and was read on neither side: {names}.",
                                                       "{count0} characteristics depend on what changed and were read on neither side: {names}."),
                                             unmeasured, (const char * const *) data->unmeasured));
  if (data->differences->len == 0)
    g_ptr_array_add (self->notes, g_strdup (_("So no readings are compared: where units do differ, write down their revisions and the settings of "
                                              "their steps.")));
  else if (untouched > 0 && data->within)
    g_ptr_array_add (self->notes, say_count (N_PLURAL ("{count0} characteristic does not depend on what divides the round and is not compared: {names}.",
                                                       "{count0} characteristics do not depend on what divides the round and are not compared: {names}."),
                                             untouched, (const char * const *) data->untouched));
  else if (untouched > 0)
    g_ptr_array_add (self->notes, say_count (N_PLURAL ("{count0} characteristic depends on no revision or setting that changed and is not compared: {names}.",
                                                       "{count0} characteristics depend on no revision or setting that changed and are not compared: {names}."),
                                             untouched, (const char * const *) data->untouched));
}

static gboolean
is_about_safety (const InsightComparison *data)
{
  for (guint i = 0; i < data->effects->len; i++)
    if (((InsightEffect *) data->effects->pdata[i])->klass == BOOK_CLASS_SAFETY)
      return TRUE;
  return FALSE;
}

static char *
head_of (const InsightComparison *data, const char *label)
{
  return data->within ? g_strdup_printf ("%s %s", data->divided_by, label) : g_strdup_printf (_("round %s"), label);
}

/**
 * present_comparison_new:
 * @comparison: (transfer full): a comparison
 * @caution_added: (nullable): what the model adds to the caution
 *
 * Returns: (transfer full): the same in words
 */
PresentComparison *
present_comparison_new (InsightComparison *comparison, const char *caution_added)
{
  PresentComparison *self = g_new0 (PresentComparison, 1);

  self->data = comparison;
  self->title = title_of (comparison);
  self->headline = headline_of (comparison);
  self->before_head = head_of (comparison, comparison->before_label);
  self->after_head = head_of (comparison, comparison->after_label);
  self->changes = g_ptr_array_new_with_free_func (free_change);
  self->unseen = g_ptr_array_new_with_free_func (free_change);
  self->differences = g_ptr_array_new_with_free_func (free_difference);
  self->effects = g_ptr_array_new_with_free_func ((GDestroyNotify) present_effect_free);
  self->notes = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < comparison->changes->len; i++)
    g_ptr_array_add (self->changes, new_change (comparison->changes->pdata[i]));
  for (guint i = 0; i < comparison->unseen->len; i++)
    g_ptr_array_add (self->unseen, new_change (comparison->unseen->pdata[i]));
  for (guint i = 0; i < comparison->differences->len; i++)
    g_ptr_array_add (self->differences, new_difference (self, comparison->differences->pdata[i]));
  for (guint i = 0; i < comparison->effects->len; i++)
    g_ptr_array_add (self->effects, present_effect_new (comparison, comparison->effects->pdata[i]));
  add_notes (self);
  if (is_about_safety (comparison))
    self->caution = present_caution_with (caution_added);
  return self;
}

void
present_comparison_free (PresentComparison *present)
{
  if (present == NULL)
    return;

  g_free (present->title);
  g_free (present->headline);
  g_free (present->before_head);
  g_free (present->after_head);
  g_ptr_array_unref (present->differences);
  g_ptr_array_unref (present->changes);
  g_ptr_array_unref (present->unseen);
  g_ptr_array_unref (present->effects);
  g_ptr_array_unref (present->notes);
  g_free (present->caution);
  insight_comparison_free (present->data);
  g_free (present);
}
