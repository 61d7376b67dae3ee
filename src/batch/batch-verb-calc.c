/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch calc: the calculator. */

#include "config.h"

#include "batch-calc.h"
#include "batch-verbs.h"

#include <glib/gi18n.h>

static BatchStatus
run (BatchCall *call)
{
  return (BatchStatus) batch_calc (stdin, call->out);
}

const BatchVerb batch_verb_calc = {
  .name = "calc",
  .arguments = "",
  .summary = N_("Compute: a JSON object a line from standard input, a JSON object a line to standard output."),
  .description = N_("Each object names a method and its input, as in {\"method\": \"proportion\", \"k\": 1, \"n\": 20, \"confidence\": 0.9}. "
                    "What cannot be computed is answered by an object with a sentence under 'error', and the exit status is then 1."),
  .run = run,
};
