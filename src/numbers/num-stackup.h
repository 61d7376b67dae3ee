/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* A dimension of a chain: its nominal, its half tolerance, and how much of it reaches the result. */
typedef struct
{
  double nominal;
  double tolerance;
  double sensitivity;
} NumStackupPart;

typedef struct
{
  double nominal;
  double worst; /* half width when every part is at its limit */
  double rss;   /* root of the sum of squares */
} NumStackup;

NumStatus num_stackup (const NumStackupPart *parts, size_t count, NumStackup *out);
