/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch pilot: where units and minutes go in a round, how many a month, and what one costs. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "insight-days.h"
#include "present-json.h"
#include "present-pilot.h"
#include "present-text.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define DRAWS 20000 /* of the interval; a criterion takes ten times as many */

static char *round_label;
static char *by;
static char **sets;

static const GOptionEntry options[] = {
  { "round", 0, 0, G_OPTION_ARG_STRING, &round_label, N_("Which round; the newest with counts when left out"), N_("ROUND") },
  { "set", 0, 0, G_OPTION_ARG_STRING_ARRAY, &sets,
    N_("What if: bench:NAME.FIELD=VALUE or step:POSITION.FIELD=VALUE; nothing is stored; may be given again"), N_("WHAT=VALUE") },
  { "by", 0, 0, G_OPTION_ARG_STRING, &by, N_("Also how many good units a plan delivers by that date"), N_("DATE") },
  G_OPTION_ENTRY_NULL
};

/* 'bench:NAME' or 'step:POSITION': its index; -1 when there is none. */
static int
find_subject (const InsightRateInput *input, const char *subject, gboolean *of_bench)
{
  *of_bench = g_str_has_prefix (subject, "bench:");
  for (guint i = 0; *of_bench && i < input->n_benches; i++)
    if (g_str_equal (input->benches[i].name, subject + strlen ("bench:")))
      return (int) i;
  for (guint i = 0; g_str_has_prefix (subject, "step:") && i < input->n_steps; i++)
    {
      g_autofree char *position = g_strdup_printf ("%d", input->steps[i].position);

      if (g_str_equal (position, subject + strlen ("step:")))
        return (int) i;
    }
  return -1;
}

static int
find_field (const char *name, gboolean of_bench)
{
  for (guint i = 0; i < INSIGHT_RATE_N_FIELDS; i++)
    if (insight_rate_field_of_bench (i) == of_bench && g_str_equal (insight_rate_field_name (i), name))
      return (int) i;
  return -1;
}

static char *
field_names (gboolean of_bench)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < INSIGHT_RATE_N_FIELDS; i++)
    if (insight_rate_field_of_bench (i) == of_bench)
      g_string_append_printf (names, "%s%s", names->len > 0 ? " " : "", insight_rate_field_name (i));
  return g_string_free (names, FALSE);
}

/* The last point before the last '=' parts subject and field: a bench may have either in its name. */
static gboolean
set_one (BatchCall *call, InsightRateInput *input, const char *what, BatchStatus *status)
{
  g_autofree char *subject = g_strdup (what);
  char *equals = strrchr (subject, '='), *point, *end;
  gboolean of_bench;
  int index, field;
  double value;

  if (equals != NULL)
    *equals = '\0';
  point = equals != NULL ? strrchr (subject, '.') : NULL;
  if (point == NULL)
    {
      *status = batch_usage (call, _("--set '%s' is not understood: write bench:NAME.FIELD=VALUE or step:POSITION.FIELD=VALUE."), what);
      return FALSE;
    }
  *point = '\0';
  value = g_ascii_strtod (equals + 1, &end);
  index = find_subject (input, subject, &of_bench);
  if (index < 0)
    {
      *status = batch_usage (call, _("--set: there is no '%s': name a bench of the shop or a step of the route."), subject);
      return FALSE;
    }
  field = find_field (point + 1, of_bench);
  if (field < 0)
    {
      g_autofree char *names = field_names (of_bench);

      *status = batch_usage (call, _("--set: '%s' has no '%s'; it has: %s."), subject, point + 1, names);
      return FALSE;
    }
  if (end == equals + 1 || *end != '\0' || !insight_rate_set (input, (guint) index, (InsightRateField) field, value))
    {
      *status = batch_usage (call, _("--set: '%s' cannot be the %s of '%s'."), equals + 1, point + 1, subject);
      return FALSE;
    }
  return TRUE;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightPilot) pilot = NULL;
  g_autoptr(InsightRateInput) input = NULL;
  g_autoptr(InsightRate) rate = NULL;
  g_autoptr(PresentPilot) present = NULL;
  g_autoptr(PresentRate) words = NULL;
  g_autoptr(GError) error = NULL;
  InsightSpan span;
  BatchStatus status;

  if (by != NULL && !batch_is_moment (by))
    return batch_usage (call, _("--by: '%s' is not a date: write it as YYYY-MM-DD."), by);
  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status)
      || (round_label != NULL && !batch_round (call, evidence, round_label, &span.through, &status)))
    return status;
  pilot = insight_pilot (evidence, &span, &error);
  if (pilot == NULL)
    return batch_fail (call, error);
  input = insight_rate_input (evidence, pilot);
  for (guint i = 0; sets != NULL && sets[i] != NULL; i++)
    if (!set_one (call, input, sets[i], &status))
      return status;
  rate = insight_rate (input);
  if (!insight_rate_draw (rate, input, DRAWS, NAN, NULL, NULL, call->cancellable))
    g_debug ("There is no interval of the rate");

  present = present_pilot_new (pilot);
  words = present_rate_new (input, rate);
  if (by != NULL)
    present_rate_deliver (words, input, rate, insight_days_working (evidence, call->today, by), by);
  if (call->json)
    batch_write_json (call, present_json_pilot (present, input, rate, words));
  else
    batch_write_text (call, present_pilot_to_text (present, words, PRESENT_TEXT_WIDTH));
  return BATCH_DONE;
}

const BatchVerb batch_verb_pilot = {
  .name = "pilot",
  .arguments = N_("[--round ROUND] [--set WHAT=VALUE]…"),
  .summary = N_("Say where units and minutes go in a round, how many a month the shop can make, and what one costs."),
  .description = N_("Yields by step with intervals, rolled and final; losses by issue, the step that found and the step that caused "
                    "them; the rate of each bench and which sets the pace; the cost of one good unit. Units with serials count by "
                    "what happened to them, before that the tally; never both at one step."),
  .options = options,
  .run = run,
};
