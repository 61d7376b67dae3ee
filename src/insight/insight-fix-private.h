/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Whether a fix is proven, at one look: the units under the test that shows an issue, on which side of the change they
 * are, and what follows.
 */

#include "insight-issue.h"
#include "insight-looks-private.h"

G_BEGIN_DECLS

#define INSIGHT_FIX_CYCLES     1.5 /* times the cycles at which it appeared */
#define INSIGHT_FIX_CONFIDENCE 0.90 /* wanted where no criterion asks */

/**
 * InsightFixSide:
 * @INSIGHT_SIDE_NEITHER: the change says nothing about it, or it has only a part of the change
 * @INSIGHT_SIDE_OLD: as the change found it
 * @INSIGHT_SIDE_NEW: with all that the change brings, or built later from that
 */
typedef enum
{
  INSIGHT_SIDE_NEITHER,
  INSIGHT_SIDE_OLD,
  INSIGHT_SIDE_NEW
} InsightFixSide;

/* One unit under the test that shows an issue: its first attempt. */
typedef struct
{
  guint           unit;
  BookDay         day;
  InsightCounting counting; /* as for a criterion about that test */
  InsightCounting own;      /* what its readings say, whatever its state of design */
  gboolean        tested;   /* by that test, with a verdict */
  gboolean        fails;    /* by that test */
  gboolean        found;    /* a finding of the issue names it */
  gboolean        other;    /* another issue ended it, and no finding of this one names it */
  gboolean        void_failing;
  BookDay         void_day;
  gboolean        failed_then; /* outside the narrower limits under which it was measured */
  gboolean        short_load;
  gboolean        short_cycles;
} InsightTrial;

/* What is asked of an issue. */
typedef struct
{
  double         share;
  double         confidence;
  gboolean       strict;
  BookCountsFrom counts_from;
} InsightFixTerms;

typedef struct
{
  const InsightLook *look;
  int                issue;
  InsightFixTerms    terms;
  InsightIssueState  state;
  GArray            *changes;      /* int: that answer it, seen and not withdrawn, oldest first */
  int                change;       /* the one that counts, -1 none */
  gboolean           names_state;  /* it names a new revision or setting */
  gboolean           built;        /* some unit has it */
  gboolean           has_test;
  gboolean           reproduced;
  guint              before_n;
  guint              before_failed;
  guint              after_n;
  guint              after_failed;
  guint              starts;       /* starts again, without a coming back that stands */
  guint              gone;         /* failures behind these */
  guint              earlier_units; /* tested on the new state of an earlier answer, or of a state that no longer counts */
  guint              attempts;
  guint              looks;
  guint              other_state;  /* units of the new state that count for another one by now */
  guint              early;        /* of a kind of round that does not count */
  guint              other_mode;   /* ended by another issue */
  guint              short_load;
  guint              short_cycles;
  guint              before_change; /* units tested before the change was written down */
  double             needed_load;
  double             needed_cycles;
  double             tolerated;    /* less what the check misses */
  double             detection;    /* NAN: not studied */
  double             confidence;
  double             contrary;
  double             wanted;
  double             fisher;
  int                units_needed;
  BookDay            last;         /* day of the last counted unit's test */
  GArray            *before;       /* guint: units */
  GArray            *after;        /* guint: units */
  GArray            *failing;      /* guint: of @after */
  GArray            *excused;      /* guint: of either side */
  guint              excused_failing;
} InsightFix;

InsightFixTerms insight_fix_terms   (const BookEvidence    *evidence,
                                     int                    issue,
                                     int                    criterion,
                                     BookDay                day);
InsightFixSide  insight_fix_side    (const InsightLook     *look,
                                     int                    change,
                                     guint                  build);
gboolean        insight_fix_names_state (const InsightLook *look,
                                     int                    change);
void            insight_fix_needs   (const InsightLook     *look,
                                     int                    number,
                                     double                *needed_load,
                                     double                *needed_cycles);
GArray         *insight_fix_trials  (const InsightLook     *look,
                                     InsightUnits          *units,
                                     int                    issue,
                                     BookCountsFrom         counts_from);
InsightFix     *insight_fix_new     (const InsightLook     *look,
                                     InsightUnits          *units,
                                     int                    issue,
                                     const InsightFixTerms *terms);
void            insight_fix_free    (InsightFix            *fix);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightFix, insight_fix_free)
void            insight_fix_tell    (const InsightFix      *fix,
                                     GPtrArray             *reasons);
void            insight_reason_add_excuse (InsightReason   *reason,
                                     const InsightBasis    *basis,
                                     guint                  unit,
                                     BookDay                end);
gboolean        insight_issue_is_seen (const BookEvidence  *evidence,
                                     int                    issue,
                                     int                    through,
                                     BookDay                end);

G_END_DECLS
