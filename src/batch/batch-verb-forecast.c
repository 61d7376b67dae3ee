/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch forecast: when the criteria that block will be met, under assumptions that stand beside it. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-forecast.h"
#include "book-choices.h"
#include "book-recorded.h"
#include "present-another-round.h"
#include "present-forecast.h"
#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n.h>
#include <math.h>

static char **sets;
static gboolean with_past;

static const GOptionEntry options[] = {
  { "set", 0, 0, G_OPTION_ARG_STRING_ARRAY, &sets,
    N_("assume it otherwise: more_units=N, waits=SUPPLIER or REASON, wait_most=DAYS, shortest=DAYS, longest=DAYS, worked=N, failed=N, "
       "residual=SHARE"),
    N_("WHAT=VALUE") },
  { "earlier", 0, 0, G_OPTION_ARG_NONE, &with_past, N_("also what earlier rounds would have said, against what happened"), NULL },
  G_OPTION_ENTRY_NULL,
};

static int
find_waits (const InsightForecastInput *input, const char *name)
{
  for (guint i = 0; i < input->n_waits; i++)
    {
      const BookChoice *reason = book_choice_by_code (book_wait_reasons, (int) input->waits[i].reason);

      if (*input->waits[i].name != '\0' ? g_str_equal (input->waits[i].name, name) : reason != NULL && g_str_equal (reason->text, name))
        return (int) i;
    }
  return -1;
}

static gboolean
set_one (BatchCall *call, const InsightForecastInput *input, InsightForecastSettings *settings, const char *what, BatchStatus *status)
{
  g_auto(GStrv) parts = g_strsplit (what, "=", 2);
  const char *name = parts[0], *value = parts[0] != NULL ? parts[1] : NULL;
  InsightForecastField field;
  gboolean ok;
  char *end;

  if (value == NULL)
    {
      *status = batch_usage (call, _("--set '%s' is not understood: write WHAT=VALUE."), what);
      return FALSE;
    }
  field = insight_forecast_field_find (name);
  if (g_str_equal (name, "waits"))
    ok = (settings->waits = find_waits (input, value)) >= 0;
  else if (field < INSIGHT_FORECAST_N_FIELDS)
    {
      double figure = g_ascii_strtod (value, &end);

      ok = end != value && *end == '\0' && insight_forecast_set (settings, field, figure);
    }
  else
    {
      *status = batch_usage (call, _("--set: there is no '%s'; there is: %s."), name,
                             "more_units waits wait_most shortest longest worked failed residual");
      return FALSE;
    }
  if (!ok)
    *status = batch_usage (call, _("--set: '%s' cannot be '%s'."), name, value);
  return ok;
}

/**
 * batch_forecast_input:
 * @call: the call
 * @evidence: of the model
 * @span: asked about
 * @standing: (out) (transfer full): where the model stands
 * @status: (out): set on failure
 *
 * Returns: (transfer full) (nullable): what a forecast is made of; otherwise a sentence was written
 */
InsightForecastInput *
batch_forecast_input (BatchCall *call, const BookEvidence *evidence, const InsightSpan *span, InsightStanding **standing, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightIssues) issues = NULL;
  InsightForecastInput *input = NULL;

  *standing = insight_standing (evidence, span, call->cancellable, &error);
  if (*standing != NULL)
    issues = insight_issues (evidence, span, call->cancellable, &error);
  if (issues != NULL)
    input = insight_forecast_input (evidence, *standing, issues, &error);
  if (input == NULL)
    *status = batch_fail (call, error);
  return input;
}

/* What one more round takes and could prove. */
static InsightAnotherRound *
another_round (BatchCall *call, const BookEvidence *evidence, const InsightSpan *span, const InsightStanding *standing,
               const InsightForecastInput *input, GError **error)
{
  g_autoptr(InsightPilot) pilot = insight_pilot (evidence, span, error);
  g_autoptr(InsightRateInput) rate_input = NULL;
  g_autoptr(InsightRate) rate = NULL;

  if (pilot == NULL)
    return NULL;
  rate_input = insight_rate_input (evidence, pilot);
  rate = insight_rate (rate_input);
  if (!insight_rate_draw (rate, rate_input, INSIGHT_FORECAST_DRAWS, NAN, NULL, NULL, call->cancellable)
      && g_cancellable_set_error_if_cancelled (call->cancellable, error))
    return NULL;
  return insight_another_round (evidence, standing, input, rate_input, rate, call->cancellable, error);
}

