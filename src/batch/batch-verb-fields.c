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
  const BookRecord *record = NULL;
  BatchStatus status;

  if (call->n_arguments == 1)
    {
      record = batch_record (call, call->arguments[0], &status);
      if (record == NULL)
        return status;
    }
  batch_write_json (call, present_fields_json (record));
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
