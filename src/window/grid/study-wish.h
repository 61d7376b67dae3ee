/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How a gauge study is meant to be done: who measures, which pieces, how often. The book holds what was measured alone, so
 * the plan stays among the drafts, for whoever writes.
 */

#include <glib.h>

G_BEGIN_DECLS

#define FETTLE_STUDY_WISH_PREFIX "study-plan-"

/**
 * FettleStudyWish:
 * @persons: (element-type gint64): keys of those who measure; empty: whoever does
 * @pieces: (array zero-terminated=1): labels; empty: by number
 * @n_pieces: how many, where they have no labels
 * @trials: of each person on each piece
 */
typedef struct
{
  GArray *persons;
  char  **pieces;
  guint   n_pieces;
  guint   trials;
} FettleStudyWish;

FettleStudyWish *fettle_study_wish_new        (void) G_GNUC_WARN_UNUSED_RESULT;
FettleStudyWish *fettle_study_wish_parse      (const char            *text) G_GNUC_WARN_UNUSED_RESULT;
char            *fettle_study_wish_to_text    (const FettleStudyWish *wish) G_GNUC_WARN_UNUSED_RESULT;
void             fettle_study_wish_free       (FettleStudyWish       *wish);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleStudyWish, fettle_study_wish_free)

gboolean         fettle_study_wish_has        (const FettleStudyWish *wish,
                                               gint64                 person);
void             fettle_study_wish_set_pieces (FettleStudyWish       *wish,
                                               const char            *typed);
/* Under which name it is kept. */
char            *fettle_study_wish_draft      (gint64                 gauge,
                                               gint64                 characteristic) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
