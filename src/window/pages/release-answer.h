/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Release page asks the book: first the gates, which are there soon, then everything that a decision would freeze.
 */

#include "page.h"
#include "present-dossier.h"
#include "progress.h"

G_BEGIN_DECLS

typedef struct _FettleReleaseAsk FettleReleaseAsk;

/* @documents: (element-type GBytes): what a decision about each gate would freeze; %NULL while not asked for. */
typedef struct
{
  PresentDossier *dossier;
  GPtrArray      *documents;
} FettleReleaseAnswer;

/* @progress: (nullable): of everything; the gates alone are asked for without it. */
FettleReleaseAsk *fettle_release_ask_new     (const FettleSpan *span,
                                              const char       *book,
                                              FettleProgress   *progress) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_release_ask_free    (gpointer          data);
gpointer          fettle_release_ask_work    (StoreDb          *db,
                                              gpointer          data,
                                              GCancellable     *cancellable,
                                              GError          **error);

/* Counted, since a what-if may go on in a thread; not changed once it is there. */
FettleReleaseAnswer *fettle_release_answer_ref   (FettleReleaseAnswer *answer);
void                 fettle_release_answer_unref (gpointer             data);

G_END_DECLS
