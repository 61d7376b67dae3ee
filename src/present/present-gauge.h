/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Gauges, studies and checks in words. Persons are letters; nobody's name or initials stand here.
 */

#include <json-glib/json-glib.h>

#include "insight-gauges.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentGauges:
 * @data: (transfer none): the answer
 * @headline: what needs a person: overdue gauges, gauges that take up too much
 * @gauges: the shop's gauges and their calibrations; rows lead to gauges
 * @studies: how much of the tolerance each takes; rows lead to characteristics
 * @checks: known bad pieces, by inspector; rows lead to characteristics
 * @out: (element-type utf8): since when what a gauge read does not count; one for each gauge of which that is so
 * @sentences: (element-type utf8): one for each study
 * @notes: (element-type utf8): how it was found
 */
typedef struct
{
  const InsightGauges *data;
  char                *headline;
  PresentSheet        *gauges;
  PresentSheet        *studies;
  PresentSheet        *checks;
  GPtrArray           *out;
  GPtrArray           *sentences;
  GPtrArray           *notes;
} PresentGauges;

PresentGauges *present_gauges_new            (const InsightGauges    *gauges) G_GNUC_WARN_UNUSED_RESULT;
void           present_gauges_free           (PresentGauges          *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentGauges, present_gauges_free)

char          *present_gauge_share_sentence  (const InsightStudyLine *line) G_GNUC_WARN_UNUSED_RESULT;
char          *present_gauges_to_text        (const PresentGauges    *present,
                                              guint                   width) G_GNUC_WARN_UNUSED_RESULT;
JsonNode      *present_json_gauges           (const PresentGauges    *present) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
