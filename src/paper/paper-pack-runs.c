/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>

/* The pilot run, how many a month and at what cost; life tests; gauges and their studies. */

#define CHART_HEIGHT 170.0

static void
set_pilot (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;

  pack_section (pack, flow, _("Pilot run"), "pilot", 250.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, d->pilot_words->headline);
  if (d->pilot_words->steps->rows->len > 0)
    pack_rows_chart (flow, present_chart_yield (d->pilot, FALSE));
  pack_sheet (pack, flow, d->pilot_words->steps);
  pack_sheet (pack, flow, d->pilot_words->losses);
  pack_sheet (pack, flow, d->pilot_words->work);
  pack_lines (pack, flow, d->pilot_words->notes);
}

static void
set_rate (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;

  pack_section (pack, flow, _("How many a month, and what a good one costs"), "rate", 220.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, d->rate_words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, d->rate_words->constraint);
  if (d->rate_words->benches->rows->len > 0)
    pack_rows_chart (flow, present_chart_rate (d->rate_input, d->rate, FALSE));
  pack_sheet (pack, flow, d->rate_words->benches);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, d->rate_words->cost_sentence);
  pack_sheet (pack, flow, d->rate_words->cost);
  pack_lines (pack, flow, d->rate_words->notes);
}

static void
set_life (Pack *pack, PaperFlow *flow, const PresentDossierLife *life)
{
  g_autofree char *title = g_strdup_printf ("%s %s", life->data->code, life->data->name);
  const gboolean counts = life->data->failed + life->data->n_stopped > 0;

  paper_flow_heading (flow, 2, title, NULL, counts ? CHART_HEIGHT + 50.0 : 60.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, life->words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_SMALL, PAPER_FAINT, life->words->figures);
  if (counts)
    pack_chart (flow, present_chart_life (life->data, FALSE), CHART_HEIGHT);
  pack_sheet (pack, flow, life->words->modes);
  pack_sheet (pack, flow, life->words->rounds);
  pack_lines (pack, flow, life->words->remarks);
}

static void
set_lives (Pack *pack, PaperFlow *flow)
{
  const GArray *lives = pack->dossier->lives;

  pack_section (pack, flow, _("Life tests"), "life", CHART_HEIGHT + 90.0);
  if (lives->len == 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, _("No unit was cycled."));
  for (guint i = 0; i < lives->len; i++)
    set_life (pack, flow, &g_array_index (lives, PresentDossierLife, i));
}

static void
set_gauges (Pack *pack, PaperFlow *flow)
{
  const PresentGauges *words = pack->dossier->gauges_words;

  pack_section (pack, flow, _("Gauges"), "gauges", 60.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->headline);
  pack_lines (pack, flow, words->out);
  pack_sheet (pack, flow, words->studies);
  pack_sheet (pack, flow, words->checks);
  pack_lines (pack, flow, words->sentences);
}

void
pack_set_runs (Pack *pack, PaperFlow *flow)
{
  set_pilot (pack, flow);
  set_rate (pack, flow);
  set_lives (pack, flow);
  set_gauges (pack, flow);
}
