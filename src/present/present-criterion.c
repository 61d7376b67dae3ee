/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One criterion in words. The sentence quotes the claim ('at least 95 in 100 units pass') and says how strongly the
 * units support it; it never says that the claim holds.
 */

#include "config.h"

#include "present-criterion.h"
#include "present-criterion-private.h"

#include "present-number.h"
#include "present-reason.h"
#include "present-sentence.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A limit as a value: with as many decimals as it needs. */
static char *
limit_value (const InsightCriterion *c, double limit)
{
  g_autofree char *shortest = present_number (limit, -1);
  g_autofree char *fixed = present_number (limit, c->decimals);

  return present_value (limit, strlen (shortest) > strlen (fixed) ? -1 : c->decimals, c->unit);
}

/* What is claimed of the units; stands in quotes in the sentence. */
static char *
claim (const InsightCriterion *c)
{
  g_autofree char *share = isnan (c->share) ? NULL : present_share_in (c->share);
  const gboolean has_lower = isfinite (c->lower), has_upper = isfinite (c->upper);
  g_autofree char *lower = has_lower ? limit_value (c, c->lower) : NULL;
  g_autofree char *upper = has_upper ? limit_value (c, c->upper) : NULL;

  if (present_is_run_kind (c->kind))
    return present_run_claim (c);
  if (c->kind == BOOK_CRITERION_FIX)
    return g_strdup_printf (_("at least %s units with the change do not show it"), share);
  if (c->kind != BOOK_CRITERION_MEASURED || (!has_lower && !has_upper))
    return g_strdup_printf (_("at least %s units pass"), share);
  if (has_lower && has_upper)
    return g_strdup_printf (_("at least %s units lie between %s and %s"), share, lower, upper);
  if (has_lower)
    return g_strdup_printf (_("at least %s units reach %s"), share, lower);
  return g_strdup_printf (_("at least %s units stay at or below %s"), share, upper);
}

static gboolean
is_counted_kind (const InsightCriterion *c)
{
  return c->kind >= BOOK_CRITERION_ISSUES;
}

static char *
counted_sentence (const InsightCriterion *c)
{
  const InsightReason *reason;

  if (c->n == 0)
    return g_strdup (_("There is nothing yet that could be counted."));
  if (c->done >= c->n)
    return g_strdup_printf (ngettext ("The one thing asked for is done.", "All %u things asked for are done.", c->n), c->n);
  reason = insight_criterion_find_reason (c, INSIGHT_REASON_COUNT_DONE);
  return reason == NULL ? g_strdup_printf (_("Done: %u of %u."), c->done, c->n) : present_reason (reason, NULL, -1);
}

/* How strongly the units support the claim. */
static char *
support_sentence (const InsightCriterion *c, const char *quoted)
{
  g_autofree char *reached = present_confidence (c->confidence, c->wanted);
  g_autofree char *wanted = present_wanted (c->wanted);

  if (c->so_far)
    return g_strdup_printf (c->kind == BOOK_CRITERION_MEASURED
                                ? _("So far the measurements support \"%s\" at %s confidence (wanted: %s), if the units measured are like those to be sold.")
                                : _("So far the tests support \"%s\" at %s confidence (wanted: %s), if the units tested are like those to be sold."),
                            quoted,
                            reached,
                            wanted);
  return g_strdup_printf (c->kind == BOOK_CRITERION_MEASURED
                              ? _("The measurements support \"%s\" at %s confidence (wanted: %s), if the units measured are like those to be sold.")
                              : _("The tests support \"%s\" at %s confidence (wanted: %s), if the units tested are like those to be sold."),
                          quoted,
                          reached,
                          wanted);
}

static char *
against_sentence (const InsightCriterion *c, const char *quoted)
{
  g_autofree char *contrary = present_confidence (c->contrary, NAN);

  if (isnan (c->contrary))
    return g_strdup_printf (_("The measurements speak against \"%s\" (n %u, failing %u)."), quoted, c->n, c->failed);
  return g_strdup_printf (_("The measurements speak against \"%s\": the confidence that it does not hold is %s (n %u, failing %u)."),
                          quoted,
                          contrary,
                          c->n,
                          c->failed);
}

static const InsightStep *
find_step (const InsightStanding *standing, guint criterion, InsightStepCode code)
{
  for (guint i = 0; i < standing->steps->len; i++)
    {
      const InsightStep *step = g_ptr_array_index (standing->steps, i);

      if (step->criterion == criterion && step->code == code)
        return step;
    }
  return NULL;
}

