/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The gates of a model in words: what blocks, what else whoever decides must know, who said what.
 */

#include "book-afterwards.h"
#include "book-gate-list.h"
#include "insight-release.h"
#include "present-sheet.h"
#include "present-standing.h"

G_BEGIN_DECLS

/**
 * PresentGate:
 * @data: (transfer none): borrowed
 * @headline: 'Release: not ready', or that its criteria are met
 * @stops: (element-type utf8): what stands against it, one sentence each
 * @criteria: those of this gate, what blocks first; rows lead to criteria
 * @opinions: newest first; rows lead to sign-offs
 * @decisions: newest first; rows lead to decisions
 * @decided: (transfer none) (nullable): the decision that stands
 */
typedef struct
{
  const InsightGate  *data;
  char               *headline;
  GPtrArray          *stops;
  PresentSheet       *criteria;
  PresentSheet       *opinions;
  PresentSheet       *decisions;
  const BookGateDeed *decided;
} PresentGate;

/**
 * PresentRelease:
 * @gates: (element-type PresentGate): in order
 * @remarks: what was widened, voided, excused, carried over, waived or entered later; rows lead to criteria
 * @afterwards: what was changed of what is asked for once values were there
 * @signed_for: deeds that somebody else entered; rows lead to them
 * @waivers: all of them; rows lead to waivers
 */
typedef struct
{
  GPtrArray    *gates;
  PresentSheet *remarks;
  PresentSheet *afterwards;
  PresentSheet *signed_for;
  PresentSheet *waivers;
} PresentRelease;

PresentRelease *present_release_new  (const InsightRelease  *release,
                                      const PresentStanding *standing,
                                      const BookGateList    *list,
                                      GPtrArray             *afterwards) G_GNUC_WARN_UNUSED_RESULT;
/* Index of the gate with that key; of 0: the first that nobody decided about, else the last; %G_MAXUINT where there is none. */
guint           present_release_find_gate (const PresentRelease *release,
                                      gint64                 gate);
void            present_release_free (PresentRelease        *release);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentRelease, present_release_free)

char           *present_release_to_text (const PresentRelease *release,
                                      guint                  gate,
                                      const PresentStanding *standing,
                                      guint                  width) G_GNUC_WARN_UNUSED_RESULT;
/* Whether what it decided lets units leave. */
gboolean        present_decision_releases (const BookGateDeed *decision);
char           *present_decision_words (const BookGateDeed  *decision) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
