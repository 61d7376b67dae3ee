/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "book-evidence.h"
#include "insight-leadtime.h"

G_BEGIN_DECLS

/* (element-type InsightTime): times of which some are still running. The name is copied. */
GArray       *insight_times_new    (void) G_GNUC_WARN_UNUSED_RESULT;
void          insight_times_add    (GArray     *times,
                                    InsightTime time);
InsightSpread insight_times_spread (GArray     *times); /* and takes them over */

void insight_leadtime_add_waits  (InsightLeadtime    *leadtime,
                                  const BookEvidence *evidence,
                                  int                 through,
                                  BookDay             today);
void insight_leadtime_add_issues (InsightLeadtime    *leadtime,
                                  const BookEvidence *evidence,
                                  int                 through,
                                  BookDay             today);
void insight_leadtime_add_open   (InsightLeadtime    *leadtime,
                                  const BookEvidence *evidence,
                                  int                 through,
                                  BookDay             today);

G_END_DECLS
