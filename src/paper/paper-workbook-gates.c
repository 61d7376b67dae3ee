/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets that answer: what blocks, each criterion, what nobody looked at, what was said and what was changed; issues. */

#include "config.h"

#include "paper-workbook-private.h"

#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
add_line (Sheets *sheets, const char *what, const char *said)
{
  if (said == NULL || *said == '\0')
    return;
  sheets_text (sheets, what);
  sheets_own (sheets, said);
  sheets_row (sheets);
}

static void
add_count (Sheets *sheets, const char *what, guint n)
{
  sheets_text (sheets, what);
  sheets_count (sheets, n);
  sheets_row (sheets);
}

static void
add_day (Sheets *sheets, const char *what, const char *date)
{
  sheets_text (sheets, what);
  sheets_date (sheets, date);
  sheets_row (sheets);
}

static void
add_answer (Sheets *sheets)
{
  const SheetsColumn columns[] = { { _("what"), SHEETS_NARROW }, { _("answer"), SHEETS_WIDE } };
  const PresentDossier *dossier = sheets_dossier (sheets);
  const PresentStanding *standing = dossier->standing;
  const PresentGate *gate = sheets_pack (sheets)->words;
  g_autofree char *model = g_strdup_printf ("%s %s", dossier->evidence->code, dossier->evidence->name);

  sheets_begin_of (sheets, _("Answer"), columns);
  add_line (sheets, _("model"), model);
  if (gate != NULL)
    add_line (sheets, _("gate"), gate->headline);
  add_line (sheets, _("criteria"), standing->headline);
  for (guint i = 0; gate != NULL && i < gate->stops->len; i++)
    add_line (sheets, _("stands against it"), gate->stops->pdata[i]);
  if (gate != NULL && gate->decided != NULL)
    {
      g_autofree char *decided = present_decision_words (gate->decided);

      sheets_text (sheets, _("decided"));
      sheets_text (sheets, decided);
      sheets_row (sheets);
      add_day (sheets, _("decided on"), gate->decided->date);
    }
  add_line (sheets, _("looks at"), standing->span);
  add_day (sheets, _("as of"), dossier->today);
  add_count (sheets, _("criteria of the gate"), gate != NULL ? gate->data->total : standing->data->n_total);
  add_count (sheets, _("met"), gate != NULL ? gate->data->met : standing->data->n_met);
  add_count (sheets, _("block"), gate != NULL ? gate->data->block : standing->data->n_block);
  add_line (sheets, _("evidence"), standing->score);
  if (dossier->forecast_words != NULL)
    {
      add_line (sheets, _("forecast"), dossier->forecast_words->headline);
      add_line (sheets, "", dossier->forecast_words->note);
    }
  add_line (sheets, _("caution"), standing->caution);
}

static void
add_terms (Sheets *sheets, const InsightCriterion *c)
{
  const gboolean counts = c->method == INSIGHT_METHOD_COUNT;

  sheets_number (sheets, c->lower, c->decimals);
  sheets_number (sheets, c->upper, c->decimals);
  sheets_text (sheets, c->unit);
  sheets_share (sheets, c->share);
  sheets_share (sheets, counts ? (double) NAN : c->wanted);
  sheets_reached (sheets, c->confidence, c->wanted);
}

static void
add_counted (Sheets *sheets, const InsightCriterion *c)
{
  const gboolean counts = c->method == INSIGHT_METHOD_COUNT;
  g_autofree char *rounds = g_strjoinv (", ", c->rounds);

  sheets_count (sheets, c->n);
  if (counts)
    sheets_skip (sheets, 1);
  else
    sheets_count (sheets, c->failed);
  if (counts)
    sheets_count (sheets, c->done);
  else
    sheets_skip (sheets, 1);
  sheets_text (sheets, rounds);
  sheets_count (sheets, c->lots);
  sheets_count (sheets, c->looks);
  sheets_count (sheets, c->attempts);
  sheets_count (sheets, c->earlier_units);
  sheets_count (sheets, c->earlier_failures);
  sheets_count (sheets, c->voided);
  if (c->units_needed < 0)
    sheets_text (sheets, _("no number of units would do"));
  else
    sheets_count (sheets, c->units_needed);
}

