/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/* Whether a number of units is enough; once it is, every larger number is too. */
typedef NumStatus (*NumEnough) (size_t units, void *data, bool *enough);

NumStatus num_search_least (NumEnough enough, void *data, size_t from, size_t most, size_t *units);
