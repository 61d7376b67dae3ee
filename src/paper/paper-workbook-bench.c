/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets of what was measured: every reading, every unit, life tests, gauges and their studies. */

#include "config.h"

#include "paper-workbook-private.h"

#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ASK_EVERY 10000 /* readings after which is asked whether to go on */

static const char *
label_of (const BookChoice *choices, gint64 code)
{
  const BookChoice *choice = book_choice_by_code (choices, code);

  return choice != NULL ? book_choice_label (choice) : "";
}

static void
add_reading (Sheets *sheets, const BookEvidence *e, const BookEvidenceCharacteristic *of, const BookEvidenceReading *reading,
             const InsightSeries *series, const InsightMark *mark)
{
  const BookEvidenceUnit *unit = &e->units[reading->unit];
  const InsightSeriesLimit *limit = series->now >= 0 ? &series->limits[series->now] : NULL;
  const int step = reading->step >= 0 ? reading->step : of->step, gauge = reading->gauge >= 0 ? reading->gauge : of->gauge;

  sheets_text (sheets, unit->round >= 0 ? e->rounds[unit->round].label : "");
  sheets_text (sheets, unit->serial);
  sheets_text (sheets, of->code);
  sheets_own (sheets, of->name);
  sheets_count (sheets, reading->attempt);
  sheets_count (sheets, reading->n);
  sheets_number (sheets, reading->value, of->decimals);
  sheets_text (sheets, of->unit);
  sheets_text (sheets, reading->mark != BOOK_MARK_MEASURED ? label_of (book_marks, reading->mark) : "");
  sheets_number (sheets, limit != NULL ? limit->lower : (double) NAN, of->decimals);
  sheets_number (sheets, limit != NULL ? limit->upper : (double) NAN, of->decimals);
  sheets_text (sheets, mark != NULL ? present_verdict_words (mark->verdict) : "");
  sheets_yes (sheets, mark != NULL && mark->counting == INSIGHT_COUNTS);
  if (mark == NULL)
    sheets_text (sheets, _("of a later round, does not count"));
  else
    sheets_text (sheets, mark->counting != INSIGHT_COUNTS ? present_counting_words (mark->counting) : "");
  sheets_day (sheets, reading->day, reading->second);
  sheets_text (sheets, step >= 0 ? e->steps[step].name : "");
  sheets_text (sheets, gauge >= 0 ? e->gauges[gauge].name : "");
  sheets_text (sheets, mark != NULL ? mark->lot : "");
  sheets_row (sheets);
}

static const InsightSeries *
find_series (const InsightWall *wall, gint64 characteristic)
{
  for (guint i = 0; i < wall->n_items; i++)
    if (wall->items[i].series->characteristic == characteristic)
      return wall->items[i].series;
  return NULL;
}

gboolean
sheets_add_readings (Sheets *sheets, GCancellable *cancellable, GError **error)
{
  const SheetsColumn columns[] = {
    { _("round"), 10 }, { _("unit"), 14 }, { _("characteristic"), 14 }, { _("name"), 30 }, { _("attempt"), 9 }, { _("repeat"), 9 },
    { _("value"), 12 }, { _("unit of measure"), 10 }, { _("mark"), 12 }, { _("lower limit"), 12 }, { _("upper limit"), 12 },
    { _("by the limits"), 16 }, { _("counts"), 9 }, { _("why not"), 40 }, { _("taken"), 18 }, { _("step"), 24 }, { _("gauge"), 24 },
    { _("lot"), 14 },
  };
  const PresentDossier *dossier = sheets_dossier (sheets);
  const BookEvidence *e = dossier->evidence;

  sheets_begin_of (sheets, _("Readings"), columns);
  for (guint c = 0; c < e->n_characteristics; c++)
    {
      const BookEvidenceCharacteristic *of = &e->characteristics[c];
      const InsightSeries *series = find_series (dossier->wall, of->id);

      for (guint i = of->first_reading; series != NULL && i < of->end_reading; i++)
        {
          int mark = series->of_readings[i - of->first_reading];

          if (i % ASK_EVERY == 0 && g_cancellable_set_error_if_cancelled (cancellable, error))
            return FALSE;
          add_reading (sheets, e, of, &e->readings[i], series, mark >= 0 ? &series->marks[mark] : NULL);
        }
    }
  return TRUE;
}