static void
add_figures (Sheets *sheets, const InsightCriterion *c)
{
  sheets_number (sheets, c->mean, c->decimals + 1);
  sheets_number (sheets, c->sd, c->decimals + 2);
  sheets_number (sheets, c->min, c->decimals);
  sheets_number (sheets, c->max, c->decimals);
  sheets_reached (sheets, c->share_estimate, c->share);
  sheets_reached (sheets, c->share_low, c->share);
  sheets_number (sheets, c->target, -1);
  sheets_number (sheets, c->estimate, -1);
  sheets_number (sheets, c->estimate_low, -1);
  sheets_number (sheets, c->estimate_high, -1);
}

static void
add_criterion (Sheets *sheets, const PresentCriterion *criterion, gboolean of_gate)
{
  const InsightCriterion *c = criterion->data;
  g_autoptr(GString) remarks = g_string_new (NULL);
  const BookChoice *klass = book_choice_by_code (book_classes, (int) c->klass);
  const BookChoice *kind = book_choice_by_code (book_criterion_kinds, (int) c->kind);

  for (guint i = 0; i < criterion->remarks->len; i++)
    g_string_append_printf (remarks, "%s%s", i > 0 ? "\n" : "", (const char *) criterion->remarks->pdata[i]);
  sheets_text (sheets, c->code);
  sheets_own (sheets, c->about_name);
  sheets_text (sheets, c->about_code);
  sheets_text (sheets, c->gate);
  sheets_yes (sheets, of_gate);
  sheets_text (sheets, klass != NULL ? book_choice_label (klass) : "");
  sheets_text (sheets, kind != NULL ? book_choice_label (kind) : "");
  sheets_text (sheets, criterion->state);
  sheets_yes (sheets, c->blocks);
  sheets_own (sheets, criterion->asks);
  add_terms (sheets, c);
  add_counted (sheets, c);
  add_figures (sheets, c);
  sheets_own (sheets, criterion->sentence);
  sheets_own (sheets, remarks->str);
  sheets_row (sheets);
}

static void
add_criteria (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("criterion"), 12 }, { _("about"), 30 }, { _("characteristic"), 16 }, { _("gate"), 16 }, { _("asked at this gate"), 10 },
    { _("class"), 12 }, { _("kind"), 16 }, { _("state"), 16 }, { _("blocks"), 9 }, { _("asks"), 40 },
    { _("lower limit"), 12 }, { _("upper limit"), 12 }, { _("unit"), 10 }, { _("share wanted"), 10 }, { _("confidence wanted"), 12 },
    { _("confidence reached"), 12 }, { _("n"), 8 }, { _("failed"), 8 }, { _("done"), 8 }, { _("rounds"), 16 }, { _("lots"), 8 },
    { _("looks"), 8 }, { _("attempts"), 10 }, { _("earlier units"), 10 }, { _("earlier failures"), 10 }, { _("voided"), 9 },
    { _("units needed"), 16 }, { _("mean"), 12 }, { _("standard deviation"), 18 }, { _("least"), 12 }, { _("most"), 12 },
    { _("share that conforms"), 12 }, { _("at least"), 10 }, { _("target"), 12 }, { _("estimate"), 12 }, { _("between"), 12 }, { _("and"), 12 },
    { _("what may be said"), 60 }, { _("beside it"), 60 },
  };
  const GPtrArray *criteria = sheets_dossier (sheets)->standing->criteria;
  const PresentGate *gate = sheets_pack (sheets)->words;
  g_autofree gboolean *done = g_new0 (gboolean, criteria->len + 1);

  sheets_begin_of (sheets, _("Criteria"), columns);
  for (guint i = 0; gate != NULL && i < gate->data->criteria->len; i++)
    {
      guint at = g_array_index (gate->data->criteria, guint, i);

      add_criterion (sheets, criteria->pdata[at], TRUE);
      done[at] = TRUE;
    }
  for (guint i = 0; i < criteria->len; i++)
    if (!done[i])
      add_criterion (sheets, criteria->pdata[i], FALSE);
}

/* Sentences of the standing: what nobody looked at, and what to do next. */
static void
add_section (Sheets *sheets, PresentSectionKind kind, const char *name)
{
  const SheetsColumn columns[] = { { _("criterion"), 12 }, { _("what"), 110 } };
  const PresentStanding *standing = sheets_dossier (sheets)->standing;

  sheets_begin_of (sheets, name, columns);
  for (guint i = 0; i < standing->sections->len; i++)
    {
      const PresentSection *section = standing->sections->pdata[i];

      for (guint j = 0; section->kind == kind && j < section->lines->len; j++)
        {
          const PresentLine *line = section->lines->pdata[j];

          sheets_text (sheets, line->criterion >= 0 ? insight_standing_get_criterion (standing->data, (guint) line->criterion)->code : "");
          sheets_own (sheets, line->text);
          sheets_row (sheets);
        }
    }
}

