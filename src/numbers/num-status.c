/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "num-status.h"

/**
 * num_status_name:
 * @status: a status
 *
 * Returns: a short untranslated name, for messages of tests and the JSON output
 */
const char *
num_status_name (NumStatus status)
{
  switch (status)
    {
    case NUM_OK:
      return "ok";
    case NUM_TOO_FEW:
      return "too-few";
    case NUM_BAD_INPUT:
      return "bad-input";
    case NUM_NO_VARIATION:
      return "no-variation";
    case NUM_NO_CONVERGENCE:
      return "no-convergence";
    case NUM_NO_SOLUTION:
      return "no-solution";
    case NUM_CANCELLED:
      return "cancelled";
    case NUM_NO_MEMORY:
      return "no-memory";
    }
  return "unknown";
}