/* What would be enough; the same words as the next step has, so that both say one thing. */
static void
append_needed (GString *text, const InsightStanding *standing, guint index)
{
  static const InsightStepCode codes[] = { INSIGHT_STEP_TEST, INSIGHT_STEP_MEASURE, INSIGHT_STEP_NO_UNITS_HELP, INSIGHT_STEP_LIFE,
                                           INSIGHT_STEP_BAD_PIECES };

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      const InsightStep *step = find_step (standing, index, codes[i]);
      g_autofree char *words = step == NULL ? NULL : present_step (step, standing);

      if (words != NULL)
        {
          g_string_append_printf (text, " %s", words);
          return;
        }
    }
}

static char *
sentence (const InsightStanding *standing, const InsightCriterion *c, guint index)
{
  g_autofree char *quoted = claim (c);
  g_autofree char *start = NULL;
  GString *text;

  if (is_counted_kind (c))
    return counted_sentence (c);

  if (present_is_run_kind (c->kind) && c->state != INSIGHT_NO_LONGER)
    {
      start = present_run_sentence (c, quoted);
      text = g_string_new (start);
      if (c->state == INSIGHT_TOO_FEW)
        append_needed (text, standing, index);
      return g_string_free (text, FALSE);
    }

  switch (c->state)
    {
    case INSIGHT_MET:
    case INSIGHT_TOO_FEW:
      start = isnan (c->confidence)
                  ? g_strdup_printf (_("Nothing can be said yet about \"%s\" (n %u)."), quoted, c->n)
                  : support_sentence (c, quoted);
      break;
    case INSIGHT_AGAINST:
      start = against_sentence (c, quoted);
      break;
    case INSIGHT_NO_LONGER:
      start = g_strdup_printf (ngettext ("The %u unit measured for \"%s\" was built to another state of design and no longer counts.",
                                         "All %u units measured for \"%s\" were built to another state of design and no longer count.",
                                         c->no_longer.n),
                               c->no_longer.n,
                               quoted);
      break;
    case INSIGHT_NO_DATA:
      start = g_strdup_printf (_("No unit that counts was measured yet for \"%s\"."), quoted);
      break;
    }

  text = g_string_new (start);
  if (c->state == INSIGHT_TOO_FEW)
    append_needed (text, standing, index);
  return g_string_free (text, FALSE);
}

static GPtrArray *
remarks (const InsightCriterion *c)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < c->reasons->len; i++)
    g_ptr_array_add (list, present_reason (g_ptr_array_index (c->reasons, i), c->unit, c->decimals));

  if (c->failing_year > 0 && c->failing_year < 1)
    g_ptr_array_add (list, g_strdup (_("This is compatible with less than one failing unit a year at the planned rate.")));
  else if (c->failing_year >= 1 && c->failing_year < 1e9)
    {
      const guint failing = (guint) ceil (c->failing_year - 1e-9);

      g_ptr_array_add (list,
                       g_strdup_printf (ngettext ("This is compatible with up to %u failing unit a year at the planned rate.",
                                                  "This is compatible with up to %u failing units a year at the planned rate.",
                                                  failing),
                                        failing));
    }
  return list;
}

static char *
result (const InsightCriterion *c)
{
  if (is_counted_kind (c) || c->n == 0)
    return g_strdup ("");
  if (present_is_run_kind (c->kind))
    return present_run_result (c);
  if (!isnan (c->mean))
    {
      g_autofree char *mean = present_value (c->mean, c->decimals + 1, c->unit);
      /* Translators: heading of a value: the mean of the units */
      g_autofree char *text = g_strdup_printf (_("mean %s"), mean);

      if (c->failed == 0)
        return g_steal_pointer (&text);
      /* Translators: the mean, then how many units fail */
      return g_strdup_printf (_("%s, %u failing"), text, c->failed);
    }
  return g_strdup_printf (ngettext ("%u failed", "%u failed", c->failed), c->failed);
}

static void
append_figure (GString *line, char *figure)
{
  if (*figure != '\0')
    g_string_append_printf (line, "%s%s", line->len == 0 ? "" : "; ", figure);
  g_free (figure);
}

static char *
labelled (const char *label, char *value)
{
  char *text = *value == '\0' ? g_strdup ("") : g_strdup_printf ("%s %s", label, value);

  g_free (value);
  return text;
}

