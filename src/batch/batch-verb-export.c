/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch export: every record as CSV. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "exchange-export.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(GError) error = NULL;
  BatchStatus status;

  if (!batch_book_open (call, &book, &status))
    return status;
  if (!exchange_export (book, call->arguments[0], call->cancellable, &error))
    return batch_fail (call, error);
  return BATCH_DONE;
}

const BatchVerb batch_verb_export = {
  .name = "export",
  .arguments = N_("FOLDER"),
  .summary = N_("Write every record type as CSV, and stored files beside it."),
  .description = N_("The same records always give the same bytes. Importing the folder into a new book and exporting again gives them "
                    "once more. The journal is not exported."),
  .least = 1,
  .most = 1,
  .stops = TRUE,
  .run = run,
};
