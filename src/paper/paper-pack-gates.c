/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>

/*
 * What was asked and reached, what nobody looked at, everything that has to be known beside the figures, and what was said and
 * decided. Nothing of it depends on what somebody chose to print.
 */

static void
set_criteria (Pack *pack, PaperFlow *flow)
{
  const GPtrArray *gates = pack->dossier->gates->gates;

  pack_section (pack, flow, _("What is asked for, and what was reached"), "criteria", 80.0);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0,
                        _("Those that block come first. A row leads to the drawing of its characteristic. n counts units, never repeats."));
  for (guint i = 0; i < gates->len; i++)
    {
      const PresentGate *gate = gates->pdata[i];

      if (gates->len > 1)
        paper_flow_heading (flow, 2, gate->headline, NULL, 60.0);
      pack_sheet (pack, flow, gate->criteria);
    }
  for (guint i = 0; i < pack->dossier->standing->criteria->len; i++)
    {
      const PresentCriterion *criterion = pack->dossier->standing->criteria->pdata[i];
      g_autofree char *line = NULL;

      if (!criterion->data->blocks)
        continue;
      line = g_strdup_printf ("%s: %s", criterion->name, criterion->sentence);
      pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, line);
    }
}

static void
set_section_lines (Pack *pack, PaperFlow *flow, PresentSectionKind kind, const char *none)
{
  const GPtrArray *sections = pack->dossier->standing->sections;
  guint n = 0;

  for (guint i = 0; i < sections->len; i++)
    {
      const PresentSection *section = sections->pdata[i];

      for (guint k = 0; section->kind == kind && k < section->lines->len; k++, n++)
        {
          g_autofree char *line = g_strdup_printf ("▪ %s", ((const PresentLine *) section->lines->pdata[k])->text);

          pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, line);
        }
    }
  if (n == 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, none);
}

static void
set_said (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;

  pack_section (pack, flow, _("What was said and decided"), "said", 60.0);
  if (d->list->n_deeds == 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("Nobody has noted an opinion, waived anything or decided yet."));
  for (guint i = 0; i < d->gates->gates->len; i++)
    {
      const PresentGate *gate = d->gates->gates->pdata[i];

      pack_sheet_named (pack, flow, gate->opinions);
      pack_sheet_named (pack, flow, gate->decisions);
    }
  pack_sheet_named (pack, flow, d->gates->waivers);
  pack_sheet_named (pack, flow, d->gates->signed_for);
}

/* What the last decision froze against what is known now; and a document that was altered is said, not passed over. */
static void
set_since (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  gboolean begun = FALSE;

  for (guint i = 0; i < d->frozen->len; i++)
    {
      const PresentDossierFrozen *frozen = d->frozen->pdata[i];

      if ((frozen->beside == NULL || frozen->beside->rows->len == 0) && frozen->problem == NULL)
        continue;
      if (!begun)
        pack_section (pack, flow, _("Since the last decision"), "since", 60.0);
      begun = TRUE;
      if (frozen->problem != NULL)
        paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, frozen->problem);
      pack_sheet (pack, flow, frozen->beside);
    }
}

/* What was promised at the release against what came. */
static void
set_series (Pack *pack, PaperFlow *flow)
{
  const PresentFirstSeries *words = pack->dossier->series_words;

  if (words == NULL)
    return;
  pack_section (pack, flow, _("First series"), "series", 100.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_SMALL, PAPER_FAINT, words->note);
  pack_sheet (pack, flow, words->figures);
  pack_sheet (pack, flow, words->issues);
}

void
pack_set_gates (Pack *pack, PaperFlow *flow)
{
  set_criteria (pack, flow);
  pack_section (pack, flow, _("What was not looked at"), "gaps", 40.0);
  set_section_lines (pack, flow, PRESENT_SECTION_NOT_LOOKED_AT, _("Nothing was found that nobody looked at: each safety characteristic has a "
                                                                  "criterion, each part a characteristic, each hazard something that covers it."));
  pack_section (pack, flow, _("Beside the figures"), "beside", 80.0);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0,
                        _("Limits that were widened, readings voided, units taken out, evidence carried over, things entered late or "
                          "changed once values were there. All of it is found in the book's journal by the program."));
  pack_sheet_named (pack, flow, pack->dossier->gates->remarks);
  pack_sheet_named (pack, flow, pack->dossier->voids);
  pack_sheet_named (pack, flow, pack->dossier->concessions);
  pack_sheet (pack, flow, pack->dossier->gates->afterwards);
  set_said (pack, flow);
  set_since (pack, flow);
  set_series (pack, flow);
}
