/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where a model stands, in words: first sentences, then a table, then the method on demand. The window and the command
 * line show the same strings.
 */

#include "insight-standing.h"

G_BEGIN_DECLS

/**
 * PresentCriterion:
 * @data: (transfer none): what it says; borrowed from the standing
 * @index: its index in the standing's criteria
 * @name: 'C4: Load at slip'
 * @asks: what is asked for: 'at least 95 in 100 conform, at 90 % confidence'
 * @limits: 'at least 200 N', empty for none
 * @n: counted units as a figure, or 'k of n' of counted things
 * @result: measured: mean and deviation; checked: '2 of 60 failed'; empty without data
 * @confidence: reached, rounded down; empty when none can be told
 * @wanted: confidence wanted at present
 * @state: 'met', 'too few to tell', …
 * @sign: the state as one shape
 * @sentence: what may be said, as a maker understands it
 * @remarks: (element-type utf8): what has to be said beside it, one sentence each
 * @figures: the figures in one line
 * @method: how the confidence was computed, for those who ask
 */
typedef struct
{
  const InsightCriterion *data;
  guint                   index;
  char                   *name;
  char                   *asks;
  char                   *limits;
  char                   *n;
  char                   *result;
  char                   *confidence;
  char                   *wanted;
  const char             *state;
  const char             *sign;
  char                   *sentence;
  GPtrArray              *remarks;
  char                   *figures;
  const char             *method;
} PresentCriterion;

/**
 * PresentLine:
 * @text: one or more whole sentences
 * @criterion: index of the criterion it speaks about, -1 for none
 * @characteristic: key of the characteristic it speaks about, 0 for none
 * @id: key of another record it speaks about (a part, a hazard, a document), 0 for none
 * @record: (nullable): what kind of record that is
 */
typedef struct
{
  char       *text;
  int         criterion;
  gint64      characteristic;
  gint64      id;
  const char *record;
} PresentLine;

typedef enum
{
  PRESENT_SECTION_BLOCKS,
  PRESENT_SECTION_OPEN,
  PRESENT_SECTION_NOT_LOOKED_AT,
  PRESENT_SECTION_NEXT,
  PRESENT_SECTION_MET
} PresentSectionKind;

/* A heading and its lines (of #PresentLine); a section without lines is left out, but the one of next steps. */
typedef struct
{
  PresentSectionKind kind;
  const char        *heading;
  GPtrArray         *lines;
} PresentSection;

/**
 * PresentStanding:
 * @data: the standing; a reference is held
 * @headline: '31 of 34 met, 3 block'; without a safety criterion it says so instead
 * @span: through which round and date it looks
 * @score: 'Evidence gathered: 72 of 100 (safety 72, function 90, appearance 100)'
 * @sections: (element-type PresentSection): sentences, what blocks first
 * @criteria: (element-type PresentCriterion): rows of the table, in the standing's order
 * @caution: (nullable): to be shown whenever safety is spoken about
 */
typedef struct
{
  InsightStanding *data;
  char            *headline;
  char            *span;
  char            *score;
  GPtrArray       *sections;
  GPtrArray       *criteria;
  char            *caution;
} PresentStanding;

PresentStanding *present_standing_new     (InsightStanding *standing,
                                           const char      *caution_added) G_GNUC_WARN_UNUSED_RESULT;
void             present_standing_free    (PresentStanding *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentStanding, present_standing_free)

char            *present_standing_headline (guint                total,
                                            guint                met,
                                            guint                block,
                                            gboolean             no_safety) G_GNUC_WARN_UNUSED_RESULT;
char            *present_standing_since   (const PresentStanding *present,
                                           gint64                 from) G_GNUC_WARN_UNUSED_RESULT;
char            *present_standing_to_text (PresentStanding *present,
                                           guint            width) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
