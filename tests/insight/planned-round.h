/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A round that is planned, and what it can prove. */

#include "evidence-fixture.h"
#include "insight-plan.h"

/* A prototype round with so many units planned, not opened. */
int                planned_round       (Fixture *f, const char *label, int units);

/* A row of its plan for so many units, whoever they are. */
void               planned_round_units (Fixture *f, int round, int part, int revision, int lot, int units);

/* Ends the fixture; the question about the round, as of 2027-01-01, and its answer for so many units. */
InsightPlan       *planned_round_plan  (Fixture *f, int round);
InsightPlanAnswer *planned_round_prove (InsightPlan *plan, guint units);