/* ---- units ---- */

/* What was written down for one unit, from @first on; rows are by unit. */
static char *
parts_words (const BookEvidence *e, guint unit, guint *first)
{
  GString *text = g_string_new (NULL);

  while (*first < e->n_unit_parts && e->unit_parts[*first].unit < (int) unit)
    (*first)++;
  for (; *first < e->n_unit_parts && e->unit_parts[*first].unit == (int) unit; (*first)++)
    {
      const BookEvidenceUnitPart *part = &e->unit_parts[*first];

      if (text->len > 0)
        g_string_append (text, "; ");
      if (part->part >= 0)
        g_string_append (text, e->parts[part->part].number);
      else if (part->step >= 0)
        g_string_append (text, e->steps[part->step].name);
      if (part->revision >= 0)
        g_string_append_printf (text, " %s", e->revisions[part->revision].label);
      if (part->lot >= 0)
        g_string_append_printf (text, _(", lot %s"), e->lots[part->lot].number);
    }
  return g_string_free (text, FALSE);
}

static void
add_events (Sheets *sheets, const BookEvidence *e, guint unit, guint *first)
{
  guint n = 0, kinds[BOOK_EVENT_SET_ASIDE + 1] = { 0 };
  const BookEvidenceEvent *last = NULL;

  while (*first < e->n_events && e->events[*first].unit < (int) unit)
    (*first)++;
  for (; *first < e->n_events && e->events[*first].unit == (int) unit; (*first)++, n++)
    {
      last = &e->events[*first];
      if ((guint) last->kind < G_N_ELEMENTS (kinds))
        kinds[last->kind]++;
    }
  sheets_count (sheets, n);
  sheets_count (sheets, kinds[BOOK_EVENT_SENT_BACK]);
  sheets_count (sheets, kinds[BOOK_EVENT_REWORKED]);
  sheets_yes (sheets, kinds[BOOK_EVENT_ALTERED] > 0);
  sheets_yes (sheets, kinds[BOOK_EVENT_SCRAPPED] > 0);
  sheets_yes (sheets, kinds[BOOK_EVENT_SET_ASIDE] > 0);
  sheets_text (sheets, last != NULL ? label_of (book_event_kinds, (gint64) last->kind) : "");
  sheets_day (sheets, last != NULL ? last->day : 0, -1);
}

void
sheets_add_units (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("round"), 10 }, { _("kind of round"), 14 }, { _("unit"), 14 }, { _("part"), 24 }, { _("assembled on"), 12 },
    { _("readings"), 10 }, { _("findings"), 10 }, { _("events"), 9 }, { _("sent back"), 9 }, { _("reworked"), 10 }, { _("altered"), 9 },
    { _("scrapped"), 10 }, { _("set aside"), 9 }, { _("last event"), 16 }, { _("on"), 12 }, { _("as written down"), 60 },
  };
  const BookEvidence *e = sheets_dossier (sheets)->evidence;
  g_autofree guint *readings = g_new0 (guint, e->n_units + 1), *findings = g_new0 (guint, e->n_units + 1);
  guint next_part = 0, next_event = 0;

  for (guint i = 0; i < e->n_readings; i++)
    readings[e->readings[i].unit]++;
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].unit >= 0)
      findings[e->findings[i].unit]++;
  sheets_begin_of (sheets, _("Units"), columns);
  for (guint i = 0; i < e->n_units; i++)
    {
      const BookEvidenceUnit *unit = &e->units[i];
      g_autofree char *parts = parts_words (e, i, &next_part);

      sheets_text (sheets, unit->round >= 0 ? e->rounds[unit->round].label : "");
      sheets_text (sheets, unit->round >= 0 ? label_of (book_round_kinds, (gint64) e->rounds[unit->round].kind) : "");
      sheets_text (sheets, unit->serial);
      sheets_own (sheets, unit->part >= 0 ? e->parts[unit->part].name : "");
      sheets_day (sheets, unit->assembled, -1);
      sheets_count (sheets, readings[i]);
      sheets_count (sheets, findings[i]);
      add_events (sheets, e, i, &next_event);
      sheets_own (sheets, parts);
      sheets_row (sheets);
    }
}

