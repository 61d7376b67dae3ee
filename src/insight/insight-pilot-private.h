/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of a pilot's answer.
 */

#include "book-evidence.h"
#include "insight-pilot.h"

G_BEGIN_DECLS

/* The counts of a round's steps alone, without losses and names: for criteria, which look many times. */
void     insight_pilot_count_steps (const BookEvidence *evidence,
                                    int                 round,
                                    BookDay             end,
                                    InsightPilotStep   *steps);
gboolean insight_pilot_has_counts  (const BookEvidence *evidence,
                                    int                 round,
                                    BookDay             end);
void     insight_pilot_find_losses (const BookEvidence *evidence,
                                    int                 round,
                                    BookDay             end,
                                    InsightPilot       *pilot);
void     insight_pilot_find_days   (const BookEvidence *evidence,
                                    int                 round,
                                    BookDay             end,
                                    InsightPilot       *pilot);
/* Lists of what counts are made of; the piece that was added last is not added again. */
GArray  *insight_pilot_pieces_new  (void) G_GNUC_WARN_UNUSED_RESULT;
void     insight_pilot_add_unit    (GArray             *pieces,
                                    const BookEvidence *evidence,
                                    int                 unit);
void     insight_pilot_add_tally   (GArray             *pieces,
                                    const BookEvidence *evidence,
                                    guint               tally);
void     insight_pilot_list_pieces (const BookEvidence *evidence,
                                    int                 round,
                                    BookDay             end,
                                    InsightPilot       *pilot);
/* Whether the event says that the unit was at its step, so that units are counted there. */
gboolean insight_event_is_at_step  (const BookEvidenceEvent *event);
/* Whether the event makes its date a day on which its step ran. */
gboolean insight_event_is_run      (const BookEvidenceEvent *event);

G_END_DECLS
