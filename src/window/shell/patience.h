/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Commands that could not be stored because the book could not be written just then: another program held it, the disk
 * was full, or it became read-only. They wait here and are tried again every few seconds, in their order, so that nobody
 * types anything twice; the bar says so. Other failures are not for waiting.
 */

#include "book-edit.h"

G_BEGIN_DECLS

typedef struct _FettlePatience FettlePatience;

/* @edit (transfer full): runs it again. @data: as it was kept with. */
typedef void (*FettlePatienceRun)  (BookEdit     *edit,
                                    gpointer      data);
/* It is not tried again. @result: of the last time. */
typedef void (*FettlePatienceEnd)  (GAsyncResult *result,
                                    gpointer      data);
/* @sentence: for the bar; @label and @action of its button (nullable). */
typedef void (*FettlePatienceSay)  (const char   *sentence,
                                    const char   *label,
                                    const char   *action,
                                    gpointer      owner);

FettlePatience *fettle_patience_new     (FettlePatienceRun  run,
                                         FettlePatienceEnd  end,
                                         FettlePatienceSay  say,
                                         gpointer           owner) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_patience_free    (FettlePatience    *self);
/* Whether a command that failed waits from now on; else it is the caller's to tell. */
gboolean        fettle_patience_takes   (FettlePatience    *self,
                                         GAsyncResult      *result,
                                         gpointer           data);
/* A command was stored: those that wait are tried at once. */
void            fettle_patience_stored  (FettlePatience    *self);
void            fettle_patience_try     (FettlePatience    *self);
/* Nothing is tried any more, neither now nor later. */
void            fettle_patience_give_up (FettlePatience    *self);

G_END_DECLS