/* ---- life tests, gauges ---- */

static void
add_life_tests (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("characteristic"), 14 }, { _("no"), 8 }, { _("date"), 12 }, { _("round"), 10 }, { _("unit"), 14 }, { _("load"), 10 },
    { _("unit of measure"), 10 }, { _("cycles"), 12 }, { _("failed"), 9 }, { _("issue"), 8 }, { _("way of failing"), 40 }, { _("counts"), 9 },
    { _("why not"), 40 }, { _("tested before"), 9 }, { _("less load than asked for"), 12 },
  };
  const GArray *lives = sheets_dossier (sheets)->lives;

  sheets_begin_of (sheets, _("Life tests"), columns);
  for (guint i = 0; i < lives->len; i++)
    {
      const InsightLife *life = g_array_index (lives, PresentDossierLife, i).data;

      for (guint j = 0; j < life->n_tests; j++)
        {
          const InsightLifeTest *test = &life->tests[j];

          sheets_text (sheets, life->code);
          sheets_count (sheets, test->no);
          sheets_date (sheets, test->date);
          sheets_text (sheets, test->round);
          sheets_text (sheets, test->serial);
          sheets_number (sheets, test->load, life->decimals);
          sheets_text (sheets, life->unit);
          sheets_number (sheets, test->cycles, 0);
          sheets_yes (sheets, test->failed);
          if (test->issue_no > 0)
            sheets_count (sheets, test->issue_no);
          else
            sheets_skip (sheets, 1);
          sheets_own (sheets, test->mode);
          sheets_yes (sheets, test->counting == INSIGHT_COUNTS && !test->again);
          sheets_text (sheets, test->counting != INSIGHT_COUNTS ? present_counting_words (test->counting) : "");
          sheets_yes (sheets, test->again);
          sheets_yes (sheets, test->short_load);
          sheets_row (sheets);
        }
    }
}

static void
add_modes (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("characteristic"), 14 }, { _("way of failing"), 40 }, { _("units"), 9 }, { _("failed"), 9 }, { _("shape"), 10 },
    { _("63 in 100 fail by"), 14 }, { _("10 in 100 fail by"), 14 }, { _("not before"), 12 }, { _("cycles wanted"), 12 },
    { _("live as long as wanted"), 12 }, { _("at least"), 10 }, { _("what the tests support"), 70 },
  };
  const GArray *lives = sheets_dossier (sheets)->lives;

  sheets_begin_of (sheets, _("Ways of failing"), columns);
  for (guint i = 0; i < lives->len; i++)
    {
      const PresentDossierLife *life = &g_array_index (lives, PresentDossierLife, i);

      for (guint j = 0; j < life->data->n_modes; j++)
        {
          const InsightLifeMode *mode = &life->data->modes[j];
          const double none = NAN;

          sheets_text (sheets, life->data->code);
          sheets_own (sheets, mode->issue != 0 ? mode->title : _("no issue named"));
          sheets_count (sheets, life->data->n);
          sheets_count (sheets, mode->failures);
          sheets_number (sheets, mode->fitted ? mode->fit.shape : none, 2);
          sheets_number (sheets, mode->fitted ? mode->fit.scale : none, 0);
          sheets_number (sheets, mode->fitted ? mode->fit.b10 : none, 0);
          sheets_number (sheets, mode->fitted ? mode->fit.b10_low : none, 0);
          sheets_number (sheets, life->data->wanted_cycles, 0);
          sheets_share (sheets, mode->survival);
          sheets_share (sheets, mode->survival_low);
          sheets_own (sheets, j == 0 ? life->words->headline : "");
          sheets_row (sheets);
        }
    }
}

