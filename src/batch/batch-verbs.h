/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * All verbs, in the order of the help.
 */

#include "batch-call.h"

G_BEGIN_DECLS

extern const BatchVerb batch_verb_new;
extern const BatchVerb batch_verb_fields;
extern const BatchVerb batch_verb_import;
extern const BatchVerb batch_verb_sheet;
extern const BatchVerb batch_verb_export;
extern const BatchVerb batch_verb_standing;
extern const BatchVerb batch_verb_issues;
extern const BatchVerb batch_verb_readings;
extern const BatchVerb batch_verb_compare;
extern const BatchVerb batch_verb_chart;
extern const BatchVerb batch_verb_gauges;
extern const BatchVerb batch_verb_leadtime;
extern const BatchVerb batch_verb_forecast;
extern const BatchVerb batch_verb_release;
extern const BatchVerb batch_verb_life;
extern const BatchVerb batch_verb_pack;
extern const BatchVerb batch_verb_paper;
extern const BatchVerb batch_verb_letter;
extern const BatchVerb batch_verb_pilot;
extern const BatchVerb batch_verb_plan;
extern const BatchVerb batch_verb_history;
extern const BatchVerb batch_verb_undo;
extern const BatchVerb batch_verb_redo;
extern const BatchVerb batch_verb_check;
extern const BatchVerb batch_verb_calc;

extern const BatchVerb * const batch_verbs[];

const BatchVerb *batch_verb_find (const char *name);

G_END_DECLS
