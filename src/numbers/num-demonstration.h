/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

NumStatus num_demonstration_confidence (size_t failed, size_t units, double tolerated, double *confidence);
NumStatus num_demonstration_contrary (size_t failed, size_t units, double tolerated, double *contrary);
NumStatus num_demonstration_units (size_t failed, double tolerated, double confidence, size_t *units);
