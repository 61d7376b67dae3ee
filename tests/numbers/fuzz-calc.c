/* SPDX-License-Identifier: GPL-3.0-or-later */
/* libFuzzer: any bytes given to the calculator are answered line by line, never with a NAN and never with a null without a
 * reason. Good seeds are tests/data/calc-corpus.jsonl, a line a file. */
#include "calc-ask.h"

#include <stdint.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size > 0)
    calc_check_answers ((const char *) data, size);
  return 0;
}
