/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What every question about a model's evidence starts from: the records, and for each unit when it was built and out
 * of what. Units built alike share a *build*: the revisions of all parts and the versions of all step settings. What
 * follows from the design is then asked once a build, not once a unit.
 */

#include "book-evidence.h"

G_BEGIN_DECLS

/* A part or a step that a characteristic depends on; the other is -1. */
typedef struct
{
  int part;
  int step;
} InsightDependence;

typedef struct
{
  const BookEvidence *e;
  BookDay            *built;      /* by unit: day built, 0 while it is only planned */
  guint              *build_of;   /* by unit: index of its build */
  int                *lot_of;     /* by unit * (n_parts + n_steps) + part, or n_parts + step: lot, -1 none */
  guint8             *lotted;     /* by part, or n_parts + step: some unit has a lot of it */
  int                *revision;   /* by build * n_parts + part: revision, -1 not named, -2 one of several */
  int                *version;    /* by build * n_steps + step: rows of that step's settings in force, see settings */
  guint               n_builds;
  guint              *settings;   /* by step: first of its rows in e->settings, sorted by day; n_steps + 1 of them */
  GArray             *setting_rows; /* indices into e->settings: by step, then day */
  guint              *depend;     /* by characteristic: first of its dependences; n_characteristics + 1 of them */
  GArray             *dependences; /* InsightDependence */
  guint              *event;      /* by unit: first of its events; n_units + 1 of them */
  BookDay            *aside;      /* by unit: day set aside, 0 never */
  int                *excused;    /* by unit: finding that excuses it, -1 none */
} InsightBasis;

InsightBasis *insight_basis_new       (const BookEvidence *evidence);
void          insight_basis_free      (InsightBasis       *basis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightBasis, insight_basis_free)

void          insight_basis_planned   (const InsightBasis *basis,
                                       guint               unit,
                                       int                *revision,
                                       int                *lots);
int           insight_plan_revision   (const BookEvidence *evidence,
                                       int                 round,
                                       int                 part,
                                       gboolean           *split);
int           insight_later_revision  (const BookEvidence *evidence,
                                       int                 a,
                                       int                 b);
double        insight_setting_value   (const InsightBasis *basis,
                                       int                 step,
                                       int                 version,
                                       const char         *name);

G_END_DECLS
