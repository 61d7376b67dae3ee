/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How far a long piece of work is, told from the thread that does it and shown in the main one. However often the thread tells, at
 * most one call waits there.
 */

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _FettleProgress FettleProgress;

/* In the main thread: @share from 0 to 1. */
typedef void (*FettleProgressShow) (double   share,
                                    gpointer owner);

FettleProgress *fettle_progress_new  (FettleProgressShow show,
                                      gpointer           owner) G_GNUC_WARN_UNUSED_RESULT;
FettleProgress *fettle_progress_ref  (FettleProgress    *progress) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_progress_unref (gpointer          progress);
void            fettle_progress_tell (FettleProgress    *progress,
                                      double             share);
void            fettle_progress_end  (FettleProgress    *progress);
guint           fettle_progress_percent (double          share);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleProgress, fettle_progress_unref)

G_END_DECLS
