/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch new: an empty book. */

#include "config.h"

#include "batch-verbs.h"

#include "book.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(GError) error = NULL;
  Book *book = book_create (call->arguments[0], NULL, &error);

  if (book == NULL || !book_close (book, &error))
    return batch_fail (call, error);
  return BATCH_DONE;
}

const BatchVerb batch_verb_new = {
  .name = "new",
  .arguments = N_("FILE"),
  .summary = N_("Make an empty book."),
  .description = N_("Nothing may be at FILE yet. A book is one file, by custom with the ending .fettle."),
  .least = 1,
  .most = 1,
  .run = run,
};
