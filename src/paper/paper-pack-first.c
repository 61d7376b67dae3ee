/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>

#include "paper-form.h"

/*
 * The first page, for whoever reads no other: the answer, what stands against it, under what conditions, the few figures that a
 * decision turns on, the caution, and below it room for signatures.
 */

#define SIGNATURES      4
#define SIGNATURE_LINE  24.0 /* for handwriting */
#define CONTENTS_LINE   17.0
#define N_SECTIONS      18   /* room for so many is kept, so that the pages stay the same when they are known */
#define MOST_STOPS      8
#define MOST_CONDITIONS 6

static void
set_answer (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  const PresentGate *gate = pack->words;

  if (gate == NULL)
    {
      paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, _("The model has no gate yet, so there is nothing to be decided about."));
      return;
    }
  paper_flow_paragraph (flow, PAPER_TEXT_SUBHEADING, PAPER_INK, 0.0, gate->headline);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, d->standing->span);
  for (guint i = 0; i < gate->stops->len && i < MOST_STOPS; i++)
    {
      g_autofree char *line = g_strdup_printf ("▪ %s", (const char *) gate->stops->pdata[i]);

      pack_sentence (pack, flow, PAPER_TEXT_STRONG, PAPER_INK, line);
    }
  if (gate->decided != NULL)
    {
      const char *who = *gate->decided->name != '\0' ? gate->decided->name : gate->decided->person;
      g_autofree char *words = present_decision_words (gate->decided);
      g_autofree char *line = g_strdup_printf (_("Decided on %s by %s: %s."), gate->decided->date, who, words);

      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, line);
    }
}

/* What was tied to a decision or an opinion that stands, each with who said so. */
static void
set_conditions (Pack *pack, PaperFlow *flow)
{
  const BookGateList *list = pack->dossier->list;
  guint n = 0;

  for (guint i = 0; i < list->n_deeds && pack->words != NULL; i++)
    {
      const BookGateDeed *deed = &list->deeds[i];
      g_autofree char *line = NULL;

      if (deed->gate < 0 || list->gates[deed->gate].id != pack->words->data->id || *deed->conditions == '\0' || !book_gate_deed_stands (deed))
        continue;
      if (n++ == 0)
        paper_flow_heading (flow, 2, _("Conditions"), NULL, 24.0);
      if (n > MOST_CONDITIONS)
        continue;
      /* Translators: a person, and what that person tied to it */
      line = g_strdup_printf (_("%s: %s"), *deed->name != '\0' ? deed->name : deed->person, deed->conditions);
      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, line);
    }
  if (n > MOST_CONDITIONS)
    paper_flow_link (flow, _("Further conditions stand with the opinions."), "said");
}

static void
add_figure (PresentSheet *sheet, const char *what, const char *said)
{
  if (said != NULL && *said != '\0')
    present_sheet_add_row (sheet, NULL, 0, FALSE, PRESENT_CELLS (g_strdup (what), g_strdup (said)));
}

static void
set_figures (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  g_autoptr(PresentSheet) sheet = present_sheet_new (_("In short"));

  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  add_figure (sheet, _("Criteria"), d->standing->headline);
  add_figure (sheet, _("Issues"), d->issues->headline);
  add_figure (sheet, _("Yield"), d->pilot_words->headline);
  add_figure (sheet, _("Rate"), d->rate_words->headline);
  add_figure (sheet, _("Cost"), d->rate_words->cost_sentence);
  add_figure (sheet, _("Ready"), d->forecast_words != NULL ? d->forecast_words->headline : NULL);
  pack_sheet (pack, flow, sheet);
}

static void
set_signatures (PaperFlow *flow)
{
  const PaperFormColumn columns[] = { { NULL, _("Name"), 2.6, FALSE, FALSE },
                                      { NULL, _("In favour, against, with conditions"), 3.2, FALSE, FALSE },
                                      { NULL, _("Date"), 1.3, FALSE, FALSE },
                                      { NULL, _("Signature"), 2.9, FALSE, FALSE } };
  const char *cells[SIGNATURES * G_N_ELEMENTS (columns)];

  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    cells[i] = "";
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), cells, SIGNATURES, SIGNATURE_LINE);
}

/* Down the left half, then down the right one. */
static void
set_contents (Pack *pack, PaperFlow *flow)
{
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) leads = g_ptr_array_new ();
  const PaperColumn columns[] = { { _("Contents"), 8.0, FALSE }, { _("page"), 1.0, TRUE }, { "", 8.0, FALSE }, { _("page"), 1.0, TRUE } };
  const guint n = pack->sections != NULL ? pack->sections->len : 0, half = (n + 1) / 2;
  const double height = ((N_SECTIONS + 1) / 2 + 1) * CONTENTS_LINE;
  gboolean is_on_first;

  paper_flow_space (flow, 14.0);
  is_on_first = paper_flow_room (flow) >= height;
  paper_flow_need (flow, height);
  for (guint i = 0; i < 2 * half; i++)
    {
      const guint at = i / 2 + (i % 2) * half;
      const PackSection *section = at < n ? &g_array_index (pack->sections, PackSection, at) : NULL;

      g_ptr_array_add (cells, g_strdup (section != NULL ? section->title : ""));
      g_ptr_array_add (cells, section != NULL ? g_strdup_printf ("%u", section->page + 1) : g_strdup (""));
      g_ptr_array_add (leads, section != NULL ? (gpointer) section->target : NULL);
    }
  paper_flow_table_leading (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, (const char *const *) leads->pdata, 2,
                            half);
  if (is_on_first)
    paper_flow_new_page (flow);
  else
    paper_flow_space (flow, 14.0); /* the sections go on below: a page of contents alone says nothing */
}

void
pack_set_first (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  g_autofree char *what = pack->words != NULL ? g_strdup_printf (_("Decision pack for the gate: %s"), pack->words->data->name)
                                              : g_strdup (_("Decision pack"));
  g_autofree char *when = g_strdup_printf (_("Model %s, as known on %s."), d->evidence->code, pack->ask->today);

  paper_flow_title (flow, d->evidence->name);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, what);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, when);
  set_answer (pack, flow);
  set_conditions (pack, flow);
  set_figures (pack, flow);
  paper_flow_space (flow, 4.0);
  if (d->standing->caution != NULL)
    paper_flow_small_note (flow, d->standing->caution);
  set_signatures (flow);
  set_contents (pack, flow);
}
