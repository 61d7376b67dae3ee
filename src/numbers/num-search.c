/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smallest whole number from which a condition holds. */
#include "num-search.h"

/**
 * num_search_least:
 * @enough: the condition
 * @data: (nullable): handed to it
 * @from: first number looked at
 * @most: last number looked at
 * @units: (out): the smallest number that is enough; 0 unless the result is %NUM_OK
 *
 * Doubles the step until the condition holds, then halves: some 2 log2(units) calls.
 *
 * Returns: %NUM_OK; %NUM_NO_SOLUTION when @most is not enough; else what @enough answered
 */
NumStatus
num_search_least (NumEnough enough, void *data, size_t from, size_t most, size_t *units)
{
  size_t low = from; /* every number below it is too small */
  size_t high = from;
  size_t step = 1;
  bool holds = false;
  NumStatus status;

  *units = 0;
  if (from > most)
    return NUM_NO_SOLUTION;
  while ((status = enough (high, data, &holds)) == NUM_OK && !holds)
    {
      if (high == most)
        return NUM_NO_SOLUTION;
      low = high + 1;
      high = most - high < step ? most : high + step;
      step = step > most / 2 ? most : 2 * step;
    }
  while (status == NUM_OK && low < high)
    {
      size_t middle = low + (high - low) / 2;

      status = enough (middle, data, &holds);
      if (holds)
        high = middle;
      else
        low = middle + 1;
    }
  if (status == NUM_OK)
    *units = high;
  return status;
}
