/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

NumStatus num_adjust_holm (const double *p, size_t n, double *adjusted);
