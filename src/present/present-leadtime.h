/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where the days went, in words. Window and command line show the same.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-leadtime.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentLeadtime:
 * @data: (transfer none): the answer
 * @headline: how long it took so far, what took most, and which supplier was waited for most
 * @next: how long the next round will probably be
 * @notes: (element-type utf8): how times are told
 * @rounds: by round and phase; rows lead to rounds
 * @medians: of phases, whole rounds and what happens to issues
 * @suppliers: waits by supplier
 * @reasons: waits by reason
 * @open: what runs now, longest first; rows lead to rounds, waits and issues
 * @earlier: what other models took, by round
 */
typedef struct
{
  const InsightLeadtime *data;
  char                  *headline;
  char                  *next;
  GPtrArray             *notes;
  PresentSheet          *rounds;
  PresentSheet          *medians;
  PresentSheet          *suppliers;
  PresentSheet          *reasons;
  PresentSheet          *open;
  PresentSheet          *earlier;
} PresentLeadtime;

PresentLeadtime *present_leadtime_new     (const InsightLeadtime *leadtime) G_GNUC_WARN_UNUSED_RESULT;
void             present_leadtime_free    (PresentLeadtime       *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentLeadtime, present_leadtime_free)

const char      *present_phase_words      (InsightPhase           phase);
const char      *present_wait_words       (BookWaitReason         reason);
char            *present_leadtime_to_text (const PresentLeadtime *present,
                                           guint                  width) G_GNUC_WARN_UNUSED_RESULT;
Chart           *present_chart_leadtime   (const InsightLeadtime *leadtime,
                                           gboolean               with_title) G_GNUC_WARN_UNUSED_RESULT;
JsonNode        *present_json_leadtime    (const PresentLeadtime *present) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
