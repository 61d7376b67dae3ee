/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Pages on their way into a file or to a printer: see window-making.c. */

#include "paper-document.h"
#include "store-db.h"
#include "window.h"

G_BEGIN_DECLS

typedef struct _FettleMaking FettleMaking;

/* In a reader's thread; @making is what fettle_making_tell() wants. */
typedef PaperDocument *(*FettleMakingDraw) (StoreDb       *db,
                                            gpointer       ask,
                                            FettleMaking  *making,
                                            GCancellable  *cancellable,
                                            GError       **error);

/* The same for what is no paper: the bytes of the file. */
typedef GBytes *(*FettleMakingWrite) (StoreDb       *db,
                                      gpointer       ask,
                                      FettleMaking  *making,
                                      GCancellable  *cancellable,
                                      GError       **error);

FettleMaking *fettle_making_new  (const char       *title,
                                  FettleMakingDraw  draw,
                                  gpointer          ask,
                                  GDestroyNotify    free_ask) G_GNUC_WARN_UNUSED_RESULT;
FettleMaking *fettle_making_new_file (const char        *title,
                                      FettleMakingWrite  write,
                                      gpointer           ask,
                                      GDestroyNotify     free_ask) G_GNUC_WARN_UNUSED_RESULT;
/* Fits the progress that papers tell, from the thread that draws. */
void          fettle_making_tell (guint64           done,
                                  guint64           total,
                                  gpointer          making);
void          fettle_window_make (FettleWindow     *self,
                                  FettleMaking     *making,
                                  char             *path);

G_END_DECLS
