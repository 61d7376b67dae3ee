/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Small bodies of evidence made by hand. Records are added in any order but for units, which come in the order of build;
 * each call gives back the record's index. fixture_finish() puts the arrays in the order that the book gives them.
 */

#include <math.h>

#include "book-evidence.h"
#include "insight-days.h"
#include "insight-series.h"
#include "insight-standing.h"

typedef struct
{
  BookEvidence *e;
  GArray       *reading_characteristics; /* int: by reading */
  gint64        last_id;
} Fixture;

Fixture *fixture_new            (void);
void     fixture_free           (Fixture *f);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Fixture, fixture_free)

int      fixture_person         (Fixture *f, const char *initials, BookRole role);
/* A round with all its dates: opened on @opened, each phase ten days; decided only if @decided. */
int      fixture_round          (Fixture *f, const char *label, BookRoundKind kind, const char *opened, gboolean decided);
int      fixture_part           (Fixture *f, const char *number);
int      fixture_revision       (Fixture *f, int part, const char *label, const char *date);
int      fixture_lot            (Fixture *f, int part, const char *number);
int      fixture_step           (Fixture *f, const char *name);
void     fixture_setting        (Fixture *f, int step, const char *from, double value, int change);
int      fixture_plan           (Fixture *f, int round, int part, int revision, int lot, const char *first_serial);
int      fixture_checked        (Fixture *f, const char *code, BookClass klass);
int      fixture_measured       (Fixture *f, const char *code, BookClass klass, BookShape shape);
void     fixture_limit          (Fixture *f, int characteristic, const char *from, double lower, double upper);
void     fixture_depends        (Fixture *f, int characteristic, int part, int step);
int      fixture_unit           (Fixture *f, int round, const char *serial);
/* @n units named LABEL-001 and so on; the index of the first. */
int      fixture_units          (Fixture *f, int round, guint n);
/* The same, checked: the first @failing fail, the others pass. */
int      fixture_checked_units  (Fixture *f, int round, guint n, int characteristic, guint failing);
void     fixture_unit_part      (Fixture *f, int unit, int part, int revision, int lot);
void     fixture_event          (Fixture *f, int unit, BookEventKind kind, const char *date, int step, int issue);
/* On the unit's day built; attempt 1, n 1. */
int      fixture_value          (Fixture *f, int unit, int characteristic, double value);
int      fixture_check          (Fixture *f, int unit, int characteristic, gboolean passed);
int      fixture_reading        (Fixture *f, int unit, int characteristic, guint attempt, guint n, BookMark mark, double value,
                                 const char *taken);
int      fixture_bench          (Fixture *f, const char *name, int machines, double people, double hours_week, double uptime,
                                 double share_free);
int      fixture_supplier       (Fixture *f, const char *name);
/* @to %NULL: it lasts. */
int      fixture_wait           (Fixture *f, int round, BookWaitReason reason, int supplier, const char *from, const char *to);
/* Without minutes: set them in f->e->tallies. */
int      fixture_tally          (Fixture *f, int step, int round, const char *date, int in, int good_first, int reworked_good,
                                 int waiting, int scrapped);
void     fixture_loss           (Fixture *f, int tally, int issue, int units);
int      fixture_gauge          (Fixture *f, const char *name, double resolution);
void     fixture_calibration    (Fixture *f, int gauge, const char *date, const char *due, gboolean in_order);
void     fixture_trial          (Fixture *f, int gauge, int characteristic, int person, const char *piece, int trial,
                                 const char *date, double value);
/* After the gate "Release", which is there from the beginning. */
int      fixture_gate           (Fixture *f, const char *name);
/* It blocks, at the first gate; strict about safety. */
int      fixture_criterion      (Fixture *f, const char *code, BookCriterionKind kind, int characteristic);
int      fixture_term           (Fixture *f, int criterion, const char *from, double share, double confidence);
int      fixture_issue          (Fixture *f, int seen_by);
void     fixture_finding        (Fixture *f, int issue, int unit, BookDisposition disposition, gboolean excused, const char *date);
int      fixture_change         (Fixture *f, const char *date);
void     fixture_change_item    (Fixture *f, int change, int part, int old_revision, int new_revision);
void     fixture_change_issue   (Fixture *f, int change, int issue);
void     fixture_life_test      (Fixture *f, int unit, int characteristic, double cycles, gboolean failed, int issue);
/* What the plan of the unit's round says of its test. */
void     fixture_planned_test   (Fixture *f, int unit, int characteristic, double load, double cycles);
/* The same of a unit that is not built. */
void     fixture_planned_for    (Fixture *f, int round, const char *serial, int characteristic, gboolean destroyed, gboolean lent);
void     fixture_carry          (Fixture *f, int change, int characteristic, int person, int second_person);
void     fixture_document       (Fixture *f, BookDocumentState state, const char *date);

/* All keys are of one origin: those below @before came before the record, those from @first on after it. */
void     fixture_boundary       (Fixture *f, BookBoundaryKind kind, int record, gint64 before, gint64 first);

void     fixture_finish         (Fixture *f);

/* The standing through the round with that label (NULL: the newest), as of 2027-01-01. */
InsightStanding        *fixture_standing  (Fixture *f, const char *through);
const InsightCriterion *fixture_criterion_in (const InsightStanding *standing, const char *code);

/* Criterion C1 of a standing that takes the place of the one before. */
const InsightCriterion *fixture_judge     (Fixture *f, const char *through, InsightStanding **standing);

#define assert_state(criterion, expected) g_assert_cmpstr (insight_state_name ((criterion)->state), ==, insight_state_name (expected))
#define assert_near(value, expected, relative) g_assert_cmpfloat_with_epsilon (value, expected, fabs (expected) * (relative) + 1e-15)
#define assert_said(criterion, code) g_assert_nonnull (insight_criterion_find_reason (criterion, code))
#define assert_not_said(criterion, code) g_assert_null (insight_criterion_find_reason (criterion, code))
