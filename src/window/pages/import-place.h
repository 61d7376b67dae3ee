/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where rows go that do not say it themselves: the model and round in view, as files write them. */

#include <glib.h>

#include "store-reader.h"

G_BEGIN_DECLS

/**
 * FettleImportPlace:
 * @model: (nullable): code of the model
 * @round: (nullable): label of the round
 */
typedef struct
{
  gint64 model_key;
  gint64 round_key;
  char  *model;
  char  *round;
} FettleImportPlace;

/* A question in the reader thread: keys, of which texts are made. */
FettleImportPlace *fettle_import_place_ask  (gint64        model,
                                             gint64        round) G_GNUC_WARN_UNUSED_RESULT;
gpointer           fettle_import_place_read (StoreDb      *db,
                                             gpointer      ask,
                                             GCancellable *cancellable,
                                             GError      **error);
void               fettle_import_place_free (gpointer      place);

G_END_DECLS
