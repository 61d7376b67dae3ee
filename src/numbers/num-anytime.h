/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

NumStatus num_anytime_confidence (size_t failed, size_t units, double tolerated, double *e, double *confidence);
NumStatus num_anytime_units (size_t failed, double tolerated, double confidence, size_t *units);
