/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "book-evidence.h"
#include "insight-leadtime.h"

G_BEGIN_DECLS

/* Times of which some are still running. */
typedef struct
{
  GArray *days;  /* double */
  GArray *ended; /* gboolean */
} InsightTimes;

InsightTimes  insight_times_new    (void);
void          insight_times_add    (InsightTimes *times,
                                    double        days,
                                    gboolean      ended);
InsightSpread insight_times_spread (InsightTimes *times); /* and frees them */

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