static void
add_gauges (Sheets *sheets, const PresentGauges *words)
{
  const SheetsColumn columns[] = {
    { _("gauge"), 30 }, { _("resolution"), 12 }, { _("calibrated"), 12 }, { _("due"), 12 }, { _("state"), 24 }, { _("readings"), 10 },
    { _("do not count"), 10 }, { _("since"), 12 }, { _("excused"), 10 },
  };

  sheets_begin_of (sheets, _("Gauges"), columns);
  for (guint i = 0; i < words->data->n_gauges; i++)
    {
      const InsightGaugeLine *gauge = &words->data->gauges[i];

      sheets_own (sheets, gauge->name);
      sheets_number (sheets, gauge->resolution, -1);
      sheets_date (sheets, gauge->calibrated);
      sheets_date (sheets, gauge->due);
      sheets_text (sheets, sheets_cell (words->gauges, i, 4));
      sheets_count (sheets, gauge->readings);
      sheets_count (sheets, gauge->not_counting);
      sheets_date (sheets, gauge->since);
      sheets_count (sheets, gauge->excused);
      sheets_row (sheets);
    }
}

/* Persons are letters, as everywhere. */
static void
add_studies (Sheets *sheets, const PresentGauges *words)
{
  const SheetsColumn columns[] = {
    { _("characteristic"), 14 }, { _("name"), 30 }, { _("gauge"), 30 }, { _("ended"), 12 }, { _("persons"), 9 }, { _("pieces"), 9 },
    { _("trials"), 9 }, { _("gauge's standard deviation"), 24 }, { _("of it repeating"), 12 }, { _("of it between persons"), 12 },
    { _("unit of measure"), 10 }, { _("of the tolerance"), 12 }, { _("at most"), 10 }, { _("allowed"), 10 }, { _("by criterion"), 12 },
    { _("categories"), 10 }, { _("state"), 24 },
  };

  sheets_begin_of (sheets, _("Gauge studies"), columns);
  for (guint i = 0; i < words->data->n_lines; i++)
    {
      const InsightStudyLine *line = &words->data->lines[i];
      const InsightStudy *study = line->study;

      sheets_text (sheets, line->code);
      sheets_own (sheets, line->name);
      sheets_own (sheets, line->gauge);
      sheets_date (sheets, study->last);
      sheets_count (sheets, study->n_persons);
      sheets_count (sheets, study->n_pieces);
      sheets_count (sheets, study->n_trials);
      sheets_number (sheets, study->answer.grr, line->decimals + 2);
      sheets_number (sheets, study->answer.ev, line->decimals + 2);
      sheets_number (sheets, study->answer.av, line->decimals + 2);
      sheets_text (sheets, line->unit);
      sheets_share (sheets, study->tolerance_share);
      sheets_share (sheets, line->at_most);
      sheets_share (sheets, line->most);
      sheets_text (sheets, line->criterion);
      sheets_number (sheets, study->answer.ndc, 0);
      sheets_text (sheets, sheets_cell (words->studies, i, 11));
      sheets_row (sheets);
    }
}

static void
add_checks (Sheets *sheets, const PresentGauges *words)
{
  const SheetsColumn columns[] = {
    { _("characteristic"), 14 }, { _("check"), 30 }, { _("inspector"), 10 }, { _("caught"), 9 }, { _("tried"), 9 }, { _("finds at least"), 12 },
  };

  sheets_begin_of (sheets, _("Known bad pieces"), columns);
  for (guint i = 0; i < words->data->n_checks; i++)
    {
      const InsightCheckLine *check = &words->data->checks[i];
      const char letter[2] = { check->letter, '\0' };

      sheets_text (sheets, check->code);
      sheets_own (sheets, check->name);
      sheets_text (sheets, letter);
      sheets_count (sheets, check->caught);
      sheets_count (sheets, check->tried);
      sheets_share (sheets, check->at_least);
      sheets_row (sheets);
    }
}

void
sheets_add_studies (Sheets *sheets)
{
  const PresentDossier *dossier = sheets_dossier (sheets);

  add_life_tests (sheets);
  add_modes (sheets);
  if (dossier->gauges_words == NULL)
    return;
  add_gauges (sheets, dossier->gauges_words);
  add_studies (sheets, dossier->gauges_words);
  add_checks (sheets, dossier->gauges_words);
}