static const char *
deed_words (const BookGateDeed *deed, char **owned)
{
  const BookChoice *opinion = book_choice_by_code (book_opinions, (int) deed->opinion);

  if (deed->record == BOOK_RECORD_DECISION)
    return *owned = present_decision_words (deed);
  if (deed->withdraws != 0)
    return _("Withdraws an earlier one");
  return opinion != NULL && deed->record == BOOK_RECORD_SIGNOFF ? book_choice_label (opinion) : "";
}

/* Opinions, waivers and decisions of all gates. They name who stands for them: that is what they are for. */
static void
add_deeds (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("kind"), 12 }, { _("no"), 8 }, { _("gate"), 16 }, { _("criterion"), 12 }, { _("on"), 12 }, { _("who"), 24 }, { _("what"), 30 },
    { _("at most"), 10 }, { _("until"), 12 }, { _("conditions"), 50 }, { _("reason"), 50 }, { _("stands"), 10 },
    { _("entered by"), 12 }, { _("entered (UTC)"), 18 },
  };
  const BookGateList *list = sheets_dossier (sheets)->list;

  sheets_begin_of (sheets, _("Said and decided"), columns);
  for (guint i = 0; i < list->n_deeds; i++)
    {
      const BookGateDeed *deed = &list->deeds[i];
      g_autofree char *owned = NULL;

      sheets_text (sheets, book_record_label (book_record (deed->record)));
      sheets_count (sheets, deed->no);
      sheets_text (sheets, deed->gate >= 0 && deed->gate < (int) list->n_gates ? list->gates[deed->gate].name : "");
      sheets_text (sheets, deed->code);
      sheets_date (sheets, deed->date);
      sheets_text (sheets, *deed->name != '\0' ? deed->name : deed->person);
      sheets_text (sheets, deed_words (deed, &owned));
      if (deed->at_most > 0)
        sheets_count (sheets, deed->at_most);
      else
        sheets_skip (sheets, 1);
      sheets_date (sheets, deed->until);
      sheets_text (sheets, deed->conditions);
      sheets_text (sheets, deed->reason);
      sheets_yes (sheets, book_gate_deed_stands (deed));
      sheets_text (sheets, *deed->entered_by != '\0' ? deed->entered_by : _("nobody by name"));
      sheets_date (sheets, deed->entered);
      sheets_row (sheets);
    }
}

void
sheets_add_gates (Sheets *sheets)
{
  const PresentDossier *dossier = sheets_dossier (sheets);

  add_answer (sheets);
  add_criteria (sheets);
  add_section (sheets, PRESENT_SECTION_NOT_LOOKED_AT, _("Not looked at"));
  add_section (sheets, PRESENT_SECTION_NEXT, _("Next steps"));
  sheets_sheet (sheets, _("Beside the figures"), dossier->gates->remarks, TRUE);
  sheets_sheet (sheets, _("Changed afterwards"), dossier->gates->afterwards, FALSE);
  sheets_sheet (sheets, _("Voided readings"), dossier->voids, TRUE);
  sheets_sheet (sheets, _("Concessions"), dossier->concessions, TRUE);
  add_deeds (sheets);
  for (guint i = 0; i < dossier->frozen->len; i++)
    {
      const PresentDossierFrozen *frozen = dossier->frozen->pdata[i];

      if (frozen->beside != NULL && i == sheets_pack (sheets)->gate)
        sheets_sheet (sheets, _("Known then and now"), frozen->beside, FALSE);
    }
  if (dossier->series_words != NULL)
    {
      sheets_sheet (sheets, _("First series"), dossier->series_words->figures, FALSE);
      sheets_sheet (sheets, _("Issues since the release"), dossier->series_words->issues, FALSE);
    }
}

/* ---- issues ---- */