/* Asked for by name, the journal is replayed however long it is. */
static GArray *
earlier (BatchCall *call, Book *book, const BookEvidence *evidence, const InsightStanding *standing, GError **error)
{
  StoreDb *db = store_front_db (book_get_store (book), error);
  g_autoptr(BookRecorded) recorded = NULL;

  if (db != NULL)
    recorded = book_recorded_load (db, evidence, standing->today, G_MAXINT64, batch_progress, call, call->cancellable, error);
  if (recorded == NULL)
    return NULL;
  return insight_forecast_past (evidence, standing, (const BookEvidence *const *) recorded->rounds->pdata, call->cancellable, error);
}

static char *
text_of (const PresentForecast *present, const PresentAnotherRound *another)
{
  g_autofree char *forecast = present_forecast_to_text (present, PRESENT_TEXT_WIDTH);
  GString *text = g_string_new (forecast);

  g_string_append_c (text, '\n');
  present_another_round_add_text (another, text, PRESENT_TEXT_WIDTH);
  return g_string_free (text, FALSE);
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightForecastInput) input = NULL;
  g_autoptr(InsightForecast) forecast = NULL;
  g_autoptr(InsightAnotherRound) another = NULL;
  g_autoptr(PresentAnotherRound) another_words = NULL;
  g_autoptr(PresentForecast) present = NULL;
  g_autoptr(GArray) helps = NULL, past = NULL;
  g_autoptr(GError) error = NULL;
  InsightForecastSettings settings;
  InsightSpan span;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;
  input = batch_forecast_input (call, evidence, &span, &standing, &status);
  if (input == NULL)
    return status;
  settings = input->defaults;
  for (guint i = 0; sets != NULL && sets[i] != NULL; i++)
    if (!set_one (call, input, &settings, sets[i], &status))
      return status;
  if (settings.shortest > settings.longest)
    return batch_usage (call, _("--set: the shortest round must not be longer than the longest."));

  forecast = insight_forecast (input, &settings, INSIGHT_FORECAST_DRAWS, call->cancellable);
  if (forecast != NULL)
    helps = insight_forecast_helps (input, &settings, call->cancellable);
  if (helps != NULL && with_past)
    past = earlier (call, book, evidence, standing, &error);
  if (helps != NULL && (!with_past || past != NULL))
    another = another_round (call, evidence, &span, standing, input, &error);
  if (another == NULL)
    {
      g_cancellable_set_error_if_cancelled (call->cancellable, error == NULL ? &error : NULL);
      return batch_fail (call, error);
    }
  present = present_forecast_new (input, &settings, forecast, helps, past);
  another_words = present_another_round_new (another);
  if (call->json)
    {
      g_autoptr(JsonNode) node = present_json_forecast (present, input, &settings, forecast, helps, past);

      json_object_set_member (json_node_get_object (node), "another_round", present_json_another_round (another_words, another));
      batch_write_json (call, g_steal_pointer (&node));
    }
  else
    batch_write_text (call, text_of (present, another_words));
  return BATCH_DONE;
}

const BatchVerb batch_verb_forecast = {
  .name = "forecast",
  .arguments = N_("[--set WHAT=VALUE]… [--earlier]"),
  .summary = N_("Say when the criteria that block will be met, under assumptions that stand beside the dates."),
  .description = N_("Rounds are played by the rules of the standing, looks, starts again and fixes included. From three finished rounds "
                    "on the dates of half and of four in five of the futures, from six on that of 95 in 100; below, only a range. What "
                    "cannot be played is left out by name. Then what one more round takes in working days, units and money, and "
                    "the chance of each criterion that blocks to be met by it."),
  .options = options,
  .run = run,
};
