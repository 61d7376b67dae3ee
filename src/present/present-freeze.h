/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was known when something was decided, as one document. It is written once and named by its digest; 'known then' is
 * read from it alone, by this program and by any later one: so members are only ever added, and a reader takes what it
 * knows.
 */

#include <gio/gio.h>
#include <json-glib/json-glib.h>

#include "present-sheet.h"
#include "present-standing.h"

G_BEGIN_DECLS

#define PRESENT_FREEZE_FORMAT "fettle-evidence"

/**
 * PresentFreezeHead:
 * @book: UUID of the book
 * @place: number of entries in the journal
 * @head: place hash of the last one
 * @model_version: of the model
 * @shared_version: of what models share
 * @program: version of the program
 * @gate: name of the gate
 * @model: key of the draws: what every simulated figure is drawn from
 */
typedef struct
{
  const char *book;
  gint64      place;
  const char *head;
  gint64      model_version;
  gint64      shared_version;
  const char *program;
  const char *gate;
  gint64      model;
} PresentFreezeHead;

typedef struct _PresentFreeze PresentFreeze;

PresentFreeze *present_freeze_new (const PresentFreezeHead *head,
                                   const PresentStanding   *standing) G_GNUC_WARN_UNUSED_RESULT;
void           present_freeze_add (PresentFreeze           *freeze,
                                   const char              *name,
                                   JsonNode                *node);
void           present_freeze_add_sheet (PresentFreeze     *freeze,
                                   const char              *name,
                                   const PresentSheet      *sheet);
GBytes        *present_freeze_end (PresentFreeze           *freeze) G_GNUC_WARN_UNUSED_RESULT;

/* A criterion as it was known; texts are "" and figures NAN where the document does not say. */
typedef struct
{
  char   *code;
  char   *name;
  char   *asks;
  char   *state;
  char   *words; /* of the state */
  gint64  n;
  gint64  failed;
  double  confidence;
  double  wanted;
} PresentFrozenCriterion;

/**
 * PresentFrozenRun:
 * @round: by which the run's figures were told; "" when nothing was counted then
 * @rolled: share good the first time through all steps, with its interval
 * @final: share good in the end, least to most
 * @month: good units a month at most, with its interval
 * @plan: what a plan takes of it
 * @cost: of a good unit, with its interval
 *
 * What was told of yield, rate and cost; what was not told is NAN.
 */
typedef struct
{
  char  *round;
  double rolled[3];
  double final[2];
  double month[3];
  double plan;
  double cost[3];
} PresentFrozenRun;

/**
 * PresentFrozen:
 * @headline: of the standing then
 * @span: likewise
 * @criteria: (element-type PresentFrozenCriterion): then
 */
typedef struct
{
  char      *program;
  char      *book;
  char      *head;
  gint64     place;
  char      *today;
  char      *gate;
  char      *headline;
  char      *span;
  GPtrArray *criteria;
  PresentFrozenRun run;
  JsonNode  *root;
} PresentFrozen;

PresentFrozen *present_frozen_read (GBytes                 *document,
                                    GError                **error) G_GNUC_WARN_UNUSED_RESULT;
void           present_frozen_free (PresentFrozen          *frozen);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentFrozen, present_frozen_free)

PresentSheet  *present_frozen_beside (const PresentFrozen   *frozen,
                                      const PresentStanding *now) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
