/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One more round, in words: what it takes and what it could prove, as many units as the newest one beside ten more.
 */

#include <json-glib/json-glib.h>

#include "insight-another-round.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentAnotherRound:
 * @headline: which round is meant, how long it takes, and the chance that what blocks is met by it
 * @note: how the figures are to be read
 * @takes: days, units and money
 * @proves: each criterion that blocks with its chance, and all; rows lead to criteria
 */
typedef struct
{
  char         *headline;
  char         *note;
  PresentSheet *takes;
  PresentSheet *proves;
} PresentAnotherRound;

PresentAnotherRound *present_another_round_new      (const InsightAnotherRound *another) G_GNUC_WARN_UNUSED_RESULT;
void                 present_another_round_free     (PresentAnotherRound       *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentAnotherRound, present_another_round_free)

void                 present_another_round_add_text (const PresentAnotherRound *present,
                                                     GString                   *out,
                                                     guint                      width);
JsonNode            *present_json_another_round     (const PresentAnotherRound *present,
                                                     const InsightAnotherRound *another) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
