/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What changed between two rounds, or two groups of one, and what the readings say, in words. The window, the letter and
 * the command line show the same strings. No text here but those named so holds a person.
 */

#include <json-glib/json-glib.h>

#include "chart.h"
#include "insight-compare.h"

G_BEGIN_DECLS

/**
 * PresentCompareChange:
 * @data: (transfer none): the change
 * @title: 'Change 5: Thicker spring'
 * @agreed: 'agreed on 2026-02-10', 'not agreed'
 * @agreed_by: the same with the person: 'agreed by MO on 2026-02-10'
 * @from: 'from round P3', 'from round P3, unit P3-06 on', or ""
 * @issues: 'for issue 3: Spring breaks; issue 4: …', or ""
 * @reason: as written, or ""
 * @expected: as written, or ""
 * @line: 'Change 5: Thicker spring (agreed on 2026-02-10; for issue 3: Spring breaks)', without a person
 * @line_by: the same with the person
 * @remarks: (element-type utf8): sentences: withdrawn, not agreed, agreed after it was built
 */
typedef struct
{
  const InsightCompareChange *data;
  char                       *title;
  char                       *agreed;
  char                       *agreed_by;
  char                       *from;
  char                       *issues;
  const char                 *reason;
  const char                 *expected;
  char                       *line;
  char                       *line_by;
  GPtrArray                  *remarks;
} PresentCompareChange;

/**
 * PresentDifference:
 * @data: (transfer none): the difference
 * @group: part, step or characteristic: 'L-1 Lever'; the same for all that stand together
 * @first: the first of its group
 * @what: 'revision', 'lot', 'limits', or the name of the setting
 * @before: old: 'A', '820 °C', 'at most 13 mm'; of several 'B (4 units), C (4 units)'; 'C (planned)'
 * @after: new
 * @changes: (element-type PresentCompareChange): borrowed; that account for it
 * @remarks: (element-type utf8): sentences: without a change, otherwise than planned, widened
 */
typedef struct
{
  const InsightDifference *data;
  char                    *group;
  gboolean                 first;
  char                    *what;
  char                    *before;
  char                    *after;
  GPtrArray               *changes;
  GPtrArray               *remarks;
} PresentDifference;

/**
 * PresentEffect:
 * @data: (transfer none): the effect
 * @name: 'PLAY: Play of the lever'
 * @way: 'round P2, LEVER A against B', 'rounds P1 against P2'
 * @before: '5: 11.0 mm' (units and their mean), or '8 of 12 failed'
 * @after: likewise
 * @difference: '+2.0 mm', '-53 % points', or ""
 * @interval: '0.8 to 3.2 mm', or ""
 * @told: 'told apart', 'may be chance', 'no interval'
 * @sign: the same as one shape
 * @sentence: what may be said
 * @remarks: (element-type utf8): what has to be said beside it, one sentence each
 * @method: how the interval was found, for those who ask; or ""
 */
typedef struct
{
  const InsightEffect *data;
  char                *name;
  char                *way;
  char                *before;
  char                *after;
  char                *difference;
  char                *interval;
  const char          *told;
  const char          *sign;
  char                *sentence;
  GPtrArray           *remarks;
  const char          *method;
} PresentEffect;

/**
 * PresentComparison:
 * @data: the comparison; owned
 * @title: 'From round P2 to round P3', 'Round P3: LEVER A against B'
 * @headline: what differs and what can be told apart, in a sentence or two
 * @before_head: 'round P2', 'LEVER A': heading of what is old
 * @after_head: heading of what is new
 * @changes: (element-type PresentCompareChange): in the order of the data
 * @unseen: (element-type PresentCompareChange): likewise
 * @differences: (element-type PresentDifference): likewise
 * @effects: (element-type PresentEffect): likewise
 * @notes: (element-type utf8): sentences about the whole: adjusted together, what was not compared, how to tell more
 * @caution: (nullable): to be shown, when something about safety is compared
 */
typedef struct
{
  InsightComparison *data;
  char              *title;
  char              *headline;
  char              *before_head;
  char              *after_head;
  GPtrArray         *changes;
  GPtrArray         *unseen;
  GPtrArray         *differences;
  GPtrArray         *effects;
  GPtrArray         *notes;
  char              *caution;
} PresentComparison;

PresentComparison *present_comparison_new     (InsightComparison       *comparison,
                                               const char              *caution_added) G_GNUC_WARN_UNUSED_RESULT;
void               present_comparison_free    (PresentComparison       *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentComparison, present_comparison_free)

char              *present_comparison_to_text (const PresentComparison *present,
                                               guint                    width,
                                               gboolean                 methods) G_GNUC_WARN_UNUSED_RESULT;
Chart             *present_chart_effect       (const PresentComparison *present,
                                               gboolean                 with_title) G_GNUC_WARN_UNUSED_RESULT;
JsonNode          *present_json_comparison    (const PresentComparison *present) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
