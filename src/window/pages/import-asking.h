/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Rows judged, and stored, in a thread: how far it is, and an answer that is dropped when it is no longer wanted. */

#include "exchange-look.h"
#include "sitting.h"

G_BEGIN_DECLS

/* On the main thread; @answer (transfer full) (nullable): without one, @error says why. Never called once it is ended. */
typedef void (*FettleImportAnswered) (ExchangeLookAnswer *answer,
                                      const GError       *error,
                                      gpointer            data);

typedef struct _FettleImportAsking FettleImportAsking;

FettleImportAsking *fettle_import_asking_new       (FettleSitting        *sitting,
                                                    const ExchangeLook   *look,
                                                    gboolean              store,
                                                    FettleImportAnswered  answered,
                                                    gpointer              data) G_GNUC_WARN_UNUSED_RESULT;
gboolean            fettle_import_asking_is_storing (FettleImportAsking  *self);
double              fettle_import_asking_get_share (FettleImportAsking   *self);
/* Stops it; what is stored already is told all the same. */
void                fettle_import_asking_cancel    (FettleImportAsking   *self);
/* Nobody wants to be told any more. */
void                fettle_import_asking_end       (FettleImportAsking   *self);
/* What was stored of the rows, in a sentence. */
char               *fettle_import_asking_words      (const ExchangeLookAnswer *answer) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
