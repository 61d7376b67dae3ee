/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-workbook-private.h"

#include <glib/gi18n-lib.h>

/* Where the journal stood, so that anybody can find the same state again. */
void
sheets_add_journal (Sheets *sheets)
{
  const SheetsColumn columns[] = { { _("what"), SHEETS_NARROW }, { _("value"), SHEETS_WIDE } };
  const PresentDossier *dossier = sheets_dossier (sheets);

  sheets_begin_of (sheets, _("Journal"), columns);
  sheets_text (sheets, _("book"));
  sheets_text (sheets, sheets_pack (sheets)->ask->book);
  sheets_row (sheets);
  sheets_text (sheets, _("entries"));
  sheets_count (sheets, dossier->place);
  sheets_row (sheets);
  sheets_text (sheets, _("digest of the last one"));
  sheets_text (sheets, dossier->head);
  sheets_row (sheets);
  sheets_text (sheets, _("entries about this model"));
  sheets_count (sheets, dossier->version.model);
  sheets_row (sheets);
  sheets_text (sheets, _("entries about what models share"));
  sheets_count (sheets, dossier->version.shared);
  sheets_row (sheets);
  sheets_text (sheets, _("as of"));
  sheets_date (sheets, dossier->today);
  sheets_row (sheets);
  sheets_text (sheets, _("version of Fettle"));
  sheets_text (sheets, PACKAGE_VERSION);
  sheets_row (sheets);
}

static GBytes *
write_sheets (Pack *pack, GCancellable *cancellable, GError **error)
{
  static void (*const parts[]) (Sheets *) = { sheets_add_gates,   sheets_add_issues, NULL /* readings */, sheets_add_units, sheets_add_runs,
                                              sheets_add_studies, sheets_add_times,  sheets_add_forecast, sheets_add_journal };
  g_autoptr(Sheets) sheets = sheets_new (pack);

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      if (parts[i] != NULL)
        parts[i] (sheets);
      else if (!sheets_add_readings (sheets, cancellable, error))
        return NULL;
    }
  return sheets_close (sheets, error);
}

/**
 * paper_workbook_write:
 * @db: the connection of a reader, within its request; the transaction is ended early (store_reader_done_reading())
 * @ask: what it is about
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * The same records at the same head give the same bytes. Nothing is written but memory. Blocks; never in the main thread of a
 * window.
 *
 * Returns: (transfer full) (nullable): a workbook as Office Open XML (ISO/IEC 29500); %G_IO_ERROR_CANCELLED, or what reading gives
 */
GBytes *
paper_workbook_write (StoreDb *db, const PaperPackAsk *ask, GCancellable *cancellable, GError **error)
{
  Pack pack = { .ask = ask };
  GBytes *bytes = NULL;

  if (pack_read (&pack, db, cancellable, error))
    bytes = write_sheets (&pack, cancellable, error);
  pack_clear (&pack);
  return bytes;
}
