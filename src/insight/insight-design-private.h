/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One look at a model: through a round, at the end of a day, and the state of design that is looked for then. Which
 * builds are of that state, and which count because the changes on the way are marked as carried over.
 */

#include "insight-basis-private.h"

G_BEGIN_DECLS

typedef enum
{
  INSIGHT_SPLIT_NO,
  INSIGHT_SPLIT_NEXT_PLAN,
  INSIGHT_SPLIT_LATER
} InsightSplit;

typedef struct
{
  const InsightBasis *basis;
  int                 through;  /* round, -1 when there is none */
  BookDay             end;
  BookDay             read;     /* until when readings are seen; later than @end only to find what failed after the round */
  BookDay             said;     /* until when is seen what people say, and what came back: today where no later round was opened */
  int                 newest;   /* the round whose state is looked for, -1 when no unit was built */
  int                 next;     /* the round after it, -1 none */
  int                *revision; /* by part; -1 not known */
  int                *version;  /* by step */
  InsightSplit       *split;    /* by part */
} InsightLook;

/**
 * InsightMatch:
 * @INSIGHT_MATCH_SAME: of the state looked for
 * @INSIGHT_MATCH_CARRIED: of an older one, and every change on the way is carried over
 * @INSIGHT_MATCH_OTHER: of another one
 * @INSIGHT_MATCH_LATER: of one that came after the state looked for
 */
typedef enum
{
  INSIGHT_MATCH_SAME,
  INSIGHT_MATCH_CARRIED,
  INSIGHT_MATCH_OTHER,
  INSIGHT_MATCH_LATER
} InsightMatch;

/* How one build stands to the state looked for, for one characteristic. */
typedef struct
{
  InsightMatch      match;
  InsightDependence differs;  /* the first that differs and is not carried over */
  GArray           *changes;  /* int: carried over, without repeats; owned by the caller, may be NULL */
  GArray           *unsigned_; /* int: marked but lacking a second person; as above */
} InsightMatching;

InsightLook *insight_look_new         (const InsightBasis *basis,
                                       int                 through,
                                       BookDay             end);
InsightLook *insight_look_later       (const InsightLook  *look);
InsightLook *insight_look_planned     (const InsightBasis *basis,
                                       int                 round,
                                       BookDay             end);
void         insight_look_free        (InsightLook        *look);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightLook, insight_look_free)

GPtrArray   *insight_look_list        (const InsightBasis *basis,
                                       int                 through,
                                       BookDay             today);
void         insight_look_match       (const InsightLook  *look,
                                       int                 characteristic,
                                       guint               build,
                                       InsightMatching    *matching);
void         insight_look_add_changes (const InsightLook  *look,
                                       int                 characteristic,
                                       guint               build,
                                       GArray             *changes);
gboolean     insight_look_is_carried  (const InsightLook  *look,
                                       int                 characteristic,
                                       int                 change,
                                       gboolean           *lacks_second);
gboolean     insight_look_leads_to    (const InsightLook  *look,
                                       int                 part,
                                       int                 from,
                                       int                 to);
gboolean     insight_look_sees_change (const InsightLook  *look,
                                       int                 change);
void         insight_add_once         (GArray             *list,
                                       int                 value);
BookDay      insight_round_end        (const BookEvidence *evidence,
                                       int                 round,
                                       BookDay             today);

G_END_DECLS
