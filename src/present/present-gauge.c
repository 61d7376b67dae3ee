/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-gauge.h"

#include "present-json.h"
#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* To a tenth: what is just above 30 % must not read as 30 %. A bound is rounded up, so that it claims no more. */
static char *
percent_at_most (double share)
{
  return present_percent (ceil (1000.0 * share - 1e-9) / 1000.0, 1);
}

/* What is wanted, as somebody wrote it: 30 %, 12.5 %. */
static char *
percent_wanted (double share)
{
  double percent = 100.0 * share;

  return present_value (percent, fabs (percent - round (percent)) < 1e-9 ? 0 : 1, "%");
}

static const char *
care_words (InsightGaugeCare care)
{
  switch (care)
    {
    case INSIGHT_CARE_UNKNOWN:
      return _("○ no calibration");
    case INSIGHT_CARE_IN_ORDER:
      return _("● in order");
    case INSIGHT_CARE_OVERDUE:
      return _("◆ overdue");
    case INSIGHT_CARE_OUT:
      return _("◆ out of order");
    }
  return "";
}

static PresentSheet *
gauges_sheet (const InsightGauges *gauges)
{
  PresentSheet *sheet = present_sheet_new (_("Gauges"));

  present_sheet_add_column (sheet, _("gauge"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("resolution"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("calibrated"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("due"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("state"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("readings"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("do not count"), TRUE, FALSE, 0);
  for (guint i = 0; i < gauges->n_gauges; i++)
    {
      const InsightGaugeLine *gauge = &gauges->gauges[i];

      present_sheet_add_row (sheet, "gauge", gauge->id, gauge->care == INSIGHT_CARE_OVERDUE || gauge->care == INSIGHT_CARE_OUT,
                             PRESENT_CELLS (g_strdup (gauge->name),
                                            isnan (gauge->resolution) ? g_strdup ("") : present_number (gauge->resolution, -1),
                                            g_strdup (gauge->calibrated), g_strdup (gauge->due), g_strdup (care_words (gauge->care)),
                                            g_strdup_printf ("%u", gauge->readings),
                                            gauge->not_counting > 0 ? g_strdup_printf ("%u", gauge->not_counting) : g_strdup ("")));
    }
  return sheet;
}

static const char *
verdict_words (const InsightStudyLine *line)
{
  if (!line->study->complete)
    return _("○ has gaps");
  if (!line->study->computed || isnan (line->study->tolerance_share))
    return _("○ no tolerance");
  if (line->study->tolerance_share > line->most)
    return _("◆ takes up too much");
  return line->at_most > line->most ? _("◐ too few to tell") : _("● good enough");
}

/* Up to which share the gauge is good enough, and who says so. */
static char *
wanted_words (const InsightStudyLine *line)
{
  g_autofree char *most = percent_wanted (line->most);

  /* Translators: the share of the tolerance that a gauge may take up at most, and the code of the criterion that says so */
  return *line->criterion != '\0' ? g_strdup_printf (_("%s, %s"), most, line->criterion) : g_steal_pointer (&most);
}

static PresentSheet *
studies_sheet (const InsightGauges *gauges)
{
  PresentSheet *sheet = present_sheet_new (_("Studies"));

  present_sheet_add_column (sheet, _("characteristic"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("gauge"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("ended"), FALSE, FALSE, 5);
  present_sheet_add_column (sheet, _("persons"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, _("pieces"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, _("trials"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, _("gauge's standard deviation"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("of the tolerance"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("at most"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("wanted"), FALSE, FALSE, 2);
  present_sheet_add_column (sheet, _("categories"), TRUE, FALSE, 5);
  present_sheet_add_column (sheet, _("state"), FALSE, FALSE, 0);
  for (guint i = 0; i < gauges->n_lines; i++)
    {
      const InsightStudyLine *line = &gauges->lines[i];
      const InsightStudy *study = line->study;

      present_sheet_add_row (sheet, "characteristic", line->characteristic,
                             study->computed && study->tolerance_share > line->most,
                             PRESENT_CELLS (g_strdup_printf ("%s %s", line->code, line->name), g_strdup (line->gauge),
                                            g_strdup (study->last), g_strdup_printf ("%u", study->n_persons),
                                            g_strdup_printf ("%u", study->n_pieces), g_strdup_printf ("%u", study->n_trials),
                                            isnan (study->answer.grr) ? g_strdup ("")
                                                                      : present_value (study->answer.grr, line->decimals + 2, line->unit),
                                            present_percent (study->tolerance_share, 1), percent_at_most (line->at_most),
                                            wanted_words (line),
                                            isnan (study->answer.ndc) ? g_strdup ("") : present_number (study->answer.ndc, 0),
                                            g_strdup (verdict_words (line))));
    }
  return sheet;
}

static PresentSheet *
checks_sheet (const InsightGauges *gauges)
{
  PresentSheet *sheet = present_sheet_new (_("Pieces known to be bad, mixed among good ones"));

  present_sheet_add_column (sheet, _("check"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("inspector"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("caught"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("tried"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("finds at least"), TRUE, FALSE, 1);
  for (guint i = 0; i < gauges->n_checks; i++)
    {
      const InsightCheckLine *check = &gauges->checks[i];
      const char letter[2] = { check->letter, '\0' };

      present_sheet_add_row (sheet, "characteristic", check->characteristic, check->caught < check->tried,
                             PRESENT_CELLS (g_strdup_printf ("%s %s", check->code, check->name), g_strdup (letter),
                                            g_strdup_printf ("%u", check->caught), g_strdup_printf ("%u", check->tried),
                                            isnan (check->at_least) ? g_strdup ("")
                                                                    : present_value (floor (100.0 * check->at_least), 0, "%")));
    }
  return sheet;
}

/**
 * present_gauge_share_sentence:
 * @line: a study
 *
 * Returns: (transfer full): how much of the tolerance the gauge takes up, and whether that is good enough
 */
char *
present_gauge_share_sentence (const InsightStudyLine *line)
{
  const InsightStudy *study = line->study;
  g_autofree char *share = present_percent (study->tolerance_share, 1), *most = percent_at_most (line->at_most), *wanted = percent_wanted (line->most);

  if (!study->complete)
    return g_strdup_printf (_("%s: the study with '%s' has gaps: every person must try every piece equally often, at least twice."),
                            line->code, line->gauge);
  if (*share == '\0')
    return g_strdup_printf (_("%s: without a lower and an upper limit nothing can be said about how much '%s' takes up of them."),
                            line->code, line->gauge);
  if (study->tolerance_share > line->most)
    return *line->criterion != '\0'
             ? g_strdup_printf (_("%s: '%s' takes up %s of the tolerance (at most %s at 90 %% confidence); criterion '%s' allows %s."),
                                line->code, line->gauge, share, most, line->criterion, wanted)
             : g_strdup_printf (_("%s: '%s' takes up %s of the tolerance (at most %s at 90 %% confidence); up to %s is good enough where no criterion sets a target, 10 %% the aim."),
                                line->code, line->gauge, share, most, wanted);
  if (line->at_most > line->most)
    return *line->criterion != '\0'
             ? g_strdup_printf (_("%s: '%s' takes up %s of the tolerance, but at 90 %% confidence it may be %s: more trials would tell whether it is within the %s of criterion '%s'."),
                                line->code, line->gauge, share, most, wanted, line->criterion)
             : g_strdup_printf (_("%s: '%s' takes up %s of the tolerance, but at 90 %% confidence it may be %s: more trials would tell whether it is below %s."),
                                line->code, line->gauge, share, most, wanted);
  return *line->criterion != '\0'
           ? g_strdup_printf (_("%s: '%s' takes up %s of the tolerance (at most %s at 90 %% confidence): good enough for criterion '%s', which allows %s."),
                              line->code, line->gauge, share, most, line->criterion, wanted)
           : g_strdup_printf (_("%s: '%s' takes up %s of the tolerance (at most %s at 90 %% confidence): good enough up to %s where no criterion sets a target."),
                              line->code, line->gauge, share, most, wanted);
}

/* Since when what a gauge read does not count, and what counts because somebody excused it. */
static void
add_out (GPtrArray *sentences, const InsightGaugeLine *gauge)
{
  if (gauge->not_counting > 0)
    g_ptr_array_add (sentences,
                     g_strdup_printf (ngettext ("'%s': readings since %s do not count: %u reading of this model.",
                                                "'%s': readings since %s do not count: %u readings of this model.",
                                                gauge->not_counting),
                                      gauge->name, gauge->since, gauge->not_counting));
  if (gauge->excused > 0)
    g_ptr_array_add (sentences,
                     g_strdup_printf (ngettext ("'%s': %u reading before a calibration that found it out of order counts, excused by name.",
                                                "'%s': %u readings before a calibration that found it out of order count, excused by name.",
                                                gauge->excused),
                                      gauge->name, gauge->excused));
}

static char *
headline (const InsightGauges *gauges)
{
  guint overdue = 0, not_counting = 0, too_much = 0;

  for (guint i = 0; i < gauges->n_gauges; i++)
    {
      overdue += gauges->gauges[i].care == INSIGHT_CARE_OVERDUE || gauges->gauges[i].care == INSIGHT_CARE_OUT;
      not_counting += gauges->gauges[i].not_counting;
    }
  for (guint i = 0; i < gauges->n_lines; i++)
    too_much += gauges->lines[i].study->computed && gauges->lines[i].study->tolerance_share > gauges->lines[i].most;
  if (gauges->n_gauges == 0)
    return g_strdup (_("Here stand the shop's gauges, when they are due, and how much of the tolerance each takes up. No gauge is in the book yet."));
  if (overdue > 0)
    return g_strdup_printf (ngettext ("%u gauge is overdue or out of order; readings of this model that do not count because of that: %u.",
                                      "%u gauges are overdue or out of order; readings of this model that do not count because of that: %u.",
                                      overdue),
                            overdue, not_counting);
  if (too_much > 0)
    return g_strdup_printf (ngettext ("%u study found a gauge that takes up too much of the tolerance.",
                                      "%u studies found a gauge that takes up too much of the tolerance.", too_much),
                            too_much);
  if (gauges->n_lines == 0)
    return g_strdup (_("All gauges are in order as far as is known. None was studied for this model yet: let several persons measure the same pieces several times."));
  return g_strdup (_("All gauges are in order as far as is known."));
}

/**
 * present_gauges_new:
 * @gauges: the answer; borrowed
 *
 * Returns: (transfer full): the same in words
 */
PresentGauges *
present_gauges_new (const InsightGauges *gauges)
{
  PresentGauges *present = g_new0 (PresentGauges, 1);

  present->data = gauges;
  present->headline = headline (gauges);
  present->gauges = gauges_sheet (gauges);
  present->studies = studies_sheet (gauges);
  present->checks = checks_sheet (gauges);
  present->sentences = g_ptr_array_new_with_free_func (g_free);
  present->notes = g_ptr_array_new_with_free_func (g_free);
  present->out = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < gauges->n_gauges; i++)
    add_out (present->out, &gauges->gauges[i]);
  for (guint i = 0; i < gauges->n_lines; i++)
    g_ptr_array_add (present->sentences, present_gauge_share_sentence (&gauges->lines[i]));
  if (gauges->n_lines > 0)
    g_ptr_array_add (present->notes, g_strdup (_("Variance components of a crossed study by analysis of variance; six standard deviations of the gauge over the tolerance; the bound by drawing each component (Burdick, Borror and Montgomery 2005).")));
  if (gauges->n_checks > 0)
    g_ptr_array_add (present->notes, g_strdup (_("A check is told by the inspector who finds the fewest; one-sided exact bounds (Clopper and Pearson 1934).")));
  if (gauges->n_lines + gauges->n_checks > 0)
    g_ptr_array_add (present->notes, g_strdup (_("Persons are letters here: a study is about the way of measuring, not about those who measure.")));
  return present;
}

void
present_gauges_free (PresentGauges *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  present_sheet_free (present->gauges);
  present_sheet_free (present->studies);
  present_sheet_free (present->checks);
  g_ptr_array_unref (present->out);
  g_ptr_array_unref (present->sentences);
  g_ptr_array_unref (present->notes);
  g_free (present);
}

static void
append_all (GString *text, GPtrArray *sentences, guint width)
{
  for (guint i = 0; i < sentences->len; i++)
    present_text_add (text, sentences->pdata[i], width, "", "");
}

/**
 * present_gauges_to_text:
 * @present: in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_gauges_to_text (const PresentGauges *present, guint width)
{
  const PresentSheet *const sheets[] = { present->gauges, present->studies, present->checks };
  GString *text = g_string_new (NULL);

  present_text_add (text, present->headline, width, "", "");
  append_all (text, present->out, width);
  append_all (text, present->sentences, width);
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  g_string_append_c (text, '\n');
  append_all (text, present->notes, width);
  return g_string_free (text, FALSE);
}

static void
add_study (JsonBuilder *builder, const InsightStudyLine *line, const char *sentence)
{
  const InsightStudy *study = line->study;

  json_builder_begin_object (builder);
  present_json_text (builder, "characteristic", line->code);
  present_json_text (builder, "gauge", line->gauge);
  present_json_text (builder, "sentence", sentence);
  present_json_text (builder, "last", study->last);
  present_json_flag (builder, "complete", study->complete);
  present_json_count (builder, "persons", study->n_persons);
  present_json_count (builder, "pieces", study->n_pieces);
  present_json_count (builder, "trials", study->n_trials);
  present_json_number (builder, "ev", study->answer.ev);
  present_json_number (builder, "av", study->answer.av);
  present_json_number (builder, "grr", study->answer.grr);
  present_json_number (builder, "pv", study->answer.pv);
  present_json_number (builder, "tv", study->answer.tv);
  present_json_number (builder, "grr_share", study->answer.grr_share);
  present_json_number (builder, "ndc", study->answer.ndc);
  present_json_number (builder, "tolerance", study->tolerance);
  present_json_number (builder, "tolerance_share", study->tolerance_share);
  present_json_number (builder, "at_most", line->at_most);
  present_json_number (builder, "wanted", line->most);
  present_json_text (builder, "criterion", line->criterion);
  json_builder_end_object (builder);
}

/**
 * present_json_gauges:
 * @present: in words
 *
 * Returns: (transfer full): all of it, unrounded; persons are letters
 */
JsonNode *
present_json_gauges (const PresentGauges *present)
{
  static const char *const cares[] = { "unknown", "in-order", "overdue", "out-of-order" };
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const InsightGauges *gauges = present->data;

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", gauges->model_code);
  present_json_text (builder, "today", gauges->today);
  present_json_text (builder, "sentence", present->headline);
  present_json_list (builder, "gauges");
  for (guint i = 0; i < gauges->n_gauges; i++)
    {
      const InsightGaugeLine *gauge = &gauges->gauges[i];

      json_builder_begin_object (builder);
      present_json_key (builder, "id", gauge->id);
      present_json_text (builder, "name", gauge->name);
      present_json_number (builder, "resolution", gauge->resolution);
      present_json_text (builder, "state", cares[gauge->care]);
      present_json_text (builder, "calibrated", gauge->calibrated);
      present_json_text (builder, "due", gauge->due);
      present_json_count (builder, "readings", gauge->readings);
      present_json_count (builder, "not_counting", gauge->not_counting);
      present_json_text (builder, "not_counting_since", gauge->since);
      present_json_count (builder, "excused", gauge->excused);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  present_json_list (builder, "studies");
  for (guint i = 0; i < gauges->n_lines; i++)
    add_study (builder, &gauges->lines[i], present->sentences->pdata[i]);
  json_builder_end_array (builder);
  present_json_list (builder, "checks");
  for (guint i = 0; i < gauges->n_checks; i++)
    {
      const InsightCheckLine *check = &gauges->checks[i];
      const char letter[2] = { check->letter, '\0' };

      json_builder_begin_object (builder);
      present_json_text (builder, "characteristic", check->code);
      present_json_text (builder, "inspector", letter);
      present_json_count (builder, "caught", check->caught);
      present_json_count (builder, "tried", check->tried);
      present_json_number (builder, "at_least", check->at_least);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}
