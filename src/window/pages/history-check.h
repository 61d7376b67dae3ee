/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The whole journal against the records, as a long piece of work: in a thread of its own, with progress and cancel.
 */

#include "progress.h"
#include "sitting.h"

G_BEGIN_DECLS

/**
 * FettleChecked:
 * @words: one sentence: whether all holds
 * @findings: (array zero-terminated=1): what does not hold
 */
typedef struct
{
  char  *words;
  char **findings;
} FettleChecked;

void           fettle_checked_free         (FettleChecked       *checked);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleChecked, fettle_checked_free)

void           fettle_history_check_async  (FettleSitting       *sitting,
                                            FettleProgress      *progress,
                                            GCancellable        *cancellable,
                                            GAsyncReadyCallback  done,
                                            gpointer             user_data);
FettleChecked *fettle_history_check_finish (GAsyncResult        *result,
                                            GError             **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
