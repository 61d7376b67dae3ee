/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-pack-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

#include "present-rules.h"

/* How the figures came about, with sources; and where the journal stood, so that this paper and the book can be held together. */

#define JOURNAL_HEIGHT 122.0 /* all of it, so that it stands on one page */

static void
set_bullets (PaperFlow *flow, GPtrArray *lines)
{
  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *line = g_strdup_printf ("▪ %s", (const char *) lines->pdata[i]);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_INK, 0.0, line);
    }
}

static void
add_line (PresentSheet *sheet, const char *what, char *value)
{
  present_sheet_add_row (sheet, NULL, 0, FALSE, PRESENT_CELLS (g_strdup (what), value));
}

static void
set_journal (Pack *pack, PaperFlow *flow)
{
  const PresentDossier *d = pack->dossier;
  g_autoptr(PresentSheet) sheet = present_sheet_new ("");

  pack_section (pack, flow, _("Where the journal stood"), "journal", JOURNAL_HEIGHT);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_INK, 0.0,
                        _("The book's journal holds every entry. Its head below, kept on this paper, shows later whether the book was "
                          "rewritten; without a head kept elsewhere the journal shows accidents and casual editing only."));
  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  add_line (sheet, _("book"), g_strdup (pack->ask->book));
  add_line (sheet, _("entries"), g_strdup_printf ("%" G_GINT64_FORMAT, d->place));
  add_line (sheet, _("head (SHA-256)"), g_strdup (d->head));
  if (pack->document != NULL)
    add_line (sheet, _("frozen if decided now (SHA-256)"), g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, pack->document));
  /* The key is another where the model was made anew to be drawn for once more. */
  add_line (sheet, _("program"),
            g_strdup_printf (_("Fettle %s; what is drawn by chance is keyed by %" PRId64), PACKAGE_VERSION, d->evidence->model_id));
  pack_sheet_named (pack, flow, sheet);
}

void
pack_set_methods (Pack *pack, PaperFlow *flow)
{
  g_autoptr(GPtrArray) rules = present_rules_new (), methods = present_rules_methods_new (pack->dossier->standing->data);

  pack_section (pack, flow, _("How the figures came about"), "methods", 60.0);
  set_bullets (flow, rules);
  if (methods->len > 0)
    paper_flow_heading (flow, 2, _("Confidences of these criteria"), NULL, 40.0);
  set_bullets (flow, methods);
  set_journal (pack, flow);
}
