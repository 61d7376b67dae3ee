/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One person's part of a gauge study as a table: pieces down, trials across, as large as planned. It shows only what this
 * person measured, so that nobody reads what others found. A value is stored as it is typed, a pasted block as one deed,
 * and all that was typed in one visit is undone as one.
 */

#include "sitting.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_STUDY_SOURCE (fettle_study_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleStudySource, fettle_study_source, FETTLE, STUDY_SOURCE, GObject)

#define FETTLE_STUDY_MOST_TRIALS 10

/**
 * FettleStudyPlan:
 * @gauge: key
 * @characteristic: key
 * @name: its code
 * @person: key of who measures
 * @pieces: (array length=n_pieces): their labels
 * @keys: (array length=n_pieces*trials): by piece, then trial: of the trial in the book; 0: not measured yet
 * @texts: (array length=n_pieces*trials): the same as texts
 */
typedef struct
{
  gint64  gauge;
  gint64  characteristic;
  char   *name;
  gint64  person;
  char  **pieces;
  guint   n_pieces;
  guint   trials;
  gint64 *keys;
  char  **texts;
} FettleStudyPlan;

FettleStudyPlan   *fettle_study_plan_new   (guint              n_pieces,
                                            guint              trials) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_study_plan_free  (FettleStudyPlan   *plan);

FettleStudySource *fettle_study_source_new  (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
void               fettle_study_source_take (FettleStudySource *self,
                                             FettleStudyPlan   *plan);
const FettleStudyPlan *fettle_study_source_get_plan (FettleStudySource *self);
void               fettle_study_source_leave (FettleStudySource *self);
guint              fettle_study_source_count_missing (FettleStudySource *self);

G_END_DECLS
