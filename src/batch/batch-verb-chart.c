/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch chart: one chart into a file. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-compare.h"
#include "batch-forecast.h"
#include "batch-life.h"
#include "batch-readings.h"
#include "chart-output.h"
#include "chart-strip.h"
#include "chart-wall.h"
#include "insight-days.h"
#include "insight-issue.h"
#include "insight-series.h"
#include "present-chart.h"
#include "present-issue.h"
#include "present-forecast.h"
#include "present-leadtime.h"
#include "present-life.h"
#include "present-pilot.h"

#include <glib/gi18n.h>
#include <math.h>

#define WIDTH 960.0
#define HEIGHT 540.0
#define RATE_DRAWS 20000

static char *output;
static char *characteristic;
static char *size;
static char *look;
static char *rules;
static guint rules_asked; /* @rules as #InsightRules */
static gboolean list;
static BatchCompareOptions given;

static const GOptionEntry options[] = {
  { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("Where to; its ending .png, .svg or .pdf says what"), N_("FILE") },
  { "characteristic", 'c', 0, G_OPTION_ARG_STRING, &characteristic, N_("Which characteristic is drawn"), N_("CODE") },
  { "size", 0, 0, G_OPTION_ARG_STRING, &size, N_("Width and height in dots, 960x540 when left out"), N_("WxH") },
  { "look", 0, 0, G_OPTION_ARG_STRING, &look, N_("light, dark or print (black on white, when left out)"), N_("LOOK") },
  { "rules", 0, 0, G_OPTION_ARG_STRING, &rules,
    N_("Which patterns are looked for in single values, as in 1,2,3,5,6; 1 when left out. Each signal is told in a sentence"),
    N_("LIST") },
  BATCH_COMPARE_ENTRIES (given),
  { "list", 0, 0, G_OPTION_ARG_NONE, &list, N_("Name the kinds of chart"), NULL },
  G_OPTION_ENTRY_NULL
};

typedef struct
{
  Book               *book;
  const BookEvidence *evidence;
  const InsightSpan  *span;
} Input;

/* A kind draws; FALSE with @status set when it cannot. */
typedef struct
{
  const char *name;
  const char *summary;
  Chart *(*make) (BatchCall *call, const Input *input, BatchStatus *status);
} Kind;

static Chart *
make_characteristic (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_auto(BatchReadings) readings = { 0 };

  if (!batch_readings (call, input->evidence, characteristic, INSIGHT_RULE_ONE, input->span, &readings, status))
    return NULL;
  return present_chart_characteristic (readings.series, TRUE);
}

static Chart *
make_issues (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightIssues) issues = insight_issues (input->evidence, input->span, call->cancellable, &error);

  if (issues == NULL)
    {
      *status = batch_fail (call, error);
      return NULL;
    }
  return present_chart_issues (issues, TRUE);
}

static Chart *
make_effect (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(PresentComparison) present = NULL;

  if (!batch_compare_check (call, &given, status))
    return NULL;
  present = batch_compare (call, input->evidence, &given, status);
  return present == NULL ? NULL : present_chart_effect (present, TRUE);
}

static Chart *
make_forecast (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = NULL;
  g_autoptr(InsightForecastInput) from = batch_forecast_input (call, input->evidence, input->span, &standing, status);
  g_autoptr(InsightForecast) forecast = NULL;

  if (from == NULL)
    return NULL;
  forecast = insight_forecast (from, &from->defaults, INSIGHT_FORECAST_DRAWS, call->cancellable);
  if (forecast == NULL)
    {
      g_cancellable_set_error_if_cancelled (call->cancellable, &error);
      *status = batch_fail (call, error);
      return NULL;
    }
  return present_chart_forecast (from, &from->defaults, forecast, TRUE);
}

static Chart *
make_leadtime (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) others = batch_other_rounds (input->book, input->evidence->model_id, &error);
  g_autoptr(InsightLeadtime) leadtime = NULL;

  if (others != NULL)
    leadtime = insight_leadtime (input->evidence, (const BookEvidence *const *) others->pdata, others->len, input->span, &error);
  if (leadtime == NULL)
    {
      *status = batch_fail (call, error);
      return NULL;
    }
  return present_chart_leadtime (leadtime, TRUE);
}

