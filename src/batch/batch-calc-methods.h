/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "batch-calc-answer.h"

G_BEGIN_DECLS

/* The methods by subject, each table with name NULL at its end. */
extern const BatchCalcMethod batch_calc_shares[];
extern const BatchCalcMethod batch_calc_samples[];
extern const BatchCalcMethod batch_calc_charts[];
extern const BatchCalcMethod batch_calc_comparisons[];
extern const BatchCalcMethod batch_calc_life[];
extern const BatchCalcMethod batch_calc_pilot[];

G_END_DECLS
