/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The journal as text or as one JSON document, action by action.
 */

#include "book-history.h"

G_BEGIN_DECLS

typedef struct _PresentHistory PresentHistory;

PresentHistory *present_history_new  (gboolean                 as_json) G_GNUC_WARN_UNUSED_RESULT;
void            present_history_free (PresentHistory          *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentHistory, present_history_free)
void            present_history_add  (PresentHistory          *history,
                                      const BookHistoryAction *action,
                                      GPtrArray               *lines,
                                      guint64                  n_records);
char           *present_history_difference (GPtrArray         *lines,
                                      guint64                  n_records,
                                      gboolean                 as_json) G_GNUC_WARN_UNUSED_RESULT;
char           *present_history_end  (PresentHistory          *history) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