/* What a ring in the drawing stands for. */
static void
tell_signals (BatchCall *call, const PresentReadings *present)
{
  g_autoptr(GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s\n", present->control);
  for (guint i = 0; i < present->signals->rows->len; i++)
    {
      const PresentSheetRow *row = &g_array_index (present->signals->rows, PresentSheetRow, i);

      g_string_append_printf (text, "%s  %s\n", row->cells[0], row->cells[1]);
    }
  if (present->caution != NULL)
    g_string_append_printf (text, "%s\n", present->caution);
  batch_write (call, text->str);
}

static Chart *
make_individuals (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_auto(BatchReadings) readings = { 0 };

  if (!batch_readings (call, input->evidence, characteristic, rules_asked, input->span, &readings, status))
    return NULL;
  if (rules != NULL)
    tell_signals (call, readings.present);
  return present_chart_individuals (readings.present, TRUE);
}

static Chart *
make_distribution (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_auto(BatchReadings) readings = { 0 };

  if (!batch_readings (call, input->evidence, characteristic, INSIGHT_RULE_ONE, input->span, &readings, status))
    return NULL;
  return present_chart_distribution (readings.present, TRUE);
}

static Chart *
make_wall (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightWall) wall = insight_wall (input->evidence, input->span, call->cancellable, &error);

  if (wall == NULL)
    {
      *status = batch_fail (call, error);
      return NULL;
    }
  return present_chart_wall (wall, TRUE);
}

static Chart *
make_score (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightStanding) standing = insight_standing (input->evidence, input->span, call->cancellable, &error);

  if (standing == NULL)
    {
      *status = batch_fail (call, error);
      return NULL;
    }
  return present_chart_score (standing, TRUE);
}

static Chart *
make_strip (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(InsightDays) days = insight_days (input->evidence, input->span->today, &error);
  Chart *chart;

  if (days == NULL)
    {
      *status = batch_fail (call, error);
      return NULL;
    }
  chart = present_chart_strip (days);
  chart_strip_set_legend (chart, TRUE);
  return chart;
}

static InsightPilot *
look_at_run (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  InsightPilot *pilot = insight_pilot (input->evidence, input->span, &error);

  if (pilot == NULL)
    *status = batch_fail (call, error);
  return pilot;
}

static Chart *
make_life (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(InsightLife) life = batch_life (call, input->evidence, characteristic, input->span, status);

  return life == NULL ? NULL : present_chart_life (life, TRUE);
}

static Chart *
make_growth (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(InsightLife) life = batch_life (call, input->evidence, characteristic, input->span, status);

  return life == NULL ? NULL : present_chart_growth (life, TRUE);
}

static Chart *
make_losses (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(InsightPilot) pilot = look_at_run (call, input, status);

  return pilot == NULL ? NULL : present_chart_losses (pilot, TRUE);
}

static Chart *
make_rate (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(InsightPilot) pilot = look_at_run (call, input, status);
  g_autoptr(InsightRateInput) rate_input = NULL;
  g_autoptr(InsightRate) rate = NULL;

  if (pilot == NULL)
    return NULL;
  rate_input = insight_rate_input (input->evidence, pilot);
  rate = insight_rate (rate_input);
  if (!insight_rate_draw (rate, rate_input, RATE_DRAWS, NAN, NULL, NULL, call->cancellable))
    g_debug ("There is no interval of the rate");
  return present_chart_rate (rate_input, rate, TRUE);
}

static Chart *
make_yield (BatchCall *call, const Input *input, BatchStatus *status)
{
  g_autoptr(InsightPilot) pilot = look_at_run (call, input, status);

  return pilot == NULL ? NULL : present_chart_yield (pilot, TRUE);
}

static const Kind kinds[] = {
  { "characteristic", N_("one characteristic: each unit's value in order of build, limits, round means"), make_characteristic },
  { "distribution", N_("how the values of each round of a characteristic lie between its limits"), make_distribution },
  { "effect", N_("what changes did between two rounds or two groups of one, a row a characteristic"), make_effect },
  { "forecast", N_("the share of futures in which the criteria that block are met, by working days"), make_forecast },
  { "growth", N_("failures in life tests over all cycles, from first to last"), make_growth },
  { "individuals", N_("single values of a characteristic in order of build, with control limits"), make_individuals },
  { "issues", N_("the issues found, and those shown to be solved, over time"), make_issues },
  { "leadtime", N_("where each round's working days went, and those of earlier models"), make_leadtime },
  { "life", N_("lives on Weibull paper, by way of failing, with stopped units"), make_life },
  { "losses", N_("what a run lost: each issue at the step that found it"), make_losses },
  { "rate", N_("what each bench could make in a month, and which sets the pace"), make_rate },
  { "score", N_("the evidence gathered, through the rounds"), make_score },
  { "strip", N_("the rounds in order, each by where its days went"), make_strip },
  { "wall", N_("all characteristics as small charts, the worst first"), make_wall },
  { "yield", N_("the yield of each step of a run, and of all in a row"), make_yield },
};

static BatchStatus
write_list (BatchCall *call)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *line = g_strdup_printf ("%-16s%s\n", kinds[i].name, _(kinds[i].summary));

      batch_write (call, line);
    }
  return BATCH_DONE;
}

