/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tolerances in a chain. */
#include "num-stackup.h"

#include <math.h>

/**
 * num_stackup:
 * @parts: (array length=count): the chain
 * @count: at least 1
 * @out: (out): nominal, worst case and root of the sum of squares
 *
 * Nominal = sum of sensitivity nominal; worst = sum of |sensitivity| tolerance; rss = sqrt of the sum of (sensitivity
 * tolerance)^2 (common practice).
 *
 * Returns: %NUM_OK; %NUM_TOO_FEW for an empty chain; %NUM_BAD_INPUT for a negative tolerance or a figure that is not finite
 */
NumStatus
num_stackup (const NumStackupPart *parts, size_t count, NumStackup *out)
{
  NumStackup sum = { 0.0, 0.0, 0.0 };

  *out = (NumStackup){ NAN, NAN, NAN };
  if (count == 0)
    return NUM_TOO_FEW;
  for (size_t i = 0; i < count; i++)
    {
      double reach = fabs (parts[i].sensitivity) * parts[i].tolerance;

      if (!(parts[i].tolerance >= 0.0) || !isfinite (parts[i].nominal) || !isfinite (reach))
        return NUM_BAD_INPUT;
      sum.nominal += parts[i].sensitivity * parts[i].nominal;
      sum.worst += reach;
      sum.rss = hypot (sum.rss, reach);
    }
  *out = sum;
  return NUM_OK;
}
