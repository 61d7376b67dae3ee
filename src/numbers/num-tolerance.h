/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

NumStatus num_tolerance_one (size_t n, double coverage, double confidence, double *k);
NumStatus num_tolerance_two (size_t n, double coverage, double confidence, double *k);
NumStatus num_tolerance_howe (size_t n, double coverage, double confidence, double *k);
