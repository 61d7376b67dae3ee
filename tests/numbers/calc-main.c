/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculator alone, for the tests of numbers: reads questions from standard input, whatever its arguments. */
#include "batch-calc.h"

#include <unistd.h>

int
main (void)
{
  FILE *out = fdopen (dup (STDOUT_FILENO), "w");

  /* libRmath warns on standard output, where the answers go. */
  if (out == NULL || dup2 (STDERR_FILENO, STDOUT_FILENO) < 0)
    return 3;
  return batch_calc (stdin, out);
}