static char *
figures (const InsightCriterion *c)
{
  GString *line = g_string_new (NULL);
  const int fine = c->decimals < 0 ? -1 : c->decimals + 2; /* a deviation needs more digits than a value */

  if (is_counted_kind (c))
    {
      append_figure (line, g_strdup_printf (_("done %u of %u"), c->done, c->n));
      return g_string_free (line, FALSE);
    }

  if (present_is_run_kind (c->kind))
    {
      append_figure (line, present_run_figures (c));
      return g_string_free (line, FALSE);
    }

  append_figure (line, g_strdup_printf (_("n %u"), c->n));
  if (c->rounds != NULL && c->rounds[0] != NULL)
    append_figure (line, labelled (_("rounds"), present_names ((const char * const *) c->rounds)));
  append_figure (line, g_strdup_printf (_("failing %u"), c->failed));
  append_figure (line, labelled (_("mean"), present_value (c->mean, fine, c->unit)));
  append_figure (line, labelled (_("standard deviation"), present_value (c->sd, fine, c->unit)));
  append_figure (line, labelled (_("least"), present_value (c->min, c->decimals, c->unit)));
  append_figure (line, labelled (_("most"), present_value (c->max, c->decimals, c->unit)));
  append_figure (line, labelled (_("confidence"), present_confidence (c->confidence, c->wanted)));
  append_figure (line, labelled (_("wanted"), present_wanted (c->wanted)));
  if (!isnan (c->share_low) && c->n > 0)
    append_figure (line, labelled (_("failing at most"), present_failing_share (MAX (1 - c->share_low, 1e-9))));
  if (c->lots > 0)
    append_figure (line, g_strdup_printf (_("lots %u"), c->lots));
  append_figure (line, g_strdup_printf (_("looks %u"), c->looks));
  append_figure (line, g_strdup_printf (_("attempt %u"), c->attempts));
  if (c->voided > 0)
    append_figure (line, g_strdup_printf (_("voided %u"), c->voided));
  return g_string_free (line, FALSE);
}

static char *
asks (const InsightCriterion *c)
{
  g_autofree char *quoted = NULL;
  g_autofree char *wanted = NULL;

  if (is_counted_kind (c))
    return g_strdup (_("all done"));
  quoted = claim (c);
  wanted = present_wanted (c->wanted);
  /* Translators: what a criterion asks for: a claim, and how sure one wants to be of it */
  return g_strdup_printf (_("%s, at %s confidence"), quoted, wanted);
}

static const char *
kind_label (BookCriterionKind kind)
{
  const BookChoice *choice = book_choice_by_code (book_criterion_kinds, kind);

  return choice == NULL ? "" : book_choice_label (choice);
}

/**
 * present_criterion_new:
 * @standing: the standing
 * @index: of a criterion in it
 *
 * Returns: (transfer full): the criterion in words; borrows from @standing
 */
PresentCriterion *
present_criterion_new (const InsightStanding *standing, guint index)
{
  PresentCriterion *self = g_new0 (PresentCriterion, 1);
  const InsightCriterion *c = insight_standing_get_criterion (standing, index);

  self->data = c;
  self->index = index;
  self->name = g_strdup_printf ("%s %s", c->code, *c->about_name == '\0' ? kind_label (c->kind) : c->about_name);
  self->asks = asks (c);
  self->limits = present_limits (c->lower, c->upper, c->decimals, c->unit);
  self->n = is_counted_kind (c) ? g_strdup_printf (_("%u of %u"), c->done, c->n) : g_strdup_printf ("%u", c->n);
  self->result = result (c);
  self->confidence = is_counted_kind (c) ? g_strdup ("") : present_confidence (c->confidence, c->wanted);
  self->wanted = is_counted_kind (c) ? g_strdup ("") : present_wanted (c->wanted);
  self->state = present_state_words (c->state);
  self->sign = present_state_sign (c->state);
  self->sentence = sentence (standing, c, index);
  self->remarks = remarks (c);
  self->figures = figures (c);
  self->method = present_method_words (c->method);
  return self;
}

void
present_criterion_free (PresentCriterion *self)
{
  g_free (self->name);
  g_free (self->asks);
  g_free (self->limits);
  g_free (self->n);
  g_free (self->result);
  g_free (self->confidence);
  g_free (self->wanted);
  g_free (self->sentence);
  g_ptr_array_unref (self->remarks);
  g_free (self->figures);
  g_free (self);
}
