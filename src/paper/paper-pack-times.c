/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>

/* Where the days went, when it will be ready under which assumptions, and what one more round takes and could prove. */

#define CURVE_HEIGHT 160.0

static void
set_leadtime (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  const PresentLeadtime *words = d->leadtime_words;

  pack_section (pack, flow, _("Lead time"), "leadtime", 220.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->next);
  if (d->leadtime->total > 0.0)
    pack_rows_chart (flow, present_chart_leadtime (d->leadtime, FALSE));
  pack_sheet (pack, flow, words->rounds);
  pack_sheet (pack, flow, words->open);
  pack_sheet (pack, flow, words->suppliers);
  pack_sheet (pack, flow, words->medians);
}

static void
set_forecast (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  const PresentForecast *words = d->forecast_words;

  if (words == NULL)
    return;
  pack_section (pack, flow, _("When it is ready"), "forecast", CURVE_HEIGHT + 70.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_SMALL, PAPER_FAINT, words->note);
  if (d->forecast->n_points > 1)
    pack_chart (flow, present_chart_forecast (d->forecast_input, &d->forecast_input->defaults, d->forecast, FALSE), CURVE_HEIGHT);
  pack_sheet (pack, flow, words->assumptions);
  pack_sheet (pack, flow, words->criteria);
  pack_sheet (pack, flow, words->helps);
  pack_sheet (pack, flow, words->past);
}

static void
set_another (Pack *pack, PaperFlow *flow)
{
  const PresentAnotherRound *words = pack->dossier->another_words;

  if (words == NULL)
    return;
  pack_section (pack, flow, _("One more round"), "another", 140.0);
  pack_sentence (pack, flow, PAPER_TEXT_BODY, PAPER_INK, words->headline);
  pack_sentence (pack, flow, PAPER_TEXT_SMALL, PAPER_FAINT, words->note);
  pack_sheet (pack, flow, words->takes);
  pack_sheet (pack, flow, words->proves);
}

void
pack_set_times (Pack *pack, PaperFlow *flow)
{
  set_leadtime (pack, flow);
  set_forecast (pack, flow);
  set_another (pack, flow);
}
