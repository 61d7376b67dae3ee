/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be set otherwise in a rate: how it is called, shown and moved. */

#include "config.h"

#include "present-pilot.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PERCENT 100.0

static const PresentFigure fields[INSIGHT_RATE_N_FIELDS] = {
  [INSIGHT_RATE_MACHINES] = { N_("Machines"), "", 1, 0, 1, 1, 10 },
  [INSIGHT_RATE_PEOPLE] = { N_("People"), "", 1, 1, 0.5, 0.5, 10 },
  [INSIGHT_RATE_HOURS] = { N_("Hours a week"), N_("h"), 1, 1, 1, 1, 80 },
  [INSIGHT_RATE_UPTIME] = { N_("Uptime"), "%", PERCENT, 0, 1, 1, 100 },
  [INSIGHT_RATE_SHARE_FREE] = { N_("Share free"), "%", PERCENT, 0, 5, 1, 100 },
  [INSIGHT_RATE_BATCH] = { N_("Batch"), "", 1, 0, 1, 1, 200 },
  [INSIGHT_RATE_SETUP] = { N_("Setting up"), N_("min"), 1, 0, 5, 0, 120 },
  [INSIGHT_RATE_CYCLE] = { N_("Minutes a piece"), N_("min"), 1, 1, 0.5, 0, 30 },
  [INSIGHT_RATE_REWORK] = { N_("Rework"), N_("min"), 1, 1, 1, 0, 60 },
  [INSIGHT_RATE_QUEUE] = { N_("Working days at the supplier"), N_("days"), 1, 1, 1, 0.5, 30 },
  [INSIGHT_RATE_PRICE] = { N_("Price"), "", 1, 2, 0.1, 0, 10 },
  [INSIGHT_RATE_YIELD] = { N_("Not scrapped"), "%", PERCENT, 1, 0.5, 1, 100 },
  [INSIGHT_RATE_REWORK_SHARE] = { N_("Reworked"), "%", PERCENT, 1, 0.5, 0, 100 },
};

/**
 * present_rate_field:
 * @field: what may be set
 *
 * Returns: how it is shown; the label untranslated, for gettext
 */
const PresentFigure *
present_rate_field (InsightRateField field)
{
  return &fields[field];
}

/**
 * present_rate_field_applies:
 * @input: what a rate is made of
 * @of_bench: whether @index is of a bench, else of a step
 * @index: which
 * @field: what may be set
 *
 * Returns: whether setting it there can change anything
 */
gboolean
present_rate_field_applies (const InsightRateInput *input, gboolean of_bench, guint index, InsightRateField field)
{
  gboolean outside = !of_bench && input->steps[index].kind == BOOK_STEP_OUTSIDE;

  if (insight_rate_field_of_bench (field) != of_bench)
    return FALSE;
  switch (field)
    {
    case INSIGHT_RATE_SETUP:
    case INSIGHT_RATE_CYCLE:
    case INSIGHT_RATE_REWORK:
    case INSIGHT_RATE_REWORK_SHARE:
      return !outside;
    case INSIGHT_RATE_QUEUE:
    case INSIGHT_RATE_PRICE:
      return outside;
    case INSIGHT_RATE_MACHINES:
    case INSIGHT_RATE_PEOPLE:
    case INSIGHT_RATE_HOURS:
    case INSIGHT_RATE_UPTIME:
    case INSIGHT_RATE_SHARE_FREE:
    case INSIGHT_RATE_BATCH:
    case INSIGHT_RATE_YIELD:
    case INSIGHT_RATE_N_FIELDS:
      break;
    }
  return TRUE;
}

/**
 * present_rate_changes:
 * @before: as it is
 * @after: the same, with some of it set otherwise
 *
 * Returns: (transfer full) (element-type utf8): one line for each thing that was set
 */
GPtrArray *
present_rate_changes (const InsightRateInput *before, const InsightRateInput *after)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GArray) changes = insight_rate_changes (before, after);

  for (guint i = 0; i < changes->len; i++)
    {
      const InsightRateChange *change = &g_array_index (changes, InsightRateChange, i);
      gboolean of_bench = insight_rate_field_of_bench (change->field);
      g_autofree char *from = NULL, *to = NULL;

      if (!present_rate_field_applies (before, of_bench, change->index, change->field))
        continue;
      from = present_figure_value (&fields[change->field], insight_rate_get (before, change->index, change->field));
      to = present_figure_value (&fields[change->field], change->value);
      /* Translators: a bench or step, what is set, the value it has, the value it is set to */
      g_ptr_array_add (lines, g_strdup_printf (_("%s: %s %s, set to %s"),
                                               of_bench ? before->benches[change->index].name : before->steps[change->index].name,
                                               _(fields[change->field].label), from, to));
    }
  return lines;
}

static char *
storing_line (const InsightRateInput *before, const InsightRateChange *change)
{
  const char *label = _(fields[change->field].label);
  g_autofree char *from = present_figure_value (&fields[change->field], insight_rate_get (before, change->index, change->field));
  g_autofree char *to = present_figure_value (&fields[change->field], change->value);
  const InsightRateStep *step;

  if (insight_rate_field_of_bench (change->field))
    /* Translators: name of a bench, what is set, the value that the book has, the value that it will have */
    return g_strdup_printf (_("Bench '%s': %s from %s to %s."), before->benches[change->index].name, label, from, to);
  step = &before->steps[change->index];
  if (!change->counted)
    /* Translators: place and name of a step, what is set, the value that the book has, the value that it will have */
    return g_strdup_printf (_("Step %d '%s': %s from %s to %s."), step->position, step->name, label, from, to);
  if (change->field == INSIGHT_RATE_CYCLE)
    return g_strdup_printf (ngettext ("Step %d '%s': the minutes a piece are those of %u run day, so they are not stored.",
                                      "Step %d '%s': the minutes a piece are those of %u run days, so they are not stored.", step->n_days),
                            step->position, step->name, step->n_days);
  /* Translators: place and name of a step, 'Not scrapped' or 'Reworked' */
  return g_strdup_printf (_("Step %d '%s': '%s' is counted in the run, so it is not stored."), step->position, step->name, label);
}

/**
 * present_rate_storing:
 * @before: as it is
 * @after: the same, with some of it set otherwise
 *
 * Returns: (transfer full) (element-type utf8): what storing would write where, what it would leave and why, and whom it
 *   touches; empty where nothing is set
 */
GPtrArray *
present_rate_storing (const InsightRateInput *before, const InsightRateInput *after)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GArray) changes = insight_rate_changes (before, after);
  gboolean shared = FALSE;

  for (guint i = 0; i < changes->len; i++)
    {
      const InsightRateChange *change = &g_array_index (changes, InsightRateChange, i);

      shared |= insight_rate_field_of_bench (change->field);
      g_ptr_array_add (lines, storing_line (before, change));
    }
  if (shared)
    g_ptr_array_add (lines, g_strdup (_("Benches are shared: what is stored of one changes the rate of every model that uses it.")));
  return lines;
}

/**
 * present_rate_instead:
 * @before: the rate as it is
 * @after: the rate as it would be
 *
 * Returns: (transfer full): both in one sentence; "" where there is no rate
 */
char *
present_rate_instead (const InsightRate *before, const InsightRate *after)
{
  g_autofree char *old = NULL, *new = NULL;

  if (isnan (before->month) || isnan (after->month))
    return g_strdup ("");
  old = present_number (floor (before->month + 1e-9), 0);
  new = present_number (floor (after->month + 1e-9), 0);
  return g_strdup_printf (_("So set, at most %s good units a month can be made, where it is %s now."), new, old);
}