static void
add_issue (Sheets *sheets, const PresentIssueRow *row)
{
  const InsightIssue *issue = row->data;
  const BookChoice *outcome = book_choice_by_code (book_issue_outcomes, (int) issue->outcome);
  g_autofree char *sentence = present_issue_sentence (issue);

  sheets_count (sheets, issue->no);
  sheets_own (sheets, issue->title);
  sheets_text (sheets, row->klass);
  sheets_text (sheets, row->state);
  sheets_text (sheets, issue->found_round);
  sheets_date (sheets, issue->found);
  sheets_text (sheets, issue->seen_by);
  sheets_own (sheets, issue->cause);
  sheets_text (sheets, outcome != NULL ? book_choice_label (outcome) : "");
  sheets_date (sheets, issue->closed);
  sheets_share (sheets, issue->tolerated);
  sheets_share (sheets, issue->wanted);
  sheets_reached (sheets, issue->confidence, issue->wanted);
  sheets_count (sheets, issue->before_n);
  sheets_count (sheets, issue->before_failed);
  sheets_count (sheets, issue->after_n);
  sheets_count (sheets, issue->after_failed);
  sheets_number (sheets, issue->fisher, 4);
  sheets_count (sheets, issue->attempts);
  if (issue->units_needed < 0)
    sheets_text (sheets, _("no number of units would do"));
  else
    sheets_count (sheets, issue->units_needed);
  sheets_count (sheets, issue->n_findings);
  sheets_count (sheets, issue->n_units);
  for (guint i = 0; i < INSIGHT_N_ISSUE_DAYS; i++)
    sheets_date (sheets, issue->dates[i]);
  sheets_number (sheets, issue->age, 1);
  if (issue->change != 0)
    sheets_count (sheets, issue->change_no);
  else
    sheets_skip (sheets, 1);
  sheets_own (sheets, issue->change_title);
  sheets_own (sheets, sentence);
  sheets_row (sheets);
}

static void
add_findings (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("issue"), 8 }, { _("finding"), 9 }, { _("round"), 10 }, { _("unit"), 14 }, { _("lot"), 14 }, { _("affected"), 10 },
    { _("inspected"), 10 }, { _("found at"), 24 }, { _("caused at"), 24 }, { _("in the field"), 9 }, { _("disposition"), 16 }, { _("on"), 12 },
    { _("does not count"), 10 }, { _("reason"), 60 },
  };
  const GPtrArray *rows = sheets_dossier (sheets)->issues->rows;

  sheets_begin_of (sheets, _("Findings"), columns);
  for (guint i = 0; i < rows->len; i++)
    {
      const InsightIssue *issue = ((const PresentIssueRow *) rows->pdata[i])->data;

      for (guint j = 0; j < issue->findings->len; j++)
        {
          const InsightIssueFinding *finding = issue->findings->pdata[j];
          const BookChoice *disposition = book_choice_by_code (book_dispositions, (int) finding->disposition);

          sheets_count (sheets, issue->no);
          sheets_count (sheets, finding->no);
          sheets_text (sheets, finding->round);
          sheets_text (sheets, finding->unit);
          sheets_text (sheets, finding->lot);
          if (finding->inspected > 0)
            {
              sheets_count (sheets, finding->affected);
              sheets_count (sheets, finding->inspected);
            }
          else
            sheets_skip (sheets, 2);
          sheets_text (sheets, finding->found_at);
          sheets_text (sheets, finding->caused_at);
          sheets_yes (sheets, finding->in_field);
          sheets_text (sheets, disposition != NULL ? book_choice_label (disposition) : "");
          sheets_date (sheets, finding->date);
          sheets_yes (sheets, finding->excused);
          sheets_own (sheets, finding->reason);
          sheets_row (sheets);
        }
    }
}

void
sheets_add_issues (Sheets *sheets)
{
  const SheetsColumn columns[] = {
    { _("no"), 8 }, { _("issue"), 40 }, { _("class"), 12 }, { _("state"), 28 }, { _("found in"), 10 }, { _("found on"), 12 },
    { _("seen by"), 12 }, { _("cause"), 40 }, { _("closed as"), 16 }, { _("closed on"), 12 }, { _("may fail"), 10 },
    { _("confidence wanted"), 12 }, { _("confidence reached"), 12 }, { _("units before"), 9 }, { _("failed before"), 9 },
    { _("units after"), 9 }, { _("failed after"), 9 }, { _("by luck alone"), 10 }, { _("attempts"), 10 }, { _("units needed"), 16 },
    { _("findings"), 10 }, { _("units with it"), 9 }, { _("contained on"), 12 }, { _("cause known on"), 12 }, { _("shown to work on"), 12 },
    { _("working days"), 10 }, { _("change"), 9 }, { _("change's title"), 40 }, { _("what the units say"), 60 },
  };
  const GPtrArray *rows = sheets_dossier (sheets)->issues->rows;

  sheets_begin_of (sheets, _("Issues"), columns);
  for (guint i = 0; i < rows->len; i++)
    add_issue (sheets, rows->pdata[i]);
  add_findings (sheets);
}
