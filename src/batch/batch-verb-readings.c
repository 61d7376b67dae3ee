/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch readings: single values, spread and capability of a characteristic, or all of them, the worst first. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-readings.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>

static char *characteristic;
static gboolean all_rules;

static const GOptionEntry options[] = {
  { "characteristic", 'c', 0, G_OPTION_ARG_STRING, &characteristic,
    N_("Which characteristic; all of them, the worst first, when left out"), N_("CODE") },
  { "rules", 0, 0, G_OPTION_ARG_NONE, &all_rules,
    N_("Look for five patterns in the single values, not only for values beyond the control limits"), NULL },
  G_OPTION_ENTRY_NULL
};

void
batch_readings_clear (BatchReadings *readings)
{
  g_clear_pointer (&readings->present, present_readings_free);
  g_clear_pointer (&readings->individuals, insight_individuals_free);
  g_clear_pointer (&readings->series, insight_series_free);
}

static gint64
find_characteristic (const BookEvidence *evidence, const char *code, char **known)
{
  g_autoptr(GPtrArray) codes = g_ptr_array_new ();
  gint64 id = 0;

  for (guint i = 0; i < evidence->n_characteristics; i++)
    {
      g_ptr_array_add (codes, (gpointer) evidence->characteristics[i].code);
      if (g_strcmp0 (evidence->characteristics[i].code, code) == 0)
        id = evidence->characteristics[i].id;
    }
  g_ptr_array_add (codes, NULL);
  *known = g_strjoinv (", ", (char **) codes->pdata);
  return id;
}

/**
 * batch_readings:
 * @call: the call
 * @evidence: of the model
 * @code: (nullable): of the characteristic
 * @rules: #InsightRules that are looked for in the single values
 * @span: asked about
 * @readings: (out): what its readings say
 * @status: (out): set on failure
 *
 * Returns: whether there is such a characteristic
 */
gboolean
batch_readings (BatchCall *call, const BookEvidence *evidence, const char *code, guint rules, const InsightSpan *span,
                BatchReadings *readings, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightGauges) gauges = NULL;
  g_autofree char *known = NULL;
  gint64 id = find_characteristic (evidence, code, &known);

  if (id == 0)
    {
      *status = code == NULL
                    ? batch_usage (call, _("This kind of chart needs --characteristic and one of these codes: %s."), known)
                    : batch_usage (call, _("Model '%s' has no characteristic '%s'; it has: %s."), evidence->code, code, known);
      return FALSE;
    }
  readings->series = insight_series (evidence, id, span, call->cancellable, &error);
  if (readings->series == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  readings->individuals = insight_individuals (readings->series, rules);
  readings->present = present_readings_new (readings->series, readings->individuals);
  gauges = insight_gauges (evidence, span, call->cancellable, &error);
  if (gauges == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  present_readings_take_gauges (readings->present, gauges);
  return TRUE;
}

static char *
tell_wall (BatchCall *call, const BookEvidence *evidence, const InsightSpan *span, GError **error)
{
  g_autoptr(InsightWall) wall = insight_wall (evidence, span, call->cancellable, error);
  g_autoptr(JsonNode) node = NULL;

  if (wall == NULL)
    return NULL;
  if (!call->json)
    return present_wall_to_text (wall, PRESENT_TEXT_WIDTH);
  node = present_json_wall (wall);
  return present_json_print (node);
}

static char *
tell_one (BatchCall *call, const BatchReadings *readings)
{
  g_autoptr(JsonNode) node = NULL;

  if (!call->json)
    return present_readings_to_text (readings->present, PRESENT_TEXT_WIDTH);
  node = present_json_readings (readings->present);
  return present_json_print (node);
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(GError) error = NULL;
  g_auto(BatchReadings) readings = { 0 };
  g_autofree char *text = NULL;
  InsightSpan span;
  BatchStatus status;

  if (characteristic == NULL && all_rules)
    return batch_usage (call, _("--rules looks at one characteristic: add --characteristic. Of many at once, five rules "
                                "would give false signals everywhere."));
  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  if (characteristic == NULL)
    text = tell_wall (call, evidence, &span, &error);
  else if (!batch_readings (call, evidence, characteristic, all_rules ? INSIGHT_RULES_ALL : INSIGHT_RULE_ONE, &span, &readings, &status))
    return status;
  else
    text = tell_one (call, &readings);
  if (text == NULL)
    return batch_fail (call, error);
  batch_write (call, text);
  return BATCH_DONE;
}

const BatchVerb batch_verb_readings = {
  .name = "readings",
  .arguments = "",
  .summary = N_("Say how the values of a characteristic lie: signals, spread, capability; or list all, the worst first."),
  .description = N_("Control limits come from the units that count, in order of build. Capability is given only from 30 units on, "
                    "with limits in force and a shape stated beforehand."),
  .options = options,
  .run = run,
};
