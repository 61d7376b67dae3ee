/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch fields: the description of records as JSON. */

#include "config.h"

#include "batch-verbs.h"

#include "present-fields.h"
#include "present-json.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(JsonNode) node = NULL;
  g_autofree char *text = NULL;

  if (call->n_arguments == 1 && book_record_find (call->arguments[0]) == NULL)
    {
      const char *names[BOOK_N_RECORDS + 1] = { NULL };
      const char *nearest;

      for (guint i = 0; i < BOOK_N_RECORDS; i++)
        names[i] = book_record ((BookRecordId) (i + 1))->name;
      nearest = batch_nearest (call->arguments[0], names);
      if (nearest == NULL)
        return batch_usage (call, _("There is no record '%s': 'fettle-batch fields' lists all."), call->arguments[0]);
      return batch_usage (call, _("There is no record '%s': did you mean '%s'?"), call->arguments[0], nearest);
    }

  node = present_fields_json (call->n_arguments == 1 ? book_record_find (call->arguments[0]) : NULL);
  text = present_json_print (node);
  batch_write (call, text);
  return BATCH_DONE;
}

const BatchVerb batch_verb_fields = {
  .name = "fields",
  .arguments = N_("[RECORD]"),
  .summary = N_("Describe the records: columns in order, kind, unit, bounds, choices, what they refer to."),
  .description = N_("Prints JSON, also without --json. A file for 'import' is named after its record and has these columns."),
  .most = 1,
  .run = run,
};