static const Kind *
find_kind (BatchCall *call, BatchStatus *status)
{
  const char *names[G_N_ELEMENTS (kinds) + 1] = { NULL };
  const char *nearest;

  if (call->n_arguments == 0)
    {
      *status = batch_usage (call, _("Say which chart: 'fettle-batch chart --list' names the kinds."));
      return NULL;
    }
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      if (g_str_equal (kinds[i].name, call->arguments[0]))
        return &kinds[i];
      names[i] = kinds[i].name;
    }
  nearest = batch_nearest (call->arguments[0], names);
  *status = nearest == NULL
                ? batch_usage (call, _("There is no chart '%s': 'fettle-batch chart --list' names the kinds."), call->arguments[0])
                : batch_usage (call, _("There is no chart '%s': did you mean '%s'?"), call->arguments[0], nearest);
  return NULL;
}

static gboolean
read_size (BatchCall *call, double *width, double *height, BatchStatus *status)
{
  char *end = NULL;

  if (size == NULL)
    return TRUE;
  *width = g_ascii_strtod (size, &end);
  if (end != size && (*end == 'x' || *end == 'X'))
    {
      const char *second = end + 1;

      *height = g_ascii_strtod (second, &end);
      if (end != second && *end == '\0')
        return TRUE;
    }
  *status = batch_usage (call, _("'%s' is not a size: write --size as width x height, as in 960x540."), size);
  return FALSE;
}

static gboolean
read_look (BatchCall *call, ChartLook *chosen, BatchStatus *status)
{
  static const char *const names[] = { "light", "dark", "print" };
  static const ChartLook looks[] = { CHART_LOOK_LIGHT, CHART_LOOK_DARK, CHART_LOOK_PRINT };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_strcmp0 (look, names[i]) == 0)
      {
        *chosen = looks[i];
        return TRUE;
      }
  *chosen = CHART_LOOK_PRINT;
  if (look == NULL)
    return TRUE;
  *status = batch_usage (call, _("There is no look '%s': choose light, dark or print."), look);
  return FALSE;
}

static gboolean
read_rules (BatchCall *call, const Kind *kind, BatchStatus *status)
{
  g_auto(GStrv) words = NULL;

  rules_asked = INSIGHT_RULE_ONE;
  if (rules == NULL)
    return TRUE;
  if (kind->make != make_individuals)
    {
      *status = batch_usage (call, _("--rules is for single values: 'fettle-batch chart individuals'."));
      return FALSE;
    }
  rules_asked = 0;
  words = g_strsplit (rules, ",", -1);
  for (guint i = 0; words[i] != NULL || i == 0; i++)
    {
      const char *word = words[i] != NULL ? g_strstrip (words[i]) : "";
      const guint rule = word[0] >= '0' && word[0] <= '9' && word[1] == '\0' ? (guint) (word[0] - '0') : 0;

      if (rule == 0 || ((1u << rule) & INSIGHT_RULES_ALL) == 0)
        {
          *status = batch_usage (call, _("'%s' is not a rule: write --rules as some of 1, 2, 3, 5 and 6 with commas between them."),
                                 word);
          return FALSE;
        }
      rules_asked |= 1u << rule;
    }
  return TRUE;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(BookEvidence) evidence = NULL;
  g_autoptr(Chart) chart = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *created = NULL;
  double width = WIDTH, height = HEIGHT;
  ChartLook chosen;
  InsightSpan span;
  BatchStatus status;
  const Kind *kind;

  if (list)
    return write_list (call);
  kind = find_kind (call, &status);
  if (kind == NULL || !read_size (call, &width, &height, &status) || !read_look (call, &chosen, &status)
      || !read_rules (call, kind, &status))
    return status;
  if (output == NULL)
    return batch_usage (call, _("Say where the chart goes: add -o and a file ending in .png, .svg or .pdf."));
  if (!batch_book_open (call, &book, &status) || !batch_evidence (call, book, &evidence, &span, &status))
    return status;

  chart = kind->make (call, &(Input) { book, evidence, &span }, &status);
  if (chart == NULL)
    return status;
  if (size == NULL && chart_own_height (chart, chart_theme (chosen)) > 0.0)
    height = chart_own_height (chart, chart_theme (chosen));
  if (kind->make == make_wall && size == NULL)
    height = MAX (HEIGHT, chart_wall_height (chart, width));
  created = g_strdup_printf ("%sT00:00:00Z", call->today);
  chart_set_document (chart, evidence->name, created);
  if (!chart_write (chart, output, width, height, chosen, &error))
    return batch_fail (call, error);
  return BATCH_DONE;
}

const BatchVerb batch_verb_chart = {
  .name = "chart",
  .arguments = N_("KIND -o FILE"),
  .summary = N_("Draw one chart as PNG, SVG or PDF, by the file's ending."),
  .description = N_("'chart --list' names the kinds. The same drawing as in the window, for screen or paper."),
  .most = 1,
  .options = options,
  .run = run,
};
