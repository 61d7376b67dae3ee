/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of a standing, and what fills them.
 */

#include "insight-design-private.h"
#include "insight-standing.h"

G_BEGIN_DECLS

InsightStanding    *insight_standing_new   (void);
InsightGap         *insight_gap_new        (InsightGapCode      code,
                                            gint64              id,
                                            const char         *first,
                                            const char         *second);
void                insight_gap_free       (InsightGap         *gap);
void                insight_step_free      (InsightStep        *step);
void                insight_course_free    (InsightCoursePoint *point);

double              insight_score_of       (const InsightCriterion *criterion);
void                insight_score_all      (GPtrArray          *criteria,
                                            InsightScore       *all,
                                            InsightScore        classes[INSIGHT_N_CLASSES]);
void                insight_find_gaps      (InsightStanding    *standing,
                                            const InsightLook  *look);
void                insight_find_steps     (InsightStanding    *standing,
                                            const BookEvidence *evidence);

G_END_DECLS
